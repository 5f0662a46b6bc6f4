"""Flights of stairs before their wall, seen from the open side: steps, string, newel, landings. Lengths in inches."""

from collections.abc import Iterator, Sequence
from math import cos, degrees, hypot, radians, sin

from planner.drawings.scene import Path, Polygon, Ring, Text, polygon, text_width
from planner.mouldings.curves import Line, Point, Segment
from planner.walls.layout import WallLayout
from planner.walls.solids import Solid, within
from planner.walls.stairs import Beside, Landing, landings, nosing, on_wall, underside


def flights_before(layout: WallLayout) -> Iterator[Path]:
    """The flights of a wall: what they hide, the lines of their steps and strings, their newels."""
    if (turn := layout.half_turn) is not None:
        ends = ((0.0, turn.floor), (0.0, turn.under), (layout.length, turn.under), (layout.length, turn.floor))
        yield from _filled(ends, layout, f"landing of {turn.name}")
    for up in layout.stairs:
        for landing in landings(up, layout.stairs, layout.length):
            yield from _filled(landing_corners(up, landing), layout, up.flight.name)
        yield from _filled(open_side(up), layout, up.flight.name)
        lines = _string(up) + _treads(up)
        yield Path(tuple(seen for one in lines if (seen := _within(one, layout)) is not None), "fine")
        yield from _filled(newel_corners(up), layout, f"newel of {up.flight.name}")


def flight_names(layout: WallLayout, size: float) -> Iterator[Text]:
    """The names of the flights of a wall, each along its string; `size` is the height of type [in]."""
    for up in layout.stairs:
        yield from _name(up, layout, size)


def steps(up: Beside) -> list[Point]:
    """The outline of the steps of a flight along it, from the floor before the first riser to the last nosing [in]."""
    flight, tread = up.flight, up.rules.tread
    found: list[Point] = [(0.0, flight.foot)]
    for n in range(1, flight.risers + 1):
        face, top = (n - 1) * flight.run, flight.foot + n * flight.rise
        out = face - tread.nosing
        found += [(face, top - tread.thickness), (out, top - tread.thickness), (out, top), (face + flight.run, top)]
    return found[:-1]


def raked_edges(solid: Solid, edges: Sequence[float], size: float) -> list[Segment]:
    """The edges that show on a moulding that runs up beside a flight.

    Parameters
    ----------
    solid : the skirt or the rail, its upper edge from its first corner to its last.
    edges : heights of its edges above its foot, square to the rake. [in]
    size : its height from its foot to its upper edge. [in]
    """
    (ax, ay), (bx, by) = solid.outline[0], solid.outline[-1]
    long = hypot(bx - ax, by - ay)
    down = ((by - ay) / long, (ax - bx) / long)
    found: list[Segment] = []
    for edge in edges:
        if 0 < edge < size:
            by_ = size - edge
            left, right = (_along_end(solid, at, by_) for at in (0, -1))
            found.append(Line(*((x + down[0] * by_, y + down[1] * by_) for x, y in (left, right))))
    return found


def raked_panel_lines(solid: Solid, raised: bool) -> list[Segment | Polygon]:
    """Sticking round a panel on the rake, and the field and mitres of one that is raised."""
    by = min(2.0, solid.width / 4, solid.height / 4)
    corners = tuple(dict.fromkeys(solid.outline))
    rings = [Ring(_inset(corners, off)) for off in ((0.5, by) if raised else (0.5,))]
    return [*rings, *(map(Line, *(ring.corners for ring in rings)) if raised else ())]


def _inset(corners: Sequence[Point], by: float) -> tuple[Point, ...]:
    """A convex figure inside another, `by` in from its sides [in], corner by corner."""
    found = []
    for (ax, ay), (bx, by_), (cx, cy) in zip(
        [corners[-1], *corners[:-1]], corners, [*corners[1:], corners[0]], strict=True
    ):
        before, after = hypot(bx - ax, by_ - ay), hypot(cx - bx, cy - by_)
        ux, uy, vx, vy = (bx - ax) / before, (by_ - ay) / before, (cx - bx) / after, (cy - by_) / after
        turn = ux * vy - uy * vx
        if abs(turn) > 1e-9:
            found.append((bx + by * (vx - ux) / turn, by_ + by * (vy - uy) / turn))
    return tuple(found)


def _along_end(solid: Solid, at: int, by: float) -> Point:
    """A corner of the upper edge, moved along it as far as the cut of its end moves a line that lies lower [in]."""
    (x, y), (lx, ly) = solid.outline[at], solid.outline[1 if at == 0 else -2]
    (ax, ay), (bx, by_) = solid.outline[0], solid.outline[-1]
    long = hypot(bx - ax, by_ - ay)
    ux, uy = (bx - ax) / long, (by_ - ay) / long
    along, under = (lx - x) * ux + (ly - y) * uy, (lx - x) * uy - (ly - y) * ux
    lean = along / under * by if under > 0 else 0.0
    return x + lean * ux, y + lean * uy


def open_side(up: Beside) -> tuple[Point, ...]:
    """The open side of a flight on its wall: steps above, below it the underside of the string, or the floor as far as
    nobody walks under it."""
    flight, depth = up.flight, up.rules.depth(up.flight)
    end = flight.length + up.rules.tread.thickness
    walk = [*steps(up), (end, flight.foot + flight.height), (end, nosing(flight, end) - depth)]
    thick = up.rules.landing.thick
    if flight.foot > 0:
        first = max(0.0, up.clears(flight.foot - thick))
        walk += [(first, nosing(flight, first) - depth), (0.0, max(flight.foot - thick, nosing(flight, 0.0) - depth))]
    else:
        free = min(max(0.0, up.clears(up.rules.under.headroom)), end)
        walk += [(free, nosing(flight, free) - depth), (free, 0.0)]
    return tuple(on_wall(flight, point) for point in walk)


def _string(up: Beside) -> list[Line]:
    """The lower edge of the open string, where a spandrel goes on below it."""
    flight, depth = up.flight, up.rules.depth(up.flight)
    low = max(0.0, up.clears(flight.foot))
    ends = [(along, nosing(flight, along) - depth) for along in (low, flight.length)]
    return [Line(on_wall(flight, ends[0]), on_wall(flight, ends[1]))]


def _treads(up: Beside) -> list[Line]:
    """The undersides of the treads' nosings."""
    flight, tread = up.flight, up.rules.tread
    found = []
    for n in range(1, flight.risers):
        y, face = flight.foot + n * flight.rise - tread.thickness, (n - 1) * flight.run
        found.append(Line(on_wall(flight, (face, y)), on_wall(flight, (face + flight.run, y))))
    return found


def newel_corners(up: Beside) -> tuple[Point, ...]:
    """The newel before the first riser."""
    flight, post = up.flight, up.rules.newel
    low, high = flight.foot, flight.foot + post.height
    walk = ((-post.side, low), (0.0, low), (0.0, high), (-post.side, high))
    return tuple(on_wall(flight, point) for point in walk)


def landing_corners(up: Beside, landing: Landing) -> tuple[Point, ...]:
    near = up.flight.length if landing.upper else 0.0
    far = landing.far
    if landing.onward is not None:
        far = (landing.onward.flight.offset - up.flight.offset) * (1 if up.flight.up == "right" else -1)
    low = underside(up, landing)
    walk = ((near, landing.floor), (far, landing.floor), (far, low), (near, low))
    return tuple(on_wall(up.flight, point) for point in walk)


def _name(up: Beside, layout: WallLayout, size: float) -> Iterator[Text]:
    """The name of a flight along its string, between the steps and its lower edge."""
    flight, rake = up.flight, radians(up.flight.angle)
    wide = text_width(flight.name, size)
    # The band of the string runs from the feet of the risers down by its width; type sits in its middle.
    plumb = flight.rise + (up.rules.string.width / 2 + 0.35 * size) / cos(rake)
    lowest = max(0.0, up.clears(flight.foot)) + flight.run
    highest = min(flight.length, flight.run * ((layout.ceiling - flight.foot) / flight.rise - 1))
    middle = (lowest + highest) / 2
    if (highest - lowest) / cos(rake) < wide + size:
        return
    x, y = on_wall(flight, (middle, nosing(flight, middle) - plumb))
    if y - wide / 2 * sin(rake) < 0:
        return
    yield Text(x, y, flight.name, size, "middle", degrees(rake) * (1 if flight.up == "right" else -1))


def _filled(corners: Sequence[Point], layout: WallLayout, name: str) -> Iterator[Path]:
    """A figure before the wall that hides what is behind it, as much of it as is on the wall."""
    seen = within(tuple(corners), layout.length, layout.ceiling)
    if seen:
        yield polygon(seen, "edge", "paper", name=name)


def _within(one: Line, layout: WallLayout) -> Segment | None:
    """The part of a line that lies on the wall, None where nothing does."""
    (ax, ay), (bx, by) = one.start, one.end
    low, high = 0.0, 1.0
    for start, by_, least, most in ((ax, bx - ax, 0.0, layout.length), (ay, by - ay, 0.0, layout.ceiling)):
        if by_ == 0:
            if not least <= start <= most:
                return None
            continue
        ends = sorted(((least - start) / by_, (most - start) / by_))
        low, high = max(low, ends[0]), min(high, ends[1])
    if high <= low:
        return None
    return Line((ax + low * (bx - ax), ay + low * (by - ay)), (ax + high * (bx - ax), ay + high * (by - ay)))
