"""The tab of the house's tables: its files as a spreadsheet shows them, saved only where they are sound."""

from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import cast

import marimo as mo

from planner.apps import houses, pages
from planner.apps.houses import Tell
from planner.files.problems import HouseFault, Problem
from planner.house.editing import TABLES, read_cells, save_cells

BLANK = " "
"""What stands for an empty cell, which the editor would show as "null"; saving strips it."""


def editors(folder: Path) -> dict[str, mo.ui.data_editor]:
    """An editor for each table of the house, by its file."""
    return {file: _editor(folder, file) for file in TABLES}


def _editor(folder: Path, file: str) -> mo.ui.data_editor:
    rows = read_cells(folder, file) or [dict.fromkeys(TABLES[file], "")]  # without a row it would have no columns
    return mo.ui.data_editor([{column: cell or BLANK for column, cell in row.items()} for row in rows], label=file)


def save(folder: Path, editors: Mapping[str, mo.ui.data_editor]) -> tuple[Problem, ...]:
    """Save what the editors hold; where the house would not be sound nothing is saved, and its faults are returned."""
    tables = {file: cast(Sequence[Mapping[str, object]], editor.value) for file, editor in editors.items()}
    try:
        save_cells(folder, tables)
    except HouseFault as fault:
        return fault.problems
    return ()


def saving(folder: Path, editors: Mapping[str, mo.ui.data_editor], tell: Tell) -> mo.ui.button:
    """The button that saves what the editors hold, and tells the page what came of it."""

    def saved(_: object) -> None:
        faults = save(folder, editors)
        tell["table faults"](faults)
        if not faults:
            tell["opened"](houses.opened(folder))
            tell["news"]("The house's tables are saved.")

    return mo.ui.button(label="Check and save the tables", on_click=saved)


def view(editors: Mapping[str, mo.ui.data_editor], save: mo.ui.button) -> mo.Html:
    """The editors under their files' names, and the button that saves them."""
    tables = [mo.vstack([pages.show(pages.heading(file)), editor]) for file, editor in editors.items()]
    return mo.vstack([*tables, save], gap=1)


def refused(faults: Iterable[Problem]) -> mo.Html:
    """Why nothing was saved."""
    words = "Nothing was saved. Row 1 of a file is its header, so its row 2 is line 1 above."
    return pages.show(pages.note("alarm", words, pages.problems(faults)))
