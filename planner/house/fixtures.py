"""What stands on walls besides openings, fixtures.csv: its rows as facts, every fault told by row and column."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from itertools import combinations
from typing import TypeVar

from planner.files.csv_tables import Row
from planner.files.problems import Problem, choose, first_of
from planner.house.faults import MOST_ON_WALL, crowded, no_wall
from planner.house.model import WALL_OPENINGS, Fixture, House, Room
from planner.house.placements import SIXTEENTH, PlacedOpening, placements
from planner.library import Library
from planner.units import Unit, format_length, is_one_line, quoted, spell_length

T = TypeVar("T")

FIXTURES = "fixtures.csv"
COLUMNS = ("fixture", "kind", "room", "wall", "offset", "width", "bottom", "top", "depth", "notes")
OPTIONAL = ("bottom", "top", "depth", "notes")

Needed = Mapping[str, str | float]
"""Cells that cannot be blank, each with an example: a text, or a length [in]."""

NEEDED: Needed = {
    "fixture": "Sink counter",
    "kind": "counter",
    "room": "Kitchen",
    "wall": "N",
    "offset": 24.0,
    "width": 60.0,
}

SIZES = ("offset", "width", "bottom", "top", "depth")

FLUSH = 1.0
"""What stands off the wall by no more than this [in] lies in it, and may lie within another; common practice."""

HANDRAIL = "handrail"
"""The kind of fixture that a hand goes round."""


def parse_fixtures(rows: list[Row], house: House, library: Library, problems: list[Problem]) -> tuple[Fixture, ...]:
    """The fixtures; every fault is told in `problems`, and what is faulty is left out.

    Parameters
    ----------
    rows : of the table.
    house : its rooms and openings, as far as they are sound.
    library : whose kinds of fixture give the sizes that are left blank.
    """

    def placed(row: Row, one: Fixture) -> Iterator[Problem]:
        yield from _on_its_wall(row, one, house.by_name[one.room], house.unit)
        yield from _at_openings(row, one, house, library)

    found = list(sound(rows, "fixture", lambda row: _fixture(row, house, library, problems), placed, problems))
    problems += first_of(_overlaps(found))
    return tuple(one for _, one in found)


def fixture_cells(one: Fixture, unit: Unit) -> dict[str, str]:
    """A row of fixtures.csv, text by column."""
    sizes = {name: spell_length(getattr(one, name), unit) for name in SIZES}
    return {column: sizes.get(column) or getattr(one, "name" if column == "fixture" else column) for column in COLUMNS}


def sound(
    rows: list[Row],
    column: str,
    read: Callable[[Row], T | None],
    placed: Callable[[Row, T], Iterable[Problem]],
    problems: list[Problem],
) -> Iterator[tuple[Row, T]]:
    """The rows without an error, each with the fact that it states; every fault is told in `problems`.

    Parameters
    ----------
    rows, column : of a table, and the column of the name that each of them has to itself.
    read : the fact of a row, None where it does not say enough; it tells what is wrong with its cells.
    placed : what is wrong with the place of a fact whose cells are right.
    """
    first: dict[str, int] = {}
    for row in rows:
        start = len(problems)
        _named_once(row, column, first, problems)
        one = None if row.torn else read(row)
        if one is None or any(p.severity == "error" for p in problems[start:]):
            continue
        problems += placed(row, one)
        if not any(p.severity == "error" for p in problems[start:]):
            yield row, one


def room_of(row: Row, needed: Needed, house: House, problems: list[Problem]) -> Room | None:
    """The room of a row that leaves no needed cell blank and names one of its walls, None for any other, which is told.

    A room that the house lacks is told elsewhere.
    """
    blank = [column for column in needed if not row[column]]
    for column in blank:
        example = needed[column]
        shown = example if isinstance(example, str) else format_length(example, house.unit)
        problems.append(row.problem(column, "is blank", f"write e.g. {shown}"))
    room = house.by_name.get(row["room"])
    if room is not None and row["wall"] and room.wall(row["wall"].upper()) is None:
        problems.append(no_wall(row, room))
        return None
    return None if blank else room


def _named_once(row: Row, column: str, first: dict[str, int], problems: list[Problem]) -> None:
    """A fault where the name in a row is no name, or that of a row before it; `first` holds the rows of the names."""
    name = row[column]
    if not is_one_line(name):
        problems.append(row.problem(column, "has a line break or a control character", "write the name on one line"))
    elif name and first.setdefault(name, row.number) != row.number:
        message = f"{quoted(name)} is there already, in row {first[name]}"
        problems.append(row.problem(column, message, "give each a name of its own"))


def _fixture(row: Row, house: House, library: Library, problems: list[Problem]) -> Fixture | None:
    """What a row says, its blank sizes filled in as its kind has them; None where it does not say enough."""
    name = " ".join(row["kind"].casefold().split())
    kind = library.fixture_kinds.get(name)
    if name and kind is None:
        message = f"{quoted(row['kind'])} is no kind of fixture"
        problems.append(row.problem("kind", message, choose(name, library.fixture_kinds)))
    sizes = {column: row.length(column, house.unit, problems) for column in SIZES}
    room = room_of(row, NEEDED, house, problems)
    for column in ("width", "depth"):
        if sizes[column] == 0:
            problems.append(row.problem(column, "is zero", "write a length above zero"))
    if kind is None or room is None:
        return None
    bottom, top, depth = (sizes[column] for column in ("bottom", "top", "depth"))
    bottom = min(kind.bottom, top if top is not None else kind.bottom) if bottom is None else bottom
    top = max(min(kind.top, room.ceiling), bottom) if top is None else top
    if top <= bottom:
        message = f"the top at {format_length(top, house.unit)} is not above {format_length(bottom, house.unit)}"
        problems.append(row.problem("top", message, "write the height of its upper edge above the floor"))
    offset, width = sizes["offset"] or 0.0, sizes["width"] or 0.0
    depth = kind.depth if depth is None else depth
    wall = row["wall"].upper()
    return Fixture(row["fixture"], kind.kind, room.name, wall, offset, width, bottom, top, depth, row["notes"])


def _on_its_wall(row: Row, one: Fixture, room: Room, unit: Unit) -> Iterator[Problem]:
    """A fixture past the end of its wall or above its ceiling."""
    wall = room.wall(one.wall)
    length = wall.length if wall is not None else 0.0
    named = f"wall {one.wall} of {quoted(room.name)}"
    if one.width > length + SIXTEENTH:
        message = f"it is {format_length(one.width, unit)} wide, {named} only {format_length(length, unit)} long"
        yield row.problem("width", message, "write a smaller width, or another wall")
    elif one.right > length + SIXTEENTH:
        message = f"it stands {format_length(one.right - length, unit)} beyond the end of {named}"
        yield row.problem("offset", message, f"write an offset from 0 to {format_length(length - one.width, unit)}")
    if one.top > room.ceiling + SIXTEENTH:
        message = f"it goes up to {format_length(one.top, unit)}, and the ceiling of {quoted(room.name)} is at "
        remedy = f"write {format_length(room.ceiling, unit)} or less"
        yield row.problem("top", message + format_length(room.ceiling, unit), remedy)


def _at_openings(row: Row, one: Fixture, house: House, library: Library) -> Iterator[Problem]:
    """A fixture that stands across a door, or before a window or a hearth."""
    for placed in placements(house, library)[one.room]:
        if not before(placed, house.by_name[one.room], one.wall, one.offset, one.right, one.bottom, one.top):
            continue
        opening = placed.opening
        likely = placed.assumed or opening.kind in WALL_OPENINGS
        message = f"it stands {'before' if likely else 'across'} {opening.kind} {quoted(opening.name)}"
        remedy = "move it along the wall, or mend the place of the opening"
        yield row.problem("offset", message, remedy, "warning" if likely else "error")


def before(placed: PlacedOpening, room: Room, wall: str, left: float, right: float, bottom: float, top: float) -> bool:
    """Whether what lies between those edges [in] on a wall of a room takes some of the place of an opening."""
    beside = right <= placed.left + SIXTEENTH or left >= placed.right - SIXTEENTH
    over = bottom >= placed.head - SIXTEENTH or top <= placed.sill + SIXTEENTH
    return placed.wall == room.wall(wall) and not (beside or over)


def _overlaps(found: list[tuple[Row, Fixture]]) -> Iterator[Problem]:
    """Two fixtures in one place."""
    by_wall: dict[tuple[str, str], list[tuple[Row, Fixture]]] = {}
    for row, one in found:
        by_wall.setdefault((one.room, one.wall), []).append((row, one))
    for (room, wall), standing in by_wall.items():
        if len(standing) > MOST_ON_WALL:
            row = standing[MOST_ON_WALL][0]
            yield crowded(row.number, row.file, f"wall {wall} of {quoted(room)}", "fixtures")
            continue
        for (_, a), (row, b) in combinations(standing, 2):
            proud = min(a.depth, b.depth) > FLUSH
            wide, high = min(a.right, b.right) - max(a.offset, b.offset), min(a.top, b.top) - max(a.bottom, b.bottom)
            if proud and wide > SIXTEENTH and high > SIXTEENTH and HANDRAIL not in (a.kind, b.kind):
                message = f"it takes the same place as {a.kind} {quoted(a.name)}"
                yield row.problem("offset", message, "move one of the two", "warning")
