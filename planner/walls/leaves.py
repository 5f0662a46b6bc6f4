"""What hangs in an opening, seen from the front: leaves with their panels, sashes with their lights. In inches."""

from collections.abc import Iterator
from typing import Literal, NamedTuple

from planner.library import Library
from planner.library.rows import LeafRow, Leaves, Lights

SASH = 1.75
"""Stiles and rails of a sash [in], common practice."""


class Pane(NamedTuple):
    """A leaf, a panel in one, a sash or a light, as a rectangle on the wall [in]."""

    kind: Literal["leaf", "panel", "sash", "light"]
    x0: float
    x1: float
    y0: float
    y1: float


def leaf(x0: float, x1: float, y0: float, y1: float, name: str, library: Library) -> Iterator[Pane]:
    """A leaf between its edges [in] and its panels, from the bottom up; without panels where its kind is "".

    Examples
    --------
    >>> from planner.library import standard
    >>> panes = list(leaf(0.0, 36.0, 0.0, 80.0, "six panels", standard()))
    >>> panes[0].kind, len(panes), panes[1].x1 - panes[1].x0
    ('leaf', 7, 11.25)
    """
    yield Pane("leaf", x0, x1, y0, y1)
    if not name:
        return
    hung, rows = library.hung, library.leaf(name).rows
    stile = min(hung.stile, (x1 - x0) / 6)
    unit = min(stile, (y1 - y0) / 16)
    heights = _heights(rows, x1 - x0, y1 - y0 - unit, stile, unit, hung)
    foot = y0
    for row, height in zip(rows, heights, strict=True):
        foot += row.rail * unit
        yield from _row(row, x0 + stile, x1 - stile, foot, foot + height, stile, hung)
        foot += height


def sashes(x0: float, x1: float, y0: float, y1: float, lights: tuple[Lights, ...]) -> Iterator[Pane]:
    """Sashes between the edges of a window [in] and their lights: two hung ones that meet halfway, or a single one.

    `lights` are those of the upper and the lower sash, or of the single one.
    """
    middle = (y0 + y1) / 2
    edges = [(middle, y1), (y0, middle)] if len(lights) == 2 else [(y0, y1)]
    for (low, high), one in zip(edges, lights, strict=True):
        yield Pane("sash", x0, x1, low, high)
        by = min(SASH, (x1 - x0) / 6, (high - low) / 6)
        yield from _grid(x0 + by, x1 - by, low + by, high - by, one.columns, one.rows, 0.0, "light")


def _heights(
    rows: tuple[LeafRow, ...], width: float, left: float, stile: float, unit: float, hung: Leaves
) -> tuple[float, ...]:
    """The height of each row of panels; square ones first, the others share what they and the rails leave [in]."""
    left -= sum(row.rail for row in rows) * unit
    square = {
        i: min(row.square * _clear(row, width, stile, hung), left / 4) for i, row in enumerate(rows) if row.square
    }
    shared, shares = left - sum(square.values()), sum(row.share for row in rows)
    return tuple(square.get(i, shared * row.share / shares) for i, row in enumerate(rows))


def _clear(row: LeafRow, width: float, stile: float, hung: Leaves) -> float:
    """Width of one panel of a row [in]."""
    columns = _columns(row, width, hung)
    return (width - stile * (columns + 1)) / columns


def _columns(row: LeafRow, width: float, hung: Leaves) -> int:
    return row.columns if width > hung.narrow or row.glass else 1


def _row(row: LeafRow, x0: float, x1: float, y0: float, y1: float, stile: float, hung: Leaves) -> Iterator[Pane]:
    """The panels or the lights of a row between the stiles."""
    columns = _columns(row, x1 - x0 + 2 * stile, hung)
    if row.glass:
        yield from _grid(x0, x1, y0, y1, columns, row.high, hung.bar, "light")
    else:
        yield from _grid(x0, x1, y0, y1, columns, 1, stile, "panel")


def _grid(
    x0: float, x1: float, y0: float, y1: float, columns: int, rows: int, apart: float, kind: Literal["panel", "light"]
) -> Iterator[Pane]:
    """Equal rectangles side by side and above one another, so far apart [in]."""
    wide, high = ((b - a - apart * (n - 1)) / n for a, b, n in ((x0, x1, columns), (y0, y1, rows)))
    for j in range(rows):
        for i in range(columns):
            left, low = x0 + i * (wide + apart), y0 + j * (high + apart)
            yield Pane(kind, left, left + wide, low, low + high)
