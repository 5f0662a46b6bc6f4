"""The trim beside a flight that runs against a wall: skirt, raking rail, raked wainscot, and the landing's.

All lengths are inches. What is worked out along a flight is a walk up it: 0 at the face of its first riser, rising to
the right; `on_wall` turns it into places on the wall.
"""

from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache
from math import cos, hypot, radians, tan
from typing import NamedTuple

from planner.house.model import Flight, House
from planner.library import Library
from planner.library.fixture_rows import StairRules
from planner.trim.packages import Element, Package
from planner.walls.parts import Part
from planner.walls.solids import TOUCH, Point, Solid, gaps, polygon

SKIRTED = ("base", "shoe")
"""What turns into the skirt at a flight."""

RAILS = ("chair rail", "plate rail")
"""What rakes beside a flight."""

LEVEL_FLOOR = 1.0
"""A landing nearer than this to a flight's foot [in] is the one that it starts from."""


class Line(NamedTuple):
    """A moulding that turns from level up the rake and back to level, by its upper edge.

    Parameters
    ----------
    start, end : where its upper edge leaves the lower level and reaches the upper, along the flight. [in]
    low, high : its upper edge on the lower and on the upper level, above the floor. [in]
    size : its height, square to its run. [in]
    lean : how much farther along its lower edge turns than its upper one: the mitre halves the rake. [in]
    above : its upper edge where it rakes, plumb above the nosings. [in]
    plumb : its height where it rakes, measured plumb. [in]
    """

    start: float
    end: float
    low: float
    high: float
    size: float
    lean: float
    above: float
    plumb: float

    @property
    def under_start(self) -> Point:
        """Where its lower edge leaves the lower level [in]."""
        return self.start + self.lean, self.low - self.size

    @property
    def under_end(self) -> Point:
        """Where its lower edge reaches the upper level [in]."""
        return self.end + self.lean, self.high - self.size


def flights(house: House) -> Mapping[tuple[str, str], tuple[Flight, ...]]:
    """The flights against each wall, by room and wall, the lowest first; one of which no step stands on its wall is
    against none."""
    return _flights(house) if house.flights else {}


@lru_cache(maxsize=32)
def _flights(house: House) -> Mapping[tuple[str, str], tuple[Flight, ...]]:
    found: dict[tuple[str, str], tuple[Flight, ...]] = {}
    for flight in sorted(house.flights, key=lambda f: (f.foot, f.name)):
        room = house.by_name.get(flight.room)
        wall = room.wall(flight.wall) if room is not None else None
        low, high = sorted((flight.offset, flight.end))
        if wall is not None and min(high, wall.length) - max(low, 0.0) >= flight.run - TOUCH:
            found[flight.room, wall.name] = (*found.get((flight.room, wall.name), ()), flight)
    return found


def on_wall(flight: Flight, point: Point) -> Point:
    """A place along a flight as one along its wall [in]."""
    way = 1 if flight.up == "right" else -1
    return flight.offset + way * point[0], point[1]


def nosing(flight: Flight, along: float) -> float:
    """Height above the floor of the line through the nosings, at a place along the flight [in].

    >>> nosing(Flight("Main", "Hall", "N", 24.0, "right", 4, 7.5, 10.0), 10.0)
    15.0
    """
    return flight.foot + flight.rise * (along / flight.run + 1)


def turned(flight: Flight, top: float, above: float, size: float) -> Line:
    """A moulding that is level before and after a flight, and parallel to its nosings beside it.

    Parameters
    ----------
    top : its upper edge where it is level, above the floor or landing below it. [in]
    above : its upper edge where it rakes, plumb above the nosings. [in]
    size : its height, square to its run. [in]

    Notes
    -----
    The upper edges meet where the nosing line and what is above it are as high as the level edge; at a landing so many
    risers higher the same triangle stands again. A mitre that halves the angle between two runs of one section turns
    from plumb by half the rake.

    Examples
    --------
    >>> line = turned(Flight("Main", "Hall", "N", 24.0, "right", 4, 7.5, 10.0), 30.0, 30.0, 3.0)
    >>> line.start, line.end, line.low, line.high, round(line.lean, 6)
    (-10.0, 30.0, 30.0, 60.0, 1.0)
    """
    start = flight.run * ((top - above) / flight.rise - 1)
    end = start + flight.risers * flight.run
    lean = size * tan(radians(flight.angle) / 2)
    low, plumb = flight.foot + top, size / cos(radians(flight.angle))
    return Line(start, end, low, low + flight.height, size, lean, above, plumb)


class Beside(NamedTuple):
    """The trim of a package beside a flight.

    Parameters
    ----------
    flight, package, rules : whose trim it is, and the rules of stairs.
    skirt : the skirt's upper edge; its size is the base's, which turns into it.
    rail : the raking rail, None where the package has none.
    capped : the element that rakes as a rail.
    landing : whether the flight reaches a landing below the ceiling.
    """

    flight: Flight
    package: Package
    rules: StairRules
    skirt: Line
    rail: Line | None
    capped: Element | None
    landing: bool

    @property
    def floor(self) -> float:
        """Height of what the flight leads to above the room's floor [in]."""
        return self.flight.foot + self.flight.height

    def reach(self, element: str, y0: float, y1: float) -> tuple[float, float]:
        """From where to where along the flight it takes the place of a level element between two heights [in].

        A flight that stands on the floor is closed below where nobody can walk. Where nothing is taken the end is not
        beyond the start.
        """
        on_floor, low = self.flight.foot <= TOUCH, y1
        if on_floor:
            low = max(y1, self.rules.under.headroom)
        end = self.flight.length
        if self.skirt.high - skirt_width(self) / cos(radians(self.flight.angle)) < self.package.ceiling:
            end = max(end, *(line.under_end[0] for line in (self.skirt, self.rail) if line is not None))
        else:
            end = max(end, self._under_skirt(self.package.ceiling))
        return self._start(element, y0, on_floor), min(end, max(self.clears(low), self._under_skirt(low)))

    def _under_skirt(self, height: float) -> float:
        """Where along the flight the lower edge of its skirt is as high as that above the floor [in]."""
        flight, wide = self.flight, skirt_width(self) / cos(radians(self.flight.angle))
        return flight.run * ((height + wide - self.skirt.above - flight.foot) / flight.rise - 1)

    def clears(self, height: float) -> float:
        """Where along the flight its underside is as high as that above the floor [in]."""
        flight = self.flight
        return flight.run * ((height + self.rules.depth(flight) - flight.foot) / flight.rise - 1)

    def _start(self, element: str, y0: float, on_floor: bool) -> float:
        """Where along the flight a level element of the room ends: in the mitre where it is what turns up the rake."""
        if on_floor and element in SKIRTED:
            return self.skirt.under_start[0]
        if on_floor and element in RAILS and self.rail is not None:
            return self.rail.under_start[0]
        if on_floor and element == "wainscot":
            return self.dado_start
        top = self.rail or self.skirt
        return top.start + max(0.0, y0 - top.low) * self.flight.run / self.flight.rise

    @property
    def dado_start(self) -> float:
        """Where along the flight a level wainscot ends [in]."""
        return min(self.skirt.start, self.rail.under_start[0] if self.rail else self.skirt.start)

    @property
    def dado_end(self) -> float:
        """Where along the flight the landing's wainscot begins [in]."""
        return max(self.skirt.end, self.rail.under_end[0] if self.rail else self.skirt.end)


def beside(flight: Flight, package: Package, rail_top: float | None, rail: Element | None, library: Library) -> Beside:
    """The trim beside a flight.

    Parameters
    ----------
    flight : against which wall, and where.
    package : the room's trim.
    rail_top : top of its level rail above the floor, None where it has none. [in]
    rail : that rail.
    library : the rules of stairs.
    """
    rules, base = library.stairs, package.element("base")
    skirt = turned(flight, base.size if base is not None else 0.0, rules.skirt.above, base.size if base else 0.0)
    raking = None
    if rail is not None and rail_top is not None:
        bounds = rules.rail
        above = min(max(rail_top, bounds.lowest), bounds.highest) if rail.element == "chair rail" else rail_top
        raking = turned(flight, rail_top, above, rail.size)
    lands = flight.foot + flight.height + skirt.size < package.ceiling - TOUCH
    return Beside(flight, package, rules, skirt, raking, rail, lands)


def raked(one: Beside) -> Iterator[Solid]:
    """Skirt and raking rail."""
    flight, base = one.flight, one.package.element("base")
    stands = base.projection if base is not None else one.rules.skirt.projection
    yield polygon(Part.SKIRT, "base", placed(flight, tuple(dict.fromkeys(skirt_corners(one)))), stands)._replace(
        form="skirt board"
    )
    if one.rail is None or one.capped is None:
        return
    line = one.rail
    corners = ((line.start, line.low), line.under_start, line.under_end, (line.end, line.high))
    yield polygon(Part.RAKING_RAIL, one.capped.element, placed(flight, corners), one.capped.projection)


def skirt_corners(one: Beside) -> tuple[Point, ...]:
    """The corners of a skirt along its flight [in]: its upper edge at both ends of the walk round it.

    It is mitred into the base at its foot and stands on the floor; its lower edge is behind the steps.
    """
    flight, line = one.flight, one.skirt
    slope, plumb = flight.rise / flight.run, skirt_width(one) / cos(radians(flight.angle))
    on_floor = line.start + max((plumb - line.size) / slope, line.lean)
    x, y = line.under_end
    low = line.high + (x - line.end) * slope - plumb
    return (
        (line.start, line.low), line.under_start, (on_floor, flight.foot), (x, min(low, y)), (x, y),
        (line.end, line.high),
    )  # fmt: skip


def skirt_width(one: Beside) -> float:
    """Width of the board that a skirt is cut from, square to the rake [in]; it covers the foot of each riser."""
    flight, rule = one.flight, one.rules.skirt
    return max(rule.width, one.skirt.size, (flight.rise + rule.above) * cos(radians(flight.angle)))


class Landing(NamedTuple):
    """A level floor that a flight leads to or starts from.

    Parameters
    ----------
    floor, top : its height above the room's floor, and that of what stands on it: the rail's, or the base's. [in]
    far : its other end, along the flight. [in]
    upper : whether the flight leads to it.
    onward : the flight that goes on from there the same way, None where there is none.
    """

    floor: float
    top: float
    far: float
    upper: bool
    onward: Beside | None = None


def landings(one: Beside, others: Sequence[Beside], length: float) -> list[Landing]:
    """The landings at both ends of a flight, as far as they lie before its wall.

    Parameters
    ----------
    one, others : the flight, and all on its wall.
    length : of the wall. [in]

    Notes
    -----
    A landing reaches to the wall's end where that is near, else as far as library/stairs.toml has it.
    """
    flight, most, found = one.flight, one.rules.landing.most, []
    before, beyond = -flight.offset, length - flight.offset
    if flight.up == "left":
        before, beyond = -beyond, -before
    high = (one.rail or one.skirt).low - flight.foot
    if one.landing:
        onward = next((o for o in others if _follows(one, o)), None)
        far = min(beyond, flight.length + most)
        found.append(Landing(one.floor, one.floor + high, far, upper=True, onward=onward))
    if flight.foot > TOUCH and not any(_follows(o, one) for o in others):
        found.append(Landing(flight.foot, flight.foot + high, max(before, -most), upper=False))
    return found


def underside(one: Beside, landing: Landing) -> float:
    """The underside of a landing above the room's floor [in]; 0 where it is too low to walk under, and closed."""
    low = landing.floor - one.rules.landing.thick
    return 0.0 if low < one.rules.under.headroom else low


def taken(standing: Sequence[Beside], length: float, element: str, y0: float, y1: float) -> list[tuple[float, float]]:
    """What flights against a wall and their landings take of a level element between two heights [in]."""
    found = []
    for one in standing:
        flight = one.flight
        walks = [one.reach(element, y0, y1)]
        for landing in landings(one, standing, length):
            if y0 < landing.top - TOUCH and y1 > underside(one, landing) + TOUCH:
                near = flight.length if landing.upper else 0.0
                walks.append((min(near, landing.far), max(near, landing.far)))
        for start, end in walks:
            if end > start:
                x0, x1 = sorted(on_wall(flight, (along, 0.0))[0] for along in (start, end))
                found.append((x0, x1))
    return found


def level_trim(one: Beside, landing: Landing, blocked: Sequence[tuple[float, float]]) -> Iterator[Solid]:
    """Base, shoe and rail of a landing, mitred where they leave the rake or turn up it.

    Parameters
    ----------
    one : the flight.
    landing : one of its landings.
    blocked : what openings take of the wall there. [in]
    """
    package, floor = one.package, landing.floor
    base, shoe = package.element("base"), package.element("shoe")
    if base is not None:
        for corners in _level(one, landing, one.skirt, landing.onward and landing.onward.skirt, blocked):
            board = polygon(Part.BASE, "base", corners, base.projection)
            yield board
            if shoe is not None:
                stands, high = base.projection + shoe.projection, floor + shoe.size
                yield Solid(Part.SHOE, "shoe", board.x0, board.x1, floor, high, stands, on="base")
    if one.rail is not None and one.capped is not None:
        for corners in _level(one, landing, one.rail, landing.onward and landing.onward.rail, blocked):
            yield polygon(Part(one.capped.element), one.capped.element, corners, one.capped.projection)


def level_dado(one: Beside, landing: Landing) -> tuple[float, float]:
    """From where to where along the wall a landing has a level wainscot [in]."""
    if landing.upper:
        onward = landing.onward
        end = onward.dado_start + _ahead(one, onward) if onward is not None else landing.far
        ends = (one.dado_end, max(end, one.dado_end))
    else:
        ends = (min(landing.far, one.dado_start), one.dado_start)
    x0, x1 = sorted(on_wall(one.flight, (along, 0.0))[0] for along in ends)
    return x0, x1


def _level(
    one: Beside, landing: Landing, line: Line, onward: Line | None, blocked: Sequence[tuple[float, float]]
) -> Iterator[tuple[Point, ...]]:
    """A level moulding on a landing as corners on the wall [in]."""
    flight, way = one.flight, 1 if one.flight.up == "right" else -1
    high = line.high if landing.upper else line.low
    start, end = ((line.end, line.under_end[0]), (landing.far,) * 2)
    if not landing.upper:
        start, end = (landing.far,) * 2, (line.start, line.under_start[0])
    elif onward is not None and landing.onward is not None:
        by = _ahead(one, landing.onward)
        end = onward.start + by, onward.under_start[0] + by
    taken = [sorted(((a - flight.offset) * way, (b - flight.offset) * way)) for a, b in blocked]
    for a, b in gaps(min(start), max(end), [(a, b) for a, b in taken]):
        near = start if a <= max(start) else (a, a)
        far = end if b >= min(end) else (b, b)
        if min(far[0] - near[0], far[1] - near[1]) > TOUCH:
            yield placed(
                flight, ((near[0], high), (near[1], high - line.size), (far[1], high - line.size), (far[0], high))
            )


def _follows(one: Beside, other: Beside) -> bool:
    """Whether a flight goes on the same way from the landing that another leads to."""
    same_way = other.flight.up == one.flight.up and abs(other.flight.foot - one.floor) <= LEVEL_FLOOR
    return one.landing and same_way and _ahead(one, other) >= one.flight.length


def _ahead(one: Beside, other: Beside) -> float:
    """How far the first riser of another flight lies from that of one, along it [in]."""
    return (other.flight.offset - one.flight.offset) * (1 if one.flight.up == "right" else -1)


def ended(solid: Solid, standing: Sequence[Beside]) -> Solid | None:
    """A level moulding mitred where it turns up a flight, any other as it is; None for a sliver before the mitre."""
    for one in standing:
        line = one.skirt if solid.part is Part.BASE else one.rail if solid.element in RAILS else None
        if line is None or abs(line.low - solid.y1) > TOUCH:
            continue
        (top, _), (under, _) = on_wall(one.flight, (line.start, 0.0)), on_wall(one.flight, line.under_start)
        low, high = solid.y0, solid.y1
        if one.flight.up == "right" and abs(solid.x1 - under) <= TOUCH:
            turned_up = solid.shaped(((solid.x0, high), (solid.x0, low), (under, low), (top, high)))
            return turned_up if top - solid.x0 > TOUCH else None
        if one.flight.up == "left" and abs(solid.x0 - under) <= TOUCH:
            turned_up = solid.shaped(((top, high), (under, low), (solid.x1, low), (solid.x1, high)))
            return turned_up if solid.x1 - top > TOUCH else None
    return solid


def along_rake(solid: Solid) -> tuple[float, float]:
    """Length of what runs up beside a flight, from long point to long point, and its width square to the rake [in]."""
    (ax, ay), (bx, by) = solid.outline[0], solid.outline[-1]
    long = hypot(bx - ax, by - ay)
    ux, uy = (bx - ax) / long, (by - ay) / long
    along = [x * ux + y * uy for x, y in solid.outline]
    across = [x * uy - y * ux for x, y in solid.outline]
    return max(along) - min(along), max(across) - min(across)


def placed(flight: Flight, corners: Sequence[Point]) -> tuple[Point, ...]:
    """Corners along a flight as corners on its wall, from the upper left one on, counter-clockwise."""
    found = [on_wall(flight, corner) for corner in corners]
    return tuple(found if flight.up == "right" else reversed(found))
