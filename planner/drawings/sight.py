"""What is seen of the walls of a room from one point: each wall where no other stands before it. Lengths in inches.

Walls reach from floor to ceiling, so that the plan alone decides. A direction is told by its slope, what lies to the
right over what lies ahead; one over the depth of a wall is linear in it, so that the nearest wall in each direction is
the upper envelope of straight lines.
"""

from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from planner.mouldings.curves import Point

HAIR = 1e-12


class Span(NamedTuple):
    """A part of a wall that is seen: the wall's number, and the slopes from its left to its right."""

    wall: int
    left: float
    right: float


class Ray(NamedTuple):
    """A wall ahead: its number, slopes of its ends, and one over its depth there [1/in]."""

    wall: int
    left: float
    right: float
    near_left: float
    near_right: float

    def nearness(self, slope: float) -> float:
        """One over its depth in a direction [1/in]."""
        t = (slope - self.left) / (self.right - self.left)
        return self.near_left + (self.near_right - self.near_left) * t


def seen(walls: Sequence[tuple[Point, Point]], near: float, left: float, right: float) -> list[Span]:
    """The parts of walls that are seen between two slopes, from left to right.

    Parameters
    ----------
    walls : the ends of each, left and right as seen from inside the room: to the right, and ahead. [in]
    near : what is nearer is cut away. [in]
    left, right : the slopes between which the viewer looks.

    Examples
    --------
    >>> [(s.wall, s.left, s.right) for s in seen([((-2.0, 4.0), (2.0, 4.0)), ((1.0, 2.0), (3.0, 2.0))], 1.0, -1.0, 1.0)]
    [(0, -0.5, 0.5), (1, 0.5, 1.0)]
    """
    rays = [ray for n, ends in enumerate(walls) if (ray := _ray(n, *ends, near)) is not None]
    edges = {left, right, *(t for ray in rays for t in (ray.left, ray.right) if left < t < right)}
    slopes = sorted(edges)
    rays.sort(key=lambda ray: ray.left)
    found: list[Span] = []
    active: list[Ray] = []
    waiting = 0
    for a, b in pairwise(slopes):
        if b - a < HAIR:
            continue
        middle = (a + b) / 2
        while waiting < len(rays) and rays[waiting].left < middle:
            active.append(rays[waiting])
            waiting += 1
        active = [ray for ray in active if ray.right > middle]
        if not active:
            continue
        nearest = max(active, key=lambda ray: ray.nearness(middle))
        if found and found[-1].wall == nearest.wall and found[-1].right >= a - HAIR:
            found[-1] = found[-1]._replace(right=b)
        else:
            found.append(Span(nearest.wall, a, b))
    return found


def _ray(number: int, left: Point, right: Point, near: float) -> Ray | None:
    """A wall as far as it is ahead, None where it is not, or turns its back."""
    (ax, ay), (bx, by) = left, right
    if ay < near and by < near:
        return None
    if ay < near:
        ax, ay = ax + (bx - ax) * (near - ay) / (by - ay), near
    elif by < near:
        bx, by = bx + (ax - bx) * (near - by) / (ay - by), near
    if ay <= 0.0 or by <= 0.0 or bx / by - ax / ay < HAIR:
        return None
    return Ray(number, ax / ay, bx / by, 1 / ay, 1 / by)
