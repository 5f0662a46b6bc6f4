"""Flat shapes with a projection: what they cover, what is left of them on a wall, where two take one place."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import Polygon

from planner.walls.parts import Part, Side
from planner.walls.solids import TOUCH, Solid, clipped, gaps, overlaps, polygon

BOX = Solid(Part.BASE, "base", 0.0, 10.0, 0.0, 6.0, 0.875)
TRIANGLE = polygon(Part.LEG, "casing", ((0.0, 0.0), (4.0, 0.0), (4.0, 4.0)), 1.0, Side.LEFT, "Door")


def test_a_solid_knows_its_corners_and_its_box():
    assert BOX.corners == ((0, 0), (10, 0), (10, 6), (0, 6))
    assert (TRIANGLE.x0, TRIANGLE.x1, TRIANGLE.y0, TRIANGLE.y1) == (0, 4, 0, 4)
    assert (TRIANGLE.width, TRIANGLE.height, TRIANGLE.name) == (4, 4, "left leg")


def test_what_lies_on_the_wall_stays_as_it_is():
    assert clipped(BOX, 10, 6) is BOX


def test_what_reaches_past_the_wall_is_cut_and_keeps_what_it_is():
    assert clipped(BOX, 8, 5) == BOX._replace(x1=8.0, y1=5.0)
    moved = BOX._replace(x0=-2.0, y0=-1.0)
    assert clipped(moved, 10, 6) == BOX
    cut = clipped(TRIANGLE._replace(on="base", behind=0.5), 2, 10)
    assert (cut.x1, cut.y1) == (2, pytest.approx(2))
    assert (cut.part, cut.side, cut.opening, cut.on, cut.behind) == (Part.LEG, Side.LEFT, "Door", "base", 0.5)


def test_what_lies_beyond_the_wall_is_gone():
    assert clipped(BOX._replace(x0=20.0, x1=30.0), 10, 10) is None
    assert clipped(BOX._replace(y0=9.0, y1=12.0), 10, 9) is None
    assert clipped(BOX._replace(x0=10 - TOUCH, x1=30.0), 10, 10) is None
    assert clipped(BOX._replace(x0=10 - 2 * TOUCH, x1=30.0), 10, 10) is not None


def test_a_casing_that_is_cut_keeps_its_corners_from_the_outer_one_on():
    """Both corners of its first end are cut off; drawings read the outer and the inner one from their order."""
    leg = polygon(Part.LEG, "casing", ((4.0, 10.0), (0.0, 10.0), (0.0, 0.0), (4.0, 0.0)))
    assert clipped(leg, 20, 8).outline == ((4, 8), (0, 8), (0, 0), (4, 0))
    head = polygon(Part.HEAD, "casing", ((-2.0, 9.0), (0.0, 5.0), (12.0, 5.0), (14.0, 9.0)))
    assert clipped(head, 13, 20).outline[1:3] == ((0, 5), (12, 5))


@given(st.floats(1, 9), st.floats(1, 9))
def test_cutting_leaves_just_what_lies_on_the_wall(length, height):
    solid = polygon(Part.HEAD, "casing", ((1.0, 10.0), (3.0, 2.0), (9.0, 2.0), (11.0, 10.0)))
    wall = Polygon([(0, 0), (length, 0), (length, height), (0, height)])
    left = Polygon(solid.corners).intersection(wall)
    cut = clipped(solid, length, height)
    if cut is not None:
        assert Polygon(cut.corners).area == pytest.approx(left.area)
    else:
        assert left.area <= TOUCH * 12


def test_two_in_one_place_overlap_unless_they_only_touch():
    beside = BOX._replace(x0=10.0, x1=20.0)
    assert overlaps([BOX, beside]) == []
    assert overlaps([BOX, beside._replace(x0=10 - TOUCH)]) == []
    assert overlaps([BOX, beside._replace(x0=10 - 2 * TOUCH)]) == [(BOX, beside._replace(x0=10 - 2 * TOUCH))]
    assert overlaps([BOX, BOX._replace(y0=6 - TOUCH, y1=9.0)]) == []
    assert len(overlaps([BOX, BOX._replace(y0=5.0, y1=9.0)])) == 1


def test_what_is_fixed_on_another_does_not_overlap_it():
    assert overlaps([BOX, BOX._replace(part=Part.SHOE, on="base")]) == []


def test_mitres_meet_without_overlapping():
    other = polygon(Part.HEAD, "casing", ((0.0, 0.5), (3.5, 4.0), (0.0, 4.0)), 1.0)
    assert overlaps([TRIANGLE, other]) == []
    assert len(overlaps([TRIANGLE, other._replace(outline=())])) == 1


@pytest.mark.parametrize(("lap", "count"), [(0.0, 0), (1 / 100, 0), (1 / 32, 1)])
def test_mitres_that_lap_by_less_than_a_touch_only_touch(lap, count):
    one = TRIANGLE._replace(opening="A")
    low, high = (lap, 0.0), (4.0 + lap, 4.0)
    slid = polygon(Part.HEAD, "casing", (low, high, (0.0, 4.0), (0.0, 0.0)))
    assert len(overlaps([one, slid])) == count


@pytest.mark.parametrize(
    ("taken", "left"),
    [
        ([], [(0, 10)]),
        ([(-5, 2), (8, 20)], [(2, 8)]),
        ([(0, 10)], []),
        ([(2, 5), (3, 4)], [(0, 2), (5, 10)]),
        ([(3, 4), (2, 5)], [(0, 2), (5, 10)]),
        ([(TOUCH, 10)], []),
        ([(0, 10 - TOUCH)], []),
        ([(2 * TOUCH, 10)], [(0, 2 * TOUCH)]),
        ([(12, 15)], [(0, 10)]),
    ],
)
def test_what_is_left_of_a_stretch(taken, left):
    assert gaps(0, 10, taken) == left
