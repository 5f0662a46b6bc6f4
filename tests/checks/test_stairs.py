"""Rules on flights: figures of the International Residential Code (2018), R311.7.5, and common practice."""

from dataclasses import replace

import pytest

from planner.checks.plan import check_room
from planner.house.model import Flight, House, Opening, Room
from planner.library import standard
from planner.walls.layout import lay_out
from planner.walls.stairs import nosing
from tests.walls.trim import trim

LIBRARY = standard()
HALL = Room("Hall", "Ground", "stair hall", 240.0, 120.0, 120.0)
FLIGHT = Flight("Main", "Hall", "N", 10.0, "right", 18, 7.5, 10.0)


def told(rule, flight, *openings):
    house = House("Test", ("Hall",), (HALL,), openings, flights=(flight,))
    package = trim(3)
    walls = lay_out(house, "Hall", package, LIBRARY)
    return [c for c in check_room(house, "Hall", package, walls, LIBRARY) if c.rule == rule]


@pytest.mark.parametrize(
    ("rise", "run", "words"),
    [
        (7.75, 10.0, ""),
        (7.75 + 1 / 16, 10.0, 'a rise of 7 13/16" is above 7 3/4"'),
        (7.5, 10.0 - 1 / 16, 'a run of 9 15/16" is under 10"'),
        (6.9, 10.0, "two rises and a run are"),
        (7.0, 10.0, ""),
        (7.0, 12.0, ""),
        (7.0, 12.5, "two rises and a run are 2'-2 1/2\", not 2'-0\" to 2'-2\""),
    ],
)
def test_steps_out_of_proportion_are_a_caution(rise, run, words):
    found = told("steps of a stair", replace(FLIGHT, rise=rise, run=run, risers=10))
    assert bool(found) == bool(words)
    for check in found:
        assert check.severity == "caution" and words in check.message and "local code" in check.remedy


def test_the_trim_of_a_door_stays_below_the_string_over_it():
    """The underside lies a rise and 12 1/2 in below the nosings: 10 in square to a rake of 3 to 4."""
    door = Opening("D", "door", "Hall", "outside", "N", 160.0, 30.0, 80.0)
    house = House("Test", ("Hall",), (HALL,), (door,))
    wall = next(w for w in lay_out(house, "Hall", trim(3), LIBRARY) if w.wall == "N")
    around = wall.surrounds[0]
    under = nosing(FLIGHT, around.left - 10.0) - 7.5 - 12.5
    lower = replace(FLIGHT, offset=FLIGHT.offset + (under - around.top) / 7.5 * 10.0)
    assert told("stair over an opening", lower, door) == []
    (found,) = told("stair over an opening", replace(lower, offset=lower.offset + 1.0), door)
    assert "the string of Main comes down to" in found.message and found.opening == "D"


@pytest.mark.parametrize(("sill", "head", "crosses"), [(64.0, 90.0, False), (40.0, 70.0, True), (10.0, 36.0, False)])
def test_an_opening_stands_above_a_landing_or_below_it(sill, head, crosses):
    """A landing 52 1/2 in up, its underside at 42 1/2, reaches from 70 in before the flight's end to 60 in beyond."""
    flight = replace(FLIGHT, risers=7)
    window = Opening("W", "window", "Hall", "outside", "N", 90.0, 30.0, head, sill)
    found = told("landing at an opening", flight, window)
    assert len(found) == crosses
    for check in found:
        assert check.opening == "W" and "the landing of Main, 4'-4 1/2\" above the floor" in check.message


def test_an_opening_in_the_wall_of_a_half_turn_is_told_too():
    hall = Room("Hall", "Ground", "stair hall", 72.0, 144.0, 120.0)
    lower = Flight("Lower", "Hall", "W", 100.0, "left", 9, 7.5, 9.0)
    upper = Flight("Upper", "Hall", "E", 100.0, "left", 6, 7.5, 9.0, foot=67.5)
    window = Opening("W", "window", "Hall", "outside", "S", 20.0, 30.0, 80.0, 40.0)
    house = House("Test", ("Hall",), (hall,), (window,), flights=(lower, upper))
    walls = lay_out(house, "Hall", trim(3), LIBRARY)
    found = [c for c in check_room(house, "Hall", trim(3), walls, LIBRARY) if c.rule == "landing at an opening"]
    assert [(c.opening, "Lower" in c.message) for c in found] == [("W", True)]
