"""The walls of a room as a trim carpenter reads them: to scale, with shadows, sections at the ends and dimensions.

Lengths in inches; the wall's left end, seen from inside the room, is x = 0, the floor is y = 0.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import groupby, pairwise
from math import floor
from statistics import fmean
from typing import Protocol

from planner.drawings.profiles import cut, face_points, shades
from planner.drawings.scene import Dimension, Group, Path, Scene, Shape, Text, line, polygon, rectangle, text_width
from planner.house.model import House
from planner.trim.curves import Line, Placement, Point, Segment
from planner.trim.packages import Element, Package
from planner.trim.sections import Placed, profile_of
from planner.units import format_length, format_size
from planner.walls.layout import WallLayout, lay_out, stretch
from planner.walls.openings import Aperture, plinth_rule
from planner.walls.solids import Solid

TYPE = 3.2
"""Height of type on an elevation [in]: 1/8 in on paper at half an inch to the foot."""

CUT = 4.5
"""Thickness at which walls, floor and ceiling are cut [in]."""

ROW = 1.7 * TYPE
"""Distance of one row of dimensions from the next [in]."""

REVEAL = 2.0
"""Depth of the shadow that a jamb throws into its opening [in]."""

RAILS = ("chair rail", "plate rail", "picture rail", "crown")
RUNNING = ("base", "shoe", *RAILS)
"""What runs along the wall, and is cut at its ends."""

INFILL = ("panel", "stile", "wainscot", "batten")
"""What fills the field of a wainscot, all but flush with it."""

MOULDED = ("casing", "backband", "chimneypiece")
"""What has a moulding along its length."""


@dataclass(frozen=True)
class String:
    """A string of dimensions: points in order, and what is written between them, to the nearest sixteenth.

    Every span is written on its own; where the sum of what is written misses the written total, `residual` says by how
    many sixteenths, and the drawing says so too.
    """

    points: tuple[float, ...]

    @property
    def written(self) -> tuple[float, ...]:
        """What is written on each span [in]."""
        return tuple(_sixteenths(b - a) / 16 for a, b in pairwise(self.points))

    @property
    def total(self) -> float:
        """What is written on the whole [in]."""
        return _sixteenths(self.points[-1] - self.points[0]) / 16

    @property
    def residual(self) -> int:
        """Sixteenths by which the written total exceeds the sum of what is written."""
        return round((self.total - sum(self.written)) * 16)


def string(points: Iterable[float]) -> String:
    """A string of dimensions through points [in], those closer than a sixteenth taken as one.

    >>> string([0, 30, 62, 120]).written
    (30.0, 32.0, 58.0)
    """
    kept: list[float] = []
    for p in sorted(points):
        if not kept or p - kept[-1] >= 1 / 16:
            kept.append(p)
    return String(tuple(kept))


def along(layout: WallLayout) -> String:
    """The string along the floor: corners and jambs."""
    edges = [x for a in layout.apertures for x in (a.x0, a.x1) if 0 < x < layout.length]
    return string([0.0, layout.length, *edges])


def heights(layout: WallLayout) -> String:
    """The string of the trim, from the floor to the ceiling."""
    levels = [0.0, layout.ceiling]
    for name, (bottom, top) in standing(layout).items():
        levels += [top] if name == "base" else [bottom] if name == "crown" else [bottom, top]
    return string(y for y in levels if 0 <= y <= layout.ceiling)


def openings(layout: WallLayout) -> String:
    """The string of sills and heads, from the floor to the ceiling."""
    levels = [y for a in layout.apertures for y in (a.y0, a.y1) if 0 < y < layout.ceiling]
    return string([0.0, layout.ceiling, *levels])


def standing(layout: WallLayout) -> dict[str, tuple[float, float]]:
    """Bottom and top [in] of what runs along the wall, the shoe left out."""
    found = {}
    for name in RUNNING:
        element = layout.package.element(name)
        if element is None or name == "shoe":
            continue
        bottom = element.bottom
        if name in ("chair rail", "plate rail") and layout.rail_top is not None:
            top = layout.rail_top if name == "plate rail" or layout.package.element("plate rail") is None else None
            bottom = top - element.size if top is not None else bottom
        found[name] = (bottom, bottom + element.size)
    return found


def elevation(layout: WallLayout, dimensions: bool = True, title: str | None = None) -> Scene:
    """One wall, seen from inside the room.

    Parameters
    ----------
    layout : the wall with its trim.
    dimensions : whether it is dimensioned: jambs along the floor, trim at the left, sills and heads at the right.
    title : what is written under it; room, wall, tier and ceiling where none is given.
    """
    shapes = list(_wall(layout))
    low = -CUT
    if dimensions:
        measured, low = _dimensions(layout)
        shapes += measured
    words = title if title is not None else heading(layout)
    if words:
        shapes.append(Text(layout.length / 2, low - 2.6 * TYPE, words, 1.3 * TYPE, "middle", bold=True))
    return Scene(tuple(shapes), heading(layout), description(layout))


def room_sheet(layouts: Sequence[WallLayout], across: float = 760.0) -> Scene:
    """All walls of a room at one scale, in rows about `across` inches wide."""
    scenes = [(scene, scene.bounds()) for scene in map(elevation, layouts)]
    gap, rows, width = 5 * TYPE, [[]], 0.0
    for scene, box in scenes:
        if rows[-1] and width + box[2] - box[0] > across:
            rows.append([])
            width = 0.0
        rows[-1].append((scene, box))
        width += box[2] - box[0] + gap
    shapes: list[Shape] = []
    y = 0.0
    for row in rows:
        top, x = max(box[3] for _, box in row), 0.0
        for scene, box in row:
            shapes.append(Group(scene.shapes, Placement(x - box[0], y - top), scene.title))
            x += box[2] - box[0] + gap
        y -= top - min(box[1] for _, box in row) + gap
    name = layouts[0].room
    return Scene(tuple(shapes), f"{name}: {len(layouts)} walls", " ".join(description(w) for w in layouts))


def heading(layout: WallLayout) -> str:
    """Room, wall, and the package with its ceiling, in a line."""
    return f"{layout.room}, wall {layout.wall} · {layout.package.name}"


def description(layout: WallLayout) -> str:
    """What an elevation shows, in words."""
    trim = ", ".join(f"{e.element} {format_size(e.size)}" for e in layout.package.elements)
    there = ", ".join(f"{a.kind} {a.name}" for a in layout.apertures) or "no opening"
    return f"Wall {layout.wall} of {layout.room}, {format_length(layout.length)} long: {there}. Trim: {trim}."


def _wall(layout: WallLayout, names: bool = True) -> Iterator[Shape]:
    """The wall without dimensions: fills and shadows, then lines, then what is cut; `names` is for its openings."""
    yield rectangle(0, 0, layout.length, layout.ceiling, "shade", "paper", line=False)
    for aperture in layout.apertures:
        yield from _opening_shade(aperture)
    for n, (_, level) in enumerate(groupby(sorted(layout.solids, key=_level), key=_level)):
        yield from _shaded(tuple(level), layout, covers=n > 0)
    lines: dict[str, list[Segment]] = {"fine": [], "edge": [], "profile": []}
    for aperture in layout.apertures:
        lines["fine"] += _opening_lines(aperture)
        lines["edge"] += _round((aperture.x0, aperture.y0), (aperture.x1, aperture.y1))
    for s in layout.solids:
        corners = _returned(s, layout) if s.element == "overdoor" else s.corners
        lines["profile" if s.projection >= 3 else "fine" if s.element in INFILL else "edge"] += _closed(corners)
        lines["fine"] += _edges(s, layout, corners)
    yield from (Path(tuple(segments), layer) for layer, segments in lines.items() if segments)
    if names:
        yield from _names(layout)
    yield from _cut(layout)


def _shaded(level: Sequence[Solid], layout: WallLayout, covers: bool) -> Iterator[Path]:
    """Solids that stand out about as far: their shadows on what lies behind, themselves, their shades.

    `covers` says whether a shadow of others may lie beneath them.
    """
    fills: dict[str, list[Segment]] = {"shadow": [], "paper": [], "light": [], "mid": [], "dark": []}
    for s in level:
        fills["shadow"] += _shadow(s, layout)
        fills["paper"] += _closed(_returned(s, layout) if s.element == "overdoor" else s.corners)
        if s.element in RUNNING:
            for fill, segments in _bands(s, layout):
                fills[fill] += segments
    if not covers and not fills["shadow"]:
        del fills["paper"]
    for fill, segments in fills.items():
        if segments:
            yield Path(tuple(segments), "shade", fill="mid" if fill == "shadow" else fill, line=False)


def _closed(corners: Sequence[Point]) -> list[Segment]:
    """The sides of a polygon."""
    return list(map(Line, corners, [*corners[1:], corners[0]]))


def _round(low: Point, high: Point) -> list[Segment]:
    """The sides of a rectangle from its lower left to its upper right corner, counter-clockwise."""
    return _closed((low, (high[0], low[1]), high, (low[0], high[1])))


def _level(solid: Solid) -> int:
    """Which solids are drawn upon which; a plinth block is drawn over the casing that stands on it."""
    return floor(solid.projection + 0.01) + (solid.element == "plinth block")


def _shadow(s: Solid, layout: WallLayout) -> list[Segment]:
    """The shadow that a solid throws under light from the upper left at 45 degrees, as long as it stands out."""
    p = s.projection
    if s.element in INFILL or s.element in ("shoe", "base"):
        return []
    right, low, high = min(s.x1 + p, layout.length), max(s.y0 - p, 0.0), max(s.y1 - p, 0.0)
    if s.element in RAILS:
        return _round((s.x0, low), (s.x1, s.y0)) if s.y0 > low else []
    if s.outline:
        return _closed([(min(x + p, layout.length), max(y - p, 0.0)) for x, y in s.corners])
    left = min(s.x0 + p, right)
    return _closed([(s.x0, s.y0), (left, low), (right, low), (right, high), (s.x1, s.y1), (s.x0, s.y1)])


def _edges(s: Solid, layout: WallLayout, corners: tuple[Point, ...]) -> list[Segment]:
    """The edges that show on the face of a solid."""
    if s.element in MOULDED and len(corners) == 4:
        outer, inner, inner_end, outer_end = corners
        if not any(outer[i] == outer_end[i] and inner[i] == inner_end[i] for i in (0, 1)) and s.element != "backband":
            return []
        return [Line(_between(inner, outer, t), _between(inner_end, outer_end, t)) for t in _steps(s, layout)]
    if s.element in RUNNING:
        return [Line((s.x0, y), (s.x1, y)) for y in _edges_within(s, layout)]
    if s.element == "overdoor":
        ends = [
            (y, max((x for x, at in corners if abs(at - y) < 1e-3), default=s.x1)) for y in _edges_within(s, layout)
        ]
        return [Line((s.x0 + s.x1 - end, y), (end, y)) for y, end in ends]
    if s.element == "panel":
        return _panel(s)
    if s.element == "wall panels":
        return _ring(s, 0.75) + _ring(s, 1.5)
    if s.element == "plinth block" and _decorated(layout):
        return _ring(s, min(0.75, s.width / 5)) + _ring(s, min(1.25, s.width / 4))
    if s.name == "beaded boards":
        count = max(1, round(s.width / 3.0))
        return [Line((x, s.y0), (x, s.y1)) for x in (s.x0 + s.width * i / count for i in range(1, count))]
    return []


def _decorated(layout: WallLayout) -> bool:
    """Whether the period decorates the faces of its plinth blocks."""
    rule = plinth_rule(layout.style)
    return rule is not None and rule["decorated"]


def _panel(s: Solid) -> list[Segment]:
    """Sticking round a panel, and the field and mitres of one that is raised."""
    if not s.name.startswith("raised"):
        return _ring(s, 0.5)
    by = min(2.0, s.width / 4, s.height / 4)
    inner = _inset(s, by)
    return _ring(s, 0.5) + _ring(s, by) + [Line(a, b) for a, b in zip(_inset(s, 0.5), inner, strict=True)]


def _ring(s: Solid, by: float) -> list[Segment]:
    """A rectangle inside a solid, `by` in from its edges [in]."""
    return _round((s.x0 + by, s.y0 + by), (s.x1 - by, s.y1 - by))


def _inset(s: Solid, by: float) -> tuple[Point, ...]:
    return ((s.x0 + by, s.y0 + by), (s.x1 - by, s.y0 + by), (s.x1 - by, s.y1 - by), (s.x0 + by, s.y1 - by))


def _between(a: Point, b: Point, t: float) -> Point:
    return (a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t)


def _opening_shade(a: Aperture) -> Iterator[Path]:
    """What is seen in an opening, as shades: dark in a firebox, glass, a door's leaf, the room beyond."""
    fill = {"fireplace": "dark", "window": "light"}.get(a.kind, "paper" if "door" in a.kind else "light")
    yield rectangle(a.x0, a.y0, a.x1 - a.x0, a.y1 - a.y0, "shade", fill, line=False)
    if a.kind != "open":
        by = min(REVEAL, (a.x1 - a.x0) / 4, (a.y1 - a.y0) / 4)
        corners = (
            (a.x0, a.y0), (a.x0 + by, a.y0), (a.x0 + by, a.y1 - by), (a.x1, a.y1 - by), (a.x1, a.y1), (a.x0, a.y1),
        )  # fmt: skip
        yield polygon(corners, "shade", "mid", line=False)


def _opening_lines(a: Aperture) -> list[Segment]:
    """The leaves of a door and their panels, the sashes of a window and their bars."""
    if a.kind == "window":
        return _sashes(a)
    segments: list[Segment] = []
    if "door" in a.kind:
        leaves = 1 if a.kind == "door" else 2
        width = (a.x1 - a.x0) / leaves
        for n in range(leaves):
            x0 = a.x0 + n * width
            if n:
                segments.append(Line((x0, a.y0), (x0, a.y1)))
            segments += _leaf(x0, x0 + width, a.y0, a.y1)
    return segments


def _leaf(x0: float, x1: float, y0: float, y1: float) -> list[Segment]:
    """A leaf of six panels in three rows, of three where it is narrow."""
    stile = min(4.5, (x1 - x0) / 6)
    height, columns = y1 - y0, 2 if x1 - x0 > 26 else 1
    rows = ((0.1, 0.42), (0.5, 0.78), (0.83, 0.95))
    clear = (x1 - x0 - stile * (columns + 1)) / columns
    segments = []
    for n in range(columns):
        left = x0 + stile + n * (clear + stile)
        for low, high in rows:
            panel = Solid("", "panel", left, left + clear, y0 + low * height, y0 + high * height, 0.0)
            segments += _ring(panel, 0.0) + _ring(panel, min(1.25, clear / 4))
    return segments


def _sashes(a: Aperture) -> list[Segment]:
    """Two hung sashes, each of lights about as wide as a hand is long; one sash where it is wider than high."""
    hung = a.y1 - a.y0 > a.x1 - a.x0
    middle = (a.y0 + a.y1) / 2
    segments = []
    for y0, y1 in [(a.y0, middle), (middle, a.y1)] if hung else [(a.y0, a.y1)]:
        sash = Solid("", "", a.x0, a.x1, y0, y1, 0.0)
        by = min(1.75, sash.width / 6, sash.height / 6)
        segments += _ring(sash, 0.0) + _ring(sash, by)
        across, up = max(1, round(sash.width / 11)), max(1, round(sash.height / 15))
        xs = [a.x0 + by + (sash.width - 2 * by) * i / across for i in range(1, across)]
        ys = [y0 + by + (sash.height - 2 * by) * i / up for i in range(1, up)]
        segments += [Line((x, y0 + by), (x, y1 - by)) for x in xs]
        segments += [Line((a.x0 + by, y), (a.x1 - by, y)) for y in ys]
    return segments


def _names(layout: WallLayout) -> Iterator[Shape]:
    """The name of each opening, on a patch of paper in its middle where it finds room, clear of the others."""
    taken: list[tuple[float, float, float, float]] = []
    for a in layout.apertures:
        width, height = a.x1 - a.x0, a.y1 - a.y0
        words = _wrapped(a.name, 0.8 * width, 0.8 * TYPE)
        size = min(0.8 * TYPE, 0.9 * width / max(text_width(said, 1.0) for said in words))
        tall = 1.3 * size * len(words)
        if size < TYPE / 2 or height < tall + 2 * size:
            continue
        x, y, half = (a.x0 + a.x1) / 2, a.y0 + height * 0.5, max(text_width(said, size) for said in words) / 2
        low, high = y - tall / 2 - 0.3 * size, y + tall / 2 + 0.3 * size
        if any(x - half < x1 and x0 < x + half and low < y1 and y0 < high for x0, x1, y0, y1 in taken):
            continue
        taken.append((x - half, x + half, low, high))
        yield rectangle(x - half - size / 4, low, 2 * half + size / 2, high - low, "fine", "paper", line=False)
        for n, said in enumerate(words):
            yield Text(x, y + tall / 2 - (n + 1) * 1.3 * size + 0.3 * size, said, size, "middle")


def _cut(layout: WallLayout) -> Iterator[Shape]:
    """Floor, ceiling and the next walls where they are cut, with the profiles of what runs along them."""
    length, top = layout.length, layout.ceiling
    left, right = (CUT if inside else 0.0 for inside in layout.inside)
    for y in (-CUT, top):
        yield rectangle(-left, y, length + left + right, CUT, "shade", "wall", line=False)
    for x, wide in ((-left, left), (length, right)):
        if wide:
            yield rectangle(x, 0.0, wide, top, "shade", "wall", line=False)
    for x, inside in zip((0.0, length), layout.inside, strict=True):
        yield line((x, 0.0), (x, top), "cut" if inside else "edge")
    yield Path((Line((0.0, 0.0), (length, 0.0)), Line((0.0, top), (length, top))), "cut")
    for drawn, bottom in _sections(layout):
        for at_right, inside in enumerate(layout.inside):
            if inside:
                yield Group(drawn, Placement(length if at_right else 0.0, bottom, mirror=bool(at_right)))


def _dimensions(layout: WallLayout) -> tuple[list[Shape], float]:
    """The strings of dimensions round a wall, and the lowest place [in] that they take."""
    length, top = layout.length, layout.ceiling
    shapes: list[Shape] = []
    row = -CUT - ROW
    jambs = along(layout)
    rows = 0
    if len(jambs.points) > 2:
        shapes += _ticks([(x, -CUT) for x in jambs.points], (0.0, row))
        labels, rows = _staggered(jambs, row)
        shapes += labels
    low = row - (rows + 1) * ROW if rows else row
    shapes.append(Dimension((length, -CUT), (0.0, -CUT), -CUT - low, TYPE))
    names = {span: name for name, span in standing(layout).items()}
    shapes += _upright(heights(layout), -CUT - ROW, -1, names)
    if layout.apertures:
        shapes += _upright(openings(layout), length + CUT + ROW, 1, {})
    shapes.append(Dimension((length + CUT, 0.0), (length + CUT, top), -_beyond(layout), TYPE))
    return shapes, low - ROW


def _beyond(layout: WallLayout) -> float:
    """How far off the right end the whole height is dimensioned [in]: clear of the string of sills and heads."""
    if not layout.apertures:
        return ROW
    words = [format_length(v) for v in openings(layout).written]
    return 2 * ROW + max(text_width(w, TYPE) for w in words) + TYPE


def _ticks(points: Sequence[Point], line_at: tuple[float, float]) -> list[Shape]:
    """A line of dimensions below points along a wall, with its witness lines and ticks, as yet without labels."""
    y, t = line_at[1], 0.35 * TYPE
    segments: list[Segment] = [Line((points[0][0], y), (points[-1][0], y))]
    for x, foot in points:
        segments += [Line((x, foot - 0.35 * TYPE), (x, y - 0.45 * TYPE)), Line((x - t, y - t), (x + t, y + t))]
    return [Path(tuple(segments), "dimension")]


def _staggered(measured: String, y: float) -> tuple[list[Shape], int]:
    """Labels under a string along a wall, each in the first row where it finds room, and how many rows they take.

    At either end of the wall what is wider than its span stands outside; the residual stands at the right end.
    """
    shapes: list[Shape] = []
    reach: list[float] = []
    spans = list(pairwise(measured.points))
    for n, ((a, b), value) in enumerate(zip(spans, measured.written, strict=True)):
        label = format_length(value)
        wide = text_width(label, TYPE) + 0.6 * TYPE
        middle = (a + b) / 2
        if wide > b - a and n in (0, len(spans) - 1):
            middle = a - wide / 2 if n == 0 else b + wide / 2
        row = 1 if wide > b - a and middle == (a + b) / 2 else 0
        while row < len(reach) and reach[row] > middle - wide / 2:
            row += 1
        reach += [float("-inf")] * (row + 1 - len(reach))
        reach[row] = middle + wide / 2
        shapes.append(Text(middle, y - (row + 0.85) * ROW, label, TYPE, "middle", layer="dimension"))
    if measured.residual:
        x = measured.points[-1] + TYPE
        shapes.append(Text(x, y - len(reach) * ROW - TYPE, _residual(measured), 0.8 * TYPE, layer="dimension"))
    return shapes, len(reach)


def _upright(measured: String, x: float, side: int, names: Mapping[tuple[float, float], str]) -> list[Shape]:
    """A string up a wall's end, its labels level and clear of one another; `side` is -1 at the left, 1 at the right."""
    t = 0.35 * TYPE
    edge = x - side * ROW
    segments: list[Segment] = [Line((x, measured.points[0]), (x, measured.points[-1]))]
    for y in measured.points:
        segments += [
            Line((edge + side * 0.35 * TYPE, y), (x + side * 0.45 * TYPE, y)),
            Line((x - t, y - t), (x + t, y + t)),
        ]
    shapes: list[Shape] = [Path(tuple(segments), "dimension")]
    spans = list(pairwise(measured.points))
    wanted = [(a + b) / 2 for a, b in spans]
    anchor = "end" if side < 0 else "start"
    for (a, b), value, y in zip(spans, measured.written, spread(wanted, 1.25 * TYPE), strict=True):
        name = next((n for (low, high), n in names.items() if abs(low - a) < 1 / 16 and abs(high - b) < 1 / 16), "")
        label = f"{name} {format_length(value)}".strip()
        shapes.append(Text(x + side * TYPE, y - 0.3 * TYPE, label, TYPE, anchor, layer="dimension"))
    if measured.residual:
        y = measured.points[0] - 1.6 * TYPE
        shapes.append(Text(x + side * TYPE, y, _residual(measured), 0.8 * TYPE, anchor, layer="dimension"))
    return shapes


def spread(wanted: Sequence[float], gap: float) -> list[float]:
    """Places nearest to those wanted (rising, in least squares) that keep `gap` between neighbours.

    >>> spread([0, 0, 5], 1)
    [-0.5, 0.5, 5.0]
    """
    pools: list[list[float]] = []
    for i, place in enumerate(wanted):
        pools.append([place - i * gap])
        while len(pools) > 1 and fmean(pools[-2]) >= fmean(pools[-1]):
            last = pools.pop()
            pools[-1] += last
    settled = [fmean(pool) for pool in pools for _ in pool]
    return [place + i * gap for i, place in enumerate(settled)]


def _residual(measured: String) -> str:
    """What the written spans lack of the written total, in words."""
    sign = "+" if measured.residual > 0 else "−"
    return f"rounding {sign}{format_size(abs(measured.residual) / 16)}"


def _sixteenths(value: float) -> int:
    """A length in whole sixteenths, halves up, as it is written."""
    return floor(value * 16 + 0.5)


@dataclass(frozen=True)
class Face:
    """How an element is seen: its profiles, their face from the foot up, and the heights where an edge shows [in]."""

    placed: tuple[Placed, ...]
    points: tuple[Point, ...]
    edges: tuple[float, ...]
    bands: tuple[tuple[float, float, str], ...]

    def reach(self, low: float, high: float) -> float:
        """How far it stands out at most between two heights [in]."""
        return max((x for x, y in self.points if low - 1e-6 <= y <= high + 1e-6), default=0.0)


BARE = Face((), (), (), ())


@cache
def face(element: Element | None, order: str, style: str) -> Face:
    """How an element is seen, whatever wall it stands on."""
    placed = profile_of(element, order, style) if element is not None else ()
    if not placed:
        return BARE
    points = face_points(placed)
    edges = set()
    for p in placed:
        y = p.y
        for member in p.profile.members:
            edges.add(round(y, 4))
            y += member.height
        edges.add(round(y, 4))
    return Face(placed, tuple(points), tuple(sorted(edges)), tuple(shades(points)))


def _face(layout: WallLayout, name: str) -> Face:
    return face(layout.package.element(name), layout.order, layout.style)


def _foot(s: Solid, layout: WallLayout) -> float:
    """Height above the floor of the foot of the element that a solid is part of [in]."""
    if s.element == "crown":
        return layout.ceiling - layout.package.element("crown").size
    if s.element == "overdoor":
        return min(o.y0 for o in layout.solids if o.element == "overdoor" and o.opening == s.opening)
    return s.y0


def _bands(s: Solid, layout: WallLayout) -> Iterator[tuple[str, list[Segment]]]:
    """The lights and shades of a moulding that runs along the wall, bare paper left out."""
    foot = _foot(s, layout)
    for low, high, fill in _face(layout, s.element).bands:
        low, high = max(low + foot, s.y0), min(high + foot, s.y1)
        if high > low and fill != "paper":
            yield fill, _round((s.x0, low), (s.x1, high))


def _steps(s: Solid, layout: WallLayout) -> list[float]:
    """Where edges run along a piece of casing, as parts of its width from the inner edge."""
    outer, inner = s.outline[0], s.outline[1]
    width = max(abs(outer[0] - inner[0]), abs(outer[1] - inner[1]))
    window = any(a.name == s.opening and a.kind == "window" for a in layout.apertures)
    name = "backband" if s.element == "backband" else "window casing" if window else "casing"
    seen = _face(layout, name)
    if seen is BARE:
        seen = _face(layout, "casing")
    return [y / width for y in seen.edges if 1e-3 < y < width - 1e-3]


def _edges_within(s: Solid, layout: WallLayout) -> list[float]:
    """Heights at which a running element shows an edge between its lower and upper edge [in]."""
    foot = _foot(s, layout)
    return [y + foot for y in _face(layout, s.element).edges if s.y0 + 1e-3 < y + foot < s.y1 - 1e-3]


def _returned(s: Solid, layout: WallLayout) -> tuple[Point, ...]:
    """The corners of a part of an overdoor whose profile returns upon the wall at both ends."""
    foot, seen = _foot(s, layout), _face(layout, s.element)
    inside = [(x, y + foot) for x, y in seen.points if s.y0 - 1e-3 <= y + foot <= s.y1 + 1e-3]
    if len(inside) < 2:
        return s.corners
    reach = max(x for x, _ in inside)
    right = [(max(s.x1 - (reach - x), (s.x0 + s.x1) / 2), y) for x, y in inside]
    left = [(min(s.x0 + (reach - x), (s.x0 + s.x1) / 2), y) for x, y in reversed(inside)]
    return (*right, *left)


def _sections(layout: WallLayout) -> Iterator[tuple[tuple[Path, ...], float]]:
    """What is cut of each element that runs along the walls, and the height of its foot [in]."""
    for name, (bottom, _) in standing(layout).items():
        yield _section(layout.package.element(name), layout.order, layout.style), bottom
        wainscot = layout.package.element("wainscot")
        if wainscot is not None and name == ("plate rail" if layout.package.element("plate rail") else "chair rail"):
            base = layout.package.element("base")
            low = base.size if base is not None else 0.0
            board = rectangle(0.0, 0.0, wainscot.projection, bottom - low, "cut", "wood", name="wainscot")
            yield (board,), low
    base, shoe = layout.package.element("base"), layout.package.element("shoe")
    if base is not None and shoe is not None:
        place = Placement(_face(layout, "base").reach(0.0, shoe.size) or base.projection)
        drawn = _section(shoe, layout.order, layout.style)
        yield tuple(Path(place.segments(p.segments), p.layer, p.closed, p.fill, p.line, p.name) for p in drawn), 0.0


@cache
def _section(element: Element, order: str, style: str) -> tuple[Path, ...]:
    """An element cut through, its foot on the wall at (0, 0); a plain rectangle where no profile is known."""
    seen = face(element, order, style)
    if seen is BARE:
        return (rectangle(0.0, 0.0, element.projection, element.size, "cut", "wood", name=element.element),)
    return tuple(shape for p in seen.placed for shape in cut(p))


class PlannedRoom(Protocol):
    """What a strip reads of a room of a plan."""

    tier: int
    package: Package


class Planned(Protocol):
    """What a strip reads of a plan; see planner.plan.Plan."""

    house: House
    style: str
    order: str

    @property
    def by_name(self) -> Mapping[str, PlannedRoom]:
        """Rooms of the plan by name."""


STRIP_REACH = 54.0
"""How much of a wall a strip shows on either side of the passage [in]."""


def strip(plan: Planned, route: Sequence[str]) -> Scene:
    """The walls along a route side by side at one scale, as the step-down is walked.

    Of each room the wall is shown that leads on to the next, about the passage; of the last its longest.

    Parameters
    ----------
    plan : the plan, of which house, style and each room's package and tier are read.
    route : names of the rooms, from the entry on.
    """
    stretches = []
    for name, onward in zip(route, [*route[1:], ""], strict=True):
        walls = lay_out(plan.house, name, plan.by_name[name].package, plan.style, plan.order)
        stretches.append(_shown(walls, onward))
    gap = 2 * CUT
    total = sum(w.length for w in stretches) + gap * (len(stretches) - 1)
    size = max(1.6 * TYPE, total / 85)
    shapes: list[Shape] = []
    x = 0.0
    for layout in stretches:
        shapes.append(
            Group(tuple(_wall(layout, names=False)), Placement(x, 0.0), f"{layout.room}: {layout.package.name}")
        )
        shapes += _captions(plan, layout, x, size)
        x += layout.length + gap
    ceiling = max(w.ceiling for w in stretches)
    title = f"From {route[0]} to {route[-1]}, as it is walked"
    words = [f"{w.room}: {w.package.name}" for w in stretches]
    shapes.append(Text(0.0, ceiling + CUT + size, title, 1.2 * size, bold=True))
    return Scene(tuple(shapes), title, "; ".join(words))


def _shown(walls: Sequence[WallLayout], onward: str) -> WallLayout:
    """The stretch of wall that a strip shows of a room: about the passage onward, else where most is to be seen.

    Of several, one that cuts no opening in two.
    """
    seen = [(wall, a) for wall in walls for a in wall.apertures]
    leading = [(wall, a) for wall, a in seen if onward and a.other == onward]
    windows = [(wall, a) for wall, a in seen if a.kind == "window"]
    stretches = [_about(wall, a) for wall, a in leading or windows or seen]
    if not stretches:
        wall = max(walls, key=lambda w: w.length)
        return stretch(wall, 0.0, 2 * STRIP_REACH)
    shown, _ = min(stretches, key=lambda found: (found[1], -len(found[0].apertures), -found[0].length))
    return shown


def _about(wall: WallLayout, a: Aperture) -> tuple[WallLayout, int]:
    """The stretch of wall about an opening, and how many openings it cuts in two."""
    reach = max(STRIP_REACH, (a.x1 - a.x0) / 2 + 24)
    x0 = max(0.0, min((a.x0 + a.x1) / 2 - reach, wall.length - 2 * reach))
    x1 = x0 + 2 * reach
    return stretch(wall, x0, x1), sum(s.left < x0 < s.right or s.left < x1 < s.right for s in wall.surrounds)


def _captions(plan: Planned, layout: WallLayout, x: float, size: float) -> Iterator[Text]:
    """Room, tier and package under a stretch of wall; long names in several lines."""
    tier = plan.by_name[layout.room].tier
    lines = _wrapped(layout.room, layout.length, size)
    lines += [f"tier {tier}", layout.package.name]
    for n, said in enumerate(lines):
        fits = min(size, layout.length / max(1.0, text_width(said, 1.0)))
        y = -CUT - (n + 1) * 1.35 * size
        yield Text(x + layout.length / 2, y, said, fits, "middle", bold=n < len(lines) - 2)


def _wrapped(text: str, width: float, size: float) -> list[str]:
    """Words in lines no wider than `width` [in], where no single word is."""
    lines = [""]
    for word in text.split():
        longer = f"{lines[-1]} {word}".strip()
        if lines[-1] and text_width(longer, size) > width:
            lines.append(word)
        else:
            lines[-1] = longer
    return lines
