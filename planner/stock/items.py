"""What is to be bought for the packages of a house, and what must hold between the sizes of it. Lengths are inches."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import combinations, pairwise, product
from math import inf
from typing import TypeAlias

from planner.library import Library
from planner.mouldings.assembly import Assembly
from planner.mouldings.outlines import HAIR
from planner.stock.built_ups import Target, target_of
from planner.stock.offers import Item
from planner.stock.program import Rules, Size
from planner.stock.search import best
from planner.stock.stock import Stock
from planner.trim.packages import Element, Package
from planner.trim.steps import seen_changes

DYING = (("base", "plinth block"), ("casing", "plinth block"), ("base", "casing"))
"""What dies into what: a base and a casing into the block, or a base into the casing."""

Order: TypeAlias = tuple[int, int, Size]
"""Two items, the lower and the higher, and the size by which the first is no larger than the second."""


def items_of(targets: tuple[Package, ...], stock: Stock, library: Library, run: str = "") -> tuple[Item, ...]:
    """Every target that is bought on its own, of a design family where it asks for none of its own; what is part of
    another one's built-up comes with that."""
    items = []
    for at, package in enumerate(targets):
        for element in package.elements:
            target = target_of(package, element, library)
            if target is not None and not _comes_with(package, element, stock, library):
                own = target if target.family else replace(target, run=run)
                items.append(Item(own, (at,), element.thickness))
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


def rules_of(targets: tuple[Package, ...], items: Sequence[Item], library: Library) -> Rules:
    """What must hold between the sizes of items."""
    return Rules(
        shares=tuple(len(item.packages) for item in items),
        orders=_orders(targets, items, library),
        steps=_steps(targets, items, library),
        noticed=library.steps.noticed.part,
        proud=library.building.stop.proud,
    )


def _orders(targets: tuple[Package, ...], items: Sequence[Item], library: Library) -> tuple[Order, ...]:
    """Pairs of items of which the first is no larger than the second, and in which size.

    An element is no higher than in the tier above it under the same ceiling; a casing stands before the base that dies
    into it, a block before both, where the targets do too.
    """
    place = {(package, item.target.role): at for at, item in enumerate(items) for package in item.packages}
    found: list[Order] = []
    for ladder in _ladders(targets):
        for name in library.element_kinds:
            column = [place[at, name] for at in ladder if (at, name) in place]
            found += [(low, high, "height") for low, high in pairwise(column)]
    for at, (behind, before) in product(range(len(targets)), DYING):
        if (at, behind) in place and (at, before) in place:
            found.append((place[at, behind], place[at, before], "projection"))
    return tuple(
        (low, high, size)
        for low, high, size in dict.fromkeys(found)
        if low != high and _ordered(items[low].target, items[high].target, size, library)
    )


def _ordered(low: Target, high: Target, size: Size, library: Library) -> bool:
    """Whether the targets of an order keep it."""
    proud = library.building.stop.proud if size == "projection" else 0.0
    return float(getattr(low, size)) + proud <= float(getattr(high, size)) + HAIR


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
    for low, high in neighbours(targets):
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


def neighbours(packages: Sequence[Package]) -> tuple[tuple[int, int], ...]:
    """Places of the packages of neighbouring tiers under one ceiling, the lower first."""
    return tuple(dict.fromkeys(step for ladder in _ladders(packages) for step in pairwise(ladder)))


def _is_planted(target: Target, library: Library) -> bool:
    return any(way.planted for way in library.built_ups(target.role, target.form))


def stepping_up(
    targets: tuple[Package, ...], items: Sequence[Item], taken: Sequence[Assembly | None], library: Library
) -> Iterator[Order]:
    """Where a profile of a role is higher in a tier than in one above it, in the same element under one ceiling."""
    roles = library.building.stepping.roles
    heights = [heights_of(roles, built) if built else {} for built in taken]
    for column in _columns(targets, items, library):
        for low, high in combinations(column, 2):
            below, above = heights[low], heights[high]
            yield from ((low, high, role) for role in below if below[role] > above.get(role, inf) + HAIR)


def _columns(targets: tuple[Package, ...], items: Sequence[Item], library: Library) -> Iterator[list[int]]:
    """The items of each element in each ladder, from the lowest tier up, each once."""
    place = {(package, item.target.role): at for at, item in enumerate(items) for package in item.packages}
    for ladder in _ladders(targets):
        for name in library.element_kinds:
            yield list(dict.fromkeys(place[at, name] for at in ladder if (at, name) in place))


def heights_of(roles: Sequence[str], built: Assembly) -> dict[str, float]:
    """What the profiles of some roles measure up the wall in something built, each role taken together [in]."""
    found: dict[str, float] = {}
    for piece in built.pieces:
        whole = piece.cut_from or piece.profile
        if whole.role in roles:
            found[whole.role] = found.get(whole.role, 0.0) + whole.height
    return found
