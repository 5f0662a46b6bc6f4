"""Pieces of a wall as what is cut: each in as many layers as it is built up of profiles. All lengths are inches."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import radians, tan

from planner.mouldings.assembly import Placed
from planner.takeoff.saw import spring_of
from planner.takeoff.stuff import BOARDS, PANELLED, ROUGH, Stuff, Yard, of_stock
from planner.walls.cuts import Joint
from planner.walls.layout import WallLayout
from planner.walls.openings import casing_of
from planner.walls.parts import BEHIND, RAKED, RUNS, Part
from planner.walls.piece import Piece
from planner.walls.solids import TOUCH

LEVEL = frozenset({*RUNS, *RAKED, *(BEHIND - {Part.JAMB_EXTENSION}), Part.TOP_RAIL, Part.BOTTOM_RAIL})
"""What may be spliced where it belongs to no opening; of mouldings round panels also those that lie level."""

OF_CASINGS = ("casing", "backband", "crossette")
"""Elements that stay where the casing of their opening does."""

FOOT_ROLES = ("board", "base")
"""Roles of a base's profiles whose place a skirt board takes."""


@dataclass(frozen=True)
class Layer:
    """One profile of a piece from end to end.

    Parameters
    ----------
    piece : of the wall.
    number : of the layer in it, from the bottom up.
    stuff : what it is cut from.
    length : from long point to long point. [in]
    width, depth : of it, as it is finished. [in]
    before, after : by how much it is longer than its place at its left and right end. [in]
    spliced : whether it may be.
    spring : between its back and the wall, None for what stands flat. [degrees]
    """

    piece: Piece
    number: int
    stuff: Stuff
    length: float
    width: float
    depth: float
    before: float
    after: float
    spliced: bool
    spring: float | None = None


def is_bought(layout: WallLayout, piece: Piece) -> bool:
    """Whether a piece is bought, and not there already."""
    package = layout.package.at(piece.place.opening)
    element = package.element(piece.element)
    if piece.element not in OF_CASINGS:
        return element is None or not element.stays
    kind = next((a.kind for a in layout.apertures if a.name == piece.place.opening), "")
    of = (casing_of(kind, package), None if piece.element == "casing" else element)
    return not any(e.stays for e in of if e is not None)


def layers(layout: WallLayout, piece: Piece, yard: Yard) -> Iterator[Layer]:
    """The layers that a piece is built up of, one where it is of one profile or made to its section.

    Parameters
    ----------
    layout : the wall that the piece is on.
    piece : as planner.walls.pieces lists it.
    yard : all that pieces can be cut from.
    """
    own = tuple(p for p in piece.stock if piece.part is not Part.SKIRT or p.profile.role not in FOOT_ROLES)
    number = 0
    if piece.part is Part.SKIRT or not own:
        high = sum(p.profile.height for p in own) if piece.part is Part.SKIRT else 0.0
        yield _layer(piece, number, _made(layout, piece, piece.width - high, yard), piece.width - high, piece.depth)
        number += 1
        own = own if piece.part is Part.SKIRT else ()
    for placed in own:
        stuff = of_stock(placed.cut_from or placed.profile, yard.allowances)
        width = min(placed.profile.height, piece.width)
        yield _layer(piece, number, stuff, width, placed.profile.projection, placed)
        number += 1


def _made(layout: WallLayout, piece: Piece, width: float, yard: Yard) -> Stuff:
    """What a piece is cut from that no profile of the stock is for."""
    if piece.part in ROUGH:
        return yard.board(piece.depth, width, rough=True)
    if piece.part in BOARDS:
        return yard.board(piece.depth, width)
    if piece.part in PANELLED:
        return yard.panel(piece)
    return yard.section(piece, layout.sections_at(piece.place.opening).get(piece.element, ()))


def _layer(piece: Piece, number: int, stuff: Stuff, width: float, depth: float, placed: Placed | None = None) -> Layer:
    """A layer of a piece; it goes round outside corners, and returns, as far as its own face stands off the wall."""
    along = piece.place.x1 - piece.place.x0
    length, before, after = piece.length, 0.0, 0.0
    if piece.part is Part.RETURN and placed is not None:
        length = placed.reach
    elif piece.part in RUNS:
        turns = [tan(radians(cut.through)) if cut.joint is Joint.OUTSIDE else 0.0 for cut in piece.ends]
        whole = (piece.length - along) / sum(turns) if any(turns) else 0.0
        before, after = (turn * (placed.reach if placed is not None else whole) for turn in turns)
        length = along + before + after if any(turns) else piece.length
    spring = spring_of(placed) if placed is not None else None
    return Layer(piece, number, stuff, length, width, depth, before, after, _is_level(piece, along), spring)


def _is_level(piece: Piece, along: float) -> bool:
    """Whether a piece lies level or rises with a flight, and may be spliced."""
    if piece.place.opening or piece.count > 1:
        return False
    mould = piece.part is Part.PANEL_MOULD and abs(along - piece.length) <= TOUCH
    return (piece.part in LEVEL and along > TOUCH) or (mould and along > piece.place.y1 - piece.place.y0)
