"""What is seen of walls is what rays meet first."""

from math import cos, pi, sin
from random import Random
from time import process_time

import pytest

from planner.drawings.sight import seen

NEAR = 1.0


def star(seed: int, count: int) -> list[tuple[float, float]]:
    """The corners of a random room round (0, 60), clockwise from above: to the right, and ahead."""
    rng = Random(seed)
    angles = sorted((rng.uniform(0, 2 * pi) for _ in range(count)), reverse=True)
    return [(r * cos(a), 60 + r * sin(a)) for a in angles for r in [rng.uniform(20, 58)]]


def walls_of(corners):
    return list(zip(corners, [*corners[1:], corners[0]], strict=True))


def first_met(walls, slope: float) -> int | None:
    """The wall that a ray from the eye meets first of those that look at it, and how far ahead, by brute force."""
    found = []
    for n, ((ax, ay), (bx, by)) in enumerate(walls):
        turn = (ax - slope * ay) - (bx - slope * by)
        if abs(turn) < 1e-12:
            continue
        t = (ax - slope * ay) / turn
        depth = ay + (by - ay) * t
        if 0 <= t <= 1 and depth >= NEAR and ax * by - bx * ay < 0:
            found.append((depth, n))
    return min(found)[1] if found else None


@pytest.mark.parametrize("seed", range(30))
def test_the_wall_that_is_seen_is_the_one_that_a_ray_meets_first(seed):
    walls = walls_of(star(seed, 12 + seed))
    spans = seen(walls, NEAR, -1.0, 1.0)
    rng = Random(seed)
    for _ in range(300):
        slope = rng.uniform(-1, 1)
        mine = [s.wall for s in spans if s.left <= slope <= s.right]
        met = first_met(walls, slope)
        assert mine == ([] if met is None else [met]) or min(abs(slope - e) for s in spans for e in s[1:]) < 1e-9


def test_spans_run_from_left_to_right_and_do_not_overlap():
    spans = seen(walls_of(star(3, 60)), NEAR, -1.0, 1.0)
    edges = [e for s in spans for e in s[1:]]
    assert edges == sorted(edges)
    assert len(spans) > 3


def test_a_wall_that_turns_its_back_or_lies_behind_is_not_seen():
    back = ((2.0, 5.0), (-2.0, 5.0))
    behind = ((-2.0, -5.0), (2.0, -5.0))
    along = ((1.0, 2.0), (2.0, 4.0))
    assert seen([back, behind, along], NEAR, -1.0, 1.0) == []


def test_two_hundred_walls_are_told_in_bounded_time():
    walls = walls_of(star(1, 200))
    start = process_time()
    seen(walls, NEAR, -1.0, 1.0)
    assert process_time() - start < 0.2
