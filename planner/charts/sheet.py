"""A sheet of pixels, y down, on which shapes and text are put together and written out as a chart."""

from collections.abc import Mapping, Sequence
from math import ceil

from planner.charts.finished import FinishedChart
from planner.charts.names import NameColumn
from planner.charts.vega_lite import (
    AT,
    EDGE,
    PIXELS,
    QUIET,
    Datum,
    Spec,
    config,
    layer,
    plain_name,
    plain_number,
    title,
    tooltip,
)
from planner.house.model import Point
from planner.look import theme
from planner.look.theme import TEXT, text_width, wrapped

LEADING = 1.2
"""Line height in sizes of type."""

DECIMALS = 2
"""Of a line's places on the sheet [px]."""

STYLES = (("center", "bold"), ("center", "normal"), ("left", "normal"), ("right", "normal"), ("left", "bold"))
"""How text is set, alignment and weight; a later one is drawn over an earlier one."""


class Sheet:
    """Lines, blocks, marks and text within `width` pixels; colours are #rrggbb, weights those of theme.LINES."""

    def __init__(self, width: float, dark: bool) -> None:
        self.full_width, self.width = width, width - 2 * EDGE
        self.dark, self.look = dark, theme.palette(dark)
        self._lines: list[Datum] = []
        self._blocks: list[Datum] = []
        self._marks: list[Datum] = []
        self._texts: dict[tuple[str, str], list[Datum]] = {style: [] for style in STYLES}

    def line(self, points: Sequence[Point], colour: str, weight: str, widen: float = 1) -> None:
        """A line through points, `widen` times as wide as its weight says."""
        self._lines.append(line_row(points, colour, weight, widen))

    def block(self, x: float, y: float, x2: float, y2: float, fill: str, said: dict[str, str]) -> None:
        """A filled rectangle; `said` is its tooltip, with the same keys for all of a sheet's."""
        self._blocks.append({"x": x, "y": y, "x2": x2, "y2": y2, "fill": fill, "said": said})

    def mark(self, x: float, y: float, shape: str, size: float, fill: str, angle: float = 0) -> None:
        """A symbol about a point, `size` its area [px²], `angle` clockwise in degrees."""
        self._marks.append({"x": x, "y": y, "shape": shape, "size": size, "angle": angle, "fill": fill})

    def write(
        self, text: str, x: float, y: float, colour: str, size: float, *, bold: bool = False, align: str = "left"
    ) -> None:
        """One line of text, from its left end, about its middle or up to its right end."""
        style = align, "bold" if bold else "normal"
        self._texts[style].append({"x": x, "y": y, "text": text, "size": size, "ink": colour})

    def names(self, column: NameColumn, heading: str) -> None:
        """Names in a column at the left, with the column's heading above them."""
        self.write(heading, 0, column.top - 10, self.look.soft, TEXT["label"])
        for row in column.texts():
            self.write(row["text"], column.width - 6, row["y"], self.look.ink, TEXT["label"], align="right")

    def paragraph(self, text: str, top: float) -> float:
        """Text across the sheet; returns where it ends."""
        size = TEXT["note"]
        for words in wrapped(text, self.width - 4, size):
            self.write(words, 2, top + size * LEADING, self.look.soft, size)
            top += size * LEADING
        return top + 6

    def paragraph_height(self, text: str) -> float:
        """Pixels that a paragraph takes."""
        size = TEXT["note"]
        return len(wrapped(text, self.width - 4, size)) * size * LEADING + 6

    def tiers(self, top: float, tiers: int, tier_names: Mapping[int, str], left: float = 8.0) -> float:
        """The tiers' colours with their numbers and names, those that occur, the first at `left`; returns where they
        end.
        """
        ramp, size, x, y = theme.ramp(tiers, self.dark), TEXT["note"], left, top + 14
        for tier in sorted(tier_names, reverse=True):
            text = f"{tier} {tier_names[tier]}"
            long = 22 + text_width(text, size) + 8
            if x + long > self.width and x > 8:
                x, y = 8.0, y + 18
            self.mark(x, y, "square", 150, ramp[tier - 1])
            self.write(text, x + 11, y, self.look.ink, size)
            x += long
        return y + 14

    def chart(
        self,
        heading: str,
        subtitle: str,
        bottom: float,
        *,
        ground: Sequence[Spec] = (),
        over: Sequence[Spec] = (),
        picking: Sequence[Spec] = (),
        halo: bool = False,
        described: str = "",
    ) -> FinishedChart:
        """The sheet as a chart.

        Parameters
        ----------
        bottom : where the sheet ends [px].
        ground, over : layers that lie below and above all that is on the sheet.
        picking : selections.
        halo : whether centred text is set off from the lines that it lies on.
        described : what those who do not see the chart are told after its title.
        """
        centred = self._texts["center", "normal"] if halo else []
        return FinishedChart(
            {
                "title": title(heading, subtitle, self.width),
                "width": self.width,
                "height": ceil(bottom),
                "padding": EDGE,
                "params": list(picking),
                "layer": [
                    *ground,
                    *line_layer(self._lines),
                    *_blocks(self._blocks, self.look),
                    *_marks(self._marks, self.look),
                    *_halo(centred, self.look),
                    *_written(self._texts),
                    *over,
                ],
                "config": config(self.dark),
            },
            described,
        )


def message(heading: str, text: str, width: float, dark: bool) -> FinishedChart:
    """A chart that says why there is nothing to draw."""
    sheet = Sheet(width, dark)
    return sheet.chart(heading, "", sheet.paragraph(text, 0.0))


def line_row(points: Sequence[Point], colour: str, weight: str, widen: float = 1) -> Datum:
    """A line through points as a row of a layer of lines."""
    return feature(points, {"stroke": colour, "weight": theme.pixels(weight) * widen})


def feature(points: Sequence[Point], properties: Datum) -> Datum:
    """A line with properties, as GeoJSON."""
    line = [[round(x, DECIMALS), round(y, DECIMALS)] for x, y in points]
    geometry = {"type": "MultiLineString", "coordinates": [line]}
    return {"type": "Feature", "geometry": geometry, "properties": properties}


def joined(features: Sequence[Datum]) -> list[Datum]:
    """Lines with the same properties as one, in the order in which the properties first come.

    A browser draws few shapes of many lines faster than many of one.
    """
    alike: dict[tuple[tuple[str, object], ...], list[object]] = {}
    for row in features:
        alike.setdefault(tuple(row["properties"].items()), []).extend(row["geometry"]["coordinates"])
    return [
        {"type": "Feature", "geometry": {"type": "MultiLineString", "coordinates": lines}, "properties": dict(said)}
        for said, lines in alike.items()
    ]


def line_layer(rows: Sequence[Datum]) -> list[Spec]:
    """A layer of lines, each in its own colour and weight; none where there are no lines."""
    channels = {"stroke": plain_name("properties.stroke"), "strokeWidth": plain_number("properties.weight")}
    mark = {"type": "geoshape", "filled": False} | QUIET
    return [layer(joined(rows), mark, channels, projection=PIXELS)] if rows else []


def _blocks(rows: Sequence[Datum], look: theme.Palette) -> list[Spec]:
    if not rows:
        return []
    channels = AT | {"x2": {"field": "x2"}, "y2": {"field": "y2"}, "fill": plain_name("fill")}
    told = tooltip(*(f"said.{name}" for name in rows[0]["said"]))
    mark = {"type": "rect", "stroke": look.soft, "strokeWidth": theme.pixels("hatch")}
    return [layer(rows, mark, channels | {"tooltip": told})]


def _marks(rows: Sequence[Datum], look: theme.Palette) -> list[Spec]:
    channels = AT | {
        "size": plain_number("size"),
        "angle": plain_number("angle"),
        "fill": plain_name("fill"),
        "shape": plain_name("shape"),
    }
    mark = {"type": "point", "stroke": look.ink, "strokeWidth": 0.5, "opacity": 1} | QUIET
    return [layer(rows, mark, channels)] if rows else []


def _halo(rows: Sequence[Datum], look: theme.Palette) -> list[Spec]:
    mark = {"type": "text", "stroke": look.paper, "strokeWidth": 4, "baseline": "middle"} | QUIET
    return [layer(rows, mark, AT | {"text": {"field": "text"}, "size": plain_number("size")})] if rows else []


def _written(texts: Mapping[tuple[str, str], Sequence[Datum]]) -> list[Spec]:
    """All text in one layer, style by style, since each layer costs a browser time."""
    rows = [row | {"align": align, "weight": weight} for (align, weight), those in texts.items() for row in those]
    style = {"align": {"expr": "datum.align"}, "fontWeight": {"expr": "datum.weight"}}
    channels = AT | {"text": {"field": "text"}, "size": plain_number("size"), "color": plain_name("ink")}
    return [layer(rows, {"type": "text", "baseline": "middle"} | style | QUIET, channels)] if rows else []
