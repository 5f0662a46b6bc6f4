"""The room graph: rooms in rows by their depth from the entry, passages as lines."""

from collections.abc import Iterator
from math import ceil, pi
from typing import TypedDict, cast

import pandas as pd

from planner.charts.finished import FinishedChart
from planner.charts.names import short
from planner.charts.parts import nearest_rooms
from planner.charts.rooms import (
    PICK_LAYER,
    PICKING,
    RoomRow,
    room_channels,
    room_fill,
    room_properties,
    room_rows,
    tier_names,
)
from planner.charts.sheet import LEADING, Sheet, line_layer, line_row, message
from planner.charts.vega_lite import AT, Datum, Spec, layer, plain_number, records
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

ALARMING = ("abrupt", "rises")


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
    dark: bool = False,
    width: int = 720,
) -> FinishedChart:
    """Rooms as circles in rows by depth, passages as lines; a click picks a room as in the floor plan.

    Parameters
    ----------
    rooms, passages : frames.rooms and frames.passages.
    selected : the room to outline.
    """
    title = "Rooms by depth from the entry, with their tiers"
    if rooms.empty:
        return message(title, "There are no rooms to draw.", width, dark)
    rooms, left_out = nearest_rooms(rooms)
    sheet, joined = Sheet(width, dark), cast("list[PassageRow]", records(passages))
    rules: list[Datum] = []
    nodes: list[Datum] = []
    at: dict[str, Point] = {}
    y = 0.0
    for depth, group in _by_depth(rooms):
        rules.append(line_row([(0, y), (sheet.width, y)], sheet.look.faint, "hatch"))
        sheet.write(counted(depth, "step"), 0, y + 10, sheet.look.soft, TEXT["small"])
        for row in _in_rows(_below_neighbours(group, joined, at), sheet.width):
            places, below = _place(sheet, row, y)
            for r, place in zip(row, places, strict=True):
                at[r["room"]] = place
                nodes.append(_node(sheet, r, place, selected))
            y = below
    links = _links(sheet, joined, at)
    abrupt, rises = (theme.STEPS[name].glyph for name in ALARMING)
    bottom = sheet.paragraph(f"{abrupt} an abrupt step; {rises} the tier rises away from the entry", y)
    bottom = sheet.tiers(bottom, int(rooms["tiers"].iloc[0]), tier_names(rooms))
    if left_out:
        bottom = sheet.paragraph(left_out, bottom)
    return sheet.chart(
        title,
        "Rows: depth in steps from the entry; number: tier; click a room to pick it",
        bottom,
        ground=[*line_layer(links), *line_layer(rules), _node_layer(sheet, nodes)],
        picking=[PICKING],
        halo=True,
    )


def _by_depth(rooms: pd.DataFrame) -> list[tuple[int, list[RoomRow]]]:
    """The rooms of each depth, the nearest first."""
    groups: dict[int, list[RoomRow]] = {}
    for r in room_rows(rooms):
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


def _in_rows(group: list[RoomRow], width: float) -> Iterator[list[RoomRow]]:
    """Rooms of one depth in as few rows as they need, all about as long."""
    rows = ceil(len(group) / max(1, int((width - LEFT) // LEAST_CELL)))
    each = ceil(len(group) / rows)
    for start in range(0, len(group), each):
        yield group[start : start + each]


def _place(sheet: Sheet, row: list[RoomRow], top: float) -> tuple[list[Point], float]:
    """Where the circles of a row stand, with their names written below them, and where the row ends."""
    size, room_for_all = TEXT["small"], sheet.width - LEFT
    cell = room_for_all / max(1, int(room_for_all // LEAST_CELL))
    labels = [wrapped(short(r["room"]), cell - 8, size) for r in row]
    places = [(LEFT + (i + 0.5) * room_for_all / len(row), top + 12 + RADIUS) for i in range(len(row))]
    for (x, _), label in zip(places, labels, strict=True):
        for j, text in enumerate(label):
            y = top + 20 + 2 * RADIUS + j * size * LEADING
            sheet.write(text, x, y, sheet.look.ink, size, align="center")
    return places, top + 20 + 2 * RADIUS + max(map(len, labels)) * size * LEADING + 8


def _node(sheet: Sheet, r: RoomRow, at: Point, selected: str | None) -> Datum:
    """A room's circle, with its tier's number written on it."""
    x, y = at
    sheet.write(str(r["tier"]), x, y, text_on(room_fill(r, sheet.dark)), 13, bold=True, align="center")
    return {"x": x, "y": y, "size": pi * RADIUS**2, "properties": room_properties(r, selected, sheet.dark)}


def _node_layer(sheet: Sheet, nodes: list[Datum]) -> Spec:
    thin = theme.pixels("edge")
    mark = {"type": "point", "stroke": sheet.look.ink, "opacity": 1, "cursor": "pointer"}
    channels = room_channels(thin, thin * 4.0) | AT | {"size": plain_number("size")}
    return layer(nodes, mark, channels, name=PICK_LAYER)


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
