"""Every table of a plan as CSV, for other tools; each row carries the stamp."""

from collections.abc import Iterator

from planner.deliverables.all_tables import all_tables
from planner.deliverables.order_tables import pieces
from planner.deliverables.papers import Paper, PaperSize, Stamp
from planner.deliverables.table import Table
from planner.deliverables.table_files import csv_bytes
from planner.planning.answer import Plan


def table_papers(plan: Plan, stamp: Stamp, size: PaperSize) -> Iterator[Paper]:
    """One file for each table that has rows, those of the workbook and every single piece."""
    for table in all_tables(plan):
        yield from _paper(table, stamp)
    if plan.takeoff is not None:
        yield from _paper(pieces(plan, plan.takeoff), stamp)


def _paper(table: Table, stamp: Stamp) -> Iterator[Paper]:
    if len(table.frame):
        stamped = table.frame.assign(**dict(stamp.lines))
        yield Paper(f"tables/{table.name}.csv", f"{table.title}, as CSV", csv_bytes(stamped))
