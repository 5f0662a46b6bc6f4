"""Every rule of a plan in one list, and which tiers a room can have."""

from dataclasses import replace

import pytest

from planner.checks.check import SEVERITIES
from planner.checks.plan import check_plan, check_room, fits
from planner.house.model import Opening
from planner.planning.answer import PassagePlan
from planner.walls.layout import lay_out
from tests.checks.parlor import LIBRARY, door, found, house, walls, window
from tests.walls.trim import altered, trim, without

STATE = trim(5)
BASE = STATE.element("base").size
BROKEN = {
    "crown and head": (house(window(head=100.0)), STATE),
    "overdoor and cornice": (house(door(head=92.0)), STATE),
    "rail and crown": (house(), altered(STATE, "crown", size=76.0, bottom=44.0)),
    "casing and corner": (house(window(offset=1.0)), STATE),
    "casing ripped at the corner": (house(window(offset=3.5)), STATE),
    "crossette and corner": (house(door(offset=6.5)), STATE),
    "overdoor and corner": (house(door(offset=9.0)), STATE),
    "casing and casing": (house(window(offset=60.0, name="A"), window(offset=98.0, name="B")), STATE),
    "chair rail and stool": (
        house(window(sill=30.0, name="A"), window(offset=20.0, sill=28.5, name="B")),
        without(STATE, "wainscot"),
    ),
    "chair rail and radiator": (house(notes="Radiator under the window, 34 in high"), STATE),
    "picture rail and head": (house(window(head=107.0)), trim(3, style="victorian")),
    "opening without room for its trim": (house(window(offset=200.0)), STATE),
    "base thicker than what it dies into": (house(), altered(STATE, "base", projection=2.5)),
    "base as thick as what it dies into": (house(), altered(STATE, "base", projection=2.375)),
    "block no thicker than the casing": (house(), altered(STATE, "plinth block", projection=2.25)),
    "rail proud of the casing": (house(), altered(STATE, "chair rail", projection=2.5)),
    "narrow casing": (house(), altered(STATE, "casing", size=3.5)),
    "plinth against its period": (house(), altered(STATE, "plinth block", size=BASE + 2)),
    "subordinate larger than the room's": (house(), altered(STATE, "overdoor", size=20.0)),
    "mouldings too close": (house(window(head=95.5)), STATE),
    "window far from two to one": (house(window(width=72.0)), STATE),
    "heavy entablature": (house(ceiling=119.0), altered(trim(ceiling=119.0), "crown", form="full entablature")),
    "crown heavy for the ceiling": (house(), altered(STATE, "crown", size=24.0, bottom=96.0)),
    "escape window": (house(use="bedroom"), STATE),
    "stair wall": (house(use="stair hall"), STATE),
    "rated door": (house(notes="20 min rated door to the garage"), STATE),
    "chair rail is no guard": (house(window(sill=18.0)), STATE),
    "receptacles in the base": (house(), STATE),
    "wood near the firebox": (house(Opening("F", "fireplace", "Parlor", "", "E", None, 42.0, 36.0)), STATE),
    "wider opening": (house(notes="widen the opening to the hall"), STATE),
}
ELSEWHERE = {"lead paint", "abrupt passage", "faint passage", "trim changes in one space", "kept trim is not matched"}
OF_RULES = {"profile out of stock", "rule without effect", "rule against the tiers"}
"""Told of a plan with trim rules; tests/checks/test_schedule.py breaks them."""

BY_HAND = {"trim collides", "panel out of proportion"}
"""No layout of ours breaks them; tests/checks/test_walls.py puts solids where they do."""

OF_FIXTURES = {
    "rail across a fixture",
    "rail broken by a fixture",
    "crown on a cabinet",
    "base and register",
    "rail and backsplash",
    "fixture and casing",
    "handrail clearance",
    "handrail height",
}
"""Told of what stands before a wall; tests/checks/test_fixtures.py breaks them."""

OF_STAIRS = {"steps of a stair", "stair over an opening", "landing at an opening"}
"""Told of flights; tests/checks/test_stairs.py breaks them."""


@pytest.mark.parametrize("rule", BROKEN)
def test_each_rule_reaches_the_checks_of_its_room(rule):
    told = [c for c in found(*BROKEN[rule]) if c.rule == rule]
    assert told
    for check in told:
        assert check.room == "Parlor" and check.severity == LIBRARY.check(rule).severity
        assert check.message and check.remedy and check.source == LIBRARY.check(rule).source
        assert "{" not in check.message + check.remedy


@pytest.mark.parametrize("rule", [rule for rule in BROKEN if rule != "receptacles in the base"])
def test_each_rule_keeps_silent_where_it_is_kept(rule):
    assert rule not in {c.rule for c in found(house())}


def test_every_rule_of_the_table_is_tested():
    assert {row.name for row in LIBRARY.checks} == set(
        BROKEN
    ) | ELSEWHERE | OF_RULES | BY_HAND | OF_FIXTURES | OF_STAIRS


def passage(difference, reads, kind="door"):
    return PassagePlan("Hall", "Parlor", kind, 2, 1, 0.3, 1, difference, reads)


def whole(the_house, passages=(), package=STATE):
    packages = {"Parlor": package}
    return check_plan(the_house, packages, passages, {"Parlor": walls(the_house, package)}, LIBRARY)


def test_a_plan_has_its_gravest_checks_first_then_by_room():
    the_house = house(window(head=100.0, width=72.0), use="bedroom", year=1900)
    told = whole(the_house, [passage(-2, "abrupt")])
    weights = [SEVERITIES.index(c.severity) for c in told]
    assert weights == sorted(weights) and set(weights) == {0, 1, 2}
    assert len(set(told)) == len(told)
    by_place = [(w, c.room, c.opening, c.rule) for w, c in zip(weights, told, strict=True)]
    assert by_place == sorted(by_place)


def test_a_plan_gathers_house_rooms_and_passages():
    told = {c.rule for c in whole(house(window(head=100.0), year=1900), [passage(-2, "abrupt")])}
    assert {"lead paint", "crown and head", "abrupt passage"} <= told
    assert {c.rule for c in check_plan(house(year=1900), {}, (), {}, LIBRARY)} == {"lead paint"}


def test_a_plan_is_checked_by_the_walls_that_it_is_handed():
    """Nothing is laid out anew: walls with nothing on them raise no rule on walls."""
    the_house = house(window(head=100.0))
    bare = tuple(replace(w, surrounds=(), solids=()) for w in walls(the_house))
    told = check_plan(the_house, {"Parlor": STATE}, (), {"Parlor": bare}, LIBRARY)
    assert "crown and head" not in {c.rule for c in told}
    assert "crown and head" in {c.rule for c in whole(the_house)}


def test_a_room_is_checked_once_for_the_same_walls():
    the_house = house()
    assert check_room(the_house, "Parlor", STATE, walls(the_house), LIBRARY) is found(the_house)


@pytest.mark.parametrize("head", [84.0, 92.0, 96.0, 100.0, 112.0, 118.0])
@pytest.mark.parametrize("tier", range(1, 6))
def test_a_tier_fits_exactly_where_its_walls_show_no_error_that_bars_it(head, tier):
    bars = {row.name for row in LIBRARY.checks if row.bars}
    the_house = house(window(head=head), door(head=min(head, 100.0)))
    barred = {(c.rule, c.opening) for c in fits(the_house, "Parlor", trim(tier), LIBRARY)}
    shown = {(c.rule, c.opening) for c in found(the_house, trim(tier)) if c.rule in bars}
    assert barred == shown
    assert bool(barred) <= (head > 84)
    assert fits(the_house, the_house.by_name["Parlor"], trim(tier), LIBRARY) == fits(
        the_house, "Parlor", trim(tier), LIBRARY
    )


def test_a_crown_that_comes_down_upon_the_rail_bars_its_tier():
    heavy = altered(STATE, "crown", size=76.0, bottom=44.0)
    assert "rail and crown" in {c.rule for c in fits(house(), "Parlor", heavy, LIBRARY)}


def test_a_package_without_a_crown_always_fits():
    assert fits(house(window(head=118.0)), "Parlor", replace(STATE, elements=()), LIBRARY) == ()
    assert lay_out(house(), "Parlor", replace(STATE, elements=()), LIBRARY)[0].solids == ()
