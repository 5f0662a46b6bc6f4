"""Edits return a new intent and leave the old one; a history finds its way back."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.intent import edits
from planner.intent.edits import REMEMBERED, History
from planner.intent.model import DEFAULT_WEIGHTS, FACTORS, Intent, Wish
from planner.intent.trim_rules import Change, Scope, TrimRule
from planner.intent.words import difference
from planner.library import standard

PLAIN = Intent(name="plain")


def test_edits_leave_the_intent_they_start_from():
    edits.pin(PLAIN, "Hall", 4)
    edits.set_weight(PLAIN, "use", 3)
    edits.set_limit(PLAIN, "door", 1)
    edits.add_set(PLAIN, ["Hall", "Parlor"])
    assert Intent(name="plain") == PLAIN


def test_pin_and_range_live_side_by_side_and_vanish_when_empty():
    wished = edits.pin(edits.set_range(PLAIN, "Hall", 3, 5), "Hall", 4)
    assert wished.rooms == {"Hall": Wish(4, 3, 5)}
    assert edits.pin(wished, "Hall", None).rooms == {"Hall": Wish(None, 3, 5)}
    assert edits.set_range(edits.pin(wished, "Hall", None), "Hall", None, None) == PLAIN


@pytest.mark.parametrize(
    ("edit", "words"),
    [
        (lambda: edits.pin(PLAIN, "Hall", 6), "1 to 5, not 6"),
        (lambda: edits.set_range(PLAIN, "Hall", 4, 2), "lowest tier, 4, is above the highest, 2"),
        (lambda: edits.set_weight(PLAIN, "charm", 1), "no factor 'charm'"),
        (lambda: edits.set_weight(PLAIN, "use", -1), "zero or more"),
        (lambda: edits.set_weight(PLAIN, "use", float("nan")), "zero or more"),
        (lambda: edits.set_limit(PLAIN, "door", -1), "zero or more"),
        (lambda: edits.set_tiers(PLAIN, 8), "3 to 7"),
        (lambda: edits.set_grade(PLAIN, "palace"), "unknown grade"),
        (lambda: edits.set_budget(PLAIN, 0), "more than zero"),
        (lambda: edits.set_budget(PLAIN, edits.read_budget("9" * 400)), r"at most 1e\+15"),
        (lambda: edits.add_set(PLAIN, ["Hall", "Hall"]), "two rooms"),
    ],
)
def test_an_edit_that_cannot_be_says_why(edit, words):
    with pytest.raises(ValueError, match=words):
        edit()


def test_sets_with_a_room_in_common_become_one():
    two = edits.add_set(edits.add_set(PLAIN, ["A", "B"]), ["C", "D"])
    assert two.sets == (("A", "B"), ("C", "D"))
    assert {frozenset(s) for s in edits.add_set(two, ["B", "C"]).sets} == {frozenset("ABCD")}
    assert edits.leave_set(two, "A").sets == (("C", "D"),)


def test_limits_and_the_rest_return_to_the_default():
    held = edits.set_limit(PLAIN, "door", 1)
    assert held.limits == {"door": 1}
    assert edits.set_limit(held, "door", None) == PLAIN
    assert edits.set_budget(edits.set_budget(PLAIN, 9000), None) == PLAIN
    assert edits.set_style(edits.set_style(PLAIN, "federal"), None) == PLAIN
    assert edits.set_order(edits.set_order(PLAIN, "ionic"), "") == PLAIN
    assert edits.set_grade(edits.set_grade(PLAIN, "cottage"), None) == PLAIN


def test_a_weight_changes_alone():
    assert edits.set_weight(PLAIN, "use", 2).importance == {**DEFAULT_WEIGHTS, "use": 2.0}


def test_the_last_weight_above_zero_stays():
    weightless = edits.set_weight(PLAIN, "use", 0)
    for factor in FACTORS[1:-1]:
        weightless = edits.set_weight(weightless, factor, 0)
    with pytest.raises(ValueError, match="all weights are zero; give at least one factor a weight above zero"):
        edits.set_weight(weightless, FACTORS[-1], 0)


def test_wishes_stay_with_their_tier_s_name_on_a_ladder_of_another_length():
    """Of five: Chamber 2, Family 3, State 5. Of seven: Chamber 2, Family 4, State 7."""
    wished = edits.set_range(edits.pin(PLAIN, "Hall", 3), "Parlor", 2, 5)
    seven = edits.set_tiers(wished, 7)
    assert seven.rooms == {"Hall": Wish(tier=4), "Parlor": Wish(lowest=2, highest=7)}
    assert edits.moved_wishes(wished, seven) == ""
    assert edits.set_tiers(seven, 5) == wished
    assert edits.moved_wishes(wished, wished) == ""


def test_a_tier_whose_name_the_new_ladder_lacks_takes_the_nearest_rung_and_that_is_told():
    """Company, the fifth of seven, lies two thirds up; of five tiers Principal is nearest. Family of three is State's
    neighbour, of four it lies between Chamber and Principal and takes the lower."""
    wished = edits.set_range(edits.pin(edits.set_tiers(PLAIN, 7), "Hall", 5), "Parlor", 3, 5)
    five = edits.set_tiers(wished, 5)
    assert five.rooms == {"Hall": Wish(tier=4), "Parlor": Wish(lowest=2, highest=4)}
    assert edits.moved_wishes(wished, five) == (
        "A ladder of 5 tiers has other names. Hall: Company is Principal now; "
        "Parlor: Best Chamber is Chamber now; Parlor: Company is Principal now."
    )
    assert edits.set_tiers(edits.pin(PLAIN, "Hall", 3), 4).rooms == {"Hall": Wish(tier=2)}


@given(st.integers(3, 7), st.integers(3, 7))
def test_a_ladder_of_another_length_turns_no_wish_round(before, after):
    library = standard()
    kept = [edits.kept_tier(tier, before, after, library) for tier in range(1, before + 1)]
    assert kept == sorted(kept) and (kept[0], kept[-1]) == (1, after)
    old, new = library.ladder.names[str(before)], library.ladder.names[str(after)]
    assert all(new[kept[i] - 1] == name for i, name in enumerate(old) if name in new)


@given(st.lists(st.one_of(st.integers(0, 9), st.sampled_from(["undo", "redo"]))))
def test_history_is_a_line_with_a_place_on_it(steps):
    line, place, history = [0], 0, History.of(0)
    for step in steps:
        if step == "undo":
            place, history = max(0, place - 1), history.undo()
        elif step == "redo":
            place, history = min(len(line) - 1, place + 1), history.redo()
        else:
            if step != line[place]:
                line, place = [*line[: place + 1], step], place + 1
            history = history.do(step)
        assert history.present == line[place]
        assert (*history.past, history.present, *reversed(history.future)) == tuple(line)


def test_history_forgets_what_is_long_gone():
    history = History.of(0)
    for value in range(1, REMEMBERED + 50):
        history = history.do(value)
    assert len(history.past) == REMEMBERED
    assert history.undo().present == REMEMBERED + 48


RAIL = Scope(tiers=(2, 5))
RULED = edits.set_rule(PLAIN, "chair rail", RAIL, Change("moulded rail"))


def test_a_rule_is_set_where_it_stood_or_last():
    both = edits.set_rule(RULED, "crown", Scope(), Change("none"))
    assert [rule.element for rule in both.trim] == ["chair rail", "crown"]
    again = edits.set_rule(both, "chair rail", RAIL, Change(size=3.0))
    assert again.trim == (TrimRule("chair rail", RAIL, Change(size=3.0)), both.trim[1])
    wider = edits.set_rule(both, "chair rail", Scope(tiers=(1, 5)), Change("none"))
    assert wider.trim[:2] == both.trim and len(wider.trim) == 3


def test_a_rule_of_just_this_scope_is_found_or_nothing_said():
    assert edits.rule_of(RULED, "chair rail", RAIL) == Change("moulded rail")
    assert edits.rule_of(RULED, "chair rail", Scope(tiers=(2, 4))) == Change()
    assert edits.rule_of(RULED, "crown", RAIL) == Change()


def test_a_blank_change_puts_the_style_back():
    assert edits.set_rule(RULED, "chair rail", RAIL, Change()) == PLAIN
    assert edits.set_rule(PLAIN, "chair rail", RAIL, Change()) == PLAIN


def test_of_two_rules_of_one_scope_both_give_way_to_what_is_said_now():
    twice = replace(RULED, trim=(*RULED.trim, TrimRule("chair rail", RAIL, Change(size=3.0))))
    assert edits.rule_of(twice, "chair rail", RAIL) == Change("moulded rail", 3.0)
    now = edits.set_rule(twice, "chair rail", RAIL, Change("beaded rail"))
    assert edits.rule_of(now, "chair rail", RAIL) == Change("beaded rail")
    assert now.trim == (TrimRule("chair rail", RAIL, Change("beaded rail")),)
    assert edits.set_rule(twice, "chair rail", RAIL, Change()) == PLAIN


def test_a_rule_said_twice_keeps_the_place_where_it_was_in_force():
    rail, base = RULED.trim[0], TrimRule("base", Scope(), Change("none"))
    now = edits.set_rule(replace(PLAIN, trim=(rail, base, rail, base)), "chair rail", RAIL, Change(size=3.0))
    assert now.trim == (base, TrimRule("chair rail", RAIL, Change(size=3.0)), base)


def test_a_rule_is_dropped_by_its_number():
    both = edits.set_rule(RULED, "crown", Scope(), Change("none"))
    assert edits.drop_rule(both, 1).trim == both.trim[1:]
    assert edits.drop_rule(both, 2) == RULED
    for number in (0, 3, -1):
        with pytest.raises(ValueError, match=f"there are 2 rules, and none is number {number}"):
            edits.drop_rule(both, number)


def test_a_rule_of_tiers_that_are_not_there_is_refused():
    with pytest.raises(ValueError, match="1 to 5, not 6"):
        edits.set_rule(PLAIN, "base", Scope(tiers=(2, 6)), Change("board"))


def test_rules_keep_the_names_of_their_tiers_when_the_ladder_changes():
    """Of five tiers the second, Chamber, has no name among three, and its nearest rung is Service."""
    assert edits.set_tiers(RULED, 3).trim == (TrimRule("chair rail", Scope(tiers=(1, 3)), Change("moulded rail")),)
    assert edits.set_tiers(RULED, 7).trim == (TrimRule("chair rail", Scope(tiers=(2, 7)), Change("moulded rail")),)


def test_what_clients_may_speak_of_is_a_row_of_elements_that_are_known():
    offered = edits.offer(Intent(), ["crown", "base"])
    assert offered.offered == ("base", "crown")
    assert difference(Intent(), offered, "in") == "clients may speak of base and crown"
    with pytest.raises(ValueError, match="there is no element moulding"):
        edits.offer(Intent(), ["moulding"])
