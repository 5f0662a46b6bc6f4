"""How large everything is to be: the integer program that keeps the rules between sizes and misses least.

It knows sizes alone, no profiles. Lengths are inches; what is missed is counted in whole sixteenths.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from math import ceil
from typing import Any, TypeAlias

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, linprog, milp
from scipy.sparse import csr_array

from planner.mouldings.outlines import HAIR
from planner.stock.arrays import Floats, Truths, Whole

Size: TypeAlias = str
"""What is measured of an item: one of SIZES, or a role, whose profiles in it are measured up the wall."""

SIZES: tuple[Size, ...] = ("height", "projection")
ABSENT = -1.0
"""What a role measures in an item that has no profile of it."""

UNREAD = 100
"""What a step that cannot be made to read counts, where an element that must be made to order counts 1."""
NODES = 2_000
"""How many nodes of its tree the solver may look at."""
WHOLE_NOISE = 1e-3
"""What the solver may make of a whole number."""


@dataclass(frozen=True)
class Rules:
    """What must hold between the sizes of items, which are known by their places.

    Parameters
    ----------
    shares : how many packages share each item; what it misses counts so often.
    orders : pairs of items of which the first is no larger than the second, and in which size.
    steps : for each step that must read by size alone, the pairs of items, lower and higher, that may show it.
    noticed : the part of the larger height by which the other must be smaller for a step to read.
    proud : by how much the second of an order by projection stands before the first. [in]
    """

    shares: tuple[int, ...]
    orders: tuple[tuple[int, int, Size], ...]
    steps: tuple[tuple[tuple[int, int], ...], ...]
    noticed: float
    proud: float = 0.0

    def sizes_read(self, item: int) -> tuple[Size, ...]:
        """Which of an item's sizes a rule reads."""
        read: set[Size] = {size for low, high, size in self.orders if item in (low, high)}
        if any(item in pair for step in self.steps for pair in step):
            read.add("height")
        return tuple(sorted(read))

    def ordered(self, size: Size, low: Floats, high: Floats) -> Truths:
        """Whether an order is kept by the sizes of its pair of items; what one of them has not keeps it."""
        proud = self.proud if size == "projection" else 0.0
        return np.asarray((low + proud <= high + HAIR) | (high == ABSENT))

    def reads(self, low: Floats, high: Floats) -> Truths:
        """Whether a step reads by the heights of a pair of items."""
        return 1 - low / high > self.noticed


@dataclass(frozen=True)
class Sizes:
    """The sizes that an item may have, a row each.

    `low` and `high` are the same but where a row stands for what is not known yet, which may be of any size.
    `misses` is by how much a row misses its target at least, in sixteenths; `to_order` whether it must be made.
    """

    low: Mapping[Size, Floats]
    high: Mapping[Size, Floats]
    misses: Whole
    to_order: Truths


@dataclass(frozen=True)
class Fit:
    """A row for each item; how many must be made to order or stay unread, and by how much all miss, in sixteenths.

    `bound` is what any rows miss at least that give way no more.
    """

    rows: tuple[int, ...]
    giving: int
    misses: int
    bound: int


def fit(sizes: Sequence[Sizes], rules: Rules, yielding: bool) -> Fit | None:
    """The rows that keep the rules and miss least, None where none do.

    Where it is `yielding`, elements may be made to order and steps may stay unread, but no more than must.
    """
    program = _program(sizes, rules, yielding)
    held: dict[str, int] = {}
    if yielding:
        least = program.least("giving", held)
        if least is None:
            return None
        held["giving"] = least[1]
    found = program.least("misses", held)
    if found is None:
        return None
    rows, misses, bound = found
    return Fit(rows, held.get("giving", 0), misses, bound)


def beyond_least(sizes: Sequence[Sizes], rules: Rules, yielding: bool, giving: int) -> tuple[float, list[Floats]]:
    """What all miss at least, and by how much each row of each item raises that, in sixteenths.

    Both are of the program without whole numbers: no rows that keep the rules miss less than the sum of the two.
    """
    return _program(sizes, rules, yielding).reduced("misses", {"giving": giving} if yielding else {})


class _Program:
    """An integer program under construction: variables from 0 to 1, rows, and what may be minimised.

    Its first variables are the rows of all items; one of them is taken for each item.
    """

    def __init__(self, counts: Sequence[int]) -> None:
        self.ends = np.cumsum(counts)
        self.starts = self.ends - counts
        self.items = np.repeat(np.arange(len(counts)), counts)
        self.width = len(self.items)
        self.terms: list[tuple[Whole, Whole, Floats]] = []
        self.most: list[float] = []
        self.goals: dict[str, Floats] = {}

    def variable(self) -> int:
        """One more variable."""
        self.width += 1
        return self.width - 1

    def rows(self, terms: Sequence[tuple[int, Floats]], most: float) -> None:
        """More rows: sum of coefficient times variable <= most.

        `terms` are the first of some variables that follow upon one another, and their coefficients in each row.
        """
        for first, values in terms:
            row, column = np.nonzero(values)
            self.terms.append((len(self.most) + row, first + column, values[row, column]))
        self.most += [most] * len(terms[0][1])

    def least(self, goal: str, held: Mapping[str, int]) -> tuple[tuple[int, ...], int, int] | None:
        """The rows that make a goal least while others hold theirs, its value, and what it is at least."""
        rows, most = self._matrix(held)
        one = np.ones(len(self.ends))
        result = milp(
            self._cost(goal),
            constraints=[LinearConstraint(self._taken(), one, one), LinearConstraint(rows, -np.inf, most)],
            bounds=Bounds(0, 1),
            integrality=np.ones(self.width, dtype=np.int64),
            options={"mip_rel_gap": 0.0, "node_limit": NODES},
        )
        if result.x is None:
            return None
        picks = tuple(int(np.argmax(x)) for x in np.split(result.x[: self.ends[-1]], self.ends[:-1]))
        value = round(result.fun)
        return picks, value, value if result.status == 0 else ceil(max(result.mip_dual_bound, 0.0) - WHOLE_NOISE)

    def reduced(self, goal: str, held: Mapping[str, int]) -> tuple[float, list[Floats]]:
        """The least of a goal without whole numbers, and by how much each row of each item raises it at least."""
        rows, most = self._matrix(held)
        one, taken = np.ones(len(self.ends)), self._taken()
        result: Any = linprog(self._cost(goal), rows, most, taken, one, bounds=(0, None), method="highs")
        return float(result.fun), np.split(result.lower.marginals[: self.ends[-1]], self.ends[:-1])

    def _cost(self, goal: str) -> Floats:
        return np.pad(self.goals[goal], (0, self.width - len(self.goals[goal])))

    def _matrix(self, held: Mapping[str, int]) -> tuple[Any, Floats]:
        nothing = np.zeros(0, dtype=np.int64)
        terms, most = [(nothing, nothing, np.zeros(0)), *self.terms], list(self.most)
        for goal, value in held.items():
            columns = np.flatnonzero(self.goals[goal])
            terms.append((np.full(len(columns), len(most)), columns, self.goals[goal][columns]))
            most.append(value)
        row, column, coefficient = (np.concatenate(part) for part in zip(*terms, strict=True))
        return csr_array((coefficient, (row, column)), shape=(len(most), self.width)), np.array(most)

    def _taken(self) -> Any:
        taken = (np.ones(len(self.items)), (self.items, np.arange(len(self.items))))
        return csr_array(taken, shape=(len(self.ends), self.width))


def _program(sizes: Sequence[Sizes], rules: Rules, yielding: bool) -> _Program:
    """The program: a variable for each row of each item, and for each pair of a step whether it shows it."""
    program = _Program([len(rows.misses) for rows in sizes])
    for low, high, size in rules.orders:
        over, enough = _thresholds(sizes[low].low[size], sizes[high].high[size], partial(rules.ordered, size))
        program.rows([(program.starts[low], over), (program.starts[high], -enough)], 0.0)
    unread = []
    for pairs in rules.steps:
        shown = [program.variable() for _ in pairs]
        for at, (low, high) in zip(shown, pairs, strict=True):
            over, enough = _thresholds(sizes[low].low["height"], sizes[high].high["height"], rules.reads)
            shows = np.ones((len(over), 1))
            program.rows([(program.starts[low], over), (program.starts[high], -enough), (at, shows)], 1.0)
        if yielding:
            unread.append(program.variable())
            shown.append(unread[-1])
        program.rows([(at, -np.ones((1, 1))) for at in shown] or [(0, np.zeros((1, 1)))], -1.0)
    shares = np.array(rules.shares)[program.items]
    misses = shares * np.concatenate([found.misses for found in sizes])
    giving = np.zeros(program.width)
    giving[: len(shares)] = shares * np.concatenate([found.to_order for found in sizes])
    giving[unread] = UNREAD
    program.goals = {"misses": misses.astype(np.float64), "giving": giving}
    return program


def _thresholds(low: Floats, high: Floats, keeps: Callable[[Floats, Floats], Truths]) -> tuple[Floats, Floats]:
    """For each size from which on fewer rows of the higher item are enough, a row: which rows of the lower item are of
    that size or more, and which of the higher one are enough for it."""
    sizes = np.unique(low)
    enough = keeps(sizes[:, None], high[None, :])
    before = np.vstack([np.ones((1, len(high)), dtype=bool), enough[:-1]])
    fewer = (enough != before).any(axis=1)
    return (low >= sizes[fewer, None]).astype(np.float64), enough[fewer].astype(np.float64)
