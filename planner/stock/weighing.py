"""Which design family of a stock should run through a house. All lengths are inches.

All families are weighed cheaply, by what comes nearest to each target alone; only the few that serve best are then
worth a choice of everything at once.
"""

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from planner.library import Library
from planner.stock.built_ups import falls_short, keeps_shares
from planner.stock.families import families
from planner.stock.items import items_of
from planner.stock.offers import Item, known_of, sixteenths
from planner.stock.shortfalls import strangers
from planner.stock.stock import Stock
from planner.trim.packages import Package

MOST_WEIGHED = 6
"""How many families are weighed, those with the most profiles."""
FEW_SOLVED = 2
"""How many are worth a choice of everything."""
CLOSE = 2
"""By how many lacks a family may be behind the best to be worth one."""


class Weight(NamedTuple):
    """How a family serves a house: in how many elements it lacks something, by how many sixteenths the nearest of each
    misses in all, and what a foot of each costs in all."""

    lacks: int
    misses: int
    price: float


def serving(targets: tuple[Package, ...], stock: Stock, library: Library) -> tuple[str, ...]:
    """The few families that serve a house best, the best first; "" alone where the stock has no families."""
    names = families(stock)[:MOST_WEIGHED]
    if len(names) < 2:
        return names or ("",)
    weights = {name: weight(items_of(targets, stock, library, name), stock, library) for name in names}
    first, *others = sorted(names, key=lambda name: weights[name])
    close = [name for name in others if weights[name].lacks <= weights[first].lacks + CLOSE]
    return first, *close[: FEW_SOLVED - 1]


def weight(items: Sequence[Item], stock: Stock, library: Library) -> Weight:
    """How the family that runs through some items serves them."""
    lacks = misses = 0
    price = 0.0
    for item in items:
        known, share, target = known_of(item, stock, library), len(item.packages), item.target
        if known.nearest is None:
            lacks += share
            continue
        built = known.drafts.assembly(int(np.flatnonzero(~known.ruled_out)[0]), library)
        proportioned = keeps_shares(target, built, library)
        lacks += share * (any(falls_short(target, built, library)) or any(strangers(target, built)) or not proportioned)
        misses += share * int(sixteenths(np.array([built.deviation]))[0])
        price += share * built.price_per_foot
    return Weight(lacks, misses, price)
