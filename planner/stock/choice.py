"""The choice of what to buy for every tier and ceiling of a house at once. All lengths are inches.

The choice is exact: least total deviation from the targets, then fewest different profiles, then least cost, so that no
tier is larger than the one above it and every step between neighbours reads.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise
from math import floor
from types import MappingProxyType

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_array

from planner.library import standard, table
from planner.mouldings.members import Member, Profile
from planner.stock.search import Assembly, Target, best, ways, within
from planner.stock.stock import Stock
from planner.trim.packages import STEP, Element, Package, with_elements
from planner.trim.steps import reads, seen_changes
from planner.units import format_size

SIXTEENTH = 1 / 16
"""Deviations are counted in whole sixteenths of an inch, the shop's fraction: what differs by less is the same."""

FARTHEST = 4.0
"""What misses its target by so much more than the best for it does is no choice at all [in]."""
ALLOWANCES = (0.0625, 0.25, 1.0, FARTHEST)
"""How far beyond the best assembly of each target the choice looks, until it need not look farther [in]."""

TO_ORDER = 10_000
"""Sixteenths of deviation that an element counts which must be made to order because nothing else keeps the rules."""
UNREAD = 1_000_000
"""Sixteenths of deviation that a step counts which cannot be made to read."""

CLOSE = 1e-6
MARGIN = 1e-4
"""How much smaller than the least that reads a size is kept, so that the solver's tolerance cannot hide a step [in]."""


@dataclass(frozen=True)
class Choice:
    """What to buy.

    Parameters
    ----------
    packages : the target packages, in their order, with what each element is built from and what that measures.
    deviation : sum over all elements of how far what is built misses its target, weighed by built_ups.toml [in].
    profiles : codes of the different profiles in use, sorted.
    cost : sum over all elements of the price of a foot (of a piece, for blocks), in the house's currency.
    optimal : whether it is proved that no choice keeps the rules and does better; False where a rule had to give way,
        which `shortfalls` says.
    shortfalls : what the stock cannot meet, by how much, and what to have made, in words.
    to_make : the profiles to have made.
    """

    packages: tuple[Package, ...]
    deviation: float
    profiles: tuple[str, ...]
    cost: float
    optimal: bool
    shortfalls: tuple[str, ...]
    to_make: tuple[Profile, ...]


@dataclass(frozen=True)
class Item:
    """What is to be bought for one target: the packages, by number, whose elements ask for it, and what it asks."""

    target: Target
    packages: tuple[int, ...]
    thickness: float


@dataclass(frozen=True)
class Offer:
    """What an item may be built from: an assembly, or None where it is made to order as the target asks.

    `misses` is its deviation in SIXTEENTHs, `cents` its price.
    """

    assembly: Assembly | None
    height: float
    projection: float
    misses: int
    cents: int
    profiles: frozenset[str] = frozenset()


@lru_cache(maxsize=256)
def choose(targets: tuple[Package, ...], stock: Stock) -> Choice:
    """The best choice from stock for all packages of a house.

    Parameters
    ----------
    targets : the target packages, one for each tier and ceiling in use.
    stock : what can be bought.

    Notes
    -----
    What asks for the same gets the same, wherever it stands in the house, unless a step must be read by its size. No
    element is higher than in a tier above it under the same ceiling, and no base reaches past the block or casing that
    it dies into, where the targets do not either.

    An integer program with a binary variable for each offer and each profile, solved to proved optimality twice: for
    deviation, then for profiles before cost with that deviation. Offers that miss their target by more than the
    best one of their item does, plus what all items together had to give way, can be in no optimum and are left out.
    """
    items = _items(targets, stock)
    chosen, optimal = _solve(targets, items, stock)
    packages = tuple(
        _built(package, {i.target.role: o for i, o in zip(items, chosen, strict=True) if at in i.packages})
        for at, package in enumerate(targets)
    )
    made = [o.assembly for i, o in zip(items, chosen, strict=True) if o.assembly for _ in i.packages]
    told = [short for i, o in zip(items, chosen, strict=True) if (short := _short(i, o, targets))]
    return Choice(
        packages=packages,
        deviation=sum(a.deviation for a in made),
        profiles=tuple(sorted({code for a in made for code in a.profiles})),
        cost=sum(a.price_per_foot for a in made),
        optimal=optimal,
        shortfalls=(*dict.fromkeys(words for words, _ in told), *_unread(packages)),
        to_make=tuple(dict.fromkeys(profile for _, profile in told)),
    )


def target_of(package: Package, element: Element) -> Target | None:
    """What an element of a package asks of the stock, None where it is not bought by the foot."""
    found = ways(element.element, element.form)
    if not found:
        bought = element.element not in table("built_ups")["not_bought"] and ways(element.element)
        return Target(element.element, element.target, element.projection, element.form) if bought else None
    if found[0].planted:
        return Target(element.element, found[0].height, element.projection, element.form)
    inner = tuple(
        (e.element, e.size) for e in package.elements if standard().element_kinds[e.element].within == element.element
    )
    return Target(element.element, element.target, element.projection, element.form, element.parts, inner)


# What is to be chosen


def _items(targets: tuple[Package, ...], stock: Stock) -> tuple[Item, ...]:
    """Every target that is bought on its own; what is part of another one's built-up comes with that."""
    items = []
    for at, package in enumerate(targets):
        for element in package.elements:
            target = target_of(package, element)
            if target is not None and not _comes_with(package, element, stock):
                items.append(Item(target, (at,), element.thickness))
    apart = {at for pairs in _steps(targets, tuple(items)) for pair in pairs for at in pair}
    together: dict[object, Item] = {}
    for at, item in enumerate(items):
        key = at if at in apart else item.target
        same = together.get(key)
        together[key] = replace(same, packages=same.packages + item.packages) if same else item
    return tuple(together.values())


def _comes_with(package: Package, element: Element, stock: Stock) -> bool:
    """Whether an element is a piece of whatever the element that it is counted within is built up of."""
    whole = (
        package.element(standard().element_kinds[element.element].within)
        if standard().element_kinds[element.element].within
        else None
    )
    if whole is None:
        return False
    found = ways(whole.element, whole.form)
    if not found or not all(any(p.part == element.element for p in way.pieces) for way in found):
        return False
    return bool(best(target_of(package, whole), stock, 1))


def _offers(item: Item, stock: Stock, allowance: float) -> tuple[Offer, ...]:
    """What an item may be built from; only what no other offer of the same sizes beats in every respect."""
    found = _worth(within(item.target, stock, allowance))
    return found or (_to_order(item, 0),)


def _to_order(item: Item, misses: int) -> Offer:
    return Offer(None, item.target.height, item.target.projection, misses, 0)


@lru_cache(maxsize=4096)
def _worth(assemblies: tuple[Assembly, ...]) -> tuple[Offer, ...]:
    offers = (
        Offer(
            assembly=a,
            height=a.height,
            projection=a.projection,
            misses=floor(a.deviation / SIXTEENTH + 0.5),
            cents=floor(a.price_per_foot * 100 + 0.5),
            profiles=frozenset(a.profiles),
        )
        for a in assemblies
    )
    return _unbeaten(offers, ("height", "projection"))


def _unbeaten(offers: Iterable[Offer], sizes: Iterable[str], free: frozenset[str] = frozenset()) -> tuple[Offer, ...]:
    """The offers that no other with the same `sizes` beats, whatever else is chosen.

    One beats another where it misses no more, costs no more and uses no profile that the other does not; those that are
    `free` are in use anyway.
    """
    kept: dict[tuple[float, ...], list[Offer]] = {}
    for o in offers:
        same = kept.setdefault(tuple(round(getattr(o, size), 6) for size in sizes), [])
        if not any(_beats(other, o, free) for other in same):
            same[:] = [other for other in same if not _beats(o, other, free)] + [o]
    return tuple(o for same in kept.values() for o in same)


def _beats(one: Offer, other: Offer, free: frozenset[str]) -> bool:
    return one.misses <= other.misses and one.cents <= other.cents and one.profiles - free <= other.profiles


def _without_idle(
    offers: list[tuple[Offer, ...]], orders: list[tuple[int, int, str]], steps: list[list[tuple[int, int]]]
) -> list[tuple[Offer, ...]]:
    """The offers without those that another beats given what some item must use; only sizes that a rule reads count."""
    sizes = [{size for low, high, size in orders if at in (low, high)} for at in range(len(offers))]
    for at in (at for pairs in steps for pair in pairs for at in pair):
        sizes[at].add("height")
    free: frozenset[str] = frozenset()
    while True:
        offers = [_unbeaten(row, sorted(what), free) for row, what in zip(offers, sizes, strict=True)]
        now = frozenset().union(*(frozenset.intersection(*(o.profiles for o in row)) for row in offers))
        if now == free:
            return offers
        free = now


# The integer program


def _solve(targets: tuple[Package, ...], items: tuple[Item, ...], stock: Stock) -> tuple[tuple[Offer, ...], bool]:
    """The offer chosen for each item, and whether it is proved that none is better."""
    if not items:
        return (), True
    for allowance in ALLOWANCES:
        offers = [_offers(item, stock, allowance) for item in items]
        found = _program(targets, items, offers).least("misses")
        if found is None:
            continue
        best_alone = [min(o.misses for o in row) for row in offers]
        alone = sum(low * len(item.packages) for low, item in zip(best_alone, items, strict=True))
        misses = found[1]  # an item that several packages share counts so often, so what is spare bounds each item
        needed = min((misses - alone + 1) * SIXTEENTH, FARTHEST)  # one more, for what rounding hides
        if needed > allowance:
            offers = [_offers(item, stock, needed) for item in items]
            _, misses = _program(targets, items, offers).least("misses")
        spare = misses - alone
        near = [tuple(o for o in row if o.misses <= low + spare) for row, low in zip(offers, best_alone, strict=True)]
        near = _without_idle(near, _orders(targets, items), _steps(targets, items))
        return _program(targets, items, near).least("buying", {"misses": misses})[0], True
    offers = [(*_offers(item, stock, FARTHEST), _to_order(item, TO_ORDER)) for item in items]
    program = _program(targets, items, offers, yielding=True)
    return program.least("buying", {"misses": program.least("misses")[1]})[0], False


@dataclass
class _Program:
    """An integer program under construction: variables from 0 to 1, rows, and what may be minimised."""

    offers: list[tuple[Offer, ...]]
    width: int = 0
    continuous: frozenset[int] = frozenset()

    def __post_init__(self) -> None:
        self.terms: list[tuple[int, int, float]] = []
        self.bounds: list[tuple[float, float]] = []
        self.goals: dict[str, list[tuple[int, int]]] = {}

    def variable(self) -> int:
        """One more variable."""
        self.width += 1
        return self.width - 1

    def row(self, terms: Iterable[tuple[int, float]], low: float, high: float) -> None:
        """One more row: low <= sum of coefficient times variable <= high."""
        self.terms += [(len(self.bounds), k, value) for k, value in terms]
        self.bounds.append((low, high))

    def least(self, goal: str, held: Mapping[str, int] = MappingProxyType({})) -> tuple[tuple[Offer, ...], int] | None:
        """The offers that make a goal least and its value, while other goals hold theirs; None where none do."""
        terms, bounds = list(self.terms), list(self.bounds)
        for other, value in held.items():
            terms += [(len(bounds), k, amount) for k, amount in self.goals[other]]
            bounds.append((-np.inf, value + CLOSE))
        at, k, value = zip(*terms, strict=True)
        matrix = csr_array((value, (at, k)), shape=(len(bounds), self.width))
        cost = np.zeros(self.width)
        for k, value in self.goals[goal]:
            cost[k] = value
        whole = np.ones(self.width)
        whole[list(self.continuous)] = 0
        low, high = np.array(bounds).T
        result = milp(
            cost,
            constraints=LinearConstraint(matrix, low, high),
            bounds=Bounds(0, 1),
            integrality=whole,
            options={"mip_rel_gap": 0.0},
        )
        if result.status != 0:
            return None
        ends = np.cumsum([len(row) for row in self.offers])
        picks = (np.argmax(x) for x in np.split(result.x[: ends[-1]], ends[:-1]))
        return tuple(row[pick] for row, pick in zip(self.offers, picks, strict=True)), round(result.fun)


def _program(
    targets: tuple[Package, ...], items: tuple[Item, ...], offers: list[tuple[Offer, ...]], yielding: bool = False
) -> _Program:
    """The program of a choice: a binary variable for each offer, and one for each profile: whether it is used.

    Where it is `yielding`, a step that cannot be made to read passes at the price of UNREAD.
    """
    program = _Program(offers)
    numbered = [[(program.variable(), o) for o in row] for row in offers]
    codes = {code: program.variable() for code in sorted(frozenset().union(*(o.profiles for r in offers for o in r)))}
    program.continuous = frozenset(codes.values())  # each is as large as some whole variable, and so whole itself

    for row in numbered:
        program.row(((k, 1.0) for k, _ in row), 1.0, 1.0)
        for code in frozenset().union(*(o.profiles for _, o in row)):
            users = [(k, 1.0) for k, o in row if code in o.profiles]
            program.row([*users, (codes[code], -1.0)], -np.inf, 0.0)
    for low, high, size in _orders(targets, items):
        small, large = ([(k, getattr(o, size)) for k, o in numbered[at]] for at in (low, high))
        program.row([*small, *((k, -value) for k, value in large)], -np.inf, CLOSE)

    unread = []
    for pairs in _steps(targets, items):
        reads = []
        for low, high in pairs:
            reads.append((program.variable(), 1.0))
            most = max(o.height for o in offers[low])
            noticed = 1 - table("reading")["noticed"]["part"]
            small = [(k, o.height) for k, o in numbered[low]]
            large = [(k, -noticed * o.height) for k, o in numbered[high]]
            program.row([*small, *large, (reads[-1][0], most)], -np.inf, most - MARGIN)
        if yielding:
            unread.append(program.variable())
            reads.append((unread[-1], 1.0))
        program.row(reads, 1.0, np.inf)

    flat, outweighs = [], 1  # one profile fewer outweighs whatever all prices together can differ by
    for item, row in zip(items, numbered, strict=True):
        cheapest = min(o.cents for _, o in row)
        outweighs += max(o.cents - cheapest for _, o in row) * len(item.packages)
        flat += [(k, o.misses * len(item.packages), (o.cents - cheapest) * len(item.packages)) for k, o in row]
    program.goals = {
        "misses": [(k, misses) for k, misses, _ in flat] + [(k, UNREAD) for k in unread],
        "buying": [(k, cents) for k, _, cents in flat] + [(k, outweighs) for k in codes.values()],
    }
    return program


def _orders(targets: tuple[Package, ...], items: tuple[Item, ...]) -> list[tuple[int, int, str]]:
    """Pairs of items of which the first is no larger than the second, and in which size.

    An element is no higher than in the tier above it under the same ceiling; a base reaches out no farther than the
    block or casing that it dies into, where the targets do not either.
    """
    place = {(package, item.target.role): at for at, item in enumerate(items) for package in item.packages}
    found: list[tuple[int, int, str]] = []
    for ladder in _ladders(targets):
        for name in standard().element_kinds:
            column = [place[at, name] for at in ladder if (at, name) in place]
            found += [(low, high, "height") for low, high in pairwise(column)]
    for at in range(len(targets)):
        stop = next((name for name in ("plinth block", "casing") if (at, name) in place), None)
        if stop and (at, "base") in place:
            found.append((place[at, "base"], place[at, stop], "projection"))
    asked = {"height": lambda t: t.height, "projection": lambda t: t.projection}
    return [
        (low, high, size)
        for low, high, size in dict.fromkeys(found)
        if low != high and asked[size](items[low].target) <= asked[size](items[high].target) + CLOSE
    ]


def _steps(targets: tuple[Package, ...], items: tuple[Item, ...]) -> list[list[tuple[int, int]]]:
    """For each step between neighbouring tiers that must read by size alone, the pairs of items that may show it."""
    place = {
        (package, item.target.role): at
        for at, item in enumerate(items)
        for package in item.packages
        if not _is_planted(item.target)
    }
    found = []
    for low, high in (step for ladder in _ladders(targets) for step in pairwise(ladder)):
        changes = seen_changes(targets[low], targets[high], standard())
        noticed = table("reading")["noticed"]["part"]
        sized = [name for name in changes if (low, name) in place and (high, name) in place]
        fixed = any(part > noticed for name, (_, part) in changes.items() if name not in sized)
        if not fixed and not any(new_form for new_form, _ in changes.values()):
            found.append([(place[low, name], place[high, name]) for name in sized])
    return found


def _ladders(targets: tuple[Package, ...]) -> list[list[int]]:
    """The packages of each ceiling height from the lowest tier up, as their places."""
    ceilings: dict[float, list[int]] = {}
    for at in sorted(range(len(targets)), key=lambda at: targets[at].tier):
        ceilings.setdefault(targets[at].ceiling, []).append(at)
    return list(ceilings.values())


def _is_planted(target: Target) -> bool:
    return any(way.planted for way in ways(target.role, target.form))


# What comes of it


def _built(package: Package, offers: dict[str, Offer]) -> Package:
    """The package with what was chosen for it; what hangs from the crown moves with the crown's lower edge."""
    crown = offers.get("crown")
    asked = package.element("crown")
    lower = crown.height - asked.size if crown and crown.assembly else 0.0
    return with_elements(package, tuple(_element(e, offers, lower) for e in package.elements), standard())


def _element(element: Element, offers: dict[str, Offer], lower: float) -> Element:
    """An element as it is built; `lower` is by how much the crown comes down farther than its target [in]."""
    kind = standard().element_kinds[element.element]
    if kind.place == "frieze":
        element = replace(element, bottom=element.bottom - lower)
    elif kind.place == "field":
        element = replace(element, size=floor((element.size - lower) / STEP) * STEP)
    offer = offers.get(element.element)
    assembly = offer.assembly if offer else _inner(element, offers.get(kind.within))
    if assembly is None:
        return element
    if offer and any(way.planted for way in ways(element.element, element.form)):
        return replace(element, profiles=assembly.profiles, assembly=assembly)
    bottom = element.bottom
    if bottom is not None and kind.place in ("dado", "plate", "ceiling"):
        bottom = element.top - assembly.height
    return replace(
        element,
        size=assembly.height,
        projection=assembly.projection,
        thickness=assembly.thickness,
        bottom=bottom,
        profiles=assembly.profiles,
        parts=assembly.parts if all(name for name, _ in assembly.parts) else (),
        assembly=assembly,
    )


def _inner(element: Element, whole: Offer | None) -> Assembly | None:
    """The piece of a built-up that an element within it is; it is bought with the whole, and its price is there."""
    pieces = [p for p in whole.assembly.pieces if p.part == element.element] if whole and whole.assembly else []
    if not pieces:
        return None
    piece = replace(pieces[0], x=0.0, y=0.0)
    return Assembly(
        role=element.element,
        built_up=whole.assembly.built_up,
        pieces=(piece,),
        height=piece.height,
        projection=piece.projection,
        thickness=piece.profile.thickness,
        price_per_foot=0.0,
        deviation=abs(piece.height - element.target),
    )


def _short(item: Item, offer: Offer, targets: tuple[Package, ...]) -> tuple[str, Profile] | None:
    """Where the stock falls short of a target: by how much and what to have made, in words, and its profile."""
    asked, built = item.target, offer.assembly
    what = standard().element_kinds[asked.role].display.lower()
    where = f"{', '.join(targets[at].label for at in item.packages)}: {what}"
    if built is None:
        reason = "makes it" if not offer.misses else "steps down to it"
        return (
            f"{where}: nothing in stock {reason}; have a {asked.form} made, {_sizes(asked.height, asked.projection)}",
            _to_make(item, None),
        )
    bounds = table("built_ups")["shortfall"]
    higher, deeper = built.height - asked.height, built.projection - asked.projection
    compared = any(way.reach for way in ways(asked.role, asked.form) if way.name == built.built_up)
    off = []
    if abs(higher) > bounds["height"]:
        off.append(f"{format_size(abs(higher))} too {'large' if higher > 0 else 'small'}")
    if compared and abs(deeper) > bounds["projection"] * max(asked.projection, 1.0):
        off.append(f"{format_size(abs(deeper))} too {'deep' if deeper > 0 else 'shallow'}")
    if not off:
        return None
    made = _to_make(item, built)
    return (
        f"{where}: the nearest in stock, {' and '.join(built.profiles)}, is {' and '.join(off)}; "
        f"have the {made.role} made after {made.code}, {_sizes(made.height, made.projection)}",
        made,
    )


def _sizes(height: float, projection: float) -> str:
    return f"{format_size(height)} x {format_size(projection)}"


def _unread(packages: tuple[Package, ...]) -> list[str]:
    """The steps between neighbouring tiers that cannot be seen, in words."""
    return [
        f"{packages[low].label} and {packages[high].label}: with this stock the step between them cannot be seen; "
        "add profiles in sizes between, or join the two tiers"
        for low, high in (step for ladder in _ladders(packages) for step in pairwise(ladder))
        if reads(packages[low], packages[high], 0, standard()) == "faint"
    ]


def _to_make(item: Item, built: Assembly | None) -> Profile:
    """The profile to have made: the tallest moulding of what comes nearest, drawn to make up what is missing.

    Its code is that of the profile that it is drawn after; it has neither stock lengths nor a price.
    """
    asked = item.target
    if built is None:
        size = (asked.height, asked.projection)
        return Profile("", asked.role, "", *size, item.thickness, (Member(standard().moulding("fascia"), *size),))
    model = max((p.section for p in built.pieces), key=lambda p: (p.role != "board", p.height))
    height = max(model.height + asked.height - built.height, SIXTEENTH)
    depth = max(model.projection + asked.projection - built.projection, SIXTEENTH)
    up, out = height / model.height, depth / model.projection
    members = tuple(replace(m, height=m.height * up, projection=m.projection * out) for m in model.members)
    return replace(model, height=height, projection=depth, members=members, lengths=(), price=0.0)
