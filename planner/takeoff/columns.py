"""The linear relaxation of cutting stock, over all patterns, of which only those that matter are ever written down."""

from collections.abc import Callable, Iterable, Mapping
from typing import Any, NamedTuple

import numpy as np
from highspy import Highs, kHighsInf

from planner.stock.arrays import Floats, Whole
from planner.takeoff.bars import NOISE, Held, Problem
from planner.takeoff.filling import first_fit
from planner.takeoff.knapsack import fill

PRICED = 20
"""How many times patterns that share no size are looked for in one round, at most."""

LIKELY = 40
"""Of how many sizes these are made, those worth most for their length."""

ROUNDS = 400
"""How often prices are made anew, at most; after that once for each relaxation."""

OPTIONS: Mapping[str, Any] = {
    "output_flag": False,
    "threads": 1,
    "solver": "simplex",
    "simplex_strategy": 4,
    "presolve": "off",
}
"""How programs are solved: by the primal simplex method (4), since new columns leave what stands feasible."""


class Relaxed(NamedTuple):
    """What the relaxation comes to.

    `patterns` (numbers of columns) are cut so `often` each; no cut costs less than `bound`; `prices` are what one of
    each size is worth, and `share` what a share of a bar is, so that no pattern is worth more than its bar costs.
    """

    patterns: Whole
    often: Floats
    bound: float
    prices: Floats
    share: float


class _Quiet(Highs):
    """The solver without its callbacks, the making of which is announced on standard output."""

    def __init__(self) -> None:
        super(Highs, self).__init__()
        for option, value in OPTIONS.items():
            self.setOptionValue(option, value)


class Columns:
    """Patterns of a problem that were found so far, each once, and the linear program over them; where shares are held,
    `shares` are those of the patterns, and the program has a row for them.

    The program is solved on from where it stood whenever patterns are added or what is to be cut is changed.

    References
    ----------
    P. C. Gilmore and R. E. Gomory, A linear programming approach to the cutting-stock problem (1961, Part II 1963); the
    bound at any prices after A. A. Farley, A note on bounding a class of linear programming problems (1990).
    """

    def __init__(self, asked: Problem, held: Held | None = None):
        self.asked = asked
        self.each = held.shares if held else (0,) * len(asked.bars)
        self.owed = held.least if held else 0
        self.sizes = np.array(asked.sizes, dtype=np.int64)
        self.patterns = np.zeros((0, len(asked.sizes)), dtype=np.int64)
        self.costs = np.zeros(0, dtype=np.int64)
        self.shares = np.zeros(0, dtype=np.int64)
        self.rounds = 0
        self._known: set[bytes] = set()
        self._program: Any = _Quiet()
        for _ in range(len(asked.sizes) + (held is not None)):
            self._program.addRow(0.0, kHighsInf, 0, np.zeros(0, dtype=np.int32), np.zeros(0))

    def add(self, found: Iterable[Whole]) -> bool:
        """Write down patterns; whether any is new."""
        new = {p.tobytes(): p for p in found}
        fresh = [p for key, p in new.items() if key not in self._known]
        self._known |= set(new)
        if fresh:
            costs = [self.asked.cost_of(p.tolist()) for p in fresh]
            shares = [self.asked.shares_of(p.tolist(), self.each) for p in fresh]
            self.patterns = np.vstack([self.patterns, *fresh])
            self.costs = np.append(self.costs, costs)
            self.shares = np.append(self.shares, shares)
            for pattern, cost, share in zip(fresh, costs, shares, strict=True):
                column = np.append(pattern, share)
                rows = np.flatnonzero(column)
                given = column[rows].astype(np.float64)
                self._program.addCol(float(cost), 0.0, kHighsInf, len(rows), rows.astype(np.int32), given)
        return bool(fresh)

    def relax(
        self, counts: Whole, enough: Callable[[float, float], bool] | None = None, owed: int | None = None
    ) -> Relaxed:
        """The relaxation for so many of each size, of which some are above zero; no pattern gives more than these.
        Where shares are held, `owed` are those that are left to come to: all of them if it is None.

        `enough` is told what the patterns so far come to and the bound so far, and says whether that will do: prices
        need not settle then. Where it is None they do.
        """
        least = self.owed if owed is None else max(owed, 0)
        self._ask(counts, least)
        bound, worth, share = 0.0, np.zeros(len(counts)), 0.0
        while True:
            self.rounds += 1
            self._program.run()
            solution = self._program.getSolution()
            reached = float(self._program.getObjectiveValue())
            settled = enough is not None and enough(reached, bound)
            if not settled:
                duals = np.maximum(np.array(solution.row_dual), 0.0)
                prices, extra = duals[: len(counts)] * (counts > 0), float(duals[len(counts) :].sum())
                found, excess = self._priced(prices, counts, extra)
                if (prices @ counts + extra * least) / excess > bound:
                    bound = float(prices @ counts + extra * least) / excess
                    worth, share = prices / excess, extra / excess
                settled = excess <= 1 + NOISE or self.rounds >= ROUNDS
                settled = settled or (enough is not None and enough(reached, bound)) or not self.add(found)
            if settled:
                often = np.array(solution.col_value)
                used = np.flatnonzero(often > NOISE)
                return Relaxed(used, often[used], bound, worth, share)

    def _ask(self, counts: Whole, owed: int) -> None:
        """Put what is to be cut into the program, without the patterns that give too much; where the others do not give
        every size, what first fit decreasing gives is written down too."""
        usable = (self.patterns <= counts).all(axis=1)
        if ((counts > 0) & ~self.patterns[usable].any(axis=0)).any():
            self.add(first_fit(Problem(self.asked.sizes, tuple(counts.tolist()), self.asked.bars), self.asked.largest))
            usable = (self.patterns <= counts).all(axis=1)
        rows, columns = len(counts), len(self.patterns)
        every, some = np.arange(rows, dtype=np.int32), np.arange(columns, dtype=np.int32)
        self._program.changeRowsBounds(rows, every, counts.astype(np.float64), np.full(rows, kHighsInf))
        if self.owed:
            self._program.changeRowBounds(rows, float(owed), kHighsInf)
        self._program.changeColsBounds(columns, some, np.zeros(columns), np.where(usable, kHighsInf, 0.0))

    def _priced(self, prices: Floats, counts: Whole, share: float) -> tuple[list[Whole], float]:
        """Patterns that are worth more than their bars cost, and how many times its cost a bar is worth at most: the
        best of each bar, and then such as share no size with those before, of the sizes that are worth most."""
        found: list[Whole] = []
        bars = [(bar, share * n) for bar, n in zip(self.asked.bars, self.each, strict=True)]
        excess, left, worth = 1.0, counts.copy(), prices.copy()
        for turn in range(PRICED):
            best = fill(worth.tolist(), self.asked.sizes, left.tolist(), self.asked.largest)
            ratios = [((float(best.values[bar.capacity]) + more) / bar.cost, bar.capacity) for bar, more in bars]
            if turn == 0:
                excess = max(1.0, *(ratio for ratio, _ in ratios))
            over = [best.pattern(capacity) for ratio, capacity in ratios if ratio > 1 + NOISE]
            if not over:
                break
            found += over
            left[over[-1] > 0] = 0
            worth = np.zeros(len(prices))
            likely = np.argsort(-prices * (left > 0) / self.sizes, kind="stable")[:LIKELY]
            worth[likely] = prices[likely]
        return found, excess
