"""The assignment against brute force over all assignments."""

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.hierarchy.problem import TierProblem
from planner.hierarchy.tiers import assign
from tests.hierarchy import brute


@st.composite
def problems(draw: st.DrawFn, budget: bool = False, falling: bool = False) -> TierProblem:
    tiers = draw(st.integers(3, 5))
    rooms = draw(st.integers(1, 9 if tiers == 3 else 6))
    room = st.integers(0, rooms - 1)
    # Coarse grids on purpose, so that ties are common.
    targets = draw(st.lists(st.integers(4, 4 * tiers), min_size=rooms, max_size=rooms))
    weights = draw(st.lists(st.sampled_from([0.5, 1.0, 2.0]), min_size=rooms, max_size=rooms))
    step = st.integers(-2, 2) if falling else st.integers(0, 300)
    steps = draw(st.lists(step, min_size=rooms * tiers, max_size=rooms * tiers))
    low = draw(st.lists(st.integers(1, 2), min_size=rooms, max_size=rooms))
    span = draw(st.lists(st.integers(0, tiers - 1), min_size=rooms, max_size=rooms))
    arcs = [arc for arc in draw(st.lists(st.tuples(room, room, st.integers(0, 2)), max_size=10)) if arc[0] != arc[1]]
    passages = [p for p in draw(st.lists(st.tuples(room, room, st.integers(0, 1)), max_size=8)) if p[0] != p[1]]
    penalty = draw(st.lists(st.sampled_from([0.3, 0.5, 1.5]), min_size=len(passages), max_size=len(passages)))
    costs = np.cumsum(np.array(steps).reshape(rooms, tiers), axis=1) / 100
    lowest = np.array(low)
    problem = TierProblem(
        targets=np.array(targets) / 4,
        weights=np.array(weights),
        lowest=lowest,
        highest=np.minimum(lowest + np.array(span), tiers),
        costs=costs,
        arcs=np.array(arcs, dtype=int).reshape(-1, 3),
        steps=np.array(passages, dtype=int).reshape(-1, 3),
        penalty=np.array(penalty, dtype=float),
        budget=draw(st.integers(0, 900 * rooms)) / 100 if budget else None,
    )
    return problem


def agrees(problem: TierProblem) -> None:
    expected, found = brute.best(problem), assign(problem)
    if expected is None:
        assert found is None
        return
    assert found is not None
    assert found.optimal
    assert found.tiers.tolist() == expected.tolist()
    assert np.isclose(found.total, brute.totals(problem, expected[None])[0], atol=1e-9)
    assert round(found.cost * 100) == brute.costs(problem, expected[None])[0]


@settings(max_examples=250, deadline=None)
@given(problems())
def test_no_assignment_is_better_and_ties_break_as_stated(problem):
    agrees(problem)


@settings(max_examples=200, deadline=None)
@given(problems(falling=True))
def test_ties_break_as_stated_where_a_higher_tier_may_cost_less(problem):
    agrees(problem)


@settings(max_examples=80, deadline=None)
@given(problems(budget=True, falling=True))
def test_no_assignment_within_the_budget_is_better_where_a_higher_tier_may_cost_less(problem):
    agrees(problem)


@settings(max_examples=80, deadline=None)
@given(problems(budget=True))
def test_no_assignment_within_the_budget_is_better(problem):
    agrees(problem)


def test_brute_force_knows_a_case_worked_by_hand():
    """Hall asks for 3, closet for 1, and a limit of 1 between them: 3 and 2, or 2 and 1. The hall weighs more."""
    problem = TierProblem(
        targets=np.array([3.0, 1.0]),
        weights=np.array([2.0, 0.5]),
        lowest=np.array([1, 1]),
        highest=np.array([3, 3]),
        costs=np.array([[1.0, 2.0, 3.0], [1.0, 2.0, 3.0]]),
        arcs=np.array([[0, 1, 1], [1, 0, 1]]),
        steps=np.empty((0, 3), int),
        penalty=np.empty(0),
    )
    assert brute.best(problem).tolist() == [3, 2]
    assert assign(problem).tiers.tolist() == [3, 2]
    assert assign(problem).total == 0.5


def test_where_all_else_ties_the_first_room_by_name_is_the_lower():
    """Two rooms alike, and money for one of them: neither total, nor cost, nor the sum of tiers tells which."""
    alike = {"targets": np.array([2.0, 2.0]), "weights": np.array([1.0, 1.0])}
    problem = TierProblem(
        **alike,
        lowest=np.array([1, 1]),
        highest=np.array([3, 3]),
        costs=np.array([[1.0, 2.0, 3.0], [1.0, 2.0, 3.0]]),
        arcs=np.empty((0, 3), int),
        steps=np.empty((0, 3), int),
        penalty=np.empty(0),
        budget=3.0,
    )
    assert assign(problem).tiers.tolist() == [1, 2]


def test_a_problem_with_other_ranges_shares_the_program_and_not_the_answer():
    problem = TierProblem(
        targets=np.array([3.0]),
        weights=np.array([1.0]),
        lowest=np.array([1]),
        highest=np.array([3]),
        costs=np.array([[1.0, 2.0, 3.0]]),
        arcs=np.empty((0, 3), int),
        steps=np.empty((0, 3), int),
        penalty=np.empty(0),
    )
    lower = problem.with_ranges(np.array([1]), np.array([2]))
    assert lower.program is problem.program
    assert (assign(problem).tiers.tolist(), assign(lower).tiers.tolist()) == ([3], [2])
