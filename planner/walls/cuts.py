"""How the ends of a piece of wood are cut. All lengths are inches."""

from enum import StrEnum
from math import atan2, degrees
from typing import NamedTuple

from planner.walls.parts import FLAT, PLUMB
from planner.walls.solids import Point, Solid


class Joint(StrEnum):
    """How the end of a piece is made; the value is what a person reads."""

    SQUARE = "square"
    MITRE = "mitre"
    COPE = "coped"
    INSIDE = "inside"
    OUTSIDE = "outside"
    RETURN = "return"


class Cut(NamedTuple):
    """How the end of a piece is cut.

    Parameters
    ----------
    joint : what it is.
    across : how far the cut turns from square across the face, positive where the outer edge is the longer: of a casing
        the edge away from the opening, of anything else the upper or the left one. [degrees]
    through : how far it turns from square through the thickness, positive where the face is longer than the back; a
        cope is first cut so, and then along the profile that shows. [degrees]
    """

    joint: Joint
    across: float = 0.0
    through: float = 0.0

    @property
    def words(self) -> str:
        """What a person reads for it.

        >>> Cut(Joint.SQUARE).words, Cut(Joint.MITRE, 45.0).words, Cut(Joint.OUTSIDE, through=22.5).words
        ('square', '45°', 'outside 22.5°')
        """
        if self.joint in (Joint.SQUARE, Joint.COPE):
            return self.joint.value
        angle = f"{abs(self.across or self.through):g}°"
        return angle if self.joint is Joint.MITRE else f"{self.joint} {angle}"


SQUARE = Cut(Joint.SQUARE)

MITRE = Cut(Joint.MITRE, across=45.0)

RETURNED = Cut(Joint.RETURN, through=45.0)

STRAIGHT = 0.5
"""Cuts nearer to square than this are made square [degrees], common practice."""


def measured(solid: Solid) -> tuple[float, float, tuple[Cut, Cut]]:
    """Length from long point to long point and width [in] of a piece seen on the wall, and how its ends are cut."""
    s = solid
    a, b, c, d = s.outline or (
        ((s.x0, s.y0), (s.x1, s.y0), (s.x1, s.y1), (s.x0, s.y1))
        if s.part in PLUMB
        else ((s.x0, s.y1), (s.x0, s.y0), (s.x1, s.y0), (s.x1, s.y1))
    )
    upright = abs(c[1] + d[1] - a[1] - b[1]) > abs(c[0] + d[0] - a[0] - b[0])
    axis = 1 if upright else 0
    first, second = sorted(((a, b), (d, c)), key=lambda end: end[0][axis] + end[1][axis])
    sizes = (s.width, s.height)
    width = s.projection if s.part in FLAT else sizes[1 - axis]
    return sizes[axis], width, (mitre(*first, axis, -1), mitre(*second, axis, 1))


def mitre(outer: Point, inner: Point, axis: int, outward: int) -> Cut:
    """The cut between the outer and the inner corner of an end that looks `outward` along an axis."""
    longer = (outer[axis] - inner[axis]) * outward
    angle = degrees(atan2(longer, abs(outer[1 - axis] - inner[1 - axis])))
    return Cut(Joint.MITRE, across=round(angle, 6)) if longer else SQUARE


def rake_cut(upper: Point, lower: Point, ux: float, uy: float) -> Cut:
    """The cut between the upper and the lower corner of an end; (ux, uy) leads from there along the piece."""
    inward = (lower[0] - upper[0]) * ux + (lower[1] - upper[1]) * uy
    deep = abs((lower[0] - upper[0]) * uy - (lower[1] - upper[1]) * ux)
    angle = round(degrees(atan2(inward, deep)), 6)
    return Cut(Joint.MITRE, across=angle) if abs(angle) >= STRAIGHT else SQUARE
