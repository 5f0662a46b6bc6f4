"""Doors, windows and panels as they are seen from the front: lines, and what is dark in an opening. In inches."""

from collections.abc import Iterator
from typing import Protocol

from planner.drawings.scene import Box, Path, Polygon, polygon, rectangle
from planner.mouldings.curves import Line, Segment
from planner.walls.openings import DOORS, Surround

REVEAL = 2.0
"""Depth of the shadow that a jamb throws into its opening [in]."""


STICKING = {"panel": 1.25}
"""How wide the moulding round a pane shows, by its kind [in]."""


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


def opening_shade(around: Surround) -> Iterator[Path]:
    """What is seen in an opening, as shades: dark in a firebox, glass, a door's leaf, the room beyond."""
    a = around.aperture
    fill = {"fireplace": "dark", "window": "light"}.get(a.kind, "paper" if a.kind in DOORS else "light")
    yield rectangle(a.x0, a.y0, a.x1 - a.x0, a.y1 - a.y0, "shade", fill, line=False)
    for pane in around.filling if a.kind in DOORS else ():
        if pane.kind == "light":
            yield rectangle(pane.x0, pane.y0, pane.x1 - pane.x0, pane.y1 - pane.y0, "shade", "light", line=False)
    if a.kind != "open":
        by = min(REVEAL, (a.x1 - a.x0) / 4, (a.y1 - a.y0) / 4)
        corners = (
            (a.x0, a.y0), (a.x0 + by, a.y0), (a.x0 + by, a.y1 - by), (a.x1, a.y1 - by), (a.x1, a.y1), (a.x0, a.y1),
        )  # fmt: skip
        yield polygon(corners, "shade", "mid", line=False)


def opening_lines(around: Surround) -> list[Box]:
    """The leaves of a door and their panels, the sashes of a window and their lights."""
    found: list[Box] = []
    for pane in around.filling:
        found.append(inset(pane, 0.0))
        if (by := STICKING.get(pane.kind)) is not None:
            found.append(inset(pane, min(by, (pane.x1 - pane.x0) / 4, (pane.y1 - pane.y0) / 4)))
    return found


def panel_lines(s: Upright, raised: bool) -> list[Segment | Polygon]:
    """Sticking round a panel, and the field and mitres of one that is raised."""
    sticking = inset(s, 0.5)
    if not raised:
        return [sticking]
    field = inset(s, min(2.0, (s.x1 - s.x0) / 4, (s.y1 - s.y0) / 4))
    return [sticking, field, *map(Line, sticking.corners, field.corners)]


def inset(s: Upright, by: float) -> Box:
    """A rectangle inside another, `by` in from its edges [in]."""
    return Box(s.x0 + by, s.y0 + by, s.x1 - by, s.y1 - by)
