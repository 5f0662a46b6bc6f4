"""A parlor to break rules in, and what its checks say."""

from planner.checks.plan import check_room
from planner.house.model import OUTSIDE, House, Opening, Room
from planner.library import standard
from planner.walls.layout import lay_out
from tests.walls.trim import trim

LIBRARY = standard()

GOOD = (
    Opening("Door", "door", "Parlor", "Hall", "N", 90.0, 36.0, 80.0),
    Opening("Window", "window", "Parlor", OUTSIDE, "S", 90.0, 36.0, 90.0, 30.0),
)


def house(*openings, ceiling=120.0, use="parlor", notes="", year=1990, hall="hall"):
    rooms = (
        Room("Parlor", "Ground", use, 216.0, 168.0, ceiling, notes=notes),
        Room("Hall", "Ground", hall, 400.0, 400.0, 120.0),
    )
    return House("Test", ("Hall",), rooms, openings or GOOD, year_built=year)


def window(offset=90.0, width=36.0, head=90.0, sill=30.0, name="Window"):
    return Opening(name, "window", "Parlor", OUTSIDE, "S", offset, width, head, sill)


def door(offset=90.0, width=36.0, head=80.0, name="Door", wall="N", kind="door"):
    return Opening(name, kind, "Parlor", "Hall", wall, offset, width, head)


def walls(the_house, package=None, library=LIBRARY):
    package = package or trim(ceiling=the_house.by_name["Parlor"].ceiling)
    return lay_out(the_house, "Parlor", package, library)


def found(the_house, package=None, library=LIBRARY):
    """Every check of the parlor."""
    package = package or trim(ceiling=the_house.by_name["Parlor"].ceiling)
    return check_room(the_house, "Parlor", package, walls(the_house, package, library), library)


def told(rule, *args, **kwargs):
    """What one rule says of the parlor."""
    return [c for c in found(*args, **kwargs) if c.rule == rule]
