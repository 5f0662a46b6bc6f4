"""Central projection upon an upright picture plane, and clipping to what is seen of it. Lengths in inches."""

from collections.abc import Callable, Iterable, Sequence
from typing import NamedTuple, TypeVar

from planner.drawings.scene import Box
from planner.mouldings.curves import Point

Place = tuple[float, float, float]
"""A place as the viewer has it: to the right, ahead, and above the eye [in]."""

At = TypeVar("At", Point, Place)


class Camera(NamedTuple):
    """An eye that looks level ahead.

    Parameters
    ----------
    eye : where it is on the plan. [in]
    height : of the eye above the floor. [in]
    ahead : unit vector on the plan, square to the picture plane.
    distance : from the eye to the picture plane, on which all is drawn in its true size. [in]
    near : nothing nearer than this is drawn. [in]

    Notes
    -----
    A size at a depth is drawn as distance / depth times as large: the rule of the pinhole camera, X = f x / z
    (R. Hartley and A. Zisserman, Multiple View Geometry in Computer Vision, 2004, section 6.1, from memory). What is
    parallel to the picture plane keeps its shape; what is square to it runs to the point at the height of the eye.
    """

    eye: Point
    height: float
    ahead: Point
    distance: float
    near: float

    def place(self, at: Point, height: float) -> Place:
        """Where a point of the plan lies, so high above the floor [in]."""
        x, y = at[0] - self.eye[0], at[1] - self.eye[1]
        fx, fy = self.ahead
        return x * fy - y * fx, x * fx + y * fy, height - self.height

    def drawn(self, place: Place) -> Point:
        """Where a place ahead is drawn: from the line of sight to the right, and above the floor's line [in]."""
        right, ahead, up = place
        scale = self.distance / ahead
        return right * scale, self.height + up * scale


def polygon_within(corners: Sequence[Place], camera: Camera, window: Box) -> tuple[Point, ...]:
    """What is drawn of a flat figure inside a window, its corners on the picture [in]; empty where nothing is."""
    ahead = corners
    if any(p[1] < camera.near for p in corners):
        ahead = cut(corners, lambda p: p[1] - camera.near)
    flat: Sequence[Point] = [camera.drawn(p) for p in ahead]
    if not flat:
        return ()
    xs, ys = zip(*flat, strict=True)
    x0, y0, x1, y1 = window
    if min(xs) < x0:
        flat = cut(flat, lambda p: p[0] - x0)
    if max(xs) > x1:
        flat = cut(flat, lambda p: x1 - p[0])
    if min(ys) < y0:
        flat = cut(flat, lambda p: p[1] - y0)
    if max(ys) > y1:
        flat = cut(flat, lambda p: y1 - p[1])
    return tuple(flat) if len(flat) > 2 else ()


def line_within(ends: tuple[Place, Place], camera: Camera, window: Box) -> tuple[Point, Point] | None:
    """What is drawn of a straight line inside a window, by its ends on the picture [in]; None where nothing is."""
    kept = part(ends, (lambda p: p[1] - camera.near,))
    if kept is None:
        return None
    x0, y0, x1, y1 = window
    a, b = map(camera.drawn, kept)
    inside = (lambda p: p[0] - x0, lambda p: x1 - p[0], lambda p: p[1] - y0, lambda p: y1 - p[1])
    seen = part((a, b), inside)
    return seen if seen is not None and seen[0] != seen[1] else None


def cut(corners: Sequence[At], inside: Callable[[At], float]) -> list[At]:
    """The part of a flat figure where `inside`, a linear function of the place, is not negative.

    References
    ----------
    I. Sutherland and G. Hodgman, Reentrant Polygon Clipping (1974), from memory.
    """
    found: list[At] = []
    values = [inside(p) for p in corners]
    for i, (p, v) in enumerate(zip(corners, values, strict=True)):
        before, u = corners[i - 1], values[i - 1]
        if (u < 0.0) != (v < 0.0):
            found.append(_between(before, p, u / (u - v)))
        if v >= 0.0:
            found.append(p)
    return found


def part(ends: tuple[At, At], inside: Iterable[Callable[[At], float]]) -> tuple[At, At] | None:
    """The part of a straight line where none of some linear functions of the place is negative."""
    a, b = ends
    low, high = 0.0, 1.0
    for function in inside:
        u, v = function(a), function(b)
        if u < 0.0 and v < 0.0:
            return None
        if u < 0.0:
            low = max(low, u / (u - v))
        elif v < 0.0:
            high = min(high, u / (u - v))
    if low > high:
        return None
    return a if low == 0.0 else _between(a, b, low), b if high == 1.0 else _between(a, b, high)


def _between(a: At, b: At, t: float) -> At:
    return tuple(p + (q - p) * t for p, q in zip(a, b, strict=True))  # type: ignore[return-value]
