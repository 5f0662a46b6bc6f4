"""What fits a bar best, by value: the bounded knapsack, for every capacity at once."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from planner.stock.arrays import Floats, Truths, Whole

LEAST = 1e-11
"""What is worth less than this is worth nothing."""


@dataclass(frozen=True)
class Fill:
    """The best fillings of all capacities from 0.

    `values` are what each capacity can hold at most, rising; `lots` are the sizes in lots (which size, how many), and
    `takes` says of each lot whether the best filling of a capacity with the lots up to it takes it.
    """

    values: Floats
    sizes: tuple[int, ...]
    lots: tuple[tuple[int, int], ...]
    takes: Truths

    def pattern(self, capacity: int) -> Whole:
        """How many of each size the best filling of a capacity has."""
        found = np.zeros(len(self.sizes), dtype=np.int64)
        for row in range(len(self.lots) - 1, -1, -1):
            if self.takes[row, capacity]:
                size, times = self.lots[row]
                found[size] += times
                capacity -= times * self.sizes[size]
        return found


def fill(values: Sequence[float], sizes: tuple[int, ...], most: Sequence[int], capacity: int) -> Fill:
    """The best fillings of all capacities up to one.

    Parameters
    ----------
    values : of one of each size; what has none is left out.
    sizes : in whole units.
    most : how many of each there are.
    capacity : the largest.

    Notes
    -----
    Dynamic programming over lots of 1, 2, 4, ... of each size, so that every number up to the most is a choice of lots
    (G. B. Mathews, On the partition of numbers, 1897; the lots are from memory). It takes capacity times lots steps.

    Examples
    --------
    >>> best = fill([3.0, 2.0], (5, 3), [1, 2], 9)
    >>> best.values[9], best.pattern(9)
    (np.float64(5.0), array([1, 1]))
    """
    lots = tuple(lot for lot in _lots(values, sizes, most, capacity))
    best = np.zeros(capacity + 1)
    takes = np.zeros((len(lots), capacity + 1), dtype=bool)
    for row, (size, times) in enumerate(lots):
        wide = times * sizes[size]
        with_it = best[: capacity + 1 - wide] + times * values[size]
        np.greater(with_it, best[wide:], out=takes[row, wide:])
        np.maximum(best[wide:], with_it, out=best[wide:])
    return Fill(best, sizes, lots, takes)


def _lots(values: Sequence[float], sizes: Sequence[int], most: Sequence[int], capacity: int) -> list[tuple[int, int]]:
    """The sizes in lots of 1, 2, 4, ... and what is left, none larger than the capacity."""
    found = []
    for at, (value, size, count) in enumerate(zip(values, sizes, most, strict=True)):
        left, lot = (min(count, capacity // size), 1) if value > LEAST else (0, 1)
        while left > 0:
            found.append((at, min(lot, left)))
            left -= lot
            lot *= 2
    return found
