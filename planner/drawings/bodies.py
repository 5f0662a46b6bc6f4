"""What stands on a wall as bodies before the viewer: trim, openings, fixtures. Lengths in inches.

Running mouldings and what crowns an opening are drawn by their profiles. Anything else is its outline, as thick as it
stands off the wall, with the edges of its face upon it. Doors, windows and hearths lie in the plane of the wall.
"""

from collections.abc import Iterator, Sequence
from itertools import groupby
from math import floor

from planner.drawings.before_eye import Edge, Facet, Spot, Standing, Step, lifted, outline
from planner.drawings.joinery import opening_lines, opening_shade
from planner.drawings.relief import edges, seen_outline
from planner.drawings.scene import Box, Polygon, Ring, sides
from planner.drawings.swept import swept
from planner.mouldings.curves import Line, Point, Segment
from planner.walls.layout import WallLayout
from planner.walls.openings import UNCASED, Surround
from planner.walls.parts import CROWNING, RUNS
from planner.walls.solids import Solid

SEEN = 0.1
"""What is narrower than this part of the least distance of two lines is not drawn."""

LEVELS = 4.0
"""So many levels to an inch are told apart by how far they stand off the wall."""


def runs_behind(layout: WallLayout, view: Standing) -> Iterator[Step]:
    """The mouldings along a wall that turns its back: they stand out past the corner that hides it."""
    for s in sorted((s for s in layout.solids if s.part in RUNS), key=_level):
        yield swept(s, layout, view)


def bodies(layout: WallLayout, view: Standing) -> Iterator[Step]:
    """Openings and trim of a wall, what stands farther off it upon what does less; what is too narrow to be seen is
    left out."""
    for around in layout.surrounds:
        yield _opening(around, view)
    large = (s for s in layout.solids if s.width >= SEEN * view.close)
    for _, solids in groupby(sorted(large, key=_level), key=_level):
        level = [_body(s, layout, view) for s in solids]
        yield Step([f for (hind, _), _ in level for f in hind], [e for _, (hind, _) in level for e in hind])
        yield Step([f for (_, fore), _ in level for f in fore], [e for _, (_, fore) in level for e in fore])


def solid_body(
    corners: Sequence[Point], hind: float, off: float, view: Standing, lines: Sequence[Line] = ()
) -> Iterator[Step]:
    """What reaches from one distance off the wall to another [in], face by face, with lines on the foremost."""
    around = against_the_clock(corners)
    for facet in _thickness(around, hind, off, view):
        yield Step([facet], outline(facet.corners, "edge"))
    front = lifted(around, off)
    if view.looks(*front[:3]):
        yield Step(
            [Facet(front, "paper")], [*outline(front, "edge"), *(Edge((*a, off), (*b, off), "fine") for a, b in lines)]
        )


def _level(s: Solid) -> int:
    """Which solids are drawn upon which: those that stand out farther upon those that do less."""
    return floor(LEVELS * s.projection + 0.01)


def _opening(around: Surround, view: Standing) -> Step:
    """An opening and what hangs in it, in the plane of the wall."""
    a = around.aperture
    beyond = "mid" if a.kind in (*UNCASED, "cased opening") else "paper"
    facets = [
        Facet(lifted(polygon.corners, 0.0), beyond if path.fill == "light" else path.fill or "paper")
        for path in opening_shade(around)
        for polygon in path.segments
        if isinstance(polygon, Box | Ring)
    ]
    lines = [e for box in opening_lines(around) for e in _drawn(box, 0.0, "fine", Box(a.x0, a.y0, a.x1, a.y1), view)]
    return Step(facets, [*lines, *outline(lifted(Box(a.x0, a.y0, a.x1, a.y1).corners, 0.0), "edge")])


Parted = tuple[tuple[list[Facet], list[Facet]], tuple[list[Edge], list[Edge]]]
"""The faces of a body that lie behind others of its level and those before them, and their edges."""


def _body(s: Solid, layout: WallLayout, view: Standing) -> Parted:
    """A piece of trim as it is seen."""
    if s.part in RUNS or s.part in CROWNING:
        moulding = swept(s, layout, view)
        return ([], moulding.facets), ([], moulding.edges)
    corners = against_the_clock(seen_outline(s, layout).corners)
    front, weight = lifted(corners, s.projection), "fine" if s.element == "wainscot" else "edge"
    hind = _thickness(corners, 0.0, s.projection, view)
    back = _edges_of(hind, view)
    if not view.looks(*front[:3]):
        return (hind, []), (back, [])
    whole = Box(s.x0, s.y0, s.x1, s.y1)
    inner = [
        e
        for one in edges(s, layout, seen_outline(s, layout).corners, view.close)
        for e in _drawn(one, s.projection, "fine", whole, view)
    ]
    return (hind, [Facet(front, "paper")]), (back, [*inner, *outline(front, weight)])


def _thickness(corners: Sequence[Point], hind: float, off: float, view: Standing) -> list[Facet]:
    """The sides of a body between two distances off the wall [in] that look at the viewer, the farthest first."""
    found = []
    for (ax, ay), (bx, by) in zip(corners, [*corners[1:], corners[0]], strict=True):
        a, b, c, d = (ax, ay, hind), (bx, by, hind), (bx, by, off), (ax, ay, off)
        if off > hind and view.looks(a, b, c):
            far = abs((ax + bx) / 2 - view.eye[0]) + abs((ay + by) / 2 - view.eye[1])
            found.append((far, Facet((a, b, c, d), "paper" if bx < ax and ay == by else "mid")))
    return [facet for _, facet in sorted(found, key=lambda side: -side[0])]


def _edges_of(sides_: Sequence[Facet], view: Standing) -> list[Edge]:
    """The edges of the sides of a body where they read apart from those of its face."""
    found = []
    for (a, b, c, d), _ in sides_:
        if view.apart(a, d) or view.apart(b, c):
            found += [Edge(p, q, "fine") for p, q in ((a, b), (b, c), (d, a))]
    return found


def against_the_clock(corners: Sequence[Point]) -> tuple[Point, ...]:
    """The corners of a figure on the wall in the order in which they run against the clock."""
    pairs = zip(corners, [*corners[1:], corners[0]], strict=True)
    twice = sum(ax * by - bx * ay for (ax, ay), (bx, by) in pairs)
    return tuple(corners) if twice > 0 else tuple(reversed(corners))


def _drawn(one: Segment | Polygon, off: float, layer: str, whole: Box, view: Standing) -> Iterator[Edge]:
    """A line or a figure on the face of a body, unless it would run together with the outline of the whole."""
    if isinstance(one, Line):
        yield Edge((*one.start, off), (*one.end, off), layer)
    elif isinstance(one, Box | Ring):
        x, y = one.corners[0]
        near: Spot = (whole.x0, whole.y0, off)
        inset = abs(x - whole.x0) > 1e-6 or abs(y - whole.y0) > 1e-6
        if not inset or view.apart(near, (x, y, off)):
            yield from (Edge((*s.start, off), (*s.end, off), layer) for s in sides(one))
