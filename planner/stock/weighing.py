"""Which design family of a stock should run through a house. All lengths are inches.

All families are weighed cheaply, by what comes nearest to each target alone; only the few that serve best are then
worth a choice of everything at once.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import lru_cache
from typing import NamedTuple

import numpy as np

from planner.library import Library
from planner.mouldings.assembly import Assembly
from planner.mouldings.members import Profile
from planner.stock.built_ups import Target, falls_short, layers_of, options_of, ways_of
from planner.stock.families import families, is_drawn, is_of
from planner.stock.items import items_of
from planner.stock.laying import runs_differ
from planner.stock.offers import Item, sixteenths
from planner.stock.search import glance
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
    items = {name: items_of(targets, stock, library, name) for name in names}
    bare = {
        name: sum(len(item.packages) for item in items[name] if _is_bare(item.target, stock, library)) for name in names
    }
    weighed = _close(bare)
    if len(weighed) == 1:
        return weighed
    weights = {name: weight(items[name], stock, library) for name in weighed}
    close = _close({name: weights[name].lacks for name in weighed})
    return tuple(sorted(close, key=lambda name: weights[name])[:FEW_SOLVED])


def _close(lacks: Mapping[str, int]) -> tuple[str, ...]:
    """The families that lack little more than the one that lacks least."""
    return tuple(name for name, count in lacks.items() if count <= min(lacks.values()) + CLOSE)


def _is_bare(target: Target, stock: Stock, library: Library) -> bool:
    """Whether a family has not what each piece of some built-up asks for, to suit a target."""
    return not any(
        all(any(_is_own(p, target) for p in options_of(layer, stock, target.taste)) for layer in layers_of(way, target))
        for way in ways_of(target, stock, library)
    )


def _is_own(profile: Profile | None, target: Target) -> bool:
    """Whether a profile, None for plain wall, is of the family that runs through the house and drawn as it is to be."""
    return profile is None or (is_of(profile, target.run) and (not target.curves or is_drawn(profile, target.curves)))


def weight(items: Sequence[Item], stock: Stock, library: Library) -> Weight:
    """How the family that runs through some items serves them."""
    lacks = misses = 0
    price = 0.0
    for item in items:
        target, share = item.target, len(item.packages)
        built = _glanced(target if runs_differ(target, stock, library) else replace(target, run=""), stock, library)
        if built is None:
            lacks += share
            continue
        lacks += share * (any(falls_short(target, built, library)) or any(strangers(target, built)))
        misses += share * int(sixteenths(np.array([built.deviation]))[0])
        price += share * built.price_per_foot
    return Weight(lacks, misses, price)


@lru_cache(maxsize=1024)
def _glanced(target: Target, stock: Stock, library: Library) -> Assembly | None:
    return glance(target, stock, library)
