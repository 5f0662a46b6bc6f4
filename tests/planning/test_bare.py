"""Rooms that nobody trims: garages, mechanical rooms, attics and cellars."""

from dataclasses import replace

import pytest

import planner
from planner.house.model import House
from planner.intent.model import Intent
from planner.intent.trim_rules import Change, Scope, TrimRule
from planner.planning.answer import Plan
from planner.planning.pipeline import plan
from tests.known import LIBRARY


@pytest.fixture(scope="module")
def garaged() -> House:
    """The demo house with a garage in the place of its mud room."""
    house, _ = planner.read_house(planner.demo_house())
    rooms = tuple(replace(room, use="garage") if room.name == "Mud Room" else room for room in house.rooms)
    return replace(house, rooms=rooms)


def elements(planned: Plan, room: str) -> set[str]:
    return {e.element for e in planned.by_name[room].package.elements}


def test_a_garage_has_only_what_its_openings_need(garaged: House) -> None:
    planned = plan(garaged)
    assert planned.by_name["Mud Room"].tier == 1
    package = planned.by_name["Mud Room"].package
    assert all(LIBRARY.element(e.element).place == "opening" for e in package.elements)
    assert {"casing", "window casing", "stool", "apron"} <= elements(planned, "Mud Room")
    assert {"base", "shoe"} <= elements(planned, "Back Stair"), "other rooms of its tier keep theirs"
    assert planned.by_name["Mud Room"].package.label.endswith("without base, without shoe")


def test_a_higher_tier_trims_it(garaged: House) -> None:
    planned = plan(garaged, planner.edits.pin(Intent(), "Mud Room", 2))
    assert "base" in elements(planned, "Mud Room")


@pytest.mark.parametrize(
    ("scope", "trimmed"),
    [
        (Scope(uses=("garage",)), True),
        (Scope(rooms=("Mud Room",)), True),
        (Scope(), False),
        (Scope(tiers=(1, 1)), False),
    ],
    ids=["its use", "the room", "everywhere", "its tier"],
)
def test_a_rule_that_names_it_trims_it(garaged: House, scope: Scope, trimmed: bool) -> None:
    planned = plan(garaged, Intent(trim=(TrimRule("base", scope, Change("board")),)))
    assert ("base" in elements(planned, "Mud Room")) is trimmed


def test_a_rule_that_leaves_out_what_is_not_there_is_told(garaged: House) -> None:
    intent = Intent(trim=(TrimRule("base", Scope(rooms=("Mud Room",)), Change("none")),))
    told = [check.message for check in plan(garaged, intent).checks if check.rule == "rule without effect"]
    assert told == ["trim rule 1 changes nothing: base in Mud Room: none"]
