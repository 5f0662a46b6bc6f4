"""What a piece is cut from: a profile of the stock, a board, or what is made to a section. All lengths are inches."""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from math import floor

from planner.library import Library
from planner.mouldings.assembly import Placed
from planner.mouldings.members import Member, Profile
from planner.stock.stock import FEET_IN, Stock, price_per_foot
from planner.takeoff.allowances import Allowances
from planner.units import Unit, format_size
from planner.walls.parts import BEHIND, Part
from planner.walls.piece import Piece
from planner.walls.solids import TOUCH

ROUGH = BEHIND - {Part.JAMB_EXTENSION}
"""What is never seen, and cut from rough boards."""

BOARDS = frozenset(
    {
        Part.JAMB_EXTENSION,
        Part.STILE,
        Part.TOP_RAIL,
        Part.BOTTOM_RAIL,
        Part.PLAIN_WAINSCOT,
        Part.BOARD,
        Part.SKIRT,
        Part.OVERMANTEL_FRAME,
    }
)
"""What is cut from boards, where no profile of the stock is for it."""

PANELLED = frozenset({Part.FLAT_PANEL, Part.RAISED_PANEL, Part.OVERMANTEL_PANEL})
"""What is ordered by the piece, as wide as it is."""

CARVED = frozenset({Part.CORNER_BLOCK, Part.ROSETTE, Part.CAPITAL, Part.BRACKET})
"""What is turned or carved, and ordered by the piece where the stock has none."""


@dataclass(frozen=True)
class Stuff:
    """What pieces are cut from.

    Parameters
    ----------
    name : the code of the stock, or what is made, with its section.
    lengths : that are sold, rising; of what is sold by the piece none. [in]
    prices : of a bar of each length, or of one piece, in the house's currency; empty where the stock has no price.
    sold_as : the length of a piece that is sold by the piece; None where it is ordered as long as it is used. [in]
    per_foot : price of a foot, for lengths that are not sold; None where the stock has no price.
    """

    name: str
    lengths: tuple[float, ...] = ()
    prices: tuple[float, ...] = ()
    sold_as: float | None = None
    per_foot: float | None = None

    @property
    def by_piece(self) -> bool:
        """Whether it is bought by the piece and not by length."""
        return not self.lengths

    @cached_property
    def longest(self) -> float:
        """The longest that is sold [in]."""
        return max(self.lengths, default=float("inf"))


def of_stock(profile: Profile, allowances: Allowances) -> Stuff:
    """A profile of the stock as it is sold: in its lengths, else by the piece, else in those that the house says."""
    if not profile.lengths and profile.unit == "each":
        return Stuff(profile.code, (), (profile.price,), profile.height)
    lengths = profile.lengths or allowances.lengths
    per_foot = price_per_foot(profile)
    prices = tuple(profile.price if profile.unit not in FEET_IN else _cents(per_foot * x / 12) for x in lengths)
    return Stuff(profile.code, lengths, prices, per_foot=per_foot)


def _cents(price: float) -> float:
    """To the cent, halves up."""
    return floor(price * 100 + 0.5 + 1e-9) / 100


@dataclass
class Names:
    """What is made to a section, by its name: two sections of one name are told apart by a number."""

    sections: dict[str, list[tuple[Member, ...]]]

    def name(self, name: str, section: tuple[Member, ...]) -> str:
        """The name of a section; of another section of that name with a number."""
        known = self.sections.setdefault(name, [])
        if section not in known:
            known.append(section)
        at = known.index(section)
        return name if not at else f"{name}, section {at + 1}"


@dataclass(frozen=True)
class Yard:
    """All that pieces can be cut from, besides the profiles of the stock that were chosen for them."""

    stock: Stock | None
    allowances: Allowances
    library: Library
    unit: Unit
    names: Names

    def board(self, thick: float, wide: float, *, rough: bool = False) -> Stuff:
        """A board to be dressed or ripped to a thickness and a width: the cheapest of the stock that is as thick and
        wide enough, else one in the next dressed sizes; what is wider than any is glued up to its width."""
        if not rough and (sold := self._sold(thick, wide)) is not None:
            return of_stock(sold, self.allowances)
        sizes = self.library.takeoff.boards
        thickness, width = _next(sizes.thicknesses, thick), _next(sizes.widths, wide)
        kind = "rough board" if rough else "board"
        return self._made(f"{kind} {format_size(thickness, self.unit)} x {format_size(width, self.unit)}")

    def section(self, piece: Piece, placed: Iterable[Placed]) -> Stuff:
        """What is made to the section of a piece; `placed` are the profiles of its element."""
        what = " ".join(dict.fromkeys(filter(None, (piece.element, piece.form))))
        sizes = f"{format_size(piece.width, self.unit)} x {format_size(piece.depth, self.unit)}"
        members = tuple(m for p in placed for m in p.profile.members)
        return self._made(self.names.name(f"{what} {sizes}", members), by_piece=piece.part in CARVED)

    def panel(self, piece: Piece) -> Stuff:
        """A panel to its own width, ordered by the piece."""
        thick = format_size(_next(self.library.takeoff.boards.thicknesses, piece.depth), self.unit)
        return self._made(f"{piece.part} {thick} x {format_size(piece.width, self.unit)}", by_piece=True)

    def _made(self, name: str, *, by_piece: bool = False) -> Stuff:
        return Stuff(name, () if by_piece else self.allowances.lengths)

    def _sold(self, thick: float, wide: float) -> Profile | None:
        boards = self.stock.by_role.get("board", ()) if self.stock is not None else ()
        enough = [b for b in boards if abs(b.projection - thick) <= TOUCH and b.height >= wide - TOUCH]
        return min(enough, key=lambda b: (price_per_foot(b), b.code), default=None)


def _next(sizes: Iterable[float], size: float) -> float:
    """The next of some rising sizes, or the size itself where none is as large."""
    return next((s for s in sizes if s >= size - TOUCH), size)
