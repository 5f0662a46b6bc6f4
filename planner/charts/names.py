"""Names as they are drawn: short enough for their place, alone or one below the other."""

from collections.abc import Iterable, Mapping
from itertools import accumulate
from typing import NamedTuple

from planner.charts.vega_lite import AT, QUIET, Datum, Spec, layer
from planner.look.theme import TEXT, Palette, text_width, wrapped

LONGEST = 60
"""Characters of a name that are drawn; the tooltip has all of it."""

LINE_HEIGHT = 14.0
"""Of names that stand in columns or above them [px]."""


def short(name: str) -> str:
    """A name on one line without control characters, cut with an ellipsis where it is too long to draw.

    >>> short("Entry\\nHall"), short(" ")
    ('Entry Hall', '(no name)')
    """
    shown = " ".join("".join(c if c.isprintable() else " " for c in name).split()) or "(no name)"
    return shown if len(shown) <= LONGEST else shown[: LONGEST - 1].rstrip() + "…"


class NameColumn(NamedTuple):
    """Names one below the other, each with as much height as its lines need [px].

    `lines`, `middle` and `heights` go by name; `width` is the column's, `top` and `bottom` are where its rows begin
    and end.
    """

    lines: dict[str, list[str]]
    middle: dict[str, float]
    heights: dict[str, float]
    width: float
    top: float
    bottom: float

    def band(self, name: str, part: float = 0.8) -> dict[str, float]:
        """From and to where a bar beside a name stands, as a part of the least height of a row; 1 is all of the row."""
        half = self.heights[name] / 2 if part == 1.0 else min(self.heights[name], 24.0) * part / 2
        return {"y": self.middle[name] - half, "y2": self.middle[name] + half}

    def texts(self) -> list[Datum]:
        """A row of text for each line of each name."""
        return [
            {"y": self.middle[name] + (i - (len(lines) - 1) / 2) * LINE_HEIGHT, "text": line}
            for name, lines in self.lines.items()
            for i, line in enumerate(lines)
        ]

    def layers(self, title: str, look: Palette) -> list[Spec]:
        """The names left of a plot, with the title of their column above them."""
        mark = {"type": "text", "baseline": "middle", "fontSize": TEXT["label"]} | QUIET
        text = {"text": {"field": "text"}, "y": AT["y"]}
        heading = [{"y": self.top - 8, "text": title}]
        return [
            layer(self.texts(), mark | {"align": "right", "color": look.ink}, text | {"x": {"value": -8}}),
            layer(heading, mark | {"align": "left", "color": look.soft}, text | {"x": {"value": -self.width}}),
        ]


def name_column(
    names: Iterable[str],
    most: float,
    least: float,
    *,
    top: float = 0.0,
    drawn: Mapping[str, str] | None = None,
    fixed: bool = False,
) -> NameColumn:
    """Names in a column that is as wide as they need.

    Parameters
    ----------
    names : at least one; those that come twice stand once.
    most : the column's greatest width [px], and where `fixed` its width.
    least : least height of a row [px].
    top : where the first row begins [px].
    drawn : what is written for a name, where that is not the name itself.
    """
    texts = {name: short((drawn or {}).get(name, name)) for name in names}
    width = most if fixed else min(most, max(text_width(text, TEXT["label"]) for text in texts.values()) + 12)
    lines = {name: wrapped(text, width - 10, TEXT["label"]) for name, text in texts.items()}
    heights = {name: max(least, LINE_HEIGHT * len(those) + 6) for name, those in lines.items()}
    ends = list(accumulate(heights.values(), initial=top))
    middle = {name: (y0 + y1) / 2 for name, y0, y1 in zip(texts, ends, ends[1:], strict=False)}
    return NameColumn(lines, middle, heights, width, top, ends[-1])
