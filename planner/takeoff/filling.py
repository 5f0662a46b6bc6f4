"""Ways to cut that are quick and good: first fit, and bars filled one after another."""

from collections.abc import Iterator, Sequence

import numpy as np

from planner.stock.arrays import Whole
from planner.takeoff.bars import Problem
from planner.takeoff.knapsack import fill

LOOKED_AT = 64
"""How many different sizes are looked at to fill a bar, at most."""


def first_fit(asked: Problem, capacity: int) -> list[Whole]:
    """Patterns by first fit decreasing: each size, the largest first, goes into the first bar that has room for it.

    Parameters
    ----------
    asked : what is to be cut.
    capacity : what each bar gives, which is at least the largest size.

    References
    ----------
    D. S. Johnson, Near-optimal bin packing algorithms (1973).
    """
    room = np.zeros(0, dtype=np.int64)
    patterns: list[Whole] = []
    for at, (size, count) in enumerate(zip(asked.sizes, asked.counts, strict=True)):
        left = count
        fits = np.flatnonzero(room >= size)
        for bar in fits.tolist():
            times = min(left, int(room[bar]) // size)
            patterns[bar][at] += times
            room[bar] -= times * size
            left -= times
            if not left:
                break
        each = capacity // size
        while left:
            times = min(left, each)
            patterns.append(np.zeros(len(asked.sizes), dtype=np.int64))
            patterns[-1][at] = times
            room = np.append(room, capacity - times * size)
            left -= times
    return patterns


def filled(asked: Problem, counts: Sequence[int] | Whole, capacity: int) -> Iterator[Whole]:
    """Patterns of bars that are filled one after another: the largest size that is left, and with it what fills the bar
    fullest, of larger sizes first.

    Parameters
    ----------
    asked : what is to be cut; `counts` says how many of each size are left of it.
    capacity : what each bar gives, which is at least the largest size.

    References
    ----------
    After J. N. D. Gupta and J. C. Ho, A new heuristic algorithm for the one-dimensional bin-packing problem (1999).
    """
    left, sizes = np.array(counts, dtype=np.int64), np.array(asked.sizes, dtype=np.int64)
    while left.any():
        first = int(np.flatnonzero(left)[0])
        room = capacity - asked.sizes[first]
        rest = left.copy()
        rest[first] -= 1
        pattern = np.zeros(len(left), dtype=np.int64)
        pattern[first] = 1
        there = np.flatnonzero((rest > 0) & (sizes <= room))
        if len(there):
            there = there[np.unique(np.linspace(0, len(there) - 1, min(len(there), LOOKED_AT)).round().astype(int))]
            some = tuple(sizes[there].tolist())
            pattern[there] += fill([float(size) for size in some], some, rest[there].tolist(), room).pattern(room)
        times = int((left[pattern > 0] // pattern[pattern > 0]).min())
        for _ in range(times):
            yield pattern
        left -= times * pattern
