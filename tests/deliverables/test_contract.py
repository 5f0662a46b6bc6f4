"""The plan's JSON object alone is enough to check that no assignment of tiers does better."""

import json
import random
from dataclasses import replace
from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings

from planner import demo_house, read_house, read_stock
from planner.deliverables.plan_json import plan_object, plan_text
from planner.house.model import House
from planner.intent.model import Intent
from planner.planning.pipeline import plan
from tests.random_houses import houses_and_intents, random_house


def allowed(found: dict) -> np.ndarray:
    """Every assignment that keeps the rules stated in the object, (count, rooms), in the order of its rooms."""
    at = {room["room"]: i for i, room in enumerate(found["rooms"])}
    tiers = np.array(list(product(*(range(r["lowest"], r["highest"] + 1) for r in found["rooms"]))))
    keep = np.ones(len(tiers), bool)
    for p in found["passages"]:
        rise = tiers[:, at[p["to"]]] - tiers[:, at[p["from"]]]
        if p["limit"] is not None:
            keep &= np.abs(rise) <= p["limit"]
        if p["rise"] is not None:
            keep &= rise <= p["rise"]
    for group in found["sets"]:
        for other in group[1:]:
            keep &= tiers[:, at[other]] == tiers[:, at[group[0]]]
    if found["budget"] is not None:
        costs = np.array([r["tier_costs"] for r in found["rooms"]])
        spent = costs[np.arange(len(at)), tiers - 1].sum(axis=1)
        keep &= spent <= found["budget"] + 1e-6
    return tiers[keep]


def totals(found: dict, tiers: np.ndarray) -> np.ndarray:
    at = {room["room"]: i for i, room in enumerate(found["rooms"])}
    target = np.array([r["target"] for r in found["rooms"]])
    weight = np.array([r["weight"] for r in found["rooms"]])
    total = (weight * (tiers - target) ** 2).sum(axis=1)
    for p in found["passages"]:
        difference = np.abs(tiers[:, at[p["to"]]] - tiers[:, at[p["from"]]])
        total += p["lambda"] * np.maximum(0, difference - p["comfort"])
    return total


@settings(max_examples=40, deadline=None)
@given(houses_and_intents())
def test_the_frontier_is_all_that_nothing_beats_in_cost_and_in_total(house_and_intent):
    planned = plan(*house_and_intent)
    found = json.loads(plan_text(planned, proposals=True, takeoff=False))
    if not planned.feasible:
        assert (found["frontier"], found["proposals"]) == (None, [])
        return
    tiers = allowed(found | {"budget": None})
    costs = np.array([r["tier_costs"] for r in found["rooms"]])[np.arange(len(found["rooms"])), tiers - 1].sum(axis=1)
    expected: list[tuple[float, float]] = []
    for cost, total in sorted(zip(costs.round(2), totals(found, tiers), strict=True)):
        if not expected or total < expected[-1][1] - 1e-6:
            expected.append((cost, total))
    points = [(p["cost"], p["total"]) for p in found["frontier"]["points"]]
    assert found["frontier"]["gap"] == 0
    assert np.allclose(points, expected, atol=1e-6)


@settings(max_examples=150, deadline=None)
@given(houses_and_intents())
def test_nothing_that_keeps_the_stated_rules_has_a_better_total(house_and_intent):
    planned = plan(*house_and_intent)
    if not planned.feasible:
        assert planned.conflicts
        return
    found = json.loads(plan_text(planned, takeoff=False))
    tiers = allowed(found)
    chosen = np.array([[room["tier"] for room in found["rooms"]]])
    assert (tiers == chosen).all(axis=1).any()
    assert found["optimal"]
    assert totals(found, tiers).min() == pytest.approx(found["objective"]["total"], abs=1e-6)
    assert totals(found, chosen)[0] == pytest.approx(found["objective"]["total"], abs=1e-9)


@settings(max_examples=40, deadline=None)
@given(houses_and_intents())
def test_a_conflict_is_real_and_without_any_of_its_wishes_a_plan_may_exist(house_and_intent):
    """Dropping every pin, range, set and budget of an intent that conflicts leaves only the defaults' own conflicts."""
    house, intent = house_and_intent
    planned = plan(house, intent)
    if planned.feasible:
        return
    bare = plan(house, replace(intent, rooms={}, sets=(), limits={}, budget=None))
    asked = " ".join(planned.conflicts)
    wished = any(word in asked for word in ("pinned", "asked", "are a set", "budget", "tiers differ by at most"))
    assert wished or not bare.feasible


@pytest.mark.parametrize("seed", range(4))
def test_nothing_is_better_with_what_the_stock_has_either(seed):
    stock = read_stock(demo_house())
    found = plan_object(plan(random_house(7, seed), Intent(tiers=4, budget=90), stock), takeoff=False)
    if not found["feasible"]:
        assert "budget" in found["conflicts"][0]
        return
    tiers = allowed(found)
    assert totals(found, tiers).min() == pytest.approx(found["objective"]["total"], abs=1e-6)
    assert all(e["profiles"] for p in found["packages"] for e in p["elements"] if e["element"] == "base")


@pytest.mark.parametrize("seed", range(5))
def test_the_order_of_the_tables_changes_nothing(seed):
    house = random_house(12, seed)
    rng = random.Random(seed)
    rooms, openings = list(house.rooms), list(house.openings)
    rng.shuffle(rooms)
    rng.shuffle(openings)
    shuffled = replace(house, rooms=tuple(rooms), openings=tuple(openings))
    assert plan_object(plan(house), takeoff=False) == plan_object(plan(shuffled), takeoff=False)


def test_one_room_is_a_house():
    house: House = random_house(1, 0)
    assert plan(house, Intent(grade="great house")).feasible


@pytest.mark.parametrize("stock", [None, read_stock(demo_house())], ids=["targets", "stock"])
def test_every_element_tells_its_section_and_what_lies_behind_it(stock):
    """Heights sum to the size within 1/64 in, nothing reaches farther than the element, and codes are the stock's."""
    found = plan_object(plan(read_house(demo_house())[0], None, stock), takeoff=False)
    elements = [e for p in found["packages"] for some in (p["elements"], *p["openings"].values()) for e in some]
    for element in elements:
        members = element["section"]
        assert all(set(m) == {"member", "height", "projection", "profile"} for m in members)
        assert sum(m["height"] for m in members) == pytest.approx(element["size"], abs=1 / 64), element["element"]
        assert max(m["projection"] for m in members) == pytest.approx(element["projection"], abs=0.02)
        assert {m["profile"] for m in members} - {""} <= set(element["profiles"])
        assert all(set(b) == {"board", "x", "y", "depth", "height", "comes_with"} for b in element["joinery"])
    named = {(e["element"], b["board"]) for e in elements for b in e["joinery"]}
    assert {("casing", "jamb"), ("base", "bottom rail"), ("chair rail", "top rail"), ("crown", "blocking")} <= named


def test_fixtures_and_flights_are_told_by_the_columns_of_their_tables():
    house, _ = read_house(demo_house())
    found = plan_object(plan(house), takeoff=False)
    assert (found["house"]["fixtures"], found["house"]["flights"]) == (len(house.fixtures), len(house.flights))
    sink = next(f for f in found["fixtures"] if f["fixture"] == "Sink counter")
    assert sink == {
        "fixture": "Sink counter", "kind": "counter", "room": "Kitchen", "wall": "N", "offset": 36.0, "width": 180.0,
        "bottom": 0.0, "top": 36.0, "depth": 25.0, "notes": "",
    }  # fmt: skip
    main = next(f for f in found["flights"] if f["flight"] == "Main stair")
    assert (main["risers"], main["rise"], main["run"], main["up"], main["foot"]) == (18, 7.333, 10.0, "left", 0.0)
    assert main["angle"] == pytest.approx(36.25, abs=0.005)
    bare = plan_object(plan(replace(house, fixtures=(), flights=())), takeoff=False)
    assert bare["fixtures"] == bare["flights"] == []
