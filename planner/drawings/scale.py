"""The scale that a drawing is made for, said in words and drawn as a bar. Lengths in inches.

A drawing is made for one scale, on paper and on the screen: type and what stands off a figure are sized in paper, and a
CSS pixel is 1/96 in of it, so that ten pixels are seven and a half points.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal, NamedTuple, TypeGuard

from planner.drawings.scene import Box, Path, Scene, Shape, Text, around, bounds, text_width, wrapped
from planner.drawings.svg import MARGIN
from planner.look import theme
from planner.mouldings.curves import Line
from planner.units import INCHES_IN, METRIC, Unit, format_length, format_size, running_unit, section_unit

CLOSE = 1.5
"""Fine edges that would stand closer than this are left out [px]."""

LEAST_STEP = 32.0
"""A step of a scale bar is no shorter [px], so that its figures find room."""

STEPS = 4
"""Steps of a scale bar."""

Kind = Literal["walls", "sections", "ladders", "cells"]
"""What is drawn at a scale of its own: a wall, a section, a ladder of tiers, a section in a table."""

BARS = {
    "in": (1.0, 2.0, 3.0, 6.0, 12.0, 24.0, 60.0, 120.0),
    "mm": (10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0, 2000.0),
}
"""What a step of a scale bar can be, in inches or millimetres."""


@dataclass(frozen=True)
class Scale:
    """How many times smaller than life a drawing is, and the unit of the house, which its lengths are written in.

    `lettering` is how many times as large its type is as on a screen: on paper, which is held nearer, it is smaller.
    """

    ratio: float
    unit: Unit
    lettering: float = 1.0

    @property
    def pixels(self) -> float:
        """Pixels of the screen to an inch of what is drawn [px/in]."""
        return theme.PIXELS_PER_INCH / self.ratio

    @property
    def close(self) -> float:
        """Fine edges that stand closer than this are left out [in]."""
        return CLOSE / self.pixels

    @property
    def words(self) -> str:
        """The scale as it is written on a drawing.

        >>> Scale(24, "in").words, Scale(8, "ft").words, Scale(1, "in").words, Scale(20, "mm").words
        ('1/2 in = 1 ft (1 : 24)', '1 1/2 in = 1 ft (1 : 8)', 'full size (1 : 1)', '1 : 20')
        """
        ratio = f"1 : {self.ratio:g}"
        called = {1.0: "full size", 2.0: "half size"}.get(self.ratio)
        if called is None and self.unit not in METRIC:
            called = f"{format_size(12 / self.ratio, self.unit)[:-1]} in = 1 ft"
        return f"{called} ({ratio})" if called else ratio

    def length(self, inches: float) -> str:
        """A length as it is written on the drawing [in]."""
        return format_length(inches, self.unit)

    def size(self, inches: float) -> str:
        """A size of trim as it is written on the drawing [in]."""
        return format_size(inches, self.unit)

    def type(self, name: str) -> float:
        """Height of type of a kind of theme.TEXT on what is drawn [in]."""
        return theme.TEXT[name] * self.lettering / self.pixels


class Ratios(NamedTuple):
    """How many times smaller than life each kind of drawing is, the largest scale first."""

    walls: tuple[int, ...]
    sections: tuple[int, ...]
    ladders: tuple[int, ...]
    cells: tuple[int, ...]


RULE = Ratios(walls=(24, 32, 48), sections=(1, 2, 4, 8), ladders=(4, 8, 12), cells=(12,))
"""In feet and inches: the scales of an architect's rule; walls at half an inch to the foot (common practice)."""

METRIC_RULE = Ratios(walls=(20, 25, 50), sections=(1, 2, 5, 10), ladders=(5, 10), cells=(10,))
"""In millimetres: the recommended scales (ISO 5455, Technical drawings: Scales, 1979), and 1 : 25 for walls (common
practice)."""


def scales(kind: Kind, unit: Unit) -> tuple[Scale, ...]:
    """The scales of one kind of drawing in a house of that unit, the largest first.

    >>> [scale.words for scale in scales("walls", "mm")]
    ['1 : 20', '1 : 25', '1 : 50']
    """
    ratios: tuple[int, ...] = getattr(METRIC_RULE if unit in METRIC else RULE, kind)
    return tuple(Scale(ratio, unit) for ratio in ratios)


def paper(unit: Unit) -> Scale:
    """The scale of an interior elevation on paper."""
    return scales("walls", unit)[0]


def largest(scales: Sequence[Scale], width: Callable[[Scale], float], page: float) -> Scale:
    """The first of some scales at which a drawing is no wider than its page, else the last, where it is scrolled.

    Parameters
    ----------
    scales : the largest first.
    width : of the drawing at a scale. [px]
    page : how wide it may be. [px]
    """
    return next((scale for scale in scales if width(scale) <= page), scales[-1])


def stated(shapes: Iterable[Shape], title: str, description: str, scale: Scale, box: Box | None = None) -> Scene:
    """The whole drawing, its scale under it in words and as a bar.

    Parameters
    ----------
    shapes : what is drawn, laid out for the scale.
    title, description : as in Scene.
    scale : that it is made for.
    box : what the shapes take, where that is known. [in]
    """
    drawn = tuple(shapes)
    box = box or bounds(drawn)
    left, low, right, _ = box
    size = scale.type("small")
    bar, end = scale_bar(scale, left, low - 2.6 * size)
    printed = (right - left) * scale.pixels + 2 * MARGIN
    words = f"{scale.words} when printed {scale.size(printed / theme.PIXELS_PER_INCH)} wide"
    beside = end + text_width(words, size) <= right
    lines = [words] if beside else wrapped(words, max(right, end) - left, size)
    x, y = (end, low - 3.1 * size) if beside else (left, low - 4.6 * size)
    bar += (Text(x, y - 1.3 * size * n, line, size) for n, line in enumerate(lines))
    return Scene((*drawn, *bar), title, description, scale.pixels, around(box, bounds(bar)), scale.unit)


def cleared(shapes: Iterable[Shape], close: float) -> list[Shape]:
    """Shapes without those fine level lines that would stand nearer than `close` [in] to another level line.

    A line of more weight stays, and of two fine ones the lower.
    """
    drawn = tuple(shapes)
    heavy = [s.box.y0 for s in drawn if _level(s) and s.layer != "fine"]
    kept: list[Shape] = []
    for shape in sorted(drawn, key=lambda s: s.box.y0 if _level(s) else float("-inf")):
        if _level(shape) and shape.layer == "fine":
            y = shape.box.y0
            if any(abs(y - other) < close for other in heavy):
                continue
            heavy.append(y)
        kept.append(shape)
    return kept


def _level(shape: Shape) -> TypeGuard[Path]:
    """Whether a shape is one level line."""
    if not isinstance(shape, Path) or len(shape.segments) != 1:
        return False
    only = shape.segments[0]
    return isinstance(only, Line) and only.start[1] == only.end[1]


def scale_bar(scale: Scale, x: float, y: float) -> tuple[list[Shape], float]:
    """A bar of steps with their figures over it, its upper left corner at (x, y), and where words can stand beside it.

    The first step is halved.
    """
    size, small = scale.type("small"), section_unit(scale.unit)
    steps = BARS[small]
    step = next((s for s in steps if s * INCHES_IN[small] * scale.pixels >= LEAST_STEP), steps[-1])
    large = running_unit(scale.unit)
    named = large if step * INCHES_IN[small] >= INCHES_IN[large] else small
    per = INCHES_IN[named] / INCHES_IN[small]
    wide, tall = step * INCHES_IN[small], 0.5 * size
    edges = [0.0, 0.5, *map(float, range(1, STEPS + 1))]
    boxes = [Box(x + a * wide, y - tall, x + b * wide, y) for a, b in pairwise(edges)]
    shapes: list[Shape] = [Path(tuple(boxes[at::2]), "edge", fill=fill) for at, fill in enumerate(("dark", "paper"))]
    for n in range(STEPS + 1):
        figure = f"{n * step / per:g}"
        shapes.append(Text(x + n * wide, y + 0.35 * size, figure, size, "middle" if n else "start"))
    last = x + STEPS * wide + 0.5 * text_width(figure, size) + 0.3 * size
    shapes.append(Text(last, y + 0.35 * size, named, size))
    return shapes, last + text_width(named, size) + 1.5 * size
