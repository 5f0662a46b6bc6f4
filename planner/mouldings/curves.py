"""Plane curves that mouldings are drawn with: straight lines, arcs of circles and arcs of ellipses. Lengths in inches.

Angles are in degrees, counted against the clock from the x axis. For an ellipse they are its parameter, so that the
point is ``center + (rx cos t, ry sin t)``, turned by `rotation`.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import acos, ceil, cos, degrees, hypot, pi, radians, sin
from typing import NamedTuple

Point = tuple[float, float]

TOLERANCE = 0.001
"""How far a polyline may stand off the curve that it replaces [in]."""


class Line(NamedTuple):
    """A straight line from start to end."""

    start: Point
    end: Point


@dataclass(frozen=True)
class EllipseArc:
    """Part of an ellipse with half axes `rx` and `ry` [in], from parameter `first` to `last` [degrees]."""

    center: Point
    rx: float
    ry: float
    first: float
    last: float
    ccw: bool = True
    rotation: float = 0.0

    @property
    def sweep(self) -> float:
        """Angle run through [degrees]: positive against the clock, never zero."""
        return _sweep(self.first, self.last, self.ccw)

    def at(self, angle: float) -> Point:
        """The point at a parameter [degrees]."""
        x, y = self.rx * _cos(angle), self.ry * _sin(angle)
        c, s = _cos(self.rotation), _sin(self.rotation)
        return (self.center[0] + x * c - y * s, self.center[1] + x * s + y * c)

    @property
    def start(self) -> Point:
        """Where the arc begins."""
        return self.at(self.first)

    @property
    def end(self) -> Point:
        """Where the arc ends."""
        return self.at(self.last)


@dataclass(frozen=True)
class Arc:
    """Part of a circle, from angle `first` to `last` [degrees]."""

    center: Point
    radius: float
    first: float
    last: float
    ccw: bool = True

    @property
    def sweep(self) -> float:
        """Angle run through [degrees]: positive against the clock, never zero."""
        return _sweep(self.first, self.last, self.ccw)

    def at(self, angle: float) -> Point:
        """The point at an angle [degrees]."""
        return (self.center[0] + self.radius * _cos(angle), self.center[1] + self.radius * _sin(angle))

    @property
    def start(self) -> Point:
        """Where the arc begins."""
        return self.at(self.first)

    @property
    def end(self) -> Point:
        """Where the arc ends."""
        return self.at(self.last)

    @property
    def rx(self) -> float:
        """The radius, so that a circle reads as an ellipse."""
        return self.radius

    @property
    def ry(self) -> float:
        """The radius, so that a circle reads as an ellipse."""
        return self.radius

    @property
    def rotation(self) -> float:
        """A circle is turned by nothing [degrees]."""
        return 0.0


Segment = Line | Arc | EllipseArc
Curve = Arc | EllipseArc


@dataclass(frozen=True)
class Placement:
    """Where a figure goes: mirrored left to right if `mirror`, then turned [degrees], scaled and moved [in]."""

    x: float = 0.0
    y: float = 0.0
    rotation: float = 0.0
    scale: float = 1.0
    mirror: bool = False

    def point(self, p: Point) -> Point:
        """The point where `p` comes to lie."""
        px, py = (-p[0] if self.mirror else p[0]), p[1]
        if not self.rotation:
            return (self.x + px * self.scale, self.y + py * self.scale)
        c, s = _cos(self.rotation) * self.scale, _sin(self.rotation) * self.scale
        return (self.x + px * c - py * s, self.y + px * s + py * c)

    def segment(self, segment: Segment) -> Segment:
        """The segment where it comes to lie, exactly."""
        if isinstance(segment, Line):
            return Line(self.point(segment.start), self.point(segment.end))
        center = self.point(segment.center)
        ccw = segment.ccw is not self.mirror
        if isinstance(segment, Arc):
            start, end = ((180.0 - a if self.mirror else a) + self.rotation for a in (segment.first, segment.last))
            return Arc(center, segment.radius * self.scale, start, end, ccw)
        first, last = (-a if self.mirror else a for a in (segment.first, segment.last))
        axis = (180.0 - segment.rotation if self.mirror else segment.rotation) + self.rotation
        return EllipseArc(center, segment.rx * self.scale, segment.ry * self.scale, first, last, ccw, axis)

    def segments(self, segments: Iterable[Segment]) -> tuple[Segment, ...]:
        """A chain of segments where it comes to lie."""
        return tuple(self.segment(s) for s in segments)


def reverse(segments: Sequence[Segment]) -> tuple[Segment, ...]:
    """The same chain walked from its end to its start."""
    return tuple(
        Line(s.end, s.start) if isinstance(s, Line) else replace(s, first=s.last, last=s.first, ccw=not s.ccw)
        for s in reversed(segments)
    )


def polyline(points: Sequence[Point], closed: bool = False) -> tuple[Line, ...]:
    """Straight lines through points, leaving out those without length."""
    ring = [*points, points[0]] if closed else points
    return tuple(Line(a, b) for a, b in pairwise(ring) if hypot(b[0] - a[0], b[1] - a[1]) > 1e-9)


def length(segments: Iterable[Segment]) -> float:
    """Exact length of a chain [in]; elliptic arcs by the incomplete elliptic integral of the second kind."""
    return sum(_length(s) for s in segments)


def area(segments: Iterable[Segment]) -> float:
    """Exact area inside a closed chain [sq in], by Green's theorem; positive where it runs against the clock."""
    return sum(_swept(s) for s in segments)


def points(segments: Iterable[Segment], tolerance: float = TOLERANCE) -> list[Point]:
    """Points along a chain, both ends included, no farther than `tolerance` [in] off its curves."""
    found: list[Point] = []
    for s in segments:
        for p in _points(s, tolerance):
            if not found or hypot(p[0] - found[-1][0], p[1] - found[-1][1]) > 1e-9:
                found.append(p)
    return found


def _points(s: Segment, tolerance: float) -> list[Point]:
    if isinstance(s, Line):
        return [s.start, s.end]
    reach = max(s.rx, s.ry)
    step = 2.0 * degrees(acos(max(0.0, 1.0 - tolerance / reach)))
    count = max(2, ceil(abs(s.sweep) / step))
    return [s.at(s.first + s.sweep * i / count) for i in range(count + 1)]


def _length(s: Segment) -> float:
    if isinstance(s, Line):
        return hypot(s.end[0] - s.start[0], s.end[1] - s.start[1])
    if s.rx == s.ry:
        return s.rx * abs(radians(s.sweep))
    from scipy.special import ellipeinc  # only here: whoever reads a house measures no ellipse

    first, last = radians(s.first), radians(s.first + s.sweep)
    return float(s.ry * abs(ellipeinc(last, 1.0 - (s.rx / s.ry) ** 2) - ellipeinc(first, 1.0 - (s.rx / s.ry) ** 2)))


def _swept(s: Segment) -> float:
    (ax, ay), (bx, by) = s.start, s.end
    if isinstance(s, Line):
        return (ax * by - bx * ay) / 2.0
    cx, cy = s.center
    return (cx * (by - ay) - cy * (bx - ax) + s.rx * s.ry * radians(s.sweep)) / 2.0


def _sweep(first: float, last: float, ccw: bool) -> float:
    turn = (last - first) % 360.0 or 360.0
    return turn if ccw else turn - 360.0 or -360.0


def _cos(angle: float) -> float:
    return _QUARTERS[int(angle / 90.0) % 4] if angle % 90.0 == 0.0 else cos(radians(angle))


def _sin(angle: float) -> float:
    return _cos(angle - 90.0) if angle % 90.0 == 0.0 else sin(angle * pi / 180.0)


_QUARTERS = (1.0, 0.0, -1.0, 0.0)
