"""The boards behind an element's face: what it is nailed to, and what fills the hollows of what is boxed or sprung.

Lengths in inches: x off the bare wall, below 0 in the wall; y above the element's foot, round an opening from the
casing's edge at the opening outwards.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import groupby

from planner.library import Library
from planner.library.joinery_rows import BoardRow
from planner.mouldings.assembly import Placed
from planner.mouldings.curves import Point
from planner.mouldings.outlines import HAIR
from planner.mouldings.timber import FLAT, Timber
from planner.trim.packages import Element, Package
from planner.trim.sections import PANELLED, sections

RUN_UP = "board run up"
"""What a board is called where it goes on behind what is planted on its face."""

LEAST = 0.375
"""What is hollow by less than this [in] is left so, common practice."""


@dataclass(frozen=True)
class Board:
    """A board behind an element's face [in].

    Parameters
    ----------
    name : what the trade calls it: "ground", "furring", "blocking", "backing", "jamb", "bottom rail" ...
    x, y : its lower edge at the back, off the bare wall and above the element's foot.
    depth, height : of the box that it fills.
    shape : its corners, where it is no rectangle.
    blocks : whether it is short blocks at intervals.
    comes_with : what it is a part of, where it is not bought for this element: another element, the opening, the
        framing of the house.
    source : who says so.
    """

    name: str
    x: float
    y: float
    depth: float
    height: float
    shape: tuple[Point, ...] = ()
    blocks: bool = False
    comes_with: str = ""
    source: str = "common practice"

    @property
    def corners(self) -> tuple[Point, ...]:
        """Its corners [in], against the clock."""
        right, top = self.x + self.depth, self.y + self.height
        return self.shape or ((self.x, self.y), (right, self.y), (right, top), (self.x, top))


@lru_cache(maxsize=4096)
def joinery(package: Package, element: Element, library: Library) -> tuple[Board, ...]:
    """The boards behind the face of an element of a package, from what is nearest to the face to what is in the wall.

    Parameters
    ----------
    package : the room's trim; a wainscot of it is what base and rail stand on.
    element : of the package.
    library : what the trade knows; boards are rows of library/joinery.toml.

    Examples
    --------
    >>> from planner.library import standard
    >>> from planner.trim.packages import package
    >>> state = package("georgian", "doric", 5, 120, standard(), top=5)
    >>> [board.name for board in joinery(state, state.element("casing"), standard())]
    ['jamb', 'jamb extension', 'shims', 'stud', 'furring']
    """
    placed = sections(package, library).get(element.element, ())
    hollow = () if element.element in PANELLED else (*_run_up(placed, element.ground), *_filling(placed))
    return (*_frame(package, element, library), *hollow, *_from_table(element, placed, library))


def _frame(package: Package, element: Element, library: Library) -> Iterator[Board]:
    """The wainscot's frame or boards behind a base or a rail that is planted on it, as far as these cover it."""
    wainscot = package.element("wainscot")
    if wainscot is None or element is wainscot or not element.ground or element.bottom is None:
        return
    for p in sections(package, library).get("wainscot", ()):
        low, high = max(p.y, element.bottom), min(p.top, element.bottom + element.size)
        if high - low > HAIR and p.reach <= element.ground + HAIR:
            yield Board(p.part, p.x, low - element.bottom, p.profile.projection, high - low, comes_with="wainscot")


def _run_up(placed: Sequence[Placed], ground: float) -> Iterator[Board]:
    """Boards that run up behind what is planted on their face, and blocking behind what stands off any other."""
    board: Placed | None = None
    for p in placed:
        for together, pieces in groupby(p.timber, key=lambda t: t.back):
            if together > 0:
                spans = tuple(pieces)
                low, high = min(_low(t) for t in spans), max(_high(t) for t in spans)
                solid = together > p.profile.thickness + HAIR
                yield Board("blocking" if solid else RUN_UP, p.x, p.y + low, together, high - low, blocks=solid)
        off = p.x - ground
        if off > LEAST and p.y > HAIR:
            if board is not None and board.profile.projection <= off + LEAST:
                depth = min(board.profile.projection, off)
                yield Board(RUN_UP, ground, p.y, depth, p.profile.height)
            else:
                yield Board("blocking", ground, p.y, off, p.profile.height, blocks=True)
        kinds = {m.kind for m in p.profile.members}
        if kinds <= set(FLAT) and not p.turned and off <= LEAST:
            board = p
        elif "corona" in kinds or p.turned:
            board = None


def _filling(placed: Sequence[Placed]) -> Iterator[Board]:
    """Blocking in what is boxed, backing behind what is sprung."""
    for p in placed:
        for t in p.timber:
            if not t.hollow:
                continue
            corners = tuple((p.x + x, p.y + y) for x, y in t.hollow)
            xs, ys = [x for x, _ in corners], [y for _, y in corners]
            depth, height = max(xs) - min(xs), max(ys) - min(ys)
            if min(depth, height) >= LEAST:
                sprung = t.made == "sprung"
                name = "backing" if sprung else "blocking"
                yield Board(name, min(xs), min(ys), depth, height, corners if sprung else (), blocks=not sprung)


def _from_table(element: Element, placed: Sequence[Placed], library: Library) -> Iterator[Board]:
    """Boards of library/joinery.toml."""
    where = "wainscot" if element.ground else "plaster"
    for row in library.joinery.boards:
        if element.element in row.elements and row.where in ("anywhere", where) and element.size >= row.least:
            board = _of_row(row, element)
            if board.height > 0 and board.depth > 0 and not any(_fills(p, board) for p in placed):
                yield board


def _fills(placed: Placed, board: Board) -> bool:
    """Whether a profile that goes into the wall by itself is where a board would be."""
    return placed.x < -LEAST and placed.y <= board.y + HAIR and placed.top >= board.y + board.height - HAIR


def _of_row(row: BoardRow, element: Element) -> Board:
    height = row.height + row.of_size * element.size
    foot = row.y if row.at == "foot" else element.size - row.y - height
    depth = row.depth + (element.ground if row.to_ground else 0.0)
    return Board(row.name, row.x, foot, depth, height, blocks=row.blocks, comes_with=row.comes_with, source=row.source)


def _low(piece: Timber) -> float:
    return min(min(s.start[1], s.end[1]) for s in piece.outline)


def _high(piece: Timber) -> float:
    return max(max(s.start[1], s.end[1]) for s in piece.outline)
