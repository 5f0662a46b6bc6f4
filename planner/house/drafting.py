"""What is done to a house on the drawing board: each gesture as a step from one sketch to the next, with the words for
it. Lengths in inches.

Every step raises ValueError, with words for the one who draws, where it cannot be done.
"""

from collections.abc import Iterable
from dataclasses import replace
from math import floor
from typing import NamedTuple

from planner.files.names import free_name
from planner.house.editing import TABLES
from planner.house.faults import OPENINGS, ROOMS
from planner.house.importing import text_grid, understood
from planner.house.model import OUTSIDE, House, Opening, Point, Room, Wall
from planner.house.placements import PlacedOpening, placements, size
from planner.house.placing import (
    Box,
    NoPlace,
    box,
    free_code,
    free_place,
    grid,
    on_grid,
    resized,
    room_beyond,
    snapped,
    standing,
    tidy,
)
from planner.house.sketch import (
    Cells,
    Drawn,
    Sketch,
    form,
    has_ceiling,
    inches,
    outline,
    outline_cells,
    sides,
    unit_of,
    with_cell,
    with_level,
    with_row,
    with_unit,
)
from planner.library import Library
from planner.units import METRIC, Unit, counted, format_length, parse_length, spell_length

CODES = {"window": "W", "fireplace": "F", "stair": "S", "cased opening": "C", "open": "C"}
"""The letters that codes of openings begin with; that of any other kind is D."""

CEILINGS = {False: "9'", True: "2700 mm"}
"""What a first level is given, imperial and metric; common practice."""

NARROWEST = 24.0
"""Where rooms share less wall than an opening is wide it is made narrower, never than this [in]: common practice."""

FRONT = 72.0
"""So much ground before the entry is kept free of new rooms [in]; common practice."""

Step = tuple[Sketch, str]
"""The sketch after a gesture, and what was done, in words."""


class Placed(NamedTuple):
    """Where an opening stands: the room behind the wall there, the distance from the wall's left end to its left jamb,
    and its width where that is not the common one [in]."""

    beyond: Room | None
    offset: float
    width: float | None


# Rooms


def add_room(sketch: Sketch, use: str, level: str, beside: int | None, library: Library) -> Step:
    """A room of a use, of the usual size, against another.

    Parameters
    ----------
    level : on which it stands.
    beside : the row of the room against which it is put, if there is place; None for any.
    """
    unit, usual = unit_of(sketch), library.room_size(use)
    name = free_name(_capital(use), sketch.room_names)
    sketch = _begun(sketch, level, beside)
    rooms = sorted(_on_level(sketch, level), key=lambda one: (one.at != beside, -one.at))
    length, width = on_grid(usual.length, unit), on_grid(usual.width, unit)
    place = free_place(
        length, width, [box(one.room.corners) for one in rooms] or _corner(sketch), _front(sketch, level)
    )
    cells = {"room": name, "level": level, "use": use, **outline_cells(_tidied(place, unit), unit)}
    return _with_ceiling(with_row(sketch, ROOMS, cells), level), f"{name} added"


def move_room(sketch: Sketch, at: int, by: Point, is_dragged: bool) -> Step:
    """A room elsewhere on its level: dragged, it snaps to its neighbours from a step of the grid away."""
    one, others, unit = _the_room(sketch, at), _others(sketch, at), unit_of(sketch)
    corners = [(x + by[0], y + by[1]) for x, y in one.outline]
    reach = grid(unit) * (1.0 if is_dragged else 0.5)
    return _put(sketch, at, snapped(corners, others, unit, reach)), f"{one.name} moved"


def resize_room(sketch: Sketch, at: int, handle: str, by: Point, is_dragged: bool) -> Step:
    """A rectangle with other sides; what stands in its walls stays where it is."""
    one, others, unit = _the_room(sketch, at), _others(sketch, at), unit_of(sketch)
    if not one.is_rectangular:
        raise ValueError(f"{one.name} has more corners than four: its outline is changed in the table of rooms")
    reach = grid(unit) * (1.0 if is_dragged else 0.5)
    made = resized(box(one.outline), handle, by, others, unit, reach)
    sizes = " x ".join(format_length(side, unit) for side in (made.east - made.west, made.north - made.south))
    kept = _with_openings_kept(sketch, one, replace(one, outline=made.corners), unit)
    return _put(kept, at, made.corners), f"{one.name} is {sizes} now"


def place_room(sketch: Sketch, at: int, column: str, text: str) -> Step:
    """A room of which "from_west" or "from_south" was typed: how far its south-west corner lies from the origin."""
    one, unit, text = _the_room(sketch, at), unit_of(sketch), text.strip()
    far = -parse_length(text[1:], unit) if text.startswith("-") else parse_length(text, unit)
    now = box(one.outline)
    dx, dy = (far - now.west, 0.0) if column == "from_west" else (0.0, far - now.south)
    return _put(sketch, at, [(tidy(x + dx, unit), tidy(y + dy, unit)) for x, y in one.outline]), f"{one.name} placed"


def _begun(sketch: Sketch, level: str, beside: int | None) -> Sketch:
    """The sketch with one room of a level in its place to begin from, where none is."""
    drawn = [one for one in sketch.drawn.values() if one.room.level == level]
    if not drawn or any(one.placed for one in drawn):
        return sketch
    return _fixed(sketch, next((one.at for one in drawn if one.at == beside), drawn[0].at))


def _fixed(sketch: Sketch, at: int) -> Sketch:
    """The sketch with a room in the place where it is drawn."""
    return _put(sketch, at, _the_room(sketch, at).outline)


def _on_level(sketch: Sketch, level: str, but: int = -1) -> list[Drawn]:
    """The rooms of a level that have a place, without that of one row."""
    return [one for one in sketch.drawn.values() if one.placed and one.room.level == level and one.at != but]


def _put(sketch: Sketch, at: int, corners: Iterable[Point]) -> Sketch:
    """The sketch with an outline in a row of rooms; cells that mean what they did keep their spelling."""
    corners, unit = tuple(corners), unit_of(sketch)
    rows = list(sketch.rooms)
    if outline(rows[at], unit) != corners:
        cells, before = outline_cells(corners, unit), sides(rows[at], unit)
        extent = box(corners)
        same = before == (extent.east - extent.west, extent.north - extent.south) and rows[at]["length"]
        rows[at] = {**rows[at], **cells} if not same else {**rows[at], "outline": cells["outline"]}
    return sketch.with_rows(ROOMS, rows)


def _tidied(place: Box, unit: Unit) -> list[Point]:
    return [(tidy(x, unit), tidy(y, unit)) for x, y in place.corners]


def _the_room(sketch: Sketch, at: int) -> Room:
    if at not in sketch.drawn:
        raise ValueError("this room has no size yet: write its length and width first")
    return sketch.drawn[at].room


def _others(sketch: Sketch, at: int) -> list[tuple[Point, ...]]:
    """The outlines of the other rooms on a room's level."""
    return [one.room.outline for one in _on_level(sketch, sketch.rooms[at]["level"], at)]


def _front(sketch: Sketch, level: str) -> Box | None:
    """The ground before the room where guests arrive, south of it, where they come from."""
    entry = next(iter(form(sketch).entries), "")
    drawn = next((one.room for one in _on_level(sketch, level) if one.room.name == entry), None)
    if drawn is None:
        return None
    extent = box(drawn.corners)
    return extent._replace(south=extent.south - FRONT, north=extent.south)


def _corner(sketch: Sketch) -> list[Box]:
    """What the first room of a level is put against: nothing but the south-west corner of the other levels."""
    boxes = [box(one.room.corners) for one in sketch.drawn.values() if one.placed]
    if not boxes:
        return []
    west, south = min(b.west for b in boxes), min(b.south for b in boxes)
    return [Box(west, south, west, south)]


def with_ceilings(sketch: Sketch) -> Sketch:
    """The sketch with a ceiling for every level on which a room has none of its own."""
    for level in dict.fromkeys(row["level"] for row in sketch.rooms if row["room"] and not row["ceiling"]):
        sketch = _with_ceiling(sketch, level) if level else sketch
    return sketch


def _with_ceiling(sketch: Sketch, level: str) -> Sketch:
    """The sketch with a ceiling for a level that has none of its own: that of its rooms, else of another level."""
    if has_ceiling(sketch, level):
        return sketch
    levels = form(sketch).levels
    known = [ceiling for ceiling in (levels.get(level), *levels.values()) if ceiling]
    return with_level(sketch, level, known[0] if known else CEILINGS[unit_of(sketch) in METRIC])


def _with_openings_kept(sketch: Sketch, before: Room, now: Room, unit: Unit) -> Sketch:
    """The sketch with the offsets of a room's openings as its walls' left ends move along them."""
    shifts = {wall.name: _along(before.wall(wall.name), wall.left) for wall in now.walls}
    rows = []
    for row in sketch.rows(OPENINGS):
        shift, offset = shifts.get(row["wall"].upper(), 0.0), inches(row["offset"], unit)
        if row["room"] == now.name and offset is not None and shift:
            row = {**row, "offset": spell_length(max(0.0, tidy(offset - shift, unit)), unit)}
        rows.append(row)
    return sketch.with_rows(OPENINGS, rows)


def _along(before: Wall | None, point: Point) -> float:
    """How far a point lies along a wall as it was, from its left end there; 0 where the wall was not there [in]."""
    if before is None or not before.length:
        return 0.0
    (x, y), (rx, ry) = before.left, before.right
    return ((point[0] - x) * (rx - x) + (point[1] - y) * (ry - y)) / before.length


# Openings


def called(kind: str) -> str:
    """A kind of opening as it is named in a sentence.

    >>> called("door"), called("open")
    ('a door', 'an open passage')
    """
    return "an open passage" if kind == "open" else f"a {kind}"


def put_opening(
    sketch: Sketch, at: int, wall_name: str, along: float | None, kind: str, house: House, library: Library
) -> Step:
    """An opening of a kind on a wall of a room, into the room behind it there; outside where there is none.

    Parameters
    ----------
    at, wall_name : the row of the room, and its wall.
    along : from the wall's left end, seen from inside [in]; None puts it in the middle of what there is.
    house : the sketch as far as it is sound, for what stands in its walls.
    """
    sketch = _fixed(sketch, at)
    room, unit = _the_room(sketch, at), unit_of(sketch)
    wall = room.wall(wall_name)
    if wall is None:
        raise ValueError(f"{room.name} has no wall {wall_name}")
    rooms = [one.room for one in _on_level(sketch, room.level, at)]
    if kind == "stair":
        other = _up_or_down(sketch, room)
        place = None if along is None else _stands(wall, along, kind, room, [], house, library)
    else:
        along = _middle(wall, rooms) if along is None else along
        place = _stands(wall, along, kind, room, [] if kind == "fireplace" else rooms, house, library)
        beyond = place.beyond.name if place.beyond else OUTSIDE
        if kind == "window" and place.beyond:
            raise ValueError(f"a window looks outside, and {beyond} is behind wall {wall.name} of {room.name} there")
        other = "" if kind == "fireplace" else OUTSIDE if kind == "window" else beyond
    name = free_code(CODES.get(kind, "D"), (row["opening"] for row in sketch.rows(OPENINGS)))
    cells = {"opening": name, "kind": kind, "room": room.name, "other": other, "wall": wall.name}
    if place:
        cells["offset"] = spell_length(tidy(place.offset, unit), unit)
        cells["width"] = "" if place.width is None else spell_length(tidy(place.width, unit), unit)
    into = f" to {other}" if other else ""
    return with_row(sketch, OPENINGS, cells), f"{name}, {called(kind)}{into}, put on wall {wall.name} of {room.name}"


def leads_to(sketch: Sketch, at: int) -> dict[str, str]:
    """What is behind each wall of a room, in words, at its middle or where most of it is shared."""
    room = _the_room(sketch, at)
    rooms = [one.room for one in _on_level(sketch, room.level, at)]
    found = {}
    for wall in room.walls:
        beyond, _, _ = room_beyond(wall, _middle(wall, rooms), rooms)
        found[wall.name] = beyond.name if beyond else OUTSIDE
    return found


def _stands(
    wall: Wall, along: float, kind: str, room: Room, rooms: list[Room], house: House, library: Library
) -> Placed:
    """Where an opening of the common width stands, or of the whole stretch where that is somewhat narrower."""
    common = size(Opening("", kind, room.name), float("inf"), library).width
    beyond, start, end = room_beyond(wall, along, rooms)
    width = min(common, floor(end - start))
    shared = f"what {room.name} and {beyond.name} share of wall {wall.name}" if beyond else f"wall {wall.name}"
    if width < min(common, NARROWEST):
        here = format_length(end - start, house.unit)
        raise ValueError(f"{shared} is {here} long; {called(kind)} is {format_length(common, house.unit)} wide")
    try:
        place = standing(wall, along, width, rooms, _taken(wall, room, house, library), house.unit)
    except NoPlace:
        free = f"{shared} has no {format_length(width, house.unit)} free for {called(kind)}"
        raise ValueError(f"{free}; move what stands there first") from None
    return Placed(place.beyond, place.offset, None if width == common else float(width))


def _taken(wall: Wall, room: Room, house: House, library: Library) -> list[PlacedOpening]:
    """What stands on a wall already, from whichever side."""
    if room.name not in house.by_name:
        return []
    return [one for one in placements(house, library)[room.name] if one.wall.name == wall.name and not one.assumed]


def _middle(wall: Wall, rooms: list[Room]) -> float:
    """The middle of the longest stretch that a wall shares with another room; its own where it shares none."""
    points = [wall.length * part / 16 for part in range(1, 16)]
    shared = {(start, end) for beyond, start, end in (room_beyond(wall, p, rooms) for p in points) if beyond}
    start, end = max(shared, key=lambda one: one[1] - one[0], default=(0.0, wall.length))
    return (start + end) / 2


def _up_or_down(sketch: Sketch, room: Room) -> str:
    """The room over or under another in which a stair comes out: that which covers most of it, halls before others."""
    levels = list(dict.fromkeys([*(row["level"] for row in sketch.rooms), *form(sketch).levels]))
    here = levels.index(room.level)
    for level in (*levels[here + 1 : here + 2], *levels[:here][::-1], *levels[here + 2 :]):
        rooms = [one.room for one in sketch.drawn.values() if one.room.level == level and one.room.name]
        if rooms:
            mine = box(room.corners)
            return max(rooms, key=lambda one: ("hall" in one.use, _common_floor(box(one.corners), mine))).name
    raise ValueError("a stair joins two levels: add a level and a room on it first")


def _common_floor(one: Box, other: Box) -> float:
    wide = min(one.east, other.east) - max(one.west, other.west)
    deep = min(one.north, other.north) - max(one.south, other.south)
    return max(wide, 0.0) * max(deep, 0.0)


# Tables


def pasted(sketch: Sketch, file: str, at: int, column: str, text: str) -> Step:
    """Cells copied in a spreadsheet, put into a table from a cell on; with a header, each under its own column, in new
    rows.

    Parameters
    ----------
    at, column : the cell in which they begin; the row after the last begins new rows.
    """
    grid = text_grid(text, "\t")
    if not grid:
        raise ValueError("there is nothing to paste: copy some cells first")
    known = understood(grid, file)
    if known.is_sure:
        return with_rows_added(sketch, file, known.rows), f"{counted(len(known.rows), 'row')} pasted into {file}"
    columns = TABLES[file][TABLES[file].index(column) :]
    if len(grid[0]) > len(columns):
        raise ValueError(f"{len(grid[0])} columns were copied, and only {len(columns)} begin at {column}")
    made, rows = sketch, sketch.rows(file)
    at = min(at, len(rows))
    missing = max(0, at + len(grid) - len(rows))
    made = made.with_rows(file, (*rows, *(dict.fromkeys(TABLES[file], "") for _ in range(missing))))
    for down, cells in enumerate(grid):
        for name, cell in zip(columns, cells, strict=False):
            made = with_cell(made, file, at + down, name, cell)
    return made, f"{counted(len(grid), 'row')} pasted into {file}"


def with_rows_added(sketch: Sketch, file: str, rows: Iterable[Cells], instead: bool = False) -> Sketch:
    """The sketch with rows added to a table, or in the place of its own; rooms without a level are on the first."""
    first = next(iter(form(sketch).levels), "")
    made = [{**row, "level": row["level"] or first} if file == ROOMS else dict(row) for row in rows]
    return with_ceilings(sketch.with_rows(file, made if instead else (*sketch.rows(file), *made)))


# The whole


def change_unit(sketch: Sketch, unit: Unit, library: Library) -> Step:
    """Another unit for the house; one that is as it was begun begins with round sizes in it."""
    made, was = with_unit(sketch, unit), unit_of(sketch)
    if len(sketch.rooms) == 1 and not sketch.rows(OPENINGS) and (unit in METRIC) != (was in METRIC):
        usual = library.room_size(sketch.rooms[0]["use"])
        place = free_place(on_grid(usual.length, unit), on_grid(usual.width, unit), [])
        made = with_level(_put(made, 0, place.corners), made.rooms[0]["level"], CEILINGS[unit in METRIC])
    return made, f"the unit is {unit} now"


def removed(sketch: Sketch, file: str, at: int, made: Sketch) -> str:
    """What was removed with a row, in words."""
    name = next(iter(sketch.rows(file)[at].values()))
    gone = len(sketch.rows(OPENINGS)) - len(made.rows(OPENINGS)) if file == ROOMS else 0
    return f"{name or 'a row'} removed" + (f", and {counted(gone, 'opening')} with it" if gone else "")


def _capital(use: str) -> str:
    """A use as the name of a room.

    >>> _capital("butler's pantry"), _capital("guest bedroom")
    ("Butler's Pantry", 'Guest Bedroom')
    """
    return " ".join(word[:1].upper() + word[1:] for word in use.split())
