"""What every tier of every room costs, by the cost index and in money, as the tier planner counts it."""

from collections.abc import Mapping
from functools import lru_cache
from itertools import accumulate
from typing import NamedTuple

from planner.house.model import House
from planner.intent.model import MONEY, Intent
from planner.library import Library
from planner.planning.ladders import Ladders, tier_costs
from planner.stock.stock import Stock
from planner.takeoff.allowances import allowances_of
from planner.takeoff.cost import priced
from planner.takeoff.estimate import room_amounts
from planner.takeoff.rates import figures_of
from planner.takeoff.stuff import Names, Yard
from planner.takeoff.work import Paid
from planner.trim.existing import with_existing
from planner.trim.packages import Package
from planner.values import immutabledict
from planner.walls.layout import lay_out
from planner.walls.pieces import pieces

MOST_IN_MONEY = 300
"""Houses of more rooms count costs by the index alone: each room is laid out in every tier."""


class Costs(NamedTuple):
    """What each tier of each room costs, from 1, by the room's name: `by_index`, the cost index, and `in_money`
    where the intent counts costs in that, in the `currency`."""

    by_index: Mapping[str, tuple[float, ...]]
    in_money: Mapping[str, tuple[float, ...]]
    currency: str = ""

    @property
    def counted(self) -> Mapping[str, tuple[float, ...]]:
        """What the tiers are assigned by."""
        return self.in_money or self.by_index


def costs_of(house: House, intent: Intent, ladders: Ladders, stock: Stock | None, library: Library) -> Costs:
    """What each tier of each room costs; nothing in money of a house of more than MOST_IN_MONEY rooms."""
    index = {room.name: tier_costs(room, ladders, house.stays.get(room.name, ()), library) for room in house.rooms}
    in_money = intent.cost_in == MONEY and len(house.rooms) <= MOST_IN_MONEY
    if not in_money:
        return Costs(index, {})
    return Costs(index, room_money(house, ladders, stock, library), house.currency)


@lru_cache(maxsize=64)
def room_money(
    house: House, ladders: Ladders, stock: Stock | None, library: Library
) -> immutabledict[str, tuple[float, ...]]:
    """What each tier of each room costs, from 1, to the cent in the house's currency, by the room's name.

    What stays costs nothing, and no tier less than one below it. It is kept: no weight, pin or limit changes it.

    Parameters
    ----------
    ladders : the packages of all tiers of each room, by its name.
    """
    return immutabledict(
        {
            room.name: tuple(
                accumulate((_money(house, room.name, package, stock, library) for package in ladders[room.name]), max)
            )
            for room in house.rooms
        }
    )


@lru_cache(maxsize=8 * MOST_IN_MONEY)
def _money(house: House, room: str, planned: Package, stock: Stock | None, library: Library) -> float:
    """What a room costs in a package; kept, so that a trim rule makes anew only what it changes."""
    package = with_existing(planned, house.stays.get(room, ()), library)
    layouts = lay_out(house, room, package, library)
    yard = Yard(stock, allowances_of(house, library), library, house.unit, Names({}))
    amounts = room_amounts(layouts, pieces(layouts, library), yard, Paid(library))
    figures = figures_of(house, library)
    return round(priced(amounts, {name: figure.value for name, figure in figures.items()}, figures).total, 2)
