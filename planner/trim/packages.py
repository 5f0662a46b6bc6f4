"""A tier's trim package: which elements there are, in what form, and how big under a given ceiling."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property, lru_cache
from math import inf, isfinite
from typing import NamedTuple

from planner.intent.trim_rules import Change
from planner.library import Library
from planner.library.derived import ORDER_MEASURES
from planner.library.model import NO_FORM, ORDER_CANON
from planner.library.trim_rows import Form, Interior, StyleRow
from planner.mouldings.assembly import Assembly
from planner.mouldings.outlines import HAIR
from planner.trim import interiors, styles
from planner.trim.enrichments import carried
from planner.trim.grounds import grounded
from planner.trim.measures import measures_under
from planner.trim.schedule import Cell, Variation, at_opening, of_room, own_openings
from planner.trim.spans import STEP, built_size, built_within, covered
from planner.trim.standing import RAILED, standing
from planner.trim.stops import meeting, returned
from planner.units import Unit, format_length
from planner.values import Kept, immutabledict

BOARDED = ("architrave", "frieze", "taenia")
"""Parts of an entablature that are boards; the cornice above stands on them."""

AS_IT_IS = Change()
"""No change at all."""

SAID = "the designer's rule"
"""The source of a size that a rule says."""


@dataclass(frozen=True)
class Element:
    """One element of a package, e.g. the base, a casing or the crown.

    Parameters
    ----------
    element : its kind, a row of library/elements.toml ("base", "casing", "window casing", "chair rail", "wainscot",
        "crown", "overdoor", ...).
    form : how it is composed, e.g. "board and cap", "three fasciae", "full entablature".
    target : size asked by the order, the style and the tier [in]: height on the wall, or width for a casing.
    size : size that is built [in].
    projection : from the bare wall, the ground included [in]; a shoe's from the base that it stands before.
    thickness : of the board or profile [in].
    members : how many members of it show.
    bottom : height of its lower edge above the floor [in], None for what goes round an opening.
    profiles : codes of the stock that it is built from.
    source : where the target comes from.
    parts : what it is built up of, from the bottom up, as names and heights [in] that sum to the size; empty where
        the form has no parts.
    assembly : the pieces of stock that it is built from, None where none were chosen.
    placed : whether a rule of the designer's says its place on the wall.
    locked : code of the one profile that a rule says it is.
    stays : whether it is there already, so that nothing of it is bought.
    family : the design family that its profiles are to be of, where the stock has any; any where blank.
    ground : how far the face that it is fixed to stands off the bare wall [in]: 0 on the plaster, the wainscot's face
        in a room that has one.
    enrichments : what is carved or turned on it, rows of library/enrichments.toml ("dentils", "reeding", ...); a
        cornice without "dentils" has the order's dentil band uncut.
    returned : whether it stands farther out than the casing that it stops on, so that it is returned on itself, or
        clipped, short of it.
    """

    element: str
    form: str
    target: float
    size: float
    projection: float
    thickness: float
    members: int
    bottom: float | None = None
    profiles: tuple[str, ...] = ()
    source: str = "common practice"
    parts: tuple[tuple[str, float], ...] = ()
    assembly: Assembly | None = None
    placed: bool = False
    locked: str = ""
    stays: bool = False
    family: str = ""
    ground: float = 0.0
    enrichments: tuple[str, ...] = ()
    returned: bool = False

    def reaching(self, projection: float, thickness: float) -> "Element":
        """The element as far from the wall, and as thick. [in]"""
        return replace(self, projection=projection, thickness=thickness)

    def stopping(self, returned: bool) -> "Element":
        """The element returned on itself where it stops, or not."""
        return self if self.returned == returned else replace(self, returned=returned)

    def on_ground(self, ground: float) -> "Element":
        """The element as deep as it is, on a ground [in]."""
        return self if self.ground == ground else replace(self, ground=ground, projection=ground + self.depth)

    @property
    def board(self) -> float:
        """How far the board of an entablature carries its cornice out from the wall [in], 0 where it has none."""
        return self.thickness if self.assembly is None and any(name in BOARDED for name, _ in self.parts) else 0.0

    @property
    def depth(self) -> float:
        """How far it reaches from the face that it is fixed to [in]."""
        return round(self.projection - self.ground, 9) if self.ground else self.projection

    @property
    def top(self) -> float | None:
        """Height of its upper edge above the floor [in], None for what goes round an opening."""
        return None if self.bottom is None else self.bottom + self.size


class PackageKey(NamedTuple):
    """What a package is known by: its period, its canon, its tier, the ceiling above it [in], its variant, what departs
    from the period in it, and the room whose trim stays in it."""

    style: str
    order: str
    tier: int
    ceiling: float
    variant: Variation
    stays: str


@dataclass(frozen=True)
class Variant:
    """What departs from the style on one tier, and the rules that ask for it, in words."""

    changes: Variation = ()
    rules: immutabledict[Cell, tuple[str, ...]] = field(default_factory=immutabledict)


@dataclass(frozen=True)
class Package(Kept):
    """The trim of every room of one period, order, tier and variant under one ceiling height [in].

    `label` says which it is for people; `key` is what it is known by. `trim_share` is the part of the wall's height
    that trim takes, 0 to 1; `members` counts the members that show. `stays` names the room whose trim stays in it, if
    one's does. `rules` are the designer's rules in force, in words; `own` holds the package as it is at each
    opening that has trim of its own; `unit` is the house's, in which its label and rules say lengths.
    """

    style: str
    order: str
    tier: int
    ceiling: float
    elements: tuple[Element, ...]
    trim_share: float
    members: int
    label: str
    variant: Variation = ()
    stays: str = ""
    rules: immutabledict[Cell, tuple[str, ...]] = field(default_factory=immutabledict, compare=False)
    own: immutabledict[str, "Package"] = field(default_factory=immutabledict)
    unit: Unit = "in"

    KEY = ("style", "order", "tier", "ceiling", "variant", "stays", "trim_share")
    __hash__ = Kept.__hash__

    @property
    def key(self) -> PackageKey:
        """What the package is known by."""
        return PackageKey(self.style, self.order, self.tier, self.ceiling, self.variant, self.stays)

    def element(self, kind: str) -> Element | None:
        """The element of that kind, or None where the tier has none."""
        return self._by_kind.get(kind)

    def at(self, opening: str) -> "Package":
        """The package as it is at an opening."""
        return self.own.get(opening, self)

    @cached_property
    def _by_kind(self) -> dict[str, Element]:
        return {e.element: e for e in self.elements}


def package(
    style: str,
    order: str,
    tier: int,
    ceiling: float,
    library: Library,
    *,
    top: int,
    tiers: int = 5,
    canon: str = ORDER_CANON,
) -> Package:
    """The package of a tier under a ceiling.

    Parameters
    ----------
    style : a style of the library.
    order : an order of the library; a style that does not derive from an order ignores it, and its elements say so.
    tier : from 1 to `tiers`.
    ceiling : ceiling height. [in]
    library : what the trade knows.
    top : highest tier of the house's grade, which carries the canon's sizes.
    tiers : how many tiers the ladder has.
    canon : what crowns are sized by, the order or a canon for rooms.

    Raises
    ------
    ValueError : for an unknown style, order or canon (with the nearest names), tier, ladder or ceiling.

    References
    ----------
    The rows of orders.toml and of the styles; each element names its own.

    Examples
    --------
    >>> from planner.library import standard
    >>> state = package("georgian", "doric", 5, 120, standard(), top=5)
    >>> state.element("crown").form, state.element("crown").size
    ('full entablature', 19.0)
    """
    styles.check_tier(tier, tiers)
    return ladder(style, order, ceiling, library, top=top, tiers=tiers, canon=canon)[tier - 1]


@dataclass(frozen=True)
class _Rung:
    """A tier of a style under a ceiling [in]: its scale, the measures that its rows are sized by, the targets of the
    tiers above it [in], the canon for rooms, where one is chosen, and the unit of the house."""

    style: str
    order: str
    tier: int
    tiers: int
    ceiling: float
    scale: float
    measures: Mapping[str, float]
    above: Mapping[str, float]
    interior: Interior | None
    unit: Unit


@lru_cache(maxsize=1024)
def ladder(
    style: str,
    order: str,
    ceiling: float,
    library: Library,
    *,
    top: int,
    tiers: int = 5,
    under: str = "",
    canon: str = ORDER_CANON,
    variants: tuple[Variant, ...] = (),
    unit: Unit = "in",
) -> tuple[Package, ...]:
    """The packages of all tiers, from the bottom, none larger than the one above it; the rest is as in `package`.

    `under` is how labels say the ceiling, blank where they say its height; `unit` is the house's. `variants` say for
    each tier, from the bottom, what departs from the style; what the style has on one tier does not follow what
    departs on another.
    """
    ceiling = float(ceiling)  # as keys, whole numbers are equal to floats: what is kept for one serves the other
    styles.check_tier(top, tiers)
    if not (isfinite(ceiling) and ceiling > 0):
        raise ValueError(f"a ceiling height is a length above 0 in, not {ceiling}")
    names, ratio = styles.tier_names(tiers, library), library.style(style).ratio
    interior = library.interior(canon)
    measures = measures_under(style, order, ceiling, library, interior)
    above: dict[str, float] = {}
    packages = []
    for tier in range(tiers, 0, -1):
        scale = ratio ** styles.steps_below(tier, top, tiers)
        rung = _Rung(style, order, tier, tiers, ceiling, scale, measures, immutabledict(above), interior, unit)
        plain, targets = _elements(rung, {}, library)
        above |= targets | _at_ceiling(plain, library)
        label = f"{names[tier - 1]} {under or format_length(ceiling, unit)}"
        share, members = _counted(plain, ceiling, library)
        package = Package(style, order, tier, ceiling, plain, share, members, label, unit=unit)
        packages.append(_varied(package, variants[tier - 1], rung, library) if variants else package)
    return tuple(reversed(packages))


def _varied(package: Package, variant: Variant, rung: _Rung, library: Library) -> Package:
    """A style's own package as it departs from the style; what a rule says that is so already is no departure."""

    def changed(changes: Mapping[str, Change], plain: Package) -> Package:
        made = with_elements(package, _elements(rung, changes, library)[0], library) if changes else package
        departs = {name: said for name, said in changes.items() if _bare(made, name) != _bare(plain, name)}
        return replace(made, variant=tuple((Cell("", name), said) for name, said in sorted(departs.items())))

    whole = changed(of_room(variant.changes), package)
    own = {name: changed(at_opening(variant.changes, name), package) for name in own_openings(variant.changes)}
    own = {name: there for name, there in own.items() if there.elements != whole.elements}
    departs = {cell for cell, _ in whole.variant} | {
        cell
        for cell, _ in variant.changes
        if cell.opening in own and own[cell.opening].element(cell.element) != whole.element(cell.element)
    }
    kept = tuple((cell, change) for cell, change in variant.changes if cell in departs)
    return replace(whole, variant=kept, rules=variant.rules, own=immutabledict(own))


def _bare(package: Package, name: str) -> Element | None:
    """An element of a package as it would be on the plaster."""
    element = package.element(name)
    return element and element.on_ground(0.0)


def with_elements(package: Package, elements: tuple[Element, ...], library: Library) -> Package:
    """The package with other elements, what stands before the casing returned on itself, and what they take of the
    wall."""
    elements = returned(elements)
    share, members = _counted(elements, package.ceiling, library)
    return replace(package, elements=elements, trim_share=share, members=members)


def _counted(elements: tuple[Element, ...], ceiling: float, library: Library) -> tuple[float, int]:
    """The part of the wall's height that elements take, 0 to 1, and how many members of them show."""
    spans = (
        (e.bottom, e.bottom + e.size) for e in elements if e.bottom is not None and library.element(e.element).share
    )
    return min(covered(spans) / ceiling, 1.0), sum(e.members for e in elements)


def _elements(
    rung: _Rung, changes: Mapping[str, Change], library: Library
) -> tuple[tuple[Element, ...], dict[str, float]]:
    """The elements of one tier in the order in which they are shown, and the targets of all that its rows have [in]."""
    sizes: dict[str, tuple[StyleRow, float, float]] = {}
    for rows in _rows(rung, changes, library):
        row = next((row for row in rows if row.least_ceiling <= rung.ceiling), None)
        if row is not None and _has_what_sizes_it(row, sizes, library):
            said = changes.get(row.element, AS_IT_IS).size
            target = _target(row, rung, sizes, library) if said is None else said
            form = library.form(row.element, row.form)
            sizes[row.element] = (row, target, _built_within(form, target, rung) if said is None else said)
    projecting = [name for name, change in changes.items() if change.projection is not None]
    heights = {name: change.height for name, change in changes.items() if change.height is not None and name in sizes}
    built = {name: size for name, (_, _, size) in sizes.items()}
    from_order = library.style(rung.style).from_order
    dado = rung.measures["pedestal"] if from_order else 0.0
    stands = standing(rung.ceiling, dado, built, heights, library, rung.unit)
    found = []
    for name in library.element_kinds:
        if name not in sizes:
            continue
        row, target, size = sizes[name]
        bottom = None
        if name in stands:
            bottom, size = stands[name]
            target = size if row.of == "place" else target
        if size > 0:
            source = _source(row, rung.interior, orderless=not from_order)
            element = _element(library.form(name, row.form), target, size, bottom, rung.measures, source)
            on = library.ladder.rungs[styles.rung(rung.tier, rung.tiers) - 1]
            carries = carried(rung.style, on, name, row.form, rung.order, library)
            element = replace(element, enrichments=carries) if carries else element
            element = _changed(element, changes.get(name, AS_IT_IS))
            rail = name in RAILED and any(other in heights for other in RAILED)
            found.append(replace(element, placed=True) if rail or name in heights else element)
    return grounded(meeting(found, library, projecting), library), {
        name: target for name, (_, target, _) in sizes.items()
    }


def _has_what_sizes_it(row: StyleRow, sizes: Mapping[str, tuple[StyleRow, float, float]], library: Library) -> bool:
    """Whether the element that a row is sized by is there, in the form that the row's own stands on."""
    if row.of not in library.element_kinds:
        return True
    on = library.form(row.element, row.form).on
    return row.of in sizes and on in ("", sizes[row.of][0].form)


def _rows(rung: _Rung, changes: Mapping[str, Change], library: Library) -> Iterable[tuple[StyleRow, ...]]:
    """For each element of a tier the rows that may hold, what is sized by another element after that."""
    rows = styles.composition(rung.style, rung.tier, rung.tiers, library)
    if not changes:
        return rows
    found = {some[0].element: some for some in rows}
    for name, change in changes.items():
        if change.form == NO_FORM:
            found.pop(name, None)
        elif change.form or (change.profile and name not in found):
            found[name] = (styles.row_of(rung.style, name, change.form, rung.tier, rung.tiers, library),)
    return sorted(found.values(), key=lambda some: some[0].of in library.element_kinds)


def _changed(element: Element, change: Change) -> Element:
    """An element with what a change says of it beside its form."""
    if change == AS_IT_IS:
        return element
    return replace(
        element,
        projection=element.projection if change.projection is None else change.projection,
        source=element.source if change.size is None else SAID,
        locked=change.profile if change.size is not None else "",
    )


def _element(
    form: Form, target: float, size: float, bottom: float | None, measures: Mapping[str, float], source: str
) -> Element:
    """An element in a form, of a size, at its place."""
    parts = _parts(form, size, measures)
    return Element(
        element=form.element,
        form=form.name,
        target=target,
        size=size,
        projection=_projection(form, size, parts, measures),
        thickness=form.thickness,
        members=form.members,
        bottom=bottom,
        source=source,
        parts=parts,
    )


def _source(row: StyleRow, interior: Interior | None, *, orderless: bool) -> str:
    """Where a row's size comes from, and whether an order or a canon for rooms has a part in it."""
    if orderless and row.of in ORDER_MEASURES:
        return f"{row.source}; the style derives from no order, so the house's own gives the size"
    if orderless:
        return f"{row.source}; the style derives from no order, so the order is ignored"
    if interior and row.of in interiors.MEASURES:
        return f"{interior.source}; parts as the order divides them"
    return f"{row.source}; not from an order" if row.plain else row.source


def _target(row: StyleRow, rung: _Rung, sizes: Mapping[str, tuple[StyleRow, float, float]], library: Library) -> float:
    """The size that a row asks for [in]: its canon, scaled, floored, and no larger than in the tier above; at the
    ceiling an eighth smaller, where that has it in the same form."""
    if row.of == "place":
        return 0.0
    kind = library.element(row.element)
    if row.of in sizes:  # an element follows the other's built size, which is scaled already
        asked = row.factor * sizes[row.of][2] + library.form(row.element, row.form).more
    else:
        asked = row.factor * rung.measures[row.of] * (1.0 if row.plain else rung.scale)
        asked = max(asked, rung.measures.get(f"least {row.of}", 0.0))
    most = min(kind.most, rung.measures.get(f"most {row.of}", kind.most))
    asked = min(max(asked, row.least, kind.least), most)
    asked = min(asked, rung.above.get(row.element, asked))
    if not row.plain:
        asked = min(asked, rung.above.get(f"{row.element}: {row.form}", inf) - STEP)
    return asked * _room_for(library.form(row.element, row.form), asked, rung)


def _at_ceiling(elements: Iterable[Element], library: Library) -> dict[str, float]:
    """What stands at the ceiling [in]: whole, by element and by element and form, and its parts by element and part."""
    found: dict[str, float] = {}
    for e in elements:
        if library.element(e.element).place == "ceiling":
            found |= {f"{e.element}/{part}": size for part, size in e.parts}
            found |= {e.element: min(e.size, e.target), f"{e.element}: {e.form}": e.size}
    return found


def _room_for(form: Form, size: float, rung: _Rung) -> float:
    """By what a form of a size [in] is to be multiplied so that no part is larger than the same part of a higher tier;
    1 where none is."""
    parts = {f"{form.element}/{part}": height for part, height in _parts(form, size, rung.measures)}
    return min((1.0, *(rung.above[part] / height for part, height in parts.items() if part in rung.above)))


def _built_within(form: Form, target: float, rung: _Rung) -> float:
    """The built size that is nearest to a target [in], or the one below it where a part would be larger than a higher
    tier's."""
    size = built_size(target, rung.unit)
    room = _room_for(form, size, rung)
    return size if room >= 1 - HAIR else built_within(size * room, rung.unit)


def _parts(form: Form, size: float, measures: Mapping[str, float]) -> tuple[tuple[str, float], ...]:
    """Names and heights of a form's parts [in], which sum to the size."""
    left = size - sum(part.inches for part in form.parts)
    weights = [measures.get(part.like, part.share) for part in form.parts]
    total = sum(weights)
    return tuple(
        (part.part, part.inches or left * weight / total) for part, weight in zip(form.parts, weights, strict=True)
    )


def _projection(form: Form, size: float, parts: tuple[tuple[str, float], ...], measures: Mapping[str, float]) -> float:
    """How far a form reaches out from the wall [in]."""
    if not form.projects_by:
        return form.projection
    height = parts[-1][1] if parts else size
    board = form.thickness if any(name in BOARDED for name, _ in parts) else 0.0
    return round(board + height * form.projects_by * (measures["overhang"] if form.overhang else 1.0), 9)
