"""What is measured on a wall, and how its dimensions are set round it. Lengths in inches."""

from planner.drawings.dimensions import ROW, TYPE, String, staggered, string, ticks, upright
from planner.drawings.scene import Dimension, Shape, text_width
from planner.units import format_length
from planner.walls.layout import WallLayout, rail_of

CUT = 4.5
"""Thickness at which walls, floor and ceiling are cut [in]."""

STANDING = ("base", "chair rail", "plate rail", "picture rail", "crown")
"""What runs along the wall and is dimensioned; a shoe is too small to be."""


def along(layout: WallLayout) -> String:
    """The string along the floor: corners and jambs."""
    edges = [x for a in layout.apertures for x in (a.x0, a.x1) if 0 < x < layout.length]
    return string([0.0, layout.length, *edges])


def heights(layout: WallLayout) -> String:
    """The string of the trim, from the floor to the ceiling."""
    levels = [0.0, layout.ceiling]
    for name, (bottom, top) in standing(layout).items():
        levels += [bottom] if name == "crown" else [bottom, top]
    return string(y for y in levels if 0 <= y <= layout.ceiling)


def openings(layout: WallLayout) -> String:
    """The string of sills and heads, from the floor to the ceiling."""
    levels = [y for a in layout.apertures for y in (a.y0, a.y1) if 0 < y < layout.ceiling]
    return string([0.0, layout.ceiling, *levels])


def standing(layout: WallLayout) -> dict[str, tuple[float, float]]:
    """Bottom and top [in] of what runs along the wall, the shoe left out."""
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


def dimensioned(layout: WallLayout) -> tuple[list[Shape], float]:
    """The strings of dimensions round a wall, and the lowest place [in] that they take."""
    length, top = layout.length, layout.ceiling
    shapes: list[Shape] = []
    row, jambs, rows = -CUT - ROW, along(layout), 0
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
