"""Rooms, their walls and the names of their walls."""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from planner.house.model import Room

CORNERS = st.tuples(st.floats(0, math.tau), st.floats(24, 400))
L_SHAPE = ((0.0, 0.0), (120.0, 0.0), (120.0, 60.0), (60.0, 60.0), (60.0, 120.0), (0.0, 120.0))


def room(outline=(), length=168.0, width=144.0):
    return Room("Parlor", "Ground", "parlor", length, width, 108.0, outline)


def test_a_room_without_outline_has_compass_walls_with_length_from_west_to_east():
    walls = {wall.name: wall for wall in room().walls}
    assert list(walls) == ["N", "E", "S", "W"]
    assert walls["N"].length == walls["S"].length == 168
    assert walls["E"].length == walls["W"].length == 144
    # Facing north, west is on the left; facing east, north is; and so on round.
    assert walls["N"].left == (0, 144) and walls["N"].right == (168, 144)
    assert walls["E"].left == (168, 144) and walls["S"].left == (168, 0) and walls["W"].left == (0, 0)


@pytest.mark.parametrize(
    "outline", [L_SHAPE, L_SHAPE[::-1], L_SHAPE[2:] + L_SHAPE[:2], L_SHAPE[::-1][4:] + L_SHAPE[::-1][:4]]
)
def test_edge_numbers_are_those_of_the_outline_as_written(outline):
    walls = room(outline).walls
    assert {wall.name for wall in walls} == {str(n) for n in range(1, 7)}
    for number in range(6):
        wall = room(outline).wall(str(number + 1))
        assert {wall.left, wall.right} == {outline[number], outline[(number + 1) % 6]}


@pytest.mark.parametrize("turn", [1, -1])
def test_a_rectangle_with_outline_answers_to_compass_and_to_edge_numbers(turn):
    outline = ((0.0, 0.0), (0.0, 96.0), (120.0, 96.0), (120.0, 0.0))[::turn]
    r = room(outline)
    assert {wall.name for wall in r.walls} == set("NESW")
    for number in range(4):
        wall = r.wall(str(number + 1))
        assert {wall.left, wall.right} == {outline[number], outline[(number + 1) % 4]}
    assert r.wall("N").left == (0, 96) and r.wall("N").right == (120, 96)
    assert r.wall("W").left == (0, 0) and r.wall("W").right == (0, 96)
    assert r.wall("5") is None and r.wall("0") is None and r.wall("north") is None


def test_a_room_without_outline_has_no_numbered_walls():
    assert room().wall("1") is None


@given(
    st.lists(CORNERS, min_size=3, max_size=9, unique_by=lambda p: round(p[0], 2)),
    st.booleans(),
)
def test_the_floor_lies_to_the_right_of_every_wall_walked_from_left_to_right(polar, turned):
    """Left and right are as seen from inside: with the left end first, the floor is on the right-hand side."""
    polar = sorted(polar)
    gaps = [(b[0] - a[0]) % math.tau for a, b in zip(polar, polar[1:] + polar[:1], strict=True)]
    assume(max(gaps) < 3)  # the middle lies inside, so the outline is star-shaped about it
    points = tuple((r * math.cos(a), r * math.sin(a)) for a, r in polar)
    r = room(points[::-1] if turned else points)
    for wall in r.walls:
        (x0, y0), (x1, y1) = wall.left, wall.right
        assert (x1 - x0) * (0 - y0) - (y1 - y0) * (0 - x0) < 0
    assert r.perimeter == pytest.approx(
        sum(math.dist(a, b) for a, b in zip(points, points[1:] + points[:1], strict=True))
    )


def test_area_of_an_l_shape_is_that_of_its_two_parts():
    assert room(L_SHAPE).area == room(L_SHAPE[::-1]).area == 120 * 60 + 60 * 60
    assert not room(L_SHAPE).is_rectangular
