"""Bin-packing instances after published recipes, and the optimum of small cutting problems by trying everything."""

from collections.abc import Sequence
from random import Random

from planner.takeoff.bars import Bar

CAPACITY = 1000


def triplets(bins: int, rng: Random) -> list[int]:
    """Sizes of which three each fill a bin exactly and no two or four do, so that the optimum is the number of bins.

    After E. Falkenauer, A hybrid grouping genetic algorithm for bin packing (1996): the first of three is drawn from
    380 to 490 of 1000, the second from 250 to half of what is left, the third is what is left.
    """
    found = []
    for _ in range(bins):
        first = rng.randint(380, 490)
        second = rng.randint(250, (CAPACITY - first) // 2)
        found += [first, second, CAPACITY - first - second]
    rng.shuffle(found)
    return found


def scattered(count: int, parts: int, spread: float, rng: Random) -> list[int]:
    """Sizes that scatter round a part of 1000.

    After A. Scholl, R. Klein and C. Juergens, BISON (1997), the second data set: sizes scatter evenly by 20, 50 or 90 %
    round a third, a fifth, a seventh or a ninth of the capacity.
    """
    middle = CAPACITY / parts
    return [rng.randint(max(int(middle * (1 - spread)), 1), int(middle * (1 + spread))) for _ in range(count)]


def uniform(count: int, capacity: int, least: int, rng: Random) -> list[int]:
    """Sizes from a least one to 100 of 100, 120 or 150: the first data set of Scholl, Klein and Juergens."""
    return [rng.randint(least, min(100, capacity)) for _ in range(count)]


def cheapest(sizes: Sequence[int], bars: Sequence[Bar]) -> int:
    """The least cost at which all sizes are cut, over every way to part them into bars; for a dozen sizes at most."""
    full = (1 << len(sizes)) - 1
    loads = [sum(size for at, size in enumerate(sizes) if m >> at & 1) for m in range(full + 1)]
    cost = [min((bar.cost for bar in bars if bar.capacity >= load), default=None) for load in loads]
    best = [0] * (full + 1)
    for left in range(1, full + 1):
        first, some, ways = left & -left, left, []
        while some:
            if some & first and cost[some] is not None:
                ways.append(cost[some] + best[left ^ some])
            some = (some - 1) & left
        best[left] = min(ways)
    return best[full]
