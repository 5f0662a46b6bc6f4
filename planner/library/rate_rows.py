"""What a row of library/rates.toml says: one rate that money is worked out with, and how far it may be off."""

from collections.abc import Mapping
from typing import Literal

from planner.library.rows import TableRow
from planner.units import INCHES_IN

Kind = Literal["wage", "pace", "run", "each", "end", "stock", "volume", "area", "piece", "finish", "markup", "tax"]
"""What a rate is multiplied with: see library/rates.toml."""

Made = Literal["", "board", "rough", "section", "panel", "carved"]
"""What pieces are made of that no profile of the stock is for; blank for what the stock has."""


PART = "part"
"""The unit of what is added as a part of something, which may be written in hundredths."""

METRES = INCHES_IN["ft"] / INCHES_IN["m"]
CUBIC_INCHES = 144.0
"""In a board foot."""

OTHERWISE: Mapping[str, Mapping[str, float]] = {
    "hours per ft": {"hours per m": METRES},
    "per sq ft": {"per sq m": METRES**2},
    "per board ft": {"per cu m": CUBIC_INCHES / INCHES_IN["m"] ** 3},
}
"""What else a unit may be given in, and how many of that unit one of the other is."""


class Rate(TableRow, frozen=True):
    """One rate, in its `unit`: its `value`, and the 10th and the 90th percentile of what it may be, `low` and `high`.

    A house may say another from `least` to `most`. It is for what `kind` says, of the `elements`, the `ends` of pieces
    or what is `made`, whichever is named; `made` goes before `elements`.
    """

    name: str
    says: str
    kind: Kind
    unit: str
    value: float
    low: float
    high: float
    least: float
    most: float
    source: str
    elements: tuple[str, ...] = ()
    ends: tuple[str, ...] = ()
    made: Made = ""

    @property
    def units(self) -> dict[str, float]:
        """The units that its figures may be given in, each with what makes them figures in its own."""
        return {self.unit: 1.0, **OTHERWISE.get(self.unit, {})}

    def unit_in(self, metric: bool) -> str:
        """The unit that its figures are shown in to those who measure in feet, or in metres."""
        return [*self.units][-1 if metric else 0]

    def says_in(self, metric: bool) -> str:
        """What it is, to those who measure in feet, or in metres."""
        return self.says.replace("foot of", "metre of") if metric else self.says
