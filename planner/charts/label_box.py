"""Where a label can stand in a room."""

from collections.abc import Iterator
from functools import cache
from typing import NamedTuple

from planner.house.model import Point

MOST_OBLONG = 3
"""A side of a box counts for no more than this many times the other, so that a label is not sent into a corridor."""


class Box(NamedTuple):
    """A rectangle by its centre and its sides."""

    x: float
    y: float
    width: float
    height: float


@cache
def label_box(corners: tuple[Point, ...]) -> Box:
    """A large rectangle inside a room where a label can stand.

    Parameters
    ----------
    corners : the room's plan.

    Notes
    -----
    The plan is cut by a grid through all its corners; of all blocks of cells that lie inside it the one taken has the
    greatest area, its longer side counted as MOST_OBLONG has it. A plan without any such block, whose walls all stand
    askew, gets a third of its extent about the mean of its corners.

    >>> label_box(((0, 0), (0, 10), (4, 10), (4, 4), (10, 4), (10, 0)))
    Box(x=2.0, y=5.0, width=4, height=10)
    """
    return max(_blocks(corners), key=_worth, default=None) or _middle(corners)


def contains(corners: tuple[Point, ...], point: Point) -> bool:
    """Whether a point lies in a plan."""
    x, y = point
    inside = False
    for (x0, y0), (x1, y1) in zip(corners, corners[1:] + corners[:1], strict=True):
        if (y0 > y) != (y1 > y) and x < (x1 - x0) * (y - y0) / (y1 - y0) + x0:
            inside = not inside
    return inside


def _blocks(corners: tuple[Point, ...]) -> Iterator[Box]:
    """Blocks of cells of the grid that lie inside the plan, each as high as it can be, from west to east."""
    xs, ys = sorted({x for x, _ in corners}), sorted({y for _, y in corners})
    inside = [
        [_cell_inside(xs[i], ys[j], xs[i + 1], ys[j + 1], corners) for j in range(len(ys) - 1)]
        for i in range(len(xs) - 1)
    ]
    for i0 in range(len(xs) - 1):
        open_rows = [True] * (len(ys) - 1)
        for i1 in range(i0, len(xs) - 1):
            open_rows = [a and b for a, b in zip(open_rows, inside[i1], strict=True)]
            west, east = xs[i0], xs[i1 + 1]
            for j0, j1 in _runs(open_rows):
                south, north = ys[j0], ys[j1 + 1]
                yield Box((west + east) / 2, (south + north) / 2, east - west, north - south)


def _worth(box: Box) -> float:
    return min(box.width, MOST_OBLONG * box.height) * min(box.height, MOST_OBLONG * box.width)


def _middle(corners: tuple[Point, ...]) -> Box:
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    return Box(sum(xs) / len(xs), sum(ys) / len(ys), (max(xs) - min(xs)) / 3, (max(ys) - min(ys)) / 3)


def _runs(flags: list[bool]) -> Iterator[tuple[int, int]]:
    """First and last index of each unbroken run."""
    start = None
    for i, flag in enumerate([*flags, False]):
        if flag and start is None:
            start = i
        elif not flag and start is not None:
            yield start, i - 1
            start = None


def _cell_inside(x0: float, y0: float, x1: float, y1: float, corners: tuple[Point, ...]) -> bool:
    """Whether a cell of the grid lies in the plan: its middle and points just inside its corners do."""
    dx, dy = (x1 - x0) * 0.01, (y1 - y0) * 0.01
    probes = (
        (x0 + dx, y0 + dy),
        (x1 - dx, y0 + dy),
        (x0 + dx, y1 - dy),
        (x1 - dx, y1 - dy),
        ((x0 + x1) / 2, (y0 + y1) / 2),
    )
    return all(contains(corners, p) for p in probes)
