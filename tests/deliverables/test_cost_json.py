"""What the JSON object says of money, reckoned again from the object alone."""

import json
from dataclasses import replace

import pytest

from planner import Intent, Wish, demo_house, plan, plan_table, plan_text, read_house, read_stock
from planner.house.model import OwnRate

PARTS = ("material", "labour", "finish", "markup", "tax")


@pytest.fixture(scope="module")
def demo():
    house, _ = read_house(demo_house())
    own = (OwnRate("carpenter", 80.0, 70.0, 95.0, confirmed=True), OwnRate("stock prices", 1.1))
    return plan(replace(house, rates=own), stock=read_stock(demo_house(), house.unit))


@pytest.fixture(scope="module")
def told(demo):
    return json.loads(plan_text(demo))


def cents(money):
    return sum(round(100 * one) for one in money)


def test_breakdowns_add_up_to_the_total(told):
    cost = told["cost"]
    whole = round(100 * cost["total"])
    assert whole == cents(cost[part] for part in PARTS)
    for by in ("by_room", "by_tier", "by_element"):
        assert whole == cents(cost[by].values()), by
    assert set(cost["by_room"]) == {room["room"] for room in told["rooms"]}
    names = {tier["tier"]: tier["name"] for tier in told["tiers"]}
    for tier, name in names.items():
        of = [cost["by_room"][room["room"]] for room in told["rooms"] if room["tier"] == tier]
        assert cents(of) == round(100 * cost["by_tier"].get(name, 0.0)), name


def test_material_is_the_order_at_its_prices_and_what_has_none_by_its_rates(told):
    """Boards, sections, panels and carved pieces have no price in the order: their sizes stand in their names."""
    rates = {rate["rate"]: rate["value"] for rate in told["cost"]["rates"]}
    order = sum(line["amount"] or 0.0 for line in told["takeoff"]["order"])
    assert rates["stock prices"] == 1.1
    rest = told["cost"]["material"] - 1.1 * order
    assert 0 < rest < 0.5 * told["cost"]["material"]
    unpriced = [line for line in told["takeoff"]["order"] if line["price"] is None]
    rough = 0.0
    for line in unpriced:
        if line["profile"].startswith("rough board"):
            thick, wide = map(_inches, line["profile"].removeprefix("rough board ").split(" x "))
            rough += line["count"] * line["stock_length"] * thick * wide / 144 * rates["rough boards"]
    assert 0 < rough < rest


def _inches(text):
    whole = text.rstrip('"').split()
    return sum(float(a) / float(b or 1) for a, _, b in (part.partition("/") for part in whole))


def test_without_anything_else_material_is_the_order_times_the_factor(demo):
    """With rates of nothing for all that has no price."""
    nothing = [
        OwnRate(r.name, 0.0, confirmed=True) for r in demo.library.rates if r.kind in ("volume", "area", "piece")
    ]
    bare = plan(replace(demo.house, rates=(*nothing, OwnRate("stock prices", 1.1))), stock=demo.stock)
    found = json.loads(plan_text(bare))
    order = sum(line["amount"] or 0.0 for line in found["takeoff"]["order"])
    assert found["cost"]["material"] == pytest.approx(1.1 * order, abs=0.0051)


def test_every_part_is_amounts_times_rates(told):
    cost = told["cost"]
    by_kind = {}
    for rate in cost["rates"]:
        by_kind[rate["kind"]] = by_kind.get(rate["kind"], 0.0) + rate["value"] * (rate["amount"] or 1.0)
    material = sum(by_kind[kind] for kind in ("stock", "volume", "area", "piece") if kind in by_kind)
    hours = sum(by_kind[kind] for kind in ("run", "each", "end"))
    assert cost["material"] == pytest.approx(material, abs=0.01)
    assert cost["labour"] == pytest.approx(hours * by_kind["wage"] * by_kind["pace"], abs=0.02)
    assert cost["finish"] == pytest.approx(by_kind["finish"], abs=0.01)
    ends = sum(rate["amount"] for rate in cost["rates"] if rate["kind"] == "end")
    unfitted = ("ground", "lower ground", "furring", "blocking", "backing", "board run up")
    pieces = [p for p in told["takeoff"]["pieces"] if p["name"] not in unfitted]
    assert 0 < ends <= 2 * len(pieces)
    (order,) = (rate["amount"] for rate in cost["rates"] if rate["kind"] == "stock")
    assert order == pytest.approx(sum(line["amount"] or 0.0 for line in told["takeoff"]["order"]), abs=0.001)


def test_tax_and_markup_are_parts_of_what_they_are_on(told):
    cost, rates = told["cost"], {rate["rate"]: rate["value"] for rate in told["cost"]["rates"]}
    assert cost["tax"] == pytest.approx(rates["tax"] * cost["material"], abs=0.011)
    bare = cost["material"] + cost["labour"] + cost["finish"]
    assert cost["markup"] == pytest.approx(rates["markup"] * bare, abs=0.011)


def test_the_range_and_what_has_no_price_are_told(demo, told):
    cost, money = told["cost"], demo.money
    assert (cost["low"], cost["median"], cost["high"]) == (money.low, money.median, money.high)
    assert cost["low"] < cost["total"] < cost["median"] < cost["high"]
    assert {r["rate"]: (r["cheaper"], r["dearer"]) for r in cost["rates"]} == {
        name: pytest.approx(swing, abs=0.006) for name, swing in money.swings.items()
    }
    of = {"volume", "area", "piece"}
    assert cost["unpriced"] == pytest.approx(sum(r["amount"] * r["value"] for r in cost["rates"] if r["kind"] in of))
    bare = [line for line in told["takeoff"]["order"] if line["price"] is None]
    assert told["takeoff"]["unpriced"] == sum(line["count"] for line in bare) > 0


def test_assumptions_are_the_rates_that_nobody_confirmed(told):
    cost = told["cost"]
    assert [r for r in cost["rates"] if r["confirmed"]] == [next(r for r in cost["rates"] if r["rate"] == "carpenter")]
    assumed = {r["rate"] for r in cost["assumptions"]}
    assert assumed == {r["rate"] for r in cost["rates"]} - {"carpenter"}
    assert {r["rate"]: r["source"] for r in cost["rates"]}["stock prices"] == "the house"
    widths = [r["dearer"] - r["cheaper"] for r in cost["assumptions"]]
    assert widths == sorted(widths, reverse=True)


def test_the_index_stays_beside_the_money(demo, told):
    assert told["cost"]["index"] == {"total": demo.cost, "basis": "trim share x wall length in feet"}
    assert told["cost"]["basis"].startswith("the order's prices")
    assert told["cost"]["currency"] == demo.house.currency == told["house"]["currency"]
    assert sum(room["cost"] for room in told["rooms"]) == pytest.approx(demo.cost)
    untaken = json.loads(plan_text(demo, takeoff=False))["cost"]
    assert untaken == {"total": demo.cost, "basis": told["cost"]["index"]["basis"], "index": told["cost"]["index"]}


def test_no_plan_costs_nothing_that_could_be_told(demo):
    none = plan(demo.house, Intent(rooms={"Entry Hall": Wish(tier=1), "Stair Hall": Wish(tier=4)}))
    assert not none.feasible
    assert none.money is None and json.loads(plan_text(none))["cost"] is None


def test_the_table_says_it_in_a_line(demo):
    line = next(line for line in plan_table(demo, money=True).splitlines() if line.startswith("cost USD"))
    count = len(demo.money.assumptions)
    assert f"cost USD {demo.money.total:,.0f} ({demo.money.low:,.0f} to {demo.money.high:,.0f}, 10th to 90th" in line
    assert f"{count} of {len(demo.money.figures)} rates are assumptions" in plan_table(demo, money=True).replace(
        "\n   ", " "
    )
    assert "cost USD" not in plan_table(demo)
    abroad = plan(replace(demo.house, currency="EUR"), stock=demo.stock)
    assert "in US dollars" in plan_table(abroad, money=True).replace("\n   ", " ")
