"""The rates that a house is costed with: the library's, with what the house says in their place."""

from dataclasses import dataclass

from planner.house.model import House, OwnRate
from planner.library import Library
from planner.library.rate_rows import Rate
from planner.values import immutabledict


@dataclass(frozen=True)
class Figure:
    """A rate as it is in force, in the unit of its row.

    Parameters
    ----------
    rate : the row of the library.
    value : what it is taken for.
    low, high : the 10th and the 90th percentile of what it may be.
    confirmed : whether the house confirms it; else it is an assumption.
    own : whether the value is the house's.
    """

    rate: Rate
    value: float
    low: float
    high: float
    confirmed: bool = False
    own: bool = False

    @property
    def source(self) -> str:
        """Who says it."""
        return "the house" if self.own else self.rate.source


def figures_of(house: House, library: Library) -> immutabledict[str, Figure]:
    """Every rate of the library by name, as a house has it.

    Notes
    -----
    An end of the range that the house leaves blank is the value itself where it is confirmed; else it is as far from
    the value, in proportion, as the library has it.

    Examples
    --------
    >>> from planner.house.model import House, OwnRate
    >>> from planner.library import standard
    >>> own = House("", (), (), (), rates=(OwnRate("carpenter", 90.0), OwnRate("tax", 0.08, confirmed=True)))
    >>> found = figures_of(own, standard())
    >>> found["carpenter"].low, found["carpenter"].high, found["tax"].low
    (66.0, 120.0, 0.08)
    """
    return immutabledict({row.name: _figure(row, house.own_rates.get(row.name)) for row in library.rates})


def _figure(row: Rate, own: OwnRate | None) -> Figure:
    if own is None or own.value is None:
        return Figure(row, row.value, row.low, row.high, own is not None and own.confirmed)
    factor = row.units[own.unit or row.unit]
    value = own.value * factor
    low, high = (
        end * factor if end is not None else value if own.confirmed else value * usual / row.value
        for end, usual in ((own.low, row.low), (own.high, row.high))
    )
    return Figure(row, value, low, high, own.confirmed, own=True)
