"""The walk from the entry to each bedroom: bars as long as the tier, so that stairs are seen."""

from typing import TypedDict, cast

import pandas as pd

from planner.charts.finished import FinishedChart
from planner.charts.names import name_column, short
from planner.charts.sheet import message
from planner.charts.vega_lite import AT, BAND, EDGE, Row, Spec, config, plain_name, title, tooltip
from planner.look import theme
from planner.look.theme import TEXT, text_on, text_width, wrapped

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
    columns = _columns(routes, width)
    panel = (width - (columns - 1) * GAP) / columns
    by = [name for name in ("route", "alternative") if name in routes]
    ranks = {route: i for i, route in enumerate(dict.fromkeys(routes["route"]))}
    routes = routes.sort_values("route", key=lambda names: names.map(ranks), kind="stable")
    tiers, tier_names = int(routes["tiers"].iloc[0]), dict(zip(routes["tier"], routes["tier_name"], strict=True))
    walks = [
        _walk(cast("list[StepRow]", steps.to_dict("records")), list(map(str, key)), tiers, panel, dark)
        for key, steps in routes.groupby(by, sort=False)
    ]
    signs = "; ".join(f"{theme.STEPS[name].glyph} {meaning}" for name, meaning in SIGNS.items())
    said = ", ".join(f"{tier} {tier_names[tier]}" for tier in sorted(tier_names, reverse=True))
    return FinishedChart(
        {
            "title": title(heading, f"Tier of {tiers}: {said}. {signs}", width),
            "concat": walks,
            "columns": columns,
            "padding": EDGE,
            "spacing": {"row": 18, "column": GAP},
            "align": "each",
            "config": config(dark),
        }
    )


def _columns(routes: pd.DataFrame, width: float) -> int:
    """How many walks stand side by side: alternatives of the same walk, else walks."""
    beside = "alternative" if "alternative" in routes else "route"
    return min(max(1, int((width + GAP) // (LEAST_PANEL + GAP))), int(routes[beside].nunique()))


def _walk(steps: list[StepRow], heads: list[str], tiers: int, panel: float, dark: bool) -> Spec:
    """One walk as a stair seen from the side; `heads` are its bedroom and, where there are several, its alternative."""
    look, ramp = theme.palette(dark), theme.ramp(tiers, dark)
    drawn = {f"{s['position']}\n{s['room']}": f"{s['position']} {s['room']}" for s in steps}
    names = name_column(drawn, min(0.42 * panel, MOST_NAME), 22, drawn=drawn, fixed=True)
    plot = panel - names.width - 3 * EDGE
    unit = (plot - SIGN_ROOM) / tiers
    bars = [
        _bar(s, ramp[s["tier"] - 1], unit * s["tier"]) | {"mid": names.middle[key]} | names.band(key, 0.86)
        for s, key in zip(steps, drawn, strict=True)
    ]
    axis = {"title": "Tier", "values": list(range(1, tiers + 1)), "format": "d"}
    x = {"type": "quantitative", "scale": {"domain": [0, plot / unit], "nice": False}, "axis": axis}
    ends = {"x": {"field": "x2", **x}, "y": AT["y"] | {"field": "mid"}}
    text = {"type": "text", "baseline": "middle", "fontSize": TEXT["note"]}
    head = " · ".join([f"To {short(heads[0])}", *map(short, heads[1:])])
    return {
        "title": {"text": wrapped(head, panel - 8, TEXT["label"]), "fontSize": TEXT["label"], "offset": 6},
        "width": plot,
        "height": names.bottom,
        "data": {"values": bars},
        "layer": [
            {
                "mark": {"type": "rect", "stroke": look.soft, "strokeWidth": theme.pixels("hatch")},
                "encoding": {"x": {"field": "x", **x}, "x2": {"field": "x2"}, **BAND, "fill": plain_name("fill")}
                | {"tooltip": tooltip("room", "tier", "step")},
            },
            {
                "mark": text | {"align": "right", "dx": -5},
                "encoding": ends | {"text": {"field": "text"}, "color": plain_name("ink")},
            },
            {
                "mark": text | {"align": "left", "dx": 5, "fontWeight": "bold", "color": look.alarm},
                "encoding": ends | {"text": {"field": "sign"}},
            },
            *names.layers("Steps from the entry, and room", look),
        ],
    }


def _bar(s: StepRow, fill: str, long: float) -> Row:
    """A room's bar, `long` pixels: its tier by name where there is room for it, and the sign of the step into it."""
    mark, named = theme.STEPS[s["step"]], f"{s['tier']} {s['tier_name']}"
    return {
        "x": 0,
        "x2": s["tier"],
        "fill": fill,
        "ink": text_on(fill),
        "tier": named,
        "room": s["room"],
        "step": mark.word,
        "text": named if text_width(named, TEXT["note"]) < long - 10 else str(s["tier"]),
        "sign": f"{mark.glyph} {mark.word}" if mark.glyph else "",
    }
