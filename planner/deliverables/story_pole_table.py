"""The story poles of a plan as a table, for a workbook and for other tools."""

import pandas as pd

from planner.deliverables.table import Table, as_built
from planner.planning.answer import Plan
from planner.units import INCHES_IN, format_length, section_unit


def story_poles(plan: Plan) -> Table:
    """Every mark of the story pole of every package: its height above the finished floor, as a number in the house's
    unit and as it is written, and where it is for."""
    unit = section_unit(plan.house.unit)
    headings = ("Package", "Mark", f"Height [{unit}]", "Written", "Where")
    rows = [
        (
            package.label,
            mark.name,
            mark.height / INCHES_IN[unit],
            format_length(mark.height, plan.house.unit),
            "; ".join(mark.where) or "everywhere",
        )
        for package, pole in plan.story_poles.items()
        for mark in pole.marks
    ]
    says = "All heights of a package on one stick, from the finished floor up."
    return Table("story-poles", "Story poles", as_built(pd.DataFrame(rows, columns=list(headings))), says, fast=2)
