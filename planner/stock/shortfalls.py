"""What a stock falls short of, in words, and what to have made. All lengths are inches."""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from planner.library import Library
from planner.mouldings.assembly import Assembly
from planner.mouldings.members import Member, Profile
from planner.stock.offers import Item
from planner.trim.packages import Package
from planner.trim.steps import reads
from planner.units import format_size

LEAST_MADE = 1 / 16
"""The least height and depth of a profile that is to be made [in]."""


def shortfall(
    item: Item, built: Assembly | None, to_order: bool, targets: Sequence[Package], library: Library
) -> tuple[str, Profile] | None:
    """Where a stock falls short of a target: by how much and what to have made, in words, and its profile.

    `built` is None where nothing is bought; `to_order` says that something could be, but keeps no rule.
    """
    asked = item.target
    what = library.element(asked.role).display.lower()
    where = f"{', '.join(targets[at].label for at in item.packages)}: {what}"
    if built is None:
        reason = "steps down to it" if to_order else "makes it"
        size = _by(asked.height, asked.projection)
        return f"{where}: nothing in stock {reason}; have a {asked.form} made, {size}", to_make(item, None, library)
    bounds = library.building.shortfall
    higher, deeper = built.height - asked.height, built.projection - asked.projection
    compared = any(way.reach for way in library.built_ups(asked.role, asked.form) if way.name == built.built_up)
    off = []
    if abs(higher) > bounds.height:
        off.append(f"{format_size(abs(higher))} too {'large' if higher > 0 else 'small'}")
    if compared and abs(deeper) > bounds.projection * max(asked.projection, 1.0):
        off.append(f"{format_size(abs(deeper))} too {'deep' if deeper > 0 else 'shallow'}")
    if not off:
        return None
    made = to_make(item, built, library)
    return (
        f"{where}: the nearest in stock, {' and '.join(built.profiles)}, is {' and '.join(off)}; "
        f"have the {made.role} made after {made.code}, {_by(made.height, made.projection)}",
        made,
    )


def unread(steps: Iterable[tuple[Package, Package]], library: Library) -> list[str]:
    """Of the steps between neighbouring tiers those that cannot be seen, in words."""
    return [
        f"{low.label} and {high.label}: with this stock the step between them cannot be seen; "
        "add profiles in sizes between, or join the two tiers"
        for low, high in steps
        if reads(low, high, 0, library) == "faint"
    ]


def unproved(gap: float, profiles: int, fewest: int) -> str:
    """What is not proved of a choice that may deviate by `gap` less and takes so many profiles, in words. [in]"""
    if gap:
        return (
            f"not proved: another choice from this stock may miss the targets by up to {format_size(gap)} less in all"
        )
    if fewest < profiles:
        least = f"{fewest} at least" if fewest else "how many are needed is not known"
        return f"not proved: another choice that misses as little may take fewer profiles than {profiles}; {least}"
    return "not proved: another choice of as many profiles may cost less"


def to_make(item: Item, built: Assembly | None, library: Library) -> Profile:
    """The profile to have made: the tallest moulding of what comes nearest, drawn to make up what is missing.

    Its code is that of the profile that it is drawn after; it has neither stock lengths nor a price.
    """
    asked = item.target
    if built is None:
        size = (asked.height, asked.projection)
        return Profile("", asked.role, "", *size, item.thickness, (Member(library.moulding("fascia"), *size),))
    model = max((p.profile for p in built.pieces), key=lambda p: (p.role != "board", p.height))
    height = max(model.height + asked.height - built.height, LEAST_MADE)
    depth = max(model.projection + asked.projection - built.projection, LEAST_MADE)
    up, out = height / model.height, depth / model.projection
    members = tuple(replace(m, height=m.height * up, projection=m.projection * out) for m in model.members)
    return replace(model, height=height, projection=depth, members=members, lengths=(), price=0.0)


def _by(height: float, projection: float) -> str:
    return f"{format_size(height)} x {format_size(projection)}"
