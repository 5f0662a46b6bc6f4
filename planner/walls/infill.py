"""What fills a wall between its mouldings, as pieces: frames, panels, boards. All lengths are inches."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise
from math import atan2, cos, degrees, hypot, radians

from planner.trim.packages import Element
from planner.trim.panelling import BOTTOM_RAIL, PANEL
from planner.units import format_size
from planner.walls.cuts import MITRE, SQUARE, Cut, Joint, measured
from planner.walls.layout import WallLayout, rail_of
from planner.walls.parts import BOARDS, PANELS, PLUMB, Part, Side
from planner.walls.piece import Piece, piece_of, stock_of
from planner.walls.runs import raked
from planner.walls.solids import TOUCH, Solid
from planner.walls.wainscot import MOULD, RAISED_FIELD, beads


def infill(layout: WallLayout, solid: Solid) -> Iterator[Piece]:
    """What fills a wall between its mouldings: stiles, rails, panels with their moulds, boards, battens."""
    if solid.part in BOARDS:
        yield from _boards(layout, solid)
        return
    element = layout.package.element(solid.element)
    if solid.part is Part.WALL_PANEL:
        if element is not None and element.form == RAISED_FIELD:
            yield piece_of(layout, solid._replace(part=Part.RAISED_PANEL), *measured(solid))
    elif solid.part is Part.BATTEN:
        yield piece_of(layout, solid, *measured(solid), stock_of(layout, solid))
    else:
        yield _framed(layout, solid)
    if solid.part in PANELS or solid.part is Part.WALL_PANEL:
        yield from _moulds(layout, solid, element)


def _framed(layout: WallLayout, solid: Solid) -> Piece:
    """A piece of a frame as it is cut: a panel with what goes into the grooves, rails and stiles with what runs on
    behind base and rail."""
    down, up = covered(layout, solid)
    length, width, ends = measured(solid)
    if solid.part in PANELS:
        into = 2 * _groove(layout)
        note = f"its edges {format_size(into / 2, layout.unit)} into the frame" if into else ""
        return piece_of(layout, solid, length + into, width + into, ends, note=note)
    note = f"runs on {format_size(down + up, layout.unit)} behind what is planted on it" if down + up else ""
    if solid.part in PLUMB:
        return piece_of(layout, solid, length + down + up, width, ends, note=note)
    return piece_of(layout, solid, length, width + down + up, ends, note=note)


def covered(layout: WallLayout, solid: Solid) -> tuple[float, float]:
    """How far a part of a wainscot goes on behind the base below it and behind the rail above it [in]."""
    package, top = layout.package, layout.rail_top
    base, rail = package.element("base"), rail_of(package)
    down = up = 0.0
    for floor in layout.floors:
        if base is not None and abs(solid.y0 - floor - base.size) <= TOUCH:
            down = base.size
        if rail is not None and top is not None and abs(solid.y1 - floor - top + rail.size) <= TOUCH:
            up = rail.size
    return down, up


def _groove(layout: WallLayout) -> float:
    """How far a wainscot's panels go into its frame [in]."""
    placed = {p.part: p for p in layout.sections.get("wainscot", ())}
    frame, panel = placed.get(BOTTOM_RAIL), placed.get(PANEL)
    return frame.top - panel.y if frame is not None and panel is not None else 0.0


def raked_infill(layout: WallLayout, solid: Solid) -> Iterator[Piece]:
    """Wainscot beside a flight: rails along the rake, all else plumb, its ends cut to the rake; panels with moulds.

    It goes on behind skirt and rail as the level one does behind base and rail.
    """
    base, rail = layout.package.element("base"), rail_of(layout.package)
    down, up = (element.size if element is not None else 0.0 for element in (base, rail))
    if solid.part in (Part.TOP_RAIL, Part.BOTTOM_RAIL):
        cut = raked(layout, solid)
        yield replace(cut, width=cut.width + (up if solid.part is Part.TOP_RAIL else down))
        return
    (bx, by), (cx, cy) = solid.outline[1:3]
    slope = round(degrees(atan2(cy - by, cx - bx)), 6)
    ends = (Cut(Joint.MITRE, across=slope), Cut(Joint.MITRE, across=-slope)) if slope else (SQUARE, SQUARE)
    stock = stock_of(layout, solid) if solid.part in (Part.BATTEN, Part.BEADED_BOARD) else ()
    into = 2 * _groove(layout) if solid.part in PANELS else 0.0
    behind = (down + up) / cos(radians(slope)) if solid.part in (*BOARDS, Part.PLAIN_WAINSCOT) else 0.0
    yield piece_of(layout, solid, solid.height + into + behind, solid.width + into, ends, stock)
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
    bare, stock = solid._replace(part=Part.PANEL_MOULD, outline=()), stock_of(layout, solid)
    for n, (p, q) in enumerate(zip(corners, corners[1:] + corners[:1], strict=True)):
        cuts = (mitres[n], mitres[(n + 1) % len(corners)])
        yield piece_of(layout, bare, hypot(q[0] - p[0], q[1] - p[1]), wide, cuts, stock)


def _moulds(layout: WallLayout, solid: Solid, element: Element | None) -> Iterator[Piece]:
    """The four mouldings round a panel, mitred at its corners: left, right, lower, upper."""
    wide = element.assembly.height if element is not None and element.assembly is not None else MOULD
    stock = stock_of(layout, solid)
    bare = solid._replace(part=Part.PANEL_MOULD)
    left, right = bare._replace(x1=solid.x0 + wide, side=Side.LEFT), bare._replace(x0=solid.x1 - wide, side=Side.RIGHT)
    lower, upper = bare._replace(y1=solid.y0 + wide), bare._replace(y0=solid.y1 - wide)
    for mould, length in ((left, solid.height), (right, solid.height), (lower, solid.width), (upper, solid.width)):
        yield piece_of(layout, mould, length, wide, (MITRE, MITRE), stock)


def _boards(layout: WallLayout, solid: Solid) -> Iterator[Piece]:
    """Boards from edge to edge: beaded ones as they are drawn, others from the middle of one batten to the next."""
    edges = beads(solid)
    if solid.part is Part.BOARD:
        level = [s for s in layout.solids if s.part is Part.BATTEN and not s.outline]
        battens = [s for s in level if s.y0 < solid.y1 and solid.y0 < s.y1]
        edges = sorted(x for s in battens if solid.x0 + s.width < (x := (s.x0 + s.x1) / 2) < solid.x1 - s.width)
    stock = stock_of(layout, solid) if solid.part is Part.BEADED_BOARD else ()
    length = solid.height + sum(covered(layout, solid))
    for x0, x1 in pairwise([solid.x0, *edges, solid.x1]):
        yield piece_of(layout, solid._replace(x0=x0, x1=x1, form=""), length, x1 - x0, (SQUARE, SQUARE), stock)
