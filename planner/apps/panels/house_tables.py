"""The tab of the house's tables: its files as a spreadsheet shows them, saved only where they are sound."""

from collections.abc import Callable, Iterable, Mapping, MutableMapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, cast

import marimo as mo

from planner.apps import houses, pages
from planner.apps.houses import Tell
from planner.apps.table_drafts import Cells, TableDraft, TypedTable
from planner.files.problems import HouseFault, Problem
from planner.files.storage import Overtaken
from planner.house.editing import KEYS, TABLES, Sheet, as_cells, read_sheet, save_cells
from planner.house.merging import RowChange, merged, row_changes

_PUT_AWAY = "The tables are as they are in the house's folder."

BLANK = " "
"""What stands for an empty cell, which the editor would show as "null"; saving strips it."""


@dataclass(frozen=True)
class Refusal:
    """Why nothing was saved: `faults`, or for each table that somebody else has changed what became of its rows; or why
    what was typed is `unkept`, on the page alone.
    """

    faults: tuple[Problem, ...] = ()
    overtaken: Mapping[str, tuple[RowChange, ...]] | None = None
    unkept: tuple[Problem, ...] = ()


class TableEditor(mo.ui.data_editor):
    """The framework's editor, whose rows stand in the page itself.

    The framework hands them over as a file beside the page, and takes that away with the editor: a browser that comes
    for it a moment after another tab was chosen, or the tables were built anew, is answered with a fault. It also makes
    a script of text of such a file's columns, which no page of ours may.
    """

    def _initialize(self, initialization_args: Any) -> None:
        args = initialization_args.args | {"data": self.data}
        super()._initialize(replace(initialization_args, args=args))


class Sheets:
    """The house's tables on one screen. What is typed into them stays until it is saved or put away, whatever else is
    looked at meanwhile, and is in the session's draft on the disk; what is not typed into follows its file.

    `back` are the tables that have in them what was typed before the page was loaded, `touched` when that was,
    `faults` why a draft could not be read, `unkept` why what was typed last is in no draft.
    """

    def __init__(self, folder: Path, session: str = ""):
        self.folder, self.unkept = folder, tuple[Problem, ...]()
        self._draft = TableDraft(folder, session)
        found = {file: one for file, one in self._draft.found.items() if not self._is_saved(file, one.rows)}
        self._read: dict[str, Sheet] = {file: one.read for file, one in found.items()}
        self._typed: dict[str, Cells] = {file: one.rows for file, one in found.items()}
        self.back, self.touched, self.faults = tuple(found), self._draft.touched, self._draft.faults
        if found != self._draft.found:
            self.keep()

    @property
    def session(self) -> str:
        """The name of the session, which its draft bears."""
        return self._draft.session

    def editors(self, tell: Tell) -> tuple[dict[str, TableEditor], tuple[Problem, ...]]:
        """An editor for each table of the house, by its file, and the faults of those that are no table any more.

        The page is told where what is typed cannot be kept as a draft, and when it can again.
        """
        built: dict[str, TableEditor] = {}
        faults: list[Problem] = []
        for file in TABLES:
            try:
                if file not in self._typed:
                    self._read[file] = read_sheet(self.folder, file)
                built[file] = self._editor(file, tell)
            except HouseFault as fault:
                faults += fault.problems
        return built, tuple(faults)

    def save(self) -> Refusal | None:
        """Save what was typed; where that cannot be, nothing is saved, nothing typed is lost, and why is returned."""
        try:
            save_cells(self.folder, self._typed, {file: self._read[file].seen for file in self._typed})
        except Overtaken as overtaken:
            return self._overtaken(overtaken)
        except HouseFault as fault:
            return Refusal(fault.problems)
        self.put_away()
        return None

    def put_into_theirs(self) -> None:
        """Put what was typed into the tables as they are now; what both changed is as it was typed."""
        for file, typed in self._typed.items():
            theirs = read_sheet(self.folder, file)
            self._typed[file] = merged(self._read[file].rows, typed, theirs.rows, KEYS[file])
            self._read[file] = theirs
        self.keep()

    def overwrite(self) -> Refusal | None:
        """Save what was typed in the place of what somebody else has written meanwhile."""
        for file in self._typed:
            self._read[file] = replace(self._read[file], seen=read_sheet(self.folder, file).seen)
        return self.save()

    def put_away(self) -> None:
        """Forget what was typed."""
        self._typed.clear()
        self.back = ()
        self.keep()

    def keep(self) -> None:
        """Keep what is typed as the session's draft; where that cannot be, it is `unkept`."""
        try:
            self._draft.keep({file: TypedTable(self._read[file], rows) for file, rows in self._typed.items()})
        except HouseFault as fault:
            self.unkept = fault.problems
        else:
            self.unkept = ()

    def refusal(self) -> Refusal | None:
        """Why what was typed last is in no draft, where it is not."""
        return Refusal(unkept=self.unkept) if self.unkept else None

    def _editor(self, file: str, tell: Tell) -> TableEditor:
        def typed(rows: object) -> None:
            self._typed[file] = as_cells(file, cast(Cells, rows))
            if self._typed[file] == list(self._read[file].rows):
                del self._typed[file]
            before = self.unkept
            self.keep()
            if self.unkept != before:
                tell["refusal"](self.refusal())

        rows = self._typed.get(file, self._read[file].rows) or [dict.fromkeys(TABLES[file], "")]  # for its columns
        shown = [{column: cell or BLANK for column, cell in row.items()} for row in rows]
        return TableEditor(shown, label=file, on_change=typed)

    def _is_saved(self, file: str, rows: Cells) -> bool:
        try:
            return list(read_sheet(self.folder, file).rows) == list(rows)
        except HouseFault:
            return False

    def _overtaken(self, overtaken: Overtaken) -> Refusal:
        try:
            theirs = {file: read_sheet(self.folder, file).rows for file in overtaken.files}
        except HouseFault as fault:
            return Refusal((*overtaken.problems, *fault.problems))
        read = {file: self._read[file].rows for file in theirs}
        return Refusal((), {file: row_changes(read[file], rows, KEYS[file]) for file, rows in theirs.items()})


def sheets_again(folder: Path, address: MutableMapping[str, str], tell: Tell) -> Sheets:
    """The tables of a page, with what was typed into them before it was loaded, which the page is told.

    The page's `address` says then under which name the session keeps its drafts.
    """
    sheets = Sheets(folder, str(address.get("session") or ""))
    address["session"] = sheets.session
    if sheets.back:
        tell["news"](f"{_back(sheets)} They stand in the tab House tables.")
    return sheets


def _back(sheets: Sheets) -> str:
    when = f" on {sheets.touched:%d %B at %H:%M}" if sheets.touched else ""
    return f"Cells of {' and '.join(sheets.back)} that were typed{when} and are not saved are back."


def letting_go(sheets: Sheets, tell: Tell) -> list[mo.ui.button]:
    """The button that lets go of what is back, where something is."""

    def let_go(_: object) -> None:
        sheets.put_away()
        tell["refusal"](sheets.refusal())
        tell["sheets"](None)
        tell["news"](_PUT_AWAY)

    return [mo.ui.button(label="Let go of what was typed", on_click=let_go)] if sheets.back else []


def saving(sheets: Sheets, tell: Tell) -> mo.ui.button:
    """The button that saves what was typed, and tells the page what came of it."""
    return mo.ui.button(label="Check and save the tables", on_click=lambda _: _told(sheets, sheets.save(), tell))


def ways_on(sheets: Sheets, refusal: Refusal | None, tell: Tell) -> list[mo.ui.button]:
    """What can be done where somebody else has changed a table meanwhile: a button for each."""
    if refusal is not None and refusal.unkept:
        return [mo.ui.button(label="Try again", on_click=lambda _: _kept(sheets, tell))]
    if refusal is None or refusal.overtaken is None:
        return []

    def settled(act: Callable[[], None], news: str) -> Callable[[object], None]:
        def done(_: object) -> None:
            try:
                act()
            except HouseFault as fault:
                tell["refusal"](Refusal(fault.problems))
                return
            tell["refusal"](None)
            tell["sheets"](None)
            tell["news"](news)

        return done

    both = "What you typed stands in the tables as they are now. Look them over, then check and save them."
    return [
        mo.ui.button(label="Put mine into theirs", on_click=settled(sheets.put_into_theirs, both)),
        mo.ui.button(label="Overwrite theirs", on_click=lambda _: _told(sheets, sheets.overwrite(), tell)),
        mo.ui.button(
            label="Keep theirs, drop mine",
            on_click=settled(sheets.put_away, _PUT_AWAY),
        ),
    ]


def _told(sheets: Sheets, refusal: Refusal | None, tell: Tell) -> None:
    tell["refusal"](refusal)
    if refusal is None:
        tell["opened"](houses.opened(sheets.folder))
        tell["news"]("The house's tables are saved.")


def _kept(sheets: Sheets, tell: Tell) -> None:
    sheets.keep()
    tell["refusal"](sheets.refusal())


def view(
    sheets: Sheets,
    editors: Mapping[str, TableEditor],
    faults: Iterable[Problem],
    save: mo.ui.button,
    let_go: Sequence[mo.ui.button],
) -> mo.Html:
    """The editors under their files' names, what of them is back, the faults of tables that cannot be shown, and the
    button that saves."""
    tables = [mo.vstack([pages.show(pages.heading(file)), editor]) for file, editor in editors.items()]
    told = list(faults)
    lost = [pages.show(pages.note("alarm", "These tables cannot be shown.", pages.problems(told)))] if told else []
    back = [pages.show(pages.note("quiet", _back(sheets))), pages.beside(*let_go)] if sheets.back else []
    torn = [pages.show(pages.note("quiet", pages.problems(sheets.faults)))] if sheets.faults else []
    return mo.vstack([*torn, *back, *lost, *tables, save], gap=1)


def refused(refusal: Refusal, ways: Sequence[mo.ui.button]) -> mo.Html:
    """Why nothing was saved, and what can be done."""
    if refusal.unkept:
        words = "What you typed into the tables is on this page alone, and gone with it until it is saved."
        told = pages.note("alarm", words, pages.problems(refusal.unkept))
        return mo.vstack([pages.show(told), pages.beside(*ways)])
    if refusal.overtaken is None:
        words = "Nothing was saved; what you typed is still here. "
        words += "Row 1 of a file is its header, so its row 2 is line 1 above."
        return pages.show(pages.note("alarm", words, pages.problems(refusal.faults)))
    files = " and ".join(refusal.overtaken)
    words = f"Nothing was saved: somebody else has changed {files} since you opened it. What you typed is still here."
    rows = [
        [file, change.row, change.kind, column, change.before.get(column, ""), cell]
        for file, changes in refusal.overtaken.items()
        for change in changes
        for column, cell in (change.cells.items() if change.kind == "changed" else [("", "")])
    ]
    columns = ["Table", "Row", "Is", "Column", "Was", "Is now"]
    table = pages.table(columns, rows, caption="What they changed")
    return mo.vstack([pages.show(pages.note("alarm", words, table)), pages.beside(*ways)])
