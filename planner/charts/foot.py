"""The foot of a floor plan: the bar of its scale, the arrow to the north, the colours of the tiers, and notes."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from planner.charts.sheet import Sheet
from planner.look.theme import TEXT, text_width
from planner.units import INCHES_IN, Unit, running_unit

SCALE_BARS = (50, 20, 10, 5, 2, 1)
"""Lengths that a scale bar may have [ft], or [m] in a metric house."""

LONGEST_BAR = 0.25
"""The most of a sheet's width that the bar takes."""

BESIDE = 76.0
"""Pixels right of the longest bar for its length and the arrow, where the tiers stand in the same row."""

ARROW = 34.0
"""Pixels that the arrow to the north takes, with what keeps it clear of the tiers."""


class Foot(NamedTuple):
    """What stands below the levels; `compact` is with the tiers beside the bar and not below it."""

    tiers: int
    tier_names: Mapping[int, str]
    notes: Sequence[str]
    compact: bool
    unit: Unit

    def height(self, sheet: Sheet) -> float:
        """How high it is on a sheet like this one [px]."""
        return self.draw(Sheet(sheet.full_width, sheet.dark), 0.0, 1.0)

    def draw(self, sheet: Sheet, top: float, scale: float) -> float:
        """Draw it, `scale` in pixels an inch; returns where it ends."""
        part = LONGEST_BAR / 2 if self.compact else LONGEST_BAR
        after = _bar(sheet, top, scale, sheet.width * part, running_unit(self.unit))
        north = after + 10 if self.compact else sheet.width - 30
        left = max(sheet.width * part + BESIDE, north + ARROW) if self.compact else 8.0
        sheet.write("↑ N", north, top + 12, sheet.look.ink, TEXT["label"], bold=True)
        bottom = sheet.tiers(top - 2 if self.compact else top + 22, self.tiers, self.tier_names, left)
        for note in self.notes:
            bottom = sheet.paragraph(note, bottom)
        return bottom


def _bar(sheet: Sheet, top: float, scale: float, most: float, step: Unit) -> float:
    """A bar of whole feet or metres no longer than `most`; returns where the words beside it end [px]."""
    ink, y = sheet.look.ink, top + 14
    bars = {steps: steps * INCHES_IN[step] * scale for steps in SCALE_BARS}
    steps = next((steps for steps, long in bars.items() if long <= most), min(bars))
    long, words = bars[steps], f"{steps} {step}"
    sheet.line([(4, y - 4), (4, y), (4 + long, y), (4 + long, y - 4)], ink, "edge")
    sheet.write(words, 10 + long, y - 2, ink, TEXT["note"])
    return 10 + long + text_width(words, TEXT["note"])
