"""A wall before the viewer: the same places by the plan and by the wall, and which faces look at the eye."""

from math import cos, hypot, sin
from random import Random

import pytest

from planner.drawings.before_eye import Standing, lifted, outline
from planner.drawings.camera import Camera
from planner.house.model import Wall


def standing(seed: int) -> Standing:
    rng = Random(seed)
    turn, angle = rng.uniform(0, 6.28), rng.uniform(0, 6.28)
    left = (rng.uniform(-200, 200), rng.uniform(-200, 200))
    right = (left[0] + 150 * cos(angle), left[1] + 150 * sin(angle))
    eye = (rng.uniform(-300, 300), rng.uniform(-300, 300))
    return Standing(Wall("1", left, right), Camera(eye, 64.0, (cos(turn), sin(turn)), 200.0, 1.0), 0.5)


@pytest.mark.parametrize("seed", range(10))
def test_a_spot_by_a_wall_is_where_it_is_on_the_plan(seed):
    """Along it from its left end, and off it to the right hand of who walks from left to right."""
    view, rng = standing(seed), Random(seed)
    (lx, ly), (rx, ry) = view.wall.left, view.wall.right
    ux, uy = (rx - lx) / 150, (ry - ly) / 150
    for _ in range(20):
        x, y, off = rng.uniform(0, 150), rng.uniform(0, 120), rng.uniform(0, 10)
        on_plan = (lx + x * ux + off * uy, ly + x * uy - off * ux)
        assert view.place((x, y, off)) == pytest.approx(view.camera.place(on_plan, y), abs=1e-9)


@pytest.mark.parametrize("seed", range(10))
def test_the_eye_is_where_the_viewer_is(seed):
    view = standing(seed)
    assert view.place(view.eye) == pytest.approx((0.0, 0.0, 0.0), abs=1e-9)
    assert view.eye[1] == 64.0


@pytest.mark.parametrize("seed", range(10))
def test_the_face_of_a_wall_looks_at_who_stands_before_it(seed):
    view = standing(seed)
    face = lifted(((0.0, 0.0), (150.0, 0.0), (150.0, 120.0), (0.0, 120.0)), 0.0)
    assert view.looks(*face[:3]) == (view.eye[2] > 0)
    assert view.looks(*face[2::-1]) == (view.eye[2] < 0)


def test_places_are_apart_as_far_as_they_are_drawn():
    """At twice the distance of the picture plane half an inch is drawn as a quarter."""
    view = Standing(Wall("N", (-90.0, 400.0), (90.0, 400.0)), Camera((0.0, 0.0), 64.0, (0.0, 1.0), 200.0, 1.0), 0.5)
    assert view.apart((10.0, 10.0, 0.0), (11.01, 10.0, 0.0))
    assert not view.apart((10.0, 10.0, 0.0), (10.99, 10.0, 0.0))


def test_an_outline_goes_round_and_leaves_out_sides_without_length():
    corners = ((0.0, 0.0, 1.0), (2.0, 0.0, 1.0), (2.0, 0.0, 1.0), (2.0, 3.0, 1.0))
    found = outline(corners, "edge")
    assert [edge.layer for edge in found] == ["edge"] * 3
    assert sum(hypot(e.b[0] - e.a[0], e.b[1] - e.a[1]) for e in found) == pytest.approx(2 + 3 + hypot(2, 3))
