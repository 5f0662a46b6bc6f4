"""Charts: data frame in (see planner.planning.frames), Altair chart out, nothing else."""

from planner.charts.charts import (
    PICK,
    PICK_FIELD,
    element_sizes,
    floor_plan,
    has_outlines,
    house_map,
    importance,
    label_box,
    room_graph,
    specification,
    step_down,
    tier_matrix,
)

__all__ = [
    "PICK",
    "PICK_FIELD",
    "element_sizes",
    "floor_plan",
    "has_outlines",
    "house_map",
    "importance",
    "label_box",
    "room_graph",
    "specification",
    "step_down",
    "tier_matrix",
]
