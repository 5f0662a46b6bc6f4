"""Trim that stays: the tier that it amounts to, a package with it in its place, the rest matched to it. In inches."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from math import inf

from planner.house.model import WHOLE_ROOM, Existing
from planner.library import Library
from planner.library.model import NO_FORM
from planner.trim.grounds import grounded
from planner.trim.packages import Element, Package, with_elements
from planner.trim.schedule import Cell
from planner.trim.spans import built_within
from planner.values import immutabledict

STAYS = "stays"
"""The source of what is there and stays, as it was measured."""

UNMEASURED = "stays, as planned until it is measured"
"""The source of what stays and was not measured: it is drawn as it would be planned."""


@dataclass(frozen=True)
class Match:
    """How near trim that stays comes to the same element elsewhere.

    `kept` is its size in `room`, `planned` its size in `other`, a room of the same tier, under the same ceiling where
    there is one. Both in inches, and 0 where a room has none of the element. `family` is the design family of
    what stays, where what is planned is built of it, in part or whole; blank where it is not.
    """

    room: str
    element: str
    kept: float
    other: str
    planned: float
    kept_form: str
    planned_form: str
    family: str = ""

    @property
    def difference(self) -> float:
        """By how much what stays is larger than what is planned [in]."""
        return self.kept - self.planned


# The tier that it amounts to


def amounts_to(existing: Sequence[Existing], ladder: Sequence[Package]) -> int | None:
    """The tier of a ladder that trim comes nearest to in forms and sizes, the lower of two as near.

    Parameters
    ----------
    existing : the trim that stays in a room.
    ladder : the packages of all tiers under the room's ceiling, from the bottom.

    Returns
    -------
    The tier, None where nothing is said that tells one from another.

    Notes
    -----
    Each element counts by how unlike the tier's it is: 2 where only one of the two has it; else 1 for another form, and
    the difference in size as a part of the larger.
    """
    told = [row for row in existing if row.element != WHOLE_ROOM]
    if not told or not ladder:
        return None
    apart = {package.tier: sum(_unlike(row, package) for row in told) for package in ladder}
    return min(apart, key=lambda tier: (round(apart[tier], 9), tier))


def _unlike(row: Existing, package: Package) -> float:
    """How unlike trim is to a package's, 0 to 2."""
    planned = package.element(row.element)
    if planned is None or row.form == NO_FORM:
        return 0.0 if planned is None and row.form == NO_FORM else 2.0
    size = row.height or planned.size
    return (row.form != planned.form) + abs(size - planned.size) / max(size, planned.size)


# A room's package with what stays


def with_existing(package: Package, existing: Sequence[Existing], library: Library) -> Package:
    """A package with trim that stays in the place of what was planned.

    What stays has the size that was measured, is built from no stock and has the source STAYS. What is counted within
    it stays with it, and all else does where the room is kept whole; it is drawn as planned and has the source
    UNMEASURED. What hangs from the crown, or stands by the rail, moves with a crown or a rail that stays.

    Parameters
    ----------
    package : of the room's tier, targets or built from stock.
    existing : the trim that stays in the room; the package itself is the answer where there is none.
    library : which elements and forms there are.

    Returns
    -------
    The package; its key and its label say whose trim is in it.
    """
    rows = {row.element: row for row in existing if row.element != WHOLE_ROOM}
    if not existing:
        return package
    whole = any(row.element == WHOLE_ROOM for row in existing)
    rail, crown = _rail_top(package, rows, library), _crown_bottom(package, rows)
    found = []
    for name, kind in library.element_kinds.items():
        planned, row = package.element(name), rows.get(name)
        if row is not None:
            element = None if row.form == NO_FORM else _kept(row, planned, package, rail, crown, library)
        elif planned is not None and (whole or _stays_with(kind.within, rows)):
            element = _left(_moved(planned, package, rail, crown, library))
        else:
            element = planned and _moved(planned, package, rail, crown, library)
        if element is not None and element.size > 0:
            found.append(element)
    measured = {name for name, row in rows.items() if row.projection is not None}
    changed = with_elements(package, grounded(found, library, measured), library)
    room = existing[0].room
    own = {name: with_existing(there, existing, library) for name, there in package.own.items()}
    changed = replace(changed, own=immutabledict(own))
    return replace(changed, stays=room, label=f"{package.label}, with what stays in {room}")


def _stays_with(within: str, rows: Mapping[str, Existing]) -> bool:
    return within in rows and rows[within].form != NO_FORM


def _left(element: Element) -> Element:
    """An element that stays as it is planned, until it is measured."""
    return replace(element, source=UNMEASURED, profiles=(), assembly=None, stays=True)


def _kept(
    row: Existing, planned: Element | None, package: Package, rail: float, crown: float, library: Library
) -> Element:
    """An element as it is there; what was not measured of it is as planned, or as its form has it."""
    form, size = library.form(row.element, row.form), row.height or 0.0
    like = planned if planned is not None and planned.form == row.form else None
    projection = row.projection or (like.depth if like else form.projection or form.projects_by * size)
    bottom = row.bottom
    if bottom is None:
        bottom = _bottom(row.element, size, package, rail, crown, library)
    shares = like.parts if like else tuple((part.part, part.share or part.inches) for part in form.parts)
    total = sum(share for _, share in shares)
    return Element(
        element=row.element,
        form=row.form,
        target=size,
        size=size,
        projection=projection,
        thickness=min(like.thickness if like else form.thickness, projection),
        members=form.members,
        bottom=bottom,
        source=STAYS,
        parts=tuple((part, size * share / total) for part, share in shares) if total else (),
        stays=True,
        enrichments=like.enrichments if like else (),
    )


def _bottom(name: str, size: float, package: Package, rail: float, crown: float, library: Library) -> float | None:
    """Where the lower edge of an element stands that was not measured [in]; None for what goes round an opening."""
    kind, places = library.element(name), library.places
    match kind.place:
        case "opening":
            return None
        case "floor":
            return 0.0
        case "ceiling":
            return package.ceiling - size
        case "frieze":
            return crown - places.frieze.of_ceiling * package.ceiling - size
        case "field":
            return rail + places.field.margin
    return 0.0 if name == "wainscot" else rail - size


def _moved(element: Element, package: Package, rail: float, crown: float, library: Library) -> Element:
    """A planned element where a rail or a crown that stays leaves it."""
    kind, margin = library.element(element.element), library.places.field.margin
    by_rail, by_crown = rail - _rail_top(package, {}, library), crown - _crown_bottom(package, {})
    if element.bottom is None or (not by_rail and not by_crown):
        return element
    match kind.place:
        case "dado" | "plate" if element.element == "wainscot":
            return replace(element, size=element.size + by_rail)
        case "dado" | "plate":
            return replace(element, bottom=element.bottom + by_rail)
        case "frieze":
            return replace(element, bottom=element.bottom + by_crown)
        case "field":
            bottom = rail + margin if by_rail else element.bottom
            return replace(element, bottom=bottom, size=max(0.0, built_within(crown - margin - bottom, package.unit)))
    return element


def _rail_top(package: Package, rows: Mapping[str, Existing], library: Library) -> float:
    """The upper edge of the rail, or of the wainscot, above the floor [in]: of what stays before what is planned."""
    kept = [(name, row) for name in ("plate rail", "chair rail") if (row := rows.get(name)) and row.bottom is not None]
    for _, row in kept:
        return (row.bottom or 0.0) + (row.height or 0.0)
    wainscot = rows.get("wainscot")
    if wainscot is not None and wainscot.form != NO_FORM:
        return (wainscot.bottom or 0.0) + (wainscot.height or 0.0)
    tops = (e.top for name in ("plate rail", "chair rail", "wainscot") if (e := package.element(name)))
    return next((top for top in tops if top is not None), library.places.dado.highest)


def _crown_bottom(package: Package, rows: Mapping[str, Existing]) -> float:
    """The lower edge of the crown above the floor [in]: of what stays before what is planned."""
    planned, row = package.element("crown"), rows.get("crown")
    if row is None:
        return package.ceiling - (planned.size if planned else 0.0)
    return package.ceiling if row.form == NO_FORM else row.bottom or package.ceiling - (row.height or 0.0)


# The rest, matched to it


def matched(
    ladder: Sequence[Package],
    kept: Iterable[tuple[int, Sequence[Existing]]],
    library: Library,
    families: Mapping[str, str] = immutabledict(),
) -> tuple[Package, ...]:
    """A ladder under one ceiling whose targets are matched to trim that stays.

    On the tier that the trim amounts to each element takes its size, where the form is the same or the size within a
    third. A tier above has no less and one below no more, so that the order of the tiers holds. The line of a rail, a
    picture rail or a wainscot that stays is carried through all tiers. On the tier itself each element is of the
    design family of what stays.

    Parameters
    ----------
    ladder : the target packages of all tiers, from the bottom.
    kept : for each room with trim that stays under this ceiling its tier and the trim; of two rooms of one tier the
        first is followed.
    library : which elements and forms there are.
    families : the design family of each profile that is named as what stays, as far as it is known.
    """
    rows: dict[str, dict[int, Existing]] = {}
    for tier, existing in kept:
        for row in existing:
            if row.element != WHOLE_ROOM and row.form != NO_FORM and row.height:
                rows.setdefault(row.element, {}).setdefault(tier, row)
    return tuple(_matched(package, ladder, rows, families, library) for package in ladder) if rows else tuple(ladder)


def _matched(
    package: Package,
    ladder: Sequence[Package],
    rows: Mapping[str, Mapping[int, Existing]],
    families: Mapping[str, str],
    library: Library,
) -> Package:
    sized = {}
    for element in package.elements:
        place = library.element(element.element).place
        alike = {t: r for t, r in rows.get(element.element, {}).items() if _is_alike(r, ladder[t - 1])}
        ruled = any(at == Cell("", element.element) for at, _ in package.variant)
        own = element.element != "wainscot" and place != "field" and not ruled
        brought = _brought(element, alike, package.tier, library) if own else element
        sized[element.element] = _of_its_family(brought, alike.get(package.tier), families)
    first = {name: next(iter(by_tier.values())) for name, by_tier in rows.items()}
    high = package.element("plate rail") is not None
    lines = ["plate rail" if high else "chair rail", *(["wainscot"] if high == ("plate rail" in first) else [])]
    rail = _rail_top(package, {name: first[name] for name in lines if name in first}, library)
    crown = package.ceiling - (sized["crown"].size if "crown" in sized else 0.0)
    found = tuple(
        _lined_up(_moved(element, package, rail, crown, library), first.get(name)) for name, element in sized.items()
    )
    if found == package.elements:
        return package
    return with_elements(package, tuple(element for element in found if element.size > 0), library)


def _lined_up(element: Element, row: Existing | None) -> Element:
    """A picture rail on the line of one that stays, whose lower edge was measured."""
    if element.element != "picture rail" or row is None or row.bottom is None:
        return element
    return replace(element, bottom=row.bottom)


def _of_its_family(element: Element, row: Existing | None, families: Mapping[str, str]) -> Element:
    """A planned element of the design family of what stays on its tier, unless a rule locks it."""
    if row is None or element.locked:
        return element
    return replace(element, family=families.get(row.profile, ""))


def _is_of_its_family(element: Element) -> bool:
    """Whether anything that an element is built of is of the design family that it is to be of."""
    return element.assembly is not None and any(p.profile.family == element.family for p in element.assembly.pieces)


def _is_alike(row: Existing, package: Package) -> bool:
    """Whether what stays is near enough to what its tier has to be followed."""
    planned, size = package.element(row.element), row.height or 0.0
    if planned is None:
        return False
    return row.form == planned.form or abs(size - planned.size) <= max(size, planned.size) / 3


def _brought(element: Element, rows: Mapping[int, Existing], tier: int, library: Library) -> Element:
    """A planned element brought to what stays on its tier, or between what stays below and above it."""
    below = max(((r.height or 0.0, r.room) for t, r in rows.items() if t < tier), default=(0.0, ""))
    above = min(((r.height or 0.0, r.room) for t, r in rows.items() if t > tier), default=(inf, ""))
    own = rows.get(tier)
    asked, room = (own.height or 0.0, own.room) if own else min(max((element.size, ""), below), above)
    if not room or asked == element.size or not element.size:
        return element
    form, stretch = library.form(element.element, element.form), asked / element.size
    measured = own.projection if own and own.form == element.form else None
    top = element.top
    return replace(
        element,
        target=asked,
        size=asked,
        projection=element.ground + (measured or element.depth * (stretch if form.projects_by else 1.0)),
        bottom=top - asked if top is not None and element.bottom else element.bottom,
        parts=tuple((part, height * stretch) for part, height in element.parts),
        source=f"{element.source}; brought to what stays in {room}",
    )


# How near it comes


def matches(
    packages: Mapping[str, Package], existing: Mapping[str, Sequence[Existing]], library: Library
) -> tuple[Match, ...]:
    """How near the trim that stays comes to the same elements of other rooms on its tier.

    Parameters
    ----------
    packages : the package of each room by the room's name.
    existing : the trim that stays, by room.
    library : which elements there are.

    Returns
    -------
    For each room with trim that stays and each element that was measured there a match with the first room, by name,
    of the same tier and nothing of its own to keep of that element, under the same ceiling before another.
    """
    found = []
    for room, rows in existing.items():
        for row in rows:
            if row.element == WHOLE_ROOM or room not in packages:
                continue
            other = _beside(room, row.element, packages, existing)
            planned = packages[other].element(row.element) if other else None
            if other:
                found.append(
                    Match(
                        room=room,
                        element=row.element,
                        kept=row.height or 0.0,
                        other=other,
                        planned=planned.size if planned else 0.0,
                        kept_form=row.form,
                        planned_form=planned.form if planned else NO_FORM,
                        family=planned.family if planned and _is_of_its_family(planned) else "",
                    )
                )
    order = list(library.element_kinds)
    return tuple(sorted(found, key=lambda m: (m.room, order.index(m.element))))


def _beside(
    room: str, element: str, packages: Mapping[str, Package], existing: Mapping[str, Sequence[Existing]]
) -> str:
    """The room that an element is matched with, "" where there is none."""
    mine = packages[room]
    others = [
        (package.ceiling != mine.ceiling, name)
        for name, package in packages.items()
        if name != room and package.tier == mine.tier and not _keeps(existing.get(name, ()), element)
    ]
    return min(others)[1] if others else ""


def _keeps(rows: Sequence[Existing], element: str) -> bool:
    return any(row.element in (element, WHOLE_ROOM) for row in rows)
