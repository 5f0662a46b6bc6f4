"""A landing that lies along a whole wall, between flights on the walls beside it. All lengths are inches."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from planner.walls.solids import TOUCH
from planner.walls.stairs import LEVEL_FLOOR, Beside, Landing, landings, on_wall, underside


class Side(NamedTuple):
    """A wall beside another: the flights against it, and its length [in]."""

    stairs: Sequence[Beside]
    length: float


class HalfTurn(NamedTuple):
    """A landing from end to end of a wall.

    Parameters
    ----------
    name : of the flight that leads to it.
    floor, under, top : its height above the room's floor, its underside, 0 where nobody walks under it, and the upper
        edge of the rail or base that stands on it. [in]
    """

    name: str
    floor: float
    under: float
    top: float

    def takes(self, y0: float, y1: float) -> bool:
        """Whether it takes the place of a level element between two heights above the room's floor [in]."""
        return y0 < self.top - TOUCH and y1 > self.under + TOUCH


def half_turn(left: Side, right: Side) -> HalfTurn | None:
    """The landing along a wall, None where none goes from one of its corners to the other.

    Parameters
    ----------
    left, right : the flights on the walls that meet it on its left and on its right, and how long those are. [in]

    Notes
    -----
    A flight on one of the two leads to a landing that reaches the corner, and one on the other goes on from there.
    """
    beside = (*reaching(left, left.length), *reaching(right, 0.0))
    leaving = [landing.floor for _, landing in beside if not landing.upper]
    for one, landing in beside:
        if landing.upper and any(abs(landing.floor - floor) <= LEVEL_FLOOR for floor in leaving):
            return HalfTurn(one.flight.name, landing.floor, underside(one, landing), landing.top)
    return None


def reaching(side: Side, corner: float) -> Iterator[tuple[Beside, Landing]]:
    """The flights of a wall with those of their landings that reach its end at a corner [in]."""
    for one in side.stairs:
        for landing in landings(one, side.stairs, side.length):
            if abs(on_wall(one.flight, (landing.far, 0.0))[0] - corner) <= TOUCH:
                yield one, landing
