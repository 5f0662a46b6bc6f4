"""What a row of library/takeoff.toml says: what is left for saws, ends and fits, and what boards come in."""

from planner.library.rows import TableRow
from planner.units import INCHES_IN, Unit, parse_length, section_unit


class Allowance(TableRow, frozen=True):
    """One allowance: its `value` [in; a scarf's in degrees] where a house does not say another from `least` to
    `most`."""

    name: str
    says: str
    value: float
    least: float
    most: float
    source: str


class Boards(TableRow, frozen=True):
    """What boards come in, dressed, rising [in]."""

    thicknesses: tuple[float, ...]
    widths: tuple[float, ...]
    source: str


class Sold(TableRow, frozen=True):
    """The lengths that are sold, rising, where a house is cut in `unit` and its stock says none; what is longer is
    ordered in whole multiples of `step` [both in that unit]."""

    unit: Unit
    lengths: tuple[float, ...]
    step: float
    source: str

    def nearest(self, inches: float) -> float:
        """The whole number of steps, one at least, that is nearest to a length [both in]."""
        steps = max(1, round(inches / (self.step * INCHES_IN[self.unit])))
        return parse_length(f"{steps * self.step:g}", self.unit)


class Takeoff(TableRow, frozen=True, rename={"allowances": "allowance"}):
    """What pieces are taken off by; `leftover` is by what part more material is counted than a room's pieces take where
    it is costed by itself."""

    leftover: float
    sold: tuple[Sold, ...]
    allowances: tuple[Allowance, ...]
    boards: Boards

    def sold_in(self, unit: Unit) -> Sold:
        """What is sold where a house is in a unit."""
        return next(row for row in self.sold if row.unit == section_unit(unit))
