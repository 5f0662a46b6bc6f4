"""Every piece of wood that is nailed up in a room, and how its ends are cut. All lengths are inches."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from planner.library import Library
from planner.mouldings.curves import points
from planner.trim.joinery import joinery
from planner.trim.packages import Package
from planner.units import format_size
from planner.walls.behind import behind
from planner.walls.cuts import RETURNED, SQUARE, measured
from planner.walls.infill import infill, raked_infill
from planner.walls.layout import WallLayout
from planner.walls.openings import Surround
from planner.walls.parts import CROWNING, RAKED, RUNS, Part, Side
from planner.walls.piece import Piece, piece_of, stock_of
from planner.walls.runs import raked, returning, run
from planner.walls.solids import TOUCH, Solid

MADE_UP = (Part.MANTEL, Part.MANTEL_SHELF)
"""What is made up of boards and mouldings to its section."""

NOTES: Mapping[Part, str] = {
    Part.UPPER_LEG: "return its profile at the foot",
    Part.EAR_RETURN: "both mitres parallel",
    Part.STOOL: "its nosing worked round both ends",
    Part.MANTEL_SHELF: "its edge worked round both ends",
}
"""What is to be known of a part, common practice."""


def pieces(layouts: Sequence[WallLayout], library: Library) -> tuple[Piece, ...]:
    """Every piece of a room: wall by wall what stands round each opening, what runs and stands on the wall, and the
    boards behind it all.

    Parameters
    ----------
    layouts : all walls of the room, clockwise, as planner.walls.layout.lay_out gives them.
    library : what the trade knows.

    Returns
    -------
    The pieces. What stands round an opening is whole, even where it would reach past the wall (a check tells that);
    a run is from corner to corner or to what it stops at.
    """
    found: list[Piece] = []
    for i, layout in enumerate(layouts):
        for around in layout.surrounds:
            for solid in around.solids:
                if solid.part in MADE_UP:
                    found += _made_up(layout, around, solid)
                else:
                    found += _round_opening(layout, around, solid, library)
        beside = (layouts[i - 1], layouts[(i + 1) % len(layouts)])
        for solid in layout.solids:
            if solid.part in RAKED:
                found.append(raked(layout, solid))
            elif solid.outline and solid.element == "wainscot":
                found += raked_infill(layout, solid)
            elif not solid.opening:
                found += run(layout, beside, solid) if solid.part in RUNS else infill(layout, solid)
        found += behind(layout, library)
    return tuple(found)


def _round_opening(layout: WallLayout, around: Surround, solid: Solid, library: Library) -> Iterator[Piece]:
    """A piece that stands round an opening, and its returns where its ends are seen."""
    length, width, ends = measured(solid)
    note = NOTES.get(solid.part, "")
    if solid.behind:
        width, note = (
            width + solid.behind,
            f"let in behind the leg by {format_size(solid.behind, layout.unit)}, rebated",
        )
    package = layout.package.at(around.aperture.name)
    if solid.part is Part.STOOL:
        width -= _let_in(layout, solid.opening, library)
    stock = stock_of(layout, solid, around.aperture.kind)
    returned = _is_returned(package, around, solid)
    if returned:
        ends = (RETURNED, RETURNED)
    yield piece_of(layout, solid, length, width, ends, stock, note)
    if returned:
        yield from (returning(layout, solid, side, stock) for side in (Side.LEFT, Side.RIGHT))


def _let_in(layout: WallLayout, opening: str, library: Library) -> float:
    """Where a stool begins, off the bare wall [in]: below 0, as it is made or as it is let in between the jambs."""
    package = layout.package.at(opening)
    stool = package.element("stool")
    boards = joinery(package, stool, library) if stool is not None else ()
    placed = layout.sections_at(opening).get("stool", ())
    return min([0.0, *(p.x for p in placed), *(b.x for b in boards if b.comes_with == "stool")])


def _made_up(layout: WallLayout, around: Surround, solid: Solid) -> Iterator[Piece]:
    """The boards and mouldings that a part of a mantel is made up of, each to its section, from the bottom up."""
    foot = min(s.y0 for s in around.solids if s.part in MADE_UP)
    note = NOTES.get(solid.part, "")
    for placed in layout.sections_at(around.aperture.name).get("mantel", ()):
        for made in placed.timber:
            ys = [y for _, y in points(made.outline)]
            low, high = foot + placed.y + min(ys), foot + placed.y + max(ys)
            if solid.y0 < (low + high) / 2 <= solid.y1:
                depth, width = made.stuff
                cut = piece_of(layout, solid._replace(y0=low, y1=high), solid.width, width, (SQUARE, SQUARE), note=note)
                yield replace(cut, depth=depth)


def _is_returned(package: Package, around: Surround, solid: Solid) -> bool:
    """Whether a profile returns upon the wall at both ends: an overdoor's past its casing, a moulded apron's."""
    if solid.part is Part.APRON:
        apron = package.element("apron")
        return apron is not None and apron.members > 1
    cased = min((s.x0 for s in around.solids if s.part is Part.HEAD), default=solid.x0)
    return solid.part in CROWNING and solid.x0 < cased - TOUCH
