"""The sizes that keep the rules and miss least, against trying every one; what each raises; what must give way."""

from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.stock import program
from planner.stock.program import UNREAD, Rules, Sizes, beyond_least, fit

EIGHTH = 0.125


def sizes(
    *rows: tuple[float, float, int], made: tuple[float, float] | None = None, unknown: int | None = None
) -> Sizes:
    """Heights, projections and sixteenths of what is known; then what is made to order; then what is not known."""
    low = [list(row) for row in rows] + ([[*made, 0]] if made else []) + ([[0.0, 0.0, unknown]] if unknown else [])
    high = [list(row) for row in low]
    if unknown:
        high[-1] = [np.inf, np.inf, unknown]
    least, most = np.array(low, dtype=float), np.array(high, dtype=float)
    return Sizes(
        low={"height": least[:, 0], "projection": least[:, 1]},
        high={"height": most[:, 0], "projection": most[:, 1]},
        misses=least[:, 2].astype(np.int64),
        to_order=np.arange(len(low)) == (len(rows) if made else -1),
    )


def rules(count: int, orders=(), steps=(), shares=None) -> Rules:
    return Rules(shares or (1,) * count, tuple(orders), tuple(tuple(step) for step in steps), EIGHTH)


def kept(given_: list[Sizes], held: Rules, rows: tuple[int, ...]) -> int | None:
    """How many steps stay unread with some rows; None where an order is broken."""
    for low, high, size in held.orders:
        if not given_[low].low[size][rows[low]] <= given_[high].high[size][rows[high]] + 1e-6:
            return None
    shown = [
        any(
            1 - given_[low].low["height"][rows[low]] / given_[high].high["height"][rows[high]] > EIGHTH
            for low, high in step
        )
        for step in held.steps
    ]
    return len(shown) - sum(shown)


def by_hand(given_: list[Sizes], held: Rules, yielding: bool) -> tuple[int, int] | None:
    """How much gives way and how much is missed at least, by trying every row."""
    least = None
    for rows in product(*(range(len(one.misses)) for one in given_)):
        unread = kept(given_, held, rows)
        if unread is None or (unread and not yielding):
            continue
        giving = UNREAD * unread * yielding + sum(
            share * bool(one.to_order[k]) for one, share, k in zip(given_, held.shares, rows, strict=True)
        )
        misses = sum(share * int(one.misses[k]) for one, share, k in zip(given_, held.shares, rows, strict=True))
        now = (giving if yielding else 0, misses)
        least = now if least is None else min(least, now)
    return least


@st.composite
def problems(draw):
    """Up to four items of up to four sizes, orders and steps between them."""
    count = draw(st.integers(2, 4))
    yielding = draw(st.booleans())
    size = st.integers(16, 40).map(lambda n: n / 8)
    given_ = []
    for _ in range(count):
        rows = draw(st.lists(st.tuples(size, size, st.integers(0, 9)), min_size=1, max_size=4))
        unknown = draw(st.none() | st.integers(1, 12))
        given_.append(sizes(*rows, made=(3.0, 1.0) if yielding else None, unknown=unknown))
    pairs = [(low, high) for low in range(count) for high in range(low + 1, count)]
    orders = draw(st.lists(st.tuples(st.sampled_from(pairs), st.sampled_from(program.SIZES)), max_size=4))
    steps = draw(st.lists(st.lists(st.sampled_from(pairs), max_size=2, unique=True), max_size=2))
    shares = tuple(draw(st.integers(1, 3)) for _ in range(count))
    return given_, rules(count, [(*pair, size) for pair, size in orders], steps, shares), yielding


@settings(max_examples=200, deadline=None)
@given(problems())
def test_no_rows_are_better(problem):
    given_, held, yielding = problem
    least, found = by_hand(given_, held, yielding), fit(given_, held, yielding)
    if least is None:
        assert found is None
        return
    assert (found.giving, found.misses) == least
    assert found.bound == found.misses
    unread = kept(given_, held, found.rows)
    assert unread is not None and (yielding or not unread)
    assert found.misses == sum(
        share * int(one.misses[k]) for one, share, k in zip(given_, held.shares, found.rows, strict=True)
    )


@settings(max_examples=200, deadline=None)
@given(problems())
def test_rows_raise_what_is_missed_by_what_is_said_at_least(problem):
    """Every choice of rows that keeps the rules misses no less than the least and what its rows add."""
    given_, held, yielding = problem
    best = by_hand(given_, held, yielding)
    if best is None:
        return
    least, raised = beyond_least(given_, held, yielding, best[0])
    assert least <= best[1] + 1e-6
    for rows in product(*(range(len(one.misses)) for one in given_)):
        unread = kept(given_, held, rows)
        made = sum(share * bool(one.to_order[k]) for one, share, k in zip(given_, held.shares, rows, strict=True))
        if unread is None or (unread and not yielding) or (yielding and UNREAD * unread + made > best[0]):
            continue
        misses = sum(share * int(one.misses[k]) for one, share, k in zip(given_, held.shares, rows, strict=True))
        assert misses >= least + sum(float(of[k]) for of, k in zip(raised, rows, strict=True)) - 1e-6


def test_an_order_holds_to_a_hair():
    low, high = sizes((3.0000005, 1.0, 0), (2.0, 1.0, 5)), sizes((3.0, 1.0, 0))
    assert fit([low, high], rules(2, [(0, 1, "height")]), False).misses == 0
    low = sizes((3.00001, 1.0, 0), (2.0, 1.0, 5))
    assert fit([low, high], rules(2, [(0, 1, "height")]), False).misses == 5
    assert fit([low, high], rules(2, [(0, 1, "projection")]), False).misses == 0


def test_a_step_must_read_by_one_of_its_pairs():
    """4 in is an eighth more than 3 1/2 in, which does not read; 4 1/16 in does."""
    lower, upper = sizes((3.5, 1.0, 0)), sizes((4.0, 1.0, 0), (4.0625, 1.0, 3))
    held = rules(2, steps=[[(0, 1)]])
    assert fit([lower, upper], held, False).rows == (0, 1)
    other = sizes((2.0, 1.0, 0)), sizes((2.0, 1.0, 0), (2.5, 1.0, 2))
    either = rules(4, steps=[[(0, 1), (2, 3)]])
    assert fit([lower, upper, *other], either, False).rows == (0, 0, 0, 1)


def test_what_must_give_way_gives_way_least():
    """An element is made to order rather than a step left unread; and none of either where none need."""
    lower = sizes((3.5, 1.0, 0), made=(3.0, 1.0))
    upper = sizes((3.75, 1.0, 0), made=(3.75, 1.0))
    held = rules(2, steps=[[(0, 1)]])
    assert fit([sizes((3.5, 1.0, 0)), sizes((3.75, 1.0, 0))], held, False) is None
    found = fit([lower, upper], held, True)
    assert (found.rows, found.giving, found.misses) == ((1, 0), 1, 0)
    dear = rules(2, steps=[[(0, 1)]], shares=(UNREAD + 1, 1))
    stays = sizes((3.5, 1.0, 0), made=(3.5, 1.0)), sizes((3.75, 1.0, 0), made=(3.75, 1.0))
    assert fit(list(stays), dear, True).giving == UNREAD
    assert fit([sizes((2.0, 1.0, 7), made=(2.0, 1.0)), upper], held, True).giving == 0


def test_a_step_that_nothing_shows_stays_unread():
    held = rules(1, steps=[[]])
    assert fit([sizes((3.5, 1.0, 0))], held, False) is None
    assert fit([sizes((3.5, 1.0, 4))], held, True) == program.Fit((0,), UNREAD, 4, 4)


def test_what_is_not_known_may_be_of_any_size():
    lower = sizes((5.0, 1.0, 0), unknown=3)
    held = rules(2, [(0, 1, "height")], steps=[[(0, 1)]])
    assert fit([lower, sizes((4.0, 1.0, 0))], held, False).rows == (1, 0)
    assert fit([sizes((5.0, 1.0, 0)), sizes((4.0, 1.0, 0), unknown=3)], held, False).rows == (0, 1)


def test_which_sizes_rules_read():
    held = rules(4, [(0, 1, "projection"), (1, 2, "height")], steps=[[(0, 3)]])
    assert [held.sizes_read(at) for at in range(4)] == [
        ("height", "projection"),
        ("height", "projection"),
        ("height",),
        ("height",),
    ]
    assert rules(1).sizes_read(0) == ()


def test_a_bound_is_told_where_the_tree_is_cut_short(monkeypatch):
    """With no nodes to look at, what was found so far is no better than its bound."""
    rng = np.random.default_rng(3)
    given_ = [
        sizes(
            *(
                (float(h), 1.0, int(m))
                for h, m in zip(rng.integers(16, 60, 12) / 8, rng.integers(0, 40, 12), strict=True)
            )
        )
        for _ in range(8)
    ]
    held = rules(
        8, [(at, at + 1, "height") for at in range(7)], steps=[[(at, at + 1), (at + 2, at + 3)] for at in range(5)]
    )
    whole = fit(given_, held, False)
    monkeypatch.setattr(program, "NODES", 0)
    cut = fit(given_, held, False)
    assert whole.bound == whole.misses
    assert cut is None or cut.bound <= whole.misses <= cut.misses


@pytest.mark.parametrize("count", [2, 40])
def test_a_program_has_a_variable_for_each_row_and_each_pair_of_a_step(count):
    given_ = [sizes(*((2.0 + k / 8, 1.0, k) for k in range(count))) for _ in range(2)]
    built = program._program(given_, rules(2, [(0, 1, "height")], steps=[[(0, 1)]]), True)
    assert built.width == 2 * count + 2
    assert len(built.most) <= 2 * count + 1
