"""What a plan costs as a JSON object, a part of the plan's. Money is in the house's currency."""

from typing import Any

from planner.planning.answer import Plan
from planner.takeoff.cost import Cost
from planner.takeoff.rates import Figure

INDEX = "trim share x wall length in feet"
"""What the cost index is."""

PLACES = 6
"""To how many places amounts are written."""

MONEY = "the order's prices, and rates of labour, finish, markup and tax"
"""What money is worked out from."""


def cost_object(planned: Plan, *, money: bool) -> dict[str, Any]:
    """What a plan costs as a JSON object; the README documents its keys.

    Parameters
    ----------
    planned : a plan that exists.
    money : whether it is taken off; else `total` is the index, as `basis` says.
    """
    cost = planned.money if money else None
    index = {"index": {"total": planned.cost, "basis": INDEX}}
    if cost is None:
        return {"total": planned.cost, "basis": INDEX} | index
    return {
        "total": cost.total,
        "basis": MONEY,
        "low": cost.low,
        "high": cost.high,
        "median": cost.median,
        "unpriced": cost.by_rates,
        "currency": cost.currency,
        **cost.parts._asdict(),
        "by_room": dict(cost.by_room),
        "by_tier": {planned.tier_names[tier - 1]: money for tier, money in cost.by_tier.items()},
        "by_element": dict(cost.by_element),
        "assumptions": [_figure(figure, cost) for figure in cost.assumptions],
        "rates": [_figure(figure, cost) for figure in cost.figures.values()],
        **index,
    }


def _figure(figure: Figure, cost: Cost) -> dict[str, Any]:
    rate, (cheaper, dearer) = figure.rate, cost.swings[figure.rate.name]
    amount = cost.amounts.get(rate.name)
    return {
        "rate": rate.name,
        "says": rate.says,
        "kind": rate.kind,
        "amount": None if amount is None else round(amount, PLACES),
        "unit": rate.unit,
        "value": figure.value,
        "low": figure.low,
        "high": figure.high,
        "confirmed": figure.confirmed,
        "source": figure.source,
        "cheaper": round(cheaper, 2),
        "dearer": round(dearer, 2),
    }
