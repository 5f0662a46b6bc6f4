"""What stands on a wall, seen from the room: flat shapes with a projection. All lengths are inches."""

from collections.abc import Iterable
from math import hypot
from typing import NamedTuple

Point = tuple[float, float]

TOUCH = 1 / 64
"""Solids that share less than this in either direction only touch [in]."""


class Solid(NamedTuple):
    """One piece of trim on the plane of a wall.

    Parameters
    ----------
    name : what it is, e.g. "left leg" or "panel 3".
    element : its kind, as in library/elements.toml, or a part of one ("stile", "panel", "frieze").
    x0, x1 : its ends from the wall's left end, seen from inside the room. [in]
    y0, y1 : its lower and upper edge above the floor. [in]
    projection : how far its face stands off the wall. [in]
    outline : its corners where it is no rectangle. [in]
    on : the solid or element that it is fixed upon, empty for the wall itself.
    opening : the opening that it belongs to, empty for what runs along the wall.
    """

    name: str
    element: str
    x0: float
    x1: float
    y0: float
    y1: float
    projection: float
    outline: tuple[Point, ...] = ()
    on: str = ""
    opening: str = ""

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


def polygon(name: str, element: str, outline: tuple[Point, ...], projection: float, opening: str = "") -> Solid:
    """A solid that is no rectangle, from its corners [in]."""
    xs, ys = zip(*outline, strict=True)
    return Solid(name, element, min(xs), max(xs), min(ys), max(ys), projection, outline, opening=opening)


def clipped(solid: Solid, length: float, height: float) -> Solid | None:
    """The part of a solid that lies on a wall of that length and height [in], None where nothing is left."""
    x0, x1, y0, y1 = max(solid.x0, 0.0), min(solid.x1, length), max(solid.y0, 0.0), min(solid.y1, height)
    if (x0, x1, y0, y1) == solid[2:6]:
        return solid
    if x1 - x0 <= TOUCH or y1 - y0 <= TOUCH:
        return None
    if not solid.outline:
        return solid._replace(x0=x0, x1=x1, y0=y0, y1=y1)
    outline = solid.outline
    for axis, bound, keep in ((0, 0.0, 1), (0, length, -1), (1, 0.0, 1), (1, height, -1)):
        outline = _cut(outline, axis, bound, keep)
        if len(outline) < 3:
            return None
    return polygon(solid.name, solid.element, outline, solid.projection, solid.opening)._replace(on=solid.on)


def overlaps(solids: Iterable[Solid]) -> list[tuple[Solid, Solid]]:
    """Pairs of solids fixed on one ground that take the same place by more than a touch."""
    found = []
    active: list[Solid] = []
    for solid in sorted(solids, key=lambda s: s.x0):
        active = [a for a in active if a.x1 - solid.x0 > TOUCH]
        found += [(a, solid) for a in active if a.on == solid.on and _meet(a, solid)]
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
            deepest = max(dx * (y - py) - dy * (x - px) for x, y in other.corners)
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
