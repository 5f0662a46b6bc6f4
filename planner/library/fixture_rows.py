"""What a row of each table says: what stands on walls besides openings, and stairs. Lengths in inches."""

from math import cos, radians
from typing import Literal, Protocol

from planner.library.rows import TableRow

Manner = Literal["stops", "returns", "lifts", "passes"]
"""What an element does at a fixture: dies square into it, ends on a return clear of it, stands on it, runs on."""


class FixtureKind(TableRow, frozen=True):
    """A kind of fixture: its common place and depth [in], how its face is drawn, and the elements that stop, return or
    lift at it."""

    kind: str
    bottom: float
    top: float
    depth: float
    source: str
    clear: float = 0.0
    backsplash: float = 0.0
    face: Literal["plain", "top", "doors", "shelves", "fins"] = "plain"
    stops: tuple[str, ...] = ()
    returns: tuple[str, ...] = ()
    lifts: tuple[str, ...] = ()

    def manner(self, element: str) -> Manner:
        """What an element that lies at its height does at it.

        >>> from planner.library import standard
        >>> counter = standard().fixture_kinds["counter"]
        >>> counter.manner("base"), counter.manner("wainscot")
        ('stops', 'lifts')
        """
        if element in self.stops:
            return "stops"
        if element in self.returns:
            return "returns"
        return "lifts" if element in self.lifts else "passes"


class Skirt(TableRow, frozen=True):
    """The board on the wall beside a flight: its edge above the nosings, its width, and how far it stands out where
    there is no base [in]."""

    above: float
    width: float
    projection: float
    source: str


class RakingRail(TableRow, frozen=True):
    """Heights above the nosings between which the top of a raking rail lies [in]."""

    lowest: float
    highest: float
    source: str


class Tread(TableRow, frozen=True):
    """How far a tread stands out over its riser, and its thickness [in]."""

    nosing: float
    thickness: float
    source: str


class OpenString(TableRow, frozen=True):
    """The width of the string on the open side, square to the rake [in]."""

    width: float
    source: str


class Under(TableRow, frozen=True):
    """The room to walk under a flight that stands on the floor; where there is less it is closed below [in]."""

    headroom: float
    source: str


class LandingReach(TableRow, frozen=True):
    """How far at most a landing reaches along the wall, and how thick it is [in]."""

    most: float
    thick: float
    source: str


class Newel(TableRow, frozen=True):
    """The post at the foot of a flight: the side of its square and its height [in]."""

    side: float
    height: float
    source: str


class HandrailRule(TableRow, frozen=True):
    """Heights of a handrail's top above the nosings, its own thickness, and what is kept clear behind it [in]."""

    lowest: float
    highest: float
    thick: float
    clear: float
    source: str


class StepRule(TableRow, frozen=True):
    """The highest rise and the least run of a step, and the bounds of a run and two rises [in]."""

    highest_rise: float
    least_run: float
    least_sum: float
    most_sum: float
    source: str


class Rake(Protocol):
    """A flight by the rise of one step [in] and its rake from level [degrees]."""

    @property
    def rise(self) -> float: ...
    @property
    def angle(self) -> float: ...


class StairRules(TableRow, frozen=True):
    """Stairs along a wall."""

    skirt: Skirt
    rail: RakingRail
    tread: Tread
    string: OpenString
    under: Under
    landing: LandingReach
    newel: Newel
    handrail: HandrailRule
    steps: StepRule

    def depth(self, flight: Rake) -> float:
        """How far the underside of a flight lies below its nosings, plumb [in]."""
        return flight.rise + self.string.width / cos(radians(flight.angle))
