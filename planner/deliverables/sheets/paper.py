"""The papers that drawings are printed on, and how much of each a drawing may fill. Lengths in inches."""

from dataclasses import dataclass

from planner.drawings.scale import Scale
from planner.units import INCHES_IN, METRIC, Unit

STRIP = 0.72
"""Height of the strip along the foot that says what the sheet is."""

AIR = 0.18
"""Plain paper between the border and what is drawn."""

_MM = INCHES_IN["mm"]


@dataclass(frozen=True)
class PaperSize:
    """A sheet of paper laid across [in]: its name, its sides, and the border's distance from its left edge, where it is
    bound, from its other upright edge, and from its long edges."""

    name: str
    width: float
    height: float
    bound: float
    side: float
    edge: float

    @property
    def across(self) -> float:
        """How wide a drawing may be [in]."""
        return self.width - self.bound - self.side - 2 * AIR

    @property
    def down(self) -> float:
        """How high a drawing may be, above the strip [in]."""
        return self.height - 2 * self.edge - STRIP - 2 * AIR


ANSI_B = PaperSize("ANSI B", 17.0, 11.0, bound=0.62, side=0.62, edge=0.38)
"""Size and borders of size B (ASME Y14.1, Decimal Inch Drawing Sheet Size and Format, from memory)."""

A3 = PaperSize("A3", 420 * _MM, 297 * _MM, bound=20 * _MM, side=10 * _MM, edge=10 * _MM)
"""Size A3 (ISO 216, 2007) with the filing margin and borders of ISO 5457, 1999 (both from memory)."""

PAPERS = {paper.name: paper for paper in (ANSI_B, A3)}
"""Papers by name."""

RATIOS = (24, 32, 48, 64, 96)
"""In feet and inches: walls at 1/2, 3/8, 1/4, 3/16 and 1/8 in to the foot (common practice)."""

METRIC_RATIOS = (20, 25, 50, 100)
"""In millimetres: the reduction scales of ISO 5455, 1979, and 1 : 25 (common practice); from memory."""

SECTION_RATIOS = (1, 2, 4, 8)
METRIC_SECTION_RATIOS = (1, 2, 5, 10)
"""Sections: full size, half size, 3 and 1 1/2 in to the foot; in millimetres those of ISO 5455, 1979 (from memory)."""


def usual_paper(unit: Unit) -> PaperSize:
    """The paper of a house of that unit where none is asked for.

    >>> usual_paper("ft").name, usual_paper("mm").name
    ('ANSI B', 'A3')
    """
    return A3 if unit in METRIC else ANSI_B


def paper_named(name: str) -> PaperSize:
    """A paper by its name, whatever the case of letters and the marks between words.

    Raises
    ------
    ValueError : there is none of that name; says which there are.

    >>> paper_named("ansi-b").width, paper_named("A3").name
    (17.0, 'A3')
    """
    plain = name.replace("-", " ").replace("_", " ").casefold().strip()
    for paper in PAPERS.values():
        if paper.name.casefold() in (plain, name.casefold()):
            return paper
    raise ValueError(f'no paper is called "{name}"; there are {" and ".join(PAPERS)}')


def wall_scales(unit: Unit) -> tuple[Scale, ...]:
    """The scales of walls on paper in a house of that unit, the largest first."""
    return tuple(Scale(ratio, unit) for ratio in (METRIC_RATIOS if unit in METRIC else RATIOS))


def section_scales(unit: Unit) -> tuple[Scale, ...]:
    """The scales of sections on paper in a house of that unit, the largest first."""
    return tuple(Scale(ratio, unit) for ratio in (METRIC_SECTION_RATIOS if unit in METRIC else SECTION_RATIOS))
