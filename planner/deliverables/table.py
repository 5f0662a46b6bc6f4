"""A table that goes on paper: one value that the workbook and the CSV files are both written from."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from math import floor

import pandas as pd


class How(StrEnum):
    """How a cell follows from others in its row."""

    PRODUCT = "product"
    SUM = "sum"
    DIFFERENCE = "difference"


@dataclass(frozen=True)
class Worked:
    """A column that follows from others: how, and from which, by their headings; `places` is what it is rounded to."""

    how: How
    of: tuple[str, ...]
    places: int = 2


@dataclass(frozen=True, eq=False)
class Table:
    """A table with all that is to be known of it.

    Parameters
    ----------
    name : what its files are called.
    title : of its sheet, up to 31 characters.
    frame : its rows, under headings for people that end in their unit where they have one: "Length [in]".
    says : what is to be known by whoever reads it.
    totals : headings of the columns that are summed up.
    worked : the columns that follow from others in their row, by their headings.
    fast : how many columns from the left say which row it is.
    """

    name: str
    title: str
    frame: pd.DataFrame
    says: str = ""
    totals: tuple[str, ...] = ()
    worked: Mapping[str, Worked] = field(default_factory=dict)
    fast: int = 1

    def total(self, heading: str) -> float:
        """The sum of a column."""
        return float(self.frame[heading].sum())


def unit_of(heading: str) -> str:
    """The unit that a heading ends in, "" where it names none.

    >>> unit_of("Length [in]"), unit_of("Room")
    ('in', '')
    """
    return heading[heading.rindex("[") + 1 : -1] if heading.endswith("]") else ""


TAPE: Mapping[str, float] = {"in": 1 / 16, "mm": 1.0, "m": 0.001}
"""The least that is read off a tape, by the unit that it is written in."""

TAPE_PLACES = 4
"""To how many decimal places a length off a tape is exact in any of these units."""


def as_built(frame: pd.DataFrame) -> pd.DataFrame:
    """The table with every size to what is read off a tape: whole sixteenths of an inch, or whole millimetres.

    >>> sizes = {"Length [in]": [66.49, None], "Width [mm]": [1689.4, 12.5], "Bought [m]": [3.6576, 4.8768]}
    >>> as_built(pd.DataFrame(sizes)).values.tolist()
    [[66.5, 1689.0, 3.658], [nan, 13.0, 4.877]]
    """
    steps = {heading: TAPE[unit_of(heading)] for heading in frame.columns if unit_of(heading) in TAPE}
    return frame.assign(**{h: frame[h].astype(float).map(lambda x, by=by: _nearest(x, by)) for h, by in steps.items()})


def _nearest(value: float, step: float) -> float:
    return value if pd.isna(value) else round(floor(value / step + 0.5) * step, TAPE_PLACES)
