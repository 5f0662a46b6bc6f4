"""Rules on a room of a house, its uses, notes and openings, and on the house as a whole. All lengths are inches."""

import re
from collections.abc import Callable, Iterator

from planner.checks.check import Check, raised
from planner.house.model import House, Room
from planner.library import Library
from planner.trim.packages import Package
from planner.units import format_area, format_length, parse_length, section_unit
from planner.walls.layout import apertures, rail_top
from planner.walls.openings import DOORS, Aperture

RADIATOR = re.compile(r"radiator\D{0,40}?(\d+(?:\.\d+)?\s*(?:in|mm|cm|m|\"|″)?)\s*high", re.IGNORECASE)
"""A radiator's height in the notes of a room, a bare number in inches, or in millimetres where the house is metric."""


def check_house(house: House, library: Library) -> Iterator[Check]:
    """What is to be seen to in the whole house."""
    rule = library.check("lead paint")
    before = int(rule.limits["before"])
    if house.year_built is None or house.year_built < before:
        when = f"built in {house.year_built}" if house.year_built else f"built perhaps before {before}"
        yield raised(library, house.unit, rule.name, "", when=when)


def check_facts(house: House, room: Room, package: Package, library: Library) -> Iterator[Check]:
    """Every check of a room that does not ask what stands on its walls."""
    for rule in RULES:
        yield from rule(house, room, package, library)


def rail_and_crown(house: House, room: Room, package: Package, library: Library) -> Iterator[Check]:
    """Between rail and crown enough wall is left to be one."""
    crown, rail = package.element("crown"), rail_top(house, package, library)
    rule = library.check("rail and crown")
    if crown is None or rail is None:
        return
    bottom = room.ceiling - crown.size
    if bottom - rail < rule.limits["least"]:
        values = {"left": bottom - rail, "rail": rail, "bottom": bottom, "ceiling": room.ceiling}
        yield raised(library, house.unit, rule.name, room.name, **values)


def _radiator(house: House, room: Room, package: Package, library: Library) -> Iterator[Check]:
    """The rail passes above a radiator that does not break it; its height is a fixture's, else the room's notes'."""
    rail, top = package.element("chair rail"), rail_top(house, package, library)
    if rail is None or top is None:
        return
    standing = [f for f in house.fixtures_of.get(room.name, ()) if f.kind == "radiator"]
    given = RADIATOR.search(room.notes) if not standing else None
    heights = [parse_length(given[1], section_unit(house.unit))] if given else []
    if library.fixture_kinds["radiator"].manner(rail.element) == "passes":
        heights += [f.top for f in standing if f.bottom < top]
    for height in heights:
        if height > top - rail.size:
            values = {"height": height, "low": top - rail.size, "rail": top}
            yield raised(library, house.unit, "chair rail and radiator", room.name, **values)


def _shape_of_windows(house: House, room: Room, package: Package, library: Library) -> Iterator[Check]:
    """Windows are about two to one."""
    rule = library.check("window far from two to one")
    for a in _windows(house, room, library):
        width, height = a.x1 - a.x0, a.y1 - a.y0
        if not rule.limits["least"] <= height / width <= rule.limits["most"]:
            ratio = f"{height / width:.1f}"
            yield raised(library, house.unit, rule.name, room.name, a.name, width=width, height=height, ratio=ratio)


def _escapes(house: House, room: Room, package: Package, library: Library) -> Iterator[Check]:
    """Windows of bedrooms may be escapes."""
    rule = library.check("escape window")
    for a in _windows(house, room, library) if room.use in rule.uses else ():
        area = (a.x1 - a.x0) * (a.y1 - a.y0)
        faults = [f"its sill is at {format_length(a.y0, house.unit)}"] if a.y0 > rule.limits["sill"] else []
        for what, most in (("high", a.y1 - a.y0), ("wide", a.x1 - a.x0)):
            if most < rule.limits[what]:
                faults.append(f"its opening is at most {format_length(most, house.unit)} {what}")
        if area < rule.limits["area"]:
            faults.append(f"its opening is at most {format_area(area, house.unit)}")
        yield raised(
            library, house.unit, rule.name, room.name, a.name, what=" and ".join(faults) or "keep its clear size"
        )


def _guards(house: House, room: Room, package: Package, library: Library) -> Iterator[Check]:
    """Low windows are not guarded by a rail."""
    rule, rail = library.check("chair rail is no guard"), rail_top(house, package, library)
    for a in _windows(house, room, library):
        if rail is not None and a.y0 < rule.limits["sill"]:
            yield raised(library, house.unit, rule.name, room.name, a.name, sill=a.y0, rail=rail)


def _stair(house: House, room: Room, package: Package, library: Library) -> Iterator[Check]:
    """A stair keeps its handrail."""
    rule = library.check("stair wall")
    stairs = (o for o in house.openings_of.get(room.name, ()) if o.kind == "stair")
    if room.use in rule.uses or any(stairs):
        yield raised(library, house.unit, rule.name, room.name, clear=rule.limits["clear"])


def _rated(house: House, room: Room, package: Package, library: Library) -> Iterator[Check]:
    """Doors that may be rated keep their frames as they are."""
    rule, notes = library.check("rated door"), room.notes.lower()
    noted = next((word for word in rule.words if re.search(rf"\b{re.escape(word)}\b", notes)), None)
    for opening in house.openings_of.get(room.name, ()):
        if opening.room != room.name or opening.kind not in DOORS:
            continue
        beyond = house.by_name.get(opening.other)
        guarded = next((r.use for r in (room, beyond) if r is not None and r.use in rule.uses), None)
        if noted or guarded:
            why = f'the room\'s notes say "{noted}"' if noted else f"it leads to a {guarded}"
            yield raised(library, house.unit, rule.name, room.name, opening.name, why=why)


def _widened(house: House, room: Room, package: Package, library: Library) -> Iterator[Check]:
    """Openings are widened only with a structural design."""
    rule = library.check("wider opening")
    if any(word in room.notes.lower() for word in rule.words):
        yield raised(library, house.unit, rule.name, room.name, why=f"the room's notes say: {room.notes}")


def _windows(house: House, room: Room, library: Library) -> Iterator[Aperture]:
    """The windows of a room that have a size."""
    for openings in apertures(house, room, library).values():
        yield from (a for a in openings if a.kind == "window" and a.is_open)


RULES: tuple[Callable[[House, Room, Package, Library], Iterator[Check]], ...] = (
    rail_and_crown,
    _radiator,
    _shape_of_windows,
    _escapes,
    _guards,
    _stair,
    _rated,
    _widened,
)
