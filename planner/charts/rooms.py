"""A room on a chart: its colour, what is told of it, and how it is picked.

A chart that is clicked has one point selection named PICK over the field PICK_FIELD, whose value is the room's full
name, the same in the floor plan and in the room graph.
"""

from collections.abc import Mapping, Sequence
from typing import TypedDict, cast

import pandas as pd

from planner.charts.names import short
from planner.charts.sheet import Sheet
from planner.charts.vega_lite import QUIET, Datum, Spec, layer, records, tooltip
from planner.house.model import Point
from planner.look import theme
from planner.look.theme import TEXT, wrapped
from planner.units import Unit

PICK = "pick"
PICK_FIELD = "properties.room"
PICK_LAYER = "rooms"
"""Name of the layer whose marks are clicked."""

READOUT = 18.0
"""Pixels at the top of a sheet for the line that tells of the picked room."""

HINT = "Click or tap a room, and what it is stands here"
"""What stands in that line until one is picked."""


def picking(picked: str | None) -> Spec:
    """The selection; `picked` is the room that it has to begin with."""
    select: Spec = {"type": "point", "fields": [PICK_FIELD], "on": "click, touchend"}
    chosen = {} if picked is None else {"value": [{PICK_FIELD: picked}]}
    return {"name": PICK, "select": select, "views": [PICK_LAYER]} | chosen


class RoomRow(TypedDict):
    """Columns of frames.rooms that are drawn."""

    room: str
    level: str
    entry: bool
    unit: Unit
    outline: tuple[Point, ...]
    length_text: str
    width_text: str
    ceiling_text: str
    depth: int
    importance: float
    tier: int
    tier_name: str
    tiers: int


def room_rows(rooms: pd.DataFrame) -> list[RoomRow]:
    """The rows of frames.rooms, without the columns that are not drawn."""
    return cast("list[RoomRow]", records(rooms, RoomRow.__annotations__))


def tier_names(rooms: pd.DataFrame) -> dict[int, str]:
    """Names of the tiers that occur."""
    return dict(zip(rooms["tier"], rooms["tier_name"], strict=True))


def room_fill(room: RoomRow, dark: bool) -> str:
    """The colour of a room's tier."""
    return theme.ramp(room["tiers"], dark)[room["tier"] - 1]


def move_mark(tier: int, before: int) -> str:
    """The sign of a tier that has moved.

    >>> move_mark(4, 3), move_mark(2, 3)
    ('▲', '▼')
    """
    return "▲" if tier > before else "▼"


def moved_rooms(rooms: Sequence[RoomRow], moved: Mapping[str, int] | None) -> dict[str, int]:
    """Of rooms and the tiers that they had, those that have another now."""
    had = moved or {}
    return {r["room"]: had[r["room"]] for r in rooms if had.get(r["room"], r["tier"]) != r["tier"]}


def tier_words(room: RoomRow, before: int | None = None) -> str:
    """A room's tier as number and name, and the one that it had `before`."""
    now = f"{room['tier']} {room['tier_name']}"
    return now if before is None else f"{now}, {'up' if room['tier'] > before else 'down'} from {before}"


def told_of(room: RoomRow, before: int | None = None, code: str = "") -> str:
    """What is told of a picked room, after the code that it has on a plan.

    >>> told_of(RoomRow(room="Hall", tier=4, tier_name="Principal"), 3, "4a")
    '4a, Hall: 4 Principal, up from 3'
    """
    return f"{code}{', ' if code else ''}{short(room['room'])}: {tier_words(room, before)}"


def room_properties(room: RoomRow, dark: bool, before: int | None = None) -> Datum:
    """What a mark says of its room; `before` is the tier that it had, where that has moved."""
    return {
        "room": room["room"],
        "tier": tier_words(room, before),
        "importance": round(room["importance"], 2),
        "size": f"{room['length_text']} by {room['width_text']}",
        "ceiling": room["ceiling_text"],
        "fill": room_fill(room, dark),
    }


TOLD = tooltip(*(f"properties.{name}" for name in ("room", "tier", "importance", "size", "ceiling")))
"""The tooltip of marks with `room_properties`."""


def outlined(thin: float, thick: float) -> Spec:
    """The channel that tells a picked room by its outline [px]."""
    picked = {"param": PICK, "empty": False}
    return {"strokeWidth": {"condition": [picked | {"value": thick}], "value": thin}}


def readout(sheet: Sheet, told: Mapping[str, str]) -> list[Spec]:
    """A line of text that tells of the picked room, without hovering, and until one is picked how to.

    Parameters
    ----------
    told : what is told of each room, by its full name.
    """
    size = TEXT["label"]
    line = {"type": "text", "align": "left", "baseline": "middle", "fontSize": size} | QUIET
    place = {"text": {"field": "text"}, "x": {"value": 0}, "y": {"value": READOUT / 2 - 1}}
    rows = [{PICK_FIELD: room, "text": first_line(text, sheet.width, size)} for room, text in told.items()]
    of_picked = layer(rows, line | {"fontWeight": "bold", "color": sheet.look.ink}, place)
    hidden = {"opacity": {"condition": {"param": PICK, "value": 1}, "value": 0}}
    return [
        of_picked | {"transform": [{"filter": {"param": PICK, "empty": False}}]},
        layer([{"text": HINT}], line | {"color": sheet.look.soft}, place | hidden),
    ]


def first_line(text: str, width: float, size: float) -> str:
    """As much of a text as one line holds, with an ellipsis where that is not all."""
    lines = wrapped(text, width - size, size * 1.08)
    return lines[0] if len(lines) < 2 else f"{lines[0]}…"
