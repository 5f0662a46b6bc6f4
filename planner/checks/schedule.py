"""What is to be told of the designer's trim rules: those without effect, and those that turn the ladder over."""

from collections.abc import Collection, Iterator, Mapping, Sequence

from planner.checks.check import Check, raised
from planner.intent.trim_rules import TrimRule
from planner.library import Library
from planner.mouldings.outlines import HAIR
from planner.trim.packages import Element, Package
from planner.units import Unit, format_length


def check_schedule(
    rules: Sequence[TrimRule],
    idle: Collection[int],
    codes: Collection[str],
    packages: Mapping[str, Package],
    library: Library,
    unit: Unit,
) -> Iterator[Check]:
    """Every check of the rules.

    Parameters
    ----------
    rules : in the order in which they are written.
    idle : the numbers, from 1, of those that change nothing in any room.
    codes : the profiles that can be had.
    packages : those of the rooms, by the rooms' names.
    library : the checks' words.
    unit : of the house, which they say lengths in.
    """
    for number in idle:
        yield raised(library, unit, "rule without effect", "", number=str(number), rule=rules[number - 1].words(unit))
    for number, rule in enumerate(rules, 1):
        if rule.change.profile and rule.change.profile not in codes and number not in idle:
            values = {"number": str(number), "profile": rule.change.profile, "rule": rule.words(unit)}
            yield raised(library, unit, "profile out of stock", "", **values)
    if rules:
        yield from _turned_over(packages, library)


def _turned_over(packages: Mapping[str, Package], library: Library) -> Iterator[Check]:
    """Elements that a rule makes richer or larger than in a higher tier under the same ceiling."""
    rooms: dict[Package, str] = {}
    for room, package in packages.items():
        rooms.setdefault(package, room)
    for low in rooms:
        for high in rooms:
            if low.tier >= high.tier or (low.style, low.ceiling) != (high.style, high.ceiling):
                continue
            for name in _said(low) | _said(high):
                mine, other = low.element(name), high.element(name)
                if mine is not None and (how := _exceeds(mine, other, low.unit)):
                    values = {"element": name, "what": mine.form, "how": how, "other": rooms[high]}
                    yield raised(library, low.unit, "rule against the tiers", rooms[low], **values)


def _said(package: Package) -> set[str]:
    """The elements that a rule changes in the whole room."""
    return {cell.element for cell, _ in package.variant if not cell.opening}


def _exceeds(mine: Element, other: Element | None, unit: Unit) -> str:
    """How an element is more than that of a higher tier; blank where it is not."""
    if other is None:
        return "none"
    if mine.size > other.size + HAIR:
        return f"one of {format_length(other.size, unit)} instead of {format_length(mine.size, unit)}"
    return other.form if mine.members > other.members else ""
