"""Charts: data frame in (see planner.planning.frames), Altair chart out, nothing else.

Every chart takes `width`, the pixels that it may fill from edge to edge, and `dark`. A chart that is clicked has one
point selection named PICK over the field PICK_FIELD, whose value is the room's full name, the same in the floor plan
and in the room graph. Room names are drawn as plain text; where one is too long for its place it wraps, then ends in
an ellipsis, and the tooltip has the whole of it.

Specifications are put together as plain Vega-Lite and handed to Altair's classes whole, since checking each channel
on its own costs more than drawing it.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import cache
from itertools import accumulate
from math import ceil, cos, hypot, pi, sin
from typing import NamedTuple

import altair as alt
import pandas as pd

from planner.look import theme
from planner.look.theme import TEXT, text_on, text_width, wrapped
from planner.units import format_length

PICK = "pick"
PICK_FIELD = "properties.room"
PICK_VIEW = "rooms"

LONGEST_NAME = 60
"""Characters of a room's name that are drawn; the tooltip has all of it."""

PHRASES = {"use": "use", "arrival": "arrival", "passage": "passage", "presence": "presence"}
SIGNS = {"abrupt": "abrupt step", "rises": "rising step", "faint": "step too faint to see"}
FOOT = 12.0
LINE = 1.2
"""Line height in sizes of type."""

EDGE = 4
"""Pixels kept free round a sheet."""

MARGIN = 10.0
LEAST_LEAF = 20.0
"""A door leaf shorter than this on the sheet [px] is left out of it."""

ROW_LINE = 14.0
"""Line height of names in a column [px]."""

MARK_ROOM = 66
"""Pixels kept right of the bars for the marks of steps."""

Point = tuple[float, float]


class Box(NamedTuple):
    """A rectangle by its centre and its sides."""

    x: float
    y: float
    width: float
    height: float


def has_outlines(rooms: pd.DataFrame) -> bool:
    """Whether any room can be drawn on a floor plan."""
    return any(len(outline) > 2 for outline in rooms["outline"])


def house_map(
    rooms: pd.DataFrame, passages: pd.DataFrame, openings: pd.DataFrame | None = None, **options
) -> alt.Chart:
    """The floor plan where the house has outlines, else the room graph; both are clicked alike."""
    if has_outlines(rooms):
        return floor_plan(rooms, openings, **options)
    return room_graph(rooms, passages, **{k: v for k, v in options.items() if k in ("selected", "dark", "width")})


def floor_plan(
    rooms: pd.DataFrame,
    openings: pd.DataFrame | None = None,
    *,
    level: str | None = None,
    selected: str | None = None,
    dark: bool = False,
    width: int = 720,
    across: bool = False,
) -> alt.LayerChart:
    """Floor plan coloured and labelled by tier; a click picks a room.

    Parameters
    ----------
    rooms : tables.rooms; a room without an outline is named below the plan instead of drawn.
    openings : tables.openings, or None to draw walls alone.
    level : the level to draw, or None for all of them, in one drawing so that one selection serves all.
    selected : the room to outline.
    across : levels side by side instead of one below the other.
    """
    shown = [r for r in rooms.to_dict("records") if level in (None, r["level"])]
    drawn = [r for r in shown if len(r["outline"]) > 2]
    title = f"Tier by room, {level}" if level else "Tier by room"
    if not drawn:
        return _message(title, "No room here has an outline, so there is no floor plan to draw.", width, dark)
    sheet = _Sheet(width, dark)
    names = list(dict.fromkeys(r["level"] for r in drawn))
    places, scale, bottom = _place_levels(drawn, names, sheet.width, across)
    for name in names:
        x, y, to_sheet = places[name]
        if len(names) > 1:
            sheet.write(_short(name), x, y, "soft", TEXT["label"], bold=True)
        on_level = [r for r in drawn if r["level"] == name]
        for room in on_level:
            sheet.room(room, [to_sheet(p) for p in room["outline"]], selected == room["room"])
        for room in on_level:
            sheet.label(room, _placed_box(room["outline"], to_sheet, scale))
        if openings is not None:
            drawn_names = {r["room"] for r in on_level}
            for opening in openings.to_dict("records"):
                if opening["room"] in drawn_names:
                    sheet.opening(
                        opening, to_sheet((opening["x1"], opening["y1"])), to_sheet((opening["x2"], opening["y2"]))
                    )
    bottom = sheet.scale_and_north(bottom, scale)
    bottom = sheet.tiers(bottom, drawn[0]["tiers"], rooms)
    bottom = sheet.keys(bottom)
    missing = [_short(r["room"]) for r in shown if len(r["outline"]) <= 2]
    if missing:
        bottom = sheet.paragraph(f"Without an outline: {', '.join(missing)}", bottom)
    return sheet.chart(title, "Tier number and name in each room; click a room to pick it", bottom)


def room_graph(
    rooms: pd.DataFrame,
    passages: pd.DataFrame,
    *,
    selected: str | None = None,
    dark: bool = False,
    width: int = 720,
) -> alt.LayerChart:
    """Rooms as circles in rows by depth, passages as lines; a click picks a room as in the floor plan.

    Parameters
    ----------
    rooms, passages : tables.rooms and tables.passages.
    selected : the room to outline.
    """
    title = "Rooms by depth from the entry, with their tiers"
    if rooms.empty:
        return _message(title, "There are no rooms to draw.", width, dark)
    sheet = _Sheet(width, dark)
    size, radius, left, width = TEXT["small"], 13.0, 46.0, sheet.width
    a_row = max(1, int((width - left) // 84))
    cell = (width - left) / a_row
    at: dict[str, Point] = {}
    neighbours = _neighbours(passages)
    y = 0.0
    for depth, group in sorted(_grouped(rooms.to_dict("records"), "depth").items()):
        group.sort(key=lambda r: (_mean([at[n][0] for n in neighbours.get(r["room"], ()) if n in at]), r["room"]))
        sheet.line([(0, y), (width, y)], "faint", "hatch")
        sheet.write(f"{depth} step{'' if depth == 1 else 's'}", 0, y + 10, "soft", size)
        rows = ceil(len(group) / a_row)
        each = ceil(len(group) / rows)
        for start in range(0, len(group), each):
            row = group[start : start + each]
            labels = [wrapped(_short(r["room"]), cell - 8, size) for r in row]
            for i, (room, lines) in enumerate(zip(row, labels, strict=True)):
                x = left + (i + 0.5) * (width - left) / len(row)
                at[room["room"]] = (x, y + 12 + radius)
                sheet.node(room, at[room["room"]], radius, selected == room["room"])
                for j, line in enumerate(lines):
                    sheet.write(line, x, y + 20 + 2 * radius + j * size * LINE, "ink", size, centred=True)
            y += 20 + 2 * radius + max(map(len, labels)) * size * LINE + 8
    for p in passages.to_dict("records"):
        if p["start"] in at and p["end"] in at:
            alarming = p["step"] in ("abrupt", "rises")
            sheet.line([at[p["start"]], at[p["end"]]], "alarm" if alarming else "soft", "edge", under=True)
            if alarming:
                (x0, y0), (x1, y1) = at[p["start"]], at[p["end"]]
                sheet.write(theme.STEPS[p["step"]].glyph, (x0 + x1) / 2, (y0 + y1) / 2, "alarm", 12, centred=True)
    abrupt, rises = (theme.STEPS[name].glyph for name in ("abrupt", "rises"))
    bottom = sheet.paragraph(f"{abrupt} an abrupt step; {rises} the tier rises away from the entry", y)
    bottom = sheet.tiers(bottom, int(rooms["tiers"].iloc[0]), rooms)
    return sheet.chart(title, "Rows: depth in steps from the entry; number: tier; click a room to pick it", bottom)


def step_down(routes: pd.DataFrame, *, dark: bool = False, width: int = 720) -> alt.ConcatChart:
    """The walk from the entry to each bedroom, top to bottom: bars as long as the tier, so that stairs are seen.

    Parameters
    ----------
    routes : tables.routes, or tables.compare_routes for several alternatives side by side on the same axes.

    Notes
    -----
    A step that is abrupt or rises away from the entry has a sign and the word beside the bar.
    """
    title = "How the tiers step down from the entry to each bedroom"
    if routes.empty:
        return _message(title, "No route leads from the entry to a bedroom.", width, dark)
    columns, gap = _columns(routes, width)
    panel = (width - (columns - 1) * gap) / columns
    keys = [k for k in ("route", "alternative") if k in routes]
    ranks = {route: i for i, route in enumerate(dict.fromkeys(routes["route"]))}
    routes = routes.sort_values("route", key=lambda names: names.map(ranks), kind="stable")
    panels = [
        _walk(group.to_dict("records"), keys, panel, dark)
        for _, group in routes.groupby(keys, sort=False, dropna=False)
    ]
    tiers, names = int(routes["tiers"].iloc[0]), dict(zip(routes["tier"], routes["tier_name"], strict=True))
    signs = "; ".join(f"{theme.STEPS[n].glyph} {text}" for n, text in SIGNS.items())
    said = ", ".join(f"{t} {names[t]}" for t in sorted(names, reverse=True))
    spec = {
        "title": _title(title, f"Tier of {tiers}: {said}. {signs}", width),
        "concat": panels,
        "columns": columns,
        "padding": EDGE,
        "spacing": {"row": 18, "column": gap},
        "align": "each",
    }
    return _made(alt.ConcatChart, spec, dark)


def importance(factors: pd.DataFrame, *, dark: bool = False, width: int = 720) -> alt.LayerChart:
    """What makes up each room's importance, with the tier that it gives the room and the one that the plan gave.

    Parameters
    ----------
    factors : tables.factors.

    Notes
    -----
    Importance and target tier are one line: the end of a bar is the room's target, and the diamond stands where the
    tier given would be the target.
    """
    title = "What makes up each room's importance"
    if factors.empty:
        return _message(title, "There are no rooms to weigh.", width, dark)
    look = theme.palette(dark)
    per_room = factors.drop_duplicates("room").sort_values(["importance", "room"], ascending=[False, True])
    low, high, top = per_room["importance"].min(), per_room["importance"].max(), int(per_room["top"].iloc[0])
    names = list(dict.fromkeys(factors["factor"]))
    shares = dict(zip(factors["factor"], factors["weight"], strict=True))
    legend = {name: f"{PHRASES.get(name, name)} {shares[name]:.0%}" for name in names}
    rows = _rows(per_room["room"], 0.36 * width, 22)
    start: dict[str, float] = {}
    parts, ends = [], []
    for f in factors.to_dict("records"):
        x = start.get(f["room"], 0.0)
        start[f["room"]] = x + f["contribution"]
        parts.append(
            {"x": x, "x2": start[f["room"]], "factor": legend[f["factor"]], "room": f["room"]}
            | {"value": round(f["value"], 3), "contribution": round(f["contribution"], 3)}
            | rows.band(f["room"])
        )
    for r in per_room.to_dict("records"):
        given = low + (r["tier"] - 1) / max(top - 1, 1) * (high - low)
        ends.append(
            {"given": given, "room": r["room"], "tier": r["tier"], "y": rows.middle[r["room"]]}
            | {"text": f"{r['target']:.1f} → {r['tier']}", "right": max(given, r["importance"])}
        )
    plot = width - rows.column - 2 * EDGE - 2
    x_axis = {"title": "Importance (0 to 1)", "values": [0, 0.25, 0.5, 0.75, 1], "format": ".2~f"}
    x = {"type": "quantitative", "scale": {"domain": [0, plot / (plot - 68)], "nice": False}, "axis": x_axis}
    colours = {"domain": list(legend.values()), "range": list(theme.greys(len(names), dark))}
    beside = {"title": "Factor, share of the weights", "orient": "bottom", "columns": 2 if width < 500 else 4}
    spec = {
        "title": _title(title, "Bar ends at the target tier; diamond: the tier given; at right: target → tier", width),
        "width": plot,
        "height": rows.height,
        "padding": EDGE,
        "layer": [
            {
                "data": {"values": parts},
                "mark": {"type": "rect", "stroke": look.soft, "strokeWidth": theme.pixels("hatch")},
                "encoding": {"x": {"field": "x", **x}, "x2": {"field": "x2"}, **_BAND}
                | {"color": {"field": "factor", "type": "nominal", "scale": colours, "legend": beside}}
                | {"tooltip": _tooltip("room", "factor", "value", "contribution")},
            },
            {
                "data": {"values": ends},
                "mark": {
                    "type": "point",
                    "shape": "diamond",
                    "size": 90,
                    "filled": True,
                    "fill": look.paper,
                    "opacity": 1,
                }
                | {"stroke": look.ink, "strokeWidth": theme.pixels("profile")},
                "encoding": {"x": {"field": "given", **x}, "y": _AT["y"], "tooltip": _tooltip("room", "tier")},
            },
            {
                "data": {"values": ends},
                "mark": {"type": "text", "align": "left", "dx": 9, "color": look.ink, "fontSize": TEXT["note"]},
                "encoding": {"x": {"field": "right", **x}, "y": _AT["y"], "text": {"field": "text"}},
            },
            *rows.layers("Room", look),
        ],
    }
    return _made(alt.LayerChart, spec, dark)


def element_sizes(
    elements: pd.DataFrame, *, ceiling: float | None = None, dark: bool = False, width: int = 720
) -> alt.LayerChart:
    """The sizes of every element by tier under one ceiling; bars compare the tiers within a row.

    Parameters
    ----------
    elements : tables.elements.
    ceiling : ceiling height [in], or None for the highest there is.
    """
    title = "Sizes of trim by tier"
    if elements.empty or (ceiling is not None and ceiling not in set(elements["ceiling"])):
        return _message(title, "There is no package to show.", width, dark)
    ceiling = elements["ceiling"].max() if ceiling is None else ceiling
    shown = elements[elements["ceiling"] == ceiling]
    ramp = theme.ramp(int(shown["tiers"].iloc[0]), dark)
    names = dict(zip(shown["tier"], shown["tier_name"], strict=True))
    tiers = max(names)
    greatest = shown.groupby("element")["size"].max()
    ordered = list(dict.fromkeys(shown.sort_values("tier", ascending=False, kind="stable")["element"]))
    sheet = _Sheet(width, dark)
    rows = _rows([name.capitalize() for name in ordered], 0.3 * sheet.width, 36, top=44)
    cell = (sheet.width - rows.column) / tiers
    sheet.write("Tier", rows.column + 4, 6, "soft", TEXT["label"])
    sheet.names(rows, "Element")
    for tier in range(1, tiers + 1):
        for i, text in enumerate((str(tier), names.get(tier, ""))):
            sheet.write(text, rows.column + 4 + (tier - 1) * cell, 21 + 14 * i, "ink", TEXT["note"], bold=not i)
    for e in shown.to_dict("records"):
        x, y = rows.column + 4 + (e["tier"] - 1) * cell, rows.middle[e["element"].capitalize()]
        long = (cell - 10) * e["size"] / greatest[e["element"]]
        said = {"element": e["element"], "form": e["form"], "tier": f"{e['tier']} {e['tier_name']}"}
        said |= {"size": e["size_text"], "projection": e["projection_text"]}
        sheet.block(x, y + 3, x + long, y + 12, ramp[e["tier"] - 1], said)
        sheet.write(e["size_text"], x, y - 6, "ink", TEXT["note"])
    said = "Height, or width of a casing [in]; bars compare within a row"
    return sheet.chart(f"{title} under a {format_length(ceiling)} ceiling", said, rows.height)


def tier_matrix(
    compared: pd.DataFrame, *, differing_only: bool = True, dark: bool = False, width: int = 720
) -> alt.LayerChart:
    """The tier of each room in each alternative; a room on which they disagree is marked ≠.

    Parameters
    ----------
    compared : tables.compare.
    differing_only : leave out the rooms on which all alternatives agree.
    """
    rooms = compared["room"].nunique()
    differing = compared.loc[compared["differs"].astype(bool), "room"].nunique()
    title = f"Tier by room and alternative, {differing} of {rooms} rooms differ"
    shown = compared[compared["differs"].astype(bool)] if differing_only else compared
    if shown.empty:
        return _message(title, "Every room has the same tier in all of them.", width, dark)
    differs = {} if differing_only else dict(zip(shown["room"], shown["differs"], strict=True))
    drawn = {room: f"≠ {_short(room)}" if differs.get(room) else _short(room) for room in shown["room"]}
    alternatives = list(dict.fromkeys(compared["alternative"]))
    sheet = _Sheet(width, dark)
    column = _rows(drawn.values(), 0.38 * sheet.width, 24).column
    cell = (sheet.width - column) / len(alternatives)
    heads = [wrapped(_short(a), cell - 6, TEXT["label"]) for a in alternatives]
    top = 20 + 14 * max(map(len, heads)) + 6
    rows = _rows(drawn, 0.38 * sheet.width, 24, top=top, drawn=drawn)
    sheet.write("Alternative", column + 4, 6, "soft", TEXT["label"])
    sheet.names(rows, "Room")
    for i, head in enumerate(heads):
        for j, line in enumerate(head):
            y = top - 10 - 14 * (len(head) - 1 - j)
            sheet.write(line, column + (i + 0.5) * cell, y, "ink", TEXT["label"], centred=True)
    for c in shown.to_dict("records"):
        x, named = column + alternatives.index(c["alternative"]) * cell, f"{c['tier']} {c['tier_name']}"
        fill = theme.ramp(c["tiers"], dark)[c["tier"] - 1]
        band = rows.band(c["room"], 1.0)
        said = {"room": c["room"], "alternative": c["alternative"], "tier": named}
        sheet.block(x + 1, band["y"] + 1, x + cell - 1, band["y2"] - 1, fill, said)
        text = named if text_width(named, TEXT["label"]) < cell - 8 else str(c["tier"])
        row = {"x": x + cell / 2, "y": rows.middle[c["room"]], "text": text, "size": TEXT["label"]}
        sheet.centred.append(row | {"ink": text_on(fill)})
    return sheet.chart(title, "Number and name: tier" + ("" if differing_only else "; ≠ they differ"), rows.height)


class _Rows(NamedTuple):
    """Names one below the other in a column, each with as much height as its lines need [px]."""

    lines: dict[str, list[str]]
    middle: dict[str, float]
    heights: dict[str, float]
    column: float
    top: float
    height: float

    def band(self, name: str, part: float = 0.8) -> dict[str, float]:
        """From and to where a bar beside a name stands, as a part of the least height of a row."""
        half = self.heights[name] / 2 if part == 1.0 else min(self.heights[name], 24.0) * part / 2
        return {"y": self.middle[name] - half, "y2": self.middle[name] + half}

    def texts(self) -> list[dict]:
        """A row of text for each line of each name."""
        return [
            {"y": self.middle[name] + (i - (len(lines) - 1) / 2) * ROW_LINE, "text": line}
            for name, lines in self.lines.items()
            for i, line in enumerate(lines)
        ]

    def layers(self, title: str, look: theme.Palette) -> list[dict]:
        """The names left of a plot, with the title of their column above them."""
        mark = {"type": "text", "baseline": "middle", "fontSize": TEXT["label"]} | _QUIET
        text = {"text": {"field": "text"}, "y": _AT["y"]}
        heading = [{"y": self.top - 8, "text": title}]
        return [
            {"data": {"values": self.texts()}, "mark": mark | {"align": "right", "color": look.ink}}
            | {"encoding": text | {"x": {"value": -8}}},
            {"data": {"values": heading}, "mark": mark | {"align": "left", "color": look.soft}}
            | {"encoding": text | {"x": {"value": -self.column}}},
        ]


def _rows(
    names: Iterable[str], most: float, least: float, top: float = 0.0, drawn: Mapping[str, str] | None = None
) -> _Rows:
    """Names in a column of at most `most` pixels, in rows of at least `least`; `drawn` is what is written for each."""
    names = list(dict.fromkeys(names))
    texts = {name: _short((drawn or {}).get(name, name)) for name in names}
    column = min(most, max(text_width(text, TEXT["label"]) for text in texts.values()) + 12)
    lines = {name: wrapped(text, column - 10, TEXT["label"]) for name, text in texts.items()}
    heights = {name: max(least, ROW_LINE * len(those) + 6) for name, those in lines.items()}
    ends = list(accumulate(heights.values(), initial=top))
    middle = {name: (y0 + y1) / 2 for name, y0, y1 in zip(names, ends, ends[1:], strict=False)}
    return _Rows(lines, middle, heights, column, top, ends[-1])


class _Sheet:
    """Shapes and text gathered in pixels, y down, and written out once as layers."""

    def __init__(self, width: float, dark: bool):
        self.width, self.dark, self.look = width - 2 * EDGE, dark, theme.palette(dark)
        self.rooms: list[dict] = []
        self.nodes: list[dict] = []
        self.gaps: list[dict] = []
        self.lines: list[dict] = []
        self.under: list[dict] = []
        self.marks: list[dict] = []
        self.centred: list[dict] = []
        self.bold: list[dict] = []
        self.left: list[dict] = []
        self.left_bold: list[dict] = []
        self.right: list[dict] = []
        self.blocks: list[dict] = []
        self.inks: dict[str, str] = {}
        self.small_rooms: list[tuple[str, dict]] = []

    def room(self, room: dict, ring: list[Point], selected: bool) -> None:
        """A room's floor, edged as a cut wall."""
        shape = {"type": "Polygon", "coordinates": [[*ring, ring[0]]]}
        self.inks[room["room"]] = text_on(self._fill(room))
        self.rooms.append({"type": "Feature", "geometry": shape, "properties": self._properties(room, selected)})

    def node(self, room: dict, at: Point, radius: float, selected: bool) -> None:
        """A room as a circle with its tier's number."""
        fill = self._fill(room)
        self.nodes.append(
            {"x": at[0], "y": at[1], "size": pi * radius**2, "properties": self._properties(room, selected)}
        )
        self.bold.append({"x": at[0], "y": at[1], "text": str(room["tier"]), "size": 13, "ink": text_on(fill)})

    def label(self, room: dict, box: Box) -> None:
        """Tier and name inside a room, in the largest type that fits; a key and a line in the list where none does."""
        ink = text_on(self._fill(room))
        name = _short(room["room"])
        width, height = box.width - 6, box.height - 4
        for size in (13, 12, 11, TEXT["small"]):
            lines = wrapped(name, width, size)
            whole = all(text_width(word, size) <= width for word in name.split())
            entry = ["▲ entry"] if room["entry"] else []
            if not whole or (1 + len(lines) + len(entry)) * size * LINE > height:
                continue
            named = f"{room['tier']} {room['tier_name']}"
            texts = [named if text_width(named, size) * 1.08 <= width else str(room["tier"]), *lines, *entry]
            top = box.y - (len(texts) - 1) * size * LINE / 2
            for i, text in enumerate(texts):
                row = {"x": box.x, "y": top + i * size * LINE, "text": text, "size": size, "ink": ink}
                (self.centred if i else self.bold).append(row)
            return
        key = f"{room['tier']}{_letters(len(self.small_rooms))}"
        size = next((s for s in (12, 11, 10) if text_width(key, s) <= box.width), TEXT["small"])
        self.bold.append({"x": box.x, "y": box.y, "text": key, "size": size, "ink": ink})
        self.small_rooms.append((key, room))

    def opening(self, opening: dict, left: Point, right: Point) -> None:
        """A gap in the wall with the sign of its kind; `left` and `right` are its jambs seen from inside the room."""
        (x0, y0), (x1, y1) = left, right
        length = hypot(x1 - x0, y1 - y0)
        if not length:
            return
        ux, uy = (x1 - x0) / length, (y1 - y0) / length
        ix, iy = -uy, ux

        def at(along: float, inward: float) -> Point:
            return (x0 + ux * along + ix * inward, y0 + uy * along + iy * inward)

        kind, ink = opening["kind"], self.inks[opening["room"]]
        if kind == "fireplace":
            self.line([at(0, 3), at(length, 3)], "ink", "cut", widen=3)
            return
        self.gaps.append(_feature([left, right], {"room": opening["room"]}))
        if kind == "window":
            for inward in (-1.5, 1.5):
                self.line([at(0, inward), at(length, inward)], "ink", "dimension")
        elif kind == "door":
            self._leaf(at, 0, length, 1, ink)
        elif kind == "double door":
            self._leaf(at, 0, length / 2, 1, ink)
            self._leaf(at, length, length / 2, -1, ink)
        elif kind == "pocket door":
            self.line([at(0, 0), at(length / 2, 0)], "ink", "edge")
        if opening["main"]:
            x, y = at(length / 2, -8)
            angle = {(0, -1): 0, (1, 0): 90, (0, 1): 180, (-1, 0): 270}.get((round(ix), round(iy)), 0)
            self.marks.append(
                {"x": x, "y": y, "shape": "triangle-up", "size": 60, "angle": angle, "fill": self.look.ink}
            )

    def _leaf(self, at: Callable[[float, float], Point], hinge: float, reach: float, turn: int, ink: str) -> None:
        """A door leaf standing open into the room, and the arc of its edge; nothing where it would only clutter."""
        if reach < LEAST_LEAF:
            return
        arc = [at(hinge + turn * reach * cos(a), reach * sin(a)) for a in (pi / 2 * i / 6 for i in range(7))]
        self.line([at(hinge, 0), at(hinge, reach)], ink, "dimension")
        self.line(arc, ink, "hatch")

    def line(self, points: Sequence[Point], ink: str, weight: str, widen: float = 1, under: bool = False) -> None:
        """A line of a colour of the palette, or a #rrggbb one, and a weight of theme.LINES."""
        colour = ink if ink.startswith("#") else getattr(self.look, ink)
        rows = self.under if under else self.lines
        rows.append(_feature(points, {"stroke": colour, "weight": theme.pixels(weight) * widen}))

    def write(
        self, text: str, x: float, y: float, ink: str, size: float, bold: bool = False, centred: bool = False
    ) -> None:
        """One line of text, from its left end or about its middle."""
        rows = (self.bold if bold else self.centred) if centred else (self.left_bold if bold else self.left)
        rows.append({"x": x, "y": y, "text": text, "size": size, "ink": getattr(self.look, ink)})

    def block(self, x: float, y: float, x2: float, y2: float, fill: str, said: dict[str, str]) -> None:
        """A filled rectangle; `said` is its tooltip."""
        self.blocks.append({"x": x, "y": y, "x2": x2, "y2": y2, "fill": fill, "said": said})

    def names(self, rows: _Rows, title: str) -> None:
        """Names in a column at the left, with the column's title above them."""
        self.write(title, 0, rows.top - 10, "soft", TEXT["label"])
        ink = {"x": rows.column - 6, "size": TEXT["label"], "ink": self.look.ink}
        self.right += [row | ink for row in rows.texts()]

    def paragraph(self, text: str, top: float) -> float:
        """Text across the sheet; returns where it ends."""
        size = TEXT["note"]
        for line in wrapped(text, self.width - 4, size):
            self.write(line, 2, top + size * LINE, "soft", size)
            top += size * LINE
        return top + 6

    def scale_and_north(self, top: float, scale: float) -> float:
        """A bar of whole feet and an arrow to the north; `scale` is pixels an inch."""
        feet = next((f for f in (50, 20, 10, 5, 2) if f * FOOT * scale <= self.width / 4), 1)
        long, y = feet * FOOT * scale, top + 14
        self.line([(4, y - 4), (4, y), (4 + long, y), (4 + long, y - 4)], "ink", "edge")
        self.write(f"{feet} ft", 10 + long, y - 2, "ink", TEXT["note"])
        self.write("↑ N", self.width - 30, y - 2, "ink", TEXT["label"], bold=True)
        return y + 8

    def tiers(self, top: float, tiers: int, rooms: pd.DataFrame) -> float:
        """The tiers' colours with their numbers and names, those that occur."""
        names = dict(zip(rooms["tier"], rooms["tier_name"], strict=True))
        ramp, size, x, y = theme.ramp(tiers, self.dark), TEXT["note"], 8.0, top + 14
        for tier in sorted(names, reverse=True):
            text = f"{tier} {names[tier]}"
            long = 22 + text_width(text, size) + 8
            if x + long > self.width and x > 8:
                x, y = 8.0, y + 18
            self.marks.append({"x": x, "y": y, "shape": "square", "size": 150, "angle": 0, "fill": ramp[tier - 1]})
            self.write(text, x + 11, y, "ink", size)
            x += long
        return y + 14

    def keys(self, top: float) -> float:
        """The names of the rooms that were too small for theirs, in columns."""
        if not self.small_rooms:
            return top
        size, indent = TEXT["note"], 26
        texts = [
            (key, f"{_short(r['room'])}, {r['tier_name']}{', entry' if r['entry'] else ''}")
            for key, r in self.small_rooms
        ]
        widest = max(text_width(text, size) for _, text in texts) + indent + 14
        columns = max(1, min(len(texts), int(self.width // widest)))
        x, tops = 2.0, [top + 6] * columns
        for i, (key, text) in enumerate(texts):
            column = i % columns
            left, y = x + column * self.width / columns, tops[column]
            self.write(key, left, y + size / 2, "ink", size, bold=True)
            for line in wrapped(text, self.width / columns - indent - 6, size):
                self.write(line, left + indent, y + size / 2, "ink", size)
                y += size * LINE
            tops[column] = y + 3
        return max(tops)

    def chart(self, title: str, subtitle: str, bottom: float) -> alt.LayerChart:
        """The sheet as a chart."""
        pick = {"name": PICK, "select": {"type": "point", "fields": [PICK_FIELD]}, "views": [PICK_VIEW]}
        tooltip = _tooltip(*(f"properties.{name}" for name in ("room", "tier", "importance", "size", "ceiling")))
        picked = [{"param": PICK, "empty": False}, "datum.properties.selected"]
        weights = {"rooms": ("cut", 3.2), "nodes": ("edge", 4.0)}
        shape = {
            "fill": {"field": "properties.fill", "type": "nominal", "scale": None},
            "tooltip": tooltip,
        }

        def stroke(name: str) -> dict:
            thin = theme.pixels(weights[name][0])
            return {
                "strokeWidth": {
                    "condition": [{"test": {"or": picked}, "value": thin * weights[name][1]}],
                    "value": thin,
                }
            }

        layers = [_lines(self.under), _lines(self.lines) if self.nodes else None]
        if self.rooms:
            layers.append(
                {"data": {"values": self.rooms}, "name": PICK_VIEW, "projection": _PIXELS}
                | {"mark": {"type": "geoshape", "stroke": self.look.ink, "strokeJoin": "miter", "cursor": "pointer"}}
                | {"encoding": shape | stroke("rooms")}
            )
            selected = [f for f in self.rooms if f["properties"]["selected"]]
            if selected:
                layers.append(
                    {"data": {"values": selected}, "projection": _PIXELS}
                    | {"mark": {"type": "geoshape", "filled": False, "stroke": self.look.ink}}
                    | {"encoding": {"strokeWidth": {"value": theme.pixels("cut") * 3.2}}}
                )
        if self.nodes:
            layers.append(
                {"data": {"values": self.nodes}, "name": PICK_VIEW}
                | {"mark": {"type": "point", "stroke": self.look.ink, "opacity": 1, "cursor": "pointer"}}
                | {"encoding": shape | stroke("nodes") | _AT | {"size": _own("size")}}
            )
        gap = {"type": "geoshape", "filled": False, "stroke": self.look.paper, "strokeWidth": theme.pixels("cut") + 1.5}
        if self.gaps:
            layers.append({"data": {"values": self.gaps}, "projection": _PIXELS, "mark": gap | _QUIET})
        if not self.nodes:
            layers.append(_lines(self.lines))
        if self.blocks:
            said = [f"said.{name}" for name in self.blocks[0]["said"]]
            layers.append(
                {"data": {"values": self.blocks}}
                | {"mark": {"type": "rect", "stroke": self.look.soft, "strokeWidth": theme.pixels("hatch")}}
                | {"encoding": _AT | {"x2": {"field": "x2"}, "y2": {"field": "y2"}, "fill": _named("fill")}}
            )
            layers[-1]["encoding"] |= {"tooltip": _tooltip(*said)}
        if self.marks:
            layers.append(
                {"data": {"values": self.marks}}
                | {"mark": {"type": "point", "stroke": self.look.ink, "strokeWidth": 0.5, "opacity": 1} | _QUIET}
                | {"encoding": _AT | {"size": _own("size"), "angle": _own("angle"), "fill": _named("fill")}}
            )
            layers[-1]["encoding"]["shape"] = _named("shape")
        texts = (
            (self.bold, "center", "bold"),
            (self.centred, "center", "normal"),
            (self.left, "left", "normal"),
            (self.right, "right", "normal"),
            (self.left_bold, "left", "bold"),
        )
        if self.nodes and self.centred:
            halo = {"type": "text", "stroke": self.look.paper, "strokeWidth": 4, "baseline": "middle"}
            layers.append({"data": {"values": self.centred}, "mark": halo | _QUIET})
            layers[-1]["encoding"] = _AT | {"text": {"field": "text"}, "size": _own("size")}
        for rows, align, weight in texts:
            if rows:
                layers.append(
                    {"data": {"values": rows}}
                    | {"mark": {"type": "text", "align": align, "fontWeight": weight, "baseline": "middle"} | _QUIET}
                    | {"encoding": _AT | {"text": {"field": "text"}, "size": _own("size"), "color": _named("ink")}}
                )
        spec = {
            "title": _title(title, subtitle, self.width),
            "width": self.width,
            "height": ceil(bottom),
            "padding": EDGE,
            "params": [pick] if self.rooms or self.nodes else [],
            "layer": [layer for layer in layers if layer],
        }
        return _made(alt.LayerChart, spec, self.dark)

    def _fill(self, room: dict) -> str:
        return theme.ramp(room["tiers"], self.dark)[room["tier"] - 1]

    def _properties(self, room: dict, selected: bool) -> dict:
        return {
            "room": room["room"],
            "tier": f"{room['tier']} {room['tier_name']}",
            "importance": round(room["importance"], 2),
            "size": f"{room['length_text']} by {room['width_text']}",
            "ceiling": room["ceiling_text"],
            "fill": self._fill(room),
            "selected": selected,
        }


_PIXELS = {"type": "identity", "scale": 1, "translate": [0, 0]}
_QUIET = {"tooltip": None}
_BAND = {"y": {"field": "y", "type": "quantitative", "scale": None, "axis": None}, "y2": {"field": "y2"}}
_AT = {
    "x": {"field": "x", "type": "quantitative", "scale": None, "axis": None},
    "y": {"field": "y", "type": "quantitative", "scale": None, "axis": None},
}


def _own(field: str) -> dict:
    """A channel that takes its numbers from the data as they are."""
    return {"field": field, "type": "quantitative", "scale": None, "legend": None}


def _named(field: str) -> dict:
    """A channel that takes its colours or shapes from the data as they are."""
    return {"field": field, "type": "nominal", "scale": None, "legend": None}


def _lines(features: list[dict]) -> dict | None:
    """A layer of lines, each in its own colour and weight."""
    if not features:
        return None
    return {
        "data": {"values": features},
        "projection": _PIXELS,
        "mark": {"type": "geoshape", "filled": False} | _QUIET,
        "encoding": {"stroke": _named("properties.stroke"), "strokeWidth": _own("properties.weight")},
    }


def _feature(points: Sequence[Point], properties: dict) -> dict:
    geometry = {"type": "LineString", "coordinates": [list(p) for p in points]}
    return {"type": "Feature", "geometry": geometry, "properties": properties}


def _walk(steps: list[dict], keys: list[str], panel: float, dark: bool) -> dict:
    """One route as a stair seen from the side: a bar a room, as long as its tier."""
    look = theme.palette(dark)
    tiers = int(steps[0]["tiers"])
    ramp = theme.ramp(tiers, dark)
    numbered = {f"{s['position']}\n{s['room']}": f"{s['position']}  {_short(s['room'])}" for s in steps}
    names = _rows(numbered, min(0.42 * panel, 170.0), 22, drawn=numbered)
    names = names._replace(column=min(0.42 * panel, 170.0))
    plot = panel - names.column - 3 * EDGE
    unit = (plot - MARK_ROOM) / tiers
    rows = []
    for s, key in zip(steps, numbered, strict=True):
        mark, fill, named = theme.STEPS[s["step"]], ramp[s["tier"] - 1], f"{s['tier']} {s['tier_name']}"
        rows.append(
            {"x": 0, "x2": s["tier"], "mid": names.middle[key], "fill": fill, "ink": text_on(fill)}
            | {"tier": named, "room": s["room"], "step": mark.word}
            | {"text": named if text_width(named, TEXT["note"]) < unit * s["tier"] - 10 else str(s["tier"])}
            | {"sign": f"{mark.glyph} {mark.word}" if mark.glyph else ""}
            | names.band(key, 0.86)
        )
    axis = {"title": "Tier", "values": list(range(1, tiers + 1)), "format": "d"}
    x = {"type": "quantitative", "scale": {"domain": [0, plot / unit], "nice": False}, "axis": axis}
    ends = {"x": {"field": "x2", **x}, "y": _AT["y"] | {"field": "mid"}}
    text = {"type": "text", "baseline": "middle", "fontSize": TEXT["note"]}
    head = " · ".join([f"To {_short(str(steps[0]['route']))}", *(_short(str(steps[0][k])) for k in keys[1:])])
    return {
        "title": {"text": wrapped(head, panel - 8, TEXT["label"]), "fontSize": TEXT["label"], "offset": 6},
        "width": plot,
        "height": names.height,
        "data": {"values": rows},
        "layer": [
            {
                "mark": {"type": "rect", "stroke": look.soft, "strokeWidth": theme.pixels("hatch")},
                "encoding": {"x": {"field": "x", **x}, "x2": {"field": "x2"}, **_BAND, "fill": _named("fill")}
                | {"tooltip": _tooltip("room", "tier", "step")},
            },
            {
                "mark": text | {"align": "right", "dx": -5},
                "encoding": ends | {"text": {"field": "text"}, "color": _named("ink")},
            },
            {
                "mark": text | {"align": "left", "dx": 5, "fontWeight": "bold", "color": look.alarm},
                "encoding": ends | {"text": {"field": "sign"}},
            },
            *names.layers("Steps from the entry, and room", look),
        ],
    }


def _columns(routes: pd.DataFrame, width: float) -> tuple[int, float]:
    """How many panels stand side by side, and the gap between them [px]."""
    gap = 24.0
    fit = max(1, int((width + gap) // (330 + gap)))
    if "alternative" in routes:
        return min(fit, routes["alternative"].nunique()), gap
    return min(fit, routes["route"].nunique()), gap


def _short(name: str) -> str:
    """A name on one line without control characters, cut with an ellipsis where it is too long to draw."""
    shown = " ".join("".join(c if c.isprintable() else " " for c in name).split()) or "(no name)"
    return shown if len(shown) <= LONGEST_NAME else shown[: LONGEST_NAME - 1].rstrip() + "…"


def _letters(number: int) -> str:
    """a, b, … z, aa, ab, …"""
    letters = ""
    number += 1
    while number:
        number, rest = divmod(number - 1, 26)
        letters = chr(ord("a") + rest) + letters
    return letters


def _place_levels(rooms: list[dict], levels: list[str], width: float, across: bool) -> tuple[dict, float, float]:
    """Where each level's drawing stands, the scale that all share [px/in], and where the lowest drawing ends."""
    bounds = {}
    for level in levels:
        points = [p for r in rooms if r["level"] == level for p in r["outline"]]
        xs, ys = [x for x, _ in points], [y for _, y in points]
        bounds[level] = (min(xs), max(ys), max(xs) - min(xs), max(ys) - min(ys))
    across = across and len(levels) > 1
    wide = sum(b[2] for b in bounds.values()) if across else max(b[2] for b in bounds.values())
    margins = 2 * MARGIN * (len(levels) if across else 1)
    scale = (width - margins) / wide
    head = 20.0 if len(levels) > 1 else 0.0
    places, x, y, bottom = {}, 0.0, 0.0, 0.0
    for level in levels:
        west, north, length, height = bounds[level]
        left, top = x + MARGIN, y + head + MARGIN

        def to_sheet(p: Point, left=left, top=top, west=west, north=north) -> Point:
            return (round(left + (p[0] - west) * scale, 1), round(top + (north - p[1]) * scale, 1))

        places[level] = (x + MARGIN, y + 8, to_sheet)
        end = top + height * scale + MARGIN
        bottom = max(bottom, end)
        if across:
            x += length * scale + 2 * MARGIN
        else:
            y = end
    return places, scale, bottom + 4


def _placed_box(outline: tuple[Point, ...], to_sheet, scale: float) -> Box:
    """The box for a room's label on the sheet [px]."""
    box = label_box(tuple(map(tuple, outline)))
    return Box(*to_sheet((box.x, box.y)), box.width * scale, box.height * scale)


@cache
def label_box(corners: tuple[Point, ...]) -> Box:
    """A large rectangle inside a room where a label can stand.

    Parameters
    ----------
    corners : the room's plan.

    Notes
    -----
    The plan is cut by a grid through all its corners; of all blocks of cells that lie inside it the one taken has the
    greatest area, a side counting for no more than three times the other so that a label is not sent into a corridor.

    >>> label_box(((0, 0), (0, 10), (4, 10), (4, 4), (10, 4), (10, 0)))
    Box(x=2.0, y=5.0, width=4, height=10)
    """
    xs, ys = (sorted({c[i] for c in corners}) for i in (0, 1))
    inside = [
        [_cell_inside(xs[i], ys[j], xs[i + 1], ys[j + 1], corners) for j in range(len(ys) - 1)]
        for i in range(len(xs) - 1)
    ]
    best, score = None, 0.0
    for i0 in range(len(xs) - 1):
        open_rows = [True] * (len(ys) - 1)
        for i1 in range(i0, len(xs) - 1):
            open_rows = [a and b for a, b in zip(open_rows, inside[i1], strict=True)]
            for j0, j1 in _runs(open_rows):
                width, height = xs[i1 + 1] - xs[i0], ys[j1 + 1] - ys[j0]
                worth = min(width, 3 * height) * min(height, 3 * width)
                if worth > score:
                    best, score = Box((xs[i0] + xs[i1 + 1]) / 2, (ys[j0] + ys[j1 + 1]) / 2, width, height), worth
    if best is not None:
        return best
    x, y = (sum(c[i] for c in corners) / len(corners) for i in (0, 1))
    return Box(x, y, (xs[-1] - xs[0]) / 3, (ys[-1] - ys[0]) / 3)


def _runs(flags: list[bool]) -> Iterable[tuple[int, int]]:
    """First and last index of each unbroken run."""
    start = None
    for i, flag in enumerate([*flags, False]):
        if flag and start is None:
            start = i
        elif not flag and start is not None:
            yield start, i - 1
            start = None


def _cell_inside(x0: float, y0: float, x1: float, y1: float, corners: tuple[Point, ...]) -> bool:
    """Whether a cell of the grid lies in the plan: its middle and points just inside its corners do."""
    dx, dy = (x1 - x0) * 0.01, (y1 - y0) * 0.01
    probes = (
        (x0 + dx, y0 + dy),
        (x1 - dx, y0 + dy),
        (x0 + dx, y1 - dy),
        (x1 - dx, y1 - dy),
        ((x0 + x1) / 2, (y0 + y1) / 2),
    )
    return all(_contains(corners, p) for p in probes)


def _contains(corners: tuple[Point, ...], point: Point) -> bool:
    x, y = point
    inside = False
    for (x0, y0), (x1, y1) in zip(corners, corners[1:] + corners[:1], strict=True):
        if (y0 > y) != (y1 > y) and x < (x1 - x0) * (y - y0) / (y1 - y0) + x0:
            inside = not inside
    return inside


def _neighbours(passages: pd.DataFrame) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for start, end in zip(passages["start"], passages["end"], strict=True):
        found.setdefault(start, []).append(end)
        found.setdefault(end, []).append(start)
    return found


def _grouped(records: list[dict], key: str) -> dict:
    groups: dict = {}
    for record in records:
        groups.setdefault(record[key], []).append(record)
    return groups


def _mean(values: list[float]) -> float:
    return sum(values) / len(values) if values else 0.0


def _tooltip(*fields: str) -> list[dict]:
    return [{"field": f, "type": "nominal", "title": f.rpartition(".")[2]} for f in fields]


def _title(text: str, subtitle: str, width: float) -> dict:
    """A title and what it needs to be read, wrapped to the chart's width."""
    return {
        "text": wrapped(text, width - 12, TEXT["title"] * 1.06),
        "subtitle": wrapped(subtitle, width - 12, TEXT["subtitle"]),
    }


def _message(title: str, text: str, width: float, dark: bool) -> alt.LayerChart:
    """A chart that says why there is nothing to draw."""
    sheet = _Sheet(width, dark)
    return sheet.chart(title, "", sheet.paragraph(text, 0.0))


def _made(kind: type[alt.TopLevelMixin], spec: dict, dark: bool):
    """An Altair chart of a whole specification, in the project's look."""
    whole = {**spec, "config": theme.config(dark)}
    chart = _held(kind, whole)
    object.__setattr__(chart, "whole", {"$schema": alt.SCHEMA_URL, **whole})
    return chart


def specification(chart: alt.TopLevelMixin) -> dict:
    """The Vega-Lite of one of these charts as it was put together; Altair would take longer to say the same."""
    return chart.whole


def _held(kind: type[alt.TopLevelMixin], spec: dict) -> alt.TopLevelMixin:
    """An Altair chart that holds a specification as it is; only charts within it are Altair's own."""
    chart = kind()
    for key, value in spec.items():
        if key == "layer":
            value = [_held(alt.Chart, layer) for layer in value]
        elif key == "concat":
            value = [_held(alt.LayerChart, panel) for panel in value]
        elif key == "params":
            value = [alt.TopLevelSelectionParameter(**param) for param in value]
        elif key == "encoding":
            value = alt.FacetedEncoding(**value)
        chart[key] = value
    return chart
