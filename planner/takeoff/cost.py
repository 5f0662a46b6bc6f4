"""What a takeoff costs, by room, tier and element, and how far that may be off."""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from math import floor
from typing import NamedTuple, TypeVar

from planner.takeoff.rates import Figure
from planner.takeoff.spread import Spread, spread
from planner.takeoff.work import Work
from planner.units import listed
from planner.values import immutabledict

K = TypeVar("K")

CENTS = 100

LIBRARY_CURRENCY = "USD"
"""What money is in the library's rates."""

LABOUR = frozenset({"run", "each", "end"})
"""Kinds of rates that are hours."""

UNPRICED = frozenset({"volume", "area", "piece"})
"""Kinds of rates that stand in for prices that the stock does not have."""

MONEY = UNPRICED | {"wage", "finish"}
"""Kinds of rates that are money; all others are hours, parts and factors."""

PARTS = ("material", "labour", "finish", "markup", "tax")
"""What a cost is made up of."""


class Money(NamedTuple):
    """What something costs, part by part, in the house's currency."""

    material: float
    labour: float
    finish: float
    markup: float
    tax: float

    @property
    def total(self) -> float:
        """All parts."""
        return sum(self)


class Cell(NamedTuple):
    """Where money goes: a part of the cost of an element in a room."""

    room: str
    element: str
    part: str


@dataclass(frozen=True)
class Cost:
    """What a plan costs, in the house's currency, and how far that may be off.

    Parameters
    ----------
    cells : cents by room, element and part. Everything else is sums of them, so that all breakdowns agree.
    tiers : the tier of each room, by its name.
    figures : the rates that count here, by name.
    amounts : how much of each rate there is, in what it is per, by name; of wage, pace, markup and tax none.
    swings : by how much the total changes where a rate is at its low, and where it is at its high, by name.
    spread : how far the total may be off, in percentiles.
    currency : of all figures.
    """

    cells: immutabledict[Cell, int]
    tiers: immutabledict[str, int]
    figures: immutabledict[str, Figure]
    amounts: immutabledict[str, float]
    swings: immutabledict[str, tuple[float, float]]
    spread: Spread
    currency: str

    @cached_property
    def total(self) -> float:
        """All that is paid."""
        return sum(self.cells.values()) / CENTS

    @property
    def low(self) -> float:
        """The 10th percentile of what it may come to."""
        return round(self.spread.low, 2)

    @property
    def median(self) -> float:
        """What it is as likely to come to more than as less."""
        return round(self.spread.median, 2)

    @property
    def high(self) -> float:
        """The 90th percentile of what it may come to."""
        return round(self.spread.high, 2)

    @cached_property
    def by_rates(self) -> float:
        """What is paid for material that has no price in the stock, by the rates of boards and of what is made, before
        markup and tax."""
        return round(
            sum(self.amounts[n] * f.value for n, f in self.figures.items() if f.rate.kind in UNPRICED),
            2,
        )

    @cached_property
    def parts(self) -> Money:
        """The total, part by part."""
        return Money(*self._summed({part: part for part in PARTS}, "part").values())

    @cached_property
    def by_room(self) -> immutabledict[str, float]:
        """What each room costs."""
        return self._summed({room: room for room in self.tiers}, "room")

    @cached_property
    def by_tier(self) -> immutabledict[int, float]:
        """What all rooms of each tier cost, from the bottom up."""
        rooms = sorted(self.tiers.items(), key=lambda room: room[1])
        return self._summed(dict(rooms), "room")

    @cached_property
    def by_element(self) -> immutabledict[str, float]:
        """What each element costs, the dearest first."""
        found = self._summed({cell.element: cell.element for cell in self.cells}, "element")
        return immutabledict(sorted(found.items(), key=lambda one: (-one[1], one[0])))

    @property
    def assumptions(self) -> tuple[Figure, ...]:
        """The rates that count here and are not confirmed, that first which moves the total most."""
        found = [figure for figure in self.figures.values() if not figure.confirmed]
        return tuple(sorted(found, key=lambda f: (-self._width(f), f.rate.name)))

    @cached_property
    def foreign(self) -> str:
        """Which rates are the library's money, counted as if it were the house's, in a sentence; "" where none is."""
        rates = [n for n, f in self.figures.items() if f.rate.kind in MONEY and not (f.own or f.confirmed)]
        if self.currency == LIBRARY_CURRENCY or not rates:
            return ""
        return f"US dollars counted as if they were {self.currency}, until rates.csv says otherwise: {listed(rates)}."

    def _width(self, figure: Figure) -> float:
        low, high = self.swings[figure.rate.name]
        return high - low

    def _summed(self, groups: Mapping[str, K], by: str) -> immutabledict[K, float]:
        """Money by group, as the values of a column of the cells fall into groups."""
        cents: dict[K, int] = dict.fromkeys(groups.values(), 0)
        for cell, amount in self.cells.items():
            cents[groups[getattr(cell, by)]] += amount
        return immutabledict({group: amount / CENTS for group, amount in cents.items()})


def cost(amounts: Mapping[Work, float], figures: Mapping[str, Figure], tiers: Mapping[str, int], currency: str) -> Cost:
    """What amounts of work and material cost.

    Parameters
    ----------
    amounts : by room, element and rate, as planner.takeoff.work counts them.
    figures : every rate by name.
    tiers : the tier of each room that can cost anything, by its name.
    currency : of the house.

    Notes
    -----
    With w an hour of the carpenter and p the pace, an element in a room costs M + L + F + m (M + L + F) + t M: material
    M and finish F are amounts times rates, labour L is w p times hours, m is the markup and t the tax. Each of the five
    parts of the total is rounded to the cent once, and its cents are shared out to rooms and elements by the largest
    remainder, so that every breakdown adds up to the total.

    A swing is what one rate alone changes, at its low and at its high. The range takes the rates for independent, and
    draws them all at once, as planner.takeoff.spread has it. Where rates reach farther up than down, the total at their
    values lies below its median, and may lie below its range.

    References
    ----------
    JCGM 100:2008, Evaluation of measurement data: Guide to the expression of uncertainty in measurement, 5.1.3, note 2
    (sensitivities by changing one input at a time); from memory.
    """
    by_rate: defaultdict[str, float] = defaultdict(float)
    by_cell: defaultdict[tuple[str, str], dict[str, float]] = defaultdict(dict)
    for of, amount in amounts.items():
        by_rate[of.rate] += amount
        by_cell[of.room, of.element][of.rate] = amount
    values = {name: figure.value for name, figure in figures.items()}
    whole = priced(by_rate, values, figures)
    exact = {cell: priced(found, values, figures) for cell, found in sorted(by_cell.items())}
    cells: dict[Cell, int] = {}
    for at, part in enumerate(PARTS):
        shares = apportioned({cell: money[at] for cell, money in exact.items()}, round(whole[at] * CENTS))
        cells |= {Cell(*cell, part): cents for cell, cents in shares.items() if cents}
    rounding = sum(cells.values()) / CENTS - whole.total
    swings = {name: _swing(figure, by_rate, values, figures) for name, figure in figures.items()}
    used = {name for name, figure in figures.items() if _counts(figure, by_rate, figures)}
    return Cost(
        immutabledict(cells),
        immutabledict(tiers),
        immutabledict({name: figure for name, figure in figures.items() if name in used}),
        immutabledict(by_rate),
        immutabledict({name: swing for name, swing in swings.items() if name in used}),
        spread(lambda drawn: priced(by_rate, drawn, figures).total + rounding, figures.values()),
        currency,
    )


def priced(amounts: Mapping[str, float], values: Mapping[str, float], figures: Mapping[str, Figure]) -> Money:
    """What amounts cost at the values of their rates, both by the rate's name; `figures` say what each is for.

    Values may be arrays of as many draws, and are then costed draw by draw.
    """
    hours, material, finish = 0.0, 0.0, 0.0
    wage = markup = tax = 0.0
    pace = 1.0
    for name, figure in figures.items():
        kind, value = figure.rate.kind, values[name]
        paid = amounts.get(name, 0.0) * value
        match kind:
            case "wage":
                wage = value
            case "pace":
                pace = value
            case "markup":
                markup = value
            case "tax":
                tax = value
            case "finish":
                finish += paid
            case "run" | "each" | "end":
                hours += paid
            case _:
                material += paid
    labour = hours * wage * pace
    return Money(material, labour, finish, markup * (material + labour + finish), tax * material)


def apportioned(shares: Mapping[K, float], whole: int) -> dict[K, int]:
    """Whole numbers that add up to one, as near to some shares of it as can be: by the largest remainder.

    Parameters
    ----------
    shares : at least 0, in any unit; where all are 0 nothing is shared out.

    Examples
    --------
    >>> apportioned({"a": 1.0, "b": 1.0, "c": 1.0}, 100)
    {'a': 34, 'b': 33, 'c': 33}
    """
    parts = {key: Fraction(share) for key, share in shares.items()}
    total = sum(parts.values())
    if not total:
        return dict.fromkeys(shares, 0)
    exact = {key: part * whole / total for key, part in parts.items()}
    found = {key: floor(share) for key, share in exact.items()}
    left = whole - sum(found.values())
    for key in sorted(exact, key=lambda k: found[k] - exact[k])[:left]:
        found[key] += 1
    return found


def _swing(
    figure: Figure, amounts: Mapping[str, float], values: Mapping[str, float], figures: Mapping[str, Figure]
) -> tuple[float, float]:
    """By how much the total changes where one rate is at its low and at its high."""
    total = priced(amounts, values, figures).total
    low, high = (
        priced(amounts, {**values, figure.rate.name: end}, figures).total - total for end in (figure.low, figure.high)
    )
    return low, high


def _counts(figure: Figure, amounts: Mapping[str, float], figures: Mapping[str, Figure]) -> bool:
    """Whether a rate has any part in the total."""
    name, kind = figure.rate.name, figure.rate.kind
    if kind == "markup":
        return bool(amounts)
    if kind in ("wage", "pace", "tax"):
        labour = kind != "tax"
        return any((figures[of].rate.kind in LABOUR) is labour and figures[of].rate.kind != "finish" for of in amounts)
    return name in amounts
