"""What plans cost: by hand, by parts that add up, and with a range that is checked against draws at random."""

from dataclasses import replace
from functools import cache
from math import hypot

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from planner import demo_house, plan, read_house, read_stock
from planner.house.model import OwnRate
from planner.takeoff.cost import apportioned, cost
from planner.takeoff.rates import figures_of
from planner.takeoff.stuff import CARVED
from planner.takeoff.work import work
from tests.takeoff.tiny import tiny
from tests.walls.houses import random_house

Z = 1.2815515655446004
"""The 90th percentile of a standard normal."""


@pytest.fixture(scope="module")
def demo():
    house, _ = read_house(demo_house())
    return plan(replace(house, rates=()), stock=read_stock(demo_house(), house.unit))


@pytest.fixture(scope="module")
def reckoned(demo):
    """A function that costs the demo house with other figures."""
    amounts, tiers = work(demo.takeoff, demo.library), {r.room.name: r.tier for r in demo.rooms}
    return lambda figures: cost(amounts, figures, tiers, "USD")


def test_one_room_and_one_door_by_hand():
    """The amounts are those that test_work has by hand; paint is left to its own test, at no cost."""
    planned = tiny(
        OwnRate("carpenter", 60.0, 50.0, 80.0),
        OwnRate("pace", 1.5, confirmed=True),
        OwnRate("finish", 0.0, confirmed=True),
        OwnRate("mouldings made", 20.0, confirmed=True),
        OwnRate("boards", 10.0, confirmed=True),
        OwnRate("rough boards", 3.0, confirmed=True),
        OwnRate("base run", 0.05, confirmed=True),
        OwnRate("casing run", 0.06, confirmed=True),
        OwnRate("rough run", 0.02, confirmed=True),
        OwnRate("cope", 0.1, confirmed=True),
        OwnRate("square end", 0.01, confirmed=True),
        OwnRate("miter", 0.05, confirmed=True),
        OwnRate("markup", 0.25, confirmed=True),
        OwnRate("tax", 0.08, confirmed=True),
    )
    found = planned.money
    base = 408 * 5.5 * 0.75 / 144 * 10 + 408 * 1.5 * 0.75 / 144 * 3
    shoe = 408 * 0.75 * 0.5 / 144 * 20
    casing = 240 * 4.125 * 0.875 / 144 * 20
    along, around = (120 + 2 * 96 + 2 * 37.625) / 12, (2 * 84.375 + 44.75) / 12
    hours = {
        "base": 0.05 * along + 0.02 * along + 4 * 0.1 + 6 * 0.01,
        "shoe": 0.05 * along + 4 * 0.1 + 6 * 0.01,
        "casing": 0.06 * around + 2 * 0.01 + 4 * 0.05,
    }
    assert found.parts.material == round(base + shoe + casing, 2)
    assert found.parts.labour == round(sum(hours.values()) * 60 * 1.5, 2)
    assert found.parts.finish == 0
    material, labour = base + shoe + casing, sum(hours.values()) * 90
    assert found.parts.markup == round(0.25 * (material + labour), 2)
    assert found.parts.tax == round(0.08 * material, 2)
    assert (
        found.total
        == round(sum(found.parts), 2)
        == pytest.approx(1.25 * (material + labour) + 0.08 * material, abs=0.02)
    )
    of_shoe = 1.25 * (shoe + hours["shoe"] * 90) + 0.08 * shoe
    assert found.by_element["shoe"] == pytest.approx(of_shoe, abs=0.03)
    assert found.by_room == {"Den": found.total} and found.by_tier == {1: found.total}
    # The wage alone is not confirmed: 50 to 80 for 60.
    assert [f.rate.name for f in found.assumptions] == ["carpenter"]
    assert found.low == pytest.approx(found.total - 1.25 * labour / 6, rel=1e-4)
    assert found.high == pytest.approx(found.total + 1.25 * labour / 3, rel=1e-4)


def test_every_breakdown_adds_up_to_the_cent(demo):
    found = demo.money
    cents = sum(found.cells.values())
    for money in (found.parts, found.by_room.values(), found.by_tier.values(), found.by_element.values()):
        assert sum(round(100 * one) for one in money) == cents == round(100 * found.total)
    assert set(found.by_room) == {room.name for room in demo.house.rooms}
    assert all(amount > 0 for amount in found.cells.values())


def test_shares_are_as_exact_as_cents_can_be(demo):
    """No room's share of the labour is a cent or more off what its own hours come to."""
    figures = figures_of(demo.house, demo.library)
    hours = {}
    for of, amount in work(demo.takeoff, demo.library).items():
        if figures[of.rate].rate.kind in ("run", "each", "end"):
            hours[of.room, of.element] = hours.get((of.room, of.element), 0.0) + amount * figures[of.rate].value
    wage = figures["carpenter"].value * figures["pace"].value
    for (room, element), n in hours.items():
        cents = demo.money.cells.get((room, element, "labour"), 0)
        assert abs(cents - 100 * n * wage) < 1.01, (room, element)


def test_a_dearer_rate_never_makes_it_cheaper(demo, reckoned):
    figures = figures_of(demo.house, demo.library)
    before = reckoned(figures)
    for name, figure in figures.items():
        dearer = reckoned(figures | {name: replace(figure, value=figure.value * 1.5)})
        if name in before.figures:
            assert dearer.total > before.total, name
            assert before.swings[name][0] < 0 < before.swings[name][1], name
        else:
            assert dearer.total == before.total, name
        for room, money in dearer.by_room.items():
            assert money >= before.by_room[room] - 0.05, (name, room)


def test_the_range_is_no_wider_than_what_may_be_and_none_where_all_is_sure(demo, reckoned):
    figures = figures_of(demo.house, demo.library)
    found = reckoned(figures)
    ends = [reckoned({n: replace(f, value=getattr(f, end)) for n, f in figures.items()}) for end in ("low", "high")]
    assert ends[0].total < found.low < found.median < found.high < ends[1].total
    sure = reckoned({name: replace(f, low=f.value, high=f.value) for name, f in figures.items()})
    assert sure.low == sure.total == sure.median == sure.high == found.total


def test_one_unsure_rate_has_the_range_of_its_own_ends(demo, reckoned):
    """The total is linear in each, so that its percentiles are those of the rate."""
    figures = {n: replace(f, low=f.value, high=f.value) for n, f in figures_of(demo.house, demo.library).items()}
    for name, low, high in (("carpenter", 60.0, 110.0), ("markup", 0.2, 0.6), ("boards", 3.0, 30.0)):
        one = reckoned(figures | {name: replace(figures[name], low=low, high=high)})
        for end, found in ((low, one.low), (high, one.high)):
            exact = reckoned(figures | {name: replace(figures[name], value=end)}).total
            assert found == pytest.approx(exact, abs=2e-3 * (one.high - one.low) + 0.01), name


def test_the_range_is_the_same_on_every_run_and_does_not_heed_the_order_of_rates(demo, reckoned):
    figures = figures_of(demo.house, demo.library)
    back = dict(reversed(figures.items()))
    assert reckoned(back).spread == pytest.approx(reckoned(figures).spread, rel=1e-12)


@pytest.mark.parametrize("widened", [0.1, 1.0, 2.0])
def test_draws_of_another_generator_and_a_model_written_anew_have_the_same_range(demo, reckoned, widened):
    """The rates at the library's own, lopsided ranges, at a tenth of these and at twice as much: all three percentiles
    of 1,000,000 draws lie within 0.75 % of the width of the range."""
    figures = {
        name: replace(f, low=max(f.value - widened * (f.value - f.low), 0), high=f.value + widened * (f.high - f.value))
        for name, f in figures_of(demo.house, demo.library).items()
    }
    found = reckoned(figures)
    drawn = np.concatenate([_drawn(demo, figures, 100_000, seed) for seed in range(10)])
    assert abs(np.percentile(drawn, [10, 50, 90]) - found.spread).max() < 0.0075 * (found.high - found.low)


def test_changes_added_in_squares_would_miss_the_range_of_lopsided_rates(demo, reckoned):
    found = reckoned(figures_of(demo.house, demo.library))
    for at, end in ((0, found.low), (1, found.high)):
        squares = hypot(*(swing[at] for swing in found.swings.values()))
        assert end - (found.total + (2 * at - 1) * squares) > 0.05 * end


def _drawn(planned, figures, draws, seed):
    """Totals of a model written anew: wage times pace times hours, material with its tax, finish, all marked up; a
    rate falls to either side of its value by the toss of a coin, as far as half a normal goes."""
    rng = np.random.Generator(np.random.SFC64(seed))
    rates = {}
    for name, figure in figures.items():
        far = stats.halfnorm.rvs(size=draws, random_state=rng) / Z
        up = rng.integers(0, 2, draws).astype(bool)
        away = np.where(up, (figure.high - figure.value) * far, (figure.low - figure.value) * far)
        rates[name] = np.clip(figure.value + away, 0, None)
    sums = {"hours": np.zeros(draws), "material": np.zeros(draws), "finish": np.zeros(draws)}
    amounts = {}
    for of, amount in work(planned.takeoff, planned.library).items():
        amounts[of.rate] = amounts.get(of.rate, 0.0) + amount
    for name, amount in amounts.items():
        kind = figures[name].rate.kind
        goes = "hours" if kind in ("run", "each", "end") else "finish" if kind == "finish" else "material"
        sums[goes] += amount * rates[name]
    paid = sums["hours"] * rates["carpenter"] * rates["pace"] + sums["material"] + sums["finish"]
    return paid * (1 + rates["markup"]) + sums["material"] * rates["tax"]


def test_what_has_no_price_in_the_stock_is_counted_by_rates(demo):
    """Of each bar without a price: its board feet, its square feet or itself, at the rate for what it is made of."""
    named = {(row.made): row for row in demo.library.rates if row.kind in ("volume", "area", "piece")}
    by_hand = 0.0
    for lot in demo.takeoff.lots:
        for bar in lot.bars:
            if bar.price is None:
                row, across = named[lot.stuff.made], lot.stuff.wide
                each = {"volume": bar.stock_length * across * lot.stuff.thick / 144, "piece": 1.0}
                by_hand += row.value * (each | {"area": bar.stock_length * across / 144})[row.kind]
    assert demo.money.by_rates == pytest.approx(by_hand, abs=0.01) and by_hand > 0
    bare = sum(bar.price is None for bar in demo.takeoff.bars)
    assert sum(line.count for line in demo.takeoff.unpriced) == bare > 0
    priced = sum(bar.price or 0.0 for bar in demo.takeoff.bars)
    assert demo.money.parts.material == pytest.approx(priced + by_hand, abs=0.05)


def test_what_is_carved_and_has_no_price_is_counted_by_the_piece():
    """Corner blocks of a Victorian house that no stock has: as many as stand on its casings, each at the rate."""
    house, _ = read_house(demo_house())
    made = plan(replace(house, rates=(), style="victorian"))
    blocks = sum(s.part in CARVED for walls in made.walls.values() for wall in walls for s in wall.solids)
    amounts = {of: n for of, n in work(made.takeoff, made.library).items() if of.rate == "carved pieces"}
    assert blocks > 10 and sum(amounts.values()) == blocks
    tiers, figures = {r.room.name: r.tier for r in made.rooms}, figures_of(made.house, made.library)
    dearer = {name: replace(f, value=f.value + 7.0) if name == "carved pieces" else f for name, f in figures.items()}
    before, after = (cost(work(made.takeoff, made.library), each, tiers, "USD") for each in (figures, dearer))
    assert after.by_rates - before.by_rates == pytest.approx(7.0 * blocks)


@given(st.dictionaries(st.integers(), st.floats(0, 1e9), max_size=40), st.integers(0, 10**12))
def test_shares_in_whole_numbers_add_up_and_stay_near(shares, whole):
    found = apportioned(shares, whole)
    assert found.keys() == shares.keys()
    total = sum(shares.values())
    if total:
        assert sum(found.values()) == whole
        assert all(abs(found[k] - shares[k] / total * whole) < 1 + 1e-3 for k in shares)


def test_nothing_to_cut_costs_nothing():
    found = cost({}, figures_of(tiny().house, tiny().library), {"Den": 1}, "EUR")
    assert (found.total, found.low, found.high, found.currency) == (0, 0, 0, "EUR")
    assert found.by_room == {"Den": 0.0} and not found.figures and not found.assumptions


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("end", ["least", "value", "most"])
def test_random_houses_add_up_at_the_ends_of_what_rates_may_be(seed, end):
    planned = laid_out(seed)
    figures = {
        name: replace(f, value=getattr(f.rate, end), low=f.rate.least, high=f.rate.most)
        for name, f in figures_of(planned.house, planned.library).items()
    }
    tiers = {room.room.name: room.tier for room in planned.rooms}
    found = cost(work(planned.takeoff, planned.library), figures, tiers, "USD")
    whole = sum(found.cells.values())
    assert sum(round(100 * part) for part in found.parts) == whole
    for money in (found.by_room, found.by_tier, found.by_element):
        assert sum(round(100 * one) for one in money.values()) == whole
    assert 0 <= found.low <= found.median <= found.high
    assert (found.total <= found.median) if end == "least" else (found.total >= found.median) or end == "value"
    assert (found.total > 0) == (end != "least" or bool(planned.stock))


@cache
def laid_out(seed):
    return plan(random_house(seed))
