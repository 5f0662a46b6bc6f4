"""A wall as it stands before the viewer: places on it and off it, and which of its faces look that way. In inches."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from math import hypot
from typing import NamedTuple

from planner.drawings.camera import Camera, Place
from planner.house.model import Wall
from planner.mouldings.curves import Point

Spot = tuple[float, float, float]
"""A place by a wall: along it from its left end, above the floor, and off it into the room [in]."""


class Facet(NamedTuple):
    """A flat face by its corners, and the tone that fills it."""

    corners: tuple[Spot, ...]
    fill: str


class Edge(NamedTuple):
    """A straight edge, and the layer that its line is drawn in."""

    a: Spot
    b: Spot
    layer: str


class Step(NamedTuple):
    """Faces, and then edges, that are drawn upon what was drawn before."""

    facets: list[Facet]
    edges: list[Edge]


@dataclass(frozen=True)
class Standing:
    """A wall before a camera; what would be drawn closer than `close` [in] to another line is left out."""

    wall: Wall
    camera: Camera
    close: float

    @cached_property
    def _axes(self) -> tuple[Place, Point, Point]:
        """The wall's left end, its run, and the way off it, as the viewer has them."""
        (lx, ly), (rx, ry), fx, fy = self.wall.left, self.wall.right, *self.camera.ahead
        ux, uy = (rx - lx) / self.wall.length, (ry - ly) / self.wall.length
        along = ux * fy - uy * fx, ux * fx + uy * fy
        return self.camera.place(self.wall.left, 0.0), along, (along[1], -along[0])

    @cached_property
    def eye(self) -> Spot:
        """The eye as the wall has it."""
        (x, ahead, up), (ux, ua), (nx, na) = self._axes
        return -(x * ux + ahead * ua), -up, -(x * nx + ahead * na)

    def place(self, spot: Spot) -> Place:
        """A place by the wall as the viewer has it."""
        (x, ahead, up), (ux, ua), (nx, na) = self._axes
        along, height, off = spot
        return x + along * ux + off * nx, ahead + along * ua + off * na, up + height

    def apart(self, a: Spot, b: Spot) -> bool:
        """Whether two places are drawn so far from one another that lines through them read apart."""
        one, other = self.place(a), self.place(b)
        if min(one[1], other[1]) < self.camera.near:
            return True
        (ax, ay), (bx, by) = self.camera.drawn(one), self.camera.drawn(other)
        return hypot(bx - ax, by - ay) >= self.close

    def looks(self, a: Spot, b: Spot, c: Spot) -> bool:
        """Whether a face looks at the viewer three of whose corners, as it is seen, run against the clock."""
        ux, uy, un = b[0] - a[0], b[1] - a[1], b[2] - a[2]
        vx, vy, vn = c[0] - a[0], c[1] - a[1], c[2] - a[2]
        ex, ey, en = self.eye[0] - a[0], self.eye[1] - a[1], self.eye[2] - a[2]
        return ex * (uy * vn - un * vy) + ey * (un * vx - ux * vn) + en * (ux * vy - uy * vx) > 1e-9


def lifted(corners: Sequence[Point], off: float) -> tuple[Spot, ...]:
    """A figure on the wall, so far off it [in]."""
    return tuple((x, y, off) for x, y in corners)


def outline(corners: Sequence[Spot], layer: str) -> list[Edge]:
    """The edges round a face."""
    return [Edge(a, b, layer) for a, b in zip(corners, [*corners[1:], corners[0]], strict=True) if a != b]
