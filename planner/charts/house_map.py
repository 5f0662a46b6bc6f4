"""The house as it is clicked: its floor plan, or its rooms by depth where nobody has drawn a plan."""

from collections.abc import Mapping

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
    moved: Mapping[str, int] | None = None,
    dark: bool = False,
    width: int = 720,
    height: int | None = None,
    across: bool | None = None,
    keys: bool = True,
) -> FinishedChart:
    """The floor plan where the house has outlines, else the room graph; both are clicked alike."""
    if any(map(has_outline, room_rows(rooms))):
        return floor_plan(
            rooms,
            openings,
            level=level,
            selected=selected,
            moved=moved,
            dark=dark,
            width=width,
            height=height,
            across=across,
            keys=keys,
        )
    return room_graph(rooms, passages, selected=selected, moved=moved, dark=dark, width=width, height=height)
