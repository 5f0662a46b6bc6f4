"""Frames of money agree with the plan that they are of."""

import pytest

from planner import Intent, Wish, demo_house, plan, read_house, read_stock
from planner.planning import frames


@pytest.fixture(scope="module")
def priced():
    house, _ = read_house(demo_house())
    return plan(house, stock=read_stock(demo_house(), house.unit))


@pytest.fixture(scope="module")
def infeasible(priced):
    found = plan(priced.house, Intent(rooms={"Entry Hall": Wish(tier=1), "Stair Hall": Wish(tier=4)}))
    assert not found.feasible
    return found


@pytest.mark.parametrize(
    "by", [["room", "element"], ["room"], ["tier", "tier_name"], ["element"], ["level"], frames.COST[:5]]
)
def test_cost_adds_up_however_it_is_summed_up(priced, by):
    found = frames.cost(priced, by)
    assert list(found.columns) == [*by, *frames.COST[5:]]
    assert found["cost"].mul(100).round().astype(int).sum() == round(100 * priced.money.total)
    parts = found[list(priced.money.parts._fields)]
    assert parts.mul(100).round().sum().astype(int).tolist() == [round(100 * one) for one in priced.money.parts]
    assert found["cost"].is_monotonic_decreasing and not found.duplicated(by).any()


def test_cost_by_room_is_what_the_plan_says(priced):
    found = frames.cost(priced, ["room"]).set_index("room")["cost"]
    assert found.to_dict() == pytest.approx({r: c for r, c in priced.money.by_room.items() if c})


def test_rates_say_by_how_much_they_move_the_total(priced):
    found = frames.rates(priced).set_index("rate")
    assert set(found.index) == set(priced.money.figures)
    assert (found["dearer"] - found["cheaper"]).is_monotonic_decreasing
    assert found.loc["carpenter", "cheaper"] == pytest.approx(priced.money.swings["carpenter"][0], abs=0.005)


def test_costs_of_alternatives_stand_beside_their_index(priced):
    (row,) = frames.costs([priced]).to_dict("records")
    assert (row["cost"], row["low"], row["high"]) == (priced.money.total, priced.money.low, priced.money.high)
    assert row["index"] == priced.cost and row["assumptions"] == len(priced.money.assumptions)


def test_frames_of_what_is_not_taken_off_have_no_rows(infeasible):
    assert frames.cost(infeasible).empty and frames.rates(infeasible).empty and frames.costs([infeasible]).empty
    assert list(frames.cost(infeasible, ["tier"]).columns) == ["tier", *frames.COST[5:]]
