"""All papers of a plan in one file, for whoever takes them from a page."""

from collections.abc import Callable
from datetime import date
from io import BytesIO
from pathlib import Path
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

from planner.deliverables.deliver import papers
from planner.deliverables.papers import Paper, stamp_of, usual_size
from planner.planning.answer import Plan


def zipped(plan: Plan, day: date, told: Callable[[Paper], None], notes: str | Path = "") -> bytes:
    """The papers of a plan that exists, on the paper of the house's unit, as a ZIP file.

    Parameters
    ----------
    day : the date that the papers carry.
    told : is called with each paper as soon as it is made.
    notes : the folder of the house, whose notes and photographs then go on a paper too.
    """
    held = BytesIO()
    with ZipFile(held, "w", ZIP_DEFLATED) as folder:
        for paper in papers(plan, stamp_of(plan, day), usual_size(plan.house.unit), notes=notes):
            info = ZipInfo(paper.name, (day.year, day.month, day.day, 0, 0, 0))
            info.compress_type = ZIP_DEFLATED
            folder.writestr(info, paper.data)
            told(paper)
    return held.getvalue()
