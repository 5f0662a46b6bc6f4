"""A part of a wall drawn larger: the head of an opening with its ears and what stands on it, or a chimneypiece.

Lengths in inches, on the wall; what is cut off at the edges of the part has a thin line there.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from planner.drawings.dimensions import NO_MARKS, String, staggered, string, ticks, upright
from planner.drawings.key import key_of
from planner.drawings.scale import Scale
from planner.drawings.scene import Box, Shape, line
from planner.walls.layout import WallLayout
from planner.walls.openings import Surround
from planner.walls.parts import Part

ASIDE, UNDER, OVER = 5.0, 5.0, 3.0
"""How much of the wall is shown beside an opening's trim, under its ears, and over it [in]."""

HALF = 14.0
"""How much of an opening is shown at its head, from the jamb [in]."""

DROP = 10.0
"""How far under its head an opening without ears is shown [in]."""

EARS = (Part.UPRIGHT, Part.UPPER_LEG)


@dataclass(frozen=True)
class Detail:
    """A part of a wall: what is shown of it, and what is measured across and up."""

    layout: WallLayout
    shown: Box
    across: String
    up: String


def head_detail(layout: WallLayout, around: Surround) -> Detail:
    """The upper left corner of an opening's trim, measured at its ears and up to the top of what stands on it."""
    a, ears = around.aperture, [s for s in around.solids if s.part in EARS and s.x1 <= around.aperture.x0 + HALF]
    legs = [s for s in around.solids if s.part is Part.LEG and s.x1 <= a.x0 + HALF]
    heads = [s for s in around.solids if s.part in (Part.HEAD, Part.OVERDOOR, Part.WINDOW_HEAD)]
    low = min((s.y0 for s in ears), default=a.y1 - DROP)
    shown = Box(around.left - ASIDE, low - UNDER, min(a.x0 + HALF, (a.x0 + a.x1) / 2), around.top + OVER)
    xs = [a.x0, *(s.x0 for s in legs), *(s.x0 for s in ears)]
    ys = [a.y1, *(s.y1 for s in heads), *((low,) if ears else ())]
    return Detail(layout, shown, string(xs, layout.unit), string(ys, layout.unit))


def chimneypiece_detail(layout: WallLayout, around: Surround) -> Detail:
    """A whole chimneypiece, from the floor to the top of what stands over it."""
    a, rising = around.aperture, [s for s in around.solids if s.part in (Part.HEAD, Part.MANTEL, Part.MANTEL_SHELF)]
    over = [s for s in around.solids if s.part is Part.OVERMANTEL_FRAME]
    shown = Box(around.left - ASIDE, 0.0, around.right + ASIDE, around.top + OVER)
    ys = [0.0, a.y1, *(s.y1 for s in rising), *(y for s in over for y in (s.y0, s.y1))]
    xs = [
        around.left,
        a.x0,
        a.x1,
        around.right,
        *(x for s in around.solids for x in (s.x0, s.x1) if s.part is Part.LEG),
    ]
    return Detail(layout, shown, string(xs, layout.unit), string(ys, layout.unit))


def measured(detail: Detail, scale: Scale) -> list[Shape]:
    """The strings of a detail, and thin lines where it is cut off."""
    size, b = scale.type("note"), detail.shown
    below, beside = b.y0 - 1.6 * size, b.x0 - 1.6 * size
    edges = [((b.x0, b.y0), (b.x0, b.y1)), ((b.x1, b.y0), (b.x1, b.y1)), ((b.x0, b.y1), (b.x1, b.y1))]
    edges += [((b.x0, b.y0), (b.x1, b.y0))] if b.y0 > 0 else []
    shapes: list[Shape] = [line(one, other, "fine") for one, other in edges]
    if len(detail.across.points) > 1:
        shapes.append(ticks([(x, b.y0) for x in detail.across.points], below, size))
        shapes += staggered(detail.across, below, size)[0]
    if len(detail.up.points) > 1:
        shapes += upright(detail.up, beside, -1, NO_MARKS, size)
    return shapes


def told(layout: WallLayout, around: Surround) -> Sequence[str]:
    """What is said of everything round an opening: its name, its size, how far it stands off the wall."""
    alone = replace(layout, solids=around.solids, surrounds=(around,), obstacles=(), stairs=(), half_turn=None)
    return tuple(key_of([alone]).letters)
