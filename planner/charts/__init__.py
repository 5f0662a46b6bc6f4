"""Charts: data frame in (see planner.planning.frames), Altair chart out, nothing else.

Every chart takes `width`, the pixels that it may fill from edge to edge, and `dark`. Room names are drawn as plain
text; where one is too long for its place it wraps, then ends in an ellipsis, and the tooltip has the whole of it.

The floor plan and the room graph are clicked: their one point selection is named PICK, over the field PICK_FIELD, whose
value is the room's full name.
"""

from planner.charts.cost_parts import cost_parts
from planner.charts.cost_ranges import cost_ranges
from planner.charts.element_sizes import element_sizes
from planner.charts.finished import FinishedChart
from planner.charts.floor_plan import floor_plan
from planner.charts.frontier import frontier
from planner.charts.house_map import house_map
from planner.charts.importance import importance
from planner.charts.room_graph import room_graph
from planner.charts.rooms import PICK, PICK_FIELD
from planner.charts.step_down import step_down
from planner.charts.tier_matrix import tier_matrix

__all__ = [
    "PICK",
    "PICK_FIELD",
    "FinishedChart",
    "cost_parts",
    "cost_ranges",
    "element_sizes",
    "floor_plan",
    "frontier",
    "house_map",
    "importance",
    "room_graph",
    "step_down",
    "tier_matrix",
]
