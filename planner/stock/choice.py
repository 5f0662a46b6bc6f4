"""The choice of what to buy for every tier and ceiling of a house at once. All lengths are inches.

Least total deviation from the targets, then fewest different profiles, then least cost, so that no tier is larger than
the one above it and every step between neighbours reads. How far it is proved that nothing does better is told.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from math import floor

import numpy as np

from planner.library import Library
from planner.mouldings.assembly import Assembly
from planner.mouldings.members import Profile
from planner.mouldings.outlines import HAIR
from planner.stock.arrays import Whole
from planner.stock.buying import Bought, buy
from planner.stock.items import Order, items_of, neighbours, rules_of, stepping_up
from planner.stock.market import MOST_CENTS, Offers
from planner.stock.offers import SIXTEENTH, TO_ORDER, Item, Known, Settled, settle
from planner.stock.program import ABSENT, SIZES, Rules, Size
from planner.stock.shortfalls import larger_below, left, shortfall, unlike, unproved, unread
from planner.stock.stock import Stock
from planner.stock.weighing import serving
from planner.trim.grounds import grounded
from planner.trim.packages import Element, Package, with_elements
from planner.trim.panelling import as_chosen
from planner.trim.spans import built_within
from planner.units import Unit

MOST_TURNS = 12
"""How often everything is chosen anew so that profiles step with the tiers."""


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
    optimal : whether it is proved that no choice in which the same family runs through the house keeps the rules and
        does better. False where a rule had to give way, which `shortfalls` says, and where the search was bounded
        before it came to a proof, which `unproved` says.
    shortfalls : what the stock cannot meet, by how much, and what to have made, in words.
    unproved : what of the choice is not proved, in words; blank where all is.
    to_make : the profiles to have made.
    family : the design family that runs through the house, blank where the stock has none.
    left : where another family had to serve, or curves drawn otherwise than the period draws them, in words.
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
    family: str = ""
    left: tuple[str, ...] = ()

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
    One design family runs through the house: of the few that serve it best (planner.stock.weighing) the one with the
    fewest shortfalls, then the least deviation, then the least cost. Another serves where that one has nothing that
    suits; trim that stays asks for a family of its own.

    What asks for the same gets the same, wherever it stands in the house, unless a step must be read by its size. No
    element is higher than in a tier above it under the same ceiling, and no base reaches past the block or casing that
    it dies into, where the targets do not either. No profile of a role that steps (library/built_ups.toml) is higher
    than that of the same element in a tier above, so long as nothing need be made to order for it.

    First the sizes are settled that keep these rules and miss least, by an integer program (planner.stock.program)
    over as much of the stock as it needs to know; then, of all that misses as little, what takes the fewest profiles
    and costs least is bought (planner.stock.buying). The work is bounded by numbers of assemblies, offers and choices
    alone, never by time, so that equal inputs give equal choices.
    """
    found = [_of_family(targets, run, stock, library) for run in serving(targets, stock, library)]
    return min(found, key=lambda c: (len(c.shortfalls) + len(c.left), floor(c.deviation / SIXTEENTH + 0.5), c.cost))


@dataclass(frozen=True)
class _Found:
    """What is settled and bought under some rules: the assembly of each item, None where it is made to order."""

    rules: Rules
    settled: Settled
    bought: Bought
    taken: tuple[Assembly | None, ...]


def _of_family(targets: tuple[Package, ...], run: str, stock: Stock, library: Library) -> Choice:
    """The best choice of which a design family runs through the house."""
    items = items_of(targets, stock, library, run)
    if not items:
        return Choice(targets, 0.0, 0.0, (), 0, 0.0, True, (), "", (), run, ())
    return _choice(targets, items, *_stepping(targets, items, stock, library), library)


def _stepping(
    targets: tuple[Package, ...], items: tuple[Item, ...], stock: Stock, library: Library
) -> tuple[_Found, tuple[Order, ...]]:
    """What is bought so that profiles step with the tiers, and where they still do not.

    Which profiles a choice takes is known only once it is made. Orders that it breaks are therefore added to the rules,
    and everything is chosen anew: what keeps all of them and is best under some of them is best under all. An order
    for which more would have to be made than without it is given up.
    """
    rules = rules_of(targets, items, library)
    found = _bought(rules, settle(items, rules, stock, library), library)
    given_up: set[Order] = set()
    singly = thorough = False
    for _ in range(MOST_TURNS):
        broken = dict.fromkeys(stepping_up(targets, items, found.taken, library))
        added = [order for order in broken if order not in given_up][: 1 if singly else None]
        if not added and thorough:
            break
        if thorough := not added:
            found = _bought(found.rules, found.settled, library, found)
            continue
        rules = replace(found.rules, orders=(*found.rules.orders, *added))
        settled = settle(items, rules, stock, library, found.settled)
        if settled.giving <= found.settled.giving:
            found = _bought(rules, settled, library)
        elif len(added) == 1:
            given_up |= set(added)
        else:
            singly = True
    return found, tuple(dict.fromkeys(stepping_up(targets, items, found.taken, library)))


def _bought(rules: Rules, settled: Settled, library: Library, before: _Found | None = None) -> _Found:
    """What is bought of what is settled under some rules: to a proof, if it can be, where it was bought before without
    one."""
    offers = [
        _offers(one, rows, rules.sizes_read(at))
        for at, (one, rows) in enumerate(zip(settled.known, settled.useful, strict=True))
    ]
    first = before.bought.rows if before else _likely(offers, settled, rules)
    asked = offers, rules, settled.misses, settled.giving, first
    bought = buy(*asked, complete=not settled.loose, thorough=before is not None)
    drafts = [int(rows[at]) for rows, at in zip(settled.useful, bought.rows, strict=True)]
    taken = (
        None if draft == TO_ORDER else one.drafts.assembly(draft, library)
        for one, draft in zip(settled.known, drafts, strict=True)
    )
    return _Found(rules, settled, bought, tuple(taken))


def _likely(offers: Sequence[Offers], settled: Settled, rules: Rules) -> tuple[int, ...]:
    """Offers as large as what is settled that take few profiles between them: item by item, those with the least choice
    first, the offer that takes the fewest profiles which none before it takes, then the cheapest."""
    settled_at = [int(np.flatnonzero(r == draft)[0]) for r, draft in zip(settled.useful, settled.drafts, strict=True)]
    alike = []
    for item, (of, row) in enumerate(zip(offers, settled_at, strict=True)):
        same = (of.misses <= of.misses[row]) & (of.giving <= of.giving[row])
        for size in rules.sizes_read(item):
            same &= np.abs(of.measures(size) - of.measures(size)[row]) < HAIR
        alike.append(np.flatnonzero(same))
    used = np.zeros(max(int(of.codes.max(initial=0)) for of in offers) + 2, dtype=bool)
    used[-1] = True  # no profile, numbered -1
    found = dict.fromkeys(range(len(offers)), 0)
    for item in sorted(found, key=lambda item: len(alike[item])):
        of, rows = offers[item], alike[item]
        found[item] = int(rows[np.lexsort((of.cents[rows], (~used[of.codes[rows]]).sum(axis=1)))[0]])
        used[of.codes[found[item]]] = True
    return tuple(found.values())


def _choice(
    targets: tuple[Package, ...], items: tuple[Item, ...], found: _Found, up: tuple[Order, ...], library: Library
) -> Choice:
    """What is taken for each item, put into the packages, with what it comes to and what of it is proved."""
    settled, bought, taken = found.settled, found.bought, found.taken
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
    short = [
        told
        for item, built, one in zip(items, taken, settled.known, strict=True)
        if (told := shortfall(item, built, len(one.usable) > 0, targets, library))
    ]
    unlikes = [
        words
        for item, built in zip(items, taken, strict=True)
        if built
        for words in unlike(item, built, targets, library)
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
        optimal=sure and not settled.yielding and not up,
        shortfalls=(
            *dict.fromkeys((*(words for words, _ in short), *unlikes)),
            *larger_below(up, items, taken, targets, library),
            *unread(((packages[low], packages[high]) for low, high in neighbours(packages)), library),
        ),
        unproved="" if sure else unproved(gap, len(profiles), bought.fewest, targets[0].unit),
        to_make=tuple(dict.fromkeys(profile for _, profile in short)),
        family=next((item.target.run for item in items if item.target.run), ""),
        left=tuple(left(items, taken, targets, library)),
    )


# What is bought of it


def _offers(known: Known, rows: Whole, read: Sequence[Size]) -> Offers:
    """Drafts of an item, in their order, as what it may be bought as, with the sizes that rules read; TO_ORDER, if it
    is among them, is first."""
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
        roles={
            size: np.concatenate([np.full(made, ABSENT), drafts.measures(size)[built]])
            for size in read
            if size not in SIZES
        },
    )


# What comes of it


def _built(package: Package, taken: Mapping[str, Assembly], library: Library) -> Package:
    """The package with what was taken for it; what hangs from the crown moves with the crown's lower edge."""
    crown, asked = taken.get("crown"), package.element("crown")
    lower = crown.height - asked.size if crown and asked else 0.0
    built = (_element(e, taken, lower, library, package.unit) for e in package.elements)
    return with_elements(package, grounded(built, library), library)


def _element(element: Element, taken: Mapping[str, Assembly], lower: float, library: Library, unit: Unit) -> Element:
    """An element as it is built; `lower` is by how much the crown comes down farther than its target [in]."""
    kind = library.element(element.element)
    if kind.place == "frieze" and element.bottom is not None:
        element = replace(element, bottom=element.bottom - lower)
    elif kind.place == "field":
        element = replace(element, size=built_within(element.size - lower, unit))
    own = taken.get(element.element)
    assembly = own or _inner(element, taken.get(kind.within))
    if assembly is None:
        return element
    if own and not element.locked and any(way.planted for way in library.built_ups(element.element, element.form)):
        return as_chosen(replace(element, profiles=assembly.profiles, assembly=assembly), library)
    bottom = element.bottom
    if element.top is not None and kind.place in ("dado", "plate", "frieze", "ceiling"):
        bottom = element.top - assembly.height
    return replace(
        element,
        size=assembly.height,
        projection=element.ground + assembly.projection if _reaches(element, library) else element.projection,
        thickness=assembly.thickness,
        bottom=bottom,
        profiles=assembly.profiles,
        parts=assembly.parts if all(name for name, _ in assembly.parts) else (),
        assembly=assembly,
    )


def _reaches(element: Element, library: Library) -> bool:
    """Whether what an element is built of begins at the wall; a stool begins at the sash, and only its nosing shows."""
    ways = library.built_ups(element.element, element.form)
    return bool(element.locked) or not ways or any(way.reach for way in ways)


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
