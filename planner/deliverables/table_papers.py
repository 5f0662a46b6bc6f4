"""Every table of a plan as CSV, for other tools."""

from collections.abc import Iterator

from planner.deliverables import tables
from planner.deliverables.papers import Paper, PaperSize, Stamp
from planner.deliverables.table_files import csv_bytes
from planner.planning.answer import Plan


def table_papers(plan: Plan, stamp: Stamp, size: PaperSize) -> Iterator[Paper]:
    """One file a table."""
    for name, title, table in (("rooms", "Rooms by tier", tables.rooms), ("checks", "Checks", tables.checks)):
        yield Paper(f"tables/{name}.csv", title, csv_bytes(table(plan)))
