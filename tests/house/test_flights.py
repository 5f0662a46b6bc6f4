"""Stairs against walls: read with every fault told, written back with the house."""

from dataclasses import replace

import pytest

from planner.files.problems import HouseFault
from planner.house.flights import COLUMNS, STAIRS
from planner.house.folder import read_house, write_house
from planner.house.model import Flight

HEAD = ",".join(COLUMNS) + "\n"
ROW = "Back,Kitchen,E,1',Right,8,7 1/2,10,,steep\n"


def put(folder, rows):
    """Write the table by hand."""
    (folder / STAIRS).write_text(HEAD + rows, "utf-8")


def faults(folder, rows):
    """What is told of the table, as (severity, row, column, words)."""
    put(folder, rows)
    try:
        problems = read_house(folder)[1]
    except HouseFault as fault:
        problems = fault.problems
    return [(p.severity, p.row, p.column, f"{p.message}; {p.remedy}") for p in problems if p.file == STAIRS]


def test_its_rows_are_facts_of_the_house(folder):
    """Eight risers of 7 1/2 in are 60 in, seven treads of 10 in end 82 in from the left; atan 7.5/10 is 36.87."""
    put(folder, ROW + "Upper,Kitchen,E,82,left,8,7.5,10,5',\n")
    lower, upper = read_house(folder)[0].flights
    assert lower == Flight("Back", "Kitchen", "E", 12.0, "right", 8, 7.5, 10.0, 0.0, "steep")
    assert (lower.height, lower.length, lower.end, round(lower.angle, 2)) == (60.0, 70.0, 82.0, 36.87)
    assert (upper.foot, upper.end) == (60.0, 12.0)


def test_it_is_written_with_its_spelling_and_not_where_there_is_none(folder):
    house, _ = read_house(folder)
    write_house(replace(house, name="New"), folder)
    assert not (folder / STAIRS).exists()
    put(folder, ROW)
    house, _ = read_house(folder)
    steeper = replace(house.flights[0], rise=8.0)
    write_house(replace(house, flights=(steeper,)), folder)
    assert (folder / STAIRS).read_text("utf-8") == HEAD + ROW.replace("7 1/2", '"8"""').replace("10,,", "10,,")
    assert read_house(folder)[0].flights == (steeper,)


@pytest.mark.parametrize(
    ("old", "new", "column", "says"),
    [
        ("Kitchen", "Kitchn", "room", 'there is no room "Kitchn"; write "Kitchen"'),
        (",E,", ",7,", "wall", '"Kitchen" has no wall "7"; write N, E, S or W'),
        ("Right", "up", "up", '"up" is no side; write left or right'),
        ("Right", "", "up", "is blank; write e.g. right"),
        (",8,", ",eight,", "risers", '"eight" is no number of risers; write a whole number from 2 to 60'),
        (",8,", ",1,", "risers", '"1" is no number of risers'),
        (",10,", ",0,", "run", "is zero"),
        (",10,", ",10 x,", "run", '"10 x"'),
        (",8,", ",13,", "offset", "reaches 1'-0\" beyond the end of wall E"),
        ("Right", "left", "offset", "reaches 4'-10\" beyond the end of wall E"),
        ("10,,", "10,9',", "foot", "it starts at 9'-0\""),
    ],
)
def test_a_broken_row_is_told_by_row_and_column(folder, old, new, column, says):
    assert old in ROW
    told = faults(folder, ROW.replace(old, new, 1))
    assert any((s, r, c) == ("error", 2, column) and says in words for s, r, c, words in told), told


def test_a_name_twice_is_told(folder):
    assert [(r, c) for _, r, c, _ in faults(folder, ROW + ROW)] == [(3, "flight")]


def test_a_flight_across_a_door_is_a_doubt_and_one_over_it_is_none(folder):
    """D2 in the lobby's north wall stands 45 to 75 in from its left end, its head 80 in up. A flight of 7 1/2 by 10 in
    from 10 in left of the wall's start would pass it at 34 in; one from a landing at 5 ft passes over it."""
    flight = "Up,Lobby,N,10,right,12,7.5,10,{},\n"
    (told,) = faults(folder, flight.format(""))
    assert told[0] == "warning" and 'it runs across door "D2"' in told[3]
    assert faults(folder, flight.format("82")) == []


def test_a_door_under_a_flight_is_no_doubt_where_the_string_clears_its_head(folder):
    """Rising 9 1/2 in a run of 4 from the wall's left end, the nosings are 116 3/8 in up at 45 in; the underside lies a
    rise and 10 in square to the rake lower, which is 35 1/4 in plumb: at 81 in, over the head at 80. With a run of
    4 1/2 it lies at 71 in."""
    steep = "Up,Lobby,N,0,right,16,9.5,{},,\n"
    assert faults(folder, steep.format(4)) == []
    (told,) = faults(folder, steep.format("4.5"))
    assert told[0] == "warning" and "runs across" in told[3]
