"""What is measured on a wall, and how its dimensions are set round it. Lengths in inches."""

from collections.abc import Iterator
from typing import NamedTuple

from planner.drawings.dimensions import NO_MARKS, ROW, Marks, String, staggered, string, ticks, upright
from planner.drawings.key import Key, widths
from planner.drawings.scale import Scale
from planner.drawings.scene import LETTER, Dimension, Shape, Text, bounds, text_width, wrapped
from planner.walls.layout import WallLayout, rail_of
from planner.walls.parts import FLAT, FRAME, PANELS, Part

NAME = 10
"""So many heights of the type has the name of an opening at least before it is broken into lines."""

MOST_LINES = 4
"""Of a name that takes more lines than this the rest is left out."""

CUT = 4.5
"""Thickness at which walls, floor and ceiling are cut [in]."""

ON_FLOOR = frozenset({"base", "shoe", "wainscot", "chair rail", "plate rail"})
"""What stands on the floor, or so high above it; in a corner where a landing lies, on that."""

STANDING = ("base", "chair rail", "plate rail", "picture rail", "crown")
"""What runs along the wall and is dimensioned; a shoe is too small to be."""


FEW = 6
"""So many spans of heights are read in one string."""


class Told(NamedTuple):
    """Which heights are told beside a wall: those of the wall and of what `runs` along it, and those of its `openings`.

    What a neighbour on the same sheet tells already need not be told again. Where they are `joined`, sills, heads and
    the tops of trim stand in one string, if that is no longer than FEW spans.
    """

    runs: bool = True
    openings: bool = True
    joined: bool = False


ALL = Told()
"""Every height."""


def along(layout: WallLayout) -> String:
    """The string along the floor: corners and jambs."""
    edges = [x for a in layout.apertures for x in (a.x0, a.x1) if 0 < x < layout.length]
    return string([0.0, layout.length, *edges], layout.unit)


def over_casings(layout: WallLayout) -> String:
    """The string of the wall between openings and of the openings over their casings, blocks and all."""
    edges: list[float] = []
    for around in layout.surrounds:
        standing = [s for s in around.solids if s.part not in FLAT and s.part is not Part.OVERDOOR]
        edges += [min(s.x0 for s in standing), max(s.x1 for s in standing)] if standing else []
    return string([0.0, layout.length, *(x for x in edges if 0 < x < layout.length)], layout.unit)


def panelling(layout: WallLayout) -> String:
    """The string of the wainscot: stiles and panels, and where it stops."""
    framed = [s for s in layout.solids if s.element == "wainscot" and s.part in (*FRAME, *PANELS)]
    upright_ = [s for s in framed if s.part not in (Part.TOP_RAIL, Part.BOTTOM_RAIL)]
    edges = [x for s in upright_ for x in (s.x0, s.x1)] if len(upright_) > 1 else []
    return string([0.0, layout.length, *edges], layout.unit)


def wall_panels(layout: WallLayout) -> String:
    """The string of the panels on the wall above the rail."""
    panels = [s for s in layout.solids if s.part is Part.WALL_PANEL]
    return string([0.0, layout.length, *(x for s in panels for x in (s.x0, s.x1))], layout.unit)


def heights(layout: WallLayout) -> String:
    """The string of the trim, from the floor to the ceiling."""
    levels = [0.0, layout.ceiling]
    for name, (bottom, top) in standing(layout).items():
        levels += [bottom] if name == "crown" else [bottom, top]
    return string((y for y in levels if 0 <= y <= layout.ceiling), layout.unit)


def openings(layout: WallLayout) -> String:
    """The string of sills and heads, from the floor to the ceiling."""
    levels = [y for a in layout.apertures for y in (a.y0, a.y1) if 0 < y < layout.ceiling]
    return string([0.0, layout.ceiling, *levels], layout.unit)


def tops(layout: WallLayout) -> String:
    """The string of what stands highest round each opening, from the floor to the ceiling."""
    levels = [s.top for s in layout.surrounds if s.solids and s.top < layout.ceiling]
    return string([0.0, layout.ceiling, *levels], layout.unit)


def under(layout: WallLayout) -> list[String]:
    """The strings under a wall, the finest first; those that measure nothing left out."""
    return [s for s in (panelling(layout), over_casings(layout), along(layout)) if len(s.points) > 2]


def beside(layout: WallLayout, joined: bool = False) -> list[String]:
    """The strings at the right of a wall that has openings: sills and heads, and the tops of what stands round them."""
    if not layout.apertures:
        return []
    heads, trim = openings(layout), tops(layout)
    both = string({*heads.points, *trim.points}, layout.unit)
    if joined and len(both.points) <= FEW + 1:
        return [both]
    return [heads, trim] if len(trim.points) > 2 and trim.points != heads.points else [heads]


def over(layout: WallLayout) -> list[String]:
    """The string over a wall that has panels."""
    return [s for s in (wall_panels(layout),) if len(s.points) > 2]


def standing(layout: WallLayout) -> dict[str, tuple[float, float]]:
    """Bottom and top [in] of what runs along the wall, on the landing where one lies along all of it; the shoe left
    out."""
    floor = layout.half_turn.floor if layout.half_turn is not None else 0.0
    return {
        name: (low + floor, high + floor) if name in ON_FLOOR else (low, high)
        for name, (low, high) in above_floor(layout).items()
    }


def above_floor(layout: WallLayout) -> dict[str, tuple[float, float]]:
    """Bottom and top of what runs along the wall, above the floor that it stands on [in], the shoe left out."""
    found, capped = {}, rail_of(layout.package)
    for name in STANDING:
        element = layout.package.element(name)
        if element is None or element.bottom is None:
            continue
        bottom = element.bottom
        if element is capped and layout.rail_top is not None:
            bottom = layout.rail_top - element.size
        elif name == "picture rail" and layout.picture_rail is not None:
            bottom = layout.picture_rail
        found[name] = (bottom, bottom + element.size)
    return found


def dimensioned(layout: WallLayout, key: Key, scale: Scale, told: Told = ALL) -> tuple[list[Shape], float]:
    """The strings of dimensions round a wall with the names of its openings, and the lowest place [in] they take.

    Parameters
    ----------
    layout : the wall.
    key : letters for what is too small to be dimensioned at the scale.
    scale : that it is drawn at.
    told : which heights are told beside it.
    """
    size, length, marks = scale.type("note"), layout.length, widths(layout, key)
    shapes, low = named(layout, -CUT - 0.5 * size, size)
    for measured in under(layout):
        foot, low = low, low - 0.8 * size
        shapes.append(ticks([(x, foot) for x in measured.points], low, size))
        labels, rows = staggered(measured, low, size, marks)
        shapes += labels
        low -= (rows * ROW + 0.6) * size
    low -= ROW * size
    shapes.append(Dimension((length, low + size), (0.0, low + size), size, size, scale.length(length)))
    names = {span: key.names.get(name, name) for name, span in standing(layout).items()}
    if told.runs:
        shapes += upright(heights(layout), -CUT - ROW * size, -1, names, size)
    shapes += _at_right(layout, scale, told)
    shapes += _above(layout, marks, key.names.get("crown", "crown"), scale, told)
    return shapes, min([low - 1.1 * size, *(s.y for s in shapes if isinstance(s, Text))]) - 0.5 * size


def named(layout: WallLayout, top: float, size: float) -> tuple[list[Shape], float]:
    """The names of the openings under the floor [in], each under its own, and where what follows may begin."""
    middles = [(a.x0 + a.x1) / 2 for a in layout.apertures]
    shapes: list[Shape] = []
    reach: list[float] = []
    for a, x in zip(layout.apertures, middles, strict=True):
        nearest = min((abs(x - other) for other in middles if other != x), default=layout.length)
        lines = in_lines(a.name, max(nearest, NAME * size), size)
        half = max(text_width(line, size) for line in lines) / 2 + 0.4 * size
        row = next(r for r in range(len(reach) + 1) if all(end < x - half for end in reach[r : r + len(lines)]))
        reach += [float("-inf")] * (row + len(lines) - len(reach))
        for r, line in enumerate(lines, row):
            reach[r] = x + half
            shapes.append(Text(x, top - (r + 0.8) * 1.25 * size, line, size, "middle"))
    return shapes, top - (len(reach) * 1.25 + 0.35 * bool(reach)) * size


def in_lines(name: str, width: float, size: float) -> list[str]:
    """A name in lines no wider than that [in], broken inside words where one is wider, and no more than MOST_LINES.

    >>> in_lines("Garden room door", 8.0, 1.0), in_lines("w" * 100, 8.0, 1.0)[-1]
    (['Garden room', 'door'], 'wwwwwwwwwwwww…')
    """
    most = max(int(width / (LETTER * size)), 2)
    lines = [part[n : n + most] for part in wrapped(name, width, size) for n in range(0, max(len(part), 1), most)]
    return lines if len(lines) <= MOST_LINES else [*lines[: MOST_LINES - 1], f"{lines[MOST_LINES - 1][: most - 1]}…"]


def _at_right(layout: WallLayout, scale: Scale, told: Told) -> Iterator[Shape]:
    """Sills and heads, what stands highest round the openings, and the whole height, each clear of the last."""
    size = scale.type("note")
    x = layout.length + CUT + ROW * size
    for measured in beside(layout, told.joined) if told.openings else ():
        labels = upright(measured, x, 1, NO_MARKS, size)
        yield from labels
        x = bounds(labels)[2] + size
    if told.runs:
        yield Dimension((x, 0.0), (x, layout.ceiling), -size, size, scale.length(layout.ceiling))


def _above(layout: WallLayout, marks: Marks, called: str, scale: Scale, told: Told) -> Iterator[Shape]:
    """How far the crown reaches into the room at the left end, and over it the string of the wall's panels."""
    size = scale.type("note")
    foot = layout.ceiling + CUT + 0.35 * size
    crown = layout.package.element("crown")
    if crown is not None and layout.inside[0] and told.runs:
        reach = max((p.reach for p in layout.sections.get("crown", ())), default=crown.projection)
        y = foot + 0.8 * size
        yield ticks([(0.0, foot), (reach, foot)], y, size)
        words = f"{called} reaches {scale.size(reach)}"
        yield Text(reach + 0.8 * size, y - 0.35 * size, words, size, layer="dimension")
        foot = y + 0.8 * size
    for measured in over(layout):
        y = foot + 0.8 * size
        yield ticks([(x, foot) for x in measured.points], y, size)
        yield from staggered(measured, y, size, marks, up=True)[0]
