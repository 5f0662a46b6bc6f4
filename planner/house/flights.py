"""Stairs that run against walls, stairs.csv: its rows as facts, every fault told by row and column."""

from collections.abc import Iterator
from typing import Literal

from planner.files.csv_tables import Row
from planner.files.problems import Problem
from planner.house.fixtures import Needed, before, room_of, sound
from planner.house.model import WALL_OPENINGS, Flight, House, Room
from planner.house.placements import SIXTEENTH, placements
from planner.library import Library
from planner.units import Unit, format_length, quoted, spell_length

STAIRS = "stairs.csv"
COLUMNS = ("flight", "room", "wall", "offset", "up", "risers", "rise", "run", "foot", "notes")
OPTIONAL = ("foot", "notes")

NEEDED: Needed = {
    "flight": "Main stair",
    "room": "Stair Hall",
    "wall": "N",
    "offset": 24.0,
    "up": "right",
    "risers": "16",
    "rise": 7.5,
    "run": 10.0,
}
"""Cells that cannot be blank."""

SIZES = ("offset", "rise", "run", "foot")

MOST_RISERS = 60
"""No flight has more [count]."""


def parse_flights(rows: list[Row], house: House, library: Library, problems: list[Problem]) -> tuple[Flight, ...]:
    """The flights; every fault is told in `problems`, and what is faulty is left out.

    Parameters
    ----------
    rows : of the table.
    house : its rooms and openings, as far as they are sound.
    library : whose common sizes openings without any have.
    """

    def placed(row: Row, one: Flight) -> Iterator[Problem]:
        yield from _on_its_wall(row, one, house.by_name[one.room], house.unit)
        yield from _at_openings(row, one, house, library)

    return tuple(one for _, one in sound(rows, "flight", lambda row: _flight(row, house, problems), placed, problems))


def flight_cells(one: Flight, unit: Unit) -> dict[str, str]:
    """A row of stairs.csv, text by column."""
    cells = {name: spell_length(getattr(one, name), unit) for name in SIZES} | {"risers": str(one.risers)}
    return {column: cells.get(column) or getattr(one, "name" if column == "flight" else column) for column in COLUMNS}


def _flight(row: Row, house: House, problems: list[Problem]) -> Flight | None:
    """What a row says; None where it does not say enough."""
    sizes = {column: row.length(column, house.unit, problems) for column in SIZES}
    room = room_of(row, NEEDED, house, problems)
    for column in ("rise", "run"):
        if sizes[column] == 0:
            problems.append(row.problem(column, "is zero", "write a length above zero"))
    up, risers = _up(row, problems), _risers(row, problems)
    offset, rise, run = sizes["offset"], sizes["rise"], sizes["run"]
    if room is None or up is None or risers is None or offset is None or not rise or not run:
        return None
    foot, wall = sizes["foot"] or 0.0, row["wall"].upper()
    return Flight(row["flight"], room.name, wall, offset, up, risers, rise, run, foot, row["notes"])


def _up(row: Row, problems: list[Problem]) -> Literal["left", "right"] | None:
    said = row["up"].casefold()
    if said == "left":
        return "left"
    if said == "right":
        return "right"
    if said:
        message = f"{quoted(row['up'])} is no side"
        problems.append(row.problem("up", message, "write left or right, as the flight rises seen from the room"))
    return None


def _risers(row: Row, problems: list[Problem]) -> int | None:
    said = row["risers"]
    if said.isascii() and said.isdigit() and len(said) < 4 and 2 <= int(said) <= MOST_RISERS:
        return int(said)
    if said:
        message = f"{quoted(said)} is no number of risers"
        problems.append(row.problem("risers", message, f"write a whole number from 2 to {MOST_RISERS}"))
    return None


def _on_its_wall(row: Row, one: Flight, room: Room, unit: Unit) -> Iterator[Problem]:
    """A flight past the end of its wall, or one that starts above the ceiling."""
    wall = room.wall(one.wall)
    length = wall.length if wall is not None else 0.0
    over = max(one.offset - length, one.end - length, -one.end)
    if over > SIXTEENTH:
        message = (
            f"from its first riser to its last it is {format_length(one.length, unit)} long, and reaches "
            f"{format_length(over, unit)} beyond the end of wall {one.wall} of {quoted(room.name)}"
        )
        remedy = f"let both lie between 0 and {format_length(length, unit)}, or part it at a landing"
        yield row.problem("offset", message, remedy)
    if one.foot >= room.ceiling:
        message = f"it starts at {format_length(one.foot, unit)}, and the ceiling of {quoted(room.name)} is at "
        remedy = "write the height of the landing above the floor"
        yield row.problem("foot", message + format_length(room.ceiling, unit), remedy)


def _at_openings(row: Row, one: Flight, house: House, library: Library) -> Iterator[Problem]:
    """A doubt where a flight runs across a door."""
    room, rules = house.by_name[one.room], library.stairs
    left, right = sorted((one.offset, one.end))
    for placed in placements(house, library)[one.room]:
        top = min(one.foot + one.height, room.ceiling)
        if placed.opening.kind in WALL_OPENINGS or not before(placed, room, one.wall, left, right, one.foot, top):
            continue
        near = one.offset - placed.right if one.up == "left" else placed.left - one.offset
        under = one.foot + one.rise * (near / one.run + 1) - rules.depth(one)
        if under < placed.head:
            message = f"it runs across {placed.opening.kind} {quoted(placed.opening.name)}"
            yield row.problem("offset", message, "move it along the wall, or mend the place of the opening", "warning")
