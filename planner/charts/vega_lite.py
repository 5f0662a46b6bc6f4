"""Pieces of Vega-Lite that the charts share: the look, channels, tooltips, titles, layers."""

from collections.abc import Collection, Sequence
from typing import Any

import pandas as pd

from planner.look import theme
from planner.look.theme import FONT, TEXT, pixels, wrapped

Spec = dict[str, Any]
"""A piece of a specification."""

Datum = dict[str, Any]
"""A row of a layer's data, as Vega calls it."""

EDGE = 4
"""Pixels kept free round a chart."""

BOLD = 1.15
"""How much wider the titles' letters are than others of their size, in the widest of the fonts."""

APART, CLOSE = 10, 4
"""Pixels between a title and its chart, with a subtitle and without."""

PIXELS: Spec = {"type": "identity", "scale": 1, "translate": [0, 0]}
"""A projection for outlines whose corners are pixels."""

QUIET: Spec = {"tooltip": None}
"""For a mark that tells nothing when it is pointed at."""

AT: Spec = {
    "x": {"field": "x", "type": "quantitative", "scale": None, "axis": None},
    "y": {"field": "y", "type": "quantitative", "scale": None, "axis": None},
}
"""Channels of a place in pixels."""

BAND: Spec = {"y": AT["y"], "y2": {"field": "y2"}}
"""Channels of a bar's height in pixels."""


def plain_number(field: str) -> Spec:
    """A channel that takes its numbers from the data as they are."""
    return {"field": field, "type": "quantitative", "scale": None, "legend": None}


def plain_name(field: str) -> Spec:
    """A channel that takes its colours or shapes from the data as they are."""
    return {"field": field, "type": "nominal", "scale": None, "legend": None}


def tooltip(*fields: str) -> list[Spec]:
    """What is told when a mark is pointed at, each field under the last part of its name."""
    return [{"field": f, "type": "nominal", "title": f.rpartition(".")[2]} for f in fields]


def records(frame: pd.DataFrame, columns: Collection[str] | None = None) -> list[Datum]:
    """The rows of a frame by its columns, or by some of them; pandas' own `to_dict` takes several times as long."""
    names = [name for name in frame.columns if columns is None or name in columns]
    return [dict(zip(names, row, strict=True)) for row in zip(*(frame[n].tolist() for n in names), strict=True)]


def layer(rows: Sequence[Datum], mark: Spec, encoding: Spec, **more: Any) -> Spec:
    """Rows of data drawn as marks; `more` is a name or a projection."""
    return {"data": {"values": rows}, "mark": mark, "encoding": encoding, **more}


UNDRAWN = {"constructor", "hasOwnProperty", "isPrototypeOf", "propertyIsEnumerable", "toLocaleString", "toString"}
UNDRAWN |= {"valueOf", *(f"__{kind}{what}__" for kind in ("define", "lookup") for what in ("Getter", "Setter"))}
"""Vega takes a line of a title for a property that every object has, if it is called so, and draws no chart; with a
blank after it, it does."""


def title(text: str, subtitle: str, width: float) -> Spec:
    """A title and what it needs to be read, if anything, wrapped to the chart's width."""

    def lines(words: str, size: float) -> list[str]:
        return [f"{line} " if line in UNDRAWN else line for line in wrapped(words, width - 12, size)]

    below = {"subtitle": lines(subtitle, TEXT["subtitle"])} if subtitle else {"offset": CLOSE}
    return {"text": lines(text, TEXT["title"] * BOLD)} | below


def title_height(text: str, subtitle: str, width: float) -> int:
    """How high a title stands above a chart [px], as Vega sets its lines."""
    lines, below = (len(title(text, subtitle, width).get(part, ())) for part in ("text", "subtitle"))
    return lines * (TEXT["title"] + 2) + below * (TEXT["subtitle"] + 2) + (APART if subtitle else CLOSE) - 2


def config(dark: bool = False) -> Spec:
    """The look as a configuration."""
    look = theme.palette(dark)
    return {
        "background": look.paper,
        "font": FONT,
        "view": {"stroke": None},
        "title": {
            "anchor": "start",
            "frame": "bounds",
            "color": look.ink,
            "fontSize": TEXT["title"],
            "fontWeight": 600,
            "subtitleColor": look.soft,
            "subtitleFontSize": TEXT["subtitle"],
            "offset": APART,
            "limit": 0,
        },
        "axis": {
            "labelColor": look.ink,
            "titleColor": look.soft,
            "gridColor": look.faint,
            "domainColor": look.soft,
            "tickColor": look.soft,
            "labelFontSize": TEXT["label"],
            "titleFontSize": TEXT["label"],
            "titleFontWeight": "normal",
            "gridWidth": pixels("hatch"),
            "domainWidth": pixels("edge"),
            "labelLimit": 0,
            "titleLimit": 0,
        },
        "legend": {
            "labelColor": look.ink,
            "titleColor": look.soft,
            "labelFontSize": TEXT["note"],
            "titleFontSize": TEXT["note"],
            "titleFontWeight": "normal",
            "labelLimit": 0,
            "symbolStrokeColor": look.soft,
        },
        "text": {"color": look.ink, "fontSize": TEXT["label"]},
    }
