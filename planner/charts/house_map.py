"""The house as it is clicked: its floor plan, or its rooms by depth where nobody has drawn a plan."""

import pandas as pd

from planner.charts.finished import FinishedChart
from planner.charts.floor_plan import floor_plan, has_outline
from planner.charts.room_graph import room_graph
from planner.charts.rooms import room_rows


def house_map(
    rooms: pd.DataFrame,
    passages: pd.DataFrame,
    openings: pd.DataFrame | None = None,
    *,
    level: str | None = None,
    selected: str | None = None,
    dark: bool = False,
    width: int = 720,
    across: bool = False,
) -> FinishedChart:
    """The floor plan where the house has outlines, else the room graph; both are clicked alike."""
    if any(map(has_outline, room_rows(rooms))):
        return floor_plan(rooms, openings, level=level, selected=selected, dark=dark, width=width, across=across)
    return room_graph(rooms, passages, selected=selected, dark=dark, width=width)
