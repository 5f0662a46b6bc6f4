"""What stands on a wall, seen from the room: flat shapes with a projection. All lengths are inches."""

from collections.abc import Iterable
from math import hypot
from operator import attrgetter
from typing import NamedTuple

from planner.walls.parts import Part, Side, called

Point = tuple[float, float]

TOUCH = 1 / 64
"""Solids that share less than this in either direction only touch [in]."""


class Solid(NamedTuple):
    """One piece of trim on the plane of a wall.

    Parameters
    ----------
    part : what it is.
    element : the element of the package that it belongs to, as in library/elements.toml.
    x0, x1 : its ends from the wall's left end, seen from inside the room. [in]
    y0, y1 : its lower and upper edge above the floor. [in]
    projection : how far its face stands off the wall. [in]
    side : on which side of its opening it stands.
    form : what its form calls it, where it has a name of its own there ("cornice", "beaded boards").
    outline : its corners where it is no rectangle; a casing's begin outer, inner, inner, outer. [in]
    on : the element that it is fixed upon, empty for the wall itself.
    opening : the opening that it belongs to, empty for what runs along the wall.
    behind : how much of its width is let in behind its neighbour. [in]
    decorated : whether its face is carved or turned.
    """

    part: Part
    element: str
    x0: float
    x1: float
    y0: float
    y1: float
    projection: float
    side: Side = Side.NONE
    form: str = ""
    outline: tuple[Point, ...] = ()
    on: str = ""
    opening: str = ""
    behind: float = 0.0
    decorated: bool = False

    @property
    def name(self) -> str:
        """What a person reads for it."""
        return called(self.part, self.side, self.form, self.element)

    @property
    def corners(self) -> tuple[Point, ...]:
        """Its corners [in], counter-clockwise."""
        if self.outline:
            return self.outline
        return ((self.x0, self.y0), (self.x1, self.y0), (self.x1, self.y1), (self.x0, self.y1))

    @property
    def width(self) -> float:
        """Width along the wall [in]."""
        return self.x1 - self.x0

    @property
    def height(self) -> float:
        """Height [in]."""
        return self.y1 - self.y0

    def shaped(self, outline: tuple[Point, ...]) -> "Solid":
        """The same piece with other corners [in]."""
        xs, ys = zip(*outline, strict=True)
        return self._replace(x0=min(xs), x1=max(xs), y0=min(ys), y1=max(ys), outline=outline)


def polygon(
    part: Part,
    element: str,
    outline: tuple[Point, ...],
    projection: float = 0.0,
    side: Side = Side.NONE,
    opening: str = "",
    behind: float = 0.0,
) -> Solid:
    """A solid from its corners [in]."""
    xs, ys = zip(*outline, strict=True)
    edges = (min(xs), max(xs), min(ys), max(ys))
    return Solid(part, element, *edges, projection, side, outline=outline, opening=opening, behind=behind)


def clipped(solid: Solid, length: float, height: float) -> Solid | None:
    """The part of a solid that lies on a wall of that length and height [in], None where nothing is left."""
    if solid.x0 >= 0.0 and solid.x1 <= length and solid.y0 >= 0.0 and solid.y1 <= height:
        return solid
    x0, x1, y0, y1 = max(solid.x0, 0.0), min(solid.x1, length), max(solid.y0, 0.0), min(solid.y1, height)
    if x1 - x0 <= TOUCH or y1 - y0 <= TOUCH:
        return None
    if not solid.outline:
        return solid._replace(x0=x0, x1=x1, y0=y0, y1=y1)
    outline = within(solid.outline, length, height)
    return solid.shaped(outline) if outline else None


def within(outline: tuple[Point, ...], length: float, height: float) -> tuple[Point, ...]:
    """The part of a convex figure that lies on a wall of that length and height [in], empty where nothing is left."""
    for axis, bound, keep in ((0, 0.0, 1), (0, length, -1), (1, 0.0, 1), (1, height, -1)):
        outline = _cut(outline, axis, bound, keep)
        if len(outline) < 3:
            return ()
    return outline


def overlaps(solids: Iterable[Solid]) -> list[tuple[Solid, Solid]]:
    """Pairs of solids fixed on one ground that take the same place by more than a touch."""
    found = []
    active: list[Solid] = []
    for solid in sorted(solids, key=attrgetter("x0")):
        x0, y0, y1, on = solid.x0, solid.y0, solid.y1, solid.on
        active = [a for a in active if a.x1 - x0 > TOUCH]
        found += [(a, solid) for a in active if a.y0 < y1 and y0 < a.y1 and a.on == on and _meet(a, solid)]
        active.append(solid)
    return found


def gaps(start: float, end: float, taken: Iterable[tuple[float, float]]) -> list[tuple[float, float]]:
    """What is left of a stretch once the spans that are taken are out of it.

    >>> gaps(0, 100, [(20, 30), (25, 40)])
    [(0, 20), (40, 100)]
    """
    left, reach = [], start
    for x0, x1 in sorted(taken):
        if x0 - reach > TOUCH:
            left.append((reach, min(x0, end)))
        reach = max(reach, x1)
        if reach >= end:
            break
    if end - reach > TOUCH:
        left.append((reach, end))
    return left


def _meet(a: Solid, b: Solid) -> bool:
    """Whether two solids, both convex, share a place: no line along a side of either parts them but for a touch."""
    if min(a.x1, b.x1) - max(a.x0, b.x0) <= TOUCH or min(a.y1, b.y1) - max(a.y0, b.y0) <= TOUCH:
        return False
    for one, other in ((a, b), (b, a)):
        outline = one.outline
        for (px, py), (qx, qy) in zip(outline, outline[1:] + outline[:1], strict=True):
            dx, dy = qx - px, qy - py
            if dx == 0 or dy == 0:
                continue  # level and plumb sides are told apart by the boxes
            deepest = max([dx * (y - py) - dy * (x - px) for x, y in other.corners])
            if deepest <= TOUCH * hypot(dx, dy):
                return False
    return True


def _cut(outline: tuple[Point, ...], axis: int, bound: float, keep: int) -> tuple[Point, ...]:
    """Corners of a convex polygon on one side of a line square to an axis; keep +1 for what is above the bound.

    A corner that is cut off gives way to what the cut leaves of its sides, so that corners keep their order.
    """
    kept: list[Point] = []
    for p, q in zip(outline, outline[1:] + outline[:1], strict=True):
        inside, next_inside = (p[axis] - bound) * keep >= 0, (q[axis] - bound) * keep >= 0
        if inside:
            kept.append(p)
        if inside != next_inside:
            t = (bound - p[axis]) / (q[axis] - p[axis])
            kept.append((p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])))
    first, second = ((p[axis] - bound) * keep < 0 for p in outline[:2])
    return tuple(kept[-1:] + kept[:-1] if first and second else kept)
