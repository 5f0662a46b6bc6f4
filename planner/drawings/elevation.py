"""The walls of a room as a trim carpenter reads them: to scale, with shadows, sections at the ends and dimensions.

Lengths in inches; the wall's left end, seen from inside the room, is x = 0, the floor is y = 0.
"""

from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby
from math import floor
from typing import Protocol

from planner.drawings.dimensions import ROW, TYPE, String, staggered, string, ticks, upright
from planner.drawings.faces import BARE, Face, cut_through, face
from planner.drawings.joinery import box, closed, opening_lines, opening_shade, panel_lines, ring
from planner.drawings.scene import Dimension, Group, Path, Scene, Shape, Text, line, rectangle, text_width
from planner.house.model import House
from planner.mouldings.curves import Line, Placement, Point, Segment
from planner.trim.packages import Package
from planner.units import format_length, format_size
from planner.walls.layout import WallLayout, lay_out, stretch
from planner.walls.openings import Aperture, plinth_rule
from planner.walls.solids import Solid

CUT = 4.5
"""Thickness at which walls, floor and ceiling are cut [in]."""

RAILS = ("chair rail", "plate rail", "picture rail", "crown")
RUNNING = ("base", "shoe", *RAILS)
"""What runs along the wall, and is cut at its ends."""

INFILL = ("panel", "stile", "wainscot", "batten")
"""What fills the field of a wainscot, all but flush with it."""

MOULDED = ("casing", "backband", "chimneypiece")
"""What has a moulding along its length."""


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
    for scene, ends in scenes:
        if rows[-1] and width + ends[2] - ends[0] > across:
            rows.append([])
            width = 0.0
        rows[-1].append((scene, ends))
        width += ends[2] - ends[0] + gap
    shapes: list[Shape] = []
    y = 0.0
    for row in rows:
        top, x = max(ends[3] for _, ends in row), 0.0
        for scene, ends in row:
            shapes.append(Group(scene.shapes, Placement(x - ends[0], y - top), scene.title))
            x += ends[2] - ends[0] + gap
        y -= top - min(ends[1] for _, ends in row) + gap
    name = layouts[0].room
    return Scene(tuple(shapes), f"{name}: {len(layouts)} walls", " ".join(description(w) for w in layouts))


def heading(layout: WallLayout) -> str:
    """Room, wall, and the package with its ceiling, in a line."""
    return f"{layout.room}, wall {layout.wall} · {layout.package.label}"


def description(layout: WallLayout) -> str:
    """What an elevation shows, in words."""
    trim = ", ".join(f"{e.element} {format_size(e.size)}" for e in layout.package.elements)
    there = ", ".join(f"{a.kind} {a.name}" for a in layout.apertures) or "no opening"
    return f"Wall {layout.wall} of {layout.room}, {format_length(layout.length)} long: {there}. Trim: {trim}."


def _wall(layout: WallLayout, names: bool = True) -> Iterator[Shape]:
    """The wall without dimensions: fills and shadows, then lines, then what is cut; `names` is for its openings."""
    yield rectangle(0, 0, layout.length, layout.ceiling, "shade", "paper", line=False)
    for aperture in layout.apertures:
        yield from opening_shade(aperture)
    for n, (_, level) in enumerate(groupby(sorted(layout.solids, key=_level), key=_level)):
        yield from _shaded(tuple(level), layout, covers=n > 0)
    lines: dict[str, list[Segment]] = {"fine": [], "edge": [], "profile": []}
    for aperture in layout.apertures:
        lines["fine"] += opening_lines(aperture)
        lines["edge"] += box((aperture.x0, aperture.y0), (aperture.x1, aperture.y1))
    for s in layout.solids:
        corners = _returned(s, layout) if s.element == "overdoor" else s.corners
        lines["profile" if s.projection >= 3 else "fine" if s.element in INFILL else "edge"] += closed(corners)
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
        fills["paper"] += closed(_returned(s, layout) if s.element == "overdoor" else s.corners)
        if s.element in RUNNING:
            for fill, segments in _bands(s, layout):
                fills[fill] += segments
    if not covers and not fills["shadow"]:
        del fills["paper"]
    for fill, segments in fills.items():
        if segments:
            yield Path(tuple(segments), "shade", fill="mid" if fill == "shadow" else fill, line=False)


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
        return box((s.x0, low), (s.x1, s.y0)) if s.y0 > low else []
    if s.outline:
        return closed([(min(x + p, layout.length), max(y - p, 0.0)) for x, y in s.corners])
    left = min(s.x0 + p, right)
    return closed([(s.x0, s.y0), (left, low), (right, low), (right, high), (s.x1, s.y1), (s.x0, s.y1)])


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
        return panel_lines(s)
    if s.element == "wall panels":
        return ring(s, 0.75) + ring(s, 1.5)
    if s.element == "plinth block" and _decorated(layout):
        return ring(s, min(0.75, s.width / 5)) + ring(s, min(1.25, s.width / 4))
    if s.name == "beaded boards":
        count = max(1, round(s.width / 3.0))
        return [Line((x, s.y0), (x, s.y1)) for x in (s.x0 + s.width * i / count for i in range(1, count))]
    return []


def _decorated(layout: WallLayout) -> bool:
    """Whether the period decorates the faces of its plinth blocks."""
    rule = plinth_rule(layout.style)
    return rule is not None and rule["decorated"]


def _between(a: Point, b: Point, t: float) -> Point:
    return (a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t)


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
        shapes += ticks([(x, -CUT) for x in jambs.points], (0.0, row))
        labels, rows = staggered(jambs, row)
        shapes += labels
    low = row - (rows + 1) * ROW if rows else row
    shapes.append(Dimension((length, -CUT), (0.0, -CUT), -CUT - low, TYPE))
    names = {span: name for name, span in standing(layout).items()}
    shapes += upright(heights(layout), -CUT - ROW, -1, names)
    if layout.apertures:
        shapes += upright(openings(layout), length + CUT + ROW, 1, {})
    shapes.append(Dimension((length + CUT, 0.0), (length + CUT, top), -_beyond(layout), TYPE))
    return shapes, low - ROW


def _beyond(layout: WallLayout) -> float:
    """How far off the right end the whole height is dimensioned [in]: clear of the string of sills and heads."""
    if not layout.apertures:
        return ROW
    words = [format_length(v) for v in openings(layout).written]
    return 2 * ROW + max(text_width(w, TYPE) for w in words) + TYPE


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
            yield fill, box((s.x0, low), (s.x1, high))


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
        yield cut_through(layout.package.element(name), layout.order, layout.style), bottom
        wainscot = layout.package.element("wainscot")
        if wainscot is not None and name == ("plate rail" if layout.package.element("plate rail") else "chair rail"):
            base = layout.package.element("base")
            low = base.size if base is not None else 0.0
            board = rectangle(0.0, 0.0, wainscot.projection, bottom - low, "cut", "wood", name="wainscot")
            yield (board,), low
    base, shoe = layout.package.element("base"), layout.package.element("shoe")
    if base is not None and shoe is not None:
        place = Placement(_face(layout, "base").reach(0.0, shoe.size) or base.projection)
        drawn = cut_through(shoe, layout.order, layout.style)
        yield tuple(Path(place.segments(p.segments), p.layer, p.closed, p.fill, p.line, p.name) for p in drawn), 0.0


class PlannedRoom(Protocol):
    """What a strip reads of a room of a plan."""

    tier: int
    package: Package


class Planned(Protocol):
    """What a strip reads of a plan; see planner.planning.answer.Plan."""

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
            Group(tuple(_wall(layout, names=False)), Placement(x, 0.0), f"{layout.room}: {layout.package.label}")
        )
        shapes += _captions(plan, layout, x, size)
        x += layout.length + gap
    ceiling = max(w.ceiling for w in stretches)
    title = f"From {route[0]} to {route[-1]}, as it is walked"
    words = [f"{w.room}: {w.package.label}" for w in stretches]
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
    lines += [f"tier {tier}", layout.package.label]
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
