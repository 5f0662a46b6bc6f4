"""A house as facts: rooms, openings and ceiling heights. Nobody's opinion is in it.

All lengths are inches. North is +y; a plan is seen from above.
"""

from dataclasses import dataclass
from functools import cached_property
from math import atan2, degrees, pi
from typing import Literal

from planner.units import Unit
from planner.values import Kept, immutabledict

OUTSIDE = "outside"

WALL_OPENINGS = ("window", "fireplace")
"""Kinds of opening that lead nowhere; every other kind is a passage of the library's passages."""

Point = tuple[float, float]


COMPASS = ("north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west")
"""The points of the compass, clockwise; the plans of a house have north at their head."""


@dataclass(frozen=True)
class Wall:
    """One straight wall of a room, seen from inside it.

    Parameters
    ----------
    name : "N", "E", "S" or "W" for a rectangular room, else the number of the outline's edge.
    left, right : its ends on the plan [in], left and right as seen from inside the room.
    """

    name: str
    left: Point
    right: Point

    @cached_property
    def length(self) -> float:
        """Length of the wall [in]."""
        return float(((self.right[0] - self.left[0]) ** 2 + (self.right[1] - self.left[1]) ** 2) ** 0.5)

    @property
    def side(self) -> str:
        """On which side of the room it stands, by the nearest of eight points of the compass.

        >>> Wall("5", (0.0, 10.0), (0.0, 4.0)).side, Wall("3", (0.0, 0.0), (3.0, 3.0)).side
        ('east', 'north-west')
        """
        along, up = self.right[0] - self.left[0], self.right[1] - self.left[1]
        return COMPASS[round(atan2(-up, along) / (pi / 4)) % len(COMPASS)]


@dataclass(frozen=True)
class Room:
    """A room. `outline` is its plan [in], empty where only length by width is known."""

    name: str
    level: str
    use: str
    length: float
    width: float
    ceiling: float
    outline: tuple[Point, ...] = ()
    notes: str = ""

    @cached_property
    def corners(self) -> tuple[Point, ...]:
        """The plan's corners [in], clockwise seen from above; length runs along x where no outline is given."""
        if not self.outline:
            return ((0.0, self.width), (self.length, self.width), (self.length, 0.0), (0.0, 0.0))
        return self.outline if _twice_area(self.outline) < 0 else self.outline[::-1]

    @cached_property
    def area(self) -> float:
        """Floor area [sq in]."""
        return abs(_twice_area(self.corners)) / 2

    @cached_property
    def perimeter(self) -> float:
        """Total length of the walls [in]."""
        return sum(wall.length for wall in self.walls)

    @cached_property
    def is_rectangular(self) -> bool:
        """Whether the plan is a rectangle square to the compass."""
        xs, ys = {x for x, _ in self.corners}, {y for _, y in self.corners}
        return len(self.corners) == 4 and len(xs) == 2 and len(ys) == 2

    @cached_property
    def walls(self) -> tuple[Wall, ...]:
        """The walls, clockwise. In a rectangular room they are named by the compass, else by the outline's edges."""
        corners = self.corners
        pairs = list(zip(corners, corners[1:] + corners[:1], strict=True))
        if self.is_rectangular:
            return tuple(Wall(_facing(left, right), left, right) for left, right in pairs)
        count = len(pairs)
        reversed_ = corners != self.outline
        numbers = [((count - 2 - i) % count if reversed_ else i) + 1 for i in range(count)]
        return tuple(Wall(str(number), left, right) for number, (left, right) in zip(numbers, pairs, strict=True))

    def wall(self, name: str) -> Wall | None:
        """The wall of that name, or None; a rectangular room with an outline also answers to edge numbers."""
        for wall in self.walls:
            if wall.name == name:
                return wall
        if self.is_rectangular and self.outline and name in ("1", "2", "3", "4"):
            start, end = self.outline[int(name) - 1], self.outline[int(name) % 4]
            return next(w for w in self.walls if {w.left, w.right} == {start, end})
        return None


@dataclass(frozen=True)
class Opening:
    """A door, window, fireplace, stair or gap in a wall of `room`.

    `other` is the room on its far side, OUTSIDE, or "". `offset` is from the wall's left end, seen from inside
    `room`, to the left jamb [in], or None where it is to be centred or spaced evenly. `height` is the head above
    the floor [in]; `sill` is for windows [in]. `leaf` is what kind of leaf a door has ("six panels"), `lights` how many
    lights the upper and the lower sash of a window ("6/6"); blank where they are as the period has them.
    """

    name: str
    kind: str
    room: str
    other: str = ""
    wall: str = ""
    offset: float | None = None
    width: float | None = None
    height: float | None = None
    sill: float | None = None
    leaf: str = ""
    lights: str = ""


WHOLE_ROOM = "all"
"""The element of trim that stays where a room is kept whole."""


@dataclass(frozen=True)
class Existing:
    """Trim that is there and stays, one element of a room, or all of it where `element` is WHOLE_ROOM.

    `height` is its size as the plan counts it: its height on the wall, for a casing its width [in]. `bottom` is its
    lower edge above the floor [in], None where it stands where such an element stands; `projection` is from the wall
    [in], None where it is not known. `profile` is the code or the name that it goes by.
    Where `form` is NO_FORM there is none of the element, and none is to come.
    """

    room: str
    element: str
    form: str = ""
    height: float | None = None
    projection: float | None = None
    bottom: float | None = None
    profile: str = ""
    notes: str = ""


@dataclass(frozen=True)
class Fixture:
    """What stands or hangs on a wall of a room besides openings: a counter, a cabinet, a tub, a radiator.

    `kind` is a row of library/fixtures.toml. `offset` is from the wall's left end, seen from inside the room, to its
    left side; `bottom` and `top` are above the floor, of a handrail beside a flight above the nosings; `depth` is how
    far it stands off the wall [in].
    """

    name: str
    kind: str
    room: str
    wall: str
    offset: float
    width: float
    bottom: float
    top: float
    depth: float
    notes: str = ""

    @property
    def right(self) -> float:
        """From the wall's left end to its right side [in]."""
        return self.offset + self.width


@dataclass(frozen=True)
class Flight:
    """A flight of stairs that runs against a wall of a room.

    `offset` is from the wall's left end, seen from inside the room, to the face of the first riser; `up` says to which
    side it rises. `rise` and `run` are of one step, `foot` is the height of the floor or landing that it starts from
    above the room's floor [in]. A flight of n risers has n - 1 treads.
    """

    name: str
    room: str
    wall: str
    offset: float
    up: Literal["left", "right"]
    risers: int
    rise: float
    run: float
    foot: float = 0.0
    notes: str = ""

    @property
    def height(self) -> float:
        """From the floor or landing that it starts from to the one that it leads to [in]."""
        return self.risers * self.rise

    @property
    def length(self) -> float:
        """Along the wall from the first riser to the last [in]."""
        return (self.risers - 1) * self.run

    @property
    def end(self) -> float:
        """From the wall's left end to the face of the last riser [in]."""
        return self.offset + (self.length if self.up == "right" else -self.length)

    @property
    def angle(self) -> float:
        """The rake, from level [degrees].

        >>> round(Flight("Main", "Hall", "N", 24.0, "right", 4, 7.5, 10.0).angle, 2)
        36.87
        """
        return degrees(atan2(self.rise, self.run))


NO_ALLOWANCES: immutabledict[str, float | tuple[float, ...]] = immutabledict()
"""What a house says of allowances that says nothing of them."""


@dataclass(frozen=True)
class OwnRate:
    """What a house says of a rate of library/rates.toml, by its name, in `unit`, that of the library where it is blank.

    `low` and `high` are the 10th and the 90th percentile of what it may be. What is None is as the library has it.
    A rate that is not `confirmed` is an assumption.
    """

    name: str
    value: float | None = None
    low: float | None = None
    high: float | None = None
    unit: str = ""
    confirmed: bool = False
    notes: str = ""


@dataclass(frozen=True)
class House(Kept):
    """A whole house; `entries[0]` is the room where guests arrive, the others are family or service entries.

    `existing` is the trim that is there and stays, `fixtures` what else stands on walls, `flights` the stairs that run
    against them, `rates` what it says of costs itself. An `order` left blank follows the style; `canon` says by what
    crowns are sized, the order or a canon for rooms. `takeoff` is what the house says of allowances for cutting, by
    name, and under LENGTHS of lengths that are sold [in], where that is other than as library/takeoff.toml has it.
    """

    name: str
    entries: tuple[str, ...]
    rooms: tuple[Room, ...]
    openings: tuple[Opening, ...]
    unit: Unit = "in"
    style: str = "georgian"
    order: str = ""
    grade: str = "house"
    year_built: int | None = None
    currency: str = "USD"
    canon: str = "order"
    existing: tuple[Existing, ...] = ()
    fixtures: tuple[Fixture, ...] = ()
    flights: tuple[Flight, ...] = ()
    rates: tuple[OwnRate, ...] = ()
    takeoff: immutabledict[str, float | tuple[float, ...]] = NO_ALLOWANCES

    __hash__ = Kept.__hash__

    @cached_property
    def by_name(self) -> immutabledict[str, Room]:
        """Rooms by name."""
        return immutabledict({room.name: room for room in self.rooms})

    @cached_property
    def own_rates(self) -> immutabledict[str, OwnRate]:
        """What it says of costs itself, by the rate's name."""
        return immutabledict({rate.name: rate for rate in self.rates})

    @cached_property
    def openings_of(self) -> immutabledict[str, tuple[Opening, ...]]:
        """The openings on either side of which each room lies, in their order, by the rooms that have any."""
        found: dict[str, list[Opening]] = {}
        for opening in self.openings:
            for room in dict.fromkeys((opening.room, opening.other)):
                found.setdefault(room, []).append(opening)
        return immutabledict({room: tuple(openings) for room, openings in found.items()})

    @cached_property
    def fixtures_of(self) -> immutabledict[str, tuple[Fixture, ...]]:
        """What stands on the walls of each room besides openings, in its order, by the rooms that have any."""
        found: dict[str, list[Fixture]] = {}
        for fixture in self.fixtures:
            found.setdefault(fixture.room, []).append(fixture)
        return immutabledict({room: tuple(fixtures) for room, fixtures in found.items()})

    @cached_property
    def stays(self) -> immutabledict[str, tuple[Existing, ...]]:
        """The trim that stays, by the rooms that have any."""
        found: dict[str, tuple[Existing, ...]] = {}
        for row in self.existing:
            found[row.room] = (*found.get(row.room, ()), row)
        return immutabledict(found)

    @cached_property
    def levels(self) -> tuple[str, ...]:
        """Levels in the order of their first room."""
        return tuple(dict.fromkeys(room.level for room in self.rooms))


def _twice_area(points: tuple[Point, ...]) -> float:
    """Twice the signed area of a polygon, positive counter-clockwise."""
    return sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(points, points[1:] + points[:1], strict=True))


def _facing(left: Point, right: Point) -> str:
    """Compass name of a wall of a clockwise rectangle."""
    dx, dy = right[0] - left[0], right[1] - left[1]
    if abs(dx) > abs(dy):
        return "N" if dx > 0 else "S"
    return "E" if dy < 0 else "W"
