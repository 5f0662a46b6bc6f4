"""From an element of a package to the profiles that its section is drawn with, and where they stand."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache

from planner.library import Library
from planner.library.trim_rows import MemberShare
from planner.mouldings import order_members
from planner.mouldings.assembly import Placed
from planner.mouldings.members import Member, profile
from planner.trim.packages import BOARDED, Element, Package
from planner.trim.panelling import panelled
from planner.values import immutabledict

WITHOUT_SECTION = frozenset({"crossette", "door leaf", "sash"})
"""Elements that are cut from another or come with their opening, and have no section of their own."""
PANELLED = frozenset({"wainscot", "wall panels"})
"""Elements whose section goes through the middle of a panel."""
WALL = "wall"
"""The part of a form that is bare wall between two mouldings."""


@lru_cache(maxsize=512)
def sections(package: Package, library: Library) -> immutabledict[str, tuple[Placed, ...]]:
    """The profiles that the section of each element of a package is drawn with, from the bottom up, by element.

    What was chosen from stock, where something was; else members from the order or from common practice, as high and
    as deep as the element. What is cut from another element (WITHOUT_SECTION) and a form that has no rows have none. A
    casing's profiles run from the opening outwards.
    """
    greek = library.style(package.style).curves == "greek"
    drawn = {
        e.element: panelled(package, e, library) if e.element in PANELLED else _placed(e, package.order, greek, library)
        for e in package.elements
    }
    return immutabledict({name: placed for name, placed in drawn.items() if placed})


def _placed(element: Element, order: str, greek: bool, library: Library) -> tuple[Placed, ...]:
    ground = element.ground
    if element.assembly is not None:
        off = element.projection - element.assembly.projection
        return tuple(replace(p, x=p.x + off, backing=library.joinery.backing) for p in element.assembly.pieces)
    if element.element in WITHOUT_SECTION:
        return ()
    runs: list[tuple[float, list[Member]]] = [(0.0, [])]
    height = 0.0
    for part, size in parts_of(element, library) or (("", element.size),):
        if part == WALL:
            runs.append((height + size, []))
        else:
            runs[-1][1].extend(_members(element, part, size, order, library, greek))
        height += size
    found = []
    for y, run in runs:
        if run:
            drawn = profile([replace(m, greek=m.greek or greek) for m in run], element.element, element.form)
            drawn = replace(drawn, thickness=min(drawn.thickness, element.thickness))
            found.append(Placed(drawn, ground, y, backing=library.joinery.backing))
    return tuple(found)


def parts_of(element: Element, library: Library) -> tuple[tuple[str, float], ...]:
    """Names and heights [in] of the parts that an element's section shows; a form that is drawn whole has none."""
    whole = element.assembly is None and element.form in library.form_members.order
    return () if whole else element.parts


def _members(element: Element, part: str, size: float, order: str, library: Library, greek: bool) -> Sequence[Member]:
    rows, form = library.form_members, element.form
    if (from_order := rows.order.get(part or form)) is not None:
        if from_order == "cornice":
            from_order = order_members.cornice_of(library.order(order), greek)
        return _of_order(element, from_order, size, order, library)
    if part == "" and form in _FASCIAE:
        thickness = min(element.thickness, element.depth * 0.8)
        return order_members.fascia_casing(size, element.depth, library, thickness, _FASCIAE[form]).members
    found = rows.parts.get(f"{form}/{part}", rows.parts.get(part)) if part else rows.forms.get(form)
    return _stretched(found or (), size, element.depth, library)


def _of_order(element: Element, part: str, size: float, order: str, library: Library) -> Sequence[Member]:
    """Members of the order; a cornice, a frieze or a taenia of an entablature stands on its board."""
    boarded = any(name in BOARDED for name, _ in element.parts)
    ground = element.thickness if boarded else 0.0
    if part == "taenia":
        return (Member(library.moulding("fillet"), size, ground + size),)
    drawn = order_members.members(order, part, size, library, ground)
    if "dentils" not in element.enrichments:
        drawn = order_members.uncut(drawn, library)
    if part == "pedestal cap":
        stretch = element.depth / drawn.projection
        return tuple(replace(m, projection=m.projection * stretch) for m in drawn.members)
    return drawn.members


def _stretched(rows: Sequence[MemberShare], size: float, projection: float, library: Library) -> tuple[Member, ...]:
    total = sum(row.height for row in rows)
    drawn = (Member(library.moulding(row.kind), size * row.height / total, projection * row.projection) for row in rows)
    return tuple(_springing(m) for m in drawn)


def _springing(member: Member) -> Member:
    """A half round reaches at least half its own height."""
    least = member.height / 2 if member.curve == "half round" else 0.0
    return replace(member, projection=max(member.projection, least))


_FASCIAE = {"two fasciae": 2, "three fasciae": 3}
