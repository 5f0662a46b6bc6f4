"""The tab of checks: what does not fit or does not read, and the cautions."""

import marimo as mo

from planner.apps import pages
from planner.planning.answer import Plan


def view(planned: Plan) -> mo.Html:
    """The plan's notes, and a row for each check."""
    rows = [[c.severity, c.room, c.opening, c.message, c.remedy, c.rule, c.source] for c in planned.checks]
    columns = ["Kind", "Room", "Opening", "What", "Remedy", "Rule", "Source"]
    found = pages.table(columns, rows) if rows else pages.element("p", "Nothing to see to.")
    return pages.show(pages.listed(planned.notes), found)
