"""What a room comes to by itself, before the bars of the house are cut. All lengths are inches."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from planner.library.rate_rows import Rate
from planner.mouldings.outlines import girth
from planner.takeoff.layers import is_bought
from planner.takeoff.sticks import Stick
from planner.takeoff.stuff import Stuff, Yard
from planner.takeoff.takeoff import cut_of
from planner.takeoff.work import Paid, at_the_wall, material
from planner.values import immutabledict
from planner.walls.layout import WallLayout
from planner.walls.piece import Piece


@dataclass(frozen=True)
class _Bought:
    """What pieces of some stuff take of the rate that pays for it."""

    stuff: Stuff
    yard: Yard
    paid: Paid

    @cached_property
    def face(self) -> float:
        """The girth of what shows of it [in]."""
        return sum(map(girth, self.stuff.profiles))

    @cached_property
    def by_inch(self) -> tuple[Rate, float]:
        """Of the length that is cheapest where all of it is used."""
        prices = self.stuff.prices or (None,) * len(self.stuff.lengths)
        usable = self.yard.allowances.usable
        bars = [
            (*material(self.stuff, length, price, self.paid), usable(length))
            for length, price in zip(self.stuff.lengths, prices, strict=True)
        ]
        return bars[0][0], min(amount / left for _, amount, left in bars if left > 0)

    def of(self, stick: Stick) -> tuple[Rate, float]:
        """What pays for the material of a piece, and how much of it there is."""
        if self.stuff.by_piece:
            length = self.stuff.sold_as or self.yard.allowances.cut_to(stick.length, stick.ends)
            return material(self.stuff, length, next(iter(self.stuff.prices), None), self.paid)
        taken = self.yard.allowances.taken(stick.length, stick.ends)
        rate, amount = self.by_inch
        return rate, amount * taken * (1 + self.yard.library.takeoff.leftover)


def room_amounts(
    layouts: Sequence[WallLayout], pieces: Sequence[Piece], yard: Yard, paid: Paid
) -> immutabledict[str, float]:
    """How much of each rate a room comes to, by the rate's name, each in what it is per; of a rate of stock prices,
    money.

    Parameters
    ----------
    layouts : the walls of the room.
    pieces : all pieces on them.
    yard : all that pieces can be cut from.
    paid : which rate pays for what.

    Notes
    -----
    As planner.takeoff.work, but each piece pays for what it takes of the bar that is cheapest by the inch, and for what
    is usually left over: which bars are cut, and what is left of them, is for the whole house to say.
    """
    by_wall = {layout.wall: layout for layout in layouts}
    known: dict[str, _Bought] = {}
    found = defaultdict[str, float](float)
    for number, piece in enumerate(pieces, 1):
        layout = by_wall[piece.place.wall]
        if not is_bought(layout, piece):
            continue
        for stick, stuff in cut_of(layout, piece, number, yard, []):
            bought = known.setdefault(stuff.name, _Bought(stuff, yard, paid))
            for rate, amount in (bought.of(stick), *at_the_wall(stuff, stick, bought.face, paid)):
                found[rate.name] += amount
    return immutabledict(found)
