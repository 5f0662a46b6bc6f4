"""A room as it is seen from its door, in one-point perspective, from the same walls and profiles as its elevations.

The picture plane lies in the wall that the viewer faces, so that this is drawn as in its elevation: lengths are inches,
the floor at the facing wall is y = 0, and x = 0 is straight ahead.
"""

from collections.abc import Collection, Iterable, Iterator, Sequence
from typing import NamedTuple

from planner.drawings.before_eye import Standing, Step
from planner.drawings.bodies import bodies, runs_behind
from planner.drawings.camera import Camera, line_within, polygon_within
from planner.drawings.furnished import furnished
from planner.drawings.scale import CLOSE
from planner.drawings.scene import Box, Path, Polygon, Ring, Scene, Shape, rectangle
from planner.drawings.sight import Span, seen
from planner.drawings.station import Station, station
from planner.drawings.svg import MARGIN
from planner.house.model import OUTSIDE, Room
from planner.house.placements import size
from planner.mouldings.curves import Line, Point, Segment
from planner.planning.answer import Plan
from planner.units import format_length
from planner.walls.layout import WallLayout

TALLEST = 0.9
"""A picture is no higher than this part of the width of its page."""


def perspective(planned: Plan, room: str, page: float = 700.0) -> Scene:
    """A room as it is seen from its door, in one-point perspective.

    Parameters
    ----------
    planned : a feasible plan.
    room : the room's name.
    page : how wide a page it is for. [px]

    Raises
    ------
    KeyError : the plan has no such room.

    Notes
    -----
    The viewer stands in the main door: the widest way in from the room before it on the walk from the entry, of the
    entry itself from outside; else from the room nearest to the entry that has a way in. See `station` for the rest.

    Examples
    --------
    >>> from planner import demo_house, plan, read_house
    >>> planned = plan(read_house(demo_house())[0])
    >>> perspective(planned, "Library").title
    'Library, as it is seen from Drawing Room'
    """
    walls, here = planned.walls[room], planned.house.by_name[room]
    stairs = [o for o in planned.house.openings_of.get(room, ()) if o.kind == "stair"]
    wide = max(
        [size(o, here.ceiling, planned.library).width for o in stairs],
        default=planned.library.opening_kinds["stair"].width,
    )
    return seen_from_door(here, walls, whence(planned, room), wide, page)


def walls_seen(planned: Plan, room: str) -> tuple[str, ...]:
    """The names of the walls of a room that are seen from its door, the farthest first."""
    here, layouts = planned.house.by_name[room], planned.walls[room]
    walls, _ = _walls(here, layouts, station(here, layouts, whence(planned, room)), 0.0)
    return tuple(one.layout.wall for one in walls)


def whence(planned: Plan, room: str) -> tuple[str, ...]:
    """Where a room is entered from, the nearest to the entry first: the room before it on the walk, or outside."""
    before = planned.before.get(room) or OUTSIDE
    others = sorted(planned.rooms, key=lambda r: (r.depth, r.room.name))
    return tuple(dict.fromkeys((before, *(r.room.name for r in others if r.room.name != room), OUTSIDE, "")))


def seen_from_door(room: Room, layouts: Sequence[WallLayout], before: Sequence[str], wide: float, page: float) -> Scene:
    """As `perspective`, of a room with its walls, in the same order, whence it is entered, and the width of its flights
    of stairs [in]."""
    at = station(room, layouts, before)
    x0, y0, x1, y1 = at.window
    scale = min((page - 2 * MARGIN) / (x1 - x0), (TALLEST * page - 2 * MARGIN) / (y1 - y0))
    walls, behind = _walls(room, layouts, at, CLOSE / scale)
    shapes = tuple(_shapes(walls, behind, at, wide))
    return Scene(shapes, _title(room, at), _told(walls, at), scale, at.window, layouts[0].unit)


class _Seen(NamedTuple):
    """A wall of which something is seen, the slopes between which it is, and where on the picture what stands on it may
    be seen."""

    layout: WallLayout
    view: Standing
    spans: tuple[Span, ...]
    windows: tuple[Box, ...]

    def depth(self, slope: float) -> float:
        """How far ahead the wall is in a direction [in]."""
        a, b = (self.view.place((x, 0.0, 0.0)) for x in (0.0, self.view.wall.length))
        return _met(a[:2], b[:2], slope)

    @property
    def nearest(self) -> float:
        """How far ahead the nearest is that is seen of it [in]."""
        return min(self.depth(slope) for span in self.spans for slope in (span.left, span.right))


def _shapes(walls: Sequence[_Seen], behind: Sequence[_Seen], at: Station, wide: float) -> Iterator[Shape]:
    """Ceiling and floor, then the walls with what stands on them, the farthest first."""
    window, camera = at.window, at.camera
    yield rectangle(*window[:2], window.x1 - window.x0, window.y1 - window.y0, "shade", "paper", line=False)
    yield rectangle(*window[:2], window.x1 - window.x0, camera.height - window.y0, "shade", "mid", line=False)
    for one in walls:
        yield from _wall(one, camera, window, faced=one.layout.wall == at.facing)
    for bent in behind:
        for step in runs_behind(bent.layout, bent.view):
            yield from _drawn(step, bent.view, bent.windows)
    for one in walls:
        for step in bodies(one.layout, one.view):
            yield from _drawn(step, one.view, one.windows)
    for one in walls:
        for step in furnished(one.layout, one.view, wide):
            yield from _drawn(step, one.view, one.windows)
    yield Path((window,), "cut")


def _walls(room: Room, layouts: Sequence[WallLayout], at: Station, close: float) -> tuple[list[_Seen], list[_Seen]]:
    """The walls that are seen, the farthest first, and those that turn their backs beside a corner of one of them."""
    camera, window = at.camera, at.window
    ends = [(camera.place(wall.left, 0.0)[:2], camera.place(wall.right, 0.0)[:2]) for wall in room.walls]
    spans = seen(ends, at.section, window.x0 / camera.distance, window.x1 / camera.distance)
    fronts = dict.fromkeys(span.wall for span in spans)

    def one(number: int, own: Collection[int]) -> _Seen:
        before = [s for s in spans if s.wall in own or _before(ends[number], ends[s.wall])]
        mine = tuple(span for span in spans if span.wall == number)
        view = Standing(room.walls[number], camera, close)
        return _Seen(layouts[number], view, mine, tuple(_windows(before, camera, window)))

    walls = [one(n, {(n - 1) % len(ends), n, (n + 1) % len(ends)}) for n in fronts]
    behind = [
        one(bent, ())
        for n in fronts
        for bent, angle in zip(((n - 1) % len(ends), (n + 1) % len(ends)), layouts[n].corners, strict=True)
        if bent not in fronts and angle is not None and angle > 180.0 and room.walls[bent].length
    ]
    return sorted(walls, key=lambda one: -one.nearest), behind


def _before(points: Sequence[Point], wall: tuple[Point, Point]) -> bool:
    """Whether places lie on the room's side of a wall: what stands there may hide it, and is not hidden by it."""
    (ax, ay), (bx, by) = wall
    return all((bx - ax) * (y - ay) - (by - ay) * (x - ax) < 1e-6 * (abs(bx - ax) + abs(by - ay)) for x, y in points)


def _met(left: Point, right: Point, slope: float) -> float:
    """How far ahead the line through a wall is met in a direction [in]."""
    (ax, ay), (bx, by) = left, right
    return (ax * by - bx * ay) / (slope * (by - ay) - (bx - ax))


def _windows(spans: Iterable[Span], camera: Camera, window: Box) -> Iterator[Box]:
    """The parts of a picture between slopes, those that touch in one."""
    edges: list[Point] = []
    for span in sorted(spans, key=lambda s: s.left):
        if edges and span.left - edges[-1][1] < 1e-9:
            edges[-1] = (edges[-1][0], max(edges[-1][1], span.right))
        else:
            edges.append((span.left, span.right))
    for left, right in edges:
        yield Box(left * camera.distance, window.y0, right * camera.distance, window.y1)


def _wall(one: _Seen, camera: Camera, window: Box, *, faced: bool) -> Iterator[Path]:
    """A bare wall: a plane in a light tone, lightest where it is faced, and the lines round it."""
    for span in one.spans:
        (lx, ld), (rx, rd) = ((slope * one.depth(slope), one.depth(slope)) for slope in (span.left, span.right))
        low, high = -camera.height, one.layout.ceiling - camera.height
        around = ((lx, ld, low), (rx, rd, low), (rx, rd, high), (lx, ld, high))
        corners = polygon_within(around, camera, window)
        if corners:
            yield Path((Ring(corners),), "edge", fill="light" if faced else "wall")


def _drawn(step: Step, view: Standing, windows: Sequence[Box]) -> Iterator[Path]:
    """Faces in paths of one tone as long as they follow one another, then edges in paths of one layer."""
    tone, polygons = "", list[Polygon]()
    for facet in step.facets:
        places = [view.place(spot) for spot in facet.corners]
        for window in windows:
            corners = polygon_within(places, view.camera, window)
            if not corners:
                continue
            if facet.fill != tone and polygons:
                yield Path(tuple(polygons), "shade", fill=tone, line=False)
                polygons = []
            tone = facet.fill
            polygons.append(Ring(corners))
    if polygons:
        yield Path(tuple(polygons), "shade", fill=tone, line=False)
    lines: dict[str, list[Segment]] = {}
    for a, b, layer in step.edges:
        ends = view.place(a), view.place(b)
        for window in windows:
            kept = line_within(ends, view.camera, window)
            if kept is not None:
                lines.setdefault(layer, []).append(Line(*kept))
    yield from (Path(tuple(found), layer) for layer, found in lines.items())


def _title(room: Room, at: Station) -> str:
    if at.door is None:
        return f"{room.name}, as it is seen from its short side"
    outside = at.door.other == OUTSIDE
    return f"{room.name}, as it is seen from {'outside' if outside else at.door.other or at.door.name}"


def _told(walls: Sequence[_Seen], at: Station) -> str:
    """What a perspective shows, in words."""
    there = "; ".join(
        f"wall {one.layout.wall}: {', '.join(a.name for a in one.layout.apertures) or 'no opening'}" for one in walls
    )
    height = format_length(at.camera.height, walls[0].layout.unit) if walls else ""
    return f"One-point perspective, the eye {height} above the floor. To be seen: {there or 'nothing'}."
