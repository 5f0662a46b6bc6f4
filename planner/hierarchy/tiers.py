"""The exact assignment of tiers to rooms.

Minimise  sum over rooms of weight x (tier - target)^2 + sum over passages of penalty x max(0, |difference| - comfort)
subject to a range for each room, arcs `tier[end] - tier[start] <= bound`, and a budget where there is one.

With a variable x[r, k] that is 1 where the tier of room r is above k, all of it but the budget is a system of
difference constraints, so the linear relaxation has integral vertices and its dual proves the optimum. Its minimisers
form a lattice, told by the constraints that the dual shows to be tight, and a sweep over these finds the least of them,
which is the cheapest where cost does not fall as tiers rise. Where it does, a second linear program over the lattice
finds those that are cheapest, again a lattice. So ties break to the cheaper and then to the lower tier. With a budget
it is a mixed-integer program (planner.hierarchy.branching), solved in the order objective, cost, tiers, names.
"""

from dataclasses import replace
from typing import Any, NamedTuple

import numpy as np
from scipy import sparse
from scipy.optimize import linprog
from scipy.sparse.csgraph import breadth_first_order

from planner.hierarchy.branching import best_within
from planner.hierarchy.problem import TIE, Assignment, Real, TierProblem, Truths, Whole, bounds_of, keeps, tiers_of

_DUAL_TOLERANCE = 1e-7


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


def assign(problem: TierProblem, *, nodes: int | None = None) -> Assignment | None:
    """The best assignment, or None where none keeps every rule. Ties break as the module says.

    Parameters
    ----------
    nodes : the most nodes of a solve within a budget.

    Raises
    ------
    ArithmeticError : no proof was found; planner.hierarchy.branching.Unproved where a solve needs more nodes.
    """
    free = _relaxation(problem)
    if free is None or problem.budget is None or free.cost <= problem.budget:
        return free
    return best_within(problem, nodes=nodes)


def _costs_rise(problem: TierProblem) -> bool:
    return bool((np.diff(problem.costs, axis=1) >= 0).all())


def _relaxation(problem: TierProblem) -> Assignment | None:
    """The least of the best assignments, the budget left aside."""
    if (problem.lowest > problem.highest).any():
        return None
    program, (low, high) = problem.program, bounds_of(problem)
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
        found = problem.evaluate(tiers_of(problem, values))
        if keeps(problem, found.tiers) and abs(found.total - bound) <= TIE * (1 + abs(bound)):
            return replace(found, optimal=True)
    raise ArithmeticError("the solver's answer could not be proved best")
