"""The whole set of drawings as one PDF: title, index, packages, story poles, elevations, details."""

from collections.abc import Iterator, Sequence

from planner.deliverables import letters
from planner.deliverables.papers import PaperSize, Stamp
from planner.deliverables.sheets.detail_sheets import detail_sheets
from planner.deliverables.sheets.elevation_sheets import elevations
from planner.deliverables.sheets.frame import Frame, frame_of
from planner.deliverables.sheets.package_sheets import package_sheets
from planner.deliverables.sheets.sheet import Sheet, numbered
from planner.deliverables.sheets.story_pole_sheets import story_pole_sheets
from planner.deliverables.sheets.title_sheet import index_sheets, title_sheets
from planner.deliverables.sheets.typesetting import pdf
from planner.planning.answer import Plan
from planner.units import listed

NAMED = 12
"""So many rooms that are not drawn are named."""


def drawing_set(plan: Plan, stamp: Stamp, size: PaperSize) -> bytes:
    """The set as a PDF.

    Parameters
    ----------
    plan : a plan that exists.
    stamp : what every sheet carries.
    size : of the paper.
    """
    frame = frame_of(size)
    return pdf(sheets_of(plan, stamp, frame), stamp, frame, f"{stamp.house}, {stamp.alternative}: drawings")


def sheets_of(plan: Plan, stamp: Stamp, frame: Frame) -> tuple[Sheet, ...]:
    """The sheets of the set in their order, numbered, the index among them."""
    walls = elevations(plan, frame)
    first = list(title_sheets(plan, stamp, frame, [*_left_out(walls.left_out), *_boxes(plan)]))
    rest = [
        *package_sheets(plan, frame),
        *walls.sheets,
        *detail_sheets(plan, frame),
        *story_pole_sheets(plan, frame),
    ]
    return indexed(first, rest, frame)


def indexed(first: Sequence[Sheet], rest: Sequence[Sheet], frame: Frame) -> tuple[Sheet, ...]:
    """The sheets with their index after the first of them, in which the index itself stands too."""
    index: list[Sheet] = []
    while True:
        whole = numbered([*first, *index, *rest])
        again = index_sheets(whole, frame)
        if len(again) == len(index):
            return numbered([*first, *again, *rest])
        index = again


def _boxes(plan: Plan) -> Iterator[str]:
    """What is said of letters that the type at hand cannot show."""
    if boxes := letters.told(letters.without_shape(plan)):
        yield boxes


def _left_out(rooms: Sequence[str]) -> Iterator[str]:
    """What is said of rooms that found no place."""
    if rooms:
        named = listed([*rooms[:NAMED], *([f"{len(rooms) - NAMED} more"] if len(rooms) > NAMED else [])])
        yield f"The walls of these rooms are not, or not all, in this set, but in the DXF files: {named}."
