"""Rules on a package in a room, wherever its openings are. All lengths are inches."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import lru_cache

from planner.checks.check import Check, raised
from planner.house.model import Room
from planner.library import Library
from planner.trim.packages import Package
from planner.trim.stops import STOPPING, edge_of, reach_of

SHADOW = 1 / 16
"""Differences in thickness below this [in] are planed away on site; common practice."""

PLANED = 1 / 32
"""What a plane takes off a thickness that is told in eighths [in], common practice."""

SHOP = 1 / 8
"""How nearly blocks are cut [in], common practice."""


def check_package(room: Room, package: Package, library: Library) -> Iterator[Check]:
    """Every check of a package in a room."""
    return (replace(check, room=room.name) for check in _under(room.ceiling, package, library))


@lru_cache(maxsize=1024)
def _under(ceiling: float, package: Package, library: Library) -> tuple[Check, ...]:
    """Every check of a package under a ceiling [in], in no room yet; kept, as many rooms share a package."""
    return tuple(check for rule in RULES for check in rule(ceiling, package, library))


def _base_and_casing(ceiling: float, package: Package, library: Library) -> Iterator[Check]:
    """A base dies into something at least as thick as itself."""
    base, plinth, casing = (package.element(e) for e in ("base", "plinth block", "casing"))
    if base is None or casing is None:
        return
    edge = max((e.projection for e in (casing, package.element("backband")) if e is not None), default=0.0)
    what, stands = ("plinth block", plinth.projection) if plinth is not None else ("casing", edge)
    if base.projection > stands + SHADOW:
        name = "base thicker than what it dies into"
        yield raised(library, package.unit, name, "", base=base.projection, against=what, stands=stands)


def _base_hardly_thinner(ceiling: float, package: Package, library: Library) -> Iterator[Check]:
    """What a base dies into stands an eighth proud of it."""
    base, plinth, edge = package.element("base"), package.element("plinth block"), edge_of(package.elements)
    if base is None or edge is None:
        return
    rule = library.check("base as thick as what it dies into")
    least = rule.limits["least"]
    what, stands = ("plinth block", plinth.projection) if plinth is not None else ("casing", edge)
    if stands + SHADOW >= base.projection > stands - least + PLANED:
        values = {"base": base.projection, "stands": stands, "least": least}
        yield raised(library, package.unit, rule.name, "", against=what, **values)


def _blocks(ceiling: float, package: Package, library: Library) -> Iterator[Check]:
    """Plinth and corner blocks stand an eighth proud of the casing."""
    rule, edge = library.check("block no thicker than the casing"), edge_of(package.elements)
    if edge is None:
        return
    for block in filter(None, map(package.element, ("plinth block", "overdoor"))):
        if not library.form(block.element, block.form).proud:
            continue
        wanted = edge + rule.limits["least"]
        if block.projection < wanted - PLANED:
            what = "plinth block" if block.element == "plinth block" else "corner block"
            values = {"block": block.projection, "stands": edge, "wanted": wanted - block.ground}
            yield raised(library, package.unit, rule.name, "", what=what, **values)


def _rails(ceiling: float, package: Package, library: Library) -> Iterator[Check]:
    """What stops on the casing stands no farther out than it, or is returned on itself."""
    edge = edge_of(package.elements)
    for element in filter(None, map(package.element, STOPPING)):
        reach = reach_of(element, package.elements)
        if edge is not None and reach > edge + SHADOW and not element.returned:
            what = library.element(element.element).display.lower()
            yield raised(library, package.unit, "rail proud of the casing", "", what=what, rail=reach, stands=edge)


def _narrow_casing(ceiling: float, package: Package, library: Library) -> Iterator[Check]:
    """A casing is at least 4 in wide in rooms of 8 ft and more."""
    rule = library.check("narrow casing")
    least = rule.limits["least"]
    for element in (package.element("casing"), package.element("window casing")):
        if element is not None and element.size < least and ceiling >= rule.limits["lowest_ceiling"]:
            what = library.element(element.element).display.lower()
            values = {"size": element.size, "ceiling": ceiling, "least": least}
            yield raised(library, package.unit, rule.name, "", what=what, **values)


def _plinth(ceiling: float, package: Package, library: Library) -> Iterator[Check]:
    """Plinth blocks are as high as their period has them."""
    plinth, base = package.element("plinth block"), package.element("base")
    if plinth is None or base is None:
        return
    style = library.style(package.style)
    if style.plinth is None:
        return
    low, high = style.plinth.least * base.size, style.plinth.most * base.size
    if not low - SHOP <= plinth.size <= high + SHOP:
        values = {"size": plinth.size, "base": base.size, "low": low, "high": high}
        yield raised(library, package.unit, "plinth against its period", "", style=style.name.title(), **values)


def _subordinate(ceiling: float, package: Package, library: Library) -> Iterator[Check]:
    """The overdoor is smaller than the room's crown, in the whole and in each member."""
    overdoor, crown = package.element("overdoor"), package.element("crown")
    if overdoor is None or crown is None or not any(part == "cornice" for part, _ in overdoor.parts):
        return
    of_room = dict(crown.parts)
    pairs = [(part, size, of_room[part]) for part, size in overdoor.parts if part in of_room]
    for what, size, room_size in [("whole", overdoor.size, crown.size), *pairs]:
        if size >= room_size:
            name = "subordinate larger than the room's"
            yield raised(library, package.unit, name, "", what=what, size=size, room_size=room_size)


def _heavy_entablature(ceiling: float, package: Package, library: Library) -> Iterator[Check]:
    """No full entablature under a low ceiling."""
    crown, rule = package.element("crown"), library.check("heavy entablature")
    least = rule.limits["lowest_ceiling"]
    if crown is not None and crown.form == "full entablature" and ceiling < least:
        yield raised(library, package.unit, rule.name, "", size=crown.size, ceiling=ceiling, least=least)


def _heavy_crown(ceiling: float, package: Package, library: Library) -> Iterator[Check]:
    """No crown that presses on the room."""
    crown, rule = package.element("crown"), library.check("crown heavy for the ceiling")
    most = rule.limits["most"] * ceiling
    if crown is not None and crown.size > most:
        yield raised(library, package.unit, rule.name, "", size=crown.size, ceiling=ceiling, most=most)


def _receptacles(ceiling: float, package: Package, library: Library) -> Iterator[Check]:
    """A high base reaches the boxes in the wall."""
    base, rule = package.element("base"), library.check("receptacles in the base")
    if base is not None and base.size >= rule.limits["base"]:
        yield raised(library, package.unit, rule.name, "", base=base.size)


RULES: tuple[Callable[[float, Package, Library], Iterator[Check]], ...] = (
    _base_and_casing,
    _base_hardly_thinner,
    _blocks,
    _rails,
    _narrow_casing,
    _plinth,
    _subordinate,
    _heavy_entablature,
    _heavy_crown,
    _receptacles,
)
