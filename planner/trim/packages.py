"""A tier's trim package: which elements there are, in what form, and how big under a given ceiling."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache, cached_property
from math import floor, isfinite
from typing import TYPE_CHECKING

from planner.library import table
from planner.trim import orders, styles
from planner.trim.styles import Form, Row

if TYPE_CHECKING:
    from planner.stock.search import Assembly
from planner.units import format_length

STEP = 1 / 8
"""Sizes that are built are multiples of this [in]."""


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
    projection : from the wall [in].
    thickness : of the board or profile [in].
    members : how many members of it show.
    bottom : height of its lower edge above the floor [in], None for what goes round an opening.
    profiles : codes of the stock that it is built from.
    source : where the target comes from.
    parts : what it is built up of, from the bottom up, as names and heights [in] that sum to the size; empty where
        the form has no parts.
    assembly : the pieces of stock that it is built from, None where none were chosen.
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

    @property
    def top(self) -> float | None:
        """Height of its upper edge above the floor [in], None for what goes round an opening."""
        return None if self.bottom is None else self.bottom + self.size


@dataclass(frozen=True)
class Package:
    """The trim of every room of one tier under one ceiling height [in]; its name tells both.

    `trim_share` is the part of the wall's height that trim takes, 0 to 1; `members` counts the members that show;
    `style` and `order` are the period and the canon.
    """

    name: str
    tier: int
    ceiling: float
    elements: tuple[Element, ...]
    trim_share: float
    members: int
    style: str = ""
    order: str = ""

    def __hash__(self) -> int:
        return hash((self.name, self.tier, self.ceiling))

    def element(self, kind: str) -> Element | None:
        """The element of that kind, or None where the tier has none."""
        return self._by_kind.get(kind)

    @cached_property
    def _by_kind(self) -> dict[str, Element]:
        return {e.element: e for e in self.elements}


@cache
def package(style: str, order: str, tier: int, ceiling: float, *, top: int, tiers: int = 5) -> Package:
    """The package of a tier under a ceiling.

    Parameters
    ----------
    style : a name of styles.STYLES.
    order : a name of orders.ORDERS; a style that does not derive from an order ignores it, and its elements say so.
    tier : from 1 to `tiers`.
    ceiling : ceiling height [in].
    top : highest tier of the house's grade, which carries the canon's sizes.
    tiers : how many tiers the ladder has.

    Raises
    ------
    ValueError : for an unknown style or order (with the nearest names), tier, ladder or ceiling.

    References
    ----------
    The rows of library/orders.toml and library/styles; each element names its own.

    Examples
    --------
    >>> state = package("georgian", "doric", 5, 120, top=5)
    >>> state.element("crown").form, state.element("crown").size
    ('full entablature', 19.0)
    """
    styles.check_tier(tier, tiers)
    return _ladder(style, order, ceiling, top, tiers)[tier - 1]


def with_elements(package: Package, elements: tuple[Element, ...]) -> Package:
    """The package with other elements, and what these take of the wall."""
    return _package(package.name, package.tier, package.ceiling, elements, package.style, package.order)


def least_ceiling(style: str, tier: int, tiers: int = 5) -> float:
    """The lowest ceiling that carries a tier of a style [in], 0 where any does.

    >>> least_ceiling("georgian", 5, 5)
    108.0
    """
    return styles.style(style).least_ceilings[styles.rung(tier, tiers) - 1]


def tier_names(tiers: int = 5) -> tuple[str, ...]:
    """Names of the tiers of a ladder, from the bottom.

    >>> tier_names(3)
    ('Service', 'Family', 'State')
    """
    styles.check_tiers(tiers)
    return tuple(table("tiers")["names"][str(tiers)])


def top_tier(grade: str, tiers: int = 5) -> int:
    """The highest tier that suits a house of a grade.

    >>> top_tier("cottage", 5), top_tier("house", 5), top_tier("great house", 5)
    (3, 4, 5)
    """
    styles.check_tiers(tiers)
    fifths = {row["name"]: row["fifths"] for row in table("tiers")["grade"]}
    return -(-tiers * fifths[styles.known_name(grade, tuple(fifths), "grade")] // 5)


@cache
def _ladder(style_name: str, order: str, ceiling: float, top: int, tiers: int) -> tuple[Package, ...]:
    """The packages of all tiers, found from the top down so that none is larger than the one above it."""
    styles.check_tier(top, tiers)
    if not (isfinite(ceiling) and ceiling > 0):
        raise ValueError(f"a ceiling height is a length above 0 in, not {ceiling}")
    style = styles.style(style_name)
    measures = _measures(style, order, ceiling)
    above: dict[str, float] = {}
    packages = []
    for tier in range(tiers, 0, -1):
        scale = style.ratio ** styles.steps_below(tier, top, tiers)
        elements = _elements(style_name, tier, tiers, ceiling, scale, measures, above)
        name = f"{tier_names(tiers)[tier - 1]} {format_length(ceiling)}"
        packages.append(_package(name, tier, ceiling, elements, style_name, order))
    return tuple(reversed(packages))


def _package(name: str, tier: int, ceiling: float, elements: tuple[Element, ...], style: str, order: str) -> Package:
    """A package with what it takes of the wall and the members that show."""
    counted = (e for e in elements if e.bottom is not None and styles.kinds()[e.element].share)
    share = _covered((e.bottom, e.bottom + e.size) for e in counted) / ceiling
    return Package(name, tier, ceiling, elements, min(share, 1.0), sum(e.members for e in elements), style, order)


def _measures(style: styles.Style, order: str, ceiling: float) -> dict[str, float]:
    """What a row of a style may be sized by [in]; `overhang` is a cornice's projection over its height."""
    measures = {"inch": 1.0, "ceiling": ceiling, "door casing": orders.door_casing(ceiling), "overhang": 1.0}
    if style.order is None:
        return measures
    styles.known_name(order, orders.ORDERS, "order")
    e = style.entablature
    parts = {part: orders.entablature_share(part, ceiling, order, e) for part in ("taenia", "frieze", "cornice")}
    return (
        measures
        | parts
        | {
            "pedestal": orders.pedestal(ceiling, e),
            "pedestal base": orders.pedestal_base(ceiling, e),
            "pedestal cap": orders.pedestal_cap(ceiling, e),
            "architrave": orders.architrave(ceiling, order, e),
            "entablature": orders.entablature(ceiling, e),
            "down to taenia": orders.down_to_taenia(ceiling, order, e),
            "overhang": orders.cornice_projection(ceiling, order, e) / parts["cornice"],
        }
    )


def _elements(
    style_name: str,
    tier: int,
    tiers: int,
    ceiling: float,
    scale: float,
    measures: dict[str, float],
    above: dict[str, float],
) -> tuple[Element, ...]:
    """The elements of one tier in the order in which they are shown; `above` keeps the targets of the tiers above."""
    sizes: dict[str, tuple[Row, float, float]] = {}
    for rows in styles.composition(style_name, tier, tiers):
        row = next((row for row in rows if row.least_ceiling <= ceiling), None)
        if row is not None and (row.of not in styles.kinds() or row.of in sizes):
            target = _target(row, scale, measures, sizes, above)
            above[row.element] = target
            sizes[row.element] = (row, target, _built(target))
    standing = _standing(ceiling, measures, {name: size for name, (_, _, size) in sizes.items()})
    orderless = styles.style(style_name).order is None
    found = []
    for name in styles.kinds():
        if name not in sizes:
            continue
        row, target, size = sizes[name]
        bottom = None
        if name in standing:
            bottom, size = standing[name]
            target = size if row.of == "place" else target
        if size <= 0:
            continue
        parts = _parts(row.form, size, measures)
        found.append(
            Element(
                element=name,
                form=row.form.name,
                target=target,
                size=size,
                projection=_projection(row.form, size, parts, measures),
                thickness=row.form.thickness,
                members=row.form.members,
                bottom=bottom,
                source=_source(row, orderless),
                parts=parts,
            )
        )
    return tuple(found)


def _source(row: Row, orderless: bool) -> str:
    """Where a row's size comes from, and whether an order has a part in it."""
    if orderless:
        return f"{row.source}; the style derives from no order, so the order is ignored"
    return f"{row.source}; not from an order" if row.plain else row.source


def _target(
    row: Row,
    scale: float,
    measures: dict[str, float],
    sizes: dict[str, tuple[Row, float, float]],
    above: dict[str, float],
) -> float:
    """The size that a row asks for [in]: its canon, scaled, floored, and no larger than in the tier above."""
    if row.of == "place":
        return 0.0
    kind = styles.kinds()[row.element]
    if row.of in sizes:  # an element follows the other's built size, which is scaled already
        asked = row.factor * sizes[row.of][2]
    else:
        asked = row.factor * measures[row.of] * (1.0 if row.plain else scale)
    asked = min(max(asked, row.least, kind.least), kind.most)
    return min(asked, above.get(row.element, asked))


def _standing(ceiling: float, measures: dict[str, float], sizes: dict[str, float]) -> dict[str, tuple[float, float]]:
    """Bottom and size [in] of each element that stands on the wall."""
    places = table("elements")["places"]
    crown_bottom = ceiling - sizes.get("crown", 0.0)
    rail_top = _built(orders.dado(measures.get("pedestal", 0.0), places["dado"]["lowest"], places["dado"]["highest"]))
    plate = places["plate"]
    if "plate rail" in sizes:
        rail_top = _built(min(max(plate["of_ceiling"] * ceiling, plate["lowest"]), plate["highest"]))
    found = {}
    for name, size in sizes.items():
        match styles.kinds()[name].place:
            case "floor":
                found[name] = (0.0, size)
            case "dado" | "plate":
                found[name] = (0.0, rail_top) if name == "wainscot" else (rail_top - size, size)
            case "field":
                bottom = rail_top + places["field"]["margin"]
                found[name] = (bottom, floor((crown_bottom - places["field"]["margin"] - bottom) / STEP) * STEP)
            case "frieze":
                found[name] = (crown_bottom - places["frieze"]["of_ceiling"] * ceiling - size, size)
            case "ceiling":
                found[name] = (ceiling - size, size)
    return found


def _parts(form: Form, size: float, measures: dict[str, float]) -> tuple[tuple[str, float], ...]:
    """Names and heights of a form's parts [in], which sum to the size."""
    left = size - sum(part.inches for part in form.parts)
    weights = [measures.get(part.like, part.share) for part in form.parts]
    total = sum(weights)
    return tuple(
        (part.part, part.inches or left * weight / total) for part, weight in zip(form.parts, weights, strict=True)
    )


def _projection(form: Form, size: float, parts: tuple[tuple[str, float], ...], measures: dict[str, float]) -> float:
    """How far a form reaches out from the wall [in]."""
    if not form.projects_by:
        return form.projection
    height = parts[-1][1] if parts else size
    return height * form.projects_by * (measures["overhang"] if form.overhang else 1.0)


def _built(target: float) -> float:
    """The target to the nearest 1/8 in, halves up.

    >>> _built(4.7368)
    4.75
    """
    return floor(target / STEP + 0.5) * STEP


def _covered(spans: Iterable[tuple[float, float]]) -> float:
    """Length that spans cover together, what overlaps counted once.

    >>> _covered([(0, 5), (0, 1), (28, 30)])
    7.0
    """
    covered = reach = 0.0
    for bottom, top in sorted(spans):
        covered += max(0.0, top - max(bottom, reach))
        reach = max(reach, top)
    return covered
