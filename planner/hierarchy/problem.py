"""The assignment of tiers to rooms as a linear program: what is asked, what an assignment comes to.

With a variable x[r, k] that is 1 where the tier of room r is above k, all of it but the budget is a system of
difference constraints; planner.hierarchy.tiers says what follows from that.
"""

from dataclasses import dataclass, field, fields, replace
from functools import cached_property
from typing import Any, TypeAlias

import numpy as np
import numpy.typing as npt
from scipy import sparse

from planner.values import Kept

Whole: TypeAlias = npt.NDArray[np.int_]
Real: TypeAlias = npt.NDArray[np.float64]
Truths: TypeAlias = npt.NDArray[np.bool_]

TIE = 1e-6
"""Totals closer than this count as tied."""


class _Arrays(Kept):
    """A value that holds arrays: nobody can write to them, in whatever process it is."""

    def __post_init__(self) -> None:
        for one in fields(self):  # type: ignore[arg-type]
            value = getattr(self, one.name)
            if isinstance(value, np.ndarray):
                value.setflags(write=False)


@dataclass(frozen=True, eq=False)
class Assignment(_Arrays):
    """Tiers by room (n,), and what they come to. `optimal` says that no assignment does better was proved."""

    tiers: Whole
    fit: float
    abrupt: float
    cost: float
    optimal: bool

    @property
    def total(self) -> float:
        """Fit plus abrupt."""
        return self.fit + self.abrupt


@dataclass(frozen=True, eq=False)
class TierProblem(_Arrays):
    """What is to be assigned, for n rooms in the order of their names and tiers 1 to K.

    Parameters
    ----------
    targets, weights : (n,) tiers asked for, and how much a room counts.
    lowest, highest : (n,) ranges of tiers, inclusive.
    costs : (n, K) cost of each tier in each room; whole hundredths.
    arcs : (m, 3) rows start, end, bound: tier[end] - tier[start] <= bound; where a bound is below 0, `with_arcs` sees
        to it that the ranges allow for it.
    steps : (p, 3) rows room, room, comfort: passages across which a difference beyond comfort is penalised.
    penalty : (p,) what each tier beyond comfort costs there.
    budget : the most that all rooms may cost, or None.
    shared : the linear program of a problem that differs from this one in nothing but ranges and budget.
    """

    targets: Real
    weights: Real
    lowest: Whole
    highest: Whole
    costs: Real
    arcs: Whole
    steps: Whole
    penalty: Real
    budget: float | None = None
    shared: "Program | None" = field(default=None, repr=False)

    @property
    def rooms(self) -> int:
        """Number of rooms, n."""
        return len(self.targets)

    @property
    def tiers(self) -> int:
        """Number of tiers, K."""
        return int(self.costs.shape[1])

    def with_ranges(self, lowest: Whole, highest: Whole) -> "TierProblem":
        """The same problem with other ranges, each (n,); the linear program is shared."""
        return replace(self, lowest=lowest, highest=highest, shared=self.program)

    def with_arcs(self, arcs: Whole) -> "TierProblem":
        """The same problem with more arcs, (m, 3); with a bound below 0 the end stays that far below the start."""
        start, end, bound = arcs[arcs[:, 2] < 0].T
        lowest, highest = self.lowest.copy(), self.highest.copy()
        np.maximum.at(lowest, start, 1 - bound)
        np.minimum.at(highest, end, self.tiers + bound)
        return replace(self, arcs=np.concatenate([self.arcs, arcs]), lowest=lowest, highest=highest, shared=None)

    @cached_property
    def program(self) -> "Program":
        """The linear program, built once for all problems that differ only in ranges and budget."""
        return self.shared or _program(self)

    def evaluate(self, tiers: Whole, optimal: bool = False) -> Assignment:
        """What an assignment comes to."""
        fit = float(np.sum(self.weights * (tiers - self.targets) ** 2))
        beyond = np.abs(tiers[self.steps[:, 0]] - tiers[self.steps[:, 1]]) - self.steps[:, 2]
        abrupt = float(np.sum(self.penalty * np.maximum(0, beyond)))
        cost = round(float(np.sum(self.costs[np.arange(self.rooms), tiers - 1])), 2)
        return Assignment(tiers, fit, abrupt, cost, optimal)


@dataclass(frozen=True, eq=False)
class Program(_Arrays):
    """min objective . z, matrix z <= 0, over z = (x, y): x the cumulative variables, y what is abrupt.

    Each row says column `small` <= column `large` (+ y for the rows of passages).
    """

    objective: Real
    constant: float
    matrix: Any  # a sparse array, whose stubs the solver's do not take
    small: Whole
    large: Whole
    penalty: Real  # by row: infinite where the row is a rule, else the price of breaking it


def _program(problem: TierProblem) -> Program:
    n, levels = problem.rooms, problem.tiers - 1
    columns = n * levels

    def column(room: Whole, above: Whole) -> Whole:
        """Column of "the tier of `room` is above `above`", above from 1 to K - 1."""
        found: Whole = room * levels + above - 1
        return found

    def staircase(start: Whole, end: Whole, bound: Whole) -> tuple[Whole, Whole, Whole]:
        """tier[end] - tier[start] <= bound as pairs of columns, and which row of the input each comes from."""
        above = np.tile(np.arange(1, levels + 1), len(start))
        which = np.repeat(np.arange(len(start)), levels)
        keep = (above + bound[which] >= 1) & (above + bound[which] <= levels)
        above, which = above[keep], which[keep]
        return column(end[which], above + bound[which]), column(start[which], above), which

    rooms = np.repeat(np.arange(n), levels - 1)
    above = np.tile(np.arange(1, levels), n)
    tightest = _tightest(problem.arcs)
    rule_small, rule_large, _ = staircase(*tightest.T)
    first, second, comfort = problem.steps.T
    both = np.concatenate([first, second]), np.concatenate([second, first]), np.concatenate([comfort, comfort])
    soft_small, soft_large, which = staircase(*both)
    penalty = np.concatenate([problem.penalty, problem.penalty])[which]
    soft = len(penalty)

    small = np.concatenate([column(rooms, above + 1), rule_small, soft_small])
    large = np.concatenate([column(rooms, above), rule_large, soft_large])
    rows = np.arange(len(small))
    excess = np.arange(soft)
    matrix = sparse.csr_array(
        (
            np.concatenate([np.ones(len(small)), -np.ones(len(small)), -np.ones(soft)]),
            (
                np.concatenate([rows, rows, rows[len(rows) - soft :]]),
                np.concatenate([small, large, columns + excess]),
            ),
        ),
        shape=(len(rows), columns + soft),
    )
    misfit = problem.weights[:, None] * (np.arange(1, problem.tiers + 1) - problem.targets[:, None]) ** 2
    return Program(
        objective=np.concatenate([np.diff(misfit, axis=1).ravel(), penalty]),
        constant=float(misfit[:, 0].sum()),
        matrix=matrix,
        small=small,
        large=large,
        penalty=np.concatenate([np.full(len(rows) - soft, np.inf), penalty]),
    )


def _tightest(arcs: Whole) -> Whole:
    """One row for each start and end, with the least bound."""
    if not len(arcs):
        return arcs
    ordered = arcs[np.lexsort((arcs[:, 2], arcs[:, 1], arcs[:, 0]))]
    first = np.ones(len(ordered), bool)
    first[1:] = (ordered[1:, :2] != ordered[:-1, :2]).any(axis=1)
    return ordered[first]


def bounds_of(problem: TierProblem) -> tuple[Real, Real]:
    """Bounds of the cumulative variables that hold every room in its range."""
    return cumulative(problem, problem.lowest), cumulative(problem, problem.highest)


def tiers_of(problem: TierProblem, x: Real) -> Whole:
    """The assignment (n,) that cumulative variables say."""
    tiers: Whole = 1 + np.rint(x).astype(int).reshape(problem.rooms, -1).sum(axis=1)
    return tiers


def cumulative(problem: TierProblem, tiers: Whole) -> Real:
    """The cumulative variables of an assignment."""
    return (np.arange(1, problem.tiers) < tiers[:, None]).astype(float).ravel()


def keeps(problem: TierProblem, tiers: Whole) -> bool:
    """Whether an assignment is within the ranges and keeps every arc."""
    start, end, bound = problem.arcs.T
    return bool(
        (tiers >= problem.lowest).all()
        and (tiers <= problem.highest).all()
        and (tiers[end] - tiers[start] <= bound).all()
    )
