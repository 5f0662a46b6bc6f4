"""Doors, windows and panels as they are seen from the front: lines, and what is dark in an opening. In inches."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple, Protocol

from planner.drawings.scene import Path, polygon, rectangle
from planner.mouldings.curves import Line, Point, Segment
from planner.walls.openings import DOORS, Aperture

REVEAL = 2.0
"""Depth of the shadow that a jamb throws into its opening [in]."""


class Upright(Protocol):
    """An upright rectangle on a wall, by its ends and edges [in]."""

    @property
    def x0(self) -> float: ...
    @property
    def x1(self) -> float: ...
    @property
    def y0(self) -> float: ...
    @property
    def y1(self) -> float: ...


class Expanse(Protocol):
    """A wall by its length and its height [in]."""

    @property
    def length(self) -> float: ...
    @property
    def ceiling(self) -> float: ...


class Pane(NamedTuple):
    """A panel of a door or a sash of a window, as a rectangle [in]."""

    x0: float
    x1: float
    y0: float
    y1: float


def opening_shade(a: Aperture) -> Iterator[Path]:
    """What is seen in an opening, as shades: dark in a firebox, glass, a door's leaf, the room beyond."""
    fill = {"fireplace": "dark", "window": "light"}.get(a.kind, "paper" if a.kind in DOORS else "light")
    yield rectangle(a.x0, a.y0, a.x1 - a.x0, a.y1 - a.y0, "shade", fill, line=False)
    if a.kind != "open":
        by = min(REVEAL, (a.x1 - a.x0) / 4, (a.y1 - a.y0) / 4)
        corners = (
            (a.x0, a.y0), (a.x0 + by, a.y0), (a.x0 + by, a.y1 - by), (a.x1, a.y1 - by), (a.x1, a.y1), (a.x0, a.y1),
        )  # fmt: skip
        yield polygon(corners, "shade", "mid", line=False)


def opening_lines(a: Aperture) -> list[Segment]:
    """The leaves of a door and their panels, the sashes of a window and their bars."""
    if a.kind == "window":
        return _sashes(a)
    segments: list[Segment] = []
    if a.kind in DOORS:
        leaves = 1 if a.kind == "door" else 2
        width = (a.x1 - a.x0) / leaves
        for n in range(leaves):
            x0 = a.x0 + n * width
            if n:
                segments.append(Line((x0, a.y0), (x0, a.y1)))
            segments += _leaf(x0, x0 + width, a.y0, a.y1)
    return segments


def panel_lines(s: Upright, raised: bool) -> list[Segment]:
    """Sticking round a panel, and the field and mitres of one that is raised."""
    if not raised:
        return ring(s, 0.5)
    by = min(2.0, (s.x1 - s.x0) / 4, (s.y1 - s.y0) / 4)
    inner = _inset(s, by)
    return ring(s, 0.5) + ring(s, by) + [Line(a, b) for a, b in zip(_inset(s, 0.5), inner, strict=True)]


def _leaf(x0: float, x1: float, y0: float, y1: float) -> list[Segment]:
    """A leaf of six panels in three rows, of three where it is narrow.

    Top and frieze rails are as wide as the muntin, the bottom rail wider and the lock rail the widest; the top panels
    are not quite square and the middle ones the longest (F. Cousins and P. M. Riley, 1920; figures common practice).
    """
    stile = min(4.5, (x1 - x0) / 6)
    height, columns = y1 - y0, 2 if x1 - x0 > 26 else 1
    clear = (x1 - x0 - stile * (columns + 1)) / columns
    rail = min(stile, height / 16)
    bottom, lock = 1.75 * rail, 2 * rail
    left_over = height - bottom - lock - 2 * rail
    top = min(0.85 * clear, left_over / 4)
    low, middle = (part * (left_over - top) for part in (0.47, 0.53))
    segments: list[Segment] = []
    for n in range(columns):
        left, foot = x0 + stile + n * (clear + stile), y0
        for under, tall in ((bottom, low), (lock, middle), (rail, top)):
            panel = Pane(left, left + clear, foot + under, foot + under + tall)
            segments += ring(panel, 0.0) + ring(panel, min(1.25, clear / 4))
            foot = panel.y1
    return segments


def _sashes(a: Aperture) -> list[Segment]:
    """Two hung sashes, each of lights about as wide as a hand is long; one sash where it is wider than high."""
    hung = a.y1 - a.y0 > a.x1 - a.x0
    middle = (a.y0 + a.y1) / 2
    segments: list[Segment] = []
    for y0, y1 in [(a.y0, middle), (middle, a.y1)] if hung else [(a.y0, a.y1)]:
        sash, width, height = Pane(a.x0, a.x1, y0, y1), a.x1 - a.x0, y1 - y0
        by = min(1.75, width / 6, height / 6)
        segments += ring(sash, 0.0) + ring(sash, by)
        across, up = max(1, round(width / 11)), max(1, round(height / 15))
        xs = [a.x0 + by + (width - 2 * by) * i / across for i in range(1, across)]
        ys = [y0 + by + (height - 2 * by) * i / up for i in range(1, up)]
        segments += [Line((x, y0 + by), (x, y1 - by)) for x in xs]
        segments += [Line((a.x0 + by, y), (a.x1 - by, y)) for y in ys]
    return segments


def closed(corners: Sequence[Point]) -> list[Segment]:
    """The sides of a polygon."""
    return list(map(Line, corners, [*corners[1:], corners[0]]))


def box(low: Point, high: Point) -> list[Segment]:
    """The sides of a rectangle from its lower left to its upper right corner, counter-clockwise."""
    return closed((low, (high[0], low[1]), high, (low[0], high[1])))


def on_sheet(corners: Sequence[Point], wall: Expanse) -> list[Point]:
    """The part of a figure that lies on the wall."""
    found = list(corners)
    for axis, bound, keep in ((0, 0.0, 1), (0, wall.length, -1), (1, 0.0, 1), (1, wall.ceiling, -1)):
        kept: list[Point] = []
        for p, q in zip(found, found[1:] + found[:1], strict=True):
            inside = (p[axis] - bound) * keep >= 0
            if inside:
                kept.append(p)
            if inside != ((q[axis] - bound) * keep >= 0):
                t = (bound - p[axis]) / (q[axis] - p[axis])
                kept.append((p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])))
        found = kept
    return found


def ring(s: Upright, by: float) -> list[Segment]:
    """A rectangle inside another, `by` in from its edges [in]."""
    return box((s.x0 + by, s.y0 + by), (s.x1 - by, s.y1 - by))


def _inset(s: Upright, by: float) -> tuple[Point, ...]:
    return ((s.x0 + by, s.y0 + by), (s.x1 - by, s.y0 + by), (s.x1 - by, s.y1 - by), (s.x0 + by, s.y1 - by))
