"""Which profiles of a stock go together: by design family, and by how their curves are drawn."""

from collections.abc import Sequence
from typing import NamedTuple

from planner.mouldings.members import Profile
from planner.stock.stock import Stock

DRAWN_TWO_WAYS = frozenset({"convex", "concave", "recta", "reversa", "hollow"})
"""Curves that are arcs of circles in Roman mouldings and conics in Greek ones; a bead is a semicircle in both
(Hatfield, The American House-Carpenter, art. 310-311)."""


PLAIN = "plain"
"""How a period that derives from no order has its mouldings: square, where it can."""


class Taste(NamedTuple):
    """What an element asks of the looks of its profiles, each blank where any will do.

    Parameters
    ----------
    family : the design family of trim that stays, which goes before all else.
    curves : "roman" or "greek", as the period draws them, or "plain" where it derives from no order and has few.
    run : the design family that runs through the house.
    """

    family: str = ""
    curves: str = ""
    run: str = ""


def curves_of(profile: Profile) -> str:
    """How the curves of a profile are drawn, "roman" or "greek"; blank for one that has none, which suits both."""
    drawn = [m.greek for m in profile.members if m.curve in DRAWN_TWO_WAYS]
    return ("greek" if any(drawn) else "roman") if drawn else ""


def is_of(profile: Profile, family: str) -> bool:
    """Whether a profile goes with a design family: it is of that family or of none, or has no curve to tell it by."""
    return profile.family in (family, "") or not curves_of(profile)


def is_drawn(profile: Profile, curves: str) -> bool:
    """Whether the curves of a profile suit a period that draws them so; what curves a plain period has, it has as they
    come."""
    return curves == PLAIN or curves_of(profile) in (curves, "")


def moulded(profiles: Sequence[Profile], taste: Taste) -> Sequence[Profile]:
    """Of profiles for a place that is moulded those with a curve, or those without in a plain period; any where there
    are none such."""
    return [p for p in profiles if (curves_of(p) == "") == (taste.curves == PLAIN)] or profiles


def preferred(profiles: Sequence[Profile], taste: Taste) -> Sequence[Profile]:
    """Of profiles that suit otherwise those that suit a taste; where none suits all of it, what comes first counts."""
    family, curves, run = taste
    if family:
        profiles = [p for p in profiles if p.family == family] or profiles
    if curves:
        profiles = [p for p in profiles if is_drawn(p, curves)] or profiles
    if run:
        profiles = [p for p in profiles if is_of(p, run)] or profiles
    return profiles


def families(stock: Stock) -> tuple[str, ...]:
    """The design families of a stock, those with the most profiles that show it first."""
    counts: dict[str, int] = {}
    for profile in stock.profiles:
        if profile.family and curves_of(profile):
            counts[profile.family] = counts.get(profile.family, 0) + 1
    return tuple(sorted(counts, key=lambda name: (-counts[name], name)))
