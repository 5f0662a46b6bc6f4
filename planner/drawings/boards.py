"""The boards behind an element, drawn lightly: outline, cross for blocks, and their names. Lengths in inches."""

from collections.abc import Sequence

from planner.drawings.scene import Path, line, polygon, rectangle
from planner.mouldings.curves import Line, Point
from planner.trim.joinery import Board
from planner.units import format_size


def drawn(boards: Sequence[Board]) -> list[Path]:
    """The boards cut through where they stand: a cross for blocks, a slope for a board that runs on."""
    shapes: list[Path] = []
    for board in boards:
        shapes.append(polygon(board.corners, "edge", "paper"))
        if not board.shape:
            shapes.append(Path(_marks(board), "fine", name=board.name))
    return shapes


def named(boards: Sequence[Board]) -> list[tuple[Point, str]]:
    """What each kind of board is called, once, with its size, and the point that it is said of."""
    found: dict[str, tuple[Point, str]] = {}
    for board in boards:
        xs, ys = zip(*board.corners, strict=True)
        at = (sum(xs) / len(xs), sum(ys) / len(ys))
        size = f"{format_size(board.height)} × {format_size(board.depth)}"
        found.setdefault(board.name, (at, f"{board.name} {size}"))
    return list(found.values())


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
