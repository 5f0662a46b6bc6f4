"""A story pole drawn to scale, its marks with their heights above the floor beside it. Lengths in inches."""

from collections.abc import Sequence

from planner.drawings.dimensions import spread
from planner.drawings.scale import Scale
from planner.drawings.scene import Dimension, Path, Shape, Text, line, rectangle, text_width
from planner.mouldings.curves import polyline
from planner.walls.story_poles import Mark

STICK = 2.6
"""How wide the stick is drawn, in heights of the type: it is carried at full size and not measured across."""

PITCH = 1.3
"""From one mark's words to the next, in heights of the type."""


def pole_shapes(marks: Sequence[Mark], top: float, scale: Scale) -> list[Shape]:
    """The stick from the floor up to the ceiling, every mark across it, its height and its name led to it.

    Parameters
    ----------
    marks : what is marked, from the lowest up.
    top : how long the stick is. [in]
    scale : that it is laid out for.
    """
    size = scale.type("note")
    wide, heights = STICK * size, [mark.height for mark in marks]
    shapes: list[Shape] = [rectangle(0.0, 0.0, wide, top, "profile", "wood")]
    shapes += (line((0.0, y), (wide, y), "edge") for y in dict.fromkeys(heights) if y < top)
    floor, ceiling = ((-1.5 * size, y) for y in (0.0, top))
    shapes += (line(at, (wide + 1.5 * size, at[1]), "cut") for at in (floor, ceiling))
    shapes.append(Dimension((0.0, top), (0.0, 0.0), -2.5 * size, size, scale.length(top)))
    figures = [scale.length(y) for y in heights]
    right = wide + 5 * size + max(text_width(figure, size) for figure in figures)
    for mark, figure, y in zip(marks, figures, spread(heights, PITCH * size), strict=True):
        left = right - text_width(figure, size) - 0.6 * size
        shapes.append(Path(polyline([(wide, mark.height), (wide + 2.4 * size, y), (left, y)]), "dimension"))
        shapes.append(Text(right, y - size / 3, figure, size, "end", layer="dimension"))
        shapes.append(Text(right + size, y - size / 3, mark.name, size))
    return shapes
