"""The room graph: rooms in rows by their depth from the entry, passages as lines."""

from collections.abc import Iterator, Mapping
from math import ceil, pi
from typing import NamedTuple, TypedDict, cast

import pandas as pd

from planner.charts.finished import FinishedChart
from planner.charts.names import short
from planner.charts.parts import nearest_rooms
from planner.charts.rooms import (
    PICK_LAYER,
    READOUT,
    TOLD,
    RoomRow,
    move_mark,
    moved_rooms,
    outlined,
    picking,
    readout,
    room_fill,
    room_properties,
    room_rows,
    tier_names,
    told_of,
)
from planner.charts.sheet import LEADING, Sheet, line_layer, line_row, message
from planner.charts.step_down_words import ALARMING
from planner.charts.tier_words import description, finding
from planner.charts.vega_lite import AT, EDGE, Datum, Spec, layer, plain_name, plain_number, records, title_height
from planner.house.model import Point
from planner.look import theme
from planner.look.theme import TEXT, text_on, wrapped
from planner.units import counted

RADIUS = 13.0
"""Of the circle that stands for a room [px]."""

LEFT = 46.0
"""Pixels kept left of the circles for the depth."""

LEAST_CELL = 84
"""Least width of a room's place in its row [px]."""

LEAST_NAMELESS = 40
"""The same where rooms are not named [px]."""

SIGNS = {"abrupt": "an abrupt step", "rises": "the tier rises away from the entry"}
"""What the signs on lines say."""

SUBTITLE = "Rows: depth in steps from the entry; number: tier; click a room to pick it"


class PassageRow(TypedDict):
    """Columns of frames.passages that are drawn."""

    start: str
    end: str
    step: str


def room_graph(
    rooms: pd.DataFrame,
    passages: pd.DataFrame,
    *,
    selected: str | None = None,
    moved: Mapping[str, int] | None = None,
    dark: bool = False,
    width: int = 720,
    height: int | None = None,
) -> FinishedChart:
    """Rooms as circles in rows by depth, passages as lines; a click or a tap picks a room as in the floor plan.

    Parameters
    ----------
    rooms, passages : frames.rooms and frames.passages.
    selected : the room that is picked to begin with.
    moved : rooms and the tiers that they had before the last change; those that have another now are marked.
    height : the most that the graph takes [px]; where names do not fit, they are told of the picked room alone.
    """
    if rooms.empty:
        return message("There is no room graph", "There are no rooms to draw.", width, dark)
    whole = room_rows(rooms)
    rooms, left_out = nearest_rooms(rooms)
    shown, heading = room_rows(rooms) if left_out else whole, finding(whole, moved, None)
    subtitle = "" if height else SUBTITLE
    before, joined = moved_rooms(shown, moved), cast("list[PassageRow]", records(passages, PassageRow.__annotations__))
    for named in (True, False):
        graph = Graph(Sheet(width, dark), named, before, {}, [], [])
        bottom = _draw_rooms(graph, shown, joined)
        links = _links(graph.sheet, joined, graph.at)
        bottom = graph.sheet.paragraph(_signs(joined, graph.at), bottom)
        bottom = graph.sheet.tiers(bottom, shown[0]["tiers"], tier_names(rooms))
        bottom = graph.sheet.paragraph(left_out, bottom)
        if not height or bottom <= height - 2 * EDGE - title_height(heading, subtitle, graph.sheet.width):
            break
    told = {r["room"]: told_of(r, before.get(r["room"])) for r in shown}
    return graph.sheet.chart(
        heading,
        subtitle,
        bottom,
        ground=[*line_layer(links), *line_layer(graph.rules), _node_layer(graph)],
        over=readout(graph.sheet, told),
        picking=[picking(selected if selected in graph.at else None)],
        halo=True,
        described=description(whole, moved),
    )


class Graph(NamedTuple):
    """A graph as it is put together: whether rooms are `named`, the tiers that they had where they have moved, where
    their circles stand, the lines above each depth, and the circles.
    """

    sheet: Sheet
    named: bool
    before: dict[str, int]
    at: dict[str, Point]
    rules: list[Datum]
    nodes: list[Datum]


def _draw_rooms(graph: Graph, rooms: list[RoomRow], passages: list[PassageRow]) -> float:
    """The rooms depth by depth; returns where they end."""
    sheet, y = graph.sheet, READOUT
    for depth, group in _by_depth(rooms):
        graph.rules.append(line_row([(0, y), (sheet.width, y)], sheet.look.faint, "hatch"))
        sheet.write(counted(depth, "step"), 0, y + 10, sheet.look.soft, TEXT["small"])
        cell = LEAST_CELL if graph.named else LEAST_NAMELESS
        for row in _in_rows(_below_neighbours(group, passages, graph.at), sheet.width, cell):
            places, below = _place(graph, row, y)
            for r, place in zip(row, places, strict=True):
                graph.at[r["room"]] = place
                graph.nodes.append(_node(graph, r, place))
            y = below
    return y


def _by_depth(rooms: list[RoomRow]) -> list[tuple[int, list[RoomRow]]]:
    """The rooms of each depth, the nearest first."""
    groups: dict[int, list[RoomRow]] = {}
    for r in rooms:
        groups.setdefault(r["depth"], []).append(r)
    return sorted(groups.items())


def _below_neighbours(group: list[RoomRow], passages: list[PassageRow], at: dict[str, Point]) -> list[RoomRow]:
    """Rooms from left to right, each as nearly as can be below the rooms that it is entered from."""
    above: dict[str, list[float]] = {r["room"]: [] for r in group}
    for p in passages:
        for name, other in ((p["start"], p["end"]), (p["end"], p["start"])):
            if name in above and other in at:
                above[name].append(at[other][0])
    return sorted(group, key=lambda r: (_mean(above[r["room"]]), r["room"]))


def _mean(values: list[float]) -> float:
    return sum(values) / len(values) if values else 0.0


def _in_rows(group: list[RoomRow], width: float, cell: float) -> Iterator[list[RoomRow]]:
    """Rooms of one depth in as few rows as they need, all about as long."""
    rows = ceil(len(group) / max(1, int((width - LEFT) // cell)))
    each = ceil(len(group) / rows)
    for start in range(0, len(group), each):
        yield group[start : start + each]


def _place(graph: Graph, row: list[RoomRow], top: float) -> tuple[list[Point], float]:
    """Where the circles of a row stand, with what is written below them, and where the row ends."""
    sheet, size, room_for_all = graph.sheet, TEXT["small"], graph.sheet.width - LEFT
    cell = room_for_all / max(1, int(room_for_all // LEAST_CELL))
    labels, above = [_label(graph, r, cell - 8) for r in row], 12 if graph.named else 6
    places = [(LEFT + (i + 0.5) * room_for_all / len(row), top + above + RADIUS) for i in range(len(row))]
    for (x, y), label in zip(places, labels, strict=True):
        for j, text in enumerate(label):
            sheet.write(text, x, y + RADIUS + 8 + j * size * LEADING, sheet.look.ink, size, align="center")
    below = max(map(len, labels)) * size * LEADING + (16 if graph.named else 4)
    return places, top + above + 2 * RADIUS + below


def _label(graph: Graph, r: RoomRow, width: float) -> list[str]:
    """What is written below a circle: the name where there are names, and the tier that a moved room had."""
    before = graph.before.get(r["room"])
    moved = [] if before is None else [f"{move_mark(r['tier'], before)} from {before}"]
    return [*(wrapped(short(r["room"]), width, TEXT["small"]) if graph.named else []), *moved]


def _node(graph: Graph, r: RoomRow, at: Point) -> Datum:
    """A room's circle, with its tier's number written on it."""
    (x, y), sheet = at, graph.sheet
    sheet.write(str(r["tier"]), x, y, text_on(room_fill(r, sheet.dark)), 13, bold=True, align="center")
    said = room_properties(r, sheet.dark, graph.before.get(r["room"]))
    return {"x": x, "y": y, "size": pi * RADIUS**2, "properties": said}


def _node_layer(graph: Graph) -> Spec:
    thin = theme.pixels("edge")
    mark = {"type": "point", "stroke": graph.sheet.look.ink, "opacity": 1, "cursor": "pointer"}
    channels = outlined(thin, thin * 4.0) | AT | {"size": plain_number("size")}
    channels |= {"fill": plain_name("properties.fill"), "tooltip": TOLD}
    return layer(graph.nodes, mark, channels, name=PICK_LAYER)


def _signs(passages: list[PassageRow], at: dict[str, Point]) -> str:
    """What the signs mean that are drawn."""
    drawn = {p["step"] for p in passages if p["start"] in at and p["end"] in at}
    return "; ".join(f"{theme.STEPS[step].glyph} {words}" for step, words in SIGNS.items() if step in drawn)


def _links(sheet: Sheet, passages: list[PassageRow], at: dict[str, Point]) -> list[Datum]:
    """The lines of passages; those with an alarming step lie over the others and have its sign written on them."""
    drawn = []
    for p in sorted(passages, key=lambda p: p["step"] in ALARMING):
        if p["start"] not in at or p["end"] not in at:
            continue
        (x0, y0), (x1, y1) = at[p["start"]], at[p["end"]]
        colour = sheet.look.alarm if p["step"] in ALARMING else sheet.look.soft
        drawn.append(line_row([(x0, y0), (x1, y1)], colour, "edge"))
        if p["step"] in ALARMING:
            sheet.write(theme.STEPS[p["step"]].glyph, (x0 + x1) / 2, (y0 + y1) / 2, colour, 12, align="center")
    return drawn
