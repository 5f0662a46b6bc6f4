"""Every table of a plan as CSV, for other tools; each row carries the stamp."""

from collections.abc import Iterator

from planner.deliverables.all_tables import all_tables
from planner.deliverables.order_tables import pieces
from planner.deliverables.papers import Paper, PaperSize, Stamp
from planner.deliverables.table import Table
from planner.deliverables.table_files import csv_bytes
from planner.planning.answer import Plan

MOST_ROWS = 100_000
"""A file has no more rows than this."""


def table_papers(plan: Plan, stamp: Stamp, size: PaperSize) -> Iterator[Paper]:
    """A file for each table that has rows, those of the workbook and every single piece."""
    for table in all_tables(plan):
        yield from _papers(table, stamp)
    if plan.takeoff is not None:
        yield from _papers(pieces(plan, plan.takeoff), stamp)


def _papers(table: Table, stamp: Stamp) -> Iterator[Paper]:
    """The table in parts that every tool opens; one, but for the largest of houses."""
    stamped = table.frame.assign(**dict(stamp.lines))
    for number, first in enumerate(range(0, len(stamped), MOST_ROWS), 1):
        part = f"-{number}" if number > 1 else ""
        data = csv_bytes(stamped.iloc[first : first + MOST_ROWS])
        yield Paper(f"tables/{table.name}{part}.csv", f"{table.title}, as CSV", data)
