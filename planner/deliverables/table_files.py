"""Tables that leave the planner: as CSV, as a workbook, and as text to be pasted into one."""

import csv
import io
import math
import re
from collections.abc import Callable, Iterable
from datetime import datetime
from numbers import Real

import pandas as pd

Cell = str | float | int | None

FORMULA = ("=", "+", "-", "@", "\t", "\r")
"""A text that begins so would be worked out by a spreadsheet that opens a CSV, or run."""

LONGEST_CELL = 32_767
"""Characters that a cell of a workbook holds; from memory."""

WIDEST = 60
"""A column of a workbook is no wider than this [characters]; what is longer is wrapped."""

WRITTEN = datetime(2000, 1, 1)
"""What every workbook says of when it was made, so that equal tables give equal files."""


def csv_bytes(table: pd.DataFrame) -> bytes:
    """A table as CSV, in UTF-8 with the mark by which spreadsheets know it.

    A text that a spreadsheet would take for a formula begins with an apostrophe.

    >>> csv_bytes(pd.DataFrame({"Room": ["=1+1", "Hall"], "Size [in]": [-2.5, None]})).decode("utf-8-sig")
    "Room,Size [in]\\r\\n'=1+1,-2.5\\r\\nHall,\\r\\n"
    """
    return _separated(table, ",", _disarmed).encode("utf-8-sig")


def pasted(table: pd.DataFrame) -> str:
    """A table as text that a spreadsheet takes apart into cells when it is pasted."""
    return _separated(table, "\t", lambda text: _disarmed(" ".join(text.split())))


def xlsx_bytes(table: pd.DataFrame, title: str) -> bytes:
    """A table as a workbook of one sheet, its heading fast and its rows to be filtered; a text is never a formula.

    >>> xlsx_bytes(pd.DataFrame({"Room": ["=1+1"]}), "Rooms")[:2]
    b'PK'
    """
    import xlsxwriter  # only where a workbook is asked for

    out = io.BytesIO()
    book = xlsxwriter.Workbook(out, {"in_memory": True})
    book.set_properties({"created": WRITTEN})
    sheet = book.add_worksheet(sheet_name(title))
    head = book.add_format({"bold": True, "text_wrap": True, "valign": "top"})
    wrapped = book.add_format({"text_wrap": True, "valign": "top"})
    rows = cells_of(table)
    for number, row in enumerate(rows):
        for column, cell in enumerate(row):
            if isinstance(cell, str):
                sheet.write_string(number, column, cell[:LONGEST_CELL], wrapped if number else head)
            elif cell is not None:
                sheet.write_number(number, column, cell, wrapped)
    for column, cells in enumerate(zip(*rows, strict=True)):
        longest = max(len(line) for cell in cells for line in str(cell or "").split("\n"))
        sheet.set_column(column, column, min(longest, WIDEST) + 2)
    sheet.freeze_panes(1, 1)
    sheet.autofilter(0, 0, len(rows) - 1, max(len(rows[0]) - 1, 0))
    book.close()
    return out.getvalue()


def sheet_name(title: str) -> str:
    """A title as the name of a sheet in a workbook: up to 31 characters without those that mean something there.

    >>> sheet_name("Pieces: north/south [mm], every one of them")
    'Pieces north south mm every one'
    """
    words = re.sub(r"[\W_]+", " ", title).strip()
    words = words.encode("utf-16-le")[:62].decode("utf-16-le", "ignore").strip()
    return "Table" if words.casefold() in ("", "history") else words


def _separated(table: pd.DataFrame, mark: str, shown: Callable[[str], str]) -> str:
    out = io.StringIO(newline="")
    rows = ([shown(cell) if isinstance(cell, str) else cell for cell in row] for row in cells_of(table))
    csv.writer(out, delimiter=mark).writerows(rows)
    return out.getvalue()


def _disarmed(text: str) -> str:
    return f"'{text}" if text.startswith(FORMULA) else text


def cells_of(table: pd.DataFrame) -> list[list[Cell]]:
    """The heading and every row, each cell as it is written."""
    return [[_cell(name) for name in table.columns], *([_cell(v) for v in row] for row in table.to_numpy().tolist())]


def _cell(value: object) -> Cell:
    """A number as a number, where it is one; all else as text."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if value is None or (isinstance(value, float) and math.isnan(value)):
        return None
    if isinstance(value, Real) and math.isfinite(value):
        return value if isinstance(value, int) else float(value)
    if isinstance(value, Iterable) and not isinstance(value, str):
        return "; ".join(map(str, value))
    return str(value).encode("utf-8", "replace").decode()
