"""What is wrong with a profile: sizes, runs, and the rules of what may stand on what."""

from collections.abc import Sequence
from itertools import pairwise

from planner.mouldings.members import Member, Profile, bare_number
from planner.mouldings.outlines import HAIR, STANDING, faces
from planner.units import INCHES_IN, Unit, section_unit

SHOP = 1 / 32 + HAIR
"""What a sum of members may miss a height by [in]: half the shop's sixteenth."""


def faults(profile: Profile, unit: Unit = "in") -> tuple[str, ...]:
    """Everything wrong with a profile, each in words with the rule's source, in a house of that unit; empty where
    nothing is."""
    if not profile.members:
        return ("the profile has no members; list them from the bottom up, e.g. 'fillet 1/4; ovolo 1 x 3/4'",)
    broken = [f for i, m in enumerate(profile.members) for f in _size_faults(i, m, unit)]
    if broken:
        return tuple(broken)
    return (*_sum_faults(profile, unit), *_run_faults(profile.members), *_rule_faults(profile))


def _size_faults(index: int, m: Member, unit: Unit) -> list[str]:
    found = []
    for what, value in (("height", m.height), ("projection", m.projection)):
        if not 0 < value < float("inf"):
            bare = section_unit(unit)
            shown = f"{value / INCHES_IN[bare]:g} {bare}"
            found.append(f"member {index + 1}, {m.kind}: its {what} is {shown}; it must be above zero")
    if not found and m.curve == "half round" and m.projection < m.height / 2 - HAIR:
        found.append(
            f"member {index + 1}, {m.kind}: a semicircle {_said(m.height, unit)} high reaches at least "
            f"{_said(m.height / 2, unit)} out, not {_said(m.projection, unit)} (Hatfield, art. 311)"
        )
    return found


def _said(inches: float, unit: Unit) -> str:
    """A length as nearly as a profile is drawn [in]: in sixty-fourths of an inch, or in decimals of a millimetre."""
    bare = section_unit(unit)
    return f"{bare_number(inches) if bare == 'in' else f'{inches / INCHES_IN[bare]:.6g}'} {bare}"


def _sum_faults(p: Profile, unit: Unit) -> list[str]:
    total, reach = sum(m.height for m in p.members), max(m.projection for m in p.members)
    found = []
    if abs(total - p.height) > SHOP:
        found.append(f"the members sum to {_said(total, unit)}, but the height is given as {_said(p.height, unit)}")
    if abs(reach - p.projection) > SHOP:
        found.append(
            f"the members reach {_said(reach, unit)}, but the projection is given as {_said(p.projection, unit)}"
        )
    return found


def _run_faults(members: Sequence[Member]) -> list[str]:
    found = []
    for i, (m, (foot, head)) in enumerate(zip(members, faces(members), strict=True)):
        curve = m.curve
        if curve in ("convex", "concave", "recta", "reversa") and abs(head - foot) < HAIR:
            found.append(
                f"member {i + 1}, {m.kind}: the faces beside it lie equally far out, so it has nowhere to run; "
                "change its projection or a neighbour's"
            )
        if curve == "hollow" and min(foot, head) - (m.height - abs(head - foot)) / 2 < -HAIR:
            found.append(
                f"member {i + 1}, {m.kind}: its hollow would cut through to the wall; move the members beside it out"
            )
    return found


def _rule_faults(p: Profile) -> list[str]:
    members, found = p.members, []
    rising = [head > foot for foot, head in faces(members, p.role in STANDING)]
    for i, m in enumerate(members):
        load = [a for a in members[i + 1 :] if a.projection > m.projection + _allowance(members, i, a)]
        if m.action == "terminates" and rising[i] and load:
            found.append(
                f"the {m.kind} (member {i + 1}) is weak at its top and terminates a profile, but carries a "
                f"{load[0].kind} that projects beyond it; an ovolo or a cyma reversa supports (Hatfield, art. 310)"
            )
    for i, (low, high) in enumerate(pairwise(members)):
        if not {low.action, high.action} & {"binds"} and "dentil band" not in (low.kind, high.kind):
            found.append(
                f"the {low.kind} (member {i + 1}) and the {high.kind} above it meet with no fillet to part them "
                "(the fillet binds: Hatfield, art. 310)"
            )
    return found + _cornice_faults(p)


def _allowance(members: Sequence[Member], index: int, above: Member) -> float:
    """How far a member may pass a terminating one: its own fillet, next above it, by the fillet's height."""
    own = index + 1 < len(members) and members[index + 1] is above and above.kind == "fillet"
    return above.height + HAIR if own else HAIR


def _cornice_faults(p: Profile) -> list[str]:
    coronas = [i for i, m in enumerate(p.members) if m.kind == "corona"]
    if p.role not in ("cornice", "entablature") or not coronas:
        return []
    at = coronas[-1]
    bed = [m for m in p.members[:at] if m.action == "supports" and m.projection < p.members[at].projection]
    if bed:
        return []
    return [
        f"the corona (member {at + 1}) has no bed mould below it to support it; "
        "an ovolo, a cyma reversa or dentils belong there (Hatfield, art. 310)"
    ]
