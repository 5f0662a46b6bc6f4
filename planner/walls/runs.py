"""What runs along a wall or up beside its stairs, as pieces: ends, returns, rake cuts. All lengths are inches."""

from collections.abc import Iterator, Mapping
from math import hypot, radians, tan

from planner.mouldings.assembly import Placed
from planner.walls.cuts import RETURNED, SQUARE, STRAIGHT, Cut, Joint, mitre, rake_cut
from planner.walls.layout import WallLayout
from planner.walls.openings import UNCASED
from planner.walls.parts import RAKED, Part, Side, called
from planner.walls.piece import Piece, depth_of, piece_of, place_of, stock_of
from planner.walls.solids import TOUCH, Point, Solid
from planner.walls.stairs import along_rake

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


def run(layout: WallLayout, beside: tuple[WallLayout, WallLayout], solid: Solid) -> Iterator[Piece]:
    """A run of moulding from end to end, and its returns."""
    left, right = (_end(layout, wall, solid, side) for wall, side in zip(beside, (Side.LEFT, Side.RIGHT), strict=True))
    past = sum(solid.projection * tan(radians(cut.through)) for cut in (left, right) if cut.joint is Joint.OUTSIDE)
    stock = stock_of(layout, solid)
    yield piece_of(layout, solid, solid.width + past, solid.height, (left, right), stock)
    for side, cut in ((Side.LEFT, left), (Side.RIGHT, right)):
        if cut.joint is Joint.RETURN:
            yield returning(layout, solid, side, stock)


def raked(layout: WallLayout, solid: Solid) -> Piece:
    """What runs up beside a flight: its length along the rake, from long point to long point, and its rake cuts."""
    (ax, ay), (bx, by) = solid.outline[0], solid.outline[-1]
    long = hypot(bx - ax, by - ay)
    ux, uy = (bx - ax) / long, (by - ay) / long
    ends = (
        rake_cut(solid.outline[0], solid.outline[1], ux, uy),
        rake_cut(solid.outline[-1], solid.outline[-2], -ux, -uy),
    )
    note = ""
    if solid.part is Part.SKIRT:
        note = "turns into the base in a mitre of half the rake, stands on the floor, the steps before it"
    elif solid.part is Part.RAKING_RAIL:
        note = "meets the level rail in a mitre of half the rake"
    stock = stock_of(layout, solid) if solid.part in RAKED else ()
    return piece_of(layout, solid, *along_rake(solid), ends, stock, note)


def _end(layout: WallLayout, beside: WallLayout, solid: Solid, side: Side) -> Cut:
    """How a run ends on one side: in a corner, or at what stands in its way."""
    right = side is Side.RIGHT
    x, corner = (solid.x1, layout.length) if right else (solid.x0, 0.0)
    if solid.outline and (mitred := mitre(*_end_corners(solid, right), 0, 1 if right else -1)) is not SQUARE:
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


def returning(layout: WallLayout, solid: Solid, side: Side, stock: tuple[Placed, ...]) -> Piece:
    """The short piece that carries a profile from the end of a run back to the wall."""
    x = solid.x1 if side is Side.RIGHT else solid.x0
    mitre = Cut(Joint.MITRE, through=45.0)
    ends = (SQUARE, mitre) if side is Side.LEFT else (mitre, SQUARE)
    place = place_of(layout, solid._replace(x0=x, x1=x))
    note = f"returns the {called(solid.part, form=solid.form)} upon the wall"
    length, depth = solid.projection, depth_of(layout, solid)
    return Piece(Part.RETURN, side, solid.element, length, solid.height, depth, ends, place, stock, note=note)
