"""Trim that stays, in a plan: the tiers of its rooms, the ladders matched to it, and what is still to be bought."""

from collections.abc import Mapping
from dataclasses import replace

from planner.hierarchy.rules import Range, Rules
from planner.house.model import Existing, House
from planner.intent.model import Intent, Wish
from planner.library import Library
from planner.trim.existing import amounts_to, matched, with_existing
from planner.trim.packages import Package, with_elements
from planner.values import immutabledict


def staying_tiers(
    house: House, intent: Intent, targets: Mapping[float, tuple[Package, ...]], library: Library
) -> immutabledict[str, int]:
    """The tier of each room with trim that stays: the designer's pin, else what its trim amounts to.

    Parameters
    ----------
    targets : the target packages of all tiers, from the bottom, by the ceiling above them [in].
    """
    found = {}
    for name, rows in house.stays.items():
        pinned = intent.rooms.get(name, Wish()).tier
        tier = pinned or amounts_to(rows, targets[house.by_name[name].ceiling], library)
        if tier is not None:
            found[name] = tier
    return immutabledict(found)


def matched_ladders(
    house: House, tiers: Mapping[str, int], targets: Mapping[float, tuple[Package, ...]], library: Library
) -> dict[float, tuple[Package, ...]]:
    """The target packages by ceiling, matched to the trim that stays under the same ceiling."""
    return {
        ceiling: matched(
            ladder,
            [(tier, house.stays[room]) for room, tier in tiers.items() if house.by_name[room].ceiling == ceiling],
            library,
        )
        for ceiling, ladder in targets.items()
    }


def with_staying_tiers(held: Rules, tiers: Mapping[str, int]) -> Rules:
    """The rules with each room held to the tier of the trim that stays in it, which outranks its use, the house's grade
    and what its walls would carry; a pin of the designer's stands."""
    ranges = dict(held.ranges)
    for room, tier in tiers.items():
        if not any(r.source == "pin" for r in ranges[room]):
            kept = tuple(r for r in ranges[room] if r.source in ("ladder", "range"))
            fact = Range(tier, tier, "stays", f"held to tier {tier} by the trim that stays there")
            ranges[room] = (*kept, fact)
    return replace(held, ranges=ranges)


def new_share(package: Package, existing: tuple[Existing, ...], library: Library) -> float:
    """The part of the wall's height that trim still to be bought takes in a room with trim that stays, 0 to 1."""
    if not existing:
        return package.trim_share
    new = tuple(e for e in with_existing(package, existing, library).elements if not e.stays)
    return with_elements(package, new, library).trim_share
