"""Every wall of a room laid out: what stands where on it. All lengths are inches."""

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache

from planner.house.model import House, Room
from planner.house.placements import placements
from planner.library import standard, table
from planner.trim.packages import Element, Package
from planner.walls.openings import UNCASED, Aperture, Meeting, Surround, meeting, surround
from planner.walls.solids import TOUCH, Solid, clipped, gaps

PANEL_SINK = 0.375
"""How far a panel lies behind its stiles [in], common practice."""


@dataclass(frozen=True)
class WallLayout:
    """One wall with its trim, seen from inside the room.

    Parameters
    ----------
    room, wall : its names.
    length, ceiling : of the wall. [in]
    package : the room's trim.
    surrounds : what stands round each opening, unclipped, from left to right.
    solids : all that stands on the wall, none of it beyond the wall's edges.
    rail_top : top of the chair or plate rail above the floor, None where there is none. [in]
    inside : whether the corners at its left and right ends are inside corners, where the next wall comes forward.
    style, order : period and canon, from which the members of its mouldings are drawn.
    """

    room: str
    wall: str
    length: float
    ceiling: float
    package: Package
    surrounds: tuple[Surround, ...]
    solids: tuple[Solid, ...]
    rail_top: float | None = None
    inside: tuple[bool, bool] = (True, True)
    style: str = ""
    order: str = ""

    @property
    def apertures(self) -> tuple[Aperture, ...]:
        """The openings in the wall from left to right."""
        return tuple(s.aperture for s in self.surrounds)


def lay_out(
    house: House, room: Room | str, package: Package, style: str | None = None, order: str | None = None
) -> tuple[WallLayout, ...]:
    """Every wall of a room with the trim of a package on it.

    Parameters
    ----------
    house : the house, whose windows set the height of the chair rail.
    room : the room or its name.
    package : its trim.
    style, order : the period and the canon; the house's where none is given.

    Returns
    -------
    One layout for each wall, clockwise.
    """
    room = house.by_name[room] if isinstance(room, str) else room
    rail = rail_top(house, package)
    walls, inside = apertures(house, room), _inside_corners(room)
    found = []
    for wall, corners in zip(room.walls, zip(inside, inside[1:] + inside[:1], strict=True), strict=True):
        bare = WallLayout(
            room=room.name,
            wall=wall.name,
            length=wall.length,
            ceiling=room.ceiling,
            package=package,
            surrounds=(),
            solids=(),
            rail_top=rail,
            inside=corners,
            style=style or house.style,
            order=order or house.order,
        )
        found.append(_laid_out(bare, walls.get(wall.name, ())))
    return tuple(found)


def lay_out_house(
    house: House, rooms: Mapping[str, Package], style: str | None = None, order: str | None = None
) -> dict[str, tuple[WallLayout, ...]]:
    """The walls of every room that has a package."""
    return {name: lay_out(house, name, package, style, order) for name, package in rooms.items()}


def meetings(house: House, rooms: Mapping[str, Package], style: str | None = None) -> dict[str, Meeting]:
    """How the trim of two rooms meets in each passage between rooms that have a package, by the passage's name."""
    near = {(opening.name, opening.room) for opening in house.openings}
    return {
        a.name: meeting(a, rooms[name], rooms[a.other], style or house.style)
        for name in rooms
        for openings in apertures(house, house.by_name[name]).values()
        for a in openings
        if a.other in rooms and (a.name, name) in near
    }


def apertures(house: House, room: Room) -> Mapping[str, tuple[Aperture, ...]]:
    """The openings on each wall of a room, from left to right."""
    return _apertures(house).get(room.name, {})


@lru_cache(maxsize=32)
def _apertures(house: House) -> Mapping[str, Mapping[str, tuple[Aperture, ...]]]:
    """The openings by room and wall."""
    rooms: dict[str, dict[str, tuple[Aperture, ...]]] = {}
    for room, placed in placements(house, standard()).items():
        walls = rooms.setdefault(room, {})
        for p in sorted(placed, key=lambda p: p.left):
            a = Aperture(p.opening.name, p.opening.kind, p.left, p.right, p.sill, p.head, p.other)
            walls[p.wall.name] = (*walls.get(p.wall.name, ()), a)
    return rooms


def stretch(layout: WallLayout, x0: float, x1: float) -> WallLayout:
    """The part of a wall between two places along it [in], as a wall of its own."""
    x0, x1 = max(0.0, x0), min(layout.length, x1)
    moved = (_shifted(s, -x0) for s in layout.solids)
    solids = tuple(s for s in (clipped(s, x1 - x0, layout.ceiling) for s in moved) if s is not None)
    surrounds = tuple(
        Surround(a._replace(x0=max(a.x0, x0) - x0, x1=min(a.x1, x1) - x0), ())
        for a in layout.apertures
        if min(a.x1, x1) - max(a.x0, x0) > TOUCH
    )
    inside = (layout.inside[0] and x0 == 0, layout.inside[1] and x1 == layout.length)
    return replace(layout, length=x1 - x0, solids=solids, surrounds=surrounds, inside=inside)


def _shifted(solid: Solid, by: float) -> Solid:
    """The solid moved along the wall [in]."""
    outline = tuple((x + by, y) for x, y in solid.outline)
    return solid._replace(x0=solid.x0 + by, x1=solid.x1 + by, outline=outline)


def rail_top(house: House, package: Package) -> float | None:
    """Top of the rail for a package: one height for a tier and ceiling height, whatever the room.

    Parameters
    ----------
    house : its windows under this ceiling height draw the chair rail to their stools.
    package : whose rail it is.

    Returns
    -------
    The stool height that most windows share where it lies within the reach of a chair rail, else the package's own
    rail; None where the package has no rail. [in]

    References
    ----------
    Common practice: 28 to 32 in, aligned with the window stool where it can be.
    """
    rail = package.element("plate rail") or package.element("chair rail")
    if rail is None:
        return None
    if rail.element == "plate rail":
        return rail.top
    stools = _stools(house).get(package.ceiling)
    if not stools:
        return rail.top
    return min(stools, key=lambda sill: (-stools[sill], abs(sill - rail.top), sill))


@lru_cache(maxsize=32)
def _stools(house: House) -> Mapping[float, Counter[float]]:
    """How many windows have their stool at each height within the reach of a chair rail, by ceiling height [in]."""
    reach = table("elements")["places"]["dado"]
    stools: dict[float, Counter[float]] = {}
    for opening in house.openings:
        room = house.by_name.get(opening.room)
        if opening.kind != "window" or opening.sill is None or room is None:
            continue
        if reach["lowest"] <= opening.sill <= reach["highest"]:
            stools.setdefault(room.ceiling, Counter())[opening.sill] += 1
    return stools


def _inside_corners(room: Room) -> tuple[bool, ...]:
    """For the corner at the left end of each wall, clockwise: whether it is an inside corner."""
    walls = room.walls
    found = []
    for before, wall in zip(walls[-1:] + walls[:-1], walls, strict=True):
        (ax, ay), (bx, by), (cx, cy) = before.left, wall.left, wall.right
        found.append((bx - ax) * (cy - by) - (by - ay) * (cx - bx) < 0)
    return tuple(found)


def _laid_out(wall: WallLayout, openings: tuple[Aperture, ...]) -> WallLayout:
    """A bare wall with what stands round its openings, and what runs between them."""
    length, package, rail = wall.length, wall.package, wall.rail_top
    surrounds = tuple(surround(opening, package, wall.style) for opening in openings)
    solids = [*(s for around in surrounds for s in around.solids)]
    solids += _base(length, surrounds, package)
    solids += _dado(length, surrounds, package, rail)
    solids += _field(length, surrounds, package, rail)
    solids += _running(length, surrounds, package.element("picture rail"), None)
    solids += _crown(length, wall.ceiling, surrounds, package)
    kept = tuple(s for s in (clipped(s, length, wall.ceiling) for s in solids) if s is not None)
    return replace(wall, surrounds=surrounds, solids=kept)


def _spans(surrounds: tuple[Surround, ...], y0: float, y1: float) -> list[tuple[float, float]]:
    """What openings and their trim take of the wall between two heights [in]."""
    return [span for s in surrounds if (span := s.span(y0, y1)) is not None]


def _running(
    length: float, surrounds: tuple[Surround, ...], element: Element | None, top: float | None, on: str = ""
) -> list[Solid]:
    """An element that runs along the wall and stops at whatever stands in its way; `top` moves it up or down."""
    if element is None:
        return []
    bottom = element.bottom if top is None else top - element.size
    high = bottom + element.size
    name = element.element
    return [
        Solid(name, name, x0, x1, bottom, high, element.projection, on=on)
        for x0, x1 in gaps(0.0, length, _spans(surrounds, bottom, high))
    ]


def _base(length: float, surrounds: tuple[Surround, ...], package: Package) -> list[Solid]:
    """Base, and the shoe in front of it."""
    base, shoe = package.element("base"), package.element("shoe")
    solids = _running(length, surrounds, base, None)
    if shoe is not None and base is not None:
        solids += [
            Solid("shoe", "shoe", s.x0, s.x1, 0.0, shoe.size, base.projection + shoe.projection, on="base")
            for s in solids
        ]
    return solids


def _dado(length: float, surrounds: tuple[Surround, ...], package: Package, rail_top: float | None) -> list[Solid]:
    """The rail, and the wainscot between it and the base."""
    rail = package.element("plate rail") or package.element("chair rail")
    solids = _running(length, surrounds, rail, rail_top)
    wainscot = package.element("wainscot")
    if wainscot is None:
        return solids
    base = package.element("base")
    low = base.size if base is not None else 0.0
    high = rail_top - rail.size if rail is not None and rail_top is not None else wainscot.size
    return solids + list(_wainscot(length, surrounds, wainscot, low, high))


def _wainscot(
    length: float, surrounds: tuple[Surround, ...], wainscot: Element, low: float, high: float
) -> Iterator[Solid]:
    """The wainscot between base and rail: bays between openings and bays under windows."""
    rule = table("openings_trim")["panels"]
    least = rule["bottom_rail"] + rule["top_rail"] + rule["least_height"]
    blocked, under = [], []
    for around in surrounds:
        if around.bottom >= low + least:
            under.append((around.left, around.right, min(high, around.bottom)))
        elif (span := around.span(low, high)) is not None:
            blocked.append(span)
    for x0, x1 in gaps(0.0, length, blocked):
        reach = x0
        for left, right, top in under:
            left, right = max(left, reach), min(right, x1)
            if right - left <= TOUCH:
                continue
            yield from _bay(reach, left, low, high, wainscot, framed=True)
            yield from _bay(left, right, low, top, wainscot, framed=False)
            reach = right
        yield from _bay(reach, x1, low, high, wainscot, framed=True)


def _bay(x0: float, x1: float, low: float, high: float, wainscot: Element, framed: bool) -> Iterator[Solid]:
    """One bay; a framed bay has a stile at each end, a bay under a window stands between its neighbours' stiles."""
    if x1 - x0 <= TOUCH or high - low <= TOUCH:
        return
    rule, stands = table("openings_trim")["panels"], wainscot.projection
    if "panel" not in wainscot.form:
        yield Solid(wainscot.form, "wainscot", x0, x1, low, high, 0.5)
        if "batten" in wainscot.form:
            yield from _battens(x0, x1, low, high, stands)
        return
    stile = rule["stile"]
    inner = (x0 + stile, x1 - stile) if framed else (x0, x1)
    width = panel_width(inner[1] - inner[0])
    lower, upper = low + rule["bottom_rail"], high - rule["top_rail"]
    if width is None or upper - lower < rule["least_height"]:
        yield Solid("plain wainscot", "stile", x0, x1, low, high, stands)
        return
    if framed:
        yield Solid("stile", "stile", x0, inner[0], low, high, stands)
        yield Solid("stile", "stile", inner[1], x1, low, high, stands)
    yield Solid("bottom rail", "stile", *inner, low, lower, stands)
    yield Solid("top rail", "stile", *inner, upper, high, stands)
    name, x = wainscot.form.removesuffix("s"), inner[0]
    while x < inner[1] - TOUCH:
        yield Solid(name, "panel", x, x + width, lower, upper, stands - PANEL_SINK)
        x += width
        if x < inner[1] - TOUCH:
            yield Solid("stile", "stile", x, x + stile, lower, upper, stands)
            x += stile


def panel_width(clear: float) -> float | None:
    """Width of equal panels that fill a clear width with equal stiles between them.

    Parameters
    ----------
    clear : between the outer stiles. [in]

    Returns
    -------
    The width nearest to what is preferred among those within the limits, None where none is. [in]

    References
    ----------
    Common practice; limits in library/openings_trim.toml.

    Examples
    --------
    >>> panel_width(68.0), panel_width(20.0), panel_width(6.0)
    (20.0, 20.0, None)
    """
    rule = table("openings_trim")["panels"]
    stile, least, most = rule["stile"], rule["least"], rule["most"]
    if clear < least:
        return None
    counts = range(max(1, int((clear + stile) // (most + stile))), int((clear + stile) // (least + stile)) + 1)
    widths = [(clear + stile) / n - stile for n in counts]
    fitting = [w for w in widths if least <= w <= most]
    return min(fitting, key=lambda w: abs(w - rule["preferred"]), default=None)


def _battens(x0: float, x1: float, low: float, high: float, stands: float) -> Iterator[Solid]:
    """Battens at both ends and evenly between."""
    batten = table("openings_trim")["panels"]["batten"]
    preferred = table("openings_trim")["panels"]["preferred"]
    count = max(1, round((x1 - x0 - batten) / (preferred * 0.75 + batten)))
    pitch = (x1 - x0 - batten) / count
    if pitch <= batten:
        return
    for i in range(count + 1):
        left = x0 + i * pitch
        yield Solid("batten", "batten", left, left + batten, low, high, stands, on="boards")


def _field(length: float, surrounds: tuple[Surround, ...], package: Package, rail: float | None) -> list[Solid]:
    """Panels on the wall above the rail: between openings, and over those that leave room for one."""
    panels = package.element("wall panels")
    if panels is None or panels.bottom is None:
        return []
    rule = table("openings_trim")["panels"]
    dado = package.element("plate rail") or package.element("chair rail")
    moved = rail - dado.top if rail is not None and dado is not None else 0.0
    low, high = panels.bottom + moved, panels.top
    bays = [(x0, x1, low, high) for x0, x1 in gaps(0.0, length, _spans(surrounds, low, high))]
    reach = 0.0
    for around in surrounds:
        span = around.span(low, high)
        if span is None or around.top >= high:
            continue
        over = gaps(max(reach, span[0]), min(length, span[1]), _spans(surrounds, around.top, high))
        bays += [(x0, x1, around.top, high) for x0, x1 in over]
        reach = max(reach, span[1])
    solids = []
    for x0, x1, bottom, top in bays:
        lift = rule["stile"] if bottom != low else 0.0
        width = panel_width(x1 - x0 - 2 * rule["stile"])
        if width is None or top - bottom - lift < rule["least_height"]:
            continue
        x = x0 + rule["stile"]
        while x < x1 - rule["stile"] - TOUCH:
            solids.append(Solid("wall panel", "wall panels", x, x + width, bottom + lift, top, panels.projection))
            x += width + rule["stile"]
    return solids


def _crown(length: float, ceiling: float, surrounds: tuple[Surround, ...], package: Package) -> list[Solid]:
    """The crown in its parts; it stops only where an opening without a casing goes up into it."""
    crown = package.element("crown")
    if crown is None:
        return []
    bottom = ceiling - crown.size
    breaks = [(s.aperture.x0, s.aperture.x1) for s in surrounds if s.aperture.kind in UNCASED and s.top > bottom]
    parts = crown.parts or ((crown.form, crown.size),)
    solids, y = [], bottom
    for i, (part, height) in enumerate(parts):
        if part != "wall":
            stands = crown.projection if i == len(parts) - 1 else crown.thickness
            solids += [Solid(part, "crown", x0, x1, y, y + height, stands) for x0, x1 in gaps(0.0, length, breaks)]
        y += height
    return solids
