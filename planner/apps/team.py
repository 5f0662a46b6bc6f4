"""What a team sees: alternatives of one house, how near each comes to its own ideal, and where they differ."""

from collections.abc import Iterable, Sequence

import marimo as mo

from planner import charts
from planner.apps import pages
from planner.apps.houses import Opened
from planner.charts import FinishedChart
from planner.files.problems import HouseFault, Problem
from planner.intent.folder import read_intent
from planner.planning import frames
from planner.planning.answer import Plan
from planner.planning.pipeline import plan

MOST = 4
"""How many alternatives stand side by side."""

WIDE_CHART, MATRIX_CHART = 1200, 900
"""Widths of the charts on a wide screen [px]."""


def planned_as(opened: Opened, names: Sequence[str]) -> tuple[list[Plan], mo.Html]:
    """The plans of alternatives that there are, and notes on those that cannot be had or read."""
    plans: list[Plan] = []
    faults: list[Problem] = []
    for name in names:
        if opened.house is None:
            break
        try:
            plans.append(plan(opened.house, read_intent(opened.folder, name), opened.stock))
        except HouseFault as fault:
            faults += fault.problems
    notes = [
        pages.note(
            "alarm",
            pages.element("p", f"{title}: no plan can keep all of these at once."),
            pages.listed(planned.conflicts),
        )
        for title, planned in zip(frames.alternative_titles(plans), plans, strict=True)
        if not planned.feasible
    ]
    if faults:
        notes.append(pages.note("alarm", "These alternatives cannot be read.", pages.problems(faults)))
    if len(names) < 2:
        notes.append(pages.note("quiet", "Choose two alternatives or more."))
    return [planned for planned in plans if planned.feasible], pages.show(*notes)


def figures(standing: Sequence[Plan]) -> mo.Html:
    """How near each plan comes to its own ideal, and how its steps read."""
    columns = ["Alternative", "Period, order, grade", "Best tier", "Away from the ideal", "Rooms", "Passages"]
    columns += ["Clear steps", "Level", "Too faint", "Abrupt", "Cost index"]
    rows = map(_figures, frames.alternative_titles(standing), standing)
    caption = "How near each comes to its own ideal, and how its steps read"
    return pages.show(pages.table(columns, rows, caption=caption, numbers=columns[2:]))


def _figures(title: str, planned: Plan) -> list[object]:
    reads = [passage.reads for passage in planned.passages]
    return [
        title,
        f"{planned.style}, {planned.order}, {planned.grade}",
        max(room.tier for room in planned.rooms),
        f"{planned.objective.total:.2f}",
        f"{planned.objective.fit:.2f}",
        f"{planned.objective.abrupt:.2f}",
        *(reads.count(word) for word in ("clear", "even", "faint", "abrupt")),
        f"{planned.cost:,.0f}",
    ]


def tiers(standing: Sequence[Plan], every_room: bool, dark: bool, width: int) -> FinishedChart:
    """The tier of each room in each plan, those alone that differ unless every room is asked for."""
    compared = frames.compare(standing)
    return charts.tier_matrix(compared, differing_only=not every_room, dark=dark, width=min(width, MATRIX_CHART))


def walks(standing: Iterable[Plan], dark: bool, width: int) -> FinishedChart:
    """The walks to the bedrooms, the plans side by side."""
    return charts.step_down(frames.compare_routes(list(standing)), dark=dark, width=width)
