"""The choice of what to buy for every tier and ceiling of a house at once. All lengths are inches.

Least total deviation from the targets, then fewest different profiles, then least cost, so that no tier is larger than
the one above it and every step between neighbours reads. How far it is proved that nothing does better is told.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise
from math import floor

import numpy as np

from planner.library import Library
from planner.mouldings.assembly import Assembly
from planner.mouldings.members import Profile
from planner.mouldings.outlines import HAIR
from planner.stock.arrays import Whole
from planner.stock.built_ups import Target, target_of
from planner.stock.buying import Bought, buy
from planner.stock.market import MOST_CENTS, Offers
from planner.stock.offers import SIXTEENTH, TO_ORDER, Item, Known, Settled, settle
from planner.stock.program import Rules, Size
from planner.stock.search import best
from planner.stock.shortfalls import shortfall, unproved, unread
from planner.stock.stock import Stock
from planner.trim.packages import Element, Package, with_elements
from planner.trim.spans import STEP
from planner.trim.steps import seen_changes

STOPS = ("plinth block", "casing")
"""What a base dies into: the first of these that its package has."""


@dataclass(frozen=True)
class Choice:
    """What to buy.

    Parameters
    ----------
    packages : the target packages, in their order, with what each element is built from and what that measures.
    deviation : sum over all elements of how far what is built misses its target, weighed by built_ups.toml. [in]
    gap : by how much less another choice that breaks no more rules may deviate, for all that is proved, counted in
        whole sixteenths of each element; 0.0 where it is proved that none does. [in]
    profiles : codes of the different profiles in use, sorted.
    fewest : how many different profiles any choice that deviates as little takes at least, as far as it is proved.
    cost : sum over all elements of the price of a foot (of a piece, for blocks), in the house's currency.
    optimal : whether it is proved that no choice keeps the rules and does better. False where a rule had to give way,
        which `shortfalls` says, and where the search was bounded before it came to a proof, which `unproved` says.
    shortfalls : what the stock cannot meet, by how much, and what to have made, in words.
    unproved : what of the choice is not proved, in words; blank where all is.
    to_make : the profiles to have made.
    """

    packages: tuple[Package, ...]
    deviation: float
    gap: float
    profiles: tuple[str, ...]
    fewest: int
    cost: float
    optimal: bool
    shortfalls: tuple[str, ...]
    unproved: str
    to_make: tuple[Profile, ...]

    @property
    def bound(self) -> float:
        """What any choice that breaks no more rules deviates at least, as far as it is proved [in]."""
        return max(self.deviation - self.gap, 0.0)


@lru_cache(maxsize=256)
def choose(targets: tuple[Package, ...], stock: Stock, library: Library) -> Choice:
    """The best choice from stock for all packages of a house.

    Parameters
    ----------
    targets : the target packages, one for each tier and ceiling in use.
    stock : what can be bought.
    library : how elements may be built, and when a step reads.

    Notes
    -----
    What asks for the same gets the same, wherever it stands in the house, unless a step must be read by its size. No
    element is higher than in a tier above it under the same ceiling, and no base reaches past the block or casing that
    it dies into, where the targets do not either.

    First the sizes are settled that keep these rules and miss least, by an integer program (planner.stock.program)
    over as much of the stock as it needs to know; then, of all that misses as little, what takes the fewest profiles
    and costs least is bought (planner.stock.buying). The work is bounded by numbers of assemblies, offers and choices
    alone, never by time, so that equal inputs give equal choices.
    """
    items = _items(targets, stock, library)
    if not items:
        return Choice(targets, 0.0, 0.0, (), 0, 0.0, True, (), "", ())
    rules = _rules(targets, items, library)
    settled = settle(items, rules, stock, library)
    offers = [_offers(one, rows) for one, rows in zip(settled.known, settled.useful, strict=True)]
    first = [int(np.flatnonzero(rows == row)[0]) for rows, row in zip(settled.useful, settled.drafts, strict=True)]
    bought = buy(offers, rules, settled.misses, settled.giving, first, complete=not settled.loose)
    drafts = [int(rows[at]) for rows, at in zip(settled.useful, bought.rows, strict=True)]
    taken = [
        None if draft == TO_ORDER else one.drafts.assembly(draft, library)
        for one, draft in zip(settled.known, drafts, strict=True)
    ]
    return _choice(targets, items, taken, settled, bought, library)


def _choice(
    targets: tuple[Package, ...],
    items: tuple[Item, ...],
    taken: Sequence[Assembly | None],
    settled: Settled,
    bought: Bought,
    library: Library,
) -> Choice:
    """What is taken for each item, put into the packages, with what it comes to and what of it is proved."""
    packages = tuple(
        _built(
            package,
            {i.target.role: built for i, built in zip(items, taken, strict=True) if at in i.packages and built},
            library,
        )
        for at, package in enumerate(targets)
    )
    made = [built for item, built in zip(items, taken, strict=True) if built for _ in item.packages]
    profiles = tuple(sorted({code for a in made for code in a.profiles}))
    told = [
        short
        for item, built, one in zip(items, taken, settled.known, strict=True)
        if (short := shortfall(item, built, len(one.usable) > 0, targets, library))
    ]
    gap = (settled.misses - settled.bound) * SIXTEENTH
    sure = settled.proved and bought.proved
    return Choice(
        packages=packages,
        deviation=sum(a.deviation for a in made),
        gap=gap,
        profiles=profiles,
        fewest=bought.fewest,
        cost=sum(a.price_per_foot for a in made),
        optimal=sure and not settled.yielding,
        shortfalls=(
            *dict.fromkeys(words for words, _ in told),
            *unread(((packages[low], packages[high]) for low, high in _neighbours(packages)), library),
        ),
        unproved="" if sure else unproved(gap, len(profiles), bought.fewest),
        to_make=tuple(dict.fromkeys(profile for _, profile in told)),
    )


# What is to be chosen


def _items(targets: tuple[Package, ...], stock: Stock, library: Library) -> tuple[Item, ...]:
    """Every target that is bought on its own; what is part of another one's built-up comes with that."""
    items = []
    for at, package in enumerate(targets):
        for element in package.elements:
            target = target_of(package, element, library)
            if target is not None and not _comes_with(package, element, stock, library):
                items.append(Item(target, (at,), element.thickness))
    apart = {at for pairs in _steps(targets, items, library) for pair in pairs for at in pair}
    together: dict[object, Item] = {}
    for at, item in enumerate(items):
        key = at if at in apart else item.target
        same = together.get(key)
        together[key] = replace(same, packages=same.packages + item.packages) if same else item
    return tuple(together.values())


def _comes_with(package: Package, element: Element, stock: Stock, library: Library) -> bool:
    """Whether an element is a piece of whatever the element that it is counted within is built up of."""
    whole = package.element(library.element(element.element).within)
    target = target_of(package, whole, library) if whole is not None else None
    if whole is None or target is None or target.profile or element.locked:
        return False
    ways = library.built_ups(whole.element, whole.form)
    if not ways or not all(any(layer.part == element.element for layer in way.layers) for way in ways):
        return False
    return bool(best(target, stock, library, 1))


def _rules(targets: tuple[Package, ...], items: Sequence[Item], library: Library) -> Rules:
    return Rules(
        shares=tuple(len(item.packages) for item in items),
        orders=_orders(targets, items, library),
        steps=_steps(targets, items, library),
        noticed=library.steps.noticed.part,
    )


def _orders(targets: tuple[Package, ...], items: Sequence[Item], library: Library) -> tuple[tuple[int, int, Size], ...]:
    """Pairs of items of which the first is no larger than the second, and in which size.

    An element is no higher than in the tier above it under the same ceiling; a base reaches out no farther than the
    block or casing that it dies into, where the targets do not either.
    """
    place = {(package, item.target.role): at for at, item in enumerate(items) for package in item.packages}
    found: list[tuple[int, int, Size]] = []
    for ladder in _ladders(targets):
        for name in library.element_kinds:
            column = [place[at, name] for at in ladder if (at, name) in place]
            found += [(low, high, "height") for low, high in pairwise(column)]
    for at in range(len(targets)):
        stop = next((name for name in STOPS if (at, name) in place), None)
        if stop and (at, "base") in place:
            found.append((place[at, "base"], place[at, stop], "projection"))
    return tuple(
        (low, high, size)
        for low, high, size in dict.fromkeys(found)
        if low != high and getattr(items[low].target, size) <= getattr(items[high].target, size) + HAIR
    )


def _steps(
    targets: tuple[Package, ...], items: Sequence[Item], library: Library
) -> tuple[tuple[tuple[int, int], ...], ...]:
    """For each step between neighbouring tiers that must read by size alone, the pairs of items that may show it."""
    place = {
        (package, item.target.role): at
        for at, item in enumerate(items)
        for package in item.packages
        if not _is_planted(item.target, library)
    }
    found = []
    for low, high in _neighbours(targets):
        changes = seen_changes(targets[low], targets[high], library)
        sized = [name for name in changes if (low, name) in place and (high, name) in place]
        fixed = any(part > library.steps.noticed.part for name, (_, part) in changes.items() if name not in sized)
        if not fixed and not any(new_form for new_form, _ in changes.values()):
            found.append(tuple((place[low, name], place[high, name]) for name in sized))
    return tuple(found)


def _ladders(packages: Sequence[Package]) -> list[list[int]]:
    """The packages of each period and ceiling height from the lowest tier up, as their places.

    Of several packages of one tier the first is that of the ladder; each other one stands in its place once.
    """
    ceilings: dict[tuple[str, float], dict[int, list[int]]] = {}
    for at in sorted(range(len(packages)), key=lambda at: packages[at].tier):
        ceilings.setdefault((packages[at].style, packages[at].ceiling), {}).setdefault(packages[at].tier, []).append(at)
    found = []
    for tiers in ceilings.values():
        usual = [variants[0] for variants in tiers.values()]
        found.append(usual)
        for place, variants in enumerate(tiers.values()):
            found += [[*usual[:place], other, *usual[place + 1 :]] for other in variants[1:]]
    return found


def _neighbours(packages: Sequence[Package]) -> tuple[tuple[int, int], ...]:
    """Places of the packages of neighbouring tiers under one ceiling, the lower first."""
    return tuple(dict.fromkeys(step for ladder in _ladders(packages) for step in pairwise(ladder)))


def _is_planted(target: Target, library: Library) -> bool:
    return any(way.planted for way in library.built_ups(target.role, target.form))


def _offers(known: Known, rows: Whole) -> Offers:
    """Drafts of an item, in their order, as what it may be bought as; TO_ORDER, if it is among them, is first."""
    item, drafts, built = known.item, known.drafts, rows[rows != TO_ORDER]
    made = len(rows) - len(built)
    share = len(item.packages)
    cents = np.floor(np.minimum(drafts.price[built] * 100, MOST_CENTS) + 0.5).astype(np.int64)
    return Offers(
        codes=np.concatenate([np.full((made, drafts.codes.shape[1]), -1), drafts.codes[built]]),
        cents=np.concatenate([np.zeros(made, dtype=np.int64), cents * share]),
        misses=np.concatenate([np.zeros(made, dtype=np.int64), known.misses[built] * share]),
        giving=np.where(rows == TO_ORDER, share * bool(len(known.usable)), 0),
        height=np.concatenate([np.full(made, item.target.height), drafts.height[built]]),
        projection=np.concatenate([np.full(made, item.target.projection), drafts.projection[built]]),
    )


# What comes of it


def _built(package: Package, taken: Mapping[str, Assembly], library: Library) -> Package:
    """The package with what was taken for it; what hangs from the crown moves with the crown's lower edge."""
    crown, asked = taken.get("crown"), package.element("crown")
    lower = crown.height - asked.size if crown and asked else 0.0
    return with_elements(package, tuple(_element(e, taken, lower, library) for e in package.elements), library)


def _element(element: Element, taken: Mapping[str, Assembly], lower: float, library: Library) -> Element:
    """An element as it is built; `lower` is by how much the crown comes down farther than its target [in]."""
    kind = library.element(element.element)
    if kind.place == "frieze" and element.bottom is not None:
        element = replace(element, bottom=element.bottom - lower)
    elif kind.place == "field":
        element = replace(element, size=floor((element.size - lower) / STEP) * STEP)
    own = taken.get(element.element)
    assembly = own or _inner(element, taken.get(kind.within))
    if assembly is None:
        return element
    if own and not element.locked and any(way.planted for way in library.built_ups(element.element, element.form)):
        return replace(element, profiles=assembly.profiles, assembly=assembly)
    bottom = element.bottom
    if element.top is not None and kind.place in ("dado", "plate", "ceiling"):
        bottom = element.top - assembly.height
    return replace(
        element,
        size=assembly.height,
        projection=element.ground + assembly.projection,
        thickness=assembly.thickness,
        bottom=bottom,
        profiles=assembly.profiles,
        parts=assembly.parts if all(name for name, _ in assembly.parts) else (),
        assembly=assembly,
    )


def _inner(element: Element, whole: Assembly | None) -> Assembly | None:
    """The piece of a built-up that an element within it is; it is bought with the whole, and its price is there."""
    piece = next((p for p in whole.pieces if p.part == element.element), None) if whole else None
    if whole is None or piece is None:
        return None
    return Assembly(
        role=element.element,
        built_up=whole.built_up,
        pieces=(replace(piece, x=0.0, y=0.0),),
        height=piece.profile.height,
        projection=piece.profile.projection,
        thickness=piece.profile.thickness,
        price_per_foot=0.0,
        deviation=abs(piece.profile.height - element.target),
    )
