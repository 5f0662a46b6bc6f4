"""The linear relaxation of cutting stock, over all patterns, of which only those that matter are ever written down."""

from typing import Any, NamedTuple

import numpy as np
from scipy.optimize import linprog
from scipy.sparse import csc_array

from planner.stock.arrays import Floats, Whole
from planner.takeoff.bars import NOISE, Problem
from planner.takeoff.filling import first_fit
from planner.takeoff.knapsack import fill

PRICED = 20
"""How many patterns that share no size are looked for in one round for each bar, at most."""

ROUNDS = 400
"""How often prices are made anew, at most."""


class Relaxed(NamedTuple):
    """What the relaxation comes to.

    `patterns` (numbers of columns) are cut so `often` each; no cut costs less than `bound`; `prices` are what one of
    each size is worth, so that no pattern is worth more than its bar costs.
    """

    patterns: Whole
    often: Floats
    bound: float
    prices: Floats


class Columns:
    """Patterns of a problem that were found so far, each once.

    References
    ----------
    P. C. Gilmore and R. E. Gomory, A linear programming approach to the cutting-stock problem (1961, Part II 1963); the
    bound at any prices after A. A. Farley, A note on bounding a class of linear programming problems (1990).
    """

    def __init__(self, asked: Problem):
        self.asked = asked
        self.patterns = np.zeros((0, len(asked.sizes)), dtype=np.int64)
        self.costs = np.zeros(0, dtype=np.int64)
        self.rounds = 0
        self._known: set[bytes] = set()

    def add(self, found: list[Whole]) -> bool:
        """Write down patterns; whether any is new."""
        new = {p.tobytes(): p for p in found}
        fresh = [p for key, p in new.items() if key not in self._known]
        self._known |= set(new)
        if fresh:
            self.patterns = np.vstack([self.patterns, *fresh])
            self.costs = np.append(self.costs, [self.asked.cost_of(p.tolist()) for p in fresh])
        return bool(fresh)

    def relax(self, counts: Whole) -> Relaxed:
        """The relaxation for so many of each size, of which some are above zero; no pattern gives more than these."""
        asked = self.asked
        self.add(first_fit(Problem(asked.sizes, tuple(counts.tolist()), asked.bars), asked.largest))
        rows = np.flatnonzero(counts)
        best = 0.0
        while True:
            self.rounds += 1
            usable = np.flatnonzero((self.patterns <= counts).all(axis=1))
            matrix: Any = csc_array(-self.patterns[np.ix_(usable, rows)].T.astype(np.float64))
            solved: Any = linprog(self.costs[usable], A_ub=matrix, b_ub=-counts[rows], method="highs-ds")
            prices = np.zeros(len(counts))
            prices[rows] = np.maximum(-solved.ineqlin.marginals, 0.0)
            found, excess = self._priced(prices, counts)
            best = max(best, float(prices @ counts) / excess)
            done = excess <= 1 + NOISE or self.rounds >= ROUNDS or not self.add(found)
            if done:
                return Relaxed(usable, solved.x, best, prices / excess)

    def _priced(self, prices: Floats, counts: Whole) -> tuple[list[Whole], float]:
        """Patterns that are worth more than their bars cost, and how many times its cost a bar is worth at most."""
        found: list[Whole] = []
        excess, left = 1.0, counts.copy()
        for turn in range(PRICED):
            best = fill(prices.tolist(), self.asked.sizes, left.tolist(), self.asked.largest)
            worth = [(float(best.values[bar.capacity]) / bar.cost, bar.capacity) for bar in self.asked.bars]
            if turn == 0:
                excess = max(1.0, *(ratio for ratio, _ in worth))
            over = [best.pattern(capacity) for ratio, capacity in worth if ratio > 1 + NOISE]
            if not over:
                break
            found += over
            left[over[-1] > 0] = 0
        return found, excess
