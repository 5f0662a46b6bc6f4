"""The extremes and the nearest assignments against brute force over all assignments."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import milp

from planner.hierarchy import branching, extremes
from planner.hierarchy.branching import Unproved, at_least_apart, best_within
from planner.hierarchy.problem import TIE, Assignment, TierProblem
from planner.hierarchy.tiers import assign
from tests.hierarchy import brute
from tests.hierarchy.test_tiers import problems


def best_of(problem: TierProblem, tiers: np.ndarray, *aims: np.ndarray) -> np.ndarray | None:
    """Of assignments the one with the least of each aim, then of the objective, cost, sum of tiers, tiers by room."""
    for aim in aims:
        if len(tiers):
            tiers, aims = tiers[aim == aim.min()], tuple(other[aim == aim.min()] for other in aims)
    if not len(tiers):
        return None
    total = brute.totals(problem, tiers)
    tied = tiers[total <= total.min() + TIE / 10]
    return min(tied, key=lambda t: (brute.costs(problem, t[None])[0], t.sum(), *t))


def agrees(found: Assignment | None, expected: np.ndarray | None) -> None:
    assert (found is None) == (expected is None)
    assert found is None or found.tiers.tolist() == expected.tolist()


def standing(problem: TierProblem, budget: int | None) -> tuple[TierProblem, Assignment] | None:
    """The problem with a budget, and what stands under it."""
    limited = replace(problem, budget=budget)
    found = assign(limited)
    return found and (limited, found)


@settings(max_examples=100, deadline=None)
@given(problems(), st.none() | st.integers(1, 40))
def test_the_cheapest_costs_least(problem, budget):
    problem = replace(problem, budget=budget)
    tiers = brute.every_assignment(problem)
    agrees(extremes.cheapest(problem), best_of(problem, tiers, brute.costs(problem, tiers)))


@settings(max_examples=100, deadline=None)
@given(problems(), st.data())
def test_most_contrast_has_the_widest_difference_of_averages(problem, data):
    public = np.array(data.draw(st.lists(st.booleans(), min_size=problem.rooms, max_size=problem.rooms)))
    found, tiers = extremes.most_contrast(problem, public), brute.every_assignment(problem)
    if public.all() or not public.any():
        assert found is None
        return
    averages = [round(t[public].mean() - t[~public].mean(), 9) for t in tiers]
    agrees(found, best_of(problem, tiers, -np.array(averages)))
    assert found is None or extremes.contrast(found.tiers, public) == pytest.approx(max(averages))


@settings(max_examples=100, deadline=None)
@given(problems(), st.none() | st.integers(1, 40))
def test_the_gentlest_steps_the_fewest_tiers(problem, budget):
    problem = replace(problem, budget=budget)
    tiers = brute.every_assignment(problem)
    steps = sum((abs(tiers[:, a] - tiers[:, b]) for a, b, _ in problem.steps), np.zeros(len(tiers), int))
    found = extremes.gentlest(problem)
    agrees(found, best_of(problem, tiers, steps))
    if found is not None:
        assert extremes.stepped(problem, found.tiers) == steps.min()
        assert found.total == pytest.approx(brute.totals(problem, found.tiers[None])[0])


@settings(max_examples=120, deadline=None)
@given(problems(), st.data())
def test_what_steps_down_is_every_assignment_of_which_that_is_true(problem, data):
    stands = assign(problem)
    if stands is None:
        return
    rooms = st.lists(st.integers(0, problem.rooms - 1), max_size=2, unique=True)
    above, below = data.draw(rooms), data.draw(rooms)

    def steps_down(tiers: np.ndarray) -> bool:
        apart = all(tiers[high] > tiers[low] for high in above for low in below if high not in below)
        now = stands.tiers
        return apart and all(
            abs(tiers[a] - tiers[b]) <= max(comfort, abs(now[a] - now[b])) for a, b, comfort in problem.steps
        )

    expected = brute.every_assignment(problem)
    expected = expected[[steps_down(t) for t in expected]] if len(expected) else expected
    limited = extremes.stepping_down(problem, stands.tiers, above, below)
    agrees(extremes.cheapest(limited), best_of(problem, expected, brute.costs(problem, expected)))
    agrees(assign(limited), best_of(problem, expected))


@settings(max_examples=100, deadline=None)
@given(problems(), st.integers(1, 4), st.none() | st.integers(1, 40))
def test_the_nearest_are_the_best_at_their_distance_one_after_another(problem, distance, budget):
    if (found := standing(problem, budget)) is None:
        return
    problem, stands = found
    every, taken = brute.every_assignment(problem), [stands.tiers]
    near = [*extremes.nearest(problem, stands.tiers, 3, distance)]
    for at in range(3):
        apart = every[[all((t != other).sum() >= distance for other in taken) for t in every]]
        expected = best_of(problem, apart)
        if expected is None:
            assert len(near) == at
            return
        assert near[at].tiers.tolist() == expected.tolist()
        assert near[at].optimal
        taken.append(expected)
    assert len(near) == 3


@settings(max_examples=60, deadline=None)
@given(problems(), st.data())
def test_a_distance_counts_rooms_whose_tier_differs(problem, data):
    tiers = brute.every_assignment(problem)
    if not len(tiers):
        return
    one, other = (tiers[data.draw(st.integers(0, len(tiers) - 1))] for _ in range(2))
    row = at_least_apart(problem, one, 2)
    x = (np.arange(1, problem.tiers) < other[:, None]).astype(float).ravel()
    assert (row.coefficients[: len(x)] @ x <= row.most) == ((one != other).sum() >= 2)


def test_a_solve_that_needs_more_nodes_than_it_may_have_proves_nothing():
    rng = np.random.default_rng(3)
    rooms = 60
    problem = TierProblem(
        targets=rng.uniform(1, 3, rooms),
        weights=rng.uniform(0.5, 2, rooms),
        lowest=np.ones(rooms, int),
        highest=np.full(rooms, 3),
        costs=np.cumsum(rng.integers(1, 9_999, (rooms, 3)), axis=1) / 100,
        arcs=np.empty((0, 3), int),
        steps=np.empty((0, 3), int),
        penalty=np.empty(0),
        budget=5_000.0,
    )
    with pytest.raises(Unproved):
        best_within(problem, nodes=0)
    assert best_within(problem).optimal


def alike(rooms, budget):
    """Rooms that all ask for the second of three tiers, and may have the first or the second."""
    return TierProblem(
        targets=np.full(rooms, 2.0),
        weights=np.ones(rooms),
        lowest=np.ones(rooms, int),
        highest=np.full(rooms, 2),
        costs=np.tile([1.0, 2.0, 3.0], (rooms, 1)),
        arcs=np.empty((0, 3), int),
        steps=np.empty((0, 3), int),
        penalty=np.empty(0),
        budget=budget,
    )


def test_ties_of_many_rooms_break_by_room_within_few_solves():
    """Forty rooms alike and money for ten of them: the last ten by name rise."""
    problem = alike(rooms=40, budget=50.0)
    assert assign(problem).tiers.tolist() == [1] * 30 + [2] * 10


def test_ties_that_take_more_solves_than_they_may_are_left_as_they_stand(monkeypatch):
    """Twelve rooms alike and money for six: which six is not settled, and nothing else is lost."""
    monkeypatch.setattr(branching, "MOST_TIES", 1)
    monkeypatch.setattr(branching, "FEWEST_TIES", 1)
    problem = alike(rooms=12, budget=18.0)
    solves = []
    monkeypatch.setattr(branching, "milp", lambda *a, **k: solves.append(1) or milp(*a, **k))
    found = assign(problem)
    assert (found.total, found.cost, found.optimal) == (6.0, 18.0, True)
    assert len(solves) <= 8
