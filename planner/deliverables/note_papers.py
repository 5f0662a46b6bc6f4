"""The job note on one page, as PDF and as text."""

import json
from collections.abc import Iterator
from importlib import resources

from planner.deliverables.job_note import Item, Note, job_note, note_text
from planner.deliverables.papers import Paper, PaperSize, Stamp
from planner.drawings.scene import TIED
from planner.look import theme
from planner.planning.answer import Plan
from planner.units import MEASURE

FITS = (
    *((8, 9.5), (8, 9.0), (6, 9.5), (6, 9.0), (5, 9.0), (4, 9.0), (3, 9.0)),
    *((3, 8.5), (2, 8.5), (2, 8.0), (1, 8.0), (1, 7.0)),
)
"""How much is told one by one, and in type of which size [pt]: the first of these that goes on one page is taken."""


def note_papers(plan: Plan, stamp: Stamp, size: PaperSize) -> Iterator[Paper]:
    """The note, typeset and as text; both say the same."""
    note, data = on_one_page(plan, stamp, size)
    yield Paper("job-note.pdf", "Job note", data)
    yield Paper("job-note.txt", "Job note, as text", note_text(note).encode())


def on_one_page(plan: Plan, stamp: Stamp, size: PaperSize) -> tuple[Note, bytes]:
    """The note that says as much as goes on one page, and it typeset as PDF."""
    for most, points in FITS:
        note = job_note(plan, stamp, most)
        data, pages = typeset(note, size, points)
        if pages == 1:
            break
    return note, data


def typeset(note: Note, size: PaperSize, points: float) -> tuple[bytes, int]:
    """A note as PDF in type of a size [pt], and on how many pages.

    Notes
    -----
    What the note says is handed to the typesetter as data, so that no character of it is markup.
    """
    import typst  # only where a paper is typeset

    template = resources.files("planner.deliverables").joinpath("typst_templates", "job_note.typ").read_bytes()
    width, height = size.page
    facts = {
        "title": note.title,
        "stamp": note.stamp,
        "width": width,
        "height": height,
        "points": points,
        "ink": theme.LIGHT.ink,
        "soft": theme.LIGHT.soft,
        "sections": [
            {"heading": s.heading, "steps": s.steps, "items": [_tied(item) for item in s.items]} for s in note.sections
        ],
    }
    compiler = typst.Compiler(template, sys_inputs={"facts": json.dumps(facts)})
    (pages,) = json.loads(compiler.query("<pages>", field="value"))
    data = compiler.compile(template, format="pdf")
    assert isinstance(data, bytes)
    return data, pages


def _tied(item: Item) -> dict[str, str]:
    """An item whose measures are not broken between lines."""
    return {name: MEASURE.sub(TIED, words) for name, words in item._asdict().items()}
