"""How the trim of two rooms meets in the passages between them. All lengths are inches."""

from collections.abc import Mapping
from typing import NamedTuple

from planner.house.model import House
from planner.library import Library
from planner.trim.packages import Package
from planner.units import format_length
from planner.walls.layout import lay_out
from planner.walls.openings import CASED, Surround, surround

VISIBLE = 1 / 16
"""Tops that differ by less than this [in] are the same to the eye."""


class Meeting(NamedTuple):
    """How the trim of two rooms meets in a passage.

    `head` is the line that both heads keep, `near_top` and `far_top` the upper edges of what stands on either face
    above the floor [in]; `words` says the rest, one sentence each.
    """

    head: float
    near_top: float
    far_top: float
    words: tuple[str, ...]


def meetings(house: House, packages: Mapping[str, Package], library: Library) -> dict[str, Meeting]:
    """How the trim of two rooms meets in each passage between rooms that have a package, by the passage's name."""
    faces = {
        (name, around.aperture.name): around
        for name, package in packages.items()
        for wall in lay_out(house, name, package, library)
        for around in wall.surrounds
    }
    given = {(opening.room, opening.name) for opening in house.openings}
    found = {}
    for (name, opening), near in faces.items():
        other = near.aperture.other
        if other in packages and (name, opening) in given:
            # The far face of a stair stands on no known wall; it has the near one's opening all the same.
            far = faces.get((other, opening)) or surround(near.aperture, packages[other], library)
            found[opening] = meeting(near, far, packages[name], packages[other], library)
    return found


def meeting(near: Surround, far: Surround, of_near: Package, of_far: Package, library: Library) -> Meeting:
    """How the heads line up on the two faces of a passage, and where the trim of each room stops.

    Parameters
    ----------
    near, far : what stands round the passage on either face; its head and width are the same on both.
    of_near, of_far : packages of the two rooms.
    library : what the trade knows.

    References
    ----------
    Common practice; rows in library/openings_trim.toml.
    """
    opening, packages, unit = near.aperture, (of_near, of_far), of_near.unit
    row = library.meeting(opening.kind)
    cased = opening.kind in CASED
    head = opening.y1 + (library.surrounds.reveal.inches if cased else 0.0)
    words = [f"Both faces keep one head line, {format_length(head, unit)} above the floor."]
    if cased and abs(near.top - far.top) > VISIBLE:
        high, low = packages if near.top > far.top else packages[::-1]
        tops = sorted((near.top, far.top))
        words.append(
            f"Above it the trim of the {high.label} face is {format_length(tops[1] - head, unit)} high, that of the "
            f"{low.label} face {format_length(tops[0] - head, unit)}; nobody sees both faces at once."
        )
    under = all(opening.y1 <= _under_crown(package) for package in packages)
    stops = (row.stops_under_crown if under else "") or row.stops
    words += [_sentence(row.lining), _sentence(stops), *_rails(of_near, of_far)]
    if of_near.ceiling != of_far.ceiling and opening.kind not in ("door", "stair"):
        apart = format_length(abs(of_near.ceiling - of_far.ceiling), unit)
        words.append(
            f"The ceilings differ by {apart}: each crown keeps to its own ceiling and returns on itself where the wall "
            "ends."
        )
    if row.share and of_near.tier != of_far.tier:
        words.append(f"The two rooms must share a tier: {of_near.label} and {of_far.label} cannot change in one space.")
    return Meeting(head, near.top, far.top, tuple(words))


def _under_crown(package: Package) -> float:
    """How high the wall is below the crown [in]."""
    crown = package.element("crown")
    return package.ceiling - (crown.size if crown is not None else 0.0)


def _rails(near: Package, far: Package) -> list[str]:
    """What is to say of chair rails that only one of two rooms has."""
    rails = [package.element("chair rail") for package in (near, far)]
    if (rails[0] is None) == (rails[1] is None):
        return []
    has, lacks = (near, far) if rails[0] is not None else (far, near)
    return [f"The chair rail of the {has.label} room stops at its casing; the {lacks.label} room has none."]


def _sentence(words: str) -> str:
    """Words as a sentence."""
    return f"{words[0].upper()}{words[1:]}."
