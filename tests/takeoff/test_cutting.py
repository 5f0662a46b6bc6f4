"""Cutting: right on what can be tried out, optimal on published recipes, never worse than first fit, bounded."""

from random import Random
from time import perf_counter

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.takeoff import cutting
from planner.takeoff.bars import Answer, Bar, Problem, answer, load, problem
from planner.takeoff.cutting import cut
from planner.takeoff.filling import first_fit
from tests.takeoff.instances import CAPACITY, cheapest, scattered, triplets, uniform

LENGTHS = [Bar(feet * 12 * 16 - 16, feet * 265) for feet in (8, 10, 12, 16)]
"""Stock lengths of 8 to 16 ft in sixteenths of an inch, their ends trimmed, at 2.65 a foot."""


@st.composite
def problems(draw, most: int = 9) -> Problem:
    bars = draw(st.lists(st.builds(Bar, st.integers(20, 80), st.integers(1, 30)), min_size=1, max_size=4))
    top = max(bar.capacity for bar in bars)
    sizes = draw(st.lists(st.one_of(st.integers(1, top), st.integers(1, top // 2)), min_size=1, max_size=most))
    return problem(sizes, bars)


def pieces_of(asked: Problem) -> list[int]:
    return [size for size, count in zip(asked.sizes, asked.counts, strict=True) for _ in range(count)]


def holds(asked: Problem, found: Answer) -> None:
    """Everything is cut once, every bar gives what is cut from it, and the cost is that of the bars."""
    given_ = np.sum([np.array(p) * times for p, times in found.patterns.items()], axis=0)
    assert given_.tolist() == list(asked.counts)
    loads = {pattern: load(pattern, asked.sizes) for pattern in found.patterns}
    assert max(loads.values()) <= asked.largest
    assert found.cost == sum(asked.bar_for(loads[p]).cost * n for p, n in found.patterns.items())
    assert found.bound <= found.cost


@settings(max_examples=200, deadline=None)
@given(problems())
def test_small_problems_are_cut_as_cheaply_as_can_be_and_it_is_proved(asked):
    found = cut(asked)
    holds(asked, found)
    assert found.cost == found.bound == cheapest(pieces_of(asked), asked.bars)


def test_first_fit_fills_a_bar_to_its_last_sixteenth():
    asked = problem([60, 40, 40, 30, 30], [Bar(100, 1)])
    assert asked.total == 200
    assert [load(tuple(pattern), asked.sizes) for pattern in first_fit(asked, 100)] == [100, 100]


@settings(max_examples=60, deadline=None)
@given(st.lists(st.integers(64, 184 * 16), min_size=1, max_size=80))
def test_no_answer_costs_more_than_first_fit_decreasing(sizes):
    asked = problem(sizes, LENGTHS)
    found = cut(asked)
    holds(asked, found)
    by_hand = [first_fit(asked, bar.capacity) for bar in asked.bars if bar.capacity >= asked.sizes[0]]
    assert found.cost <= min(answer(asked, patterns, 0).cost for patterns in by_hand)


def test_published_recipes_of_known_optimum_are_solved():
    """Triplets of Falkenauer: the optimum is the number of bins they were made from; 50 of the 52 at least."""
    rng = Random(1996)
    made = [bins for bins, times in ((20, 26), (40, 20), (83, 6)) for _ in range(times)]
    found = [cut(problem(triplets(bins, rng), [Bar(CAPACITY, 1)])) for bins in made]
    reached = sum(a.cost == bins for a, bins in zip(found, made, strict=True))
    assert reached >= 0.95 * len(made)
    assert all(a.bound <= bins <= a.cost for a, bins in zip(found, made, strict=True))


def test_scattered_and_uniform_sizes_are_proved_optimal():
    """Recipes of Scholl, Klein and Juergens: of those whose optimum is not known by construction the bound tells it."""
    rng = Random(1997)
    made = [(scattered(n, parts, by, rng), 1000) for parts in (3, 5, 7, 9) for by in (0.2, 0.5, 0.9) for n in (50, 100)]
    made += [(uniform(n, c, low, rng), c) for c in (100, 120, 150) for low in (1, 20, 30) for n in (50, 100)]
    found = [cut(problem(sizes, [Bar(capacity, 1)])) for sizes, capacity in made]
    assert sum(a.proved for a in found) >= 0.95 * len(made)


def test_more_sizes_than_are_cut_exactly_come_with_a_gap_that_is_told():
    rng = Random(5)
    asked = problem([rng.randint(64, 184 * 16) for _ in range(1500)], LENGTHS)
    assert len(asked.sizes) > cutting.MOST_SIZES
    found = cut(asked)
    holds(asked, found)
    assert found.cost <= found.bound * 1.02


def test_thousands_of_pieces_take_seconds():
    rng = Random(6)
    began = perf_counter()
    holds(asked := problem([rng.randint(64, 184 * 16) for _ in range(5000)], LENGTHS), cut(asked))
    assert perf_counter() - began < 60


def test_equal_input_is_cut_alike():
    sizes = triplets(20, Random(2))
    assert cut(problem(sizes, [Bar(CAPACITY, 1)])) == cut(problem(sizes[::-1], [Bar(CAPACITY, 1)]))


def test_a_bound_is_not_above_the_optimum_where_the_dive_gives_up(monkeypatch):
    """What is found without the dive is proved by all patterns that may be of use, or keeps its gap."""
    monkeypatch.setattr(cutting, "NODES", 0)
    rng = Random(9)
    for _ in range(40):
        sizes = [rng.randint(5, 60) for _ in range(9)]
        bars = [Bar(61, 7), Bar(83, 9)]
        found = cut(problem(sizes, bars))
        assert found.bound <= cheapest(sizes, bars) <= found.cost
        assert found.proved


@pytest.mark.parametrize("sizes, bars", [([5], []), ([0], [Bar(5, 1)]), ([6], [Bar(5, 1)]), ([1], [Bar(5, 0)])])
def test_what_cannot_be_cut_is_refused(sizes, bars):
    with pytest.raises(ValueError):
        problem(sizes, bars)


def test_nothing_is_cut_from_nothing():
    assert cut(problem([], [Bar(5, 1)])) == Answer(cut(problem([], [])).patterns, 0, 0)
