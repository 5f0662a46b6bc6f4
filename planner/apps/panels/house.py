"""The tab in which a house is made and changed: the drawing board, and what becomes of it when it is saved."""

from collections.abc import Callable, MutableMapping, Sequence
from pathlib import Path

import marimo as mo

from planner.apps import houses, pages
from planner.apps.address import ROOM, SESSION, asked
from planner.apps.board.board import Board, Gesture
from planner.apps.drawing import Drawing, Refusal
from planner.apps.houses import Tell
from planner.files.problems import HouseFault
from planner.house.sketch import Sketch
from planner.units import listed

UNSOUND = (
    "Theirs cannot be overwritten: what else they saved goes with it, and the house would have these faults. Put yours "
    "into theirs, then change there what is to be otherwise."
)


def drawing_again(folder: Path, address: MutableMapping[str, str], tell: Tell) -> Drawing:
    """The drawing of a page, with what was done to it before it was loaded, which the page is told.

    The room that the page's `address` asks for is picked on it; the address says then under which name the session
    keeps its drafts.
    """
    drawing = Drawing(folder, asked(address, SESSION))
    address[SESSION] = drawing.session
    if (room := asked(address, ROOM)) in drawing.sketch.room_names:
        drawing.look_at([row["room"] for row in drawing.sketch.rooms].index(room))
    if drawing.back:
        when = f" on {drawing.touched:%d %B at %H:%M}" if drawing.touched else ""
        drawing.news = f"What was done to {listed(drawing.back)}{when} and is not saved is back."
        tell["news"](f"{drawing.news} It stands in the tab House.")
    return drawing


def board(drawing: Drawing, tell: Tell) -> mo.ui.anywidget:
    """The board of a page, with nothing on it yet; what is done on it is done to the drawing and shown at once.

    It outlives the cells that show it, so that no gesture is lost while one of them is built anew.
    """

    def told(gestures: Sequence[Gesture]) -> None:
        for gesture in gestures:
            if gesture.get("do") == "save":
                finish(drawing, drawing.save(), tell)
            else:
                before, unkept = drawing.sketch, drawing.unkept
                drawing.act(gesture)
                if drawing.unkept != unkept or _is_over(drawing, before):
                    _refuse(drawing, drawing.refusal(), tell)
        made.show(drawing.shown())

    made = Board(told)
    return mo.ui.anywidget(made)


def shown(drawing: Drawing, board: mo.ui.anywidget) -> mo.Html:
    """The board with the house on it as it stands now; where its files are none any more, their faults."""
    drawing.follow()
    if drawing.lost:
        return pages.show(pages.note("alarm", "The house cannot be drawn.", pages.problems(drawing.lost)))
    board.widget.show(drawing.shown())
    return mo.vstack([pages.show(pages.note("quiet", pages.problems(drawing.torn))), board]) if drawing.torn else board


def _refuse(drawing: Drawing, refusal: Refusal | None, tell: Tell) -> None:
    drawing.refused = refusal
    tell["refusal"](refusal)


def _is_over(drawing: Drawing, before: Sketch) -> bool:
    """Whether why nothing was saved no longer holds, after a gesture on the sketch `before`."""
    if drawing.refused is None:
        return False
    if drawing.refused.overtaken is not None:
        return not drawing.unsaved
    return bool(drawing.refused.faults) and drawing.sketch is not before


def finish(drawing: Drawing, refusal: Refusal | None, tell: Tell) -> None:
    """Tell the page what came of saving."""
    _refuse(drawing, refusal, tell)
    if refusal is None:
        drawing.news, drawing.is_refused = "The house is saved.", False
        tell["opened"](houses.opened(drawing.folder))
        tell["news"]("The house is saved.")
    else:
        drawing.refuse("nothing was saved; why is told below the board")
        if refusal.overtaken is None:  # else the news is that somebody else has changed the house
            tell["news"]("Nothing of the house was saved; why is told in the tab House.")


def ways_on(drawing: Drawing, refusal: Refusal | None, tell: Tell) -> list[mo.ui.button]:
    """What can be done where somebody else has changed a file meanwhile: a button for each."""
    if refusal is not None and refusal.unkept:
        return [mo.ui.button(label="Try again", on_click=lambda _: _kept(drawing, tell))]
    if refusal is None or refusal.overtaken is None:
        return []

    def settled(act: Callable[[], None], news: str) -> Callable[[object], None]:
        def done(_: object) -> None:
            try:
                act()
            except HouseFault as fault:
                _refuse(drawing, Refusal(fault.problems), tell)
                return
            _refuse(drawing, None, tell)
            drawing.news, drawing.is_refused = news, False
            tell["drawn"](None)
            tell["news"](news)

        return done

    both = "What you did stands in the house as it is now. Look it over, then save it."
    return [
        mo.ui.button(label="Put mine into theirs", on_click=settled(drawing.put_into_theirs, both)),
        mo.ui.button(label="Overwrite theirs", on_click=lambda _: finish(drawing, drawing.overwrite(), tell)),
        mo.ui.button(
            label="Keep theirs, drop mine",
            on_click=settled(drawing.put_away, "The house is as it is in its folder."),
        ),
    ]


def _kept(drawing: Drawing, tell: Tell) -> None:
    drawing.keep()
    _refuse(drawing, drawing.refusal(), tell)


def refused(refusal: Refusal, ways: Sequence[mo.ui.button]) -> mo.Html:
    """Why nothing was saved, and what can be done."""
    if refusal.unkept:
        words = "What you did to the house is on this page alone, and gone with it until it is saved."
        told = pages.note("alarm", words, pages.problems(refusal.unkept))
        return mo.vstack([pages.show(told), pages.beside(*ways)])
    if refusal.overtaken is None:
        words = "Nothing was saved; what you did is still here. Rows are numbered as a spreadsheet numbers them."
        return pages.show(pages.note("alarm", words, pages.problems(refusal.faults)))
    files = " and ".join(refusal.overtaken)
    words = f"Nothing was saved: somebody else has changed {files} since you opened it. What you did is still here."
    rows = [
        [file, change.row, change.kind, column, change.before.get(column, ""), cell]
        for file, changes in refusal.overtaken.items()
        for change in changes
        for column, cell in (change.cells.items() if change.kind == "changed" else [("", "")])
    ]
    columns = ["Table", "Row", "Is", "Column", "Was", "Is now"]
    said = [words, pages.table(columns, rows, caption="What they changed")]
    if refusal.faults:
        said += [pages.element("p", UNSOUND), pages.problems(refusal.faults)]
    return mo.vstack([pages.show(pages.note("alarm", *said)), pages.beside(*ways)])
