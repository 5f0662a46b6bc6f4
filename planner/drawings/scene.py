"""A drawing as shapes, before anybody has said in what file format. Lengths in inches, y upwards.

Build a Scene out of paths, texts, dimensions and groups of them, then hand it to `svg`, `dxf` or `png`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from itertools import chain
from math import atan2, cos, degrees, hypot, radians, sin
from typing import NamedTuple, overload

from planner.mouldings.curves import Arc, Line, Placement, Point, Segment, points, polyline
from planner.units import MEASURE, Unit
from planner.values import Kept

LAYERS = {
    "shade": "hatch",
    "cut": "cut",
    "profile": "profile",
    "edge": "edge",
    "fine": "hatch",
    "dimension": "dimension",
    "text": "hatch",
}
"""Layers of a drawing, each with the line of theme.LINES that it is drawn in."""

FILLS = ("paper", "wood", "wall", "light", "mid", "dark")
"""What a path can be filled with: bare paper, cut wood, cut wall, and three depths of shade."""

LETTER = 0.56
"""Width of a letter in heights of the type, on the generous side."""

WIDE = 1.6
"""How many letters as wide as that an m takes, of which "mm" has nothing else."""

BOLD = 1.2
"""How many times as wide bold letters are, on the generous side."""

BEFORE = {"start": 0.0, "middle": 0.5, "end": 1.0}
"""The part of a line of text that stands before its place, by its anchor."""

TIED = "\u00a0"
"""What stands for a blank at which no line is broken."""

AS_DRAWN = Placement()


class Box(NamedTuple):
    """An upright rectangle by its edges: least x, least y, greatest x, greatest y [in]."""

    x0: float
    y0: float
    x1: float
    y1: float

    @property
    def corners(self) -> tuple[Point, ...]:
        """Its corners, counter-clockwise from the lower left [in]."""
        x0, y0, x1, y1 = self
        return ((x0, y0), (x1, y0), (x1, y1), (x0, y1))


class Ring(NamedTuple):
    """A closed figure with straight sides by its corners [in]."""

    corners: tuple[Point, ...]


Polygon = Box | Ring
"""A closed figure with straight sides."""


@dataclass(frozen=True)
class Path(Kept):
    """Segments end to end, and polygons.

    `layer` sets the line's weight; `fill` names a colour of the theme, None leaves it open. `closed` says that the last
    segment leads back to the first; `line` False leaves the outline undrawn, for a shade. `name` is what a reader sees
    on pointing at it.
    """

    segments: tuple[Segment | Polygon, ...]
    layer: str = "profile"
    closed: bool = False
    fill: str | None = None
    line: bool = True
    name: str = ""

    __hash__ = Kept.__hash__

    @cached_property
    def box(self) -> Box:
        """The box round it [in]; there is none round a path without segments."""
        return _round(chain.from_iterable(map(_between, self.segments)))

    @property
    def sides(self) -> tuple[Segment, ...]:
        """Its segments, with the sides of its polygons."""
        return tuple(side for s in self.segments for side in (sides(s) if isinstance(s, Polygon) else (s,)))


class Text(NamedTuple):
    """A line of text: (x, y) is on its base line, at its start, middle or end by `anchor`; `rotation` [degrees]."""

    x: float
    y: float
    text: str
    size: float
    anchor: str = "start"
    rotation: float = 0.0
    layer: str = "text"
    bold: bool = False


class Dimension(NamedTuple):
    """The measure from a to b, its line standing off by `offset` [in] to the left of the walk from a to b.

    `size` is the type's height, `text` what is written. `value` is the length measured [in].
    """

    a: Point
    b: Point
    offset: float
    size: float
    text: str

    @property
    def value(self) -> float:
        """Distance from a to b [in]."""
        return hypot(self.b[0] - self.a[0], self.b[1] - self.a[1])


@dataclass(frozen=True)
class Group:
    """Shapes that move together. `name` is what a reader sees on pointing at it."""

    shapes: tuple[Shape, ...]
    placement: Placement = AS_DRAWN
    name: str = ""


Shape = Path | Text | Dimension | Group


@dataclass(frozen=True)
class Scene:
    """A whole drawing. `title` says what it shows; `description` says it in words for those who cannot see it.

    `scale` is what it is laid out for [px/in], None where its type grows and shrinks with it; `box` what it takes,
    where that is known; `unit` that of the house, which its lengths are written in.
    """

    shapes: tuple[Shape, ...]
    title: str
    description: str = ""
    scale: float | None = None
    box: Box | None = None
    unit: Unit = "in"

    def bounds(self) -> Box:
        """The box round everything drawn: least x, least y, greatest x, greatest y [in]."""
        return self._bounds

    @cached_property
    def _bounds(self) -> Box:
        return bounds(self.shapes) if self.box is None else self.box


def flat(shapes: Iterable[Shape]) -> Iterator[Path | Text | Dimension]:
    """Every shape where it comes to lie, groups dissolved, in the order drawn."""
    for shape in shapes:
        if isinstance(shape, Group):
            for inner in flat(shape.shapes):
                yield moved(inner, shape.placement)
        else:
            yield shape


@overload
def moved(shape: Path, placement: Placement) -> Path: ...
@overload
def moved(shape: Text, placement: Placement) -> Text: ...
@overload
def moved(shape: Dimension, placement: Placement) -> Dimension: ...
@overload
def moved(shape: Group, placement: Placement) -> Group: ...
def moved(shape: Shape, placement: Placement) -> Shape:
    """The shape where it comes to lie. Text is moved and scaled but never mirrored."""
    if isinstance(shape, Path):
        return replace(shape, segments=tuple(_placed(s, placement) for s in shape.segments))
    if isinstance(shape, Text):
        x, y = placement.point((shape.x, shape.y))
        turned = shape.rotation + placement.rotation
        return shape._replace(x=x, y=y, size=shape.size * placement.scale, rotation=turned)
    if isinstance(shape, Dimension):
        side = -1.0 if placement.mirror else 1.0
        return shape._replace(
            a=placement.point(shape.a),
            b=placement.point(shape.b),
            offset=shape.offset * placement.scale * side,
            size=shape.size * placement.scale,
        )
    return Group(tuple(moved(s, placement) for s in flat((shape,))), name=shape.name)


@lru_cache(maxsize=1024)
def parts(dimension: Dimension) -> tuple[Path, Text]:
    """A dimension as lines and text: witness lines, the dimension line, an oblique tick at either end, the label.

    A label that is longer than what is measured stands beyond its end.
    """
    (ax, ay), (bx, by), size = dimension.a, dimension.b, dimension.size
    span = dimension.value or 1.0
    ux, uy = (bx - ax) / span, (by - ay) / span
    nx, ny = -uy, ux
    side = 1.0 if dimension.offset >= 0 else -1.0
    off, gap, over = dimension.offset, 0.35 * size * side, 0.45 * size * side
    a, b = (ax + nx * off, ay + ny * off), (bx + nx * off, by + ny * off)
    tick = 0.35 * size
    lines = [
        Line((x + nx * gap, y + ny * gap), (x + nx * (off + over), y + ny * (off + over)))
        for x, y in ((ax, ay), (bx, by))
    ]
    lines.append(Line(a, b))
    lines += [
        Line((x - (ux + nx) * tick, y - (uy + ny) * tick), (x + (ux + nx) * tick, y + (uy + ny) * tick))
        for x, y in (a, b)
    ]
    turn = degrees(atan2(uy, ux))
    turn = turn - 180.0 if turn > 90.0 else turn + 180.0 if turn <= -90.0 else turn
    up = (-sin(radians(turn)), cos(radians(turn)))
    if text_width(dimension.text, size) > span:
        anchor = "start" if ux * cos(radians(turn)) + uy * sin(radians(turn)) > 0 else "end"
        x, y = b[0] + 0.8 * size * ux - 0.35 * size * up[0], b[1] + 0.8 * size * uy - 0.35 * size * up[1]
    else:
        anchor = "middle"
        outward = 1.0 if (up[0] * nx + up[1] * ny) * side >= 0 else -1.0
        rise = 0.35 * size if outward > 0 else -1.1 * size
        x, y = (a[0] + b[0]) / 2 + up[0] * rise, (a[1] + b[1]) / 2 + up[1] * rise
    label = Text(x, y, dimension.text, size, anchor, turn, "dimension")
    return Path(tuple(lines), "dimension"), label


def bounds(shapes: Iterable[Shape]) -> Box:
    """The box round shapes: least x, least y, greatest x, greatest y [in]. Text is measured on the generous side."""
    boxes = tuple(_boxes(shapes))
    return around(*boxes) if boxes else Box(0.0, 0.0, 0.0, 0.0)


def around(*boxes: Box) -> Box:
    """The box round some boxes.

    >>> around(Box(0, 0, 2, 1), Box(1, -1, 3, 0))
    Box(x0=0, y0=-1, x1=3, y1=1)
    """
    lefts, lows, rights, highs = zip(*boxes, strict=True)
    return Box(min(lefts), min(lows), max(rights), max(highs))


def text_box(text: Text) -> Polygon:
    """The rectangle round a line of text [in], measured on the generous side."""
    width = text_width(text.text, text.size, text.bold)
    left = -width * BEFORE[text.anchor]
    low, high = -0.25 * text.size, 0.8 * text.size
    if not text.rotation:
        x0, y0 = text.x + left, text.y + low
        x1, y1 = x0 + width, text.y + high
        return Box(x0, y0, x1, y1)
    place = Placement(text.x, text.y, text.rotation)
    return Ring(tuple(map(place.point, Box(left, low, left + width, high).corners)))


def text_width(text: str, size: float, bold: bool = False) -> float:
    """About how wide a line of text is [in], on the generous side."""
    return LETTER * size * max(len(text), WIDE * text.count("m")) * (BOLD if bold else 1.0)


def wrapped(text: str, width: float, size: float, bold: bool = False) -> list[str]:
    """Words in lines no wider than `width` [in], where no single word is; a measure or what is `unbroken` is one word.

    >>> wrapped(f"a rail {unbroken('at 2 1/2 in')}", 9.0, 1.0), wrapped("Family 2700 mm", 7.0, 1.0)
    (['a rail', 'at 2 1/2 in'], ['Family', '2700 mm'])
    """
    lines = [""]
    for word in words_of(text):
        longer = f"{lines[-1]} {word}".strip()
        if lines[-1] and text_width(longer, size, bold) > width:
            lines.append(word)
        else:
            lines[-1] = longer
    return [line.replace(TIED, " ") for line in lines]


def words_of(text: str) -> list[str]:
    """The words between which a text is broken into lines.

    >>> [word.replace(TIED, "_") for word in words_of("Family 2700 mm")]
    ['Family', '2700_mm']
    """
    return MEASURE.sub(TIED, text).split(" ")


def unbroken(words: str) -> str:
    """Words that `wrapped` keeps in one line."""
    return words.replace(" ", TIED)


def sides(polygon: Polygon) -> tuple[Line, ...]:
    """The sides of a polygon, those without length left out."""
    return polyline(polygon.corners, closed=True)


def line(a: Point, b: Point, layer: str = "edge") -> Path:
    """A straight line."""
    return Path((Line(a, b),), layer)


def polygon(
    corners: Sequence[Point], layer: str = "edge", fill: str | None = None, line: bool = True, name: str = ""
) -> Path:
    """A closed figure with straight sides."""
    return Path((Ring(tuple(corners)),), layer, fill=fill, line=line, name=name)


def rectangle(
    x: float,
    y: float,
    width: float,
    height: float,
    layer: str = "edge",
    fill: str | None = None,
    line: bool = True,
    name: str = "",
) -> Path:
    """An upright rectangle by its lower left corner and its size [in]."""
    return Path((Box(x, y, x + width, y + height),), layer, fill=fill, line=line, name=name)


def circle(center: Point, radius: float, layer: str = "edge", fill: str | None = None) -> Path:
    """A whole circle."""
    return Path((Arc(center, radius, 0.0, 180.0), Arc(center, radius, 180.0, 360.0)), layer, True, fill)


def _placed(one: Segment | Polygon, placement: Placement) -> Segment | Polygon:
    """A segment or a polygon where it comes to lie."""
    return Ring(tuple(map(placement.point, one.corners))) if isinstance(one, Polygon) else placement.segment(one)


def _between(one: Segment | Polygon) -> Sequence[Point]:
    """Points between which a segment or a polygon lies."""
    return one if isinstance(one, Line) else one.corners if isinstance(one, Polygon) else points((one,))


def _round(found: Iterable[Point]) -> Box:
    """The box round points, of which there is one at least."""
    xs, ys = zip(*found, strict=True)
    return Box(min(xs), min(ys), max(xs), max(ys))


def _boxes(shapes: Iterable[Shape]) -> Iterator[Box]:
    """Boxes round all that is drawn; a group of paths that is not turned is moved by its boxes alone."""
    for shape in shapes:
        if isinstance(shape, Path):
            if shape.segments:
                yield shape.box
        elif isinstance(shape, Text):
            if shape.text:
                taken = text_box(shape)
                yield taken if isinstance(taken, Box) else _round(taken.corners)
        elif isinstance(shape, Dimension):
            yield from _boxes(parts(shape))
        elif shape.placement.rotation or not all(isinstance(s, Path) for s in shape.shapes):
            yield from _boxes(flat((shape,)))
        else:
            yield from (_round(map(shape.placement.point, box.corners)) for box in _boxes(shape.shapes))
