"""Costs counted in money: each room by itself, near what the takeoff of the whole house comes to, and budgets of it."""

from dataclasses import replace
from itertools import pairwise

import pytest

from planner import Change, Intent, Scope, TrimRule, demo_house, plan, read_house, read_stock
from planner.deliverables.plan_json import plan_object
from planner.deliverables.plan_text import plan_table
from planner.house.model import Existing
from planner.intent import edits
from planner.planning import costs, frames
from tests.hierarchy import brute
from tests.laid_out_houses import laid_out_house
from tests.random_houses import random_house

HOUSE, _ = read_house(demo_house())
STOCK = read_stock(demo_house(), HOUSE.unit)
IN_MONEY = Intent(cost_in="money")

OF_THE_WHOLE, OF_A_ROOM = 0.02, 0.05
"""By what part a sum of rooms may differ from the takeoff of the house, and a room from its share of that."""


@pytest.fixture(scope="module")
def counted():
    return plan(HOUSE, IN_MONEY, STOCK)


def test_rooms_by_themselves_come_to_what_the_takeoff_of_the_house_comes_to(counted):
    assert counted.spent == pytest.approx(counted.money.total, rel=OF_THE_WHOLE)
    for room in counted.rooms:
        alone = room.tier_money[room.tier - 1]
        assert alone == pytest.approx(counted.money.by_room[room.room.name], rel=OF_A_ROOM), room.room.name


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("stock", [None, STOCK], ids=["made", "bought"])
def test_so_they_do_in_other_houses(seed, stock):
    found = plan(laid_out_house(12, seed), IN_MONEY, stock)
    assert found.spent == pytest.approx(found.money.total, rel=OF_A_ROOM)


def test_what_one_tier_more_costs_is_what_the_takeoff_of_a_house_with_it_costs_more(counted):
    for room in ("Library", "West Bedroom"):
        tier = counted.by_name[room].tier
        richer = plan(HOUSE, edits.pin(IN_MONEY, room, tier + 1), STOCK)
        moved = {r.room.name for r in richer.rooms if r.tier != counted.by_name[r.room.name].tier}
        said = sum(
            richer.by_name[name].tier_money[richer.by_name[name].tier - 1]
            - counted.by_name[name].tier_money[counted.by_name[name].tier - 1]
            for name in moved
        )
        assert said == pytest.approx(richer.spent - counted.spent, abs=0.01)
        assert said == pytest.approx(richer.money.total - counted.money.total, rel=0.1)


def test_the_index_stays_beside_and_no_tier_costs_less_than_one_below(counted):
    by_index = plan(HOUSE, stock=STOCK)
    assert (by_index.currency, by_index.spent) == ("", by_index.cost) and counted.cost == by_index.cost
    assert counted.currency == "USD" and by_index.costed_as(counted) == counted.spent
    assert [room.tier for room in counted.rooms] == [room.tier for room in by_index.rooms]
    for room in counted.rooms:
        assert not by_index.by_name[room.room.name].tier_money and len(room.tier_money) == counted.asked.tiers
        assert all(0 < low <= high for low, high in pairwise(room.tier_money))


def test_what_stays_costs_nothing():
    stays = replace(HOUSE, existing=(Existing("Library", "all", ""),))
    assert set(plan(stays, IN_MONEY, STOCK).by_name["Library"].tier_money) == {0.0}


@pytest.mark.parametrize("seed", range(6))
def test_the_best_within_a_budget_of_money_is_what_brute_force_finds(seed):
    house = random_house(6, seed)
    free = plan(house, Intent(cost_in="money", tiers=4))
    if not free.feasible:
        pytest.fail("the seeds are chosen so that there is a plan")
    least = free.frontier.points[0].cost
    budget = round((least + free.spent) / 2, 2)
    within = plan(house, Intent(cost_in="money", tiers=4, budget=budget))
    best = brute.best(within.problem)
    assert within.optimal and within.spent <= budget
    assert within.objective.total == pytest.approx(brute.totals(within.problem, best[None])[0])
    assert within.spent == brute.costs(within.problem, best[None])[0] / 100


def test_a_budget_that_nothing_keeps_says_what_the_plainest_costs(counted):
    least = counted.frontier.points[0].cost
    short = plan(HOUSE, replace(IN_MONEY, budget=round(least - 1, 2)), STOCK)
    assert not short.feasible
    assert short.conflicts[0].startswith(f"The budget is USD {short.intent.budget:,.2f}, ")
    assert short.conflicts[0].endswith(f" costs USD {least:,.2f}.")
    beyond = plan(HOUSE, replace(IN_MONEY, budget=least), STOCK).what_if("Library")[3]
    assert beyond.moves is None and beyond.conflicts[0].startswith("The budget is USD ")
    assert plan(HOUSE, replace(IN_MONEY, budget=least), STOCK).spent == least


def test_proposals_and_the_frontier_are_in_money(counted):
    assert all("USD" in p.trade or "Costs the same" in p.trade for p in counted.proposals)
    frontier = frames.frontier(counted)
    (stands,) = frontier[frontier["stands"]]["cost"]
    assert stands == counted.spent
    cheapest = counted.proposals[0]
    assert plan(HOUSE, cheapest.intent, STOCK).spent == cheapest.cost


def test_a_trim_rule_costs_anew_only_the_rooms_that_it_changes(counted):
    rule = TrimRule("crown", Scope(rooms=("Library",)), Change(form="none"))
    for kept in (costs.room_money, costs._money):
        kept.cache_clear()
    plan(HOUSE, IN_MONEY, STOCK)
    before = costs._money.cache_info().misses
    ruled = plan(HOUSE, replace(IN_MONEY, trim=(rule,)), STOCK)
    assert costs._money.cache_info().misses - before <= counted.asked.tiers
    for room in ruled.rooms:
        name = room.room.name
        assert (room.tier_money < counted.by_name[name].tier_money) == (name == "Library")


def test_a_house_too_large_to_be_costed_says_so_and_keeps_no_budget_in_money():
    house = random_house(costs.MOST_IN_MONEY + 1, 1)
    found = plan(house, Intent(cost_in="money", budget=1.0), integrated=False)
    assert found.feasible and found.currency == "" and found.spent == found.cost
    assert "are not counted in money" in found.notes[-1] and found.problem.budget is None
    assert plan(house, Intent(budget=1.0), integrated=False).conflicts


def test_the_text_says_what_costs_are_counted_in(counted):
    assert f"rooms by themselves USD {counted.spent:,.2f}" in " ".join(plan_table(counted).split())
    budget = round(counted.spent * 0.97)
    told = plan_table(plan(HOUSE, replace(IN_MONEY, budget=budget), STOCK))
    assert f"of a budget of {budget:,.2f}" in " ".join(told.split())
    assert "of a budget of 170.00" in " ".join(plan_table(plan(HOUSE, Intent(budget=170.0))).split())


def test_the_json_says_enough_to_check_the_budget(counted):
    budget = round(counted.spent * 0.97, 2)
    told = plan_object(plan(HOUSE, replace(IN_MONEY, budget=budget), STOCK), takeoff=False)
    assert (told["cost_in"], told["budget"]) == ("money", budget)
    assert sum(room["tier_money"][room["tier"] - 1] for room in told["rooms"]) <= budget + 1e-6
    assert plan_object(plan(HOUSE), takeoff=False)["cost_in"] == "index"


def test_another_count_lifts_the_budget_that_was_in_the_first():
    asked = edits.set_budget(Intent(), 160.0)
    assert edits.set_cost_in(asked, "index").budget == 160.0
    assert edits.set_cost_in(asked, "money").budget is None
    with pytest.raises(ValueError, match="index and money"):
        edits.set_cost_in(asked, "shells")
