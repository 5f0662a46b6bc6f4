"""The takeoff of a plan: what is cut, from which bars, and what is ordered. All lengths are inches."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import count

from planner.house.model import House
from planner.library import Library
from planner.stock.stock import Stock
from planner.takeoff.allowances import Allowances, allowances_of
from planner.takeoff.layers import is_bought, layers
from planner.takeoff.lots import CutBar, CutLot, cut_lot
from planner.takeoff.sticks import Stick, sticks
from planner.takeoff.stuff import Names, Stuff, Yard
from planner.walls.layout import WallLayout
from planner.walls.parts import BEHIND, RAKED, RUNS
from planner.walls.piece import Piece, Place

MOST_PIECES = 250_000
"""A house of which more pieces are cut is not taken off."""

LEAST_OFFCUT = 1 / 16
"""What is shorter than this is no offcut [in], whatever the house says."""


@dataclass(frozen=True)
class OrderLine:
    """How many bars of one length [in] of a profile are bought, and the price of one, None where there is none."""

    profile: str
    stock_length: float
    count: int
    price: float | None

    @property
    def amount(self) -> float | None:
        """What all of them cost."""
        return round(self.count * self.price, 2) if self.price is not None else None


@dataclass(frozen=True)
class Run:
    """What runs along a wall or beside a flight from end to end, and the profiles that it is built up of, from the
    bottom up, by what they are cut from."""

    number: int
    name: str
    element: str
    place: Place
    profiles: tuple[str, ...]


@dataclass(frozen=True)
class Takeoff:
    """What a plan comes to in wood.

    Parameters
    ----------
    sticks : every piece that is cut, in the order in which a crew works: floor, room, wall; their numbers run from 1.
    runs : what of it runs along a wall or beside a flight; each of its layers is one stick, or spliced of several.
    lots : each profile with the bars that its pieces are cut from.
    allowances : what was left for saws, ends and fits.
    notes : what is to be known, such as joints that could come nowhere good.
    """

    sticks: tuple[Stick, ...]
    runs: tuple[Run, ...]
    lots: tuple[CutLot, ...]
    allowances: Allowances
    notes: tuple[str, ...]

    @property
    def bars(self) -> tuple[CutBar, ...]:
        """Every bar that is bought, profile by profile; their numbers run from 1."""
        return tuple(bar for lot in self.lots for bar in lot.bars)

    @property
    def order(self) -> tuple[OrderLine, ...]:
        """What is bought, by profile and length."""
        lines: dict[tuple[str, float], list[CutBar]] = {}
        for bar in self.bars:
            lines.setdefault((bar.profile, bar.stock_length), []).append(bar)
        return tuple(OrderLine(*of, len(bars), bars[0].price) for of, bars in sorted(lines.items()))

    @property
    def panels(self) -> tuple[Stick, ...]:
        """The panels, each bought by the piece to its own size: no sheets are laid out, and what is left of sheets is
        not counted."""
        made = {lot.profile for lot in self.lots if lot.stuff.made == "panel"}
        return tuple(stick for stick in self.sticks if stick.profile in made)

    @property
    def unpriced(self) -> tuple[OrderLine, ...]:
        """What is bought that the stock has no price for."""
        return tuple(line for line in self.order if line.price is None)

    @property
    def offcuts(self) -> tuple[CutBar, ...]:
        """The bars of which so much is left that it is kept."""
        return tuple(bar for bar in self.bars if bar.offcut >= max(self.allowances.offcut, LEAST_OFFCUT))

    @property
    def ordered(self) -> float:
        """All that is bought [in]."""
        return sum(bar.stock_length for bar in self.bars)

    @property
    def finished(self) -> float:
        """All that stands on the walls in the end [in]."""
        return sum(stick.length for stick in self.sticks)

    @property
    def waste(self) -> float:
        """The part of what is bought by length that is sawn off or left over, offcuts that are kept counted in."""
        by_length = [lot for lot in self.lots if not lot.by_piece]
        bought = sum(bar.stock_length for lot in by_length for bar in lot.bars)
        used = sum(lot.finished for lot in by_length)
        return 1 - used / bought if bought else 0.0


def take_off(
    house: House,
    walls: Mapping[str, Sequence[WallLayout]],
    pieces: Mapping[str, Sequence[Piece]],
    stock: Stock | None,
    library: Library,
) -> Takeoff | None:
    """The takeoff of a house.

    Parameters
    ----------
    house : the house.
    walls, pieces : of each room that has trim, by its name, as planner.walls lays them out and lists them.
    stock : what can be bought; where there is none, all is made to its section.
    library : what the trade knows.

    Returns
    -------
    The takeoff; None where more than MOST_PIECES would be cut.
    """
    allowances = allowances_of(house, library)
    yard = Yard(stock, allowances, library, house.unit, Names({}))
    notes: list[str] = []
    found: list[tuple[Stick, Stuff]] = []
    runs: list[Run] = []
    for number, (layout, piece) in enumerate(_in_order(house, walls, pieces), 1):
        cut_from = tuple(cut_of(layout, piece, number, yard, notes))
        if piece.part in (*RUNS, *RAKED):
            profiles = tuple({stick.layer: stuff.name for stick, stuff in cut_from}.values())
            runs.append(Run(number, piece.name, piece.element, piece.place, profiles))
        found += cut_from
        if len(found) > MOST_PIECES:
            return None
    numbered = [(replace(stick, number=n), stuff) for n, (stick, stuff) in enumerate(found, 1)]
    lots: dict[str, tuple[Stuff, list[Stick]]] = {}
    for stick, stuff in numbered:
        lots.setdefault(stuff.name, (stuff, []))[1].append(stick)
    bars = count(1)
    cut = tuple(cut_lot(stuff, of, allowances, bars, notes) for _, (stuff, of) in sorted(lots.items()))
    return Takeoff(tuple(stick for stick, _ in numbered), tuple(runs), cut, allowances, tuple(dict.fromkeys(notes)))


def cut_of(
    layout: WallLayout, piece: Piece, number: int, yard: Yard, notes: list[str]
) -> Iterator[tuple[Stick, Stuff]]:
    """What a piece of a wall is cut into, and what each of it is cut from.

    Parameters
    ----------
    layout, piece : the piece, and the wall that it is on.
    number : of the piece.
    yard : all that pieces can be cut from.
    notes : what is to be known is added.
    """
    below: list[float] = []
    for layer in layers(layout, piece, yard):
        for stick in sticks(layout, layer, number, yard.allowances, below, notes):
            yield stick, layer.stuff


def _in_order(
    house: House, walls: Mapping[str, Sequence[WallLayout]], pieces: Mapping[str, Sequence[Piece]]
) -> Iterator[tuple[WallLayout, Piece]]:
    """What is bought, floor by floor, room by room and wall by wall: first the boards behind, then what stands round
    openings, then the rest."""
    for level in house.levels:
        for room in house.rooms:
            if room.level == level and room.name in pieces:
                order = {layout.wall: at for at, layout in enumerate(walls[room.name])}
                for piece in sorted(pieces[room.name], key=lambda p: (order[p.place.wall], _stage(p))):
                    layout = walls[room.name][order[piece.place.wall]]
                    if is_bought(layout, piece):
                        yield layout, piece


def _stage(piece: Piece) -> int:
    if piece.part in BEHIND:
        return 0
    return 1 if piece.place.opening else 2
