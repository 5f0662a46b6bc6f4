"""Where drawn rooms and openings come to stand."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.house.model import Opening, Room
from planner.house.placements import PlacedOpening
from planner.house.placing import (
    Box,
    NoPlace,
    box,
    free_code,
    free_place,
    grid,
    resized,
    room_beyond,
    shelved,
    snapped,
    standing,
)

HALL = Box(0, 0, 192, 144)
MM = 1 / 25.4


def room(name, west, south, east, north):
    return Room(name, "Ground", "hall", east - west, north - south, 108, Box(west, south, east, north).corners)


def moved_to(west, south, others=(HALL,), unit="in", reach=6.0):
    corners = Box(west, south, west + 120, south + 96).corners
    return box(snapped(corners, [one.corners for one in others], unit, reach))[:2]


def test_a_room_let_go_by_itself_is_on_the_grid():
    assert moved_to(500, 401) == (498, 402)
    west, south = moved_to(1010 * MM, 2960 * MM, unit="mm", others=(), reach=4.0)
    assert (round(west / MM), round(south / MM)) == (1000, 3000)


def test_a_room_near_another_is_drawn_to_its_edge_and_its_corner():
    odd = Box(0, 0, 193, 145)
    assert moved_to(197, 3, (odd,)) == (193, 0)  # east of it, in line with its south side
    assert moved_to(75, 147, (odd,)) == (73, 145)  # north of it, in line with its east side
    assert moved_to(199, 3, (odd,)) == (198, 0)  # as far as that, it stands on the grid


def test_an_outline_with_more_corners_snaps_by_any_of_its_edges():
    ell = ((197, 2), (197, 40), (250, 40), (250, 143), (300, 143), (300, 2))
    assert snapped(ell, [HALL.corners], "in", 6)[3] == (245, 144)


@pytest.mark.parametrize(
    ("handle", "by", "after"),
    [
        ("e", (25, 999), (0, 0, 216, 144)),
        ("nw", (-20, 10), (-18, 0, 192, 156)),
        ("s", (0, 400), (0, 132, 192, 144)),
        ("e", (-999, 0), (0, 0, 12, 144)),
    ],
)
def test_a_handle_moves_its_edges_alone_and_never_past_the_other_side(handle, by, after):
    assert resized(HALL, handle, by, [], "in", 6) == after


def test_an_edge_snaps_to_that_of_a_neighbour():
    beside = Box(215, 0, 300, 100)
    assert resized(HALL, "e", (20, 0), [beside.corners], "in", 6).east == 215


sizes = st.tuples(st.integers(2, 60), st.integers(2, 60))


@given(st.lists(sizes, min_size=1, max_size=12))
def test_new_rooms_stand_wall_to_wall_and_over_no_other(sides):
    boxes: list[Box] = []
    for length, width in sides:
        new = free_place(length * 6.0, width * 6.0, boxes[::-1])
        assert not any(new.overlaps(one) for one in boxes)
        assert not boxes or any(new.touches(one, 0) for one in boxes)
        boxes.append(new)


@given(st.lists(sizes, min_size=1, max_size=30))
def test_rooms_without_a_place_are_drawn_apart(sides):
    boxes = shelved([(a * 12.0, b * 12.0) for a, b in sides], [HALL])
    assert len(boxes) == len(sides)
    everything = [HALL, *boxes]
    assert not any(a.overlaps(b) for i, a in enumerate(everything) for b in everything[:i])
    assert all(one.north < 0 for one in boxes)


def test_the_room_behind_a_wall_is_that_at_the_spot():
    hall, west, east = room("Hall", *HALL), room("West", 0, 144, 100, 300), room("East", 100, 144, 192, 300)
    wall = hall.wall("N")
    assert [room_beyond(wall, along, [west, east])[0].name for along in (40, 150)] == ["West", "East"]
    assert room_beyond(hall.wall("S"), 40, [west, east]) == (None, 0.0, 192)


def stands(along, width=30, others=(), taken=()):
    return standing(room("Hall", *HALL).wall("N"), along, width, others, taken, "in")


def opening_at(left, width):
    wall = room("Hall", *HALL).wall("N")
    return PlacedOpening(Opening("D1", "door", "Hall"), wall, left, width, 80, 0, "near")


def test_an_opening_stands_in_the_middle_where_it_is_put_near_it_else_where_it_is_put():
    assert stands(99).offset == 81
    assert stands(40).offset == 24
    assert stands(2).offset == 0 and stands(190).offset == 162


def test_an_opening_keeps_to_what_two_rooms_share_and_clear_of_what_is_there():
    parlor = room("Parlor", 100, 144, 300, 300)
    found = stands(120, others=[parlor])
    assert found.beyond is parlor and found.offset == 108
    assert stands(150, others=[parlor], taken=[opening_at(140, 40)]).offset == 110
    with pytest.raises(NoPlace):
        stands(150, others=[parlor], taken=[opening_at(110, 70)])
    with pytest.raises(NoPlace):
        stands(150, width=96, others=[parlor])


def test_codes_go_on_from_the_highest():
    assert free_code("D", ["D9", "D10", "Front door"]) == "D11" and free_code("W", []) == "W1"


def test_the_grid_is_of_the_unit():
    assert grid("in") == 6 and grid("m") == pytest.approx(100 * MM)
