"""The boards behind an element, drawn lightly: outline, cross for blocks, and their names. Lengths in inches."""

from collections.abc import Sequence

from planner.drawings.scale import Scale
from planner.drawings.scene import Path, line, polygon, rectangle
from planner.library import Library
from planner.mouldings.curves import Line, Placement, Point
from planner.mouldings.members import Member, profile
from planner.mouldings.outlines import outline
from planner.trim.joinery import Board
from planner.trim.packages import Element
from planner.trim.panelling import BATTENS
from planner.walls.parts import Part
from planner.walls.wainscot import BEADED_BOARD, INFILL


def drawn(boards: Sequence[Board]) -> list[Path]:
    """The boards cut through where they stand: a cross for blocks, a slope for a board that runs on."""
    shapes: list[Path] = []
    for board in boards:
        shapes.append(polygon(board.corners, "edge", "paper"))
        if not board.shape:
            shapes.append(Path(_marks(board), "fine", name=board.name))
    return shapes


def named(boards: Sequence[Board], scale: Scale) -> list[tuple[Point, str]]:
    """What each kind of board is called, once, with its size, and the point that it is said of."""
    found: dict[str, tuple[Point, str]] = {}
    for board in boards:
        xs, ys = zip(*board.corners, strict=True)
        at = (sum(xs) / len(xs), sum(ys) / len(ys))
        size = f"{scale.size(board.height)} × {scale.size(board.depth)}"
        found.setdefault(board.name, (at, f"{board.name} {size}"))
    return list(found.values())


def in_plan(element: Element, library: Library) -> tuple[Path, ...]:
    """A stretch of a wainscot's boards cut level, its left end on the wall at (0, 0), the room above it: beaded edges
    that meet, or a batten over a joint; nothing of a form that is framed. [in]"""
    thick, rule = element.thickness, library.surrounds.panels
    proud = element.projection - thick
    flat = library.moulding("fascia")
    if element.form == BATTENS and proud > 0:
        wide = rule.battens_apart / 2
        board, batten = (profile([Member(flat, *size)], "board") for size in ((wide, thick), (rule.batten, proud)))
        found = [(board, 0.0, 0.0), (board, wide, 0.0), (batten, wide - rule.batten / 2, thick)]
    elif INFILL.get(element.form) is Part.BEADED_BOARD:
        bead = Member(library.moulding("beaded edge"), thick / 2, thick)
        board = profile([bead, Member(flat, BEADED_BOARD - thick / 2, thick)], "board")
        found = [(board, i * BEADED_BOARD, 0.0) for i in range(4)]
    else:
        return ()
    places = ((each, Placement(x, y, rotation=-90.0, mirror=True)) for each, x, y in found)
    cuts = (Path(place.segments(outline(each)), "cut", True, "wood", name=element.form) for each, place in places)
    return (*wall_in_plan(max(x + each.height for each, x, _ in found), thick), *cuts)


def wall_in_plan(length: float, thick: float) -> tuple[Path, ...]:
    """The wall behind boards cut level, so long and so thick [in], its face at y = 0."""
    behind = rectangle(0.0, -thick, length, thick, "shade", "wall", line=False)
    return behind, line((0.0, 0.0), (length, 0.0), "cut")


def floor(left: float, right: float, depth: float) -> tuple[Path, ...]:
    """The floor that an element stands on, at y = 0, cut as deep as that [in]."""
    under = rectangle(left, -depth, right - left, depth, "shade", "wall", line=False)
    return under, line((left, 0.0), (right, 0.0), "cut")


def ceiling(left: float, right: float, at: float, depth: float) -> tuple[Path, ...]:
    """The ceiling that an element hangs under, at a height, cut as deep as that [in]."""
    over = rectangle(left, at, right - left, depth, "shade", "wall", line=False)
    return over, line((left, at), (right, at), "cut")


def _marks(board: Board) -> tuple[Line, ...]:
    """The diagonal of a continuous board, both diagonals of blocks."""
    low, right, high, left = board.corners
    return (Line(low, high), Line(left, right)) if board.blocks else (Line(low, high),)
