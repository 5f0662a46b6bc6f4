"""A picture rail stands on the heads or clear above them: common practice."""

from dataclasses import replace

import pytest

from planner.library import standard
from planner.walls.openings import Aperture, surround
from planner.walls.picture_rails import bottom
from tests.walls.trim import altered, trim, without

LIBRARY = standard()
ROOM = altered(trim(3, style="victorian"), "picture rail", bottom=96.0, size=2.0)
CASING = replace(ROOM.element("window casing"))


def room_of(*tops):
    """Windows whose trim goes up to these heights [in], without what crowns a head."""
    plain = without(ROOM, "overdoor", "window head")
    reach = 0.25 + CASING.size
    opened = [Aperture(f"W{i}", "window", 20.0, 50.0, 30.0, top - reach) for i, top in enumerate(tops)]
    return [surround(a, plain, LIBRARY) for a in opened]


@pytest.mark.parametrize(
    ("tops", "stands"),
    [
        ((), 96.0),
        ((94.5,), 96.0),
        ((96.0,), 96.0),
        ((94.75,), 96.25),
        ((97.0,), 97.0),
        ((97.0, 95.5), 97.0),
        ((97.0, 96.0), 98.5),
        ((100.0, 97.0), 100.0),
    ],
)
def test_it_stands_on_the_heads_or_an_inch_and_a_half_above_them(tops, stands):
    assert bottom(ROOM, room_of(*tops), LIBRARY) == pytest.approx(stands)


def test_where_no_place_is_left_below_the_crown_it_stays():
    crown = 120.0 - ROOM.element("crown").size
    highest = crown - 1.5 - 2.0
    assert bottom(ROOM, room_of(highest), LIBRARY) == pytest.approx(highest)
    assert bottom(ROOM, room_of(highest + 0.125), LIBRARY) == 96.0


def test_a_height_that_the_designer_says_holds():
    assert bottom(altered(ROOM, "picture rail", placed=True), room_of(97.0), LIBRARY) == 96.0


def test_a_room_without_one_has_none():
    assert bottom(without(ROOM, "picture rail"), room_of(97.0), LIBRARY) is None
