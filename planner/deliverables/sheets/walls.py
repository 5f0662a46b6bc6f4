"""Which walls of a room are drawn on paper, and in how many parts. Lengths in inches."""

from collections.abc import Sequence
from itertools import pairwise
from math import ceil

from planner.walls.layout import WallLayout, stretch
from planner.walls.parts import RUNS

CLEAR = 6.0
"""A wall is parted no nearer to an opening than this [in]."""


def plain_walls(layouts: Sequence[WallLayout]) -> tuple[WallLayout, ...]:
    """The walls of a room that need no drawing: nothing but level runs of trim is on them; never all of a room's."""
    plain = tuple(layout for layout in layouts if _is_plain(layout))
    return plain if len(plain) < len(layouts) else tuple(w for w in plain if w is not max(plain, key=_length))


def drawn_walls(layouts: Sequence[WallLayout]) -> tuple[WallLayout, ...]:
    """The others, clockwise."""
    plain = plain_walls(layouts)
    return tuple(layout for layout in layouts if not any(layout is one for one in plain))


def in_parts(layout: WallLayout, widest: float) -> list[tuple[WallLayout, str]]:
    """A wall with its title, in parts as wide as each other where it is wider than that [in], each with its own."""
    title, count = f"{layout.room}, wall {layout.wall}", ceil(layout.length / max(widest, 1.0))
    if count < 2:
        return [(layout, title)]
    cuts = [0.0, *(_clear(layout, layout.length * n / count) for n in range(1, count)), layout.length]
    ends = [(a, b) for a, b in pairwise(cuts) if b - a > CLEAR]
    return [(stretch(layout, a, b), f"{title}, part {n} of {len(ends)}") for n, (a, b) in enumerate(ends, 1)]


def _clear(layout: WallLayout, x: float) -> float:
    """The place nearest to x that is in no opening [in]."""
    for a in layout.apertures:
        if a.x0 - CLEAR < x < a.x1 + CLEAR:
            return min((a.x0 - CLEAR, a.x1 + CLEAR), key=lambda edge: abs(edge - x))
    return x


def _is_plain(layout: WallLayout) -> bool:
    before = layout.apertures or layout.obstacles or layout.stairs or layout.half_turn
    return not before and all(s.part in RUNS for s in layout.solids)


def _length(layout: WallLayout) -> float:
    return layout.length
