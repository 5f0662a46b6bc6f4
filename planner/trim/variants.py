"""The ladder of one room: its style's packages with the designer's rules upon them, labelled by how they differ."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import lru_cache

from planner.house.model import Room
from planner.intent.trim_rules import TrimRule
from planner.library import Library
from planner.library.model import NO_FORM, ORDER_CANON
from planner.trim import styles
from planner.trim.packages import AS_IT_IS, SAID, Element, Package, Variant, ladder
from planner.trim.schedule import Cell, Force, forces, ranked, takes_in, variation
from planner.units import Unit, format_length, listed
from planner.values import immutabledict


def room_ladder(
    style: str,
    order: str,
    room: Room,
    openings: Iterable[str],
    rules: Sequence[TrimRule],
    library: Library,
    *,
    top: int,
    tiers: int = 5,
    under: str = "",
    canon: str = ORDER_CANON,
    unit: Unit = "in",
) -> tuple[Package, ...]:
    """The packages of all tiers as a room has them.

    Parameters
    ----------
    style, order, library, top, tiers, under, canon, unit : as in planner.trim.packages.ladder.
    room : the room.
    openings : names of the openings in its walls.
    rules : the designer's, in the order in which they are written.

    Notes
    -----
    A tier of which the rules change nothing is the style's own package, and one on which only rules for the whole house
    or for tiers hold has the label of the style's own.
    """
    mine = tuple(rule for rule in rules if takes_in(rule.scope, room, library))
    plain = ladder(style, order, room.ceiling, library, top=top, tiers=tiers, under=under, canon=canon, unit=unit)
    common = tuple(filter(is_of_the_ladder, mine))
    wide = _wide(plain, common, top, under, library, canon)
    if len(common) == len(mine):
        return wide
    return tuple(map(_labelled, _ruled(plain, mine, tuple(openings), top, under, library, canon), wide))


@lru_cache(maxsize=256)
def _wide(
    plain: tuple[Package, ...], common: tuple[TrimRule, ...], top: int, under: str, library: Library, canon: str
) -> tuple[Package, ...]:
    """A style's ladder under rules that hold in every room."""
    found = _ruled(plain, common, (), top, under, library, canon)
    return tuple(
        own if package.elements == own.elements else package for package, own in zip(found, plain, strict=True)
    )


def _ruled(
    plain: tuple[Package, ...],
    rules: tuple[TrimRule, ...],
    openings: Iterable[str],
    top: int,
    under: str,
    library: Library,
    canon: str,
) -> tuple[Package, ...]:
    """A style's ladder under rules all of which take in the room."""
    style, order, ceiling, unit = plain[0].style, plain[0].order, plain[0].ceiling, plain[0].unit
    numbered, tiers = ranked(rules), len(plain)
    force = [forces(numbered, openings, tier) for tier in range(1, tiers + 1)]
    variants = tuple(Variant(variation(each), _words(each, rules, unit)) for each in force) if rules else ()
    return ladder(
        style, order, ceiling, library, top=top, tiers=tiers, under=under, canon=canon, variants=variants, unit=unit
    )


def is_of_the_ladder(rule: TrimRule) -> bool:
    """Whether a rule is one for the whole house or for tiers, whatever the room."""
    scope = rule.scope
    return not (scope.levels or scope.uses or scope.rooms or scope.openings)


def _words(force: Mapping[Cell, Force], rules: Sequence[TrimRule], unit: Unit) -> immutabledict[Cell, tuple[str, ...]]:
    """The rules in force in each cell, in words."""
    return immutabledict({c: tuple(rules[n - 1].words(unit) for n in each.rules) for c, each in force.items()})


def _labelled(package: Package, wide: Package) -> Package:
    """A package under a label that says how it differs from what all rooms of its tier have; that one if in nothing."""
    differs = list(differences(package, wide))
    apart = {name: list(differences(own, package)) for name, own in package.own.items()}
    apart = {name: words for name, words in apart.items() if words}
    if not differs and not apart:
        return wide
    label = ", ".join([wide.label, *differs])
    own = {
        name: replace(package.own[name], label=f"{label}, {listed(words)} at {name}") for name, words in apart.items()
    }
    label = ", ".join([label, *(f"{listed(words)} at {name}" for name, words in apart.items())])
    return replace(package, label=label, own=immutabledict(own))


def differences(package: Package, plain: Package) -> Iterator[str]:
    """How a package differs from a plain one, element by element in the order of the plain one's ladder, in words."""
    for name in dict.fromkeys((*(e.element for e in plain.elements), *(e.element for e in package.elements))):
        mine, other = package.element(name), plain.element(name)
        if mine is None:
            yield f"without {name}"
        elif other is None:
            change = dict(package.variant).get(Cell("", name), AS_IT_IS)
            said = (
                [mine.locked]
                if mine.locked
                else list(_lengths(change.size, change.height, change.projection, package.unit))
            )
            form = mine.form if name in mine.form else f"{mine.form} {name}"
            yield f"with {form} ({', '.join(said)})" if said else f"with {form}"
        elif said := list(_element_differences(mine, other, package.unit)):
            yield listed(said) if name in said[0] else f"{name} {listed(said)}"


def _element_differences(mine: Element, other: Element, unit: Unit) -> Iterator[str]:
    if mine.locked and mine.locked != other.locked:
        yield mine.locked
        return
    if mine.form != other.form:
        yield mine.form
    follows = mine.form != other.form or mine.size != other.size  # its depth comes with its form or its size
    yield from _lengths(
        mine.size if mine.size != other.size else None,
        mine.top if mine.placed and mine.top != other.top else None,
        mine.depth if mine.depth != other.depth and not follows else None,
        unit,
    )


def _lengths(size: float | None, top: float | None, projection: float | None, unit: Unit) -> Iterator[str]:
    """How large an element is, how high its upper edge stands and how deep it is [in], in words; what is said of it."""
    if size is not None:
        yield format_length(size, unit)
    if top is not None:
        yield f"at {format_length(top, unit)}"
    if projection is not None:
        yield f"{format_length(projection, unit)} deep"


def style_rows(ladder: Sequence[Package], library: Library) -> list[dict[str, object]]:
    """What departs from the style on each tier of a ladder, as rows of a style of its own.

    Parameters
    ----------
    ladder : the packages of all tiers under one ceiling, from the bottom.
    library : which names the rungs.

    Returns
    -------
    For each element and rung a row: its form, "none" where it is left out, and its size where a rule says it [in].
    """
    rows: list[dict[str, object]] = []
    for package in ladder:
        rung = library.ladder.rungs[styles.rung(package.tier, len(ladder)) - 1]
        for cell, change in package.variant:
            element = package.element(cell.element)
            if cell.opening or (element is None) != (change.form == NO_FORM):
                continue
            row: dict[str, object] = {"element": cell.element, "form": element.form if element else NO_FORM}
            row["rungs"] = [rung]
            if change.size is not None:
                row |= {"of": "inch", "factor": change.size, "plain": True}
            rows.append(row | ({"source": SAID} if element else {}))
    return rows
