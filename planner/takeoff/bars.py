"""What is to be cut from what: the one-dimensional cutting-stock problem in whole units, and its answers.

A unit is whatever the caller takes it for; sizes, loads and capacities are in units, costs in whole numbers.
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property, reduce
from itertools import pairwise
from math import gcd
from typing import NamedTuple

import numpy as np

from planner.stock.arrays import Whole
from planner.values import immutabledict

NOISE = 1e-6
"""What a solver may make of a whole number."""

LEAST_SHARE, MOST_SHARES = 10, 200
"""What a share costs at least, so that it is more than what is rounded, and how many the smallest bar has at most."""

Pattern = tuple[int, ...]
"""How many of each size of a problem one bar gives."""


class Bar(NamedTuple):
    """A bar that can be bought: what it gives, and what it costs."""

    capacity: int
    cost: int


@dataclass(frozen=True)
class Problem:
    """What is to be cut.

    Parameters
    ----------
    sizes : the different sizes, falling.
    counts : how many of each.
    bars : what can be bought, from the smallest and cheapest up: each gives more than the one before, and costs more.
    """

    sizes: tuple[int, ...]
    counts: tuple[int, ...]
    bars: tuple[Bar, ...]

    @cached_property
    def largest(self) -> int:
        """The capacity of the largest bar."""
        return self.bars[-1].capacity

    @cached_property
    def step(self) -> int:
        """What all costs are multiples of."""
        return reduce(gcd, (bar.cost for bar in self.bars))

    @cached_property
    def total(self) -> int:
        """All sizes together."""
        return sum(size * count for size, count in zip(self.sizes, self.counts, strict=True))

    def bar_for(self, load: int) -> Bar:
        """The cheapest bar that gives as much as a load."""
        return next(bar for bar in self.bars if bar.capacity >= load)

    def cost_of(self, pattern: Sequence[int]) -> int:
        """Cost of the cheapest bar that gives a pattern."""
        return self.bar_for(load(pattern, self.sizes)).cost

    def shares_of(self, pattern: Sequence[int], shares: Sequence[int]) -> int:
        """The share of the cheapest bar that gives a pattern, of those of all bars."""
        return shares[self.bars.index(self.bar_for(load(pattern, self.sizes)))]

    def rounded_up(self, bound: float) -> int:
        """The least that any choice of bars can cost that costs no less than a bound."""
        return -int(-(bound - NOISE * max(1.0, self.step)) // self.step) * self.step


def problem(sizes: Iterable[int], bars: Iterable[Bar]) -> Problem:
    """The problem of cutting every one of some sizes from bars of which there is no end.

    Raises
    ------
    ValueError : a size is not above zero, or larger than what any bar gives; a bar costs nothing.

    Examples
    --------
    >>> problem([3, 5, 3], [Bar(10, 7), Bar(8, 9), Bar(6, 5)])
    Problem(sizes=(5, 3), counts=(1, 2), bars=(Bar(capacity=6, cost=5), Bar(capacity=10, cost=7)))
    """
    counted = sorted(Counter(sizes).items(), reverse=True)
    useful: list[Bar] = []
    for bar in sorted(bars, key=lambda b: (-b.capacity, b.cost)):
        if bar.cost <= 0:
            raise ValueError("a bar must cost more than nothing")
        if not useful or bar.cost < useful[-1].cost:
            useful.append(bar)
    if counted and (counted[-1][0] <= 0 or not useful or counted[0][0] > useful[0].capacity):
        raise ValueError("a size is above zero, and no larger than what the largest bar gives")
    return Problem(tuple(s for s, _ in counted), tuple(n for _, n in counted), tuple(useful[::-1]))


def shares(bars: Sequence[Bar]) -> tuple[int, ...]:
    """The smallest whole numbers that the costs of bars are in proportion to, but that each is rounded by a half at
    most; none where there are no such numbers, or where costs are in proportion as they are.

    Examples
    --------
    >>> shares([Bar(1503, 1178), Bar(1881, 1473), Bar(2259, 1768), Bar(3015, 2357)])
    (4, 5, 6, 8)
    >>> shares([Bar(1528, 2120), Bar(1912, 2650)])
    ()
    """
    costs = [bar.cost for bar in bars]
    step = reduce(gcd, costs, 0)
    for first in range(1, min(costs[0] // LEAST_SHARE, MOST_SHARES) + 1):
        found = tuple(round(cost * first / costs[0]) for cost in costs)
        if found[0] * step == costs[0]:
            return ()
        low = max((2 * cost - 1) / (2 * share) for cost, share in zip(costs, found, strict=True))
        high = min((2 * cost + 1) / (2 * share) for cost, share in zip(costs, found, strict=True))
        if low <= high and all(a < b for a, b in pairwise(found)):
            return found
    return ()


class Held(NamedTuple):
    """What is known of all answers to a problem: that their bars, which have `shares` each, have so many at `least`."""

    shares: tuple[int, ...]
    least: int


def load(pattern: Sequence[int], sizes: Sequence[int]) -> int:
    """What a pattern takes of a bar."""
    return sum(n * size for n, size in zip(pattern, sizes, strict=True) if n)


@dataclass(frozen=True)
class Answer:
    """How everything is cut.

    Parameters
    ----------
    patterns : how often each pattern is cut, each from the cheapest bar that gives it.
    cost : what the bars cost.
    bound : no choice of bars costs less.
    """

    patterns: immutabledict[Pattern, int]
    cost: int
    bound: int

    @property
    def proved(self) -> bool:
        """Whether nothing is cheaper."""
        return self.bound >= self.cost


def answer(asked: Problem, patterns: Iterable[Whole], bound: int) -> Answer:
    """The answer that cuts some patterns, of which none need give more than is asked for: what is too much is left
    out."""
    left = np.array(asked.counts, dtype=np.int64)
    kept: Counter[Pattern] = Counter()
    for pattern in patterns:
        given: Whole = np.minimum(pattern, left)
        if given.any():
            left -= given
            kept[tuple(given.tolist())] += 1
    cost = sum(asked.cost_of(pattern) * times for pattern, times in kept.items())
    return Answer(immutabledict(kept), cost, min(bound, cost))
