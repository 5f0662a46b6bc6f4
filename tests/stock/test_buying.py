"""What is bought takes the fewest profiles, then costs least: against trying every choice, and cut short on purpose."""

from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.stock import buying, market
from planner.stock.buying import buy
from planner.stock.market import Offers, market_of
from planner.stock.program import UNREAD, Rules


def offers(*rows: tuple[tuple[int, ...], int], misses=None, giving=None, heights=None, depths=None) -> Offers:
    """Offers of some profiles by number, and cents."""
    count, layers = len(rows), max(1, *(len(codes) for codes, _ in rows))
    return Offers(
        codes=np.array([[*codes, *[-1] * (layers - len(codes))] for codes, _ in rows]),
        cents=np.array([cents for _, cents in rows]),
        misses=np.array(misses or [0] * count),
        giving=np.array(giving or [0] * count),
        height=np.array(heights or [1.0] * count, dtype=float),
        projection=np.array(depths or [1.0] * count, dtype=float),
    )


def rules(count: int, orders=(), steps=()) -> Rules:
    return Rules((1,) * count, tuple(orders), tuple(tuple(step) for step in steps), 0.125)


def result(given_: list[Offers], held: Rules, rows: tuple[int, ...]) -> tuple[bool, int, int, tuple[int, int]]:
    """Whether the orders are kept, what is missed, what gives way, and how many profiles and cents some rows take."""
    kept = all(
        getattr(given_[low], size)[rows[low]] <= getattr(given_[high], size)[rows[high]] + 1e-6
        for low, high, size in held.orders
    )
    unread = sum(
        not any(1 - given_[low].height[rows[low]] / given_[high].height[rows[high]] > 0.125 for low, high in step)
        for step in held.steps
    )
    misses = sum(int(of.misses[k]) for of, k in zip(given_, rows, strict=True))
    giving = sum(int(of.giving[k]) for of, k in zip(given_, rows, strict=True)) + UNREAD * unread
    codes = {int(c) for of, k in zip(given_, rows, strict=True) for c in of.codes[k]} - {-1}
    return kept, misses, giving, (len(codes), sum(int(of.cents[k]) for of, k in zip(given_, rows, strict=True)))


def by_hand(given_: list[Offers], held: Rules, misses: int, giving: int):
    """The rows that take the fewest profiles, then cost least, by trying all of them."""
    least = None
    for rows in product(*(range(len(of)) for of in given_)):
        kept, missed, gave, cost = result(given_, held, rows)
        if kept and missed <= misses and gave <= giving and (least is None or cost < least[0]):
            least = cost, rows
    return least


@st.composite
def purchases(draw):
    """Up to five items of up to five offers that share up to eight profiles, with rules between their sizes."""
    count = draw(st.integers(1, 5))
    code, size = st.integers(0, 7), st.sampled_from([1.0, 1.5, 2.0])
    held_rules = draw(st.booleans())
    given_ = []
    for _ in range(count):
        rows = draw(
            st.lists(st.tuples(st.lists(code, min_size=0, max_size=3), st.integers(0, 60)), min_size=1, max_size=5)
        )
        more = [
            draw(st.lists(what, min_size=len(rows), max_size=len(rows))) if held_rules else None
            for what in (st.integers(0, 3), st.integers(0, 1), size, size)
        ]
        given_.append(
            offers(
                *((tuple(codes), cents) for codes, cents in rows),
                **dict(zip(("misses", "giving", "heights", "depths"), more, strict=False)),
            )
        )
    pairs = [(low, high) for low in range(count) for high in range(low + 1, count)]
    orders, steps = [], []
    if held_rules and pairs:
        sides = st.sampled_from(["height", "projection"])
        orders = [(*pair, side) for pair, side in draw(st.lists(st.tuples(st.sampled_from(pairs), sides), max_size=3))]
        steps = draw(st.lists(st.lists(st.sampled_from(pairs), max_size=2, unique=True), max_size=2))
    held = rules(count, orders, steps)
    first = draw(st.tuples(*(st.integers(0, len(of) - 1) for of in given_)))
    return given_, held, first


@settings(max_examples=300, deadline=None)
@given(purchases(), st.integers(0, 4))
def test_nothing_is_better_than_what_is_bought(purchase, spare):
    given_, held, first = purchase
    kept, misses, giving, _ = result(given_, held, first)
    if not kept:
        return
    bought = buy(given_, held, misses + spare, giving, first)
    least, _ = by_hand(given_, held, misses + spare, giving)
    kept, missed, gave, cost = result(given_, held, bought.rows)
    assert kept and missed <= misses + spare and gave <= giving
    assert bought.proved and cost == least
    assert bought.fewest == least[0]


@settings(max_examples=200, deadline=None)
@given(purchases(), st.integers(1, 3))
def test_what_is_proved_holds_where_the_work_is_cut_short(purchase, few):
    given_, held, first = purchase
    kept, misses, giving, before = result(given_, held, first)
    if not kept:
        return
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(buying, "MOST_CHOICES", (few,))
        patch.setattr(buying, "MOST_PAIRS", 1)
        patch.setattr(buying, "MOST_WEIGHED", 1)
        bought = buy(given_, held, misses, giving, first)
    least, _ = by_hand(given_, held, misses, giving)
    kept, missed, gave, cost = result(given_, held, bought.rows)
    assert kept and missed <= misses and gave <= giving
    assert least <= cost <= before
    assert bought.fewest <= least[0]
    if bought.proved:
        assert cost == least


@settings(max_examples=100, deadline=None)
@given(purchases(), st.integers(4, 10))
def test_of_too_many_offers_nothing_is_proved(purchase, most):
    given_, held, first = purchase
    kept, misses, giving, before = result(given_, held, first)
    if not kept:
        return
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(market, "MOST_OFFERS", most)
        bought = buy(given_, held, misses, giving, first)
        complete = market_of(given_, held, misses, giving, first).complete
    kept, missed, gave, cost = result(given_, held, bought.rows)
    assert kept and missed <= misses and gave <= giving and cost <= before
    if sum(map(len, given_)) > most + len(given_):
        assert not complete
    if not complete:
        assert (bought.fewest, bought.proved) == (0, False)


def test_fewer_profiles_outweigh_any_price():
    given_ = [offers(((1,), 1), ((3,), 900)), offers(((2,), 1), ((3,), 900))]
    assert buy(given_, rules(2), 0, 0, (0, 0)).rows == (1, 1)
    alone = [offers(((1,), 1), ((3,), 900)), offers(((2,), 1))]
    assert buy(alone, rules(2), 0, 0, (1, 0)).rows == (0, 0)


def test_of_as_many_profiles_the_cheaper_are_bought():
    given_ = [offers(((1,), 50), ((2,), 49)), offers(((1,), 10), ((2,), 12))]
    assert buy(given_, rules(2), 0, 0, (0, 0)).rows == (0, 0)
    dearer = [offers(((1,), 50), ((2,), 47)), offers(((1,), 10), ((2,), 12))]
    assert buy(dearer, rules(2), 0, 0, (0, 0)).rows == (1, 1)


def test_what_misses_more_is_not_bought_to_save_a_profile():
    given_ = [offers(((1,), 5), ((2,), 5), misses=[0, 1]), offers(((2,), 5))]
    assert buy(given_, rules(2), 0, 0, (0, 0)).rows == (0, 0)
    assert buy(given_, rules(2), 1, 0, (0, 0)).rows == (1, 0)


def test_rules_hold_in_what_is_bought():
    """One profile would do for both, but then the lower one is the larger, or the step does not read."""
    low = offers(((1,), 5), ((2,), 5), heights=[2.0, 1.0])
    high = offers(((1,), 5), ((2,), 5), heights=[1.5, 3.0])
    assert buy([low, high], rules(2), 0, 0, (0, 0)).rows in ((0, 0), (1, 1))
    assert buy([low, high], rules(2, [(0, 1, "height")]), 0, 0, (1, 1)).rows == (1, 1)
    alike = offers(((1,), 5), ((2,), 9), heights=[1.4, 1.0]), offers(((1,), 5), ((3,), 5), heights=[1.5, 1.5])
    assert buy(list(alike), rules(2, steps=[[(0, 1)]]), 0, 0, (1, 0)).rows == (1, 0)
    assert buy(list(alike), rules(2, steps=[[(0, 1)]]), 0, UNREAD, (1, 0)).rows == (0, 0)


# The market


def random_offers(seed: int, items: int = 6, count: int = 30, profiles: int = 25) -> list[Offers]:
    rng = np.random.default_rng(seed)
    return [
        offers(*((tuple(rng.integers(0, profiles, 3).tolist()), int(rng.integers(0, 400))) for _ in range(count)))
        for _ in range(items)
    ]


@pytest.mark.parametrize("seed", range(4))
def test_shares_of_a_profile_come_to_no_more_than_its_weight(seed):
    """And so every choice comes to no less than its items do alone; sums of shares are exact in any order."""
    given_ = random_offers(seed)
    whole = market_of(given_, rules(6), 0, 0, (0,) * 6)
    assert (whole.shares >= 0).all() and (whole.shares.sum(axis=0) <= whole.weight).all()
    assert (whole.shares * market.GRAIN % 1 == 0).all()
    alone = sum(float(lot.alone(share).min()) for lot, share in zip(whole.lots, whole.shares, strict=True))
    rng = np.random.default_rng(seed)
    costs = [whole.chosen([int(rng.choice(lot.rows)) for lot in whole.lots]).cost for _ in range(300)]
    assert 0 < alone <= min(costs)


@pytest.mark.parametrize("seed", range(4))
def test_what_an_item_adds_is_its_cheapest_offer_with_what_is_in_use_for_nothing(seed):
    whole = market_of(random_offers(seed), rules(6), 0, 0, (0,) * 6)
    profiles = whole.shares.shape[1]
    used = np.random.default_rng(seed).random((50, profiles)) < 0.4
    for lot, share, bound in zip(whole.lots, whole.shares, whole.bounds, strict=True):
        found = bound.adds(buying.packed(used))
        for row, value in zip(used, found, strict=True):
            assert value == min(
                c + (share * (takes & ~row)).sum() for c, takes in zip(lot.cents, lot.uses, strict=True)
            )


def test_what_every_choice_takes_is_taken_and_what_is_beaten_is_left_out():
    given_ = [
        offers(((1, 2), 5), ((1, 3), 9), ((1, 4), 7)),  # 1 is always taken; 3 and 4 are of use here alone
        offers(((2,), 5), ((5,), 5)),
    ]
    whole = market_of(given_, rules(2), 0, 0, (0, 0))
    assert whole.taken == 1
    assert [lot.rows.tolist() for lot in whole.lots] == [[0, 2], [0, 1]]
    assert whole.fewest(whole.chosen((0, 0)).cost) == 2 and whole.fewest(whole.chosen((2, 1)).cost) == 3


def test_offers_that_no_better_choice_takes_are_left_out():
    given_ = [offers(((1,), 0), ((2,), 0), ((3, 4), 0)), offers(((1,), 0), ((2,), 40), ((5, 6), 0))]
    whole = market_of(given_, rules(2), 0, 0, (0, 0))
    below = whole.below(whole.chosen((2, 2)).cost)
    assert all(set(few.rows) <= set(lot.rows) for few, lot in zip(below.lots, whole.lots, strict=True))
    assert whole.below(whole.chosen((0, 0)).cost) is None


def test_the_most_popular_offers_are_weighed_and_the_first_always(monkeypatch):
    monkeypatch.setattr(market, "MOST_OFFERS", 6)
    many = offers(*(((number,), 10 + number) for number in range(20)))
    given_ = [many, offers(((7,), 1)), offers(((9,), 1))]
    assert [rows.tolist() for rows in market._popular(given_, (13, 0, 0))] == [[0, 1, 7, 9, 13], [0], [0]]
    assert not market_of(given_, rules(3), 0, 0, (13, 0, 0)).complete


def test_rules_that_all_sizes_keep_are_not_asked_again():
    low, high = offers(((1,), 5), ((2,), 5), heights=[1.0, 2.0]), offers(((1,), 5), ((2,), 5), heights=[3.0, 1.5])
    held = rules(2, [(0, 1, "height"), (0, 1, "projection")], steps=[[(0, 1)]])
    whole = market_of([low, high], held, 0, 0, (0, 0))
    assert [(a, b) for a, b, _ in whole.orders] == [(0, 1)] and len(whole.steps) == 1
    clear = market_of([offers(((1,), 5), heights=[1.0]), high], held, 0, 0, (0, 0))
    assert clear.agreements == ()
