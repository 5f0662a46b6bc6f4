"""Checks of a house as a whole: outlines that fit together, openings that fit their walls."""

from collections.abc import Iterable, Iterator, Mapping
from itertools import combinations

from shapely import Polygon, STRtree

from planner.files.csv_tables import Row, beyond
from planner.files.problems import Problem, choose
from planner.house.model import OUTSIDE, House, Opening, Room
from planner.house.placements import SIXTEENTH, PlacedOpening, Placements, behind, collide, near_wall
from planner.units import Unit, format_area, format_length, quoted

LOWEST_CEILING, HIGHEST_CEILING = 60.0, 480.0
"""A ceiling below the first [in] is a fault, above the second a doubt; common practice."""

NARROWEST_ROOM, USUAL_ROOM, WIDEST_ROOM = 12.0, 168.0, 2400.0
"""Sides of a room beyond these [in] are a doubt; common practice."""

OVERLAP = 144.0
"""Two outlines on one level may overlap by this much [sq in], a square foot, before it is a fault."""

MOST_BESIDE = 1_000
"""An outline touches no more others than this; a longer corridor goes in parts."""

MOST_ON_WALL = 500
"""A wall has no more openings, or fixtures, than this."""

Rows = Mapping[tuple[str, str], int]
"""The row of a room or an opening, by file and name."""

ROOMS, OPENINGS, STOCK = "rooms.csv", "openings.csv", "stock.csv"


def check_rooms(house: House, rows: Rows) -> Iterator[Problem]:
    """Sizes that no room has, and outlines that overlap."""
    for room in house.rooms:
        yield from _room_sizes(room, rows.get((ROOMS, room.name)), house.unit)
    for level in house.levels:
        rooms = [room for room in house.rooms if room.level == level and room.outline]
        shapes = [Polygon(room.corners) for room in rooms]
        tree = STRtree(shapes)
        for i, shape in enumerate(shapes):
            beside = tree.query(shape, predicate="intersects").tolist()
            if len(beside) > MOST_BESIDE:
                message = f"{quoted(rooms[i].name)} touches more than {MOST_BESIDE} others"
                yield Problem(ROOMS, rows.get((ROOMS, rooms[i].name)), "outline", message, "part the outlines")
                continue
            for j in sorted(other for other in beside if other > i):
                area = shape.intersection(shapes[j]).area
                if area > OVERLAP:
                    message = (
                        f"{quoted(rooms[j].name)} overlaps {quoted(rooms[i].name)} by {format_area(area, house.unit)}"
                    )
                    remedy = f"part the two outlines, or put one room on another level than {quoted(level)}"
                    yield Problem(ROOMS, rows.get((ROOMS, rooms[j].name)), "outline", message, remedy)


def _room_sizes(room: Room, row: int | None, unit: Unit) -> Iterator[Problem]:
    shown = format_length(room.ceiling, unit)
    if room.ceiling < LOWEST_CEILING:
        remedy = f"write its height above the floor, {format_length(LOWEST_CEILING, unit)} or more"
        yield Problem(ROOMS, row, "ceiling", f"a ceiling at {shown} is too low for a room", remedy)
    elif room.ceiling > HIGHEST_CEILING:
        yield Problem(ROOMS, row, "ceiling", f"a ceiling at {shown} is very high", "check it", "warning")
    usual = format_length(USUAL_ROOM, unit)
    for column, length in (("length", room.length), ("width", room.width)):
        shown = format_length(length, unit)
        if length <= SIXTEENTH:
            yield Problem(
                ROOMS, row, column, f"{shown} is no size of a room", f"write a length above zero, e.g. {usual}"
            )
        elif not NARROWEST_ROOM <= length <= WIDEST_ROOM:
            yield Problem(ROOMS, row, column, f"{shown} is unusual for a room", "check it", "warning")
    if room.outline:
        xs, ys = zip(*room.corners, strict=True)
        measured = sorted((max(xs) - min(xs), max(ys) - min(ys)))
        if max(abs(a - b) for a, b in zip(measured, sorted((room.length, room.width)), strict=True)) > 1:
            sides = " x ".join(format_length(side, unit) for side in reversed(measured))
            message = f"the outline measures {sides} over all, not length x width"
            yield Problem(ROOMS, row, "outline", message, "check which is right; the outline is used", "warning")


def no_wall(row: Row, room: Room) -> Problem:
    """A wall that is none of its room's."""
    listed = "N, E, S or W"
    if not room.is_rectangular:
        listed = f"the number of an edge of its outline, 1 to {len(room.walls)}"
    return row.problem("wall", f"{quoted(room.name)} has no wall {quoted(row['wall'])}", f"write {listed}")


def check_openings(house: House, rows: Rows, placed: Placements) -> Iterator[Problem]:
    """Openings that do not fit their wall, the ceiling, each other or the levels that they join."""
    for opening in house.openings:
        row = rows.get((OPENINGS, opening.name))
        yield from _levels(house, opening, row)
        yield from _behind(house, opening, row)
        yield from _under_the_ceiling(house, opening, row)
    told: set[str] = set()
    everywhere = [(room, one) for room in house.rooms for one in placed[room.name]]
    for room, one in sorted(everywhere, key=lambda found: found[1].side == "far"):
        for problem in _on_its_wall(room, one, rows, house.unit):
            if one.opening.name not in told:
                yield problem
            told.add(one.opening.name)
    pairs: set[frozenset[str]] = set()
    for room in house.rooms:
        yield from _collisions(room, placed[room.name], rows, pairs)


def _levels(house: House, opening: Opening, row: int | None) -> Iterator[Problem]:
    other = house.by_name.get(opening.other)
    if other is None:
        return
    level = house.by_name[opening.room].level
    if opening.kind == "stair" and level == other.level:
        message = f"a stair joins {quoted(opening.room)} and {quoted(other.name)}, both on level {quoted(level)}"
        yield Problem(
            OPENINGS, row, "kind", message, 'write "cased opening" or another kind, or mend the level of a room'
        )
    elif opening.kind != "stair" and level != other.level:
        message = f"a {opening.kind} joins level {quoted(level)} and level {quoted(other.level)}"
        yield Problem(OPENINGS, row, "kind", message, 'write "stair" if one goes up or down there', "warning")


def _behind(house: House, opening: Opening, row: int | None) -> Iterator[Problem]:
    """A doubt where the plan shows nothing of the other room at the back of the opening's wall."""
    room, other = house.by_name[opening.room], house.by_name.get(opening.other)
    if not (other and room.outline and other.outline and room.level == other.level):
        return
    wall = near_wall(house, opening)
    if wall is None or not behind(wall, other):
        named = f"wall {opening.wall}" if opening.wall else "any wall"
        message = f"{quoted(other.name)} does not lie behind {named} of {quoted(room.name)}"
        backs = [w.name for w in room.walls if behind(w, other)]
        remedy = f"write wall {' or '.join(backs)}" if backs else "check both outlines"
        yield Problem(OPENINGS, row, "wall", message, remedy, "warning")


def _on_its_wall(room: Room, placed: PlacedOpening, rows: Rows, unit: Unit) -> Iterator[Problem]:
    opening, wall = placed.opening, placed.wall
    row = rows.get((OPENINGS, opening.name))
    named = f"wall {wall.name} of {quoted(room.name)}"
    if placed.width > wall.length + SIXTEENTH:
        message = (
            f"{opening.kind} {quoted(opening.name)} is {format_length(placed.width, unit)} wide, "
            f"{named} only {format_length(wall.length, unit)} long"
        )
        yield Problem(OPENINGS, row, "width", message, "write a smaller width, or a longer wall")
    elif not placed.assumed and (placed.left < -SIXTEENTH or placed.right > wall.length + SIXTEENTH):
        over = max(-placed.left, placed.right - wall.length)
        message = f"{opening.kind} {quoted(opening.name)} stands {format_length(over, unit)} beyond the end of {named}"
        most = format_length(wall.length - placed.width, unit)
        near = f"write an offset from 0 to {most}"
        remedy = near if placed.side == "near" else f"move it so that it comes out in {quoted(room.name)}"
        yield Problem(OPENINGS, row, "offset", message, remedy)


def _under_the_ceiling(house: House, opening: Opening, row: int | None) -> Iterator[Problem]:
    room, other = house.by_name[opening.room], house.by_name.get(opening.other)
    if other and other.level == room.level and other.ceiling < room.ceiling:
        room = other
    if opening.height is not None and opening.height > room.ceiling + SIXTEENTH and room.ceiling >= LOWEST_CEILING:
        shown = format_length(room.ceiling, house.unit)
        message = (
            f"the head of {opening.kind} {quoted(opening.name)} is at {format_length(opening.height, house.unit)}, "
            f"the ceiling of {quoted(room.name)} at {shown}"
        )
        yield Problem(OPENINGS, row, "height", message, f"write {shown} or less")


def _collisions(
    room: Room, openings: Iterable[PlacedOpening], rows: Rows, pairs: set[frozenset[str]]
) -> Iterator[Problem]:
    by_wall: dict[str, list[PlacedOpening]] = {}
    for placed in openings:
        if not placed.assumed:
            by_wall.setdefault(placed.wall.name, []).append(placed)
    for wall, standing in by_wall.items():
        if len(standing) > MOST_ON_WALL:
            row = rows.get((OPENINGS, standing[MOST_ON_WALL].opening.name))
            yield crowded(row, OPENINGS, f"wall {wall} of {quoted(room.name)}", "openings")
            continue
        for a, b in combinations(standing, 2):
            pair = frozenset((a.opening.name, b.opening.name))
            if collide(a, b) and pair not in pairs:
                pairs.add(pair)
                first, second = sorted((a, b), key=lambda p: rows.get((OPENINGS, p.opening.name), 0))
                message = (
                    f"{second.opening.kind} {quoted(second.opening.name)} overlaps "
                    f"{first.opening.kind} {quoted(first.opening.name)} on wall {wall} of {quoted(room.name)}"
                )
                remedy = "write an offset that keeps them apart"
                yield Problem(OPENINGS, rows.get((OPENINGS, second.opening.name)), "offset", message, remedy)


def crowded(row: int | None, file: str, wall: str, things: str) -> Problem:
    """A wall with more things on it than are looked at."""
    message, remedy = beyond(MOST_ON_WALL, things)
    return Problem(file, row, "wall", f"{wall} {message}", remedy)


def check_names(house: House, rows: Rows) -> Iterator[Problem]:
    """Entries and far sides of openings that are no rooms of the house, and openings that lead nowhere new."""
    known = [room.name for room in house.rooms]
    for entry in house.entries:
        if entry not in house.by_name:
            yield Problem("house.toml", None, "entry", f"there is no room {quoted(entry)}", choose(entry, known))
    for opening in house.openings:
        row = rows.get((OPENINGS, opening.name))
        for column, name in (("room", opening.room), ("other", opening.other)):
            if name and name not in house.by_name and (column == "room" or name != OUTSIDE):
                remedy = choose(name, known) if known else "add the room to rooms.csv"
                outside = f', or "{OUTSIDE}"' if column == "other" else ""
                yield Problem(OPENINGS, row, column, f"there is no room {quoted(name)}", remedy + outside)
        if opening.room == opening.other:
            message = f"{quoted(opening.name)} leads from {quoted(opening.room)} to itself"
            yield Problem(OPENINGS, row, "other", message, f'write the room on its far side, or "{OUTSIDE}"')
