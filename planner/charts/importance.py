"""What makes up each room's importance, and the tier that comes of it."""

from typing import TypedDict, cast

import pandas as pd

from planner.charts.finished import FinishedChart
from planner.charts.names import NameColumn, name_column
from planner.charts.parts import MOST_ROOMS
from planner.charts.sheet import message
from planner.charts.vega_lite import AT, BAND, EDGE, Datum, Spec, config, layer, records, title, tooltip
from planner.look import theme
from planner.look.theme import TEXT

TICKS = (0, 0.25, 0.5, 0.75, 1)

END_ROOM = 68
"""Pixels kept right of an importance of 1 for target and tier."""


class FactorRow(TypedDict):
    """Columns of frames.factors that make a part of a bar."""

    room: str
    factor: str
    value: float
    contribution: float


class WeighedRow(TypedDict):
    """Columns of frames.factors that are the same for all factors of a room."""

    room: str
    importance: float
    target: float
    tier: int
    top: int


def importance(factors: pd.DataFrame, *, dark: bool = False, width: int = 720) -> FinishedChart:
    """What makes up each room's importance, with the tier that it gives the room and the one that the plan gave.

    Parameters
    ----------
    factors : frames.factors.

    Notes
    -----
    Importance and target tier are one line: the end of a bar is the room's target, and the diamond stands where the
    tier given would be the target.
    """
    heading = "What makes up each room's importance"
    if factors.empty:
        return message(heading, "There are no rooms to weigh.", width, dark)
    every = factors.drop_duplicates("room").sort_values(["importance", "room"], ascending=[False, True])
    ordered = every[:MOST_ROOMS]
    factors = factors[factors["room"].isin(set(ordered["room"]))]
    rooms = cast("list[WeighedRow]", records(ordered))
    names = name_column((r["room"] for r in rooms), 0.36 * width, 22)
    shares = dict(zip(factors["factor"], factors["weight"], strict=True))
    legend = {factor: f"{factor} {share:.0%}" for factor, share in shares.items()}
    plot = width - names.width - 2 * EDGE - 2
    axis = {"title": "Importance (0 to 1)", "values": list(TICKS), "format": ".2~f"}
    x = {"type": "quantitative", "scale": {"domain": [0, plot / (plot - END_ROOM)], "nice": False}, "axis": axis}
    parts = _parts(cast("list[FactorRow]", records(factors)), legend, names)
    subtitle = "Bar ends at the target tier; diamond: the tier given; at right: target → tier"
    if len(every) > MOST_ROOMS:
        subtitle += f"; drawn are the {MOST_ROOMS} most important of {len(every):,} rooms"
    return FinishedChart(
        {
            "title": title(heading, subtitle, width),
            "width": plot,
            "height": names.bottom,
            "padding": EDGE,
            "layer": [
                _bars(parts, x, list(legend.values()), 2 if width < 500 else 5, dark),
                *_ends(_given(rooms, names), x, dark),
                *names.layers("Room", theme.palette(dark)),
            ],
            "config": config(dark),
        }
    )


def _parts(factors: list[FactorRow], legend: dict[str, str], names: NameColumn) -> list[Datum]:
    """The parts of each room's bar, end to end."""
    ends = dict.fromkeys(names.middle, 0.0)
    parts = []
    for f in factors:
        start = ends[f["room"]]
        ends[f["room"]] += f["contribution"]
        parts.append(
            {"x": start, "x2": ends[f["room"]], "factor": legend[f["factor"]], "room": f["room"]}
            | {"value": round(f["value"], 3), "contribution": round(f["contribution"], 3)}
            | names.band(f["room"])
        )
    return parts


def _given(rooms: list[WeighedRow], names: NameColumn) -> list[Datum]:
    """Where the tier given would be a room's target: the least importance asks for tier 1, the greatest for the top."""
    low, high = min(r["importance"] for r in rooms), max(r["importance"] for r in rooms)
    rows = []
    for r in rooms:
        given = low + (r["tier"] - 1) / max(r["top"] - 1, 1) * (high - low)
        rows.append(
            {"given": given, "room": r["room"], "tier": r["tier"], "y": names.middle[r["room"]]}
            | {"text": f"{r['target']:.1f} → {r['tier']}", "right": max(given, r["importance"])}
        )
    return rows


def _bars(parts: list[Datum], x: Spec, legend: list[str], columns: int, dark: bool) -> Spec:
    colours = {"domain": legend, "range": list(theme.greys(len(legend), dark))}
    below = {"title": "Factor, share of the weights", "orient": "bottom", "columns": columns}
    mark = {"type": "rect", "stroke": theme.palette(dark).soft, "strokeWidth": theme.pixels("hatch")}
    channels = {
        "x": {"field": "x", **x},
        "x2": {"field": "x2"},
        **BAND,
        "color": {"field": "factor", "type": "nominal", "scale": colours, "legend": below},
        "tooltip": tooltip("room", "factor", "value", "contribution"),
    }
    return layer(parts, mark, channels)


def _ends(given: list[Datum], x: Spec, dark: bool) -> list[Spec]:
    """A diamond at the tier given, and target and tier in figures beyond whatever reaches farther."""
    look = theme.palette(dark)
    diamond = {"type": "point", "shape": "diamond", "size": 90, "filled": True, "fill": look.paper, "opacity": 1}
    diamond |= {"stroke": look.ink, "strokeWidth": theme.pixels("profile")}
    told = {"x": {"field": "given", **x}, "y": AT["y"], "tooltip": tooltip("room", "tier")}
    figures = {"type": "text", "align": "left", "dx": 9, "color": look.ink, "fontSize": TEXT["note"]}
    written = {"x": {"field": "right", **x}, "y": AT["y"], "text": {"field": "text"}}
    return [layer(given, diamond, told), layer(given, figures, written)]
