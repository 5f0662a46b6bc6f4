"""Cutting: right on what can be tried out, optimal on published recipes, never worse than first fit, bounded."""

from random import Random
from time import perf_counter

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.takeoff import cutting
from planner.takeoff.bars import Answer, Bar, Problem, answer, load, problem, shares
from planner.takeoff.columns import Columns
from planner.takeoff.cutting import cut
from planner.takeoff.filling import first_fit
from tests.takeoff.instances import CAPACITY, cheapest, scattered, triplets, uniform

LENGTHS = [Bar(feet * 12 * 16 - 16, feet * 265) for feet in (8, 10, 12, 16)]
"""Stock lengths of 8 to 16 ft in sixteenths of an inch, their ends trimmed, at 2.65 a foot."""


def metric(cents: int) -> list[Bar]:
    """Stock lengths of 2.4 to 4.8 m in millimetres, their ends trimmed, each at so many cents a metre to the cent."""
    return [Bar(mm - 13, (cents * mm + 500) // 1000) for mm in (2400, 3000, 3600, 4800)]


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


@pytest.mark.parametrize("cents", [153, 306, 491, 1234])
def test_costs_rounded_to_the_cent_are_in_proportion_to_lengths(cents):
    assert shares(metric(cents)) == (4, 5, 6, 8)


@pytest.mark.parametrize("bars", [LENGTHS, [Bar(100, 10), Bar(120, 11)], [Bar(100, 1234)], metric(305)])
def test_costs_in_proportion_as_they_are_need_no_shares(bars):
    assert shares(bars) == ()


def test_costs_in_no_proportion_have_no_shares():
    """What differs by less than a share, and what is in proportion to shares that cost little more than a rounding."""
    assert shares([Bar(100, 1500), Bar(110, 1501)]) == ()
    assert shares([Bar(100, 15), Bar(110, 21), Bar(120, 26)]) == ()


@settings(max_examples=150, deadline=None)
@given(
    st.lists(st.integers(100, 2000), min_size=4, max_size=10),
    st.integers(51, 900),
    st.sampled_from([(), ("NODES",), ("NODES", "MOST_SHARED")]),
)
def test_the_optimum_lies_between_bound_and_value_where_cents_are_rounded(sizes, cents, without):
    """It is proved; where nothing closes the gap, it is no wider than a cent for each bar that there could be."""
    asked = problem(sizes, metric(cents))
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(cutting, "FEW", 0)
        for limit in without:
            patched.setattr(cutting, limit, 0)
        cutting._cut.cache_clear()
        found = cut(asked)
    cutting._cut.cache_clear()
    holds(asked, found)
    assert found.bound <= cheapest(sizes, asked.bars) <= found.cost
    assert found.proved or "MOST_SHARED" in without
    assert found.cost - found.bound <= found.cost // asked.bars[0].cost + 1


@pytest.mark.parametrize("seed", range(8))
def test_rounded_cents_leave_cents_and_the_work_bounded(seed, monkeypatch):
    """At odd cents a metre 40 sizes, 120 pieces or so, are cut within five cents of the bound, or as far from it as at
    10.00 a metre, and neither relaxations nor patterns are many."""
    relaxed, told = [], []
    relax, among = Columns.relax, cutting.cheapest_of

    def counted(columns, *of, **more):
        relaxed.append(columns)
        return relax(columns, *of, **more)

    def listed(asked, patterns, *of):
        told.append(len(patterns))
        return among(asked, patterns, *of)

    monkeypatch.setattr(Columns, "relax", counted)
    monkeypatch.setattr(cutting, "cheapest_of", listed)
    rng = Random(seed)
    sizes = [rng.randint(300, 2200) for _ in range(40)]
    pieces, cents = [size for size in sizes for _ in range(rng.randint(1, 5))], 1013 + 102 * seed
    even = cut(problem(pieces, metric(1000)))
    relaxed.clear()
    asked = problem(pieces, metric(cents))
    found = cut(asked)
    holds(asked, found)
    assert found.cost - found.bound <= 5 + (even.cost - even.bound) * cents / 1000
    assert len(relaxed) <= 400
    assert max(told, default=0) <= cutting.MOST_SHARED


@pytest.mark.parametrize("sizes, bars", [([5], []), ([0], [Bar(5, 1)]), ([6], [Bar(5, 1)]), ([1], [Bar(5, 0)])])
def test_what_cannot_be_cut_is_refused(sizes, bars):
    with pytest.raises(ValueError):
        problem(sizes, bars)


def test_nothing_is_cut_from_nothing():
    assert cut(problem([], [Bar(5, 1)])) == Answer(cut(problem([], [])).patterns, 0, 0)
