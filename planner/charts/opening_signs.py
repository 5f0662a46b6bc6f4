"""The signs of openings on a floor plan: gaps in walls, door leaves with their swings, panes, hearths, the entry."""

from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from itertools import pairwise
from math import cos, dist, hypot, pi, sin
from typing import NamedTuple, TypedDict

from planner.charts.label_box import Box, box_of
from planner.charts.sheet import Sheet
from planner.house.model import Point

LEAST_LEAF = 20.0
"""A door leaf shorter than this on the sheet [px] is left out of it."""

LEAST_SIGN = 5.0
"""An opening narrower than this on the sheet [px] has no sign, but for the one that guests come in by."""

LEAST_SEEN = 0.5
"""A leaf and its swing are left out where a label leaves less than this part of them to be seen."""

HEARTH = 7.0
"""Depth of a fireplace's sign from the wall [px]."""

_QUARTER = [pi / 2 * i / 6 for i in range(7)]


class OpeningRow(TypedDict):
    """Columns of frames.openings that are drawn."""

    kind: str
    room: str
    main: bool
    x1: float
    y1: float
    x2: float
    y2: float


class Line(NamedTuple):
    """A line of a sign [px] with its weight, `widen` times as wide as that."""

    points: tuple[Point, ...]
    weight: str
    widen: float = 1


class Leaf(NamedTuple):
    """A door leaf standing open into the room, the swing of its edge, and what both take of the room [px]."""

    leaf: tuple[Point, ...]
    swing: tuple[Point, ...]
    box: Box


class Sign(NamedTuple):
    """The sign of an opening: lines in its wall, leaves on the floor, and what all takes of the room."""

    lines: tuple[Line, ...]
    leaves: tuple[Leaf, ...]
    taken: tuple[Box, ...]


class Gap(NamedTuple):
    """An opening on the sheet by its left and right jamb, seen from inside the room [px]."""

    left: Point
    right: Point

    @property
    def length(self) -> float:
        """From jamb to jamb."""
        return hypot(self.right[0] - self.left[0], self.right[1] - self.left[1])

    @property
    def direction(self) -> Point:
        """From the left jamb to the right one, of length 1."""
        return (self.right[0] - self.left[0]) / self.length, (self.right[1] - self.left[1]) / self.length

    def at(self, along: float, inward: float) -> Point:
        """A point so far from the left jamb along the wall, and so far into the room."""
        (x, y), (dx, dy) = self.left, self.direction
        return x + dx * along - dy * inward, y + dy * along + dx * inward

    def turned_inward(self) -> int:
        """Degrees clockwise from straight up to the direction into the room; 0 where the wall stands askew."""
        dx, dy = self.direction
        return {(0, -1): 0, (1, 0): 90, (0, 1): 180, (-1, 0): 270}.get((round(-dy), round(dx)), 0)

    def leaf(self, hinge: float, reach: float) -> Leaf:
        """A leaf by where its hinge is along the wall and its width, less than 0 where it is hinged at its right."""
        swing = tuple(self.at(hinge + reach * cos(a), abs(reach) * sin(a)) for a in _QUARTER)
        leaf = self.at(hinge, 0), self.at(hinge, abs(reach))
        return Leaf(leaf, swing, box_of(leaf + swing))


@lru_cache(maxsize=4096)
def sign_of(kind: str, gap: Gap) -> Sign:
    """The sign of an opening's kind."""
    long, lines, taken = gap.length, [], []
    hung = {"door": [(0.0, long)], "double door": [(0.0, long / 2), (long, -long / 2)]}
    if kind == "fireplace":
        lines.append(Line((gap.at(0, 3), gap.at(long, 3)), "cut", widen=3))
        taken.append(box_of((gap.left, gap.at(long, HEARTH))))
    elif kind == "window":
        lines += [Line((gap.at(0, inward), gap.at(long, inward)), "dimension") for inward in (-1.5, 1.5)]
    elif kind == "pocket door":
        lines.append(Line((gap.at(0, 0), gap.at(long / 2, 0)), "edge"))
    leaves = tuple(gap.leaf(hinge, reach) for hinge, reach in hung.get(kind, ()) if abs(reach) >= LEAST_LEAF)
    return Sign(tuple(lines), leaves, (*taken, *(leaf.box for leaf in leaves)))


def draw_opening(sheet: Sheet, opening: OpeningRow, gap: Gap, on_floor: str, labels: Sequence[Box]) -> None:
    """The sign of an opening; `on_floor` is the colour of lines that lie on the room's floor, which end where a label
    stands.
    """
    sign = sign_of(opening["kind"], gap)
    for line in sign.lines:
        sheet.line(line.points, sheet.look.ink, line.weight, line.widen)
    for leaf in sign.leaves:
        _draw_leaf(sheet, leaf, on_floor, [box for box in labels if box.meets(leaf.box)])
    if opening["main"]:
        x, y = gap.at(gap.length / 2, -5.5)
        sheet.mark(x, y, "triangle-up", 60, sheet.look.ink, gap.turned_inward())


def _draw_leaf(sheet: Sheet, leaf: Leaf, colour: str, labels: Sequence[Box]) -> None:
    """A leaf and its swing where no label stands; neither where labels leave too little of them."""
    if not labels:
        sheet.line(leaf.leaf, colour, "dimension")
        sheet.line(leaf.swing, colour, "hatch")
        return
    seen = [(weight, outside(line, labels)) for weight, line in (("dimension", leaf.leaf), ("hatch", leaf.swing))]
    left = sum(_long(piece) for _, pieces in seen for piece in pieces)
    if left < LEAST_SEEN * (_long(leaf.leaf) + _long(leaf.swing)):
        return
    for weight, pieces in seen:
        for piece in pieces:
            sheet.line(piece, colour, weight)


def _long(line: Sequence[Point]) -> float:
    return sum(dist(a, b) for a, b in pairwise(line))


def outside(line: Sequence[Point], boxes: Iterable[Box]) -> list[list[Point]]:
    """The pieces of a line that lie in none of some boxes.

    >>> outside([(0, 0), (9, 0)], [Box(4, 0, 2, 2)])
    [[(0, 0), (3.0, 0.0)], [(5.0, 0.0), (9, 0)]]
    """
    pieces = [list(line)]
    for box in boxes:
        pieces = [piece for each in pieces for piece in _outside_one(each, box)]
    return pieces


def _outside_one(line: list[Point], box: Box) -> Iterator[list[Point]]:
    piece = line[:1]
    for a, b in pairwise(line):
        within = _within(a, b, box)
        if within is None:
            piece.append(b)
            continue
        enters, leaves = within
        if enters > 0:
            piece.append(_between(a, b, enters))
        if len(piece) > 1:
            yield piece
        piece = [_between(a, b, leaves), b] if leaves < 1 else [b]
    if len(piece) > 1:
        yield piece


def _between(a: Point, b: Point, part: float) -> Point:
    return a[0] + (b[0] - a[0]) * part, a[1] + (b[1] - a[1]) * part


def _within(a: Point, b: Point, box: Box) -> tuple[float, float] | None:
    """From and to which part of the way from `a` to `b` a box is crossed (Y.-D. Liang and B. A. Barsky, A new concept
    and method for line clipping, 1984, from memory).
    """
    enters, leaves = 0.0, 1.0
    for axis in (0, 1):
        start, way = a[axis], b[axis] - a[axis]
        low, high = box.ends[axis], box.ends[axis + 2]
        if way == 0:
            if not low < start < high:
                return None
            continue
        first, last = sorted(((low - start) / way, (high - start) / way))
        enters, leaves = max(enters, first), min(leaves, last)
    return (enters, leaves) if enters < leaves else None
