"""From an element of a package to the profiles that its section is drawn with, and where they stand."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from planner.library import table
from planner.mouldings import members as mouldings
from planner.mouldings import order_members
from planner.mouldings.members import Member, Profile
from planner.trim.packages import Element, Package

WITHOUT_SECTION = frozenset({"wainscot", "wall panels", "crossette"})
"""Elements that are no run of moulding; their rails and mouldings are drawn with the wall."""
WALL = "wall"
"""The part of a form that is bare wall between two mouldings."""
GREEK_STYLES = frozenset({"greek revival"})
"""Styles whose curves are conics instead of arcs of circles (Hatfield, art. 310-311)."""


@dataclass(frozen=True)
class Placed:
    """A profile where it stands: `x` off the wall and `y` above the element's foot [in]."""

    profile: Profile
    x: float = 0.0
    y: float = 0.0

    @property
    def top(self) -> float:
        """Height of its upper edge above the element's foot [in]."""
        return self.y + sum(m.height for m in self.profile.members)

    @property
    def reach(self) -> float:
        """How far it reaches from the wall [in]."""
        return self.x + max((m.projection for m in self.profile.members), default=0.0)


def profile_of(element: Element, order: str, style: str = "") -> tuple[Placed, ...]:
    """The profiles that an element's section is drawn with, from the bottom up.

    What was chosen from stock, where something was; else members from the order or from common practice, as high and
    as deep as the element. Empty for what is no run of moulding (WITHOUT_SECTION) and for a form that has no rows.
    A casing's profiles run from the opening outwards.
    """
    if element.assembly is not None:
        return tuple(Placed(p.section, p.x, p.y) for p in element.assembly.pieces)
    if element.element in WITHOUT_SECTION:
        return ()
    runs: list[tuple[float, list[Member]]] = [(0.0, [])]
    height = 0.0
    for part, size in parts_of(element) or (("", element.size),):
        if part == WALL:
            runs.append((height + size, []))
        else:
            runs[-1][1].extend(_members(element, part, size, order))
        height += size
    return tuple(
        Placed(mouldings.profile(_curved(run, style), element.element, element.form), 0.0, y) for y, run in runs if run
    )


def parts_of(element: Element) -> tuple[tuple[str, float], ...]:
    """Names and heights [in] of the parts that an element's section shows; a form that is drawn whole has none."""
    whole = element.assembly is None and element.form in table("form_members")["order"]
    return () if whole else element.parts


def sections(package: Package, order: str, style: str = "") -> dict[str, tuple[Placed, ...]]:
    """The profiles of every element of a package that has a section, by element."""
    drawn = {e.element: profile_of(e, order, style) for e in package.elements}
    return {name: placed for name, placed in drawn.items() if placed}


def _members(element: Element, part: str, size: float, order: str) -> Sequence[Member]:
    rows = table("form_members")
    if (from_order := rows["order"].get(part or element.form)) is not None:
        return _of_order(element, from_order, size, order)
    if part == "" and element.form in _FASCIAE:
        return order_members.fascia_casing(
            size, element.projection, min(element.thickness, element.projection * 0.8), _FASCIAE[element.form]
        ).members
    found = (
        rows["part"].get(f"{element.form}/{part}", rows["part"].get(part)) if part else rows["form"].get(element.form)
    )
    return _stretched(found or [], size, element.projection)


def _of_order(element: Element, part: str, size: float, order: str) -> Sequence[Member]:
    """Members of the order; a cornice, a frieze or a taenia of an entablature stands on its board."""
    boarded = any(name in ("architrave", "frieze", "taenia") for name, _ in element.parts)
    ground = element.thickness if boarded else 0.0
    if part == "taenia":
        return (Member("fillet", size, ground + size),)
    drawn = order_members.members(order, part, size, ground)
    if part == "pedestal cap":
        stretch = element.projection / drawn.projection
        return tuple(replace(m, projection=m.projection * stretch) for m in drawn.members)
    return drawn.members


def _stretched(rows: Sequence[Sequence], size: float, projection: float) -> tuple[Member, ...]:
    total = sum(share for _, share, _ in rows)
    drawn = (Member(kind, size * share / total, projection * reach) for kind, share, reach in rows)
    return tuple(_springing(m) for m in drawn)


def _springing(member: Member) -> Member:
    """A half round reaches at least half its own height."""
    least = member.height / 2
    return replace(member, projection=max(member.projection, least)) if _is_round(member) else member


def _curved(members: Sequence[Member], style: str) -> list[Member]:
    return [replace(m, greek=True) for m in members] if style in GREEK_STYLES else list(members)


def _is_round(member: Member) -> bool:
    return mouldings.kind_named(member.kind).curve == "half round"


_FASCIAE = {"two fasciae": 2, "three fasciae": 3}
