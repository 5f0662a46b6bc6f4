"""Rules on a room, its notes and openings, and on the house, each at its limits. Common practice unless named."""

import pytest

from planner.checks.rooms import check_facts, check_house
from planner.house.model import OUTSIDE, Opening
from planner.library import standard
from tests.checks.parlor import door, house, window
from tests.walls.trim import altered, trim, without

LIBRARY = standard()
STATE = trim(5)
RAIL = 30.0
"""Top of the rail in the parlor, drawn there by a window's stool [in]."""


def told(rule, the_house=None, package=STATE):
    the_house = the_house or house()
    room = the_house.by_name["Parlor"]
    return [c for c in check_facts(the_house, room, package, LIBRARY) if c.rule == rule]


def test_a_room_well_laid_out_is_not_spoken_of():
    the_house = house()
    assert list(check_facts(the_house, the_house.by_name["Parlor"], STATE, LIBRARY)) == []


def test_lead_paint_before_1978():
    """US EPA Renovation, Repair and Painting Rule, 40 CFR Part 745 Subpart E: housing built before 1978."""
    said = {year: [c.message for c in check_house(house(year=year), LIBRARY)] for year in (1931, 1977, 1978, None)}
    assert said[1978] == []
    assert said[1931][0].startswith("built in 1931:") and said[1977][0].startswith("built in 1977:")
    assert said[None][0].startswith("built perhaps before 1978:")


def test_between_rail_and_crown_eighteen_inches_of_wall_are_left():
    for left, silent in ((18.0, True), (17.9, False)):
        size = 120 - RAIL - left
        assert (told("rail and crown", package=altered(STATE, "crown", size=size)) == []) is silent
    assert told("rail and crown", package=without(altered(STATE, "crown", size=76.0), "chair rail")) == []


@pytest.mark.parametrize(
    ("notes", "rule_told"),
    [
        ("Radiator under the window, 34 in high", True),
        ('radiator 34" high', True),
        ("radiator, 27.5 in high", True),
        ("radiator 26 in high", False),
        ("radiator under the window", False),
        ("table 34 in high", False),
    ],
)
def test_a_rail_passes_above_a_radiator(notes, rule_told):
    assert bool(told("chair rail and radiator", house(notes=notes))) is rule_told


def test_a_radiator_just_under_the_rail_is_well():
    low = RAIL - STATE.element("chair rail").size
    assert told("chair rail and radiator", house(notes=f"radiator {low} in high")) == []
    assert told("chair rail and radiator", house(notes=f"radiator {low + 0.1:.2f} in high"))
    assert told("chair rail and radiator", house(notes="radiator 34 in high"), without(STATE, "chair rail")) == []


@pytest.mark.parametrize(
    ("height", "rule_told"), [(1.29 * 40, True), (1.3 * 40, False), (2.8 * 40, False), (2.81 * 40, True)]
)
def test_windows_are_about_two_to_one(height, rule_told):
    found = told("window far from two to one", house(window(width=40.0, sill=30.0, head=30.0 + height)))
    assert bool(found) is rule_told
    if found:
        assert found[0].opening == "Window" and "to one" in found[0].message


def test_a_window_without_size_has_no_shape():
    assert told("window far from two to one", house(window(head=30.0))) == []


def test_windows_of_bedrooms_may_be_escapes():
    """IRC R310: net clear opening of 5.7 sq ft (820.8 sq in), 24 in high and 20 in wide, sill at most 44 in."""
    rule = "escape window"
    assert told(rule) == []
    assert "keep its clear size" in told(rule, house(use="bedroom"))[0].message
    assert "keep its clear" in told(rule, house(window(sill=44.0, head=104.0), use="bedroom"))[0].message
    assert "sill is at 3'-8 1/8\"" in told(rule, house(window(sill=44.125, head=104.0), use="nursery"))[0].message
    assert "keep its clear" in told(rule, house(window(offset=0.0, width=20.52, head=70.0), use="bedroom"))[0].message
    small = told(rule, house(window(width=20.5, head=70.0), use="bedroom"))[0].message
    assert "at most 5.7 sq ft" in small
    both = told(rule, house(window(width=20.0, sill=50.0, head=80.0), use="bedroom"))[0].message
    assert "sill is at 4'-2\" and its opening is at most 4.2 sq ft" in both
    assert "keep its clear" in told(rule, house(window(sill=30.0, head=54.0, width=40.0), use="bedroom"))[0].message
    low = told(rule, house(window(sill=30.0, head=53.875, width=40.0), use="bedroom"))[0].message
    assert "its opening is at most 1'-11 7/8\" high" in low
    slim = told(rule, house(window(sill=30.0, head=90.0, width=19.875), use="bedroom"))[0].message
    assert "its opening is at most 1'-7 7/8\" wide" in slim


def test_a_low_window_is_not_guarded_by_the_rail():
    rule = "chair rail is no guard"
    low = window(sill=23.9, name="Low")
    assert [c.opening for c in told(rule, house(low, window(offset=20.0)))] == ["Low"]
    assert told(rule, house(window(sill=24.0))) == []
    assert told(rule, house(low), without(STATE, "chair rail")) == []


def test_a_stair_keeps_its_handrail():
    """IRC R311.7: at least 1 1/2 in between the handrail and the wall."""
    rule = "stair wall"
    assert 'at least 1 1/2" between it and the wall' in told(rule, house(use="stair hall"))[0].message
    assert told(rule, house(use="back stair"))
    assert told(rule, house(door(kind="stair")))
    away = house(Opening("Stair", "stair", "Hall", OUTSIDE, "N", 10.0, 36.0, 80.0))
    assert told(rule, away) == []
    up = house(Opening("Stair", "stair", "Hall", "Parlor", "N", 10.0, 36.0, 80.0))
    assert told(rule, up)


@pytest.mark.parametrize(
    ("notes", "why"), [("20 min rated door to the garage", '"rated"'), ("a fire door", '"fire door"'), ("unrated", "")]
)
def test_a_door_that_may_be_rated_by_its_rooms_notes(notes, why):
    found = told("rated door", house(notes=notes))
    assert bool(found) is bool(why)
    assert all(why in c.message and c.opening == "Door" for c in found)


def test_a_door_to_a_garage_may_be_rated_whichever_side_it_is_told_from():
    (there,) = told("rated door", house(hall="garage"))
    assert "it leads to a garage" in there.message
    (here,) = told("rated door", house(use="mechanical"))
    assert "it leads to a mechanical" in here.message
    arch = house(door(kind="cased opening"), notes="rated")
    assert told("rated door", arch) == []
    assert told("rated door", house(Opening("D", "door", "Hall", "Parlor", "N", 10.0, 36.0, 80.0), notes="rated")) == []


def test_openings_are_widened_only_with_a_structural_design():
    (check,) = told("wider opening", house(notes="Widen the opening to the hall"))
    assert "Widen the opening" in check.message
    assert told("wider opening", house(notes="a wide opening")) == []
