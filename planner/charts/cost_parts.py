"""What the money of one plan goes to, group by group, and what it is made up of."""

from typing import cast

import pandas as pd

from planner.charts.finished import FinishedChart
from planner.charts.names import NameColumn, name_column, short
from planner.charts.parts import MOST_ROOMS
from planner.charts.sheet import message
from planner.charts.vega_lite import AT, BAND, EDGE, QUIET, Datum, Spec, config, layer, records, title, tooltip
from planner.look import theme
from planner.look.theme import TEXT, text_width
from planner.takeoff.cost import PARTS

ROW = 22
"""Least height of a group's row [px]."""


def cost_parts(costs: pd.DataFrame, by: str, currency: str, *, dark: bool = False, width: int = 720) -> FinishedChart:
    """A bar for what each group costs, part by part, the dearest first.

    Parameters
    ----------
    costs : frames.cost, summed up by some columns of which the first names the group.
    by : what the groups are called, e.g. "Room".
    currency : of the money.
    """
    if costs.empty:
        return message("What the money goes to", "The plan could not be taken off.", width, dark)
    rows, name = records(costs[:MOST_ROOMS]), costs.columns[0]
    groups = [{**row, "group": str(row[name])} for row in rows]
    names = name_column((r["group"] for r in groups), 0.34 * width, ROW)
    plot = width - names.width - 2 * EDGE - 2
    figures = [_figure(r, names, currency) for r in groups]
    room = max(text_width(f["text"], TEXT["note"]) for f in figures) + 12
    most = max(f["cost"] for f in figures)
    axis = {"title": f"Cost ({currency})", "tickCount": max(3, int(plot / 110)), "format": ",.0f"}
    scale = {"domain": [0, max(most, 1) * plot / max(plot - room, 1)], "nice": False}
    x = {"type": "quantitative", "scale": scale, "axis": axis}
    return FinishedChart(
        {
            "title": title(finding(costs, by, currency), _subtitle(costs, by), width - 2 * EDGE),
            "width": plot,
            "height": names.bottom,
            "padding": EDGE,
            "layer": [
                _bars(groups, names, x, currency, 3 if width < 500 else 5, dark),
                _figures(figures, x, theme.palette(dark)),
                *names.layers(by, theme.palette(dark)),
            ],
            "config": config(dark),
        },
        "; ".join(f"{f['group']}: {f['told']}" for f in figures),
    )


def finding(costs: pd.DataFrame, by: str, currency: str) -> str:
    """What most money goes to, and which part of it, in a sentence."""
    rows = records(costs)
    total, dearest, dear = sum(row["cost"] for row in rows), str(costs.iloc[0, 0]), rows[0]["cost"]
    parts = {part: sum(row[part] for row in rows) for part in PARTS}
    part = max(parts, key=lambda one: parts[one])
    share = f"{parts[part] / total:.0%}" if total else "nothing"
    named = f"{by} {dearest}" if by == "Tier" else short(dearest)
    return f"The largest part of {currency} {total:,.0f} goes to {named}, {dear:,.0f}; {share} of all is {part}"


def _subtitle(costs: pd.DataFrame, by: str) -> str:
    """How the chart is read, and what of it is not drawn."""
    more = f"; drawn are the {MOST_ROOMS} dearest of {len(costs):,}" if len(costs) > MOST_ROOMS else ""
    return (
        f"What each {by.lower()} costs, from the left {', '.join(PARTS[:-1])} and {PARTS[-1]}; the dearest first{more}"
    )


def _figure(row: Datum, names: NameColumn, currency: str) -> Datum:
    told = ", ".join(f"{part} {row[part]:,.0f}" for part in PARTS)
    text = f"{row['cost']:,.0f}"
    at = {"y": names.middle[row["group"]], "text": text, "told": f"{currency} {text}: {told}"}
    return {"group": row["group"], "cost": row["cost"], **at}


def _bars(groups: list[Datum], names: NameColumn, x: Spec, currency: str, columns: int, dark: bool) -> Spec:
    parts = []
    for row in groups:
        end = 0.0
        for part in PARTS:
            start, end = end, end + cast("float", row[part])
            told = f"{currency} {row[part]:,.0f}"
            at = {"group": row["group"], "part": part, "costs": told, "x": start, "x2": end}
            parts.append(at | names.band(row["group"]))
    colours = {"domain": list(PARTS), "range": list(theme.greys(len(PARTS), dark))}
    below = {"title": None, "orient": "bottom", "columns": columns}
    mark = {"type": "rect", "stroke": theme.palette(dark).soft, "strokeWidth": theme.pixels("hatch")}
    channels = {
        "x": {"field": "x", **x},
        "x2": {"field": "x2"},
        **BAND,
        "color": {"field": "part", "type": "nominal", "scale": colours, "legend": below},
        "tooltip": tooltip("group", "part", "costs"),
    }
    return layer(parts, mark, channels)


def _figures(figures: list[Datum], x: Spec, look: theme.Palette) -> Spec:
    mark = {"type": "text", "align": "left", "baseline": "middle", "dx": 6, "color": look.ink, "fontSize": TEXT["note"]}
    channels = {"x": {"field": "cost", **x}, "y": AT["y"], "text": {"field": "text"}}
    return layer(figures, mark | QUIET, channels)
