"""Every rule fires on a wall that breaks it, keeps silent on one that does not, and says where in feet and inches."""

from dataclasses import replace

import pytest

from planner.checks.checks import SEVERITIES, check_passages, check_plan, check_room, fits
from planner.house.model import OUTSIDE, House, Opening, Room
from planner.library import table
from planner.planning.answer import PassagePlan
from planner.trim.packages import package
from planner.walls.layout import lay_out

GOOD = (
    Opening("Door", "door", "Parlor", "Hall", "N", 90.0, 36.0, 80.0),
    Opening("Window", "window", "Parlor", OUTSIDE, "S", 90.0, 36.0, 90.0, 30.0),
)


def house(*openings, ceiling=120.0, use="parlor", notes="", year=1990):
    rooms = (
        Room("Parlor", "Ground", use, 216.0, 168.0, ceiling, notes=notes),
        Room("Hall", "Ground", "hall", 400.0, 400.0, 120.0),
    )
    return House("Test", ("Hall",), rooms, openings or GOOD, year_built=year)


def trim(tier=5, ceiling=120.0, style="georgian"):
    return package(style, "doric", tier, ceiling, top=5)


def altered(package_, element, **changes):
    elements = tuple(replace(e, **changes) if e.element == element else e for e in package_.elements)
    return replace(package_, elements=elements)


def found(the_house, package_=None, style="georgian"):
    room = the_house.by_name["Parlor"]
    package_ = package_ or trim(ceiling=room.ceiling)
    return check_room(the_house, room, package_, lay_out(the_house, room, package_, style), style)


def rules(checks):
    return {c.rule for c in checks}


def window(offset=90.0, width=36.0, head=90.0, sill=30.0, name="Window"):
    return Opening(name, "window", "Parlor", OUTSIDE, "S", offset, width, head, sill)


def door(offset=90.0, width=36.0, head=80.0, name="Door"):
    return Opening(name, "door", "Parlor", "Hall", "N", offset, width, head)


def test_a_room_well_laid_out_has_neither_error_nor_warning():
    assert {c.severity for c in found(house())} <= {"caution"}


PACKAGE = trim()
BASE = PACKAGE.element("base").size
BROKEN = {
    "crown and head": (house(window(head=100.0)), PACKAGE),
    "overdoor and cornice": (house(door(head=92.0)), PACKAGE),
    "rail and crown": (house(), altered(PACKAGE, "crown", size=76.0, bottom=44.0)),
    "casing and corner": (house(window(offset=1.0)), PACKAGE),
    "casing ripped at the corner": (house(window(offset=3.5)), PACKAGE),
    "crossette and corner": (house(door(offset=6.5)), PACKAGE),
    "overdoor and corner": (house(door(offset=9.0)), PACKAGE),
    "casing and casing": (house(window(offset=60.0, name="A"), window(offset=98.0, name="B")), PACKAGE),
    "chair rail and stool": (house(window(sill=30.0, name="A"), window(offset=20.0, sill=28.5, name="B")), PACKAGE),
    "chair rail and radiator": (house(notes="Radiator under the window, 34 in high"), PACKAGE),
    "opening without room for its trim": (house(window(offset=200.0)), PACKAGE),
    "base thicker than what it dies into": (house(), altered(PACKAGE, "base", projection=1.6)),
    "narrow casing": (house(), altered(PACKAGE, "casing", size=3.5)),
    "plinth against its period": (house(), altered(PACKAGE, "plinth block", size=BASE + 2)),
    "subordinate larger than the room's": (house(), altered(PACKAGE, "overdoor", size=20.0)),
    "mouldings too close": (house(window(head=95.5)), PACKAGE),
    "window far from two to one": (house(window(width=72.0)), PACKAGE),
    "heavy entablature": (house(ceiling=119.0), altered(trim(ceiling=119.0), "crown", form="full entablature")),
    "crown heavy for the ceiling": (house(), altered(PACKAGE, "crown", size=24.0, bottom=96.0)),
    "escape window": (house(use="bedroom"), PACKAGE),
    "stair wall": (house(use="stair hall"), PACKAGE),
    "rated door": (house(notes="20 min rated door to the garage"), PACKAGE),
    "chair rail is no guard": (house(window(sill=18.0)), PACKAGE),
    "receptacles in the base": (house(), PACKAGE),
    "wood near the firebox": (house(Opening("F", "fireplace", "Parlor", "", "E", None, 42.0, 36.0)), PACKAGE),
    "wider opening": (house(notes="widen the opening to the hall"), PACKAGE),
}


@pytest.mark.parametrize("rule", BROKEN)
def test_each_rule_tells_a_wall_that_breaks_it(rule):
    the_house, package_ = BROKEN[rule]
    told = [c for c in found(the_house, package_) if c.rule == rule]
    assert told, rules(found(the_house, package_))
    for check in told:
        assert check.room == "Parlor" and check.severity in SEVERITIES
        assert check.message and check.remedy and check.source
        assert "{" not in check.message + check.remedy


@pytest.mark.parametrize("rule", [rule for rule in BROKEN if rule != "receptacles in the base"])
def test_each_rule_keeps_silent_where_it_is_kept(rule):
    assert rule not in rules(found(house()))


def test_a_panel_out_of_proportion_is_told():
    field = trim(5, 240.0)
    tall = house(door(offset=40.0), window(offset=20.0), ceiling=240.0)
    assert "panel out of proportion" in rules(found(tall, altered(field, "wall panels", size=190.0)))


def test_every_rule_of_the_table_is_tested():
    elsewhere = {"lead paint", "abrupt passage", "faint passage", "trim changes in one space", "trim collides"}
    assert {row["name"] for row in table("checks")["rule"]} == set(BROKEN) | elsewhere | {"panel out of proportion"}
    for row in table("checks")["rule"]:
        assert row["severity"] in SEVERITIES and row["source"] and row["remedy"]


def test_cautions_defer_to_code_and_licensed_practice():
    for row in table("checks")["rule"]:
        if row["severity"] == "caution":
            assert "licensed" in row["remedy"], row["name"]


def test_a_message_says_where_in_feet_and_inches():
    check = next(c for c in found(house(window(head=100.0))) if c.rule == "crown and head")
    assert check.opening == "Window"
    assert "8'-8 3/4\"" in check.message and "8'-5\"" in check.message and '3 3/4"' in check.message


def test_an_opening_without_size_is_told_and_nothing_is_drawn_round_it():
    told = found(house(window(head=30.0, sill=30.0)))
    assert "opening without room for its trim" in rules(told)
    assert not rules(told) & {"window far from two to one", "casing and corner"}


def test_solids_that_collide_without_a_rule_of_their_own_are_told():
    the_house = house(window(sill=30.0, name="A"), window(sill=26.0, offset=98.0, name="B"))
    assert rules(found(the_house)) & {"trim collides", "casing and casing"}


def passage(difference, reads, kind="door"):
    return PassagePlan("Hall", "Parlor", kind, 2, 1, 0.3, 1, difference, reads)


def test_passages_that_are_abrupt_faint_or_in_one_space():
    assert check_passages([passage(-1, "clear"), passage(0, "even"), passage(0, "even", "open")]) == ()
    told = check_passages([passage(-2, "abrupt"), passage(-1, "faint"), passage(-1, "clear", "open")])
    assert [c.rule for c in told] == ["abrupt passage", "faint passage", "trim changes in one space"]
    assert "2 tiers" in told[0].message and "1 tier:" not in told[0].message


def test_lead_paint_before_1978():
    """US EPA Renovation, Repair and Painting Rule, 40 CFR Part 745 Subpart E: housing built before 1978."""
    told = {year: rules(check_plan(house(year=year), {}, (), "georgian")) for year in (1931, 1977, 1978, None)}
    assert told == {1931: {"lead paint"}, 1977: {"lead paint"}, 1978: set(), None: {"lead paint"}}


def test_a_plan_has_its_gravest_checks_first():
    the_house = house(window(head=100.0, width=72.0), use="bedroom", year=1900)
    told = check_plan(the_house, {"Parlor": PACKAGE}, [passage(-2, "abrupt")], "georgian")
    weights = [SEVERITIES.index(c.severity) for c in told]
    assert weights == sorted(weights) and set(weights) == {0, 1, 2}


@pytest.mark.parametrize("head", [84.0, 92.0, 96.0, 100.0, 112.0, 118.0])
@pytest.mark.parametrize("tier", range(1, 6))
def test_a_tier_fits_exactly_where_its_walls_show_no_error_that_bars_it(head, tier):
    bars = {row["name"] for row in table("checks")["rule"] if row.get("bars")}
    the_house = house(window(head=head), door(head=min(head, 100.0)))
    barred = {(c.rule, c.opening) for c in fits(the_house, "Parlor", trim(tier))}
    shown = {(c.rule, c.opening) for c in found(the_house, trim(tier)) if c.rule in bars}
    assert barred == shown
    assert bool(barred) <= (head > 84)
