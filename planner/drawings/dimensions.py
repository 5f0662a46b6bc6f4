"""Strings of dimensions that close, and where their labels find room. Lengths in inches."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from math import floor

from planner.drawings.scene import Path, Shape, Text, text_width
from planner.mouldings.curves import Line, Point, Segment
from planner.units import Unit, format_length, format_size, grain

ROW = 1.8
"""Distance of one row of dimensions from the next, in heights of the type."""

LED = 1.0
"""How far labels stand off an upright string, in heights of the type."""

Marks = Mapping[tuple[float, float], str]
"""What is written of a span in the place of its figure where that finds no room: the letter of a key."""

NO_MARKS: Marks = {}


@dataclass(frozen=True)
class String:
    """A string of dimensions: points in order, and what is written between them in a house of that unit, to the nearest
    sixteenth or millimetre.

    Every span is written on its own; where the sum of what is written misses the written total, `residual` says by how
    many of these, and the drawing says so too.
    """

    points: tuple[float, ...]
    unit: Unit

    @cached_property
    def written(self) -> tuple[float, ...]:
        """What is written on each span [in]."""
        return tuple(self._shown(b - a) for a, b in pairwise(self.points))

    @property
    def total(self) -> float:
        """What is written on the whole [in]."""
        return self._shown(self.points[-1] - self.points[0])

    @cached_property
    def residual(self) -> int:
        """Sixteenths or millimetres by which the written total exceeds the sum of what is written."""
        return round((self.total - sum(self.written)) / grain(self.unit))

    def _shown(self, value: float) -> float:
        """A length as it is written [in], halves up."""
        return floor(value / grain(self.unit) + 0.5) * grain(self.unit)


def string(points: Iterable[float], unit: Unit) -> String:
    """A string of dimensions through points [in], those closer than is written taken as one, the ends as they are.

    >>> string([0, 30, 62, 120], "in").written
    (30.0, 32.0, 58.0)
    """
    kept: list[float] = []
    for p in (rising := sorted(points)):
        if not kept or p - kept[-1] >= grain(unit):
            kept.append(p)
    return String((*kept[:-1], rising[-1]) if len(kept) > 1 else tuple(kept), unit)


def ticks(points: Sequence[Point], y: float, size: float) -> Path:
    """A line of dimensions at a height along a wall, with its witness lines and ticks, as yet without labels."""
    t = 0.3 * size
    segments: list[Segment] = [Line((points[0][0], y), (points[-1][0], y))]
    for x, foot in points:
        beyond = y - 0.45 * size if foot > y else y + 0.45 * size
        segments += [Line((x, foot), (x, beyond)), Line((x - t, y - t), (x + t, y + t))]
    return Path(tuple(segments), "dimension")


def staggered(
    measured: String, y: float, size: float, marks: Marks = NO_MARKS, up: bool = False
) -> tuple[list[Shape], int]:
    """Labels under a string along a wall, each in the first row where it finds room, and how many rows they take.

    With `up` they stand over it.
    What is wider than its span is written as its mark where it has one; else, at either end of the wall, it stands
    outside. The residual stands at the right end.
    """
    shapes: list[Shape] = []
    reach: list[float] = []

    def base(row: int) -> float:
        return y + (row * ROW + 0.4) * size if up else y - (row * ROW + 1.25) * size

    spans = list(pairwise(measured.points))
    for n, ((a, b), value) in enumerate(zip(spans, measured.written, strict=True)):
        label = format_length(value, measured.unit)
        wide = text_width(label, size) + 0.6 * size
        if wide > b - a and (mark := _of(marks, a, b)):
            label = mark
            wide = text_width(label, size)
        middle = (a + b) / 2
        if wide > b - a and n in (0, len(spans) - 1):
            middle = a - wide / 2 if n == 0 else b + wide / 2
        row = 1 if wide > b - a and middle == (a + b) / 2 else 0
        while row < len(reach) and reach[row] > middle - wide / 2:
            row += 1
        reach += [float("-inf")] * (row + 1 - len(reach))
        reach[row] = middle + wide / 2
        shapes.append(Text(middle, base(row), label, size, "middle", layer="dimension"))
    if measured.residual:
        shapes.append(Text(measured.points[-1], base(len(reach)), _residual(measured), size, "end", layer="dimension"))
        return shapes, len(reach) + 1
    return shapes, len(reach)


def upright(measured: String, x: float, side: int, names: Marks, size: float) -> list[Shape]:
    """A string up a wall's end, its labels level and clear of one another; `side` is -1 at the left, 1 at the right.

    A label that had to move from its span is led to it.
    """
    t = 0.3 * size
    foot, beyond = x - side * (ROW - 0.35) * size, x + side * 0.45 * size
    segments: list[Segment] = [Line((x, measured.points[0]), (x, measured.points[-1]))]
    for y in measured.points:
        segments += [Line((foot, y), (beyond, y)), Line((x - t, y - t), (x + t, y + t))]
    shapes: list[Shape] = []
    spans = list(pairwise(measured.points))
    wanted = [(a + b) / 2 for a, b in spans]
    anchor = "end" if side < 0 else "start"
    for (a, b), value, y in zip(spans, measured.written, spread(wanted, 1.25 * size), strict=True):
        label = f"{_of(names, a, b)} {format_length(value, measured.unit)}".strip()
        shapes.append(Text(x + side * LED * size, y - 0.3 * size, label, size, anchor, layer="dimension"))
        if abs(y - (a + b) / 2) > 0.4 * size:
            segments.append(Line((x, (a + b) / 2), (x + side * (LED - 0.2) * size, y)))
    if measured.residual:
        y = min(measured.points[0] - 1.6 * size, shapes[0].y - 1.3 * size if isinstance(shapes[0], Text) else 0.0)
        shapes.append(Text(x + side * LED * size, y, _residual(measured), size, anchor, layer="dimension"))
    return [Path(tuple(segments), "dimension"), *shapes]


def spread(wanted: Sequence[float], gap: float) -> list[float]:
    """Places nearest to those wanted (rising, in least squares) that keep `gap` between neighbours.

    >>> spread([0, 0, 5], 1)
    [-0.5, 0.5, 5.0]
    """
    pools: list[list[float]] = []
    for i, place in enumerate(wanted):
        pools.append([place - i * gap])
        while len(pools) > 1 and _mean(pools[-2]) >= _mean(pools[-1]):
            last = pools.pop()
            pools[-1] += last
    settled = [_mean(pool) for pool in pools for _ in pool]
    return [place + i * gap for i, place in enumerate(settled)]


def _mean(values: Sequence[float]) -> float:
    return sum(values) / len(values)


def _of(marks: Marks, a: float, b: float) -> str:
    """What is written of a span, blank where nothing is."""
    near = (said for (low, high), said in marks.items() if abs(low - a) < 1 / 16 and abs(high - b) < 1 / 16)
    return next(near, "")


def _residual(measured: String) -> str:
    """What the written spans lack of the written total, in words."""
    sign = "+" if measured.residual > 0 else "−"
    return f"rounding {sign}{format_size(abs(measured.residual) * grain(measured.unit), measured.unit)}"
