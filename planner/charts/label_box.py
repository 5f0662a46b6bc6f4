"""Where a label can stand in a room."""

from collections.abc import Iterator
from functools import lru_cache
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

    @property
    def ends(self) -> tuple[float, float, float, float]:
        """Its least x and y, then its greatest."""
        dx, dy = self.width / 2, self.height / 2
        return self.x - dx, self.y - dy, self.x + dx, self.y + dy

    def nearest(self, width: float, height: float, point: Point) -> "Box":
        """The box of a size no greater than this one's that lies inside it, as near as can be to a point."""
        dx, dy = (self.width - width) / 2, (self.height - height) / 2
        x, y = (min(max(p, c - d), c + d) for p, c, d in zip(point, (self.x, self.y), (dx, dy), strict=True))
        return Box(x, y, width, height)

    def meets(self, other: "Box") -> bool:
        """Whether two boxes have more than an edge in common."""
        return (
            abs(self.x - other.x) * 2 < self.width + other.width
            and abs(self.y - other.y) * 2 < self.height + other.height
        )

    def shared(self, other: "Box") -> float:
        """The area that two boxes have in common."""
        sides = (
            min(self.ends[axis + 2], other.ends[axis + 2]) - max(self.ends[axis], other.ends[axis]) for axis in (0, 1)
        )
        across, down = (max(0.0, side) for side in sides)
        return across * down


def box_of(points: tuple[Point, ...]) -> Box:
    """The smallest box about points."""
    (x0, x1), (y0, y1) = ((min(each), max(each)) for each in zip(*points, strict=True))
    return Box((x0 + x1) / 2, (y0 + y1) / 2, x1 - x0, y1 - y0)


def corners_of(box: Box) -> tuple[Point, ...]:
    """The corners of a box, in order."""
    x0, y0, x1, y1 = box.ends
    return (x0, y0), (x1, y0), (x1, y1), (x0, y1)


@lru_cache(maxsize=4096)
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
    return max(_blocks(corners, ()), key=_worth, default=None) or _middle(corners)


@lru_cache(maxsize=4096)
def free_boxes(corners: tuple[Point, ...], taken: tuple[Box, ...]) -> tuple[Box, ...]:
    """The largest rectangles inside a room that nothing taken reaches into, none inside another, from west to east.

    >>> free_boxes(((0, 0), (0, 6), (9, 6), (9, 0)), (Box(8, 1, 2, 2),))
    (Box(x=3.5, y=3.0, width=7.0, height=6), Box(x=4.5, y=4.0, width=9, height=4.0))
    """
    found = list(dict.fromkeys(_blocks(corners, taken)))
    return tuple(box for box in found if not any(_inside(box, other) for other in found if other is not box))


def contains(corners: tuple[Point, ...], point: Point) -> bool:
    """Whether a point lies in a plan."""
    x, y = point
    inside = False
    for (x0, y0), (x1, y1) in zip(corners, corners[1:] + corners[:1], strict=True):
        if (y0 > y) != (y1 > y) and x < (x1 - x0) * (y - y0) / (y1 - y0) + x0:
            inside = not inside
    return inside


def _inside(box: Box, other: Box) -> bool:
    (x0, y0, x1, y1), (west, south, east, north) = box.ends, other.ends
    return west <= x0 and x1 <= east and south <= y0 and y1 <= north


def _blocks(corners: tuple[Point, ...], taken: tuple[Box, ...]) -> Iterator[Box]:
    """Blocks of cells of the grid that lie inside the plan, each as high as it can be, from west to east."""
    xs, ys = (_lines(corners, taken, axis) for axis in (0, 1))
    inside = [
        [_cell_free(xs[i], ys[j], xs[i + 1], ys[j + 1], corners, taken) for j in range(len(ys) - 1)]
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


def _lines(corners: tuple[Point, ...], taken: tuple[Box, ...], axis: int) -> list[float]:
    """Where the grid's lines across an axis stand: through the corners of the plan and of what is taken inside it."""
    of_plan = {corner[axis] for corner in corners}
    ends = {end for box in taken for end in (box.ends[axis], box.ends[axis + 2])}
    return sorted(of_plan | {end for end in ends if min(of_plan) < end < max(of_plan)})


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


def _cell_free(x0: float, y0: float, x1: float, y1: float, corners: tuple[Point, ...], taken: tuple[Box, ...]) -> bool:
    """Whether a cell of the grid is free and lies in the plan: its middle and points just inside its corners do."""
    x, y, dx, dy = (x0 + x1) / 2, (y0 + y1) / 2, (x1 - x0) * 0.01, (y1 - y0) * 0.01
    if any(2 * abs(x - box.x) < box.width and 2 * abs(y - box.y) < box.height for box in taken):
        return False
    if len(corners) == 4 and len({x for x, _ in corners}) == len({y for _, y in corners}) == 2:
        return True
    probes = ((x, y), (x0 + dx, y0 + dy), (x1 - dx, y0 + dy), (x0 + dx, y1 - dy), (x1 - dx, y1 - dy))
    return all(contains(corners, p) for p in probes)
