"""Under the weights: what makes each room count, and where it lies."""

import marimo as mo

from planner import charts
from planner.apps import pages
from planner.planning import frames
from planner.planning.answer import Plan

FACTORS, GRAPH = "What makes each room important", "The rooms by steps from the entry"
"""Titles of what is folded away."""


def view(planned: Plan, dark: bool, width: int) -> mo.Html:
    """The factors of every room's importance, and the rooms by depth from the entry, each folded away."""
    factors = charts.importance(frames.factors(planned), dark=dark, width=width)
    graph = charts.room_graph(frames.rooms(planned), frames.passages(planned), dark=dark, width=width)
    return pages.folds({FACTORS: pages.Drawn(factors), GRAPH: pages.Drawn(graph)})
