"""A room on a chart: its colour, what is told of it, and how it is picked.

A chart that is clicked has one point selection named PICK over the field PICK_FIELD, whose value is the room's full
name, the same in the floor plan and in the room graph.
"""

from typing import TypedDict, cast

import pandas as pd

from planner.charts.vega_lite import Datum, Spec, records, tooltip
from planner.house.model import Point
from planner.look import theme
from planner.units import Unit

PICK = "pick"
PICK_FIELD = "properties.room"
PICK_LAYER = "rooms"
"""Name of the layer whose marks are clicked."""

PICKING: Spec = {
    "name": PICK,
    "select": {"type": "point", "fields": [PICK_FIELD], "on": "click, touchend"},
    "views": [PICK_LAYER],
}
"""The selection."""


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
    """The rows of frames.rooms."""
    return cast("list[RoomRow]", records(rooms))


def tier_names(rooms: pd.DataFrame) -> dict[int, str]:
    """Names of the tiers that occur."""
    return dict(zip(rooms["tier"], rooms["tier_name"], strict=True))


def room_fill(room: RoomRow, dark: bool) -> str:
    """The colour of a room's tier."""
    return theme.ramp(room["tiers"], dark)[room["tier"] - 1]


def room_properties(room: RoomRow, selected: str | None, dark: bool) -> Datum:
    """What a mark says of its room; `selected` is the room to outline."""
    return {
        "room": room["room"],
        "tier": f"{room['tier']} {room['tier_name']}",
        "importance": round(room["importance"], 2),
        "size": f"{room['length_text']} by {room['width_text']}",
        "ceiling": room["ceiling_text"],
        "fill": room_fill(room, dark),
        "selected": selected == room["room"],
    }


def room_channels(thin: float, thick: float) -> Spec:
    """Channels of marks with `room_properties`: colour, tooltip, and an outline [px] that tells a picked room."""
    picked = {"or": [{"param": PICK, "empty": False}, "datum.properties.selected"]}
    return {
        "fill": {"field": "properties.fill", "type": "nominal", "scale": None},
        "tooltip": tooltip(*(f"properties.{name}" for name in ("room", "tier", "importance", "size", "ceiling"))),
        "strokeWidth": {"condition": [{"test": picked, "value": thick}], "value": thin},
    }
