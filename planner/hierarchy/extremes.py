"""Assignments that go as far as the rules allow in one respect: cost, contrast, gentleness, nearness.

Each is exact, keeps the budget, and is the best by the objective of those that go as far.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import product

import numpy as np

from planner.hierarchy.branching import at_least_apart, best_within, spend, weighed
from planner.hierarchy.problem import Assignment, Real, TierProblem, Truths, Whole


def stepping_down(problem: TierProblem, chosen: Whole, above: Sequence[int], below: Sequence[int]) -> TierProblem:
    """The problem of those assignments that still step down.

    Parameters
    ----------
    chosen : (n,) the tiers that stand.
    above, below : rooms of which each of the first stands at least one tier above each of the second; one that is in
        both is left aside.

    Notes
    -----
    No step across a passage may be more abrupt than it is with the tiers that stand: it stays within its comfort, or
    within the difference of now where that is larger already.
    """
    apart = [(high, low, -1) for high, low in product(above, below) if high not in below]
    first, second, comfort = problem.steps.T
    most = np.maximum(comfort, np.abs(chosen[first] - chosen[second]))
    steps = [np.column_stack(ends) for ends in ((first, second, most), (second, first, most))]
    return problem.with_arcs(np.concatenate([np.array(apart, dtype=int).reshape(-1, 3), *steps]))


def cheapest(problem: TierProblem, *, nodes: int | None = None) -> Assignment | None:
    """The assignment that costs least."""
    return best_within(problem, (spend(problem),), nodes=nodes)


def contrast(tiers: Whole, public: Truths) -> float:
    """The average tier of the public rooms less that of the others, both of which there are.

    >>> contrast(np.array([4, 3, 1]), np.array([True, True, False]))
    2.5
    """
    return float(tiers[public].mean() - tiers[~public].mean())


def most_contrast(problem: TierProblem, public: Truths, *, nodes: int | None = None) -> Assignment | None:
    """The assignment of most `contrast`, None too where all rooms are public or none is."""
    many, others = int(public.sum()), int((~public).sum())
    if not many or not others:
        return None
    return best_within(problem, (weighed(problem, np.where(public, -others, many).astype(float)),), nodes=nodes)


def stepped(problem: TierProblem, tiers: Whole) -> int:
    """All tiers by which rooms differ across passages, added."""
    return int(np.abs(tiers[problem.steps[:, 0]] - tiers[problem.steps[:, 1]]).sum())


def gentlest(problem: TierProblem, *, nodes: int | None = None) -> Assignment | None:
    """The assignment of which the least is `stepped`."""
    count = len(problem.steps)
    whole = np.column_stack([problem.steps[:, :2], np.zeros(count, int)])
    twice = replace(
        problem,
        steps=np.concatenate([problem.steps, whole]),
        penalty=np.concatenate([problem.penalty, np.zeros(count)]),
        shared=None,
    )
    found = best_within(twice, (_differences(twice, count),), nodes=nodes)
    return found and problem.evaluate(found.tiers, optimal=True)


def _differences(twice: TierProblem, count: int) -> Real:
    """What each column adds to the differences across the passages that stand in the second half."""
    counted = np.repeat([0.0, 1.0], count)
    alone = replace(twice, weights=np.zeros(twice.rooms), penalty=counted, shared=None)
    return alone.program.objective


def nearest(
    problem: TierProblem, chosen: Whole, count: int, distance: int, *, nodes: int | None = None
) -> Iterator[Assignment]:
    """The best assignments, one after another, that differ from those chosen, and from each other, in the tiers of at
    least `distance` rooms; fewer than `count` where there are no more. Raises Unproved where a solve needs more
    nodes."""
    rows = [at_least_apart(problem, chosen, distance)]
    for _ in range(count):
        near = best_within(problem, rows=rows, nodes=nodes)
        if near is None:
            return
        yield near
        rows.append(at_least_apart(problem, near.tiers, distance))
