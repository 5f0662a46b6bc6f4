"""The tab of checks: what does not fit or does not read, and the cautions."""

import marimo as mo

from planner.apps import pages
from planner.planning.answer import Plan

MOST_SHOWN = 300
"""Checks that are shown at once, the gravest first; `planner plan` tells all."""


def view(planned: Plan) -> mo.Html:
    """The plan's notes, and a row for each check."""
    rows = [[c.severity, c.room, c.opening, c.message, c.remedy, c.rule, c.source] for c in planned.checks[:MOST_SHOWN]]
    columns = ["Kind", "Room", "Opening", "What", "Remedy", "Rule", "Source"]
    found = pages.table(columns, rows) if rows else pages.element("p", "Nothing to see to.")
    left_out = len(planned.checks) - len(rows)
    more = pages.element("p", f"The first {len(rows)}; there are {left_out:,} more." if left_out else "")
    return pages.show(pages.listed(planned.notes), found, more)
