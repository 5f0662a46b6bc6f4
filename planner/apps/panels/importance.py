"""Under the weights: what makes each room count, and where it lies."""

import marimo as mo

from planner import charts
from planner.apps import pages
from planner.planning import frames
from planner.planning.answer import Plan

FACTORS, GRAPH = "What makes each room important", "The rooms by steps from the entry"
"""Titles of what is folded away."""


def view(planned: Plan, dark: bool, width: int) -> mo.Html:
    """The factors of every room's importance, and the rooms by depth from the entry, each folded away and drawn when it
    is looked at."""

    def factors() -> pages.Drawn:
        return pages.Drawn(charts.importance(frames.factors(planned), dark=dark, width=width))

    def graph() -> pages.Drawn:
        rooms, passages = frames.rooms(planned), frames.passages(planned)
        return pages.Drawn(charts.room_graph(rooms, passages, dark=dark, width=width))

    return pages.folds({FACTORS: mo.lazy(factors), GRAPH: mo.lazy(graph)})
