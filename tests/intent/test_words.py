"""What differs between two intents is told in words."""

import pytest

from planner import Intent, Wing, Wish, edits
from planner.intent.trim_rules import Change, Scope
from planner.intent.words import difference

PLAIN = Intent()


@pytest.mark.parametrize(
    ("after", "words"),
    [
        (edits.set_style(PLAIN, "federal"), "style federal instead of as usual"),
        (edits.set_budget(PLAIN, 100.0), "budget 100 instead of as usual"),
        (edits.set_cost_in(PLAIN, "money"), "cost in money instead of as usual"),
        (edits.set_weight(PLAIN, "use", 0.9), "weight of use 0.9 instead of 0.35"),
        (edits.set_limit(PLAIN, "door", 1), "limit across a door 1 instead of as usual"),
        (edits.pin(PLAIN, "Library", 4), "Library tier 4"),
        (edits.set_range(PLAIN, "Library", 2, 3), "Library from tier 2, to tier 3"),
        (edits.add_set(PLAIN, ("Kitchen", "Hall")), "Kitchen, Hall share a tier"),
        (edits.set_rule(PLAIN, "casing", Scope(tiers=(2, 2)), Change(size=4.5)), 'casing in tier 2: 4 1/2"'),
        (edits.set_room_style(PLAIN, "Kitchen", "craftsman"), "Kitchen craftsman"),
        (PLAIN, ""),
    ],
)
def test_each_change_is_told(after, words):
    assert difference(PLAIN, after, "in") == words


def test_what_is_no_longer_is_told_too():
    held = edits.set_rule(edits.pin(PLAIN, "Library", 4), "casing", Scope(), Change("none"))
    assert difference(held, PLAIN, "in") == "Library as it comes; no longer casing everywhere: none"
    assert difference(edits.add_set(PLAIN, ("A", "B")), PLAIN, "in") == "A, B no longer share a tier"
    wings = Intent(wings=(Wing("federal", rooms=("A", "B")),))
    assert difference(wings, PLAIN, "in") == "fewer rooms in a period of their own"
    assert difference(PLAIN, Intent(rooms={"A": Wish(lowest=2)}), "in") == "A from tier 2"
