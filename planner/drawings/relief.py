"""How what stands on a wall is seen from the room: its shadows, lights and edges. Lengths in inches."""

from collections.abc import Iterator, Sequence
from math import cos, floor, pi, sin

from planner.drawings.faces import BARE, Face, faces
from planner.drawings.joinery import inset, panel_lines
from planner.drawings.scene import Box, Path, Polygon, Ring
from planner.drawings.stairs import raked_edges, raked_panel_lines
from planner.mouldings.curves import Line, Point, Segment
from planner.walls.layout import WallLayout
from planner.walls.parts import CROWNING, PANELS, RAKED, RUNS, Part
from planner.walls.solids import Solid
from planner.walls.wainscot import MOULD, beads

CLOSE = 1e-3
"""Heights nearer than this [in] are one edge."""

LOW = frozenset({Part.BASE, Part.SHOE})
"""What stands on the floor and throws no shadow that would be seen."""

TURNED = (0.8, 0.55, 0.2)
"""Radii of the rings on a turned block, as parts of half its width; common practice."""

SIDES = 24
"""Sides by which a ring is drawn."""

RAISED_OVERMANTEL = "one raised panel"
"""The form of an overmantel whose panel has a raised field."""

MOULDED = ("casing", "backband", "overmantel")
"""Elements that have a moulding along their length."""


def shaded(level: Sequence[Solid], layout: WallLayout, covers: bool) -> Iterator[Path]:
    """Solids that stand out about as far: their shadows on what lies behind, themselves, their shades.

    `covers` says whether a shadow of others may lie beneath them.
    """
    fills: dict[str, list[Polygon]] = {"shadow": [], "paper": [], "light": [], "mid": [], "dark": []}
    for s in level:
        if (shadow := _shadow(s, layout)) is not None:
            fills["shadow"].append(shadow)
        fills["paper"].append(seen_outline(s, layout))
        for fill, band in _bands(s, layout) if s.part in RUNS else ():
            fills[fill].append(band)
    if not covers and not fills["shadow"]:
        del fills["paper"]
    for fill, polygons in fills.items():
        if polygons:
            yield Path(tuple(polygons), "shade", fill="mid" if fill == "shadow" else fill, line=False)


def level(solid: Solid) -> int:
    """Which solids are drawn upon which; a plinth block is drawn over the casing that stands on it."""
    return floor(solid.projection + 0.01) + (solid.part is Part.PLINTH_BLOCK)


def seen_outline(s: Solid, layout: WallLayout) -> Polygon:
    """The outline of a solid [in]; what crowns an opening returns its profile upon the wall at both ends."""
    whole = Ring(s.outline) if s.outline else Box(s.x0, s.y0, s.x1, s.y1)
    if s.part not in CROWNING:
        return whole
    foot, seen = foot_of(s, layout), face_of(layout, s)
    inside = [(x, y + foot) for x, y in seen.points if s.y0 - CLOSE <= y + foot <= s.y1 + CLOSE]
    if len(inside) < 2:
        return whole
    reach = max(x for x, _ in inside)
    right = [(max(s.x1 - (reach - x), (s.x0 + s.x1) / 2), y) for x, y in inside]
    left = [(min(s.x0 + (reach - x), (s.x0 + s.x1) / 2), y) for x, y in reversed(inside)]
    return Ring((*right, *left))


def edges(s: Solid, layout: WallLayout, corners: tuple[Point, ...], close: float = 0.0) -> Sequence[Segment | Polygon]:
    """The edges that show on the face of a solid, whose corners [in] are those of `seen_outline`.

    Those of a moulding that stand nearer than `close` [in] to another or to its own edge are left out.
    """
    if s.element in MOULDED and s.outline and len(corners) == 4:
        return _lengthwise(s, layout, corners, close)
    if s.part in RUNS:
        within = apart(_edges_within(s, layout), s.y0, s.y1, close)
        return [Line((x0, y), (x1, y)) for y in within for x0, x1 in [level_ends(s, y)]]
    if s.part in RAKED:
        element = layout.package.element(s.element)
        size = element.size if element is not None else 0.0
        return raked_edges(s, apart(face_of(layout, s).edges, 0.0, size, close), size)
    if s.part in CROWNING:
        within = apart(_edges_within(s, layout), s.y0, s.y1, close)
        ends = [(y, _right_end(corners, y, s.x1)) for y in within]
        return [Line((s.x0 + s.x1 - end, y), (end, y)) for y, end in ends]
    if s.part in PANELS and s.outline:
        return raked_panel_lines(s, s.part is Part.RAISED_PANEL)
    if s.part in PANELS or s.part is Part.OVERMANTEL_PANEL:
        return panel_lines(s, s.part is Part.RAISED_PANEL or s.form == RAISED_OVERMANTEL)
    if s.part is Part.WALL_PANEL:
        return [inset(s, MOULD / 2), inset(s, MOULD)]
    if s.decorated and s.part in (Part.CORNER_BLOCK, Part.ROSETTE):
        return [_round(s, part) for part in TURNED]
    if s.part is Part.PLINTH_BLOCK and s.decorated:
        return [inset(s, min(0.75, s.width / 5)), inset(s, min(1.25, s.width / 4))]
    if s.part is Part.BEADED_BOARD:
        return [Line((x, s.y0), (x, s.y1)) for x in beads(s)]
    return []


def level_ends(s: Solid, y: float) -> tuple[float, float]:
    """Where a run begins and ends at a height [in]; one that turns up a flight is mitred."""
    if len(s.outline) != 4:
        return s.x0, s.x1
    upper_left, lower_left, lower_right, upper_right = s.outline
    part = (y - s.y0) / s.height
    return _between(lower_left, upper_left, part)[0], _between(lower_right, upper_right, part)[0]


def _round(s: Solid, part: float) -> Ring:
    """A ring turned on the middle of a block, of a radius that is a part of half its width, in as many sides."""
    x, y, radius = (s.x0 + s.x1) / 2, (s.y0 + s.y1) / 2, part * min(s.width, s.height) / 2
    angles = [2 * pi * n / SIDES for n in range(SIDES)]
    return Ring(tuple((x + radius * cos(a), y + radius * sin(a)) for a in angles))


def apart(places: Sequence[float], low: float, high: float, close: float) -> list[float]:
    """Rising places that keep at least `close` from one another and from both ends.

    >>> apart([0.1, 1.0, 1.2, 2.0, 2.9], 0.0, 3.0, 0.5)
    [1.0, 2.0]
    """
    kept = [low]
    for place in places:
        if place - kept[-1] >= close and high - place >= close:
            kept.append(place)
    return kept[1:]


def _shadow(s: Solid, layout: WallLayout) -> Polygon | None:
    """The shadow that a solid throws under light from the upper left at 45 degrees, as long as it stands out; None
    where none would be seen."""
    p = s.projection
    if s.element == "wainscot" or s.part in LOW:
        return None
    right, low, high = min(s.x1 + p, layout.length), max(s.y0 - p, 0.0), max(s.y1 - p, 0.0)
    if s.part in RUNS:
        return Box(s.x0, low, s.x1, s.y0) if s.y0 > low else None
    if s.outline:
        return Ring(tuple((min(x + p, layout.length), max(y - p, 0.0)) for x, y in s.outline))
    left = min(s.x0 + p, right)
    return Ring(((s.x0, s.y0), (left, low), (right, low), (right, high), (s.x1, s.y1), (s.x0, s.y1)))


def _lengthwise(s: Solid, layout: WallLayout, corners: tuple[Point, ...], close: float) -> list[Segment]:
    """The edges along a piece of casing; none on a flat cut off at a corner, where they would not meet."""
    outer, inner, inner_end, outer_end = corners
    whole = any(outer[i] == outer_end[i] and inner[i] == inner_end[i] for i in (0, 1))
    if not whole and s.element != "backband":
        return []
    return [Line(_between(inner, outer, t), _between(inner_end, outer_end, t)) for t in _steps(s, layout, close)]


def _steps(s: Solid, layout: WallLayout, close: float) -> list[float]:
    """Where edges run along a piece of casing, as parts of its width from the inner edge."""
    outer, inner = s.outline[0], s.outline[1]
    width = max(abs(outer[0] - inner[0]), abs(outer[1] - inner[1]))
    window = any(a.name == s.opening and a.kind == "window" for a in layout.apertures)
    seen = faces(layout.sections_at(s.opening))
    of_window = seen.get("window casing") if window and s.element == "casing" else None
    found = of_window or seen.get(s.element)
    if found is None:  # the outer moulding of a casing in one piece
        whole = seen.get("window casing" if window else "casing") or seen.get("casing") or BARE
        beyond = max(whole.edges, default=width) - width
    else:
        whole, beyond = found, 0.0
    shown = [y - beyond for y in whole.edges if CLOSE < y - beyond < width - CLOSE]
    return [y / width for y in apart(shown, 0.0, width, close)]


def _edges_within(s: Solid, layout: WallLayout) -> list[float]:
    """Heights at which a running element shows an edge between its lower and upper edge [in]."""
    foot = foot_of(s, layout)
    return [y + foot for y in face_of(layout, s).edges if s.y0 + CLOSE < y + foot < s.y1 - CLOSE]


def _bands(s: Solid, layout: WallLayout) -> Iterator[tuple[str, Box]]:
    """The lights and shades of a moulding that runs along the wall, bare paper left out."""
    foot = foot_of(s, layout)
    for low, high, fill in face_of(layout, s).bands:
        low, high = max(low + foot, s.y0), min(high + foot, s.y1)
        if high > low and fill != "paper":
            yield fill, Box(s.x0, low, s.x1, high)


def face_of(layout: WallLayout, solid: Solid) -> Face:
    """How the element that a solid is part of is seen."""
    return faces(layout.sections_at(solid.opening)).get(solid.element, BARE)


def foot_of(s: Solid, layout: WallLayout) -> float:
    """Height above the floor of the foot of the element that a solid is part of [in]."""
    crown = layout.package.element("crown")
    if s.part is Part.CROWN and crown is not None:
        return layout.ceiling - crown.size
    if s.part in CROWNING:
        return min(o.y0 for o in layout.solids if o.part is s.part and o.opening == s.opening)
    return s.y0


def _right_end(corners: Sequence[Point], y: float, else_: float) -> float:
    """How far to the right corners reach at a height [in]; `else_` where none is there."""
    return max((x for x, at in corners if abs(at - y) < CLOSE), default=else_)


def _between(a: Point, b: Point, t: float) -> Point:
    return (a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t)
