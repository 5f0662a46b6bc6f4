"""Where the levels of a house stand on a sheet, all at one scale."""

from collections.abc import Mapping, Sequence
from math import inf
from typing import NamedTuple

from planner.charts.rooms import RoomRow
from planner.house.model import Point

MARGIN = 10.0
"""Pixels kept free round a level."""

HEAD = 20.0
"""Pixels above a level for its name, where there are several."""


LEAST_SCALE = 0.01
"""Pixels an inch of a sheet that is too small for its levels."""


class Extent(NamedTuple):
    """The rectangle about a level's rooms: its north-west corner and its sides [in]."""

    west: float
    north: float
    length: float
    depth: float


class Place(NamedTuple):
    """Where a level stands: its name and north-west corner on the sheet [px], that on the plan [in], px an inch."""

    name: Point
    left: float
    top: float
    west: float
    north: float
    scale: float

    def on_sheet(self, point: Point) -> Point:
        """A point of the plan on the sheet [px]."""
        x, y = point
        return round(self.left + (x - self.west) * self.scale, 1), round(self.top + (self.north - y) * self.scale, 1)


def extents(rooms: Sequence[RoomRow]) -> dict[str, Extent]:
    """The extent of each level that has rooms."""
    found = {}
    for level in dict.fromkeys(r["level"] for r in rooms):
        corners = [p for r in rooms if r["level"] == level for p in r["outline"]]
        xs, ys = [x for x, _ in corners], [y for _, y in corners]
        found[level] = Extent(min(xs), max(ys), max(xs) - min(xs), max(ys) - min(ys))
    return found


def places(
    levels: Mapping[str, Extent], width: float, *, top: float, height: float = inf, across: bool | None = None
) -> tuple[dict[str, Place], float]:
    """Where each level stands, at the largest scale that fits, and where the lowest of them ends [px].

    Parameters
    ----------
    levels : at least one.
    width : of the sheet [px].
    top : where the first row begins [px].
    height : the most that all rows may take [px].
    across : levels side by side, or one below the other; None for what is the larger, in as many columns as may be.
    """
    head = HEAD if len(levels) > 1 else 0.0
    columns = {True: [len(levels)], False: [1], None: range(1, len(levels) + 1)}[across]
    ways = [_rows(list(levels.items()), each) for each in columns]
    rows = max(ways, key=lambda rows: _scale(rows, width, height, head))
    scale, found = _scale(rows, width, height, head), {}
    for row in rows:
        left = MARGIN
        for level, (west, north, length, _) in row:
            found[level] = Place((left, top + 8), left, top + head + MARGIN, west, north, scale)
            left += length * scale + 2 * MARGIN
        top += head + 2 * MARGIN + _depth(row) * scale
    return found, top


Row = Sequence[tuple[str, Extent]]


def _rows(levels: Row, columns: int) -> list[Row]:
    return [levels[i : i + columns] for i in range(0, len(levels), columns)]


def _depth(row: Row) -> float:
    return max(extent.depth for _, extent in row)


def _scale(rows: Sequence[Row], width: float, height: float, head: float) -> float:
    """The scale at which rows of levels fill a sheet [px/in]."""
    across = min((width - 2 * MARGIN * len(row)) / sum(extent.length for _, extent in row) for row in rows)
    down = (height - (head + 2 * MARGIN) * len(rows)) / sum(map(_depth, rows))
    return max(min(across, down), LEAST_SCALE)
