"""What stands on the head casings of openings, and what joins them. All lengths are inches."""

from collections.abc import Iterator, Sequence
from itertools import pairwise

from planner.trim.packages import Element
from planner.walls.parts import Part
from planner.walls.solids import TOUCH, Solid

REACH = 0.5
"""The least that the top of an overdoor reaches out sideways [in], common practice."""

FILLET = 3
"""By how many times that is more than a fillet under it reaches out; common practice."""

LEVEL = 1 / 16
"""Heads nearer than this [in] are at one height."""


def crowned(
    element: Element, casing: Element, ends: tuple[float, float], bottom: float, opening: str
) -> tuple[Solid, ...]:
    """The parts of what stands on a head casing, from the bottom up.

    Parameters
    ----------
    element : an overdoor, or a window head.
    casing : which it stands on.
    ends : of the head casing, from the wall's left end. [in]
    bottom : the head casing's upper edge above the floor. [in]
    opening : the opening's name.

    Returns
    -------
    Solids, of which the topmost reaches out sideways as far as forward of the casing.
    """
    part = Part.OVERDOOR if element.element == "overdoor" else Part.WINDOW_HEAD
    face = casing.ground + casing.thickness
    reach, last = max(REACH, element.projection - face), len(element.parts) - 1
    solids, y = [], bottom
    for i, (form, height) in enumerate(element.parts):
        out = reach if i == last else reach / FILLET if form == "fillet" else 0.0
        stands = element.projection if i == last else face + out
        x0, x1 = ends[0] - out, ends[1] + out
        solids.append(Solid(part, element.element, x0, x1, y, y + height, stands, form=form, opening=opening))
        y += height
    return tuple(solids)


def bands(heads: Sequence[Solid], band: Element) -> Iterator[Solid]:
    """The band that runs on from head to head along a wall, where two neighbours' heads begin at one height.

    Parameters
    ----------
    heads : the head casings of a wall, from left to right.
    band : the head band.
    """
    for one, other in pairwise(heads):
        if abs(one.y0 - other.y0) < LEVEL and other.x0 - one.x1 > TOUCH:
            top = one.y0 + min(band.size, one.height, other.height)
            yield Solid(Part.HEAD_BAND, "head band", one.x1, other.x0, one.y0, top, band.projection)
