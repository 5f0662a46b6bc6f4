"""Does it fit, does it read: every rule of library/checks.toml held against the walls of a house.

Each check says what and where, what to do about it, and where the rule comes from. All lengths are inches.
"""

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from typing import Protocol

from planner.house.model import House, Room
from planner.library import table
from planner.trim.packages import Package
from planner.units import format_length
from planner.walls.layout import WallLayout, apertures, lay_out, rail_top
from planner.walls.openings import Aperture, Surround, casing_of, plinth_rule, reach_above
from planner.walls.solids import TOUCH, Solid, overlaps

SEVERITIES = ("error", "warning", "caution")
"""How much a check weighs, the gravest first."""

EARS = ("ear", "backband", "casing")
SHADOW = 1 / 16
"""Differences in thickness below this [in] are planed away on site; common practice."""


@dataclass(frozen=True)
class Check:
    """One thing to see to.

    `severity` is one of SEVERITIES, `rule` the name of its row in library/checks.toml; `room` and `opening` say where
    and are empty where the whole house or the whole room is meant.
    """

    severity: str
    rule: str
    room: str
    opening: str
    message: str
    remedy: str
    source: str


class Passage(Protocol):
    """What is needed of a passage of a plan; see planner.planning.answer.PassagePlan."""

    start: str
    end: str
    kind: str
    limit: int | None
    difference: int
    reads: str


def check_plan(
    house: House, rooms: Mapping[str, Package], passages: Iterable[Passage], style: str
) -> tuple[Check, ...]:
    """Every check of a whole plan, the gravest first, then by room, opening and rule.

    Parameters
    ----------
    house : the house.
    rooms : the package of each room by the room's name.
    passages : the passages between rooms, with how their steps read.
    style : the period.
    """
    found = list(_house_cautions(house))
    for name, package in rooms.items():
        found += _checks_of(house, name, package, style)
    found += check_passages(passages)
    return tuple(sorted(set(found), key=lambda c: (SEVERITIES.index(c.severity), c.room, c.opening, c.rule, c.message)))


@lru_cache(maxsize=4096)
def _checks_of(house: House, name: str, package: Package, style: str) -> tuple[Check, ...]:
    """The checks of a room, kept: a change of intent leaves most rooms as they were."""
    room = house.by_name[name]
    return check_room(house, room, package, lay_out(house, room, package, style), style)


def check_room(
    house: House, room: Room, package: Package, layouts: tuple[WallLayout, ...], style: str | None = None
) -> tuple[Check, ...]:
    """Every check of one room and the trim on its walls."""
    found: list[Check] = []
    for rule in PACKAGE_RULES:
        found += rule(room, package, style or house.style)
    for rule in ROOM_RULES:
        found += rule(house, room, package)
    for layout in layouts:
        for wall_rule in WALL_RULES:
            found += wall_rule(layout)
    return tuple(dict.fromkeys(found))


def check_passages(passages: Iterable[Passage]) -> tuple[Check, ...]:
    """Passages whose step is abrupt, faint, or in the middle of one space."""
    found = []
    for p in passages:
        tiers = f"{abs(p.difference)} tier" + ("s" if abs(p.difference) != 1 else "")
        values = {"near": p.start, "far": p.end, "kind": p.kind, "difference": tiers}
        if p.kind == "open" and p.difference:
            found.append(_check("trim changes in one space", p.end, **values))
        elif p.reads in ("abrupt", "faint"):
            found.append(_check(f"{p.reads} passage", p.end, **values))
    return tuple(found)


def fits(house: House, room: Room | str, package: Package) -> tuple[Check, ...]:
    """The errors that bar a tier from a room: its package comes down upon what stands there.

    Only rules that a plainer package can keep bar a tier (`bars` in library/checks.toml). Where none of the tiers fits,
    the plainest is still the one to build, with its errors told.

    Returns
    -------
    The errors, none where the package fits.
    """
    room = house.by_name[room] if isinstance(room, str) else room
    walls = apertures(house, room)
    placed = tuple((wall, opening) for wall, openings in walls.items() for opening in openings)
    return _fits(room.name, room.ceiling, placed, package, rail_top(house, package))


@lru_cache(maxsize=16384)
def _fits(
    room: str, ceiling: float, placed: tuple[tuple[str, Aperture], ...], package: Package, rail: float | None
) -> tuple[Check, ...]:
    crown = package.element("crown")
    if crown is None:
        return ()
    bottom = ceiling - crown.size
    found = list(_rail_and_crown(room, ceiling, bottom, rail))
    for wall, opening in placed:
        found += _head_and_crown(room, wall, opening, package, bottom)
    return tuple(found)


# Rules on a package in a room, wherever its openings are.


def _base_and_casing(room: Room, package: Package, style: str) -> Iterator[Check]:
    """A base dies into something at least as thick as itself."""
    base, plinth, casing = (package.element(e) for e in ("base", "plinth block", "casing"))
    if base is None or casing is None:
        return
    edge = max((e.projection for e in (casing, package.element("backband")) if e is not None), default=0.0)
    what, stands = ("plinth block", plinth.projection) if plinth is not None else ("casing", edge)
    if base.projection > stands + SHADOW:
        name = "base thicker than what it dies into"
        yield _check(name, room.name, base=base.projection, against=what, stands=stands)


def _narrow_casing(room: Room, package: Package, style: str) -> Iterator[Check]:
    """A casing is at least 4 in wide in rooms of 8 ft and more."""
    rule = _rule("narrow casing")
    for element in (package.element("casing"), package.element("window casing")):
        if element is not None and element.size < rule["least"] and room.ceiling >= rule["lowest_ceiling"]:
            what = "door casing" if element.element == "casing" else element.element
            yield _check(
                rule["name"], room.name, what=what, size=element.size, ceiling=room.ceiling, least=rule["least"]
            )


def _plinth(room: Room, package: Package, style: str) -> Iterator[Check]:
    """Plinth blocks are as high as their period has them."""
    plinth, base, rule = package.element("plinth block"), package.element("base"), plinth_rule(style)
    if plinth is None or base is None or rule is None:
        return
    low, high = rule["least"] * base.size, rule["most"] * base.size
    if not low - 1 / 8 <= plinth.size <= high + 1 / 8:
        words = style.title()
        yield _check(
            "plinth against its period",
            room.name,
            size=plinth.size,
            base=base.size,
            style=words,
            low=low,
            high=high,
        )


def _subordinate(room: Room, package: Package, style: str) -> Iterator[Check]:
    """The overdoor is smaller than the room's crown, in the whole and in each member."""
    overdoor, crown = package.element("overdoor"), package.element("crown")
    if overdoor is None or crown is None or not any(part == "cornice" for part, _ in overdoor.parts):
        return
    of_room = dict(crown.parts)
    pairs = [(part, size, of_room[part]) for part, size in overdoor.parts if part in of_room]
    for what, size, room_size in [("whole", overdoor.size, crown.size), *pairs]:
        if size >= room_size:
            yield _check("subordinate larger than the room's", room.name, what=what, size=size, room_size=room_size)


def _heavy_crown(room: Room, package: Package, style: str) -> Iterator[Check]:
    """No full entablature under a low ceiling, and no crown that presses on the room."""
    crown = package.element("crown")
    if crown is None:
        return
    rule, share = _rule("heavy entablature"), _rule("crown heavy for the ceiling")["most"]
    if crown.form == "full entablature" and room.ceiling < rule["lowest_ceiling"]:
        yield _check(rule["name"], room.name, size=crown.size, ceiling=room.ceiling, least=rule["lowest_ceiling"])
    if crown.size > share * room.ceiling:
        name = "crown heavy for the ceiling"
        yield _check(name, room.name, size=crown.size, ceiling=room.ceiling, most=share * room.ceiling)


def _receptacles(room: Room, package: Package, style: str) -> Iterator[Check]:
    """A high base reaches the boxes in the wall."""
    base = package.element("base")
    if base is not None and base.size >= _rule("receptacles in the base")["base"]:
        yield _check("receptacles in the base", room.name, base=base.size)


PACKAGE_RULES: tuple[Callable[[Room, Package, str], Iterator[Check]], ...] = (
    _base_and_casing,
    _narrow_casing,
    _plinth,
    _subordinate,
    _heavy_crown,
    _receptacles,
)


# Rules on a room of a house.


def _rail_against_crown(house: House, room: Room, package: Package) -> Iterator[Check]:
    """Between rail and crown enough wall is left to be one."""
    crown = package.element("crown")
    if crown is not None:
        yield from _rail_and_crown(room.name, room.ceiling, room.ceiling - crown.size, rail_top(house, package))


def _radiator(house: House, room: Room, package: Package) -> Iterator[Check]:
    """Where the room's notes give a radiator's height, the rail passes above it."""
    rail, top = package.element("chair rail"), rail_top(house, package)
    given = re.search(r"radiator\D{0,40}?(\d+(?:\.\d+)?)\s*(?:in\b|\"|″)?\s*high", room.notes, re.IGNORECASE)
    if rail is not None and top is not None and given and float(given[1]) > top - rail.size:
        values = {"height": float(given[1]), "low": top - rail.size, "rail": top}
        yield _check("chair rail and radiator", room.name, **values)


def _windows(house: House, room: Room, package: Package) -> Iterator[Check]:
    """Windows are about two to one; those of bedrooms may be escapes; low ones are not guarded by a rail."""
    shape, escape, guard = (_rule(n) for n in ("window far from two to one", "escape window", "chair rail is no guard"))
    rail = rail_top(house, package)
    for a in (a for openings in apertures(house, room).values() for a in openings if a.kind == "window"):
        width, height = a.x1 - a.x0, a.y1 - a.y0
        if not a.is_open:
            continue
        if not shape["least"] <= height / width <= shape["most"]:
            values = {"width": width, "height": height, "ratio": f"{height / width:.1f}"}
            yield _check(shape["name"], room.name, a.name, **values)
        if room.use in escape["uses"]:
            faults = [f"its sill is at {format_length(a.y0)}"] if a.y0 > escape["sill"] else []
            if width * height < escape["area"]:
                faults.append(f"its opening is at most {width * height / 144:.1f} sq ft")
            yield _check(escape["name"], room.name, a.name, what=" and ".join(faults) or "keep its clear size")
        if rail is not None and a.y0 < guard["sill"]:
            yield _check(guard["name"], room.name, a.name, sill=a.y0, rail=rail)


def _stair(house: House, room: Room, package: Package) -> Iterator[Check]:
    """A stair keeps its handrail."""
    stairs = (o for o in house.openings if o.kind == "stair" and room.name in (o.room, o.other))
    if room.use in _rule("stair wall")["uses"] or any(stairs):
        yield _check("stair wall", room.name)


def _rated(house: House, room: Room, package: Package) -> Iterator[Check]:
    """Doors that may be rated keep their frames as they are."""
    rule = _rule("rated door")
    noted = next((word for word in rule["words"] if re.search(rf"\b{re.escape(word)}\b", room.notes.lower())), None)
    for opening in house.openings:
        if opening.room != room.name or "door" not in opening.kind:
            continue
        beyond = house.by_name.get(opening.other)
        guarded = next((r.use for r in (room, beyond) if r is not None and r.use in rule["uses"]), None)
        if noted or guarded:
            why = f'the room\'s notes say "{noted}"' if noted else f"it leads to a {guarded}"
            yield _check(rule["name"], room.name, opening.name, why=why)


def _widened(house: House, room: Room, package: Package) -> Iterator[Check]:
    """Openings are widened only with a structural design."""
    rule = _rule("wider opening")
    if any(word in room.notes.lower() for word in rule["words"]):
        yield _check(rule["name"], room.name, why=f"the room's notes say: {room.notes}")


ROOM_RULES: tuple[Callable[[House, Room, Package], Iterator[Check]], ...] = (
    _rail_against_crown,
    _radiator,
    _windows,
    _stair,
    _rated,
    _widened,
)


# Rules on one wall with its trim.


def _heads(layout: WallLayout) -> Iterator[Check]:
    """What stands on an opening stays below the crown, and far enough to read."""
    crown = layout.package.element("crown")
    if crown is None:
        return
    bottom, close = layout.ceiling - crown.size, _rule("mouldings too close")
    for around in layout.surrounds:
        if not around.solids:
            continue
        yield from _head_and_crown(layout.room, layout.wall, around.aperture, layout.package, bottom)
        if 0 < bottom - around.top < close["least"]:
            values = {"wall": layout.wall, "by": bottom - around.top, "least": close["least"]}
            what = f"the head of {around.aperture.name}"
            yield _check(close["name"], layout.room, around.aperture.name, **values, what=what, against="the crown")


def _corners(layout: WallLayout) -> Iterator[Check]:
    """Casings, ears and overdoors have room beside the corner."""
    for around in layout.surrounds:
        a = around.aperture
        beyond = a.x0 < -TOUCH or a.x1 > layout.length + TOUCH or a.y1 > layout.ceiling + TOUCH
        if beyond or not a.is_open:
            values = {"wall": layout.wall, "length": layout.length, "ceiling": layout.ceiling}
            yield _check("opening without room for its trim", layout.room, a.name, **values)
            continue
        for room_left, reach in _sides(layout, around):
            yield from _corner(layout, around, room_left, reach)


def _corner(layout: WallLayout, around: Surround, room_left: float, reach: dict[str, float]) -> Iterator[Check]:
    """One side of an opening: `reach` is how far each kind of its trim stands out from the jamb [in]."""
    a, where = around.aperture, {"wall": layout.wall}
    leg = reach.get("leg", 0.0)
    if leg > room_left + TOUCH:
        left, by = room_left, leg - room_left
        name = "casing ripped at the corner" if left >= _rule("casing and corner")["least"] else "casing and corner"
        yield _check(name, layout.room, a.name, **where, room_left=room_left, casing=leg, left=left, by=by)
    elif reach.get("ear", 0.0) > room_left + TOUCH:
        yield _check("crossette and corner", layout.room, a.name, **where, by=reach["ear"] - room_left)
    elif (rest := max(reach, key=lambda kind: reach[kind], default="")) and reach[rest] > room_left + TOUCH:
        by, name = reach[rest] - room_left, "overdoor and corner"
        yield _check(name, layout.room, a.name, **where, what=f"the {rest}", by=by)


def _sides(layout: WallLayout, around: Surround) -> Iterator[tuple[float, dict[str, float]]]:
    """For the left and the right of an opening: the wall up to the corner, and how far its trim reaches [in]."""
    a = around.aperture
    for left in (True, False):
        reach: dict[str, float] = {}
        for s in around.solids:
            out = a.x0 - s.x0 if left else s.x1 - a.x1
            kind = s.element
            if kind in (*EARS, "chimneypiece", "corner block"):
                kind = "ear" if ("ear" in s.name.split() or "upper" in s.name) else "leg" if "leg" in s.name else ""
            if kind:
                reach[kind] = max(reach.get(kind, 0.0), out)
        yield (a.x0 if left else layout.length - a.x1), reach


def _collisions(layout: WallLayout) -> Iterator[Check]:
    """No two pieces of trim take the same place; what meets the crown is told by its own rule."""
    told = set()
    for one, other in overlaps(layout.solids):
        crown = "crown" in (one.element, other.element)
        pair = (one.opening, other.opening) if one.opening and other.opening else ()
        key = frozenset(pair) or (one.opening or other.opening, one.element, other.element)
        if key in told or (crown and (one.opening or other.opening)):
            continue
        told.add(key)
        by = min(one.x1, other.x1) - max(one.x0, other.x0)
        values = {"wall": layout.wall, "what": _what(one), "against": _what(other), "by": by}
        if pair and pair[0] != pair[1]:
            yield _check("casing and casing", layout.room, one.opening, second=other.opening, **values)
        else:
            x = max(one.x0, other.x0)
            yield _check("trim collides", layout.room, one.opening or other.opening, x=x, **values)


def _close_surrounds(layout: WallLayout) -> Iterator[Check]:
    """Neighbouring openings leave plain wall between their trim, or none."""
    rule = _rule("mouldings too close")
    for one, other in zip(layout.surrounds, layout.surrounds[1:], strict=False):
        left = other.left - one.right
        if one.solids and other.solids and TOUCH < left < rule["least"]:
            names = {"what": f"the trim of {one.aperture.name}", "against": f"that of {other.aperture.name}"}
            values = {"wall": layout.wall, "by": left, "least": rule["least"]}
            yield _check(rule["name"], layout.room, one.aperture.name, **values, **names)


def _stools(layout: WallLayout) -> Iterator[Check]:
    """A stool near the chair rail is at its height."""
    rail = layout.package.element("chair rail")
    if rail is None or layout.rail_top is None or layout.package.element("plate rail") is not None:
        return
    low = layout.rail_top - rail.size
    for around in layout.surrounds:
        stool = next((s for s in around.solids if s.element == "stool"), None)
        if stool is None or abs(stool.y1 - layout.rail_top) < 1 / 16 or around.bottom >= layout.rail_top:
            continue
        if stool.y1 > low - stool.height:
            by = stool.y1 - layout.rail_top
            values = {"wall": layout.wall, "stool": stool.y1, "by": abs(by), "rail": layout.rail_top}
            side = "above" if by > 0 else "below"
            yield _check("chair rail and stool", layout.room, around.aperture.name, **values, side=side)


def _panels(layout: WallLayout) -> Iterator[Check]:
    """Panels are neither slits nor ribbons; one check for each shape on a wall."""
    rule, told = _rule("panel out of proportion"), set()
    for s in layout.solids:
        if s.element in ("panel", "wall panels") and not rule["least"] <= s.width / s.height <= rule["most"]:
            shape = (round(s.width, 1), round(s.height, 1))
            if shape not in told:
                told.add(shape)
                yield _check(rule["name"], layout.room, wall=layout.wall, width=s.width, height=s.height)


def _hearths(layout: WallLayout) -> Iterator[Check]:
    """Wood keeps off the firebox."""
    for around in layout.surrounds:
        if around.aperture.kind == "fireplace" and around.solids:
            clear = table("openings_trim")["hearth"]["clear"]
            yield _check("wood near the firebox", layout.room, around.aperture.name, clear=clear)


WALL_RULES: tuple[Callable[[WallLayout], Iterator[Check]], ...] = (
    _heads,
    _corners,
    _collisions,
    _close_surrounds,
    _stools,
    _panels,
    _hearths,
)


def _house_cautions(house: House) -> Iterator[Check]:
    """What is to be seen to in the whole house."""
    before = _rule("lead paint")["before"]
    if house.year_built is None or house.year_built < before:
        when = f"built in {house.year_built}" if house.year_built else f"built perhaps before {before}"
        yield _check("lead paint", "", when=when)


def _head_and_crown(room: str, wall: str, opening: Aperture, package: Package, bottom: float) -> Iterator[Check]:
    """A collision of what stands on an opening with the crown: of its overdoor alone, or of its head as well."""
    if casing_of(opening.kind, package) is None:
        return
    top = reach_above(opening, package)
    if top > bottom + TOUCH:
        head_clears = reach_above(opening, package, overdoor=False) <= bottom + TOUCH
        name = "overdoor and cornice" if head_clears else "crown and head"
        yield _check(name, room, opening.name, wall=wall, top=top, bottom=bottom, by=top - bottom)


def _rail_and_crown(room: str, ceiling: float, bottom: float, rail: float | None) -> Iterator[Check]:
    """Rail and crown with too little wall between them."""
    if rail is not None and bottom - rail < _rule("rail and crown")["least"]:
        yield _check("rail and crown", room, left=bottom - rail, rail=rail, bottom=bottom, ceiling=ceiling)


def _what(solid: Solid) -> str:
    """A solid in words."""
    return f"the {solid.name} of {solid.opening}" if solid.opening else f"the {solid.name}"


@cache
def _rule(name: str) -> dict:
    """The row of library/checks.toml of that name."""
    return {row["name"]: row for row in table("checks")["rule"]}[name]


def _check(name: str, room: str, opening: str = "", **values: float | str) -> Check:
    """A check that a rule raises, its words filled in; numbers are lengths [in]."""
    rule = _rule(name)
    words = {k: format_length(v) if isinstance(v, float | int) else v for k, v in values.items()}
    words["opening"] = opening
    message, remedy = rule["message"].format(**words), rule["remedy"].format(**words)
    return Check(rule["severity"], name, room, opening, message, remedy, rule["source"])
