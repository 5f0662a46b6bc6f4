"""How large everything is to be: the integer program that keeps the rules between sizes and misses least.

It knows sizes alone, no profiles. Lengths are inches; what is missed is counted in whole sixteenths.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import ceil
from typing import Any, Literal, TypeAlias

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, linprog, milp
from scipy.sparse import csr_array

from planner.mouldings.outlines import HAIR
from planner.stock.arrays import Floats, Truths, Whole

Size: TypeAlias = Literal["height", "projection"]

SIZES: tuple[Size, ...] = ("height", "projection")

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
    """

    shares: tuple[int, ...]
    orders: tuple[tuple[int, int, Size], ...]
    steps: tuple[tuple[tuple[int, int], ...], ...]
    noticed: float

    def sizes_read(self, item: int) -> tuple[Size, ...]:
        """Which of an item's sizes a rule reads."""
        read: set[Size] = {size for low, high, size in self.orders if item in (low, high)}
        if any(item in pair for step in self.steps for pair in step):
            read.add("height")
        return tuple(size for size in SIZES if size in read)

    def no_larger(self, low: Floats, high: Floats) -> Truths:
        """Whether an order is kept by the sizes of its pair of items."""
        return low <= high + HAIR

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
        self.items = np.repeat(np.arange(len(counts)), counts)
        self.width = len(self.items)
        self.terms: list[tuple[int, int, float]] = []
        self.most: list[float] = []
        self.goals: dict[str, list[tuple[int, int]]] = {}

    def variable(self) -> int:
        """One more variable."""
        self.width += 1
        return self.width - 1

    def row(self, terms: Iterable[tuple[int, float]], most: float) -> None:
        """One more row: sum of coefficient times variable <= most."""
        self.terms += [(len(self.most), k, value) for k, value in terms]
        self.most.append(most)

    def least(self, goal: str, held: Mapping[str, int]) -> tuple[tuple[int, ...], int, int] | None:
        """The rows that make a goal least while others hold theirs, its value, and what it is at least."""
        rows, most = self._rows(held)
        one = np.ones(len(self.ends))
        whole: Any = np.ones(self.width)
        result = milp(
            self._cost(goal),
            constraints=[LinearConstraint(self._taken(), one, one), LinearConstraint(rows, -np.inf, most)],
            bounds=Bounds(0, 1),
            integrality=whole,
            options={"mip_rel_gap": 0.0, "node_limit": NODES},
        )
        if result.x is None:
            return None
        picks = tuple(int(np.argmax(x)) for x in np.split(result.x[: self.ends[-1]], self.ends[:-1]))
        value = round(result.fun)
        return picks, value, value if result.status == 0 else ceil(max(result.mip_dual_bound, 0.0) - WHOLE_NOISE)

    def reduced(self, goal: str, held: Mapping[str, int]) -> tuple[float, list[Floats]]:
        """The least of a goal without whole numbers, and by how much each row of each item raises it at least."""
        rows, most = self._rows(held)
        one = np.ones(len(self.ends))
        limits: Any = rows  # the stubs of the solver know no sparse arrays
        taken: Any = self._taken()
        result: Any = linprog(self._cost(goal), limits, most, taken, one, bounds=(0, None), method="highs")
        return float(result.fun), np.split(result.lower.marginals[: self.ends[-1]], self.ends[:-1])

    def _cost(self, goal: str) -> Floats:
        cost = np.zeros(self.width)
        for k, value in self.goals[goal]:
            cost[k] += value
        return cost

    def _rows(self, held: Mapping[str, int]) -> tuple[Any, Floats]:
        terms, most = list(self.terms), list(self.most)
        for goal, value in held.items():
            terms += [(len(most), k, float(amount)) for k, amount in self.goals[goal]]
            most.append(value)
        at, k, value_of = zip(*terms, strict=True) if terms else ((), (), ())
        return csr_array((value_of, (at, k)), shape=(len(most), self.width)), np.array(most)

    def _taken(self) -> Any:
        taken = (np.ones(len(self.items)), (self.items, np.arange(len(self.items))))
        return csr_array(taken, shape=(len(self.ends), self.width))


def _program(sizes: Sequence[Sizes], rules: Rules, yielding: bool) -> _Program:
    """The program: a variable for each row of each item, and for each pair of a step whether it shows it."""
    program = _Program([len(rows.misses) for rows in sizes])
    starts = [0, *program.ends.tolist()]

    def implied(low: int, high: int, size: Size, keeps: Callable[[Floats, Floats], Truths]) -> Iterator[_Terms]:
        for over, enough in _thresholds(sizes[low].low[size], sizes[high].high[size], keeps):
            yield [*((starts[low] + k, 1.0) for k in over), *((starts[high] + k, -1.0) for k in enough)]

    for low, high, size in rules.orders:
        for terms in implied(low, high, size, rules.no_larger):
            program.row(terms, 0.0)
    unread = []
    for pairs in rules.steps:
        shown = [program.variable() for _ in pairs]
        for at, (low, high) in zip(shown, pairs, strict=True):
            for terms in implied(low, high, "height", rules.reads):
                program.row([*terms, (at, 1.0)], 1.0)
        if yielding:
            unread.append(program.variable())
            shown.append(unread[-1])
        program.row([(at, -1.0) for at in shown], -1.0)
    rows = [
        (starts[at] + k, share, int(found.misses[k]), bool(found.to_order[k]))
        for at, (found, share) in enumerate(zip(sizes, rules.shares, strict=True))
        for k in range(len(found.misses))
    ]
    program.goals = {
        "misses": [(k, misses * share) for k, share, misses, _ in rows],
        "giving": [(k, share) for k, share, _, to_order in rows if to_order] + [(k, UNREAD) for k in unread],
    }
    return program


_Terms: TypeAlias = list[tuple[int, float]]


def _thresholds(
    low: Floats, high: Floats, keeps: Callable[[Floats, Floats], Truths]
) -> Iterator[tuple[list[int], list[int]]]:
    """For each size from which on fewer rows of the higher item are enough: the lower one's rows of at least that
    size, and the rows of the higher one that are."""
    sizes = np.unique(low)
    enough = keeps(sizes[:, None], high[None, :])
    before = np.vstack([np.ones((1, len(high)), dtype=bool), enough[:-1]])
    for k in np.flatnonzero((enough != before).any(axis=1)):
        yield np.flatnonzero(low >= sizes[k]).tolist(), np.flatnonzero(enough[k]).tolist()
