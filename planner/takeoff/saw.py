"""How the saw is set: miter and bevel of every cut, of a crown lying flat and nested. All angles are degrees.

A miter saw turns its blade by the miter about a plumb axis, from square across the fence, and leans it by the bevel
from plumb. What is said is how far, never to which side: that shows on the piece.
"""

from math import asin, atan2, cos, degrees, radians, sin, tan
from typing import NamedTuple

from planner.mouldings.assembly import Placed
from planner.walls.cuts import Cut


class Setting(NamedTuple):
    """Miter and bevel of a saw [degrees]."""

    miter: float
    bevel: float


class Settings(NamedTuple):
    """The settings for one end: `flat` with the piece on its back, face up; `nested` with a crown upside down against
    the fence at its spring angle, None for what does not lean."""

    flat: Setting
    nested: Setting | None = None


def crown_flat(spring: float, corner: float) -> Setting:
    """Miter and bevel for a crown that lies flat on its back, its edges along the fence.

    Parameters
    ----------
    spring : between the crown's back and the wall. [degrees]
    corner : between the two walls, below 180, measured where the crown is: inside the room at an inside corner, through
        the walls at an outside one. [degrees]

    Notes
    -----
    miter = atan(sin S / tan(C/2)), bevel = asin(cos S cos(C/2)).

    Let the wall run along x, the room lie towards y and z be up. Two walls that meet at C are cut in the plumb plane
    that halves C: its normal is n = (sin(C/2), -cos(C/2), 0), for a wall that lies at C/2 from it. The crown's back
    leans from the wall by S: the way across its back, square to x, is w = (0, sin S, cos S), and its normal is
    v = (0, cos S, -sin S). Lying flat, x is along the fence, w across the table and v plumb. The blade's own plane has
    the normal (cos m cos b, sin m cos b, sin b) for a miter m and a bevel b in these three directions. Setting
    n.x = sin(C/2), n.w = -cos(C/2) sin S, n.v = -cos(C/2) cos S against them, signs apart, gives
    sin b = cos(C/2) cos S and tan m = cos(C/2) sin S / sin(C/2), which is the formula.

    Examples
    --------
    >>> [round(angle, 2) for angle in crown_flat(38, 90)], [round(angle, 2) for angle in crown_flat(45, 135)]
    ([31.62, 33.86], [16.32, 15.7])
    """
    lean, half = radians(spring), radians(corner / 2)
    return Setting(degrees(atan2(sin(lean), tan(half))), degrees(asin(cos(lean) * cos(half))))


def crown_nested(corner: float) -> Setting:
    """Miter for a crown that leans between table and fence as it does between ceiling and wall, upside down: the table
    is the ceiling, the fence the wall, so that the blade stands plumb in the plane that halves the corner and turns
    from square by what half the corner lacks of 90.

    >>> crown_nested(90), crown_nested(135)
    (Setting(miter=45.0, bevel=0.0), Setting(miter=22.5, bevel=0.0))
    """
    return Setting(90 - corner / 2, 0.0)


def flat_cut(across: float, through: float) -> Setting:
    """Miter and bevel for a flat piece on its back, its cut turned from square across the face and through the
    thickness: the two are the blade's own.

    >>> flat_cut(45.0, 0.0), flat_cut(0.0, -22.5)
    (Setting(miter=45.0, bevel=0.0), Setting(miter=0.0, bevel=22.5))
    """
    return Setting(abs(across), abs(through))


def settings_of(cut: Cut, spring: float | None = None) -> Settings:
    """The settings for the end of a piece.

    Parameters
    ----------
    cut : how it is cut; of a cope the cut that is made before the profile is followed.
    spring : between a crown's back and the wall, None for what stands flat against it. [degrees]
    """
    if spring is None or not cut.through:
        return Settings(flat_cut(cut.across, cut.through))
    corner = 180 - 2 * abs(cut.through)
    return Settings(crown_flat(spring, corner), crown_nested(corner))


def spring_of(placed: Placed) -> float | None:
    """The angle between the wall and the back of a profile that is sprung, None for one that is not [degrees]."""
    for piece in placed.timber:
        if piece.made == "sprung":
            (low_x, low_y), (top_x, top_y) = piece.hollow[-3], piece.hollow[-2]
            return degrees(atan2(top_x - low_x, top_y - low_y))
    return None
