"""Every assignment tried: slow, obvious, and independent of the solver."""

from itertools import product

import numpy as np

from planner.hierarchy.problem import TIE, TierProblem


def every_assignment(problem: TierProblem) -> np.ndarray:
    """All assignments within the ranges that keep every arc and the budget, (count, n)."""
    ranges = [range(low, high + 1) for low, high in zip(problem.lowest, problem.highest, strict=True)]
    tiers = np.array(list(product(*ranges)), dtype=int).reshape(-1, problem.rooms)
    keep = np.ones(len(tiers), bool)
    for start, end, bound in problem.arcs:
        keep &= tiers[:, end] - tiers[:, start] <= bound
    if problem.budget is not None:
        keep &= costs(problem, tiers) <= round(problem.budget * 100)
    return tiers[keep]


def totals(problem: TierProblem, tiers: np.ndarray) -> np.ndarray:
    """Objective of each assignment, summed term by term."""
    total = np.zeros(len(tiers))
    for room in range(problem.rooms):
        total += problem.weights[room] * (tiers[:, room] - problem.targets[room]) ** 2
    for (a, b, comfort), penalty in zip(problem.steps, problem.penalty, strict=True):
        total += penalty * np.maximum(0, np.abs(tiers[:, a] - tiers[:, b]) - comfort)
    return total


def costs(problem: TierProblem, tiers: np.ndarray) -> np.ndarray:
    """Cost of each assignment in whole hundredths."""
    cents = np.rint(problem.costs * 100).astype(int)
    return sum((cents[room, tiers[:, room] - 1] for room in range(problem.rooms)), np.zeros(len(tiers), int))


def best(problem: TierProblem) -> np.ndarray | None:
    """The best assignment: least total, then least cost, then lowest tiers, then lowest in the order of the rooms."""
    tiers = every_assignment(problem)
    if not len(tiers):
        return None
    total = totals(problem, tiers)
    tied = tiers[total <= total.min() + TIE / 10]
    order = sorted(range(len(tied)), key=lambda i: (costs(problem, tied[i : i + 1])[0], tied[i].sum(), *tied[i]))
    return tied[order[0]]
