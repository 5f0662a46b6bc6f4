"""Every wall of a room laid out: what stands where on it. All lengths are inches."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence, Set
from dataclasses import dataclass, field, replace
from functools import lru_cache
from itertools import chain, pairwise
from typing import ClassVar, NamedTuple, TypeVar

from planner.house.model import House, Room
from planner.house.placements import placements
from planner.library import Library
from planner.library.shop_rows import Panels
from planner.mouldings.assembly import Placed
from planner.trim.packages import Element, Package
from planner.trim.sections import sections
from planner.units import Unit
from planner.values import Kept, immutabledict
from planner.walls import fixtures, heads, picture_rails, stairs, wainscot
from planner.walls.corners import corners
from planner.walls.fixtures import Obstacle, obstacles
from planner.walls.half_turns import HalfTurn, Side, half_turn, reaching
from planner.walls.leaves import Pane
from planner.walls.openings import UNCASED, Aperture, Surround, surround
from planner.walls.parts import Part
from planner.walls.raked import raked_wainscot
from planner.walls.solids import TOUCH, Solid, clipped, gaps
from planner.walls.stairs import Beside, beside, flights, landings
from planner.walls.wainscot import spans

Sections = immutabledict[str, tuple[Placed, ...]]
"""The profiles that each element of a package is drawn with, by element."""


@dataclass(frozen=True)
class WallLayout(Kept):
    """One wall with its trim, seen from inside the room.

    Parameters
    ----------
    room, wall : its names.
    length, ceiling : of the wall. [in]
    package : the room's trim.
    surrounds : what stands round each opening, unclipped, from left to right.
    solids : all that stands on the wall, none of it beyond the wall's edges.
    rail_top : top of the chair or plate rail above the floor, None where there is none. [in]
    picture_rail : lower edge of the picture rail above the floor, None where there is none. [in]
    corners : the angles at its left and right ends, measured inside the room, below 180 for an inside corner; None
        where the wall is cut off. [degrees]
    sections : the profiles of each element of the package that has a section, by element.
    own : the same at each opening that has trim of its own, by the opening's name.
    obstacles : the fixtures before it, from left to right, with the ends of those in its corners.
    stairs : the flights that run against it, the lowest first, with the trim beside them.
    half_turn : the landing along the whole of it between flights on the walls beside it, None where there is none.
    """

    room: str
    wall: str
    length: float
    ceiling: float
    package: Package
    surrounds: tuple[Surround, ...] = ()
    solids: tuple[Solid, ...] = ()
    rail_top: float | None = None
    picture_rail: float | None = None
    corners: tuple[float | None, float | None] = (90.0, 90.0)
    sections: Sections = field(default_factory=immutabledict)
    own: immutabledict[str, Sections] = field(default_factory=immutabledict)
    obstacles: tuple[Obstacle, ...] = ()
    stairs: tuple[Beside, ...] = ()
    half_turn: HalfTurn | None = None

    KEY: ClassVar[tuple[str, ...]] = ("room", "wall", "length", "package")
    __hash__ = Kept.__hash__

    @property
    def unit(self) -> Unit:
        """Of the house, which its lengths are written in."""
        return self.package.unit

    @property
    def apertures(self) -> tuple[Aperture, ...]:
        """The openings in the wall from left to right."""
        return tuple(s.aperture for s in self.surrounds)

    def sections_at(self, opening: str) -> Sections:
        """The profiles of each element as it is at an opening, by its name; blank for what runs along the wall."""
        return self.own.get(opening, self.sections)

    @property
    def floors(self) -> tuple[float, ...]:
        """The floors that trim stands on, the room's own first and then those of landings [in]."""
        turn = (self.half_turn.floor,) if self.half_turn is not None else ()
        return 0.0, *turn, *(on.floor for up in self.stairs for on in landings(up, self.stairs, self.length))

    def floor_at(self, *, at_right: bool) -> float:
        """The floor in its left or right corner above the room's own [in], where a landing lies in it."""
        if self.half_turn is not None:
            return self.half_turn.floor
        corner = self.length if at_right else 0.0
        return next((on.floor for _, on in reaching(Side(self.stairs, self.length), corner)), 0.0)

    @property
    def inside(self) -> tuple[bool, bool]:
        """Whether the corners at its left and right ends are inside corners, where the next wall comes forward."""
        left, right = (angle is not None and angle < 180 for angle in self.corners)
        return left, right


def lay_out(house: House, room: Room | str, package: Package, library: Library) -> tuple[WallLayout, ...]:
    """Every wall of a room with the trim of a package on it; kept, so that a room is laid out once.

    Parameters
    ----------
    house : the house, whose windows set the height of the chair rail.
    room : the room or its name.
    package : its trim.
    library : what the trade knows.

    Returns
    -------
    One layout for each wall, clockwise.
    """
    return _walls(house, room if isinstance(room, str) else room.name, package, library)


@lru_cache(maxsize=1024)
def _walls(house: House, name: str, package: Package, library: Library) -> tuple[WallLayout, ...]:
    """As `lay_out`, kept: the one store of laid-out rooms."""
    room = house.by_name[name]
    openings, rail = apertures(house, room, library), rail_top(house, package, library)
    angles, before, up = corners(room), obstacles(house, room, library), flights(house)
    around = {
        wall.name: tuple(surround(a, package, library, rail) for a in openings.get(wall.name, ()))
        for wall in room.walls
    }
    picture = picture_rails.bottom(package, chain.from_iterable(around.values()), library)
    steps = [
        Side(
            tuple(beside(f, package, rail, rail_of(package), library) for f in up.get((name, wall.name), ())),
            wall.length,
        )
        for wall in room.walls
    ]
    drawn = sections(railed(package, rail), library)
    drawn_at = immutabledict({opening: sections(own, library) for opening, own in package.own.items()})
    found = []
    for i, (wall, ends) in enumerate(zip(room.walls, pairwise((*angles, angles[0])), strict=True)):
        surrounds, turn = around[wall.name], half_turn(steps[i - 1], steps[(i + 1) % len(steps)]) if up else None
        way = _Way(wall.length, surrounds, before.get(wall.name, ()), tuple(steps[i].stairs), turn)
        found.append(
            WallLayout(
                room=room.name,
                wall=wall.name,
                length=wall.length,
                ceiling=room.ceiling,
                package=package,
                surrounds=surrounds,
                solids=_solids(way, room.ceiling, package, (rail, picture), library),
                rail_top=rail,
                picture_rail=picture,
                corners=ends,
                sections=drawn,
                own=drawn_at,
                obstacles=way.obstacles,
                stairs=way.stairs,
                half_turn=turn,
            )
        )
    return tuple(found)


def railed(package: Package, rail: float | None) -> Package:
    """The package, its wainscot as high as the rail that caps it stands in the room [in]."""
    wainscot = package.element("wainscot")
    if wainscot is None or rail is None or wainscot.size == rail:
        return package
    return replace(package, elements=tuple(replace(e, size=rail) if e is wainscot else e for e in package.elements))


def standing(layouts: Sequence[WallLayout]) -> Package:
    """The one package of some rooms as high as it stands on their walls: its rail at the stools, what that caps up to
    it, wall panels from there, its picture rail on or above the heads; where that has several heights it has none."""
    return stood(layouts[0].package, layouts[0].rail_top, {wall.picture_rail for wall in layouts})


def stood(package: Package, rail_top: float | None, pictures: Set[float | None]) -> Package:
    """A package as high as it stands, its rail with its top at `rail_top` and its picture rail at one of `pictures`
    [in], as `standing` has them; where no wall tells of a picture rail, it is where the package has it by itself."""
    rail, raised = rail_of(package), _raised(package, rail_top)

    def moved(element: Element) -> Element:
        if element.bottom is None:
            return element
        if element is rail:
            return replace(element, bottom=element.bottom + raised)
        if element.element == "wall panels":
            return replace(element, bottom=element.bottom + raised, size=element.size - raised)
        if element.element == "picture rail" and pictures:
            return replace(element, bottom=next(iter(pictures)) if len(pictures) == 1 else None)
        return element

    return replace(package, elements=tuple(map(moved, railed(package, rail_top).elements)))


def apertures(house: House, room: Room, library: Library) -> Mapping[str, tuple[Aperture, ...]]:
    """The openings on each wall of a room, from left to right."""
    return _apertures(house, library).get(room.name, immutabledict())


@lru_cache(maxsize=32)
def _apertures(house: House, library: Library) -> Mapping[str, Mapping[str, tuple[Aperture, ...]]]:
    """The openings by room and wall."""
    rooms: dict[str, dict[str, tuple[Aperture, ...]]] = {}
    for room, placed in placements(house, library).items():
        walls = rooms.setdefault(room, {})
        for p in sorted(placed, key=lambda p: p.left):
            said = (p.opening.leaf, p.opening.lights)
            a = Aperture(p.opening.name, p.opening.kind, p.left, p.right, p.sill, p.head, p.other, *said)
            walls[p.wall.name] = (*walls.get(p.wall.name, ()), a)
    return rooms


def stretch(layout: WallLayout, x0: float, x1: float) -> WallLayout:
    """The part of a wall between two places along it [in], as a wall of its own."""
    x0, x1 = max(0.0, x0), min(layout.length, x1)
    moved = (_shifted(s, -x0) for s in layout.solids)
    solids = tuple(s for s in (clipped(s, x1 - x0, layout.ceiling) for s in moved) if s is not None)
    surrounds = tuple(
        Surround(
            _within(around.aperture, x0, x1), (), tuple(_within(p, x0, x1) for p in around.filling if _seen(p, x0, x1))
        )
        for around in layout.surrounds
        if _seen(around.aperture, x0, x1)
    )
    left, right = layout.corners
    ends = (left if x0 == 0 else None, right if x1 == layout.length else None)
    before = tuple(o for o in (fixtures.shifted(o, -x0, x1 - x0) for o in layout.obstacles) if o is not None)
    up = tuple(s._replace(flight=replace(s.flight, offset=s.flight.offset - x0)) for s in layout.stairs)
    length = x1 - x0
    return replace(layout, length=length, solids=solids, surrounds=surrounds, corners=ends, obstacles=before, stairs=up)


T = TypeVar("T", Aperture, Pane)


def _seen(one: Aperture | Pane, x0: float, x1: float) -> bool:
    """Whether an opening, or a pane in one, lies in a stretch of wall."""
    return min(one.x1, x1) - max(one.x0, x0) > TOUCH


def _within(one: T, x0: float, x1: float) -> T:
    """An opening, or a pane in one, as much of it as lies in a stretch of wall, from that stretch's left end [in]."""
    return one._replace(x0=max(one.x0, x0) - x0, x1=min(one.x1, x1) - x0)


def _shifted(solid: Solid, by: float) -> Solid:
    """The solid moved along the wall [in]."""
    outline = tuple((x + by, y) for x, y in solid.outline)
    return solid._replace(x0=solid.x0 + by, x1=solid.x1 + by, outline=outline)


def rail_of(package: Package) -> Element | None:
    """The rail that caps the lower wall: a plate rail, else a chair rail, None where the package has neither."""
    return package.element("plate rail") or package.element("chair rail")


def rail_top(house: House, package: Package, library: Library) -> float | None:
    """Top of the rail for a package: one height for a tier and ceiling height, whatever the room.

    Parameters
    ----------
    house : its windows under this ceiling height draw the chair rail to their stools.
    package : whose rail it is.
    library : what the trade knows.

    Returns
    -------
    The stool height that most windows share where it lies within the reach of a chair rail, else the package's own
    rail, and always that of a rail of which the designer says the height; None where the package has no rail. [in]

    References
    ----------
    Common practice: 28 to 32 in, aligned with the window stool where it can be.
    """
    rail = rail_of(package)
    if rail is None or rail.top is None:
        return None
    if rail.placed:
        return rail.top
    dado = library.places.dado
    stools = _stools(house, dado.lowest, dado.highest).get(package.ceiling)
    if rail.element == "plate rail" or not stools:
        return rail.top
    own = rail.top
    return min(stools, key=lambda sill: (-stools[sill], abs(sill - own), sill))


def _raised(package: Package, rail_top: float | None) -> float:
    """By how much the rail stands higher on the walls than the package has it by itself [in]."""
    rail = rail_of(package)
    return rail_top - rail.top if rail_top is not None and rail is not None and rail.top is not None else 0.0


@lru_cache(maxsize=32)
def _stools(house: House, lowest: float, highest: float) -> Mapping[float, Counter[float]]:
    """How many windows have their stool at each height within the reach of a chair rail, by ceiling height [in]."""
    stools: dict[float, Counter[float]] = {}
    for opening in house.openings:
        room = house.by_name.get(opening.room)
        if opening.kind != "window" or opening.sill is None or room is None:
            continue
        if lowest <= opening.sill <= highest:
            stools.setdefault(room.ceiling, Counter())[opening.sill] += 1
    return stools


class _Way(NamedTuple):
    """A wall with what is in the way of the trim that runs along it: openings, fixtures, stairs."""

    length: float
    surrounds: tuple[Surround, ...] = ()
    obstacles: tuple[Obstacle, ...] = ()
    stairs: tuple[Beside, ...] = ()
    half_turn: HalfTurn | None = None

    def upon(self) -> "_Way":
        """The wall as it is above its half-turn landing."""
        return self._replace(stairs=(), half_turn=None)

    def taken(self, element: str, y0: float, y1: float) -> list[tuple[float, float]]:
        """What fixtures and stairs take of an element between two heights [in]."""
        before = fixtures.taken(self.obstacles, element, y0, y1)
        if self.half_turn is not None and self.half_turn.takes(y0, y1):
            before = [*before, (0.0, self.length)]
        return before + stairs.taken(self.stairs, self.length, element, y0, y1)

    def lifted(self, element: str, y0: float, y1: float) -> list[tuple[float, float, float]]:
        """Where an element stands upon fixtures, clear of higher ones: from where to where, and on what height [in]."""
        upon = fixtures.lifted(self.obstacles, element, y0, y1)
        return [(x0, x1, top) for a, b, top in upon for x0, x1 in gaps(a, b, self.taken(element, top, y1))]

    def clear(self, element: str, y0: float, y1: float) -> list[tuple[float, float]]:
        """Where an element finds room to run between two heights [in]."""
        return gaps(0.0, self.length, spans(self.surrounds, y0, y1) + self.taken(element, y0, y1))


Rails = tuple[float | None, float | None]
"""The top of the chair or plate rail and the foot of the picture rail above the floor, None for none [in]."""


def _solids(way: _Way, ceiling: float, package: Package, rails: Rails, library: Library) -> tuple[Solid, ...]:
    """All that stands on a wall, none of it beyond the wall's edges."""
    if way == _Way(way.length):
        return _on_clear_wall(way.length, ceiling, package, rails, library)
    return _clipped(way, ceiling, package, rails, library)


@lru_cache(maxsize=1024)
def _on_clear_wall(
    length: float, ceiling: float, package: Package, rails: Rails, library: Library
) -> tuple[Solid, ...]:
    """What runs along a wall that nothing is in the way on; kept, as walls that face each other are alike."""
    return _clipped(_Way(length), ceiling, package, rails, library)


def _clipped(way: _Way, ceiling: float, package: Package, rails: Rails, library: Library) -> tuple[Solid, ...]:
    standing = _standing(way, ceiling, package, rails, library)
    return tuple(s for s in (clipped(s, way.length, ceiling) for s in standing) if s is not None)


def _standing(way: _Way, ceiling: float, package: Package, rails: Rails, library: Library) -> Iterator[Solid]:
    """What stands round the openings of a wall, what runs between them, and what rises beside its stairs."""
    (rail_top, picture_foot), rule = rails, library.surrounds.panels
    for around in way.surrounds:
        yield from around.solids
    yield from _lower_wall(way, package, rail_top, rule)
    if way.half_turn is not None:
        yield from _lower_wall(way.upon(), package, rail_top, rule, way.half_turn.floor)
    panels = package.element("wall panels")
    if panels is not None and panels.bottom is not None and panels.top is not None:
        yield from _field(way, panels, panels.bottom + _raised(package, rail_top), panels.top, rule)
    if (band := package.element("head band")) is not None:
        over = [s for around in way.surrounds for s in around.solids if s.part is Part.HEAD and s.element == "casing"]
        yield from heads.bands(over, band)
    picture = package.element("picture rail")
    if picture is not None and picture_foot is not None:
        yield from _running(way, picture, picture_foot)
    if (crown := package.element("crown")) is not None:
        yield from _crown(way, ceiling, crown)
    for up in way.stairs:
        yield from stairs.raked(up)
        for landing in stairs.landings(up, way.stairs, way.length):
            yield from stairs.level_trim(up, landing, spans(way.surrounds, landing.floor, landing.top))


def _lower_wall(
    way: _Way, package: Package, rail_top: float | None, rule: Panels, floor: float = 0.0
) -> Iterator[Solid]:
    """Base, rail and the wainscot between them, upon a floor [in]; `rail_top` is above that."""
    base, rail = package.element("base"), rail_of(package)
    if base is not None:
        yield from _base(way, base, package.element("shoe"), floor)
    if rail is not None and rail_top is not None:
        yield from _running(way, rail, floor + rail_top - rail.size)
    if (element := package.element("wainscot")) is not None:
        low = base.size if base is not None else 0.0
        high = rail_top - rail.size if rail is not None and rail_top is not None else element.size
        yield from _dado(way, element, low, high, rule, floor)


def _running(way: _Way, element: Element, bottom: float) -> Iterator[Solid]:
    """An element that runs along the wall from `bottom` [in] up and stops at whatever stands in its way."""
    top, part = bottom + element.size, Part(element.element)
    for x0, x1 in way.clear(element.element, bottom, top):
        level = stairs.ended(Solid(part, element.element, x0, x1, bottom, top, element.projection), way.stairs)
        if level is not None:
            yield level


def _base(way: _Way, base: Element, shoe: Element | None, floor: float) -> Iterator[Solid]:
    """Base, and the shoe in front of it, upon a floor [in]."""
    standing = tuple(_running(way, base, floor))
    yield from standing
    if shoe is not None:
        stands, top = base.projection + shoe.projection, floor + shoe.size
        for s in standing:
            for x0, x1 in gaps(s.x0, s.x1, way.taken("shoe", floor, top)):
                yield Solid(Part.SHOE, "shoe", x0, x1, floor, top, stands, on="base")


def _dado(way: _Way, element: Element, low: float, high: float, rule: Panels, floor: float) -> Iterator[Solid]:
    """The wainscot between base and rail, on a floor and on the landings of flights, so high above them [in]."""
    foot, head = floor + low, floor + high
    taken = way.taken("wainscot", foot, head)
    upon = way.lifted("wainscot", foot, head)
    yield from wainscot.dado(way.length, way.surrounds, element, foot, head, rule, taken)
    yield from wainscot.over(way.length, way.surrounds, element, head, rule, upon)
    for up in way.stairs:
        yield from raked_wainscot(up, element, rule)
        for landing in stairs.landings(up, way.stairs, way.length):
            (x0, x1), bottom, top = stairs.level_dado(up, landing), landing.floor + low, landing.floor + high
            beyond = [(0.0, x0), (x1, way.length), *spans(way.surrounds, bottom, top)]
            yield from wainscot.dado(way.length, (), element, bottom, top, rule, beyond)


def _field(way: _Way, element: Element, low: float, high: float, rule: Panels) -> Iterator[Solid]:
    """Panels on the wall above the rail."""
    taken = way.taken("wall panels", low, high)
    upon = way.lifted("wall panels", low, high)
    yield from wainscot.field(way.length, way.surrounds, element, low, high, rule, taken, upon)


def _crown(way: _Way, ceiling: float, crown: Element) -> Iterator[Solid]:
    """The crown in its parts; it stops only where something goes up into it: an opening without a casing, a cabinet."""
    y = ceiling - crown.size
    breaks = [(s.aperture.x0, s.aperture.x1) for s in way.surrounds if s.aperture.kind in UNCASED and s.top > y]
    breaks += way.taken("crown", y, ceiling)
    parts = crown.parts or ((crown.form, crown.size),)
    for i, (part, height) in enumerate(parts):
        if part != "wall":
            stands = crown.projection if i == len(parts) - 1 else crown.thickness
            for x0, x1 in gaps(0.0, way.length, breaks):
                yield Solid(Part.CROWN, "crown", x0, x1, y, y + height, stands, form=part)
        y += height
