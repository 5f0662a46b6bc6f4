"""Where a room is seen from: its main door, the wall that is faced, and how much is in the picture."""

import pytest

from planner.drawings.station import EYE, WIDEST, station
from planner.house.model import OUTSIDE, House, Opening, Room
from planner.library import standard
from planner.walls.layout import lay_out
from tests.known import package

LIBRARY = standard()


def placed(*openings: Opening, outline=((0, 0), (0, 144), (240, 144), (240, 0)), ceiling=120.0):
    """A room with openings beside two others, and where it is seen from."""
    room = Room("Here", "Ground", "parlor", 240.0, 144.0, ceiling, tuple((float(x), float(y)) for x, y in outline))
    others = [Room(name, "Ground", "parlor", 90.0, 90.0, ceiling) for name in ("Hall", "Porch")]
    house = House("One", ("Hall",), (room, *others), openings)
    walls = lay_out(house, room, package("georgian", "doric", 3, ceiling, top=5), LIBRARY)
    return station(room, walls, ("Hall", OUTSIDE))


def door(name: str, wall: str, offset: float, width: float, other: str = "Hall", kind: str = "door") -> Opening:
    return Opening(name, kind, "Here", other, wall, offset, width, 80.0)


def test_the_main_door_is_the_widest_that_leads_to_the_room_before():
    ways = (door("narrow", "S", 12, 28), door("wide", "W", 12, 60), door("back", "E", 12, 96, OUTSIDE))
    assert placed(*ways).door.name == "wide"
    assert placed(ways[0], ways[2]).door.name == "narrow"
    assert placed(ways[2]).door.name == "back"


def test_windows_and_hearths_are_no_doors():
    window = Opening("W", "window", "Here", OUTSIDE, "W", 12, 40, 84.0, 30.0)
    assert placed(window).door is None


def test_the_viewer_looks_from_the_middle_of_the_door_square_to_the_wall_ahead():
    """The west wall runs from south to north seen from inside, so that 36 in from its left end is y = 36."""
    at = placed(door("D", "W", 20, 32))
    assert at.facing == "E"
    assert at.camera.ahead == pytest.approx((1.0, 0.0))
    assert at.camera.eye == pytest.approx((-at.back, 36.0))
    assert at.camera.distance == pytest.approx(240.0 + at.back)
    assert at.camera.height == EYE == 64.0


def test_a_room_without_a_door_is_seen_from_its_shortest_wall():
    at = placed()
    assert (at.door, at.facing) == (None, "E")
    assert at.camera.eye[1] == pytest.approx(72.0)


@pytest.mark.parametrize("offset", [0, 30, 112])
def test_the_picture_is_the_room_cut_within_45_degrees(offset):
    """In a rectangular room its edges are to one another as the room's width to its height, seen from the door."""
    at = placed(door("D", "W", offset, 32))
    k = at.camera.distance / at.section
    north, south = 144.0 - offset - 16, offset + 16
    assert at.window == pytest.approx((-north * k, EYE - EYE * k, south * k, EYE + (120 - EYE) * k))
    assert max(north, south) <= WIDEST * at.section + 1e-9
    assert at.section >= at.back


def test_from_a_shallow_room_the_viewer_stands_back():
    deep, shallow = placed(door("D", "W", 56, 32)), placed(door("D", "S", 104, 32))
    assert deep.back == 0.0
    assert shallow.back > 0.0
    assert shallow.section >= 1.15 * shallow.back  # trim that stands off the walls runs out of the picture


def test_the_wall_of_a_bay_that_lies_ahead_is_faced():
    bay = ((0, 0), (0, 144), (80, 144), (100, 170), (140, 170), (160, 144), (240, 144), (240, 0))
    at = placed(door("D", "8", 104, 32), outline=bay)
    assert at.facing == "4"
    assert at.camera.ahead == pytest.approx((0.0, 1.0))


def test_a_wall_that_is_turned_far_is_not_faced():
    wedge = ((0, 0), (0, 240), (240, 0))
    at = placed(door("D", "1", 20, 32), outline=wedge)
    assert at.facing in ("", "2")
    assert at.camera.distance > 0
