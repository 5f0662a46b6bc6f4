"""What each alternative costs in money, with its range, one below the other."""

from collections.abc import Sequence
from math import ceil
from typing import TypedDict, cast

import pandas as pd

from planner.charts.finished import FinishedChart
from planner.charts.names import NameColumn, name_column, short
from planner.charts.sheet import message
from planner.charts.vega_lite import AT, EDGE, QUIET, Datum, Spec, config, layer, records, title, tooltip
from planner.look import theme
from planner.look.theme import TEXT, text_width

ROW = 34
"""Least height of an alternative's row [px]."""


class CostRow(TypedDict):
    """Columns of frames.costs."""

    alternative: str
    currency: str
    cost: float
    low: float
    high: float
    index: float
    assumptions: int
    rates: int


def cost_ranges(costs: pd.DataFrame, *, dark: bool = False, width: int = 720) -> FinishedChart:
    """A dot for what each alternative costs, on a line from the 10th to the 90th percentile.

    Parameters
    ----------
    costs : frames.costs.

    Notes
    -----
    Money is measured from nothing, so that lengths compare as costs do.
    """
    if costs.empty:
        return message("What each alternative costs", "None of them could be taken off.", width, dark)
    rows = cast("list[CostRow]", records(costs))
    names = name_column((r["alternative"] for r in rows), 0.32 * width, ROW)
    marks = [_mark(r, names) for r in rows]
    plot = width - names.width - 2 * EDGE - 2
    room = max(text_width(m["text"], TEXT["note"]) for m in marks) / 2
    most = max(m["high"] for m in marks)
    axis = {"title": f"Cost ({rows[0]['currency']})", "tickCount": max(3, int(plot / 110)), "format": ",.0f"}
    # A figure of the axis that is near its end goes no further than its tick.
    axis["labelFlush"] = ceil(text_width(f"{most:,.0f}", TEXT["label"]) / 2)
    # A figure is as wide over its dot on either side, and must end within the plot.
    scale = {"domain": [0, max(most * 1.02, *(m["cost"] / (1 - room / plot) for m in marks))], "nice": False}
    x = {"type": "quantitative", "scale": scale, "axis": axis}
    return FinishedChart(
        {
            "title": title(finding(rows), subtitle(rows), width - 2 * EDGE),
            "width": plot,
            "height": names.bottom,
            "padding": EDGE,
            "layer": [*_layers(marks, x, theme.palette(dark)), *names.layers("Alternative", theme.palette(dark))],
            "config": config(dark),
        },
        "; ".join(f"{m['alternative']}: {m['told']}" for m in marks),
    )


def finding(rows: Sequence[CostRow]) -> str:
    """Which alternative costs least, and by how much against the next, in a sentence."""
    cheapest, *others = sorted(rows, key=lambda r: r["cost"])
    currency = cheapest["currency"]
    if not others:
        return f"{short(cheapest['alternative'])} costs {currency} {cheapest['cost']:,.0f}"
    apart = others[0]["cost"] - cheapest["cost"]
    if round(apart) == 0:
        return f"{short(cheapest['alternative'])} and {short(others[0]['alternative'])} cost the same, and least"
    return f"{short(cheapest['alternative'])} costs least, {currency} {apart:,.0f} less than the next"


def subtitle(rows: Sequence[CostRow]) -> str:
    """How the chart is read, and what its ranges rest on."""
    most = max(rows, key=lambda r: r["assumptions"])
    return (
        "Dot: the cost; line: from the 10th to the 90th percentile of what it may be; the alternatives share their "
        f"rates, and {most['assumptions']} of {most['rates']} are assumptions"
    )


def _mark(row: CostRow, names: NameColumn) -> Datum:
    cost, low, high = (f"{row[of]:,.0f}" for of in ("cost", "low", "high"))
    return {
        **row,
        "y": names.middle[row["alternative"]],
        "over": names.middle[row["alternative"]] - 12,
        "text": cost,
        "told": f"{row['currency']} {cost}, from {low} to {high}",
    }


def _layers(marks: Sequence[Datum], x: Spec, look: theme.Palette) -> list[Spec]:
    line = {"type": "rule", "stroke": look.ink, "strokeWidth": theme.pixels("profile")}
    end = {"type": "tick", "orient": "vertical", "size": 10, "color": look.ink, "thickness": theme.pixels("profile")}
    dot = {"type": "point", "shape": "circle", "size": 90, "filled": True, "fill": look.ink, "opacity": 1}
    figures = {"type": "text", "baseline": "middle", "color": look.ink, "fontSize": TEXT["note"]} | QUIET
    over = {"field": "over", "type": "quantitative", "scale": None, "axis": None}
    told = {"tooltip": tooltip("alternative", "told")}
    return [
        layer(marks, line, {"x": {"field": "low", **x}, "x2": {"field": "high"}, "y": AT["y"], **told}),
        *(layer(marks, end, {"x": {"field": of, **x}, "y": AT["y"], **told}) for of in ("low", "high")),
        layer(marks, dot, {"x": {"field": "cost", **x}, "y": AT["y"], **told}),
        layer(marks, figures, {"x": {"field": "cost", **x}, "y": over, "text": {"field": "text"}}),
    ]
