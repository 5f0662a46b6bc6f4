"""The boards behind what stands on a wall, as pieces: grounds, furring, blocking, backing. All lengths are inches.

What comes with the opening (jambs, sills), with the framing of the house or with another element is no piece; nor is
the stair that a skirt stands beside.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise
from math import ceil

from planner.library import Library
from planner.trim.joinery import Board, joinery
from planner.trim.packages import Package
from planner.units import format_size
from planner.walls.cuts import SQUARE
from planner.walls.infill import covered
from planner.walls.layout import WallLayout, railed
from planner.walls.openings import Surround, casing_of
from planner.walls.parts import CROWNING, RUNS, Part, Side
from planner.walls.piece import Piece, place_of
from planner.walls.solids import TOUCH, Solid, gaps

LEGS = frozenset({Part.LEG, Part.UPPER_LEG})
"""What is plumb of a casing."""

SET_ON = frozenset({*CROWNING, Part.MANTEL_SHELF, Part.APRON})
"""What is set on a casing, or under a stool, from end to end."""


def behind(layout: WallLayout, library: Library) -> Iterator[Piece]:
    """The boards behind all that stands on a wall.

    Parameters
    ----------
    layout : the wall.
    library : what the trade knows; its joinery says which boards there are.

    Returns
    -------
    Pieces from end to end of what they lie behind; of blocks one piece that counts them.
    """
    for around in layout.surrounds:
        yield from _round_opening(layout, around, library)
    yield from _of_runs(layout, library)
    yield from _of_wainscot(layout, library)


def bought(package: Package, name: str, library: Library) -> tuple[Board, ...]:
    """The boards that are bought for an element of a package, none where it has no such element or where it stays."""
    element = package.element(name)
    boards = joinery(package, element, library) if element is not None and not element.stays else ()
    return tuple(board for board in boards if not board.comes_with)


def _of_runs(layout: WallLayout, library: Library) -> Iterator[Piece]:
    """Behind what runs along the wall, a crown taken as a whole."""
    crown = layout.package.element("crown")
    runs: dict[tuple[str, float, float, float], Solid] = {}
    for solid in layout.solids:
        if solid.part in RUNS:
            low, high = solid.y0, solid.y1
            if solid.part is Part.CROWN and crown is not None:
                low, high = layout.ceiling - crown.size, layout.ceiling
            runs.setdefault((solid.part, solid.x0, solid.x1, low), solid._replace(y0=low, y1=high))
    for solid in runs.values():
        for board in bought(layout.package, solid.element, library):
            yield _along(layout, solid, board, library)


def _of_wainscot(layout: WallLayout, library: Library) -> Iterator[Piece]:
    """The grounds behind a wainscot: the lower ones from its foot, the upper ones from its head, wherever that is; no
    upper one where it would meet a lower one."""
    package = railed(layout.package, layout.rail_top)
    element = package.element("wainscot")
    boards = sorted(bought(package, "wainscot", library), key=lambda board: board.y)
    if element is None:
        return
    for x0, x1, low, high in _stretches(layout):
        free = low
        for board in boards:
            at = high - element.size if board.y > element.size / 2 else low
            if at + board.y >= free - TOUCH:
                stretch = Solid(Part.PLAIN_WAINSCOT, "wainscot", x0, x1, at, high, element.projection)
                yield _along(layout, stretch, board, library)
                free = at + board.y + board.height


def _stretches(layout: WallLayout) -> Iterator[tuple[float, float, float, float]]:
    """Stretches of level wainscot: ends, foot and head [in], with what base and rail cover; one beside a flight is
    nailed to the studs."""
    standing = [s for s in layout.solids if s.element == "wainscot" and not s.outline and not s.on]
    reach = [(s.x0, s.x1, s.y0 - down, s.y1 + up) for s in standing for down, up in [covered(layout, s)]]
    alike: dict[tuple[float, float], list[tuple[float, float]]] = {}
    for x0, x1 in pairwise(sorted({x for s in standing for x in (s.x0, s.x1)})):
        middle = (x0 + x1) / 2
        for stack in _joined([(low, high) for left, right, low, high in reach if left < middle < right]):
            alike.setdefault(stack, []).append((x0, x1))
    for (low, high), spans in alike.items():
        for x0, x1 in _joined(spans):
            yield x0, x1, low, high


def _joined(spans: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """Spans that touch, together: what the gaps between them leave."""
    ends = (min((a for a, _ in spans), default=0.0), max((b for _, b in spans), default=0.0))
    return gaps(*ends, gaps(*ends, list(spans)))


def _round_opening(layout: WallLayout, around: Surround, library: Library) -> Iterator[Piece]:
    """Behind a casing an extension of the jambs and furring above the wainscot; behind what is set on it, all of it. A
    firebox has no jambs."""
    package, a = layout.package.at(around.aperture.name), around.aperture
    casing = casing_of(a.kind, package)
    if casing is not None:
        for board in bought(package, casing.element, library):
            if board.name == Part.JAMB_EXTENSION:
                yield from _jambs(layout, around, board) if a.kind != "fireplace" else ()
            else:
                yield from _behind_legs(layout, around, board)
    for name in dict.fromkeys(s.element for s in around.solids if s.part in SET_ON):
        own = [s for s in around.solids if s.element == name and s.part in SET_ON]
        ends = (min(s.x0 for s in own), max(s.x1 for s in own), min(s.y0 for s in own), max(s.y1 for s in own))
        for board in bought(package, name, library):
            yield _along(layout, Solid(own[0].part, name, *ends, own[0].projection, opening=a.name), board, library)


def _jambs(layout: WallLayout, around: Surround, board: Board) -> Iterator[Piece]:
    """What brings the two jambs and the head of an opening out to the casing's back."""
    a = around.aperture
    if not any(s.part is Part.LEG for s in around.solids):
        return
    out = board.height
    left, right = (a.x0 - out, a.x0, a.y0, a.y1), (a.x1, a.x1 + out, a.y0, a.y1)
    for ends, side in ((left, Side.LEFT), (right, Side.RIGHT)):
        yield _board(layout, Solid(Part.LEG, "casing", *ends, 0.0, side, opening=a.name), board, a.y1 - a.y0)
    head = Solid(Part.HEAD, "casing", a.x0 - out, a.x1 + out, a.y1, a.y1 + out, 0.0, opening=a.name)
    yield _board(layout, head, board, head.width)


def _behind_legs(layout: WallLayout, around: Surround, board: Board) -> Iterator[Piece]:
    """A strip behind the outer edge of each leg, above the wainscot, and of the head."""
    floor = layout.rail_top or 0.0
    for solid in around.solids:
        if solid.element != "casing":
            continue
        if solid.part in LEGS and solid.y1 - floor > TOUCH:
            foot = max(solid.y0, floor)
            yield _board(layout, solid._replace(y0=foot, outline=()), board, solid.y1 - foot)
        elif solid.part is Part.HEAD:
            yield _board(layout, solid, board, solid.width)


def _along(layout: WallLayout, solid: Solid, board: Board, library: Library) -> Piece:
    """A board behind a solid from end to end, or blocks evenly behind it; its foot is as the solid's says."""
    blocks, low = library.joinery.blocks, solid.y0 + board.y
    across = solid._replace(y0=low, y1=low + board.height, outline=())
    if not board.blocks:
        return _board(layout, across, board, solid.width)
    in_wall = board.x + board.depth <= TOUCH
    long = min(blocks.between if in_wall else blocks.along, solid.width)
    count = ceil(solid.width / blocks.every) + (0 if in_wall else 1)
    return replace(
        _board(layout, across, board, long), count=count, note=f"on centres of {format_size(blocks.every, layout.unit)}"
    )


def _board(layout: WallLayout, solid: Solid, board: Board, length: float) -> Piece:
    """A board as a piece, as wide and as thick as the box that it fills."""
    depth, width = sorted((board.depth, board.height))
    note = "ripped to its bevel" if board.shape else ""
    place = place_of(layout, solid)
    return Piece(Part(board.name), solid.side, solid.element, length, width, depth, (SQUARE, SQUARE), place, note=note)
