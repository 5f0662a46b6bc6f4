"""The sizes of every element by tier under one ceiling."""

from typing import TypedDict, cast

import pandas as pd

from planner.charts.finished import FinishedChart
from planner.charts.names import name_column
from planner.charts.sheet import Sheet, message
from planner.charts.vega_lite import records
from planner.look import theme
from planner.look.theme import TEXT

HEAD = 44
"""Pixels above the first row, for the tiers' numbers and names."""

ROW = 36
"""Least height of a row: a size in figures with its bar below [px]."""


class ElementRow(TypedDict):
    """Columns of frames.elements that are drawn."""

    tier: int
    tier_name: str
    element: str
    form: str
    size: float
    size_text: str
    projection_text: str


def element_sizes(
    elements: pd.DataFrame, *, ceiling: float | None = None, dark: bool = False, width: int = 720
) -> FinishedChart:
    """The sizes of every element by tier under one ceiling; bars compare the tiers within a row.

    Parameters
    ----------
    elements : frames.elements.
    ceiling : ceiling height [in], or None for the highest there is.
    """
    title = "Sizes of trim by tier"
    if elements.empty or (ceiling is not None and ceiling not in set(elements["ceiling"])):
        return message(title, "There is no package to show.", width, dark)
    ceiling = float(elements["ceiling"].max()) if ceiling is None else ceiling
    shown = elements[elements["ceiling"] == ceiling]
    sheet, tiers = Sheet(width, dark), int(shown["tier"].max())
    drawn = {e: e.capitalize() for e in shown.sort_values("tier", ascending=False, kind="stable")["element"]}
    names = name_column(drawn, 0.3 * sheet.width, ROW, top=HEAD, drawn=drawn)
    cell = (sheet.width - names.width) / tiers
    left = {tier: names.width + 4 + (tier - 1) * cell for tier in range(1, tiers + 1)}
    sheet.write("Tier", left[1], 6, sheet.look.soft, TEXT["label"])
    sheet.names(names, "Element")
    tier_names = dict(zip(shown["tier"], shown["tier_name"], strict=True))
    for tier, x in left.items():
        sheet.write(str(tier), x, 21, sheet.look.ink, TEXT["note"], bold=True)
        sheet.write(tier_names.get(tier, ""), x, 35, sheet.look.ink, TEXT["note"])
    ramp = theme.ramp(int(shown["tiers"].iloc[0]), dark)
    greatest = shown.groupby("element")["size"].max().to_dict()
    for e in cast("list[ElementRow]", records(shown)):
        long = (cell - 10) * e["size"] / greatest[e["element"]]
        _size(sheet, e, left[e["tier"]], names.middle[e["element"]], long, ramp[e["tier"] - 1])
    subtitle = "Height, or width of a casing; bars compare within a row"
    return sheet.chart(f"{title} under a {shown['ceiling_text'].iloc[0]} ceiling", subtitle, names.bottom)


def _size(sheet: Sheet, e: ElementRow, x: float, y: float, long: float, fill: str) -> None:
    """An element's size in figures, and below it a bar `long` pixels."""
    said = {"element": e["element"], "form": e["form"], "tier": f"{e['tier']} {e['tier_name']}"}
    said |= {"size": e["size_text"], "projection": e["projection_text"]}
    sheet.block(x, y + 3, x + long, y + 12, fill, said)
    sheet.write(e["size_text"], x, y - 6, sheet.look.ink, TEXT["note"])
