"""The best assignment under side conditions, as a mixed-integer program solved to a gap of zero.

Side conditions are rows that no system of difference constraints has: a budget, a distance from other assignments, the
least that something else was found to be. Ties break in the order objective, cost, sum of tiers, tiers by room.
"""

from collections.abc import Sequence
from typing import Any, NamedTuple

import numpy as np
from scipy import sparse
from scipy.optimize import Bounds, LinearConstraint, milp

from planner.hierarchy.problem import TIE, Assignment, Real, TierProblem, Whole, bounds_of, cumulative, keeps, tiers_of

MOST_TIES, FEWEST_TIES, COLUMNS = 200, 4, 200_000
"""Solves that breaking a tie by room may take, after which what stands is kept: at most MOST_TIES; of large problems
only as many as have COLUMNS together, but FEWEST_TIES in any case."""


class Unproved(ArithmeticError):
    """The solver stopped before it had proved anything, as at its limit of nodes."""


class Row(NamedTuple):
    """coefficients . z <= most, over the columns of a problem's program."""

    coefficients: Real
    most: float


def best_within(
    problem: TierProblem,
    aims: Sequence[Real] = (),
    rows: Sequence[Row] = (),
    *,
    nodes: int | None = None,
    by_room: bool = True,
) -> Assignment | None:
    """The best assignment within the budget and the rows, None where there is none.

    Parameters
    ----------
    aims : whole numbers over the columns of the program; each is made least, an earlier one first, then the objective.
    rows : what else must hold.
    nodes : the most nodes of any one solve.
    by_room : whether a tie of objective and cost is broken too.

    Raises
    ------
    Unproved : a solve needs more nodes.
    """
    search = Search(problem, [*rows, *_budget(problem)], nodes)
    for aim in aims:
        if (reached := search.least(aim)) is None:
            return None
        search.hold(aim, reached)
    tiers = search.least(problem.program.objective)
    if tiers is None:
        return None
    total = problem.evaluate(tiers).total
    search.rows.append(Row(problem.program.objective, total - problem.program.constant + TIE / 2))
    for aim in (spend(problem), _height(problem)) if by_room else (spend(problem),):
        if by_room and search.other(tiers, 0, problem.rooms) is None:
            return problem.evaluate(tiers, optimal=True)
        tiers = _or(search.least(aim), tiers)
        search.hold(aim, tiers)
    return problem.evaluate(_lowest_by_room(search, tiers) if by_room else tiers, optimal=True)


def spend(problem: TierProblem) -> Real:
    """What each column of the program adds to the cost, in hundredths."""
    return _padded(problem, np.rint(np.diff(problem.costs, axis=1).ravel() * 100))


def weighed(problem: TierProblem, weights: Real) -> Real:
    """What each column adds to the sum of weights (n,) times tiers."""
    return _padded(problem, np.repeat(weights, problem.tiers - 1))


def at_least_apart(problem: TierProblem, tiers: Whole, distance: int) -> Row:
    """Holds the tiers of at least `distance` rooms to differ from those given.

    Notes
    -----
    A room has tier t where it is above t - 1 and not above t: x[t - 1] - x[t] = 1, and 0 on any other tier. The sum
    over rooms is the number of rooms that are as given.
    """
    same = np.zeros((problem.rooms, problem.tiers + 1))
    rooms = np.arange(problem.rooms)
    same[rooms, tiers - 1] = 1
    same[rooms, tiers] = -1
    always = float(same[:, 0].sum())  # every tier is above 0
    return Row(_padded(problem, same[:, 1:-1].ravel()), problem.rooms - distance - always)


def _height(problem: TierProblem) -> Real:
    return weighed(problem, np.ones(problem.rooms))


def _padded(problem: TierProblem, columns: Real) -> Real:
    """Coefficients of the cumulative variables, with zeros for what is abrupt."""
    return np.concatenate([columns, np.zeros(len(problem.program.objective) - len(columns))])


def _budget(problem: TierProblem) -> list[Row]:
    if problem.budget is None:
        return []
    base = round(float(problem.costs[:, 0].sum()) * 100)
    return [Row(spend(problem), float(np.floor(problem.budget * 100 + 1e-6)) - base)]


def _or(found: Whole | None, otherwise: Whole) -> Whole:
    return otherwise if found is None else found


class Search:
    """Solves over one problem under rows that become more."""

    def __init__(self, problem: TierProblem, rows: Sequence[Row], nodes: int | None) -> None:
        self.problem, self.rows, self.solves = problem, list(rows), 0
        self.low, self.high = bounds_of(problem)
        self.soft = len(problem.program.objective) - len(self.low)
        self.options: Any = {"mip_rel_gap": 0.0} | ({} if nodes is None else {"node_limit": nodes})
        self.possible = bool((problem.lowest <= problem.highest).all())

    def least(self, aim: Real, *more: Row) -> Whole | None:
        """The tiers that make an aim least, None where none keep all rows."""
        if not self.possible:
            return None
        self.solves += 1
        soft = self.soft
        result: Any = milp(
            aim,
            integrality=_padded(self.problem, np.ones(len(self.low))).astype(int),
            bounds=Bounds(
                np.concatenate([self.low, np.zeros(soft)]),
                np.concatenate([self.high, np.full(soft, float(self.problem.tiers))]),
            ),
            constraints=[LinearConstraint(self.problem.program.matrix, -np.inf, 0), *self._constraints(more)],
            options=self.options,
        )
        if result.status == 2:
            return None
        if result.status != 0 or result.x is None:
            raise Unproved("no proof of the best assignment within the budget and the other conditions")
        tiers = tiers_of(self.problem, result.x[: len(self.low)])
        if not keeps(self.problem, tiers):
            raise Unproved("the solver's assignment does not keep every rule")
        return tiers

    def _constraints(self, more: Sequence[Row]) -> list[LinearConstraint]:
        rows = [*self.rows, *more]
        if not rows:
            return []
        stacked: Any = sparse.csr_array(np.array([row.coefficients for row in rows]))
        return [LinearConstraint(stacked, -np.inf, np.array([row.most for row in rows]))]

    def hold(self, aim: Real, tiers: Whole) -> None:
        """Let an aim of whole numbers be no more than it is with these tiers."""
        self.rows.append(Row(aim, self._value(aim, tiers) + 0.5))

    def _value(self, aim: Real, tiers: Whole) -> float:
        return float(np.rint(aim[: len(self.low)] @ cumulative(self.problem, tiers) + self._beyond(aim, tiers)))

    def _beyond(self, aim: Real, tiers: Whole) -> float:
        """What an aim counts of tiers beyond comfort: the variables are by passage and way, as in the program."""
        program, x = self.problem.program, cumulative(self.problem, tiers)
        excess = np.maximum(0, x[program.small] - x[program.large])[len(program.small) - self.soft :]
        return float(aim[len(self.low) :] @ excess)

    def other(self, tiers: Whole, start: int, end: int) -> Whole | None:
        """An assignment that differs in a room from `start` up to `end`, None where all that tie agree there."""
        levels = self.problem.tiers - 1
        span = slice(start * levels, end * levels)
        chosen = cumulative(self.problem, tiers)[span]
        differs = np.zeros(len(self.problem.program.objective))
        differs[span] = np.where(chosen == 1, 1.0, -1.0)
        return self.least(_height(self.problem), Row(differs, chosen.sum() - 1)) if end > start else None

    def settle(self, tiers: Whole, end: int) -> None:
        """Hold the rooms up to `end` at their tiers."""
        span = slice(0, end * (self.problem.tiers - 1))
        self.low, self.high = self.low.copy(), self.high.copy()
        self.low[span] = self.high[span] = cumulative(self.problem, tiers)[span]


def _lowest_by_room(search: Search, tiers: Whole) -> Whole:
    """Of the assignments that tie, the one whose first room is lowest, then the second, and so on.

    Rooms in which none of them differs are found to be so many at once.
    """
    rooms, settled = search.problem.rooms, 0
    most = search.solves + max(FEWEST_TIES, min(MOST_TIES, COLUMNS // len(search.problem.program.objective)))

    def another(end: int) -> Whole | None:
        return search.other(tiers, settled, end) if search.solves < most else None

    while (other := another(rooms)) is not None:
        at = int(np.flatnonzero(other != tiers)[0])
        while (earlier := another(at)) is not None:
            at = int(np.flatnonzero(earlier != tiers)[0])
        search.settle(tiers, at)
        first = weighed(search.problem, (np.arange(rooms) == at).astype(float))
        tiers = _or(search.least(first), tiers)
        settled = at + 1
        search.settle(tiers, settled)
    return tiers
