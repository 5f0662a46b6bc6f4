"""What is left for saws, ends and fits, as the library has it and the house overrides it. Lengths are inches."""

from dataclasses import dataclass
from typing import Any

from planner.house.model import House
from planner.library import Library
from planner.takeoff.ends import End
from planner.units import INCHES_IN


@dataclass(frozen=True)
class Allowances:
    """What pieces are taken off by: the rows of library/takeoff.toml by name, in inches but for `scarf` in degrees.

    `lengths` are sold where the stock says none, and what is longer is ordered in whole multiples of `step` [in].
    """

    kerf: float
    end_trim: float
    fit_square: float
    fit_miter: float
    fit_cope: float
    offcut: float
    studs: float
    corner: float
    scarf: float
    lengths: tuple[float, ...]
    step: float

    def fit(self, ends: tuple[End, End]) -> float:
        """What a piece with such ends is cut long, to be fitted [in]."""
        return sum(self._fit(end) for end in ends)

    def usable(self, stock_length: float) -> float:
        """What a bar gives once its ends are trimmed [in]; each piece takes its length, its fit and a kerf of it."""
        return stock_length - 2 * self.end_trim

    def cut_to(self, length: float, ends: tuple[End, End]) -> float:
        """What a piece is cut to before it is fitted [in]."""
        return length + self.fit(ends)

    def taken(self, length: float, ends: tuple[End, End]) -> float:
        """What a piece takes of a bar [in]."""
        return self.cut_to(length, ends) + self.kerf

    def _fit(self, end: End) -> float:
        if end is End.SQUARE:
            return self.fit_square
        return self.fit_cope if end is End.COPE else self.fit_miter


def allowances_of(house: House, library: Library) -> Allowances:
    """The allowances of a house: the library's, with what the house says in their place."""
    said: dict[str, Any] = {row.name: row.value for row in library.takeoff.allowances}
    sold = library.takeoff.sold_in(house.unit)
    said["lengths"] = tuple(length * INCHES_IN[sold.unit] for length in sold.lengths)
    return Allowances(**(said | {"step": sold.step * INCHES_IN[sold.unit]} | dict(house.takeoff)))
