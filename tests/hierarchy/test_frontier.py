"""The frontier against brute force over all assignments, whole and bounded."""

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.hierarchy.frontier import KNEE, Frontier, frontier
from planner.hierarchy.problem import TIE, Assignment, TierProblem
from planner.hierarchy.tiers import assign
from tests.hierarchy import brute
from tests.hierarchy.test_tiers import problems


def every_point(problem: TierProblem) -> list[tuple[int, float]]:
    """Cost in hundredths and objective of every point of the frontier, the cheapest first."""
    tiers = brute.every_assignment(problem)
    found: list[tuple[int, float]] = []
    for cost, total in sorted(zip(brute.costs(problem, tiers), brute.totals(problem, tiers), strict=True)):
        if not found or total < found[-1][1] - TIE:
            found.append((int(cost), float(total)))
    return found


def read(found: Frontier) -> list[tuple[int, float]]:
    return [(round(point.cost * 100), point.total) for point in found.points]


def alike(some: list[tuple[int, float]], others: list[tuple[int, float]]) -> bool:
    return [cost for cost, _ in some] == [cost for cost, _ in others] and bool(
        np.allclose([total for _, total in some], [total for _, total in others], atol=1e-9)
    )


@settings(max_examples=150, deadline=None)
@given(problems())
def test_the_frontier_is_every_assignment_that_no_other_beats(problem):
    expected, found = every_point(problem), frontier(problem, solves=500)
    if not expected:
        assert found is None
        return
    assert alike(read(found), expected)
    assert found.whole
    assert all(brute.costs(problem, p.tiers[None])[0] == round(p.cost * 100) for p in found.points)


@settings(max_examples=60, deadline=None)
@given(problems(falling=True))
def test_the_frontier_is_whole_where_a_higher_tier_may_cost_less(problem):
    expected, found = every_point(problem), frontier(problem, solves=500)
    assert found is None if not expected else alike(read(found), expected) and found.whole


@settings(max_examples=100, deadline=None)
@given(problems(), st.integers(0, 12))
def test_of_few_solves_the_gap_is_what_is_said(problem, solves):
    expected, found = every_point(problem), frontier(problem, solves=solves)
    if not expected:
        assert found is None
        return
    listed = read(found)
    assert {cost for cost, _ in listed} <= {cost for cost, _ in expected}
    missed = max((min(at for price, at in listed if price <= cost) - total for cost, total in expected), default=0.0)
    assert missed <= found.gap + TIE
    assert len(listed) == len(expected) or not found.whole


@settings(max_examples=60, deadline=None)
@given(problems(), st.integers(0, 900))
def test_a_known_point_of_it_is_listed_however_few_the_solves(problem, budget):
    within = TierProblem(**{**vars_of(problem), "budget": float(budget)})
    known = assign(within)
    if known is not None:
        found = frontier(problem, [known], solves=0)
        assert known.cost in [point.cost for point in found.points]


def vars_of(problem: TierProblem) -> dict:
    names = ("targets", "weights", "lowest", "highest", "costs", "arcs", "steps", "penalty")
    return {name: getattr(problem, name) for name in names}


def test_the_budget_of_a_problem_is_left_aside():
    problem = TierProblem(**vars_of(bent()), budget=4.0)
    assert read(frontier(problem)) == read(frontier(bent()))


def bent() -> TierProblem:
    """Ten rooms that ask for tier 2: the first few cost little and weigh much, the others the other way about."""
    rooms, cheap = 10, np.arange(10) < 5
    price = np.where(cheap, 1.0, 9.0)
    return TierProblem(
        targets=np.full(rooms, 2.0),
        weights=np.where(cheap, 9.0, 1.0),
        lowest=np.ones(rooms, int),
        highest=np.full(rooms, 2),
        costs=np.column_stack([np.zeros(rooms), price, price + 1]),
        arcs=np.empty((0, 3), int),
        steps=np.empty((0, 3), int),
        penalty=np.empty(0),
    )


def test_the_knee_is_where_it_was_made():
    """Five rooms for 1 each gain 9 each, five for 9 each gain 1: the frontier bends at a cost of 5."""
    found = frontier(bent())
    assert [(p.cost, p.total) for p in found.points][:7] == [
        *((float(k), 50.0 - 9 * k) for k in range(6)),
        (14.0, 4.0),
    ]
    assert found.knees == (5,)


@settings(max_examples=80, deadline=None)
@given(problems())
def test_the_first_knee_lies_farthest_below_the_chord_of_the_whole(problem):
    found, expected = frontier(problem, solves=3), every_point(problem)
    if found is None or len(expected) < 3:
        return
    (c0, t0), (c1, t1) = expected[0], expected[-1]

    def below(cost: float, total: float) -> float:
        return (1 - (cost - c0) / (c1 - c0) - (total - t1) / (t0 - t1)) / np.sqrt(2)

    farthest = max(below(*point) for point in expected)
    if farthest >= KNEE + 1e-6:
        assert np.isclose(below(*read(found)[found.knees[0]]), farthest, atol=1e-6)
    elif farthest < KNEE - 1e-6:
        assert found.knees == ()


def test_a_straight_frontier_has_no_knee():
    straight = TierProblem(**{**vars_of(bent()), "weights": np.ones(10), "costs": np.tile([0.0, 1.0, 2.0], (10, 1))})
    found = frontier(straight)
    assert len(found.points) == 11
    assert found.knees == ()


def test_a_solve_that_needs_more_nodes_leaves_its_gap_open():
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
    )
    bounded = frontier(problem, nodes=0, solves=200)
    assert not bounded.whole
    assert bounded.gap > 0
    assert isinstance(bounded.points[0], Assignment)


def test_equal_problems_have_equal_frontiers():
    first, second = frontier(bent()), frontier(TierProblem(**vars_of(bent())))
    assert [p.tiers.tolist() for p in first.points] == [p.tiers.tolist() for p in second.points]
