"""Every table of a plan that goes on paper, in the order in which a job comes to them, and what they come to."""

from collections.abc import Iterator
from dataclasses import dataclass

from planner.deliverables import order_tables, told_tables, trim_tables
from planner.deliverables.story_pole_table import story_poles
from planner.deliverables.table import Table
from planner.planning.answer import Plan
from planner.takeoff.cost import Cost
from planner.takeoff.takeoff import Takeoff

CUT = (
    *(order_tables.takeoff, order_tables.order, order_tables.cutting),
    *(order_tables.cut_list, order_tables.bars, order_tables.saw),
)
"""The tables of what is bought and cut."""


def all_tables(plan: Plan) -> tuple[Table, ...]:
    """The tables of a plan that exists; those of what is cut and of money are left out where it is not taken off."""
    taken, cost = plan.takeoff, plan.money
    found = [trim_tables.rooms(plan), trim_tables.by_room(plan), trim_tables.by_tier(plan), trim_tables.openings(plan)]
    found.append(story_poles(plan))
    if taken is not None and taken.sticks:
        found += (table(plan, taken) for table in CUT)
    if cost is not None and cost.cells:
        found += (told_tables.cost_by(plan, by) for by in ("Room", "Tier", "Element"))
        found.append(told_tables.rates(plan))
    found += (told_tables.checks(plan), told_tables.notes(plan, taken), told_tables.sources(plan, taken))
    return tuple(table for table in found if len(table.frame) or table.name == "checks")


@dataclass(frozen=True)
class Part:
    """What a figure is worked out from: the sum of a column of a table, or where it is not `summed` all its cells."""

    table: str
    heading: str
    summed: bool = True


@dataclass(frozen=True)
class Figure:
    """One figure that sums the tables up.

    Parameters
    ----------
    says, unit : what it is, and in what.
    value : as the plan has it.
    formula : the same, worked out in a workbook from its parts, as {0}, {1}, …; blank where it is not.
    """

    says: str
    unit: str
    value: float
    formula: str = ""
    parts: tuple[Part, ...] = ()


def figures(plan: Plan) -> tuple[Figure, ...]:
    """What the tables of a plan come to."""
    rooms = Figure("Rooms", "", float(len(plan.rooms)), "ROWS({0})", (Part("rooms", "Room", summed=False),))
    found = [rooms]
    if plan.takeoff is not None and plan.takeoff.sticks:
        found += _bought(plan.takeoff, plan.house.currency)
    if plan.money is not None and plan.money.cells:
        found += _money(plan.money)
    return tuple(found)


def _bought(taken: Takeoff, currency: str) -> Iterator[Figure]:
    count, amount = Part("order", "Count"), Part("order", f"Amount [{currency}]")
    all_amounts = Part("order", amount.heading, summed=False)
    bare = sum(line.count for line in taken.unpriced)
    priced = sum(line.amount or 0.0 for line in taken.order)
    yield Figure("Pieces to cut", "", float(len(taken.sticks)), "{0}", (Part("cut-list", "Pieces"),))
    yield Figure("Bars and pieces to buy", "", float(len(taken.bars)), "{0}", (count,))
    yield Figure("Of these, all that have a price", currency, round(priced, 2), "{0}", (amount,))
    missing = 'SUMIF({0},"",{1})'
    counts = Part("order", count.heading, summed=False)
    yield Figure("Of these, without a price in the stock", "", float(bare), missing, (all_amounts, counts))
    yield Figure("Kerfs and left over, of what is bought by length", "%", round(100 * taken.waste, 1))


def _money(cost: Cost) -> Iterator[Figure]:
    money, total = cost.currency, Part("cost-by-room", f"Cost [{cost.currency}]")
    for part in cost.parts._fields:
        parts = (Part("cost-by-room", f"{part.capitalize()} [{money}]"),)
        yield Figure(part.capitalize(), money, getattr(cost.parts, part), "{0}", parts)
    yield Figure("Of the material, by rates and not by prices of the stock", money, cost.by_rates)
    yield Figure("Cost in all", money, cost.total, "{0}", (total,))
    yield Figure("The 10th percentile of it", money, cost.low)
    yield Figure("As likely over as under", money, cost.median)
    yield Figure("The 90th percentile of it", money, cost.high)
    confirmed = Part("rates", "Confirmed", summed=False)
    unsure = float(len(cost.assumptions))
    yield Figure("Rates that are assumptions", "", unsure, 'COUNTIF({0},"no")', (confirmed,))
