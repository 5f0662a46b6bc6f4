"""The files of a house, from bytes to a House. Every fault is told; what can be read is read on past it."""

import re
from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Any

from shapely import Polygon

from planner.files.csv_tables import Row, beyond, parse_table
from planner.files.problems import MOST_TOLD, Problem, choose, first_of, nearest
from planner.files.toml_settings import Settings, parse_settings, shown
from planner.house.existing import check_rooms_of
from planner.house.faults import OPENINGS, ROOMS, USUAL_ROOM, check_names, check_openings, check_rooms, no_wall
from planner.house.fillings import fillings
from planner.house.model import OUTSIDE, House, Opening, Point, Room
from planner.house.placements import lowest_ceiling, near_wall, placements, sized
from planner.house.reach import check_reachable
from planner.house.side_tables import SIDE_TABLES
from planner.house.takeoff_settings import parse_takeoff
from planner.library import Library
from planner.library.model import OTHER_USE
from planner.units import (
    INCHES_IN,
    LengthError,
    Unit,
    as_unit,
    format_length,
    is_one_line,
    parse_length,
    quoted,
    spell_number,
)

FORMAT = 1
HOUSE = "house.toml"
FILES = (HOUSE, ROOMS, OPENINGS)
ALSO = tuple(table.file for table in SIDE_TABLES)
"""The files of a house that may be missing."""

HOUSE_KEYS = (
    *("format", "name", "unit", "entry", "style", "order", "canon", "grade", "year_built", "currency"),
    *("levels", "takeoff"),
)
ROOM_COLUMNS = ("room", "level", "use", "length", "width", "ceiling", "outline", "notes")
OPENING_COLUMNS = ("opening", "kind", "room", "other", "wall", "offset", "width", "height", "sill", "leaf", "lights")
SELDOM = ("leaf", "lights")
"""Columns of openings.csv that are written only where something is in them, or where they are already."""

MAY_BE_MISSING = ("outline", "notes", "offset", "width", "height", "sill", "leaf", "lights")

LONGEST_NAME = 200
MOST_CORNERS = 200
"""An outline has no more corners than this."""
OLDEST, NEWEST = 1000, 2200
"""Years between which a house was built."""

Files = Mapping[str, bytes | None]
"""The bytes of a house's files by name, None where there is none."""

Ceilings = Mapping[str, float | None] | None
"""Ceilings by level [in], None where one is faulty; None in all where house.toml could not be read."""


@dataclass(frozen=True)
class _Found:
    """A room or an opening as far as it could be read; `sound` where every cell was right."""

    row: Row
    what: Any
    sound: bool


def parse_house(files: Files, problems: list[Problem], library: Library) -> House:
    """A house from the bytes of its files, by file name; a file that is None is left out and was told elsewhere.

    Every fault is appended to `problems`. Where one of them is an error, the House is only a sketch.
    """
    said: Settings | None = _parse(HOUSE, files, problems, parse_settings)
    settings = said or Settings({}, HOUSE, problems)
    unit, ceilings, house = _house(settings, library, read=said is not None)
    room_rows = _table(ROOMS, ROOM_COLUMNS, files, problems)
    rooms = _unique("room", [_room(row, unit, ceilings, library, problems) for row in room_rows], problems)
    opening_rows = _table(OPENINGS, OPENING_COLUMNS, files, problems)
    openings = _unique("opening", [_opening(row, unit, library, problems) for row in opening_rows], problems)
    _levels_are_there(settings, ceilings, rooms)
    if files.get(ROOMS) is not None and not rooms and not any(p.file == ROOMS for p in problems):
        problems.append(Problem(ROOMS, None, None, "there are no rooms", "write one row for each room"))
    whole = _judged(house, rooms, openings, library, problems)
    whole = _with_side_tables(whole, rooms, files, library, problems)
    problems.sort(key=lambda p: (p.severity != "error", (*FILES, *ALSO).index(p.file), p.row or 0))
    return whole


def _with_side_tables(
    house: House, rooms: list[_Found], files: Files, library: Library, problems: list[Problem]
) -> House:
    """The house with what the tables say that it can do without; where no room could be read, nobody can tell whose
    it is."""
    named, bare = replace(house, rooms=tuple(f.what for f in rooms)), house
    for table in SIDE_TABLES:
        if files.get(table.file) is not None:
            found: list[Problem] = []
            rows = parse_table(files[table.file] or b"", table.file, table.columns, found, table.optional)
            facts: dict[str, Any] = {table.field: table.parse(rows, bare, library, found)}
            house = replace(house, **facts)
            of_rooms = rooms and "room" in table.columns
            problems += [*found, *first_of(check_rooms_of(rows, named) if of_rooms else ())]
    return house


def _judged(
    house: House, rooms: list[_Found], openings: list[_Found], library: Library, problems: list[Problem]
) -> House:
    """The house with its rooms and openings, each check made on as much of it as is sound enough to be judged."""
    rows = {(ROOMS, f.what.name): f.row.number for f in rooms}
    rows |= {(OPENINGS, f.what.name): f.row.number for f in openings}
    readable = [f for f in openings if not f.row.torn]
    sketch = replace(house, rooms=tuple(f.what for f in rooms), openings=tuple(f.what for f in readable))
    names_faults = list(first_of(check_names(sketch, rows))) if rooms else []
    all_there = len(readable) == len(openings) and not any(p.file == OPENINGS and p.row in (None, 1) for p in problems)
    problems += names_faults
    if all_there:
        problems += check_reachable(_with_likely_names(sketch, library))

    standing = replace(sketch, rooms=tuple(f.what for f in rooms if f.sound))
    misnamed = {p.row for p in names_faults if p.file == OPENINGS}
    known = standing.by_name.keys() | {"", OUTSIDE}
    walled = [f for f in readable if _wall_is_there(standing, f, problems)]
    fitting = [f for f in walled if f.sound and f.row.number not in misnamed and f.what.other in known]
    fitted = tuple(sized(f.what, lowest_ceiling(standing, f.what), library) for f in fitting)
    whole = replace(standing, openings=fitted)
    problems += _blanks(whole, fitting, library)
    problems += first_of(check_rooms(whole, rows))
    problems += first_of(check_openings(whole, rows, placements(whole, library)))
    return whole


def _levels_are_there(settings: Settings, ceilings: Ceilings, rooms: list[_Found]) -> None:
    """A doubt for every level of house.toml that no room is on."""
    levels = list(dict.fromkeys(f.what.level for f in rooms if f.what.level))
    for level in settings.inner("levels").values if ceilings is not None else ():
        if levels and level not in levels:
            message = f"no room is on a level {quoted(level)}"
            remedy = f"{choose(level, levels)}, or put a room on it, or take it out"
            settings.inner("levels").fault(level, message, remedy, "warning")


def house_unit(data: bytes) -> Unit:
    """The unit of a house from the bytes of its house.toml, whatever else is faulty in it."""
    settings = parse_settings(data, HOUSE, [])
    return as_unit(settings.text("unit", tuple(INCHES_IN)) or "in") if settings else "in"


def level_ceilings(settings: Settings, unit: Unit) -> dict[str, float | None]:
    """The ceilings that house.toml gives for whole levels [in], None for one that cannot be read."""
    levels = settings.inner("levels")
    found = {}
    for name in levels.values:
        level = levels.inner(name)
        level.only(("ceiling",), "warning")
        if "ceiling" in level:
            found[name] = level.length("ceiling", unit)
    return found


def _parse(file: str, files: Files, problems: list[Problem], parse: Callable[[bytes, str, list[Problem]], Any]) -> Any:
    data = files.get(file)
    return None if data is None else parse(data, file, problems)


def written_columns(columns: Sequence[str], before: bytes | None, rows: Sequence[Mapping[str, str]]) -> tuple[str, ...]:
    """The columns of a table that is to be written: those that seldom hold anything only where one of them does, or
    where they are in the file's header before."""
    header = (before or b"").partition(b"\n")[0].decode("utf-8", "replace")
    said = any(row.get(column) for row in rows for column in SELDOM)
    return tuple(column for column in columns if said or column not in SELDOM or column in header)


def _table(file: str, columns: Sequence[str], files: Files, problems: list[Problem]) -> list[Row]:
    optional = [name for name in columns if name in MAY_BE_MISSING]
    return _parse(file, files, problems, lambda *to: parse_table(to[0], to[1], columns, to[2], optional)) or []


def _house(settings: Settings, library: Library, read: bool) -> tuple[Unit, Ceilings, House]:
    """Unit, ceilings by level and all else that house.toml says; `read` is whether it could be read."""
    if read:
        for key, example in (("format", "format = 1"), ("name", 'name = "..."'), ("entry", 'entry = "Entry Hall"')):
            if key not in settings:
                settings.fault(key, "is missing", f"write {example}")
        settings.only(HOUSE_KEYS, "warning")
    if settings.values.get("format", FORMAT) != FORMAT:
        settings.fault("format", f"format {shown(settings.values['format'])} is not known", f"write format = {FORMAT}")
    name = settings.text("name")
    if name is not None and not name.strip():
        settings.fault("name", "is blank", "write the name of the house")
    unit = as_unit(settings.text("unit", tuple(INCHES_IN)) or "in")
    currency = settings.text("currency")
    if currency is not None and not re.fullmatch("[A-Z]{3}", currency):
        settings.fault("currency", f"{quoted(currency)} is no currency code", "write three capitals, e.g. USD or EUR")
    entries = settings.names("entry") or ()
    if twice := [entry for entry, count in Counter(entries).items() if count > 1]:
        settings.fault("entry", f"{quoted(twice[0])} is listed twice", "write each entry once")
    default = House("", (), (), ())
    house = House(
        name=name or "",
        entries=entries,
        rooms=(),
        openings=(),
        unit=unit,
        style=settings.text("style", library.style_names) or default.style,
        order=settings.text("order", library.order_names) or default.order,
        grade=settings.text("grade", library.grade_names) or default.grade,
        year_built=settings.whole("year_built", OLDEST, NEWEST),
        currency=currency or default.currency,
        canon=settings.text("canon", library.canon_names) or default.canon,
        takeoff=parse_takeoff(settings, unit, library),
    )
    ceilings = level_ceilings(settings, unit)
    return unit, ceilings if read and isinstance(settings.values.get("levels", {}), dict) else None, house


def _named(row: Row, column: str, problems: list[Problem]) -> str:
    """A name in a cell, checked to be one line."""
    name = row[column]
    if not is_one_line(name):
        message = f"{quoted(name)} has a line break or a control character"
        problems.append(row.problem(column, message, "write the name on one line"))
    elif len(name) > LONGEST_NAME:
        message = f"a name of {len(name)} characters is too long"
        problems.append(row.problem(column, message, f"write {LONGEST_NAME} characters or fewer"))
    return name


def _required(row: Row, column: str, example: str, problems: list[Problem]) -> str:
    if not row[column]:
        problems.append(row.problem(column, "is blank", f"write e.g. {example}"))
    return _named(row, column, problems)


def _room(row: Row, unit: Unit, ceilings: Ceilings, library: Library, problems: list[Problem]) -> _Found:
    if row.torn:
        return _Found(row, Room(row["room"], row["level"], "other", 0.0, 0.0, 0.0), sound=False)
    before = len(problems)
    name = _required(row, "room", "Entry Hall", problems)
    if name.casefold() == OUTSIDE:
        problems.append(row.problem("room", f"{quoted(name)} stands for all that is no room", "write another name"))
    level = _required(row, "level", "Ground", problems)
    use = _use(row, library, problems)
    outline = outline_of(row, unit, problems)
    sides = sides_of(row, unit, outline, problems)
    ceiling = row.length("ceiling", unit, problems)
    if not row["ceiling"]:
        ceiling = (ceilings or {}).get(level)
        if level and ceilings is not None and level not in ceilings:
            remedy = f"write it here, or under [levels.{quoted(level)}] in house.toml"
            problems.append(row.problem("ceiling", "is blank, and its level has none", remedy))
    faults = [p for p in problems[before:] if p.severity == "error" and p.column not in ("room", "use")]
    room = Room(name, level, use, *sides, ceiling or 0.0, outline or (), row["notes"])
    return _Found(row, room, sound=not faults and ceiling is not None)


def _use(row: Row, library: Library, problems: list[Problem]) -> str:
    said = _required(row, "use", "parlor", problems)
    use = library.use_read(said)
    if said and use is None:
        offered = nearest(said, library.readings)
        listed = f"write one of {', '.join(map(quoted, offered))}" if offered else "write a use of library/uses.toml"
        message = f'{quoted(said)} is no known use, so it reads as "other"'
        problems.append(row.problem("use", message, listed, "warning"))
    return use.name if use else OTHER_USE


def sides_of(row: Row, unit: Unit, outline: tuple[Point, ...] | None, problems: list[Problem]) -> tuple[float, float]:
    """Length and width [in]; where they are blank, the outline's extent from west to east and from south to north."""
    extents = (0.0, 0.0)
    if outline:
        xs, ys = zip(*outline, strict=True)
        extents = (max(xs) - min(xs), max(ys) - min(ys))
    sides, usual = [], format_length(USUAL_ROOM, unit)
    for column, extent in zip(("length", "width"), extents, strict=True):
        if not row[column] and outline == ():
            problems.append(row.problem(column, "is blank, and there is no outline", f"write a length, e.g. {usual}"))
        side = row.length(column, unit, problems)
        sides.append(extent if side is None else side)
    return sides[0], sides[1]


def spelled_outline(corners: Iterable[Point], unit: Unit) -> str:
    """The corners of an outline [in] as the cell of a table, read back by `outline_of` as exactly the same."""
    numbers = ((f"{'-' * (n < 0)}{spell_number(abs(n), unit)}" for n in corner) for corner in corners)
    return "; ".join(map(" ".join, numbers))


def outline_of(row: Row, unit: Unit, problems: list[Problem]) -> tuple[Point, ...] | None:
    """The corners in a cell [in], () where it is blank, None where it is faulty."""
    if not row["outline"]:
        return ()

    def fault(message: str, remedy: str) -> None:
        problems.append(row.problem("outline", message, remedy))

    if row["outline"].count(";") > MOST_CORNERS:
        fault(*beyond(MOST_CORNERS, "corners"))
        return None
    points = []
    long, wide = (f"{side / INCHES_IN[unit]:.4g}" for side in (USUAL_ROOM, 0.75 * USUAL_ROOM))
    for number, text in enumerate(row["outline"].strip("; ").split(";"), start=1):
        pairs = [] if len(text) > 200 else _coordinate_pairs(text.split(), unit)
        if len(pairs) != 1:
            found = "can be read in two ways" if pairs else "is no pair of coordinates"
            fault(
                f"point {number}, {quoted(text.strip())}, {found}",
                f"write x y; x y; …, e.g. 0 0; 0 {long}; {wide} {long}; {wide} 0",
            )
            return None
        points.append(pairs[0])
    if len(points) > 1 and points[0] == points[-1]:
        points.pop()
    if len(points) < 3:
        fault("has fewer than 3 points", "write at least 3 corners, going round the room")
        return None
    if repeated := next((i for i, (a, b) in enumerate(pairwise([*points, points[0]]), start=1) if a == b), None):
        fault(f"point {repeated} is there twice in a row", "keep one of the two")
        return None
    shape = Polygon(points)
    if not shape.area:
        fault("encloses no floor", "write its corners going round the room")
    elif not shape.is_valid:
        fault("crosses itself", "write its corners in the order in which one walks round the room")
    else:
        return tuple(points)
    return None


def _coordinate_pairs(words: list[str], unit: Unit) -> list[Point]:
    """Every way to read the words as two coordinates [in]; a length may hold a blank, so there may be several."""
    found = []
    for cut in range(1, len(words)):
        try:
            found.append((_coordinate(" ".join(words[:cut]), unit), _coordinate(" ".join(words[cut:]), unit)))
        except LengthError:
            continue
    return found


def _coordinate(text: str, unit: Unit) -> float:
    return -parse_length(text[1:], unit) if text[0] in "-−–" else parse_length(text, unit)


def _opening(row: Row, unit: Unit, library: Library, problems: list[Problem]) -> _Found:
    if row.torn:
        return _Found(row, Opening(row["opening"], "", ""), sound=False)
    before = len(problems)
    name = _required(row, "opening", "D1", problems)
    kind = " ".join(row["kind"].casefold().split())
    if kind not in library.opening_kinds:
        message = f"{quoted(row['kind'])} is no kind of opening" if kind else "is blank"
        problems.append(row.problem("kind", message, choose(kind, library.opening_kinds)))
    room = _required(row, "room", "Entry Hall", problems)
    other = OUTSIDE if row["other"].casefold() == OUTSIDE else row["other"]
    wall = row["wall"].upper()
    sizes = {column: row.length(column, unit, problems) for column in ("offset", "width", "height", "sill")}
    for column in ("width", "height"):
        if sizes[column] == 0:
            problems.append(row.problem(column, "is zero", "write a length above zero, or leave it blank"))
    sill, height = sizes["sill"], sizes["height"]
    if sill is not None and height is not None and sill >= height:
        message = f"the sill at {row['sill']} is not below the head at {row['height']}"
        problems.append(row.problem("sill", message, "write its height above the floor; height is that of the head"))
    leaf, lights = fillings(row, kind, library, problems)
    sound = len(problems) == before
    return _Found(row, Opening(name, kind, room, other, wall, **sizes, leaf=leaf, lights=lights), sound)


def _unique(column: str, found: list[_Found], problems: list[Problem]) -> list[_Found]:
    """What was found under a name of its own; what has no name, or that of a row before it, is told and left out."""
    first: dict[str, _Found] = {}
    for one in found:
        name = one.what.name
        if name in first:
            message = f"{quoted(name)} is there already, in row {first[name].row.number}"
            problems.append(one.row.problem(column, message, "give each a name of its own"))
        elif name:
            first[name] = one
    return list(first.values())


def _with_likely_names(house: House, library: Library) -> House:
    """The house with each unknown room read as the nearest known one, else as the entry: one slip is told once."""

    found: dict[str, str] = {}

    def likely(name: str, otherwise: str) -> str:
        if name in house.by_name or (name not in found and len(found) == MOST_TOLD):
            return name if name in house.by_name else otherwise
        if name not in found:
            found[name] = next(iter(nearest(name, house.by_name, 1)), "")
        return found[name] or otherwise

    entries = tuple(likely(entry, entry) for entry in house.entries)
    entry = next(iter(entries), "")
    openings = tuple(
        replace(
            o,
            kind=o.kind if o.kind in library.opening_kinds else "door",
            room=likely(o.room, entry),
            other=o.other if o.other in ("", OUTSIDE) else likely(o.other, entry),
        )
        for o in house.openings
    )
    return replace(house, entries=entries, openings=openings)


def _wall_is_there(house: House, found: _Found, problems: list[Problem]) -> bool:
    """Whether the opening's wall is one of its room's; where the room itself is faulty, nobody can tell."""
    opening = found.what
    room = house.by_name.get(opening.room)
    if room is None:
        return False
    if not opening.wall or room.wall(opening.wall):
        return True
    problems.append(no_wall(found.row, room))
    return False


def _blanks(house: House, found: Iterable[_Found], library: Library) -> list[Problem]:
    """What was filled in for blank cells, one remark for each column."""
    remarks = []
    found = list(found)
    unplaced, likely = list[Opening](), list[Opening]()
    for opening in (f.what for f in found if f.what.kind != "stair"):
        if near_wall(house, opening) is None:
            unplaced.append(opening)
        elif not opening.wall:
            likely.append(opening)
    if unplaced:
        message = f"{_counted(unplaced)} no wall, and none can be told from the plan"
        remarks.append(
            ("wall", message, "write N, E, S or W, or the number of the outline's edge, to have trim laid out")
        )
    if likely:
        message = f"{_counted(likely)} no wall; the one that both rooms share is taken"
        remarks.append(("wall", message, "write the wall if it is another"))
    for column in ("width", "height", "sill"):
        blank = [f.what for f in found if not f.row[column] and (column != "sill" or f.what.kind == "window")]
        if blank:
            sizes = ", ".join(
                f"{kind} {_common(library, kind, column, house.unit)}" for kind in dict.fromkeys(o.kind for o in blank)
            )
            message = f"{_counted(blank)} no {column}; common practice is taken: {sizes}"
            remarks.append((column, message, "write what is there"))
    return [Problem(OPENINGS, None, column, message, remedy, "warning") for column, message, remedy in remarks]


def _counted(openings: Sequence[Opening]) -> str:
    listed = ", ".join(quoted(o.name) for o in openings[:6])
    more = f" and {len(openings) - 6} more" if len(openings) > 6 else ""
    return f"{listed}{more} {'has' if len(openings) == 1 else 'have'}"


def _common(library: Library, kind: str, column: str, unit: Unit) -> str:
    size: float | None = getattr(library.opening_kinds[kind], column)
    return "to the ceiling" if size is None else format_length(size, unit)
