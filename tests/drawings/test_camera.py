"""The projection agrees with the camera matrix of the textbooks, and clips what is not in the picture."""

from math import hypot
from random import Random

import numpy as np
import pytest

from planner.drawings.camera import Camera, cut, line_within, part, polygon_within
from planner.drawings.scene import Box

LOOKING_NORTH = Camera((0.0, 0.0), 64.0, (0.0, 1.0), 200.0, 10.0)
WINDOW = Box(-100.0, 0.0, 100.0, 120.0)


def turned(seed: int) -> Camera:
    rng = Random(seed)
    x, y = rng.uniform(-1, 1), rng.uniform(-1, 1)
    size = hypot(x, y)
    eye = (rng.uniform(-300, 300), rng.uniform(-300, 300))
    return Camera(eye, rng.uniform(40, 80), (x / size, y / size), rng.uniform(50, 500), 1.0)


def test_a_size_at_a_depth_is_drawn_as_distance_over_depth():
    """X = f x / z: of a rod of 30 in, at twice the distance of the picture plane, half is drawn."""
    for depth, drawn in ((200.0, 30.0), (400.0, 15.0), (100.0, 60.0)):
        a, b = (LOOKING_NORTH.drawn(LOOKING_NORTH.place((x, depth), 64.0)) for x in (0.0, 30.0))
        assert b[0] - a[0] == pytest.approx(drawn, abs=1e-12)
        assert a == (0.0, 64.0)


def test_what_lies_to_the_right_is_drawn_to_the_right_and_what_is_high_high():
    east = Camera((0.0, 0.0), 64.0, (1.0, 0.0), 200.0, 10.0)
    assert east.drawn(east.place((200.0, -20.0), 100.0)) == pytest.approx((20.0, 100.0))


@pytest.mark.parametrize("seed", range(20))
def test_points_fall_where_the_camera_matrix_puts_them(seed):
    """P = K [R | t] (Hartley and Zisserman, Multiple View Geometry, 2004, section 6.1, from memory)."""
    camera, rng = turned(seed), np.random.default_rng(seed)
    (fx, fy), (ex, ey) = camera.ahead, camera.eye
    rotation = np.array([[fy, -fx, 0.0], [0.0, 0.0, 1.0], [fx, fy, 0.0]])
    inner = np.array([[camera.distance, 0, 0], [0, camera.distance, camera.height], [0, 0, 1]])
    centre = np.array([ex, ey, camera.height])
    matrix = inner @ np.hstack([rotation, (-rotation @ centre)[:, None]])
    for point in rng.uniform(-500, 500, (50, 3)):
        place = camera.place((point[0], point[1]), point[2])
        if place[1] > camera.near:
            u, v, w = matrix @ [*point, 1.0]
            assert camera.drawn(place) == pytest.approx((u / w, v / w), abs=1e-7)


@pytest.mark.parametrize("seed", range(20))
def test_lines_along_the_sight_meet_in_one_point(seed):
    """Two points of each; the line through them passes the point at the height of the eye straight ahead."""
    camera, rng = turned(seed), Random(seed)
    (fx, fy), (ex, ey) = camera.ahead, camera.eye
    for _ in range(20):
        side, height = rng.uniform(-200, 200), rng.uniform(0, 130)
        start = (ex + fy * side, ey - fx * side)
        (ax, ay), (bx, by) = (
            camera.drawn(camera.place((start[0] + fx * far, start[1] + fy * far), height)) for far in (100.0, 400.0)
        )
        off = (bx - ax) * (camera.height - ay) - (by - ay) * (0.0 - ax)
        assert abs(off) / hypot(bx - ax, by - ay) < 1e-9


def test_a_line_is_drawn_as_far_as_it_is_ahead_and_in_the_window():
    behind, ahead = (0.0, -50.0, -30.0), (0.0, 150.0, -30.0)
    kept = line_within((behind, ahead), LOOKING_NORTH, WINDOW)
    assert kept is not None
    assert kept[0] == pytest.approx((0.0, 0.0))
    assert kept[1] == pytest.approx((0.0, 24.0))
    assert line_within(((0.0, -50.0, 0.0), (9.0, 9.0, 0.0)), LOOKING_NORTH, WINDOW) is None
    assert line_within(((500.0, 200.0, 0.0), (500.0, 300.0, 9.0)), LOOKING_NORTH, WINDOW) is None


def test_a_figure_is_drawn_as_far_as_it_is_ahead_and_in_the_window():
    floor = ((-30.0, -99.0, -64.0), (30.0, -99.0, -64.0), (30.0, 200.0, -64.0), (-30.0, 200.0, -64.0))
    seen = polygon_within(floor, LOOKING_NORTH, WINDOW)
    assert {(round(x, 6), round(y, 6)) for x, y in seen} == {(-30.0, 0.0), (30.0, 0.0)}
    higher = tuple((x, y, z + 20) for x, y, z in floor)
    corners = {(round(x, 6), round(y, 6)) for x, y in polygon_within(higher, LOOKING_NORTH, WINDOW)}
    assert {(-30.0, 20.0), (30.0, 20.0)} < corners
    assert min(y for _, y in corners) == 0.0
    assert polygon_within([(x, -y - 200, z) for x, y, z in floor], LOOKING_NORTH, WINDOW) == ()


def test_what_is_cut_from_a_square_is_what_lies_beyond_the_line():
    square = [(0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0)]
    assert cut(square, lambda p: p[0] - 1.0) == [(1.0, 0.0), (2.0, 0.0), (2.0, 2.0), (1.0, 2.0)]
    assert cut(square, lambda p: p[0] - 3.0) == []
    assert part(((0.0, 0.0), (4.0, 0.0)), (lambda p: p[0] - 1.0, lambda p: 3.0 - p[0])) == ((1.0, 0.0), (3.0, 0.0))
    assert part(((0.0, 0.0), (4.0, 0.0)), (lambda p: p[0] - 3.0, lambda p: 1.0 - p[0])) is None
