"""All papers of a plan, made on the page and taken from it."""

from collections.abc import Callable
from datetime import date
from pathlib import Path

import marimo as mo

from planner.apps import pages, tables
from planner.apps.presses import lingering
from planner.deliverables.zipped import zipped
from planner.house.notes import Notes, read_notes
from planner.planning.answer import Plan

WORK = "Making the papers"
TITLE = "Papers for shop, yard and crew"
HINT = (
    "A workbook, the drawing set, sheets at full size, story poles, tables, what is noted of the house today, and a "
    "note of one page, each with the date and a mark of what it was made from. The same as planner deliver writes into "
    "a folder."
)
ZIP = "application/zip"


class Papers:
    """The papers of a page: made when they are asked for, and kept until the plan is another.

    Parameters
    ----------
    wake : has the page show the tab again.
    say : called with what the designer is to be told: while they are made the tab is blank, and its foot out of view.
    """

    def __init__(self, wake: Callable[[object], None], say: Callable[[str], None]):
        self._wake, self._say = wake, say
        self._wanted: Plan | None = None
        self._made: tuple[Plan, Notes, bytes] | None = None

    def control(self, planned: Plan, folder: Path) -> mo.ui.button | mo.download:
        """The button that has the papers of a plan made, with what is noted in the house's folder, and once it was
        pressed, when this returns, the way to take them."""
        asked = planned is self._wanted
        noted = read_notes(folder, planned.house)[0] if asked or self._made is not None else {}
        if asked:
            self._wanted = None
            with mo.status.spinner(title=WORK, subtitle="") as spinner:
                made = zipped(planned, date.today(), lambda paper: spinner.update(subtitle=paper.title), folder)
            self._made = planned, noted, made
            self._say(f"The papers are made: take them under {TITLE}.")
        if self._made is not None and self._made[0] is planned and self._made[1] == noted:
            made, name = self._made[2], tables.named(planned, "papers", ending=".zip")
            label = f"Take the papers ({len(made) / 1e6:.1f} MB)"
            return lingering(lambda: mo.download(lambda: made, name, ZIP, label=label))
        return mo.ui.button(label="Make all papers", on_click=lambda _: self._ask(planned))

    def _ask(self, planned: Plan) -> None:
        self._wanted = planned
        self._wake(object())


def view(control: mo.ui.button | mo.download) -> mo.Html:
    """What the papers are, and the control."""
    said = pages.heading(TITLE), pages.element("p", HINT, class_="pl-hint")
    return pages.show(pages.on_screen(*said), pages.control(control))
