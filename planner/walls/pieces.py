"""Every piece of wood that is nailed up in a room, and how its ends are cut. All lengths are inches."""

from collections.abc import Iterator, Mapping, Sequence, Set
from dataclasses import dataclass, replace
from enum import StrEnum
from itertools import pairwise
from math import atan2, cos, degrees, hypot, radians, tan
from typing import NamedTuple

from planner.trim.packages import Element, Package
from planner.trim.panelling import BOTTOM_RAIL, PANEL
from planner.units import format_size
from planner.walls.layout import WallLayout, rail_of
from planner.walls.openings import UNCASED, Surround, casing_of
from planner.walls.parts import BOARDS, CROWNING, FLAT, PANELS, PLUMB, RAKED, RUNS, Part, Side, called
from planner.walls.solids import TOUCH, Point, Solid
from planner.walls.stairs import along_rake
from planner.walls.wainscot import MOULD, RAISED_FIELD, beads


class Joint(StrEnum):
    """How the end of a piece is made; the value is what a person reads."""

    SQUARE = "square"
    MITRE = "mitre"
    COPE = "coped"
    INSIDE = "inside"
    OUTSIDE = "outside"
    RETURN = "return"


class Cut(NamedTuple):
    """How the end of a piece is cut.

    Parameters
    ----------
    joint : what it is.
    across : how far the cut turns from square across the face, positive where the outer edge is the longer: of a casing
        the edge away from the opening, of anything else the upper or the left one. [degrees]
    through : how far it turns from square through the thickness, positive where the face is longer than the back; a
        cope is first cut so, and then along the profile that shows. [degrees]
    """

    joint: Joint
    across: float = 0.0
    through: float = 0.0

    @property
    def words(self) -> str:
        """What a person reads for it.

        >>> Cut(Joint.SQUARE).words, Cut(Joint.MITRE, 45.0).words, Cut(Joint.OUTSIDE, through=22.5).words
        ('square', '45°', 'outside 22.5°')
        """
        if self.joint in (Joint.SQUARE, Joint.COPE):
            return self.joint.value
        angle = f"{abs(self.across or self.through):g}°"
        return angle if self.joint is Joint.MITRE else f"{self.joint} {angle}"


class Place(NamedTuple):
    """Where a piece goes: from where to where along a wall, seen from inside the room, and above the floor [in].

    `opening` is empty for what runs along the wall.
    """

    room: str
    wall: str
    x0: float
    x1: float
    y0: float
    y1: float
    opening: str = ""


@dataclass(frozen=True)
class Piece:
    """One piece of wood.

    Parameters
    ----------
    part, side : what it is, and on which side of its opening or of the run that it returns.
    element : the element of the package that it belongs to.
    length : from long point to long point. [in]
    width : of the stock that it is cut from. [in]
    ends : its two ends, from the left or from the floor.
    place : where it goes.
    profile : codes of the stock that it is cut from, several where it is built up; empty where none was chosen.
    form : what its form calls it, where it has a name of its own there.
    note : what else is to be known.
    """

    part: Part
    side: Side
    element: str
    length: float
    width: float
    ends: tuple[Cut, Cut]
    place: Place
    profile: tuple[str, ...] = ()
    form: str = ""
    note: str = ""

    @property
    def name(self) -> str:
        """What a person reads for it."""
        return called(self.part, self.side, self.form, self.element)


SQUARE = Cut(Joint.SQUARE)
MITRE = Cut(Joint.MITRE, across=45.0)
RETURNED = Cut(Joint.RETURN, through=45.0)

STRAIGHT = 0.5
"""Cuts nearer to square than this are made square [degrees], common practice."""

INSIDE_CORNERS: Mapping[Part, Joint] = {
    Part.BASE: Joint.COPE,
    Part.SHOE: Joint.COPE,
    Part.CHAIR_RAIL: Joint.COPE,
    Part.HEAD_BAND: Joint.COPE,
    Part.PICTURE_RAIL: Joint.COPE,
    Part.CROWN: Joint.COPE,
    Part.PLATE_RAIL: Joint.INSIDE,
}
"""How a run meets the next one in an inside corner, common practice: of two the one on the left, seen from inside the
room, is cut square into the corner and the one on the right is coped to it; a shelf's edge is mitred."""

NOTES: Mapping[Part, str] = {
    Part.UPPER_LEG: "return its profile at the foot",
    Part.EAR_RETURN: "both mitres parallel",
    Part.STOOL: "its nosing worked round both ends",
    Part.MANTEL_SHELF: "its edge worked round both ends",
}
"""What is to be known of a part, common practice."""


def pieces(layouts: Sequence[WallLayout]) -> tuple[Piece, ...]:
    """Every piece of a room: wall by wall what stands round each opening, then what runs and stands on the wall.

    Parameters
    ----------
    layouts : all walls of the room, clockwise, as planner.walls.layout.lay_out gives them.

    Returns
    -------
    The pieces. What stands round an opening is whole, even where it would reach past the wall (a check tells that);
    a run is from corner to corner or to what it stops at.
    """
    found: list[Piece] = []
    for i, layout in enumerate(layouts):
        for around in layout.surrounds:
            for solid in around.solids:
                found += _round_opening(layout, around, solid)
        beside = (layouts[i - 1], layouts[(i + 1) % len(layouts)])
        for solid in layout.solids:
            if solid.part in RAKED:
                found.append(_raked(layout, solid))
            elif solid.outline and solid.element == "wainscot":
                found += _raked_infill(layout, solid)
            elif not solid.opening:
                found += _run(layout, beside, solid) if solid.part in RUNS else _infill(layout, solid)
    return tuple(found)


def codes(package: Package, solid: Solid, kind: str = "") -> tuple[str, ...]:
    """Codes of the stock that a solid is cut from, none where none was chosen; `kind` is that of its opening."""
    element = package.element(solid.element)
    if solid.element in ("casing", "backband", "crossette"):
        casing = casing_of(kind, package)
        if solid.element != "backband":
            return _codes(casing, {p for p in _parts(casing) if p != "backband"})
        return _codes(casing, {"backband"}) or _codes(element if element is not None else casing)
    if (solid.part is Part.CROWN or solid.part in CROWNING) and len(_parts(element)) > 1:
        return _codes(element, {solid.form})
    if solid.part is Part.BASE and package.element("shoe") is not None:
        return _codes(element, {p for p in _parts(element) if p != "shoe"})
    return _codes(element)


def _parts(element: Element | None) -> frozenset[str]:
    """The parts that an element's stock makes up."""
    assembly = element.assembly if element is not None else None
    return frozenset(p.part for p in assembly.pieces) if assembly is not None else frozenset()


def _codes(element: Element | None, parts: Set[str] | None = None) -> tuple[str, ...]:
    """Codes of the stock of an element, or of some of its parts, each once."""
    assembly = element.assembly if element is not None else None
    if assembly is None:
        return ()
    return tuple(dict.fromkeys(p.profile.code for p in assembly.pieces if parts is None or p.part in parts))


def _round_opening(layout: WallLayout, around: Surround, solid: Solid) -> Iterator[Piece]:
    """A piece that stands round an opening, and its returns where its ends are seen."""
    length, width, ends = measured(solid)
    note = NOTES.get(solid.part, "")
    if solid.behind:
        width, note = width + solid.behind, f"let in behind the leg by {solid.behind:g} in, rebated"
    package = layout.package.at(around.aperture.name)
    profile = codes(package, solid, around.aperture.kind)
    returned = _is_returned(package, around, solid)
    if returned:
        ends = (RETURNED, RETURNED)
    yield _piece(layout, solid, length, width, ends, profile, note)
    if returned:
        yield from (_return(layout, solid, side, profile) for side in (Side.LEFT, Side.RIGHT))


def _is_returned(package: Package, around: Surround, solid: Solid) -> bool:
    """Whether a profile returns upon the wall at both ends: an overdoor's past its casing, a moulded apron's."""
    if solid.part is Part.APRON:
        apron = package.element("apron")
        return apron is not None and apron.members > 1
    cased = min((s.x0 for s in around.solids if s.part is Part.HEAD), default=solid.x0)
    return solid.part in CROWNING and solid.x0 < cased - TOUCH


def measured(solid: Solid) -> tuple[float, float, tuple[Cut, Cut]]:
    """Length from long point to long point and width [in] of a piece seen on the wall, and how its ends are cut."""
    s = solid
    a, b, c, d = s.outline or (
        ((s.x0, s.y0), (s.x1, s.y0), (s.x1, s.y1), (s.x0, s.y1))
        if s.part in PLUMB
        else ((s.x0, s.y1), (s.x0, s.y0), (s.x1, s.y0), (s.x1, s.y1))
    )
    upright = abs(c[1] + d[1] - a[1] - b[1]) > abs(c[0] + d[0] - a[0] - b[0])
    axis = 1 if upright else 0
    first, second = sorted(((a, b), (d, c)), key=lambda end: end[0][axis] + end[1][axis])
    sizes = (s.width, s.height)
    width = s.projection if s.part in FLAT else sizes[1 - axis]
    return sizes[axis], width, (_mitre(*first, axis, -1), _mitre(*second, axis, 1))


def _mitre(outer: Point, inner: Point, axis: int, outward: int) -> Cut:
    """The cut between the outer and the inner corner of an end that looks `outward` along an axis."""
    longer = (outer[axis] - inner[axis]) * outward
    angle = degrees(atan2(longer, abs(outer[1 - axis] - inner[1 - axis])))
    return Cut(Joint.MITRE, across=round(angle, 6)) if longer else SQUARE


def _run(layout: WallLayout, beside: tuple[WallLayout, WallLayout], solid: Solid) -> Iterator[Piece]:
    """A run of moulding from end to end, and its returns."""
    left, right = (_end(layout, wall, solid, side) for wall, side in zip(beside, (Side.LEFT, Side.RIGHT), strict=True))
    past = sum(solid.projection * tan(radians(cut.through)) for cut in (left, right) if cut.joint is Joint.OUTSIDE)
    profile = codes(layout.package, solid)
    yield _piece(layout, solid, solid.width + past, solid.height, (left, right), profile)
    for side, cut in ((Side.LEFT, left), (Side.RIGHT, right)):
        if cut.joint is Joint.RETURN:
            yield _return(layout, solid, side, profile)


def _raked(layout: WallLayout, solid: Solid) -> Piece:
    """What runs up beside a flight: its length along the rake, from long point to long point, and its rake cuts."""
    (ax, ay), (bx, by) = solid.outline[0], solid.outline[-1]
    long = hypot(bx - ax, by - ay)
    ux, uy = (bx - ax) / long, (by - ay) / long
    ends = (
        _rake_cut(solid.outline[0], solid.outline[1], ux, uy),
        _rake_cut(solid.outline[-1], solid.outline[-2], -ux, -uy),
    )
    note = ""
    if solid.part is Part.SKIRT:
        note = "turns into the base in a mitre of half the rake, stands on the floor, the steps before it"
    elif solid.part is Part.RAKING_RAIL:
        note = "meets the level rail in a mitre of half the rake"
    profile = codes(layout.package, solid) if solid.part in RAKED else ()
    return _piece(layout, solid, *along_rake(solid), ends, profile, note)


def _rake_cut(upper: Point, lower: Point, ux: float, uy: float) -> Cut:
    """The cut between the upper and the lower corner of an end; (ux, uy) leads from there along the piece."""
    inward = (lower[0] - upper[0]) * ux + (lower[1] - upper[1]) * uy
    deep = abs((lower[0] - upper[0]) * uy - (lower[1] - upper[1]) * ux)
    angle = round(degrees(atan2(inward, deep)), 6)
    return Cut(Joint.MITRE, across=angle) if abs(angle) >= STRAIGHT else SQUARE


def _end(layout: WallLayout, beside: WallLayout, solid: Solid, side: Side) -> Cut:
    """How a run ends on one side: in a corner, or at what stands in its way."""
    right = side is Side.RIGHT
    x, corner = (solid.x1, layout.length) if right else (solid.x0, 0.0)
    if solid.outline and (mitred := _mitre(*_end_corners(solid, right), 0, 1 if right else -1)) is not SQUARE:
        return mitred
    if abs(x - corner) > TOUCH:
        return _stop(layout, solid, x, right)
    angle = layout.corners[right]
    half = abs(180 - angle) / 2 if angle is not None else 0.0
    if angle is None or half < STRAIGHT:
        return SQUARE
    goes_on = any(
        s.part is solid.part and abs(s.y0 - solid.y0) <= TOUCH and abs(s.x0 if right else s.x1 - beside.length) <= TOUCH
        for s in beside.solids
    )
    if angle > 180:
        return Cut(Joint.OUTSIDE, through=half) if goes_on else RETURNED
    joint = INSIDE_CORNERS[solid.part]
    if not goes_on or (joint is Joint.COPE and right):
        return SQUARE
    return Cut(joint, through=-half)


def _end_corners(solid: Solid, right: bool) -> tuple[Point, Point]:
    """The upper and the lower corner of an end of a run that is mitred where it turns up a flight."""
    return (solid.outline[-1], solid.outline[-2]) if right else (solid.outline[0], solid.outline[1])


def _stop(layout: WallLayout, solid: Solid, x: float, right: bool) -> Cut:
    """How a run ends at x: square against wood, returned upon the wall where an opening has no casing and before a
    fixture that it keeps clear of."""
    low, high = _reach(layout, solid)
    for o in layout.obstacles:
        taken = o.span(solid.element, low, high)
        if taken is not None and abs(taken[0 if right else 1] - x) <= TOUCH:
            return RETURNED if o.manner(solid.element, low, high) == "returns" else SQUARE
    stops = []
    for around in layout.surrounds:
        a = around.aperture
        span = (a.x0, a.x1) if solid.part is Part.CROWN else around.span(solid.y0, solid.y1)
        if span is not None and abs(span[0 if right else 1] - x) <= TOUCH:
            stops.append(around)
    uncased = stops and all(s.aperture.kind in UNCASED or not s.solids for s in stops)
    return RETURNED if uncased else SQUARE


def _reach(layout: WallLayout, solid: Solid) -> tuple[float, float]:
    """Lower and upper edge [in] of the element that a run is part of: a crown stops as a whole."""
    crown = layout.package.element("crown")
    if solid.part is Part.CROWN and crown is not None:
        return layout.ceiling - crown.size, layout.ceiling
    return solid.y0, solid.y1


def _return(layout: WallLayout, solid: Solid, side: Side, profile: tuple[str, ...]) -> Piece:
    """The short piece that carries a profile from the end of a run back to the wall."""
    x = solid.x1 if side is Side.RIGHT else solid.x0
    mitre = Cut(Joint.MITRE, through=45.0)
    ends = (SQUARE, mitre) if side is Side.LEFT else (mitre, SQUARE)
    place = Place(layout.room, layout.wall, x, x, solid.y0, solid.y1, solid.opening)
    note = f"returns the {called(solid.part, form=solid.form)} upon the wall"
    return Piece(Part.RETURN, side, solid.element, solid.projection, solid.height, ends, place, profile, note=note)


def _infill(layout: WallLayout, solid: Solid) -> Iterator[Piece]:
    """What fills a wall between its mouldings: stiles, rails, panels with their moulds, boards, battens."""
    if solid.part in BOARDS:
        yield from _boards(layout, solid)
        return
    element = layout.package.element(solid.element)
    if solid.part is Part.WALL_PANEL:
        if element is not None and element.form == RAISED_FIELD:
            yield _piece(layout, solid._replace(part=Part.RAISED_PANEL), *measured(solid))
    elif solid.part is Part.BATTEN:
        yield _piece(layout, solid, *measured(solid), codes(layout.package, solid))
    else:
        yield _framed(layout, solid)
    if solid.part in PANELS or solid.part is Part.WALL_PANEL:
        yield from _moulds(layout, solid, element)


def _framed(layout: WallLayout, solid: Solid) -> Piece:
    """A piece of a frame as it is cut: a panel with what goes into the grooves, rails and stiles with what runs on
    behind base and rail."""
    down, up = _covered(layout, solid)
    length, width, ends = measured(solid)
    if solid.part in PANELS:
        into = 2 * _groove(layout)
        note = f"its edges {format_size(into / 2)} into the frame" if into else ""
        return _piece(layout, solid, length + into, width + into, ends, note=note)
    note = f"runs on {format_size(down + up)} behind what is planted on it" if down + up else ""
    if solid.part in PLUMB:
        return _piece(layout, solid, length + down + up, width, ends, note=note)
    return _piece(layout, solid, length, width + down + up, ends, note=note)


def _covered(layout: WallLayout, solid: Solid) -> tuple[float, float]:
    """How far a part of a wainscot goes on behind the base below it and behind the rail above it [in]."""
    package, top = layout.package, layout.rail_top
    base, rail = package.element("base"), rail_of(package)
    down = solid.y0 if base is not None and abs(solid.y0 - base.size) <= TOUCH else 0.0
    under = top - rail.size if top is not None and rail is not None else None
    return down, (rail.size if rail is not None and under is not None and abs(solid.y1 - under) <= TOUCH else 0.0)


def _groove(layout: WallLayout) -> float:
    """How far a wainscot's panels go into its frame [in]."""
    placed = {p.part: p for p in layout.sections.get("wainscot", ())}
    frame, panel = placed.get(BOTTOM_RAIL), placed.get(PANEL)
    return frame.top - panel.y if frame is not None and panel is not None else 0.0


def _raked_infill(layout: WallLayout, solid: Solid) -> Iterator[Piece]:
    """Wainscot beside a flight: rails along the rake, all else plumb, its ends cut to the rake; panels with moulds.

    It goes on behind skirt and rail as the level one does behind base and rail.
    """
    base, rail = layout.package.element("base"), rail_of(layout.package)
    down, up = (element.size if element is not None else 0.0 for element in (base, rail))
    if solid.part in (Part.TOP_RAIL, Part.BOTTOM_RAIL):
        cut = _raked(layout, solid)
        yield replace(cut, width=cut.width + (up if solid.part is Part.TOP_RAIL else down))
        return
    (bx, by), (cx, cy) = solid.outline[1:3]
    slope = round(degrees(atan2(cy - by, cx - bx)), 6)
    ends = (Cut(Joint.MITRE, across=slope), Cut(Joint.MITRE, across=-slope)) if slope else (SQUARE, SQUARE)
    profile = codes(layout.package, solid) if solid.part in (Part.BATTEN, Part.BEADED_BOARD) else ()
    into = 2 * _groove(layout) if solid.part in PANELS else 0.0
    behind = (down + up) / cos(radians(slope)) if solid.part in (*BOARDS, Part.PLAIN_WAINSCOT) else 0.0
    yield _piece(layout, solid, solid.height + into + behind, solid.width + into, ends, profile)
    if solid.part in PANELS:
        yield from _moulds_round(layout, solid)


def _moulds_round(layout: WallLayout, solid: Solid) -> Iterator[Piece]:
    """The mouldings round a panel of any shape, mitred by half of what each corner lacks of a straight line."""
    element, corners = layout.package.element(solid.element), tuple(dict.fromkeys(solid.outline))
    wide = element.assembly.height if element is not None and element.assembly is not None else MOULD
    ways = [atan2(q[1] - p[1], q[0] - p[0]) for p, q in zip(corners, corners[1:] + corners[:1], strict=True)]
    mitres = [
        Cut(Joint.MITRE, across=round(degrees(way - before) % 360 / 2, 6))
        for before, way in zip(ways[-1:] + ways[:-1], ways, strict=True)
    ]
    bare, profile = solid._replace(part=Part.PANEL_MOULD, outline=()), codes(layout.package, solid)
    for n, (p, q) in enumerate(zip(corners, corners[1:] + corners[:1], strict=True)):
        cuts = (mitres[n], mitres[(n + 1) % len(corners)])
        yield _piece(layout, bare, hypot(q[0] - p[0], q[1] - p[1]), wide, cuts, profile)


def _moulds(layout: WallLayout, solid: Solid, element: Element | None) -> Iterator[Piece]:
    """The four mouldings round a panel, mitred at its corners: left, right, lower, upper."""
    stock = element.assembly if element is not None else None
    wide = stock.height if stock is not None else MOULD
    profile = codes(layout.package, solid)
    bare = solid._replace(part=Part.PANEL_MOULD)
    left, right = bare._replace(x1=solid.x0 + wide, side=Side.LEFT), bare._replace(x0=solid.x1 - wide, side=Side.RIGHT)
    lower, upper = bare._replace(y1=solid.y0 + wide), bare._replace(y0=solid.y1 - wide)
    for mould, length in ((left, solid.height), (right, solid.height), (lower, solid.width), (upper, solid.width)):
        yield _piece(layout, mould, length, wide, (MITRE, MITRE), profile)


def _boards(layout: WallLayout, solid: Solid) -> Iterator[Piece]:
    """Boards from edge to edge: beaded ones as they are drawn, others from the middle of one batten to the next."""
    edges = beads(solid)
    if solid.part is Part.BOARD:
        level = [s for s in layout.solids if s.part is Part.BATTEN and not s.outline]
        battens = [s for s in level if s.y0 < solid.y1 and solid.y0 < s.y1]
        edges = sorted(x for s in battens if solid.x0 + s.width < (x := (s.x0 + s.x1) / 2) < solid.x1 - s.width)
    profile = codes(layout.package, solid) if solid.part is Part.BEADED_BOARD else ()
    length = solid.height + sum(_covered(layout, solid))
    for x0, x1 in pairwise([solid.x0, *edges, solid.x1]):
        yield _piece(layout, solid._replace(x0=x0, x1=x1, form=""), length, x1 - x0, (SQUARE, SQUARE), profile)


def _piece(
    layout: WallLayout,
    solid: Solid,
    length: float,
    width: float,
    ends: tuple[Cut, Cut],
    profile: tuple[str, ...] = (),
    note: str = "",
) -> Piece:
    """A solid as a piece of wood."""
    place = Place(layout.room, layout.wall, solid.x0, solid.x1, solid.y0, solid.y1, solid.opening)
    return Piece(solid.part, solid.side, solid.element, length, width, ends, place, profile, solid.form, note)
