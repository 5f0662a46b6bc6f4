"""Trim that stays, in a plan: the tiers of its rooms, the ladders matched to it, and what is still to be bought."""

from collections.abc import Mapping
from dataclasses import replace
from typing import TypeVar

from planner.hierarchy.reasons import shortest_chain
from planner.hierarchy.rules import PassageRule, Range, Rules, passage_arcs
from planner.house.model import Existing, House
from planner.intent.model import Intent, Wish
from planner.library import Library
from planner.stock.stock import Stock, family_of
from planner.trim.existing import amounts_to, matched, with_existing
from planner.trim.packages import Package, with_elements
from planner.values import immutabledict

K = TypeVar("K")


def staying_tiers(house: House, intent: Intent, targets: Mapping[str, tuple[Package, ...]]) -> immutabledict[str, int]:
    """The tier of each room with trim that stays: the designer's pin, else what its trim amounts to.

    Parameters
    ----------
    targets : the target packages of all tiers, from the bottom, by room.
    """
    found = {}
    for name, rows in house.stays.items():
        pinned = intent.rooms.get(name, Wish()).tier
        tier = pinned or amounts_to(rows, targets[name])
        if tier is not None:
            found[name] = tier
    return immutabledict(found)


def matched_ladders(
    house: House,
    tiers: Mapping[str, int],
    targets: Mapping[K, tuple[Package, ...]],
    stock: Stock | None,
    library: Library,
) -> dict[K, tuple[Package, ...]]:
    """The target packages of all tiers by whatever they are known by, each ladder matched to the trim that stays under
    the same ceiling, in rooms of these tiers, and to its design family where the stock has that."""
    names = {row.profile for rows in house.stays.values() for row in rows if row.profile}
    families = {name: family_of(name, stock) for name in names} if stock else {}

    def under(ceiling: float) -> list[tuple[int, tuple[Existing, ...]]]:
        return [(tier, house.stays[room]) for room, tier in tiers.items() if house.by_name[room].ceiling == ceiling]

    return {key: matched(ladder, under(ladder[0].ceiling), library, families) for key, ladder in targets.items()}


def with_staying_tiers(held: Rules, tiers: Mapping[str, int]) -> Rules:
    """The rules with each room held to the tier of the trim that stays in it, which outranks its use, the house's grade
    and what its walls would carry; a pin of the designer's stands.

    What stays is a fact, so what a passage asks of such a room yields where it cannot hold, and no more than it must.
    """
    ranges = dict(held.ranges)
    for room, tier in tiers.items():
        if not any(r.source == "pin" for r in ranges[room]):
            kept = tuple(r for r in ranges[room] if r.source in ("ladder", "range"))
            fact = Range(tier, tier, "stays", f"held to tier {tier} by the trim that stays there")
            ranges[room] = (*kept, fact)
    fixed = replace(held, ranges=ranges)
    while tiers and (chain := shortest_chain(fixed)):
        asking = [
            p for p in fixed.passages if {p.near, p.far} & tiers.keys() and set(passage_arcs(p)) & set(chain.arcs)
        ]
        if not asking:
            break
        fixed = _without(fixed, asking[0])
    return fixed


def _without(held: Rules, passage: PassageRule) -> Rules:
    """The rules without what a passage asks of its rooms' tiers."""
    asked = set(passage_arcs(passage))
    free = replace(passage, limit=None, rise=None)
    return replace(
        held,
        arcs=tuple(arc for arc in held.arcs if arc not in asked),
        passages=tuple(free if other == passage else other for other in held.passages),
    )


def new_share(package: Package, existing: tuple[Existing, ...], library: Library) -> float:
    """The part of the wall's height that trim still to be bought takes in a room with trim that stays, 0 to 1."""
    if not existing:
        return package.trim_share
    new = tuple(e for e in with_existing(package, existing, library).elements if not e.stays)
    return with_elements(package, new, library).trim_share
