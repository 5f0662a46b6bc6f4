"""The exact assignment of tiers to rooms.

Minimise  sum over rooms of weight x (tier - target)^2 + sum over passages of penalty x max(0, |difference| - comfort)
subject to a range for each room, arcs `tier[end] - tier[start] <= bound`, and a budget where there is one.

With a variable x[r, k] that is 1 where the tier of room r is above k, all of it but the budget is a system of
difference constraints, so the linear relaxation has integral vertices and its dual proves the optimum. Its minimisers
form a lattice, told by the constraints that the dual shows to be tight, and a sweep over these finds the least of them,
which is the cheapest where cost does not fall as tiers rise. Where it does, a second linear program over the lattice
finds those that are cheapest, again a lattice. So ties break to the cheaper and then to the lower tier. With a budget
it is a mixed-integer program, solved to a gap of zero in the order objective, cost, tiers, names.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field, fields, replace
from functools import cached_property
from typing import Any, NamedTuple, TypeAlias

import numpy as np
import numpy.typing as npt
from scipy import sparse
from scipy.optimize import Bounds, LinearConstraint, linprog, milp
from scipy.sparse.csgraph import breadth_first_order

from planner.values import Kept

Whole: TypeAlias = npt.NDArray[np.int_]
Real: TypeAlias = npt.NDArray[np.float64]
Truths: TypeAlias = npt.NDArray[np.bool_]

TIE = 1e-6
"""Totals closer than this count as tied."""

_DUAL_TOLERANCE = 1e-7


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
    arcs : (m, 3) rows start, end, bound: tier[end] - tier[start] <= bound, bound >= 0.
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


class _Face(NamedTuple):
    """The best assignments: columns that are 1 in all of them, those that are 1 in any, and rows of columns of which
    the one at the start makes the one at the end 1."""

    low: Truths
    high: Truths
    start: Whole
    end: Whole

    def least(self) -> Real:
        """The columns of the least of them."""
        source = len(self.low)
        first = np.flatnonzero(self.low)
        starts = np.concatenate([np.full(len(first), source), self.start])
        ends = np.concatenate([first, self.end])
        implied = sparse.csr_array((np.ones(len(starts)), (starts, ends)), shape=(source + 1, source + 1))
        x = np.zeros(source + 1)
        x[breadth_first_order(implied, source, return_predecessors=False)] = 1
        return x[:source]

    def cheapest(self, spend: Real) -> "_Face":
        """Those of them that cost least, each column what is given in whole hundredths."""
        rows = np.arange(len(self.start))
        matrix: Any = sparse.csr_array(
            (
                np.concatenate([np.ones(len(rows)), -np.ones(len(rows))]),
                (np.concatenate([rows, rows]), np.concatenate([self.start, self.end])),
            ),
            shape=(len(rows), len(self.low)),
        )
        bounds: Any = np.column_stack([self.low, self.high]).astype(float)
        result: Any = linprog(spend, A_ub=matrix, b_ub=np.zeros(len(rows)), bounds=bounds, method="highs")
        if result.status != 0:
            raise ArithmeticError("the solver found no cheapest of the best assignments")
        back = -result.ineqlin.marginals > 0.5  # prices are whole numbers, as the costs are
        return _Face(
            low=self.low | (self.high & (result.upper.marginals < -0.5)),
            high=self.high,
            start=np.concatenate([self.start, self.end[back]]),
            end=np.concatenate([self.end, self.start[back]]),
        )


def assign(problem: TierProblem) -> Assignment | None:
    """The best assignment, or None where none keeps every rule. Ties break as the module says."""
    free = _relaxation(problem)
    if free is None or problem.budget is None or free.cost <= problem.budget:
        return free
    return _by_branching(problem)


def _costs_rise(problem: TierProblem) -> bool:
    return bool((np.diff(problem.costs, axis=1) >= 0).all())


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
        keep = above + bound[which] <= levels
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


def _bounds(problem: TierProblem) -> tuple[Real, Real]:
    """Bounds of the cumulative variables that hold every room in its range."""
    return _cumulative(problem, problem.lowest), _cumulative(problem, problem.highest)


def _tiers(problem: TierProblem, x: Real) -> Whole:
    tiers: Whole = 1 + np.rint(x).astype(int).reshape(problem.rooms, -1).sum(axis=1)
    return tiers


def _relaxation(problem: TierProblem) -> Assignment | None:
    """The least of the best assignments, the budget left aside."""
    if (problem.lowest > problem.highest).any():
        return None
    program, (low, high) = problem.program, _bounds(problem)
    columns, soft = len(low), len(program.objective) - len(low)
    least, most = np.zeros(soft), np.full(soft, float(problem.tiers))
    bounds: Any = np.column_stack([np.concatenate([low, least]), np.concatenate([high, most])])
    limits = np.zeros(program.matrix.shape[0])
    result: Any = linprog(program.objective, A_ub=program.matrix, b_ub=limits, bounds=bounds, method="highs")
    if result.status == 2:
        return None
    price = -result.ineqlin.marginals
    follows = price < program.penalty - _DUAL_TOLERANCE  # small = 1 makes large = 1
    returns = price > _DUAL_TOLERANCE  # and back, where the row is tight
    face = _Face(
        low=(low == 1) | ((high == 1) & (result.upper.marginals[:columns] < -_DUAL_TOLERANCE)),
        high=(high == 1) & ((low == 1) | (result.lower.marginals[:columns] <= _DUAL_TOLERANCE)),
        start=np.concatenate([program.small[follows], program.large[returns]]),
        end=np.concatenate([program.large[follows], program.small[returns]]),
    )
    if not _costs_rise(problem):
        face = face.cheapest(np.rint(np.diff(problem.costs, axis=1).ravel() * 100))
    x = face.least()
    bound = result.fun + program.constant
    for values in (x, result.x[:columns]):
        found = problem.evaluate(_tiers(problem, values))
        if _keeps(problem, found.tiers) and abs(found.total - bound) <= TIE * (1 + abs(bound)):
            return replace(found, optimal=True)
    raise ArithmeticError("the solver's answer could not be proved best")


def _keeps(problem: TierProblem, tiers: Whole) -> bool:
    start, end, bound = problem.arcs.T
    return bool(
        (tiers >= problem.lowest).all()
        and (tiers <= problem.highest).all()
        and (tiers[end] - tiers[start] <= bound).all()
    )


def _by_branching(problem: TierProblem) -> Assignment | None:
    """The best assignment within the budget, as a mixed-integer program; None where there is none."""
    program, (low, high) = problem.program, _bounds(problem)
    columns, soft = len(low), len(program.objective) - len(low)
    size = columns + soft
    hundredths = np.rint(np.diff(problem.costs, axis=1).ravel() * 100)
    base = round(float(problem.costs[:, 0].sum()) * 100)
    spend = np.concatenate([hundredths, np.zeros(soft)])
    height = np.concatenate([np.ones(columns), np.zeros(soft)])
    rules = [LinearConstraint(program.matrix, -np.inf, 0)]
    if problem.budget is not None:
        rules.append(_at_most(spend, np.floor(problem.budget * 100 + 1e-6) - base))

    def least(aim: Real, rules: Sequence[LinearConstraint], low: Real, high: Real) -> Any:
        return milp(
            aim,
            integrality=height,
            bounds=Bounds(
                np.concatenate([low, np.zeros(soft)]), np.concatenate([high, np.full(soft, float(problem.tiers))])
            ),
            constraints=rules,
            options={"mip_rel_gap": 0.0},
        )

    best = least(program.objective, rules, low, high)
    if best.status == 2:
        return None
    if best.x is None or best.status != 0:
        raise ArithmeticError("no proof of the best assignment within the budget")
    found = problem.evaluate(_tiers(problem, best.x[:columns]), optimal=True)
    rules.append(_at_most(program.objective, found.total - program.constant + TIE / 2))
    for aim, slack in ((spend, 0.5), (height, 0.5)):
        step = least(aim, rules, low, high)
        if step.x is None:
            return found
        found = problem.evaluate(_tiers(problem, step.x[:columns]), optimal=True)
        rules.append(_at_most(aim, round(float(aim[:columns] @ np.rint(step.x[:columns]))) + slack))
    chosen = _cumulative(problem, found.tiers)
    other = np.concatenate([np.where(chosen == 1, 1.0, -1.0), np.zeros(soft)])
    unique = least(height, [*rules, _at_most(other, chosen.sum() - 1)], low, high).x is None
    for room in range(problem.rooms) if not unique else ():
        span = slice(room * (problem.tiers - 1), (room + 1) * (problem.tiers - 1))
        aim = np.zeros(size)
        aim[span] = 1
        step = least(aim, rules, low, high)
        if step.x is None:
            break
        found = problem.evaluate(_tiers(problem, step.x[:columns]), optimal=True)
        low, high = low.copy(), high.copy()
        low[span] = high[span] = _cumulative(problem, found.tiers)[span]
    return found


def _cumulative(problem: TierProblem, tiers: Whole) -> Real:
    """The cumulative variables of an assignment."""
    return (np.arange(1, problem.tiers) < tiers[:, None]).astype(float).ravel()


def _at_most(coefficients: Real, bound: float) -> LinearConstraint:
    return LinearConstraint(sparse.csr_array(coefficients[None, :]), -np.inf, bound)
