"""What a stock falls short of, in words, and what to have made. All lengths are inches."""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from planner.library import Library
from planner.mouldings.assembly import Assembly
from planner.mouldings.members import Member, Profile
from planner.stock.built_ups import Target, falls_short, groups_of, keeps_shares
from planner.stock.families import is_drawn, is_of
from planner.stock.items import Order, heights_of
from planner.stock.offers import Item
from planner.trim.packages import Package
from planner.trim.steps import reads
from planner.units import Unit, format_size

LEAST_MADE = 1 / 16
"""The least height and depth of a profile that is to be made [in]."""


def shortfall(
    item: Item, built: Assembly | None, to_order: bool, targets: Sequence[Package], library: Library
) -> tuple[str, Profile] | None:
    """Where a stock falls short of a target: by how much and what to have made, in words, and its profile.

    `built` is None where nothing is bought; `to_order` says that something could be, but keeps no rule.
    """
    asked, where, unit = item.target, _place(item, targets, library), targets[item.packages[0]].unit
    if built is None:
        reason = "steps down to it" if to_order else "makes it"
        size = _by(asked.height, asked.projection, unit)
        return f"{where}: nothing in stock {reason}; have a {asked.form} made, {size}", to_make(item, None, library)
    higher, deeper = falls_short(asked, built, library)
    off = []
    if higher:
        off.append(f"{format_size(abs(higher), unit)} too {'large' if higher > 0 else 'small'}")
    if deeper:
        off.append(f"{format_size(abs(deeper), unit)} too {'deep' if deeper > 0 else 'shallow'}")
    if not off:
        return None
    made = to_make(item, built, library)
    return (
        f"{where}: the nearest in stock, {' and '.join(built.profiles)}, is {' and '.join(off)}; "
        f"have the {made.role} made after {made.code}, {_by(made.height, made.projection, unit)}",
        made,
    )


def unlike(item: Item, built: Assembly, targets: Sequence[Package], library: Library) -> list[str]:
    """Where what is bought is of the right size but not made up as a target asks, in words."""
    asked, where = item.target, _place(item, targets, library)
    found = []
    if asked.shares and not keeps_shares(asked, built, library):
        groups = groups_of(built, asked, library)
        has = _parts(height / sum(groups.values()) for height in groups.values())
        found.append(
            f"{where}: nothing in stock keeps the order's shares; what lies below the corona, the corona and what lies "
            f"above it are {has} parts in 100, where the order has {_parts(share for _, share in asked.shares)}"
        )
    carried = {
        name for way in library.built_ups(asked.role, asked.form) if way.name == built.built_up for name in way.enriched
    }
    if asked.enrichments and not carried:
        found.append(f"{where}: nothing in stock makes it with {' or '.join(asked.enrichments)}; it goes without")
    return found


def larger_below(
    orders: Iterable[Order],
    items: Sequence[Item],
    taken: Sequence[Assembly | None],
    targets: Sequence[Package],
    library: Library,
) -> list[str]:
    """Where a profile is higher in a tier than in one above it, in words."""
    found = []
    for low, high, role in orders:
        unit = targets[items[low].packages[0]].unit
        sizes = [format_size(heights_of((role,), built)[role], unit) for at in (low, high) if (built := taken[at])]
        found.append(
            f"{_place(items[low], targets, library)}: its {role}, {sizes[0]}, is larger than the one of "
            f"{', '.join(targets[at].label for at in items[high].packages)}, {sizes[1]}; nothing in stock "
            "steps down to that; have a smaller one made"
        )
    return found


def strangers(target: Target, built: Assembly) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Codes of what something is built of that is not of the family that runs through the house, and of what has curves
    drawn otherwise than the period draws them."""
    profiles = [piece.cut_from or piece.profile for piece in built.pieces]
    others = [p.code for p in profiles if target.run and not is_of(p, target.run)]
    drawn = [p.code for p in profiles if target.curves and not is_drawn(p, target.curves)]
    return tuple(dict.fromkeys(others)), tuple(dict.fromkeys(drawn))


def left(
    items: Sequence[Item], taken: Sequence[Assembly | None], targets: Sequence[Package], library: Library
) -> list[str]:
    """Where the family that runs through the house had to be left, or the period's way to draw curves, in words."""
    found = []
    for item, built in zip(items, taken, strict=True):
        others, drawn = strangers(item.target, built) if built else ((), ())
        where = _place(item, targets, library)
        if others:
            found.append(f"{where}: {item.target.run} has nothing that suits; {' and '.join(others)} instead")
        if drawn:
            curves = item.target.curves.capitalize()
            found.append(f"{where}: nothing in stock has {curves} curves; {' and '.join(drawn)} instead")
    return found


def unread(steps: Iterable[tuple[Package, Package]], library: Library) -> list[str]:
    """Of the steps between neighbouring tiers those that cannot be seen, in words."""
    return [
        f"{low.label} and {high.label}: with this stock the step between them cannot be seen; "
        "add profiles in sizes between, or join the two tiers"
        for low, high in steps
        if reads(low, high, 0, library) == "faint"
    ]


def unproved(gap: float, profiles: int, fewest: int, unit: Unit) -> str:
    """What is not proved of a choice that may deviate by `gap` less and takes so many profiles, in words. [in]"""
    if gap:
        less = format_size(gap, unit)
        return f"not proved: another choice from this stock may miss the targets by up to {less} less in all"
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


def _place(item: Item, targets: Sequence[Package], library: Library) -> str:
    """The packages that ask for an item, and what it is, in words."""
    what = library.element(item.target.role).display.lower()
    return f"{', '.join(targets[at].label for at in item.packages)}: {what}"


def _parts(shares: Iterable[float]) -> str:
    """Shares in parts of 100, in words."""
    *first, last = (f"{100 * share:.0f}" for share in shares)
    return f"{', '.join(first)} and {last}"


def _by(height: float, projection: float, unit: Unit) -> str:
    return f"{format_size(height, unit)} x {format_size(projection, unit)}"
