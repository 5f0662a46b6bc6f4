"""The walk from the entry to each bedroom: bars as long as the tier, so that stairs are seen."""

from typing import TypedDict, cast

import pandas as pd

from planner.charts.finished import FinishedChart
from planner.charts.names import LINE_HEIGHT, name_column, short
from planner.charts.parts import MOST_WALKS, first_of
from planner.charts.sheet import Sheet, message
from planner.charts.vega_lite import EDGE, records
from planner.look import theme
from planner.look.theme import TEXT, text_on, text_width, wrapped

NAMES_HEADING = "Steps from the entry, and room"

SIGNS = {"abrupt": "abrupt step", "rises": "rising step", "faint": "step too faint to see"}
"""Steps that carry a sign, and what it means."""

LEAST_PANEL = 330
"""Least width of a walk [px]."""

GAP = 24.0
"""Pixels between walks that stand side by side."""

MOST_NAME = 170.0
"""Greatest width of the rooms' names [px]."""

SIGN_ROOM = 66
"""Pixels kept right of the longest bar for the sign of a step."""

ABOVE, BELOW, BETWEEN = 33.0, 34.0, 17.0
"""Pixels above the bars of a walk for a head of one line, below them for the axis, and between walks in a column."""


class StepRow(TypedDict):
    """Columns of frames.routes that are drawn."""

    position: int
    room: str
    tier: int
    tier_name: str
    step: str


def step_down(routes: pd.DataFrame, *, dark: bool = False, width: int = 720) -> FinishedChart:
    """The walk from the entry to each bedroom, top to bottom, a bar a room.

    Parameters
    ----------
    routes : frames.routes, or frames.compare_routes for several alternatives side by side on the same axes.

    Notes
    -----
    A step that is abrupt or rises away from the entry has a sign and the word beside the bar.
    """
    heading = "How the tiers step down from the entry to each bedroom"
    if routes.empty:
        return message(heading, "No route leads from the entry to a bedroom.", width, dark)
    routes, left_out = first_of(routes, "route", MOST_WALKS, "walks to bedrooms")
    by = [name for name in ("route", "alternative") if name in routes]
    tiers, columns = int(routes["tiers"].iloc[0]), _columns(routes, width)
    panel = (width - (columns - 1) * GAP) / columns
    walks = [Walk(heads, steps, tiers, panel) for heads, steps in _grouped(routes, by)]
    sheet, top = Sheet(width, dark), 0.0
    for start in range(0, len(walks), columns):
        beside = walks[start : start + columns]
        bars = top + max(walk.above for walk in beside)
        for column, walk in enumerate(beside):
            walk.draw(sheet, column * (panel + GAP), bars)
        top = bars + max(walk.names.bottom for walk in beside) + BELOW + BETWEEN
    signs = "; ".join(f"{theme.STEPS[name].glyph} {meaning}" for name, meaning in SIGNS.items())
    named = {step["tier"]: step["tier_name"] for walk in walks for step in walk.steps}
    said = ", ".join(f"{tier} {named[tier]}" for tier in sorted(named, reverse=True))
    bottom = sheet.paragraph(left_out, top - BETWEEN) if left_out else top - BETWEEN
    return sheet.chart(heading, f"Tier of {tiers}: {said}. {signs}", bottom)


def _grouped(routes: pd.DataFrame, by: list[str]) -> list[tuple[list[str], list[StepRow]]]:
    """The steps of each walk under its heads, walk by walk in the order in which they come."""
    groups: dict[tuple[str, ...], list[StepRow]] = {}
    for row in records(routes):
        groups.setdefault(tuple(str(row[name]) for name in by), []).append(cast(StepRow, row))
    places = {route: place for place, route in enumerate(dict.fromkeys(heads[0] for heads in groups))}
    return [(list(heads), groups[heads]) for heads in sorted(groups, key=lambda heads: places[heads[0]])]


def _columns(routes: pd.DataFrame, width: float) -> int:
    """How many walks stand side by side: alternatives of the same walk, else walks."""
    beside = "alternative" if "alternative" in routes else "route"
    return min(max(1, int((width + GAP) // (LEAST_PANEL + GAP))), int(routes[beside].nunique()))


class Walk:
    """One walk as a stair seen from the side; `heads` are its bedroom and, where there are several, its alternative."""

    def __init__(self, heads: list[str], steps: list[StepRow], tiers: int, panel: float) -> None:
        self.steps, self.tiers = steps, tiers
        self.head = wrapped(" · ".join([f"To {short(heads[0])}", *map(short, heads[1:])]), panel - 8, TEXT["label"])
        drawn = {f"{s['position']}\n{s['room']}": f"{s['position']} {s['room']}" for s in steps}
        self.names = name_column(drawn, min(0.42 * panel, MOST_NAME), 22, drawn=drawn, fixed=True)
        self.long = panel - self.names.width - 3 * EDGE
        self.unit = (self.long - SIGN_ROOM) / tiers

    @property
    def above(self) -> float:
        """Pixels that the head takes above the bars."""
        return ABOVE + LINE_HEIGHT * (len(self.head) - 1)

    def draw(self, sheet: Sheet, left: float, top: float) -> None:
        """Draw the walk from its left edge on, its bars from `top` down [px]."""
        for line, text in enumerate(reversed(self.head)):
            y = top - ABOVE + TEXT["label"] / 2 - LINE_HEIGHT * line
            sheet.write(text, left, y, sheet.look.ink, TEXT["label"], bold=True)
        sheet.write(NAMES_HEADING, left, top - 8, sheet.look.soft, TEXT["label"])
        for row in self.names.texts():
            x = left + self.names.width - 8
            sheet.write(row["text"], x, top + row["y"], sheet.look.ink, TEXT["label"], align="right")
        self._draw_axis(sheet, left + self.names.width, top, top + self.names.bottom)
        for step, (name, middle) in zip(self.steps, self.names.middle.items(), strict=True):
            band = self.names.band(name, 0.86)
            self._draw_bar(sheet, step, left + self.names.width, top + band["y"], top + middle, top + band["y2"])

    def _draw_axis(self, sheet: Sheet, x: float, top: float, bottom: float) -> None:
        """A line and a number for every tier, and the axis that they stand on."""
        look, size = sheet.look, TEXT["label"]
        for tier in range(1, self.tiers + 1):
            at = x + tier * self.unit
            sheet.line([(_crisp(at), top), (_crisp(at), bottom)], look.faint, "hatch")
            sheet.line([(_crisp(at), bottom), (_crisp(at), bottom + 5)], look.soft, "edge")
            sheet.write(str(tier), at + 0.5, bottom + 12.5, look.ink, size, align="center")
        sheet.line([(x, _crisp(bottom)), (x + self.long, _crisp(bottom))], look.soft, "edge")
        sheet.write("Tier", x + self.long / 2, bottom + 27.5, look.soft, size, align="center")

    def _draw_bar(self, sheet: Sheet, step: StepRow, x: float, top: float, middle: float, bottom: float) -> None:
        """A room's bar: its tier by name where there is room for it, and the sign of the step into it."""
        mark, named = theme.STEPS[step["step"]], f"{step['tier']} {step['tier_name']}"
        fill, end = theme.ramp(self.tiers, sheet.dark)[step["tier"] - 1], x + self.unit * step["tier"]
        sheet.block(x, top, end, bottom, fill, {"room": step["room"], "tier": named, "step": mark.word})
        fits = text_width(named, TEXT["note"]) < end - x - 10
        text = named if fits else str(step["tier"])
        sheet.write(text, end - 5, middle, text_on(fill), TEXT["note"], align="right")
        if mark.glyph:
            sheet.write(f"{mark.glyph} {mark.word}", end + 5, middle, sheet.look.alarm, TEXT["note"], bold=True)


def _crisp(place: float) -> float:
    """Where a thin line is drawn within one row of pixels."""
    return round(place) + 0.5
