"""How much of a sheet of paper a drawing may fill, and at what scales things are drawn on it. Lengths in inches."""

from dataclasses import dataclass

from planner.deliverables.papers import PaperSize
from planner.drawings.scale import Scale
from planner.units import INCHES_IN, METRIC, Unit

STRIP = 0.72
"""Height of the strip along the foot that says what the sheet is."""

AIR = 0.18
"""Plain paper between the border and what is drawn."""


@dataclass(frozen=True)
class Frame:
    """A sheet of paper laid across, and its border [in]: that of the left edge, where it is bound, of the other upright
    edge, and of the long edges."""

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


BORDERS = {
    "ANSI B": (0.62, 0.62, 0.38),
    "A3": (20 * INCHES_IN["mm"], 10 * INCHES_IN["mm"], 10 * INCHES_IN["mm"]),
}
"""Borders of each paper [in], as in Frame: size B (ASME Y14.1, Drawing Sheet Size and Format), A3 with its filing
margin (ISO 5457:1999); from memory."""

LETTERING = 0.85
"""How many times as large type is as on a screen: figures of 7 pt, or 3/32 in between their lines, the least that
drawings are lettered in (common practice)."""

RATIOS = (24, 32, 48, 64, 96)
"""In feet and inches: walls at 1/2, 3/8, 1/4, 3/16 and 1/8 in to the foot (common practice)."""

METRIC_RATIOS = (20, 25, 50, 100)
"""In millimetres: the reduction scales of ISO 5455:1979, and 1 : 25 (common practice); from memory."""

SECTION_RATIOS = (1, 2, 4, 8, 16, 32)
"""In feet and inches: full size, half size, 3, 1 1/2, 3/4 and 3/8 in to the foot (common practice)."""

METRIC_SECTION_RATIOS = (1, 2, 5, 10, 20, 50)
"""In millimetres: ISO 5455:1979, from memory."""


DETAIL_RATIOS, METRIC_DETAIL_RATIOS = (4, 8, 12, 16, 24, 48), (5, 10, 20, 50)
"""Details: 3, 1 1/2, 1, 3/4, 1/2 and 1/4 in to the foot (common practice); in millimetres ISO 5455:1979, from
memory."""


def frame_of(size: PaperSize) -> Frame:
    """A paper with its border.

    >>> from planner.deliverables.papers import SIZES
    >>> frame_of(SIZES["ANSI B"]).width, round(frame_of(SIZES["A3"]).bound * 25.4)
    (17.0, 20)
    """
    return Frame(*size.sheet, *BORDERS[size.name])


def wall_scales(unit: Unit) -> tuple[Scale, ...]:
    """The scales of walls on paper in a house of that unit, the largest first."""
    return tuple(Scale(ratio, unit, LETTERING) for ratio in (METRIC_RATIOS if unit in METRIC else RATIOS))


def section_scales(unit: Unit) -> tuple[Scale, ...]:
    """The scales of sections on paper in a house of that unit, the largest first."""
    return tuple(
        Scale(ratio, unit, LETTERING) for ratio in (METRIC_SECTION_RATIOS if unit in METRIC else SECTION_RATIOS)
    )


def detail_scales(unit: Unit) -> tuple[Scale, ...]:
    """The scales of details on paper in a house of that unit, the largest first."""
    ratios = METRIC_DETAIL_RATIOS if unit in METRIC else DETAIL_RATIOS
    return tuple(Scale(ratio, unit, LETTERING) for ratio in ratios)
