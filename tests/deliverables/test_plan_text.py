"""The plan as text: it lists the trim rules, and stays within 80 columns."""

import json

from planner import demo_house, plan, plan_table, plan_text, proposals_table, read_house
from planner.intent.model import Intent, Wish
from planner.intent.trim_rules import Change, Scope, TrimRule
from planner.planning import proposals

HOUSE, _ = read_house(demo_house())


def test_the_trim_rules_are_listed_by_number():
    rules = (
        TrimRule("crossette", Scope(levels=("Ground",)), Change("none")),
        TrimRule("base", Scope(rooms=("Kitchen", "Library", "Drawing Room", "Dining Room")), Change("board", 7.0)),
    )
    lines = plan_table(plan(HOUSE, Intent(trim=rules))).splitlines()
    at = lines.index("Trim rules:")
    assert lines[at + 1] == "1. crossette on Ground: none"
    assert " ".join(map(str.strip, lines[at + 2 : at + 4])).startswith(f"2. {rules[1].words('in')}")
    assert max(map(len, lines)) <= 80
    assert "Trim rules:" not in plan_table(plan(HOUSE))


def test_proposals_are_listed_by_number_with_what_they_trade():
    planned = plan(HOUSE)
    text = proposals_table(planned)
    assert max(map(len, text.splitlines())) <= 80
    flowing = " ".join(text.split())
    for number, proposal in enumerate(planned.proposals, 1):
        assert f"{number}. {proposal.title}. {proposal.trade}" in flowing


def test_what_would_take_too_long_to_find_is_told(monkeypatch):
    assert "too long" not in proposals_table(plan(HOUSE))
    monkeypatch.setattr(proposals, "NODES", 0)
    planned = plan(HOUSE)
    text = proposals_table(planned)
    assert max(map(len, text.splitlines())) <= 80
    told = f"it would take too long in this house: {'; '.join(planned.not_proposed)}."
    assert told in " ".join(text.split())
    assert json.loads(plan_text(planned, proposals=True))["not_proposed"] == list(planned.not_proposed) != []


def test_where_nothing_can_move_nothing_is_proposed():
    fixed = Intent(rooms={room.room.name: Wish(tier=room.tier) for room in plan(HOUSE).rooms})
    assert proposals_table(plan(HOUSE, fixed)).startswith("Nothing is proposed beside it")
