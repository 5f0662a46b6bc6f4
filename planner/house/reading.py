"""The files of a house, from bytes to a House. Every fault is told; what can be read is read on past it."""

import re
from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache
from itertools import pairwise
from typing import Any

from shapely import Polygon

from planner.data import names, table
from planner.house.checks import OPENINGS, ROOMS, check_names, check_openings, check_reachable, check_rooms
from planner.house.geometry import common_sizes, lowest_ceiling, near_wall, sized
from planner.house.intent import GRADES
from planner.house.model import OUTSIDE, WALL_OPENINGS, House, Opening, Point, Room
from planner.house.problems import Problem, choose, nearest
from planner.house.settings import Settings, parse_settings
from planner.house.tables import Row, parse_table
from planner.units import INCHES_IN, LengthError, Unit, is_one_line, parse_length, quoted

FORMAT = 1
HOUSE = "house.toml"
FILES = (HOUSE, ROOMS, OPENINGS)

HOUSE_KEYS = ("format", "name", "unit", "entry", "style", "order", "grade", "year_built", "currency", "levels")
ROOM_COLUMNS = ("room", "level", "use", "length", "width", "ceiling", "outline", "notes")
OPENING_COLUMNS = ("opening", "kind", "room", "other", "wall", "offset", "width", "height", "sill")
MAY_BE_MISSING = ("outline", "notes", "offset", "width", "height", "sill")

LONGEST_NAME = 200
COMPASS = ("N", "E", "S", "W")
OLDEST, NEWEST = 1000, 2200
"""Years between which a house was built."""

Files = Mapping[str, bytes | None]


@dataclass(frozen=True)
class _Found:
    """A room or an opening as far as it could be read; `sound` where every cell was right."""

    row: Row
    what: Any
    sound: bool


def kinds() -> tuple[str, ...]:
    """Every kind of opening."""
    return (*(row["kind"] for row in table("passages")["passage"]), *WALL_OPENINGS)


def orders() -> tuple[str, ...]:
    """Every proportion canon."""
    return tuple(row["name"] for row in table("orders")["order"])


@cache
def uses() -> Mapping[str, str]:
    """The use that each name or synonym reads as."""
    return {name: row["name"] for row in table("uses")["use"] for name in (row["name"], *row["synonyms"])}


def parse_house(files: Files, problems: list[Problem]) -> House:
    """A house from the bytes of its files, by file name; a file that is None is left out and was told elsewhere.

    Every fault is appended to `problems`. Where one of them is an error, the House is only a sketch.
    """
    settings = _parse(HOUSE, files, problems, parse_settings) or Settings({}, HOUSE, problems)
    unit, ceilings, house = _house(settings, read=files.get(HOUSE) is not None)
    rooms = _unique(
        ROOMS, "room", _rooms(_table(ROOMS, ROOM_COLUMNS, files, problems), unit, ceilings, problems), problems
    )
    openings = _openings(_table(OPENINGS, OPENING_COLUMNS, files, problems), unit, problems)
    openings = _unique(OPENINGS, "opening", openings, problems)
    rows = {(ROOMS, f.what.name): f.row.number for f in rooms} | {
        (OPENINGS, f.what.name): f.row.number for f in openings
    }
    if files.get(ROOMS) is not None and not rooms and not any(p.file == ROOMS for p in problems):
        problems.append(Problem(ROOMS, None, None, "there are no rooms", "write one row for each room"))
    for level in dict.fromkeys(ceilings):
        levels = list(dict.fromkeys(f.what.level for f in rooms))
        if levels and level not in levels:
            settings.inner("levels").fault(
                level, f"there is no level {quoted(level)}", choose(level, levels), "warning"
            )

    readable = tuple(f.what for f in openings if not f.row.torn)
    sketch = replace(house, rooms=tuple(f.what for f in rooms), openings=readable)
    before = len(problems)
    if rooms:
        problems += check_names(sketch, rows)
    if len(readable) == len(openings) and not any(p.file == OPENINGS and p.row in (None, 1) for p in problems[:before]):
        problems += check_reachable(_with_likely_names(sketch), rows)
    unknown = {(p.row, p.file) for p in problems[before:]}
    sound = tuple(f.what for f in rooms if f.sound)
    known = {room.name for room in sound}
    fitting = [f for f in openings if f.sound and (f.row.number, OPENINGS) not in unknown and f.what.room in known]
    fitting = [f for f in fitting if f.what.other in known or f.what.other in ("", OUTSIDE)]
    whole = replace(sketch, rooms=sound, openings=tuple(f.what for f in fitting))
    fitting = [f for f in fitting if _wall_is_there(whole, f, problems)]
    whole = replace(whole, openings=tuple(sized(f.what, lowest_ceiling(whole, f.what)) for f in fitting))
    problems += _blanks(whole, fitting)
    problems += check_rooms(whole, rows)
    problems += check_openings(whole, rows)
    problems.sort(key=lambda p: (p.severity != "error", FILES.index(p.file) if p.file in FILES else -1, p.row or 0))
    return whole if len(whole.rooms) == len(rooms) and len(whole.openings) == len(openings) else sketch


def room_names(data: bytes) -> tuple[str, ...]:
    """Names of the rooms in the bytes of a rooms.csv, whatever else is faulty in it."""
    return tuple(row["room"] for row in parse_table(data, ROOMS, ROOM_COLUMNS, [], ROOM_COLUMNS) if row["room"])


def level_ceilings(settings: Settings, unit: Unit) -> dict[str, float | None]:
    """The ceilings that house.toml gives for whole levels [in]."""
    levels = settings.inner("levels")
    found = {}
    for name in levels.values:
        level = levels.inner(name)
        level.only(("ceiling",), "warning")
        found[name] = level.length("ceiling", unit)
    return found


def _parse(file: str, files: Files, problems: list[Problem], parse: Callable) -> Any:
    data = files.get(file)
    return None if data is None else parse(data, file, problems)


def _table(file: str, columns: Sequence[str], files: Files, problems: list[Problem]) -> list[Row]:
    optional = [name for name in columns if name in MAY_BE_MISSING]
    return _parse(file, files, problems, lambda *to: parse_table(to[0], to[1], columns, to[2], optional)) or []


def _house(settings: Settings, read: bool) -> tuple[Unit, dict[str, float | None], House]:
    """Unit, ceilings by level and all else that house.toml says; `read` is whether there was a file."""
    if read:
        for key, example in (("format", "format = 1"), ("name", 'name = "..."'), ("entry", 'entry = "Entry Hall"')):
            if key not in settings and settings.values:
                settings.fault(key, "is missing", f"write {example}")
        settings.only(HOUSE_KEYS, "warning")
    if settings.values.get("format", FORMAT) != FORMAT:
        settings.fault("format", f"format {settings.values['format']!s:.40} is not known", f"write format = {FORMAT}")
    name = settings.text("name")
    if name is not None and not name.strip():
        settings.fault("name", "is blank", "write the name of the house")
    unit = settings.text("unit", tuple(INCHES_IN)) or "in"
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
        style=settings.text("style", names("styles")) or default.style,
        order=settings.text("order", orders()) or default.order,
        grade=settings.text("grade", GRADES) or default.grade,
        year_built=settings.whole("year_built", OLDEST, NEWEST),
        currency=currency or default.currency,
    )
    return unit, level_ceilings(settings, unit), house


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


def _rooms(
    rows: Iterable[Row], unit: Unit, ceilings: Mapping[str, float | None], problems: list[Problem]
) -> list[_Found]:
    return [_room(row, unit, ceilings, problems) for row in rows]


def _room(row: Row, unit: Unit, ceilings: Mapping[str, float | None], problems: list[Problem]) -> _Found:
    if row.torn:
        return _Found(row, Room(row["room"], row["level"], "other", 0.0, 0.0, 0.0), sound=False)
    before = len(problems)
    name = _required(row, "room", "Entry Hall", problems)
    if name.casefold() == OUTSIDE:
        problems.append(row.problem("room", f"{quoted(name)} stands for all that is no room", "write another name"))
    level = _required(row, "level", "Ground", problems)
    use = _use(row, problems)
    outline = _outline(row, unit, problems)
    sides = _sides(row, unit, outline, problems)
    ceiling = row.length("ceiling", unit, problems)
    if not row["ceiling"]:
        ceiling = ceilings.get(level)
        if level and level not in ceilings:
            remedy = f"write it here, or under [levels.{quoted(level)}] in house.toml"
            problems.append(row.problem("ceiling", "is blank, and its level has none", remedy))
    faults = [p for p in problems[before:] if p.severity == "error"]
    room = Room(name, level, use, *sides, ceiling or 0.0, outline or (), row["notes"])
    return _Found(row, room, sound=not faults and ceiling is not None)


def _use(row: Row, problems: list[Problem]) -> str:
    said = _required(row, "use", "parlor", problems)
    use = uses().get(" ".join(said.casefold().split()))
    if said and use is None:
        offered = nearest(said, uses())
        listed = f"write one of {', '.join(map(quoted, offered))}" if offered else "write a use of data/uses.toml"
        message = f'{quoted(said)} is no known use, so it reads as "other"'
        problems.append(row.problem("use", message, listed, "warning"))
    return use or "other"


def _sides(row: Row, unit: Unit, outline: tuple[Point, ...] | None, problems: list[Problem]) -> tuple[float, float]:
    """Length and width [in]; where they are blank, the outline's extent from west to east and from south to north."""
    extents = (0.0, 0.0)
    if outline:
        xs, ys = zip(*outline, strict=True)
        extents = (max(xs) - min(xs), max(ys) - min(ys))
    sides = []
    for column, extent in zip(("length", "width"), extents, strict=True):
        if not row[column] and outline == ():
            problems.append(row.problem(column, "is blank, and there is no outline", "write a length, e.g. 14 ft"))
        side = row.length(column, unit, problems)
        sides.append(extent if side is None else side)
    return sides[0], sides[1]


def _outline(row: Row, unit: Unit, problems: list[Problem]) -> tuple[Point, ...] | None:
    """The corners in a cell [in], () where it is blank, None where it is faulty."""
    if not row["outline"]:
        return ()

    def fault(message: str, remedy: str) -> None:
        problems.append(row.problem("outline", message, remedy))

    points = []
    for number, text in enumerate(row["outline"].strip("; ").split(";"), start=1):
        pairs = [] if len(text) > 200 else _coordinate_pairs(text.split(), unit)
        if len(pairs) != 1:
            found = "can be read in two ways" if pairs else "is no pair of coordinates"
            fault(
                f"point {number}, {quoted(text.strip())}, {found}", "write x y; x y; …, e.g. 0 0; 0 168; 144 168; 144 0"
            )
            return None
        points.append(pairs[0])
    if len(points) > 1 and points[0] == points[-1]:
        points.pop()
    if repeated := next((i for i, (a, b) in enumerate(pairwise([*points, points[0]]), start=1) if a == b), None):
        fault(f"point {repeated} is there twice in a row", "keep one of the two")
        return None
    if len(points) < 3:
        fault("has fewer than 3 points", "write at least 3 corners, going round the room")
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


def _openings(rows: Iterable[Row], unit: Unit, problems: list[Problem]) -> list[_Found]:
    return [_opening(row, unit, problems) for row in rows]


def _opening(row: Row, unit: Unit, problems: list[Problem]) -> _Found:
    if row.torn:
        return _Found(row, Opening(row["opening"], "", ""), sound=False)
    before = len(problems)
    name = _required(row, "opening", "D1", problems)
    kind = " ".join(row["kind"].casefold().split())
    if kind not in kinds():
        message = f"{quoted(row['kind'])} is no kind of opening" if kind else "is blank"
        problems.append(row.problem("kind", message, choose(kind, kinds())))
    room = _required(row, "room", "Entry Hall", problems)
    other = OUTSIDE if row["other"].casefold() == OUTSIDE else row["other"]
    wall = row["wall"].upper()
    sizes = {column: row.length(column, unit, problems) for column in ("offset", "width", "height", "sill")}
    for column in ("width", "height"):
        if sizes[column] == 0:
            problems.append(row.problem(column, "is zero", "write a length above zero, or leave it blank"))
    if None not in (sizes["sill"], sizes["height"]) and sizes["sill"] >= sizes["height"]:
        message = f"the sill at {row['sill']} is not below the head at {row['height']}"
        problems.append(row.problem("sill", message, "write its height above the floor; height is that of the head"))
    sound = len(problems) == before
    return _Found(row, Opening(name, kind, room, other, wall, **sizes), sound)


def _unique(file: str, column: str, found: list[_Found], problems: list[Problem]) -> list[_Found]:
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


def _with_likely_names(house: House) -> House:
    """The house with each unknown room's name read as the nearest known one, so that one slip is told only once."""
    likely = {}
    for name in {name for o in house.openings for name in (o.room, o.other)} - house.by_name.keys() - {"", OUTSIDE}:
        likely[name] = next(iter(nearest(name, house.by_name, 1)), name)
    openings = (replace(o, room=likely.get(o.room, o.room), other=likely.get(o.other, o.other)) for o in house.openings)
    entries = tuple(
        entry if entry in house.by_name else next(iter(nearest(entry, house.by_name, 1)), entry)
        for entry in house.entries
    )
    kinds_read = (replace(o, kind="door") if o.kind not in kinds() else o for o in openings)
    return replace(house, entries=entries, openings=tuple(kinds_read))


def _wall_is_there(house: House, found: _Found, problems: list[Problem]) -> bool:
    opening = found.what
    room = house.by_name[opening.room]
    if not opening.wall or room.wall(opening.wall):
        return True
    walls = [wall.name for wall in room.walls]
    listed = "N, E, S or W" if room.is_rectangular else f"the number of an edge of its outline, 1 to {len(walls)}"
    message = f"{quoted(room.name)} has no wall {quoted(found.row['wall'])}"
    problems.append(found.row.problem("wall", message, f"write {listed}"))
    return False


def _blanks(house: House, found: Iterable[_Found]) -> list[Problem]:
    """What was filled in for blank cells, one remark for each column."""
    remarks = []
    found = list(found)
    unplaced = [f.what for f in found if f.what.kind != "stair" and near_wall(house, f.what) is None]
    likely = [f.what for f in found if not f.what.wall and f.what.kind != "stair" and f.what not in unplaced]
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
            sizes = ", ".join(f"{kind} {_common(kind, column)}" for kind in dict.fromkeys(o.kind for o in blank))
            message = f"{_counted(blank)} no {column}; common practice is taken: {sizes}"
            remarks.append((column, message, "write what is there"))
    return [Problem(OPENINGS, None, column, message, remedy, "warning") for column, message, remedy in remarks]


def _counted(openings: Sequence[Opening]) -> str:
    listed = ", ".join(quoted(o.name) for o in openings[:6])
    more = f" and {len(openings) - 6} more" if len(openings) > 6 else ""
    return f"{listed}{more} {'has' if len(openings) == 1 else 'have'}"


def _common(kind: str, column: str) -> str:
    size = common_sizes()[kind][column]
    return "to the ceiling" if size is None else f"{size:g} in"
