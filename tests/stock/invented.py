"""Invented stocks: single profiles, the demo's without some, and large ones made by scaling the demo's."""

import random
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from planner.mouldings.members import Profile
from planner.stock.stock import Stock, read_stock
from planner.trim.packages import Element, Package
from tests.known import LIBRARY, package, parse_members

DEMO = read_stock(Path(__file__).parents[2] / "demo_house")


def made(code: str, role: str, members: str, price: float = 1.0) -> Profile:
    """A profile from a line of members."""
    parts = parse_members(members)
    height, reach = sum(m.height for m in parts), max(m.projection for m in parts)
    return Profile(code, role, "", height, reach, reach, parts, (96.0,), price)


def without(dropped: Callable[[Profile], bool], stock: Stock = DEMO) -> Stock:
    """A stock without some of its profiles."""
    return Stock(tuple(p for p in stock.profiles if not dropped(p)))


def without_wide_casings(stock: Stock = DEMO) -> Stock:
    """The demo's stock, of whose casings only the narrowest are left."""
    return without(lambda p: p.role == "casing" and p.height > 4.2, stock)


def scaled(profile: Profile, factor: float, code: str) -> Profile:
    """A profile larger or smaller by a factor, its members in whole thirty-seconds."""
    members = tuple(
        replace(m, **{size: max(round(getattr(m, size) * factor * 32), 1) / 32 for size in ("height", "projection")})
        for m in profile.members
    )
    height, reach = sum(m.height for m in members), max(m.projection for m in members)
    price = round(profile.price * factor, 2)
    return replace(profile, code=code, height=height, projection=reach, members=members, price=price)


def enlarged(count: int, seed: int = 1) -> Stock:
    """The demo's stock and as many of its profiles again, scaled by 0.7 to 1.4, as make so many; for one seed the
    larger stocks hold the smaller ones."""
    rng = random.Random(seed)
    found = list(DEMO.profiles)
    while len(found) < count:
        profile = DEMO.profiles[(len(found) - len(DEMO.profiles)) % len(DEMO.profiles)]
        found.append(scaled(profile, rng.uniform(0.7, 1.4), f"{profile.code}-{len(found):04}"))
    return Stock(tuple(found[:count]))


def thinned(share: float, seed: int) -> Stock:
    """Some of the demo's profiles, each with a chance, in a random order."""
    rng = random.Random(seed)
    profiles = [p for p in DEMO.profiles if rng.random() < share]
    rng.shuffle(profiles)
    return Stock(tuple(profiles))


def shuffled(stock: Stock, seed: int) -> Stock:
    """The same stock in another order."""
    profiles = list(stock.profiles)
    random.Random(seed).shuffle(profiles)
    return Stock(tuple(profiles))


# What is asked of them


def ladder(style: str, top: int, *ceilings: float, order: str = "doric", tiers: int = 5) -> tuple[Package, ...]:
    """The packages of a house: all tiers up to the top under some ceilings."""
    return tuple(
        package(style, order, tier, c, top=top, tiers=max(top, tiers)) for c in ceilings for tier in range(1, top + 1)
    )


def element(name: str, form: str, target: float, projection: float) -> Element:
    """A plain element at its place under a ceiling of ten feet."""
    place = LIBRARY.element(name).place
    bottom = {"floor": 0.0, "ceiling": 120.0 - target, "dado": 30.0 - target}.get(place)
    return Element(name, form, target, target, projection, 0.75, 1, bottom)


FORMS = {
    "base": ("board", 0.75),
    "casing": ("plain casing", 0.875),
    "crown": ("plain crown", 2.0),
    "chair rail": ("moulded rail", 2.0),
}


def tier(number: int, **sizes: float) -> Package:
    """A package of plain elements of the given heights."""
    found = tuple(element(name, FORMS[name][0], size, FORMS[name][1]) for name, size in sizes.items())
    return Package("georgian", "doric", number, 120.0, found, 0.1, len(found), f"Tier {number}")
