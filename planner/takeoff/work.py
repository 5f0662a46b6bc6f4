"""How much of each rate a takeoff comes to, by room and element: material, hours at the wall, ends, and face."""

from collections import defaultdict
from collections.abc import Iterator
from functools import cached_property
from typing import NamedTuple

from planner.library import Library
from planner.library.rate_rows import CUBIC_INCHES, Rate
from planner.mouldings.outlines import girth
from planner.takeoff.sticks import Stick
from planner.takeoff.stuff import Stuff
from planner.takeoff.takeoff import Takeoff
from planner.values import immutabledict

FOOT, SQUARE_FOOT = 12.0, 144.0
"""In inches and square inches."""


class Work(NamedTuple):
    """What an amount is of: the room and the element that it goes to, and the rate that it is multiplied with."""

    room: str
    element: str
    rate: str


class Paid:
    """Which rate pays for what, found once."""

    def __init__(self, library: Library):
        self.rates = library.rates

    @cached_property
    def by_made(self) -> dict[str, Rate]:
        """Hours, by what a piece is made of."""
        return {r.made: r for r in self.rates if r.kind in ("run", "each") and r.made}

    @cached_property
    def by_element(self) -> dict[str, Rate]:
        """Hours, by element; what no rate names is under ""."""
        hours = [r for r in self.rates if r.kind in ("run", "each") and not r.made]
        return {element: r for r in hours for element in (r.elements or ("",))}

    @cached_property
    def by_end(self) -> dict[str, Rate]:
        """Hours, by how an end is made."""
        return {end: r for r in self.rates if r.kind == "end" for end in r.ends}

    @cached_property
    def material(self) -> dict[str, Rate]:
        """Material, by what it is made of, what the stock has under ""."""
        return {r.made: r for r in self.rates if r.kind in ("stock", "volume", "area", "piece")}

    @cached_property
    def finish(self) -> Rate:
        """What a square foot of face costs."""
        return next(r for r in self.rates if r.kind == "finish")


def work(takeoff: Takeoff, library: Library) -> immutabledict[Work, float]:
    """Amounts by room, element and rate, each in what its rate is per; of a rate of stock prices, money.

    Parameters
    ----------
    takeoff : what is cut, from which bars.
    library : whose rates pay for it.

    Notes
    -----
    A bar goes to its pieces by what each takes of it, so that offcuts and kerfs are paid for where they arise. What has
    a price in the stock costs that; boards without one go by the board feet that are bought, dressed, and what is made
    to a panel or a drawing by its size or by the piece. A face is as wide as its section's girth; a board shows its
    width and one edge; what lies behind shows none, and its ends are not fitted.
    """
    paid, found = Paid(library), defaultdict[Work, float](float)
    for lot in takeoff.lots:
        for bar in lot.bars:
            of = [takeoff.sticks[number - 1] for number in bar.sticks]
            taken = [takeoff.allowances.taken(stick.length, stick.ends) for stick in of]
            rate, amount = material(lot.stuff, bar.stock_length, bar.price, paid)
            for stick, part in zip(of, taken, strict=True):
                found[Work(stick.place.room, stick.element, rate.name)] += amount * part / sum(taken)
        shown = sum(map(girth, lot.stuff.profiles))
        for stick in (takeoff.sticks[number - 1] for bar in lot.bars for number in bar.sticks):
            for rate, amount in at_the_wall(lot.stuff, stick, shown, paid):
                found[Work(stick.place.room, stick.element, rate.name)] += amount
    return immutabledict({of: amount for of, amount in found.items() if amount})


def material(stuff: Stuff, length: float, price: float | None, paid: Paid) -> tuple[Rate, float]:
    """What pays for a bar of some length [in] at a price, if it has one, and how much of it there is."""
    if price is not None:
        return paid.material[""], price
    rate = paid.material[stuff.made]
    match rate.kind:
        case "volume":
            return rate, length * stuff.wide * stuff.thick / CUBIC_INCHES
        case "area":
            return rate, length * stuff.wide / SQUARE_FOOT
    return rate, 1.0


def at_the_wall(stuff: Stuff, stick: Stick, face: float, paid: Paid) -> Iterator[tuple[Rate, float]]:
    """What pays for the hours of a piece and for its finish, and how much of each there is; `face` is the girth of what
    it is cut from [in]."""
    made = stuff.made or ("carved" if stuff.by_piece else "")
    rate = paid.by_made.get(made) or paid.by_element.get(stick.element) or paid.by_element[""]
    yield rate, 1.0 if rate.kind == "each" else stick.length / FOOT
    if made != "rough" and not stuff.by_piece:
        for end in stick.ends:
            yield paid.by_end[end], 1.0
    yield paid.finish, _face(stuff, stick, face)


def _face(stuff: Stuff, stick: Stick, face: float) -> float:
    """The face of a piece that is finished [sq ft]; `face` is the girth of what it is cut from [in]."""
    if stuff.made == "rough":
        return 0.0
    if stuff.made == "panel":
        wide = stick.width
    elif face:
        ripped = max(sum(p.height for p in stuff.profiles) - stick.width, 0.0)
        wide = max(face - ripped, stick.width)
    else:
        wide = stick.width + stick.depth
    return wide * stick.length / SQUARE_FOOT
