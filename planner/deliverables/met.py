"""What of a package is met in the rooms that have it: all that paper says of packages leaves out the rest."""

from dataclasses import replace

from planner.planning.answer import Plan
from planner.trim.packages import Element, Package
from planner.walls.openings import DOORS, Surround, casing_of
from planner.walls.parts import Part

HANGS = {"door leaf": DOORS, "sash": ("window",)}
"""Elements that hang in an opening, and the kinds of opening that they hang in."""

MEASURED = {"backband": (Part.LEG,), "crossette": (Part.EAR, Part.BLOCK)}
"""Elements that a window may have smaller than a door, and the parts whose width is theirs."""


def met(plan: Plan, package: Package) -> frozenset[str]:
    """The elements of a package that have a place in its rooms: without a fireplace there is none for a mantel, and a
    wainscot's cap is the stool of windows that stand on it."""
    there = {name for room in plan.rooms_with(package) for name in met_in(plan, room)}
    round_openings = {e.element for e in package.elements if plan.library.element(e.element).openings}
    return frozenset({e.element for e in package.elements} - (round_openings - there))


def met_in(plan: Plan, room: str) -> set[str]:
    """The elements that there is a place for in a room."""
    walls = plan.walls[room]
    found = {solid.element for layout in walls for solid in layout.solids if not solid.opening}
    for around in (around for layout in walls for around in layout.surrounds):
        found |= {element.element for element in round_opening(plan.package_of[room], around)}
        found |= {element for element, kinds in HANGS.items() if around.aperture.kind in kinds}
    return found


def round_opening(package: Package, around: Surround) -> tuple[Element, ...]:
    """The elements that stand round an opening, as large as they are there; a window has its own casing."""
    at, kind = package.at(around.aperture.name), around.aperture.kind
    names = dict.fromkeys(solid.element for solid in around.solids)
    found = (casing_of(kind, at) if name == "casing" else at.element(name) for name in names)
    return tuple(_as_it_stands(element, around) for element in found if element is not None)


def _as_it_stands(element: Element, around: Surround) -> Element:
    """An element as wide as it is round an opening."""
    parts = MEASURED.get(element.element, ())
    wide = next((s.width for s in around.solids if s.element == element.element and s.part in parts), None)
    return element if wide is None else replace(element, size=wide)
