"""The tab of importance: what makes a room count, and where it lies."""

import marimo as mo

from planner import charts
from planner.apps import pages
from planner.planning import frames
from planner.planning.answer import Plan


def view(planned: Plan, dark: bool, width: int) -> mo.Html:
    """The factors of every room's importance, and the rooms by depth from the entry."""
    factors = charts.importance(frames.factors(planned), dark=dark, width=width)
    graph = charts.room_graph(frames.rooms(planned), frames.passages(planned), dark=dark, width=width)
    return pages.charts_beside(pages.Drawn(factors), pages.Drawn(graph))
