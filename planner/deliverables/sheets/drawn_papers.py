"""All drawn papers of a plan, one after another."""

from collections.abc import Iterator

from planner.deliverables.papers import Paper, PaperSize, Stamp
from planner.deliverables.sheets.cad_files import cad_papers
from planner.deliverables.sheets.drawing_set import drawing_set
from planner.deliverables.sheets.full_size import full_size
from planner.planning.answer import Plan


def drawn_papers(plan: Plan, stamp: Stamp, size: PaperSize) -> Iterator[Paper]:
    """The set of drawings, the sheets at full size, and the files for CAD."""
    yield Paper("drawings.pdf", "Drawings", drawing_set(plan, stamp, size))
    yield Paper("full-size.pdf", "Profiles and sections at full size", full_size(plan, stamp, size))
    yield from cad_papers(plan, stamp)
