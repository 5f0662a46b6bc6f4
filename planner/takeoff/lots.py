"""All pieces of one profile, cut from bars over the whole house. All lengths are inches."""

from collections import deque
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil, floor

from planner.takeoff.allowances import Allowances
from planner.takeoff.bars import Answer, Bar, Problem, answer, problem
from planner.takeoff.cutting import cut
from planner.takeoff.filling import first_fit
from planner.takeoff.sticks import Stick
from planner.takeoff.stuff import Stuff

FINEST, MOST_UNITS = 1 / 16, 8192
"""What lengths are rounded up to [in], or twice, four times, … as much where the longest bar has more units."""

FOOT = 12.0
"""What prices by length are for [in]."""

HAIR = 1e-9


@dataclass(frozen=True)
class CutBar:
    """One bar, or one piece of what is sold by the piece.

    Parameters
    ----------
    number : of it, from 1.
    profile, stock_length : what is bought. [in]
    sticks : numbers of what is cut from it, the longest first.
    offcut : what is left of it, kerfs and both trimmed ends taken off. [in]
    price : in the house's currency, None where there is none.
    kerf, end_trim : what was taken at each cut and off each end. [in]
    """

    number: int
    profile: str
    stock_length: float
    sticks: tuple[int, ...]
    offcut: float
    price: float | None
    kerf: float
    end_trim: float


@dataclass(frozen=True)
class CutLot:
    """A profile with the bars that its pieces are cut from.

    Parameters
    ----------
    profile, stuff : what is cut.
    by_piece : whether it is bought by the piece.
    priced : whether `cost`, `bound` and `first_fit` are money in the house's currency; else they are inches bought.
    cost : of all bars.
    bound : no other bars that give all pieces cost less.
    first_fit : what first fit decreasing costs.
    finished : all its pieces together. [in]
    bars : the bars.
    """

    profile: str
    by_piece: bool
    priced: bool
    cost: float
    bound: float
    first_fit: float
    finished: float
    stuff: Stuff
    bars: tuple[CutBar, ...]

    @property
    def proved(self) -> bool:
        """Whether nothing is cheaper."""
        return self.bound >= self.cost

    @property
    def ordered(self) -> float:
        """All bars together [in]."""
        return sum(bar.stock_length for bar in self.bars)


def cut_lot(
    stuff: Stuff, sticks: Sequence[Stick], allowances: Allowances, numbers: Iterator[int], notes: list[str]
) -> CutLot:
    """The cheapest bars for all pieces of a profile, what is cut from each, and a bound.

    Parameters
    ----------
    stuff : what they are cut from.
    sticks : the pieces, in the order of the cut list.
    allowances : what is left for saws, ends and fits.
    numbers : of bars; each bar takes the next.
    notes : what is to be known is added: what is longer than anything sold.

    Notes
    -----
    A piece takes its length, its fit and one kerf, to the next 1/16 in; a bar gives its length less both trimmed ends.
    What has a price is cut for the least price, all else for the least length.
    """
    if stuff.by_piece:
        return _by_piece(stuff, sticks, allowances, numbers)
    usable = allowances.usable(stuff.longest)
    long = [s for s in sticks if allowances.taken(s.length, s.ends) > usable + HAIR]
    rest = [s for s in sticks if allowances.taken(s.length, s.ends) <= usable + HAIR]
    if long:
        rooms = ", ".join(dict.fromkeys(s.place.room for s in long[:3]))
        notes.append(
            f"{len(long)} of {stuff.name} ({rooms}{' …' if len(long) > 3 else ''}) cannot be spliced and"
            f" {'is' if len(long) == 1 else 'are'} longer than anything sold: have {'it' if len(long) == 1 else 'them'}"
            " made as long"
        )
    grid = _grid(stuff, allowances)
    asked = problem([_units(s, allowances, grid) for s in rest], _bars(stuff, allowances, grid))
    found = cut(asked)
    first = min((answer(asked, first_fit(asked, asked.largest), 0).cost for _ in rest[:1]), default=0)
    bars = [_long(stuff, s, allowances, next(numbers)) for s in long]
    bars += _cut(stuff, asked, found, rest, allowances, grid, numbers)
    return _lot(stuff, sticks, bars, (found.cost, found.bound, first))


def _lot(stuff: Stuff, sticks: Sequence[Stick], bars: list[CutBar], solved: tuple[int, int, int]) -> CutLot:
    """The lot, with what lies outside the program, as what is bought by the piece, at its cost in all three figures."""
    priced = bool(stuff.prices)
    by_price = priced and any(stuff.prices)
    cost = sum((bar.price or 0.0) if priced else bar.stock_length for bar in bars)
    solved_cost, bound, first = (n / 100 if by_price else (0.0 if priced else n * FINEST) for n in solved)
    cost = round(cost, 6)
    return CutLot(
        profile=stuff.name,
        by_piece=stuff.by_piece,
        priced=priced,
        cost=cost,
        bound=cost if bound >= solved_cost else round(cost - solved_cost + bound, 6),
        first_fit=round(cost - solved_cost + first, 6),
        finished=sum(s.length for s in sticks),
        stuff=stuff,
        bars=tuple(bars),
    )


def _grid(stuff: Stuff, allowances: Allowances) -> float:
    """The unit that lengths are counted in [in]."""
    grid = FINEST
    while allowances.usable(stuff.longest) > MOST_UNITS * grid:
        grid *= 2
    return grid


def _units(stick: Stick, allowances: Allowances, grid: float) -> int:
    return max(ceil(allowances.taken(stick.length, stick.ends) / grid - HAIR), 1)


def _bars(stuff: Stuff, allowances: Allowances, grid: float) -> list[Bar]:
    """What is sold, in units, at its price in cents, or else at its length in sixteenths."""
    by_price = any(stuff.prices)
    costs = [round(p * 100) for p in stuff.prices] if by_price else [round(x / FINEST) for x in stuff.lengths]
    capacities = (floor(allowances.usable(x) / grid + HAIR) for x in stuff.lengths)
    return [Bar(c, max(cost, 1)) for c, cost in zip(capacities, costs, strict=True) if c > 0]


def _cut(
    stuff: Stuff,
    asked: Problem,
    found: Answer,
    sticks: Sequence[Stick],
    allowances: Allowances,
    grid: float,
    numbers: Iterator[int],
) -> list[CutBar]:
    """Bars with what is cut from each: of pieces of one size the first on the cut list first."""
    queues: dict[int, deque[Stick]] = {size: deque() for size in asked.sizes}
    for stick in sticks:
        queues[_units(stick, allowances, grid)].append(stick)
    filled = []
    for pattern, times in sorted(found.patterns.items(), reverse=True):
        for _ in range(times):
            taken = [queues[size].popleft() for size, n in zip(asked.sizes, pattern, strict=True) for _ in range(n)]
            bar = asked.bar_for(sum(_units(s, allowances, grid) for s in taken))
            filled.append((min(s.number for s in taken), bar, taken))
    by_capacity = {bar.capacity: at for at, bar in _sold(stuff, asked, allowances, grid).items()}
    return [
        _bar(stuff, by_capacity[bar.capacity], taken, allowances, next(numbers))
        for _, bar, taken in sorted(filled, key=lambda f: f[0])
    ]


def _sold(stuff: Stuff, asked: Problem, allowances: Allowances, grid: float) -> dict[int, Bar]:
    """The bars of a problem by the place of their length among those that are sold."""
    known = {bar.capacity: bar for bar in asked.bars}
    units = [floor(allowances.usable(x) / grid + HAIR) for x in stuff.lengths]
    return {at: known[n] for at, n in enumerate(units) if n in known}


def _bar(stuff: Stuff, at: int, sticks: list[Stick], allowances: Allowances, number: int) -> CutBar:
    """A bar of the length in that place among those that are sold."""
    length = stuff.lengths[at]
    left = allowances.usable(length) - sum(allowances.taken(s.length, s.ends) for s in sticks)
    return CutBar(
        number=number,
        profile=stuff.name,
        stock_length=length,
        sticks=tuple(s.number for s in sorted(sticks, key=lambda s: (-s.length, s.number))),
        offcut=max(left, 0.0),
        price=stuff.prices[at] if stuff.prices else None,
        kerf=allowances.kerf,
        end_trim=allowances.end_trim,
    )


def _long(stuff: Stuff, stick: Stick, allowances: Allowances, number: int) -> CutBar:
    """What is longer than anything sold, ordered in whole steps."""
    needed = allowances.taken(stick.length, stick.ends) + 2 * allowances.end_trim
    length = ceil(needed / allowances.step - HAIR) * allowances.step
    price = round(stuff.per_foot * length / FOOT, 2) if stuff.per_foot is not None else None
    left = max(length - needed, 0.0)
    return CutBar(number, stuff.name, length, (stick.number,), left, price, allowances.kerf, allowances.end_trim)


def _by_piece(stuff: Stuff, sticks: Sequence[Stick], allowances: Allowances, numbers: Iterator[int]) -> CutLot:
    """One bought for each piece: as it is sold, or made to what the piece is cut to; a longer piece than is sold is
    ordered as much longer as its cuts and ends take."""
    bars = []
    for stick in sticks:
        sold, length = stuff.sold_as, allowances.cut_to(stick.length, stick.ends)
        kerf, trim, left = 0.0, 0.0, 0.0
        if sold is not None and sold >= stick.length:
            length, left = sold, sold - stick.length
        elif sold is not None:
            kerf, trim = allowances.kerf, allowances.end_trim
            length += kerf + 2 * trim
        price = stuff.prices[0] if stuff.prices else None
        bars.append(CutBar(next(numbers), stuff.name, length, (stick.number,), left, price, kerf, trim))
    return _lot(stuff, sticks, bars, (0, 0, 0))
