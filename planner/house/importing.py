"""Rooms and openings that stand in a spreadsheet already: what is read of a file or of copied cells, and as what.

Nothing of it is in a house before somebody has seen how it was understood.
"""

import csv
import io
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from planner.files.csv_tables import LARGEST_TABLE, MOST_COLUMNS, MOST_ROWS, beyond
from planner.files.problems import HouseFault, Problem, nearest
from planner.files.storage import decode
from planner.house.editing import TABLES
from planner.house.faults import OPENINGS, ROOMS
from planner.house.packed import MOST_UNPACKED, Packed, TooLarge, TooMuch

Cells = dict[str, str]
Grid = tuple[tuple[str, ...], ...]
"""The cells of a sheet, row by row, without rows that are blank all through."""

LAST_ROW = 1_048_576
"""Of a sheet, as spreadsheets have it (ECMA-376 leaves it open; from memory); blank rows may run on to it."""

MOST_SHEETS = 20
"""So many sheets of a workbook are read."""

ALSO_CALLED = {
    ROOMS: {
        "room": ("name", "room name", "space"),
        "level": ("floor", "storey", "story"),
        "use": ("type", "function", "room type", "kind"),
        "length": ("l", "east west", "x"),
        "width": ("depth", "w", "breadth", "y"),
        "ceiling": ("height", "ceiling height", "clear height", "h"),
        "outline": ("corners", "polygon"),
        "notes": ("note", "remarks", "comment", "comments"),
    },
    OPENINGS: {
        "opening": ("name", "mark", "id", "number"),
        "kind": ("type", "opening type"),
        "room": ("from", "from room", "in"),
        "other": ("to", "to room", "into", "leads to"),
        "wall": ("side",),
        "offset": ("from left",),
        "width": ("w", "clear width"),
        "height": ("head", "h", "head height"),
        "sill": ("sill height",),
        "leaf": ("panels", "door leaf"),
        "lights": ("panes", "glazing"),
    },
}
"""What else spreadsheets call the columns; common practice."""


@dataclass(frozen=True)
class Understood:
    """What is read of a sheet: as which table, each heading with the column that it is read as ("" for none), and the
    rows, of which the first stands in row `first` of the sheet. It `is_sure` where the headings say so.
    """

    file: str
    columns: tuple[tuple[str, str], ...]
    rows: tuple[Cells, ...]
    first: int
    is_sure: bool


def grids(data: bytes, name: str) -> dict[str, Grid]:
    """The sheets of a file, CSV or XLSX, by their names, those without a cell left out.

    Raises
    ------
    HouseFault : it is neither, too large, or holds nothing.
    """
    if len(data) > LARGEST_TABLE:
        raise _fault(name, *beyond(LARGEST_TABLE // 1_000_000, "MB"))
    if data.startswith(b"PK"):
        found = _workbook(data, name)
    elif data.startswith(b"\xd0\xcf\x11\xe0"):
        raise _fault(
            name, "is a workbook of the old kind, or one with a password", "save it as XLSX, without a password"
        )
    else:
        problems: list[Problem] = []
        text = decode(data, name, problems)
        if text is None:
            raise HouseFault(problems)
        found = {name: text_grid(text)}
    if not any(found.values()):
        raise _fault(name, "holds no cells", "write a header and a row for each room or opening")
    return {sheet: grid for sheet, grid in found.items() if grid}


def text_grid(text: str, mark: str = "") -> Grid:
    """The cells of a text, parted by a mark: where none is given by tabs, if its first line has any, else by commas,
    semicolons or bars.

    Raises
    ------
    HouseFault : it has too many rows or columns, or is no table.

    Examples
    --------
    >>> text_grid('room\\tuse\\nHall\\t"entry, hall"\\n')
    (('room', 'use'), ('Hall', 'entry, hall'))
    """
    first = text.lstrip("\n\r").partition("\n")[0]
    mark = mark or ("\t" if "\t" in first else max(",;|", key=first.count))
    try:
        return _kept(csv.reader(io.StringIO(text, newline=""), delimiter=mark), "the text")
    except csv.Error as error:
        raise _fault("the text", f"is no table ({error})", "copy the cells anew") from None


def understood(grid: Grid, file: str | None = None) -> Understood:
    """What a sheet says, its first row being its header where it reads as one.

    Parameters
    ----------
    file : as which table it is to be read; None reads it as the one that its header fits.
    """
    best = max((file,) if file else (ROOMS, OPENINGS), key=lambda one: len(_matched(grid[0], one)))
    matched = _matched(grid[0], best)
    columns = [matched.get(at, "") for at in range(len(grid[0]))]
    is_sure = len(matched) >= 2
    if not is_sure:
        columns = list(TABLES[best][: len(grid[0])])
        columns += [""] * (len(grid[0]) - len(columns))
    rows = tuple(_row(cells, columns, best) for cells in grid[1 if is_sure else 0 :])
    headings = grid[0] if is_sure else tuple(f"column {at}" for at in range(1, len(grid[0]) + 1))
    return Understood(best, tuple(zip(headings, columns, strict=True)), rows, 2 if is_sure else 1, is_sure)


def _matched(header: Sequence[str], file: str) -> dict[int, str]:
    """The column of a table that each heading is read as, by its place; each column once."""
    names = {word: column for column, words in ALSO_CALLED.get(file, {}).items() for word in words}
    names |= {column: column for column in TABLES[file]}
    found: dict[int, str] = {}
    plain = [" ".join(heading.casefold().replace("_", " ").replace("-", " ").split()) for heading in header]
    for known in ({column: column for column in TABLES[file]}, names):
        for at, word in enumerate(plain):
            if at not in found and (column := known.get(word)) and column not in found.values():
                found[at] = column
    for at, word in enumerate(plain):
        left = [column for column in TABLES[file] if column not in found.values()]
        if at not in found and len(word) > 3 and (near := nearest(word, left, 1)):
            found[at] = near[0]
    return found


def _row(cells: Sequence[str], columns: Sequence[str], file: str) -> Cells:
    said = {column: cell for column, cell in zip(columns, cells, strict=False) if column}
    return {column: said.get(column, "") for column in TABLES[file]}


def _workbook(data: bytes, name: str) -> dict[str, Grid]:
    """The sheets of a workbook, none of which is calculated or looked up elsewhere."""
    from openpyxl.reader.excel import ExcelReader  # only where there is a workbook

    try:
        reader = ExcelReader(io.BytesIO(data), read_only=True, data_only=True, keep_links=False)
        reader.archive = Packed(data)
        reader.read()
        book = reader.wb
        sheets = book.worksheets[:MOST_SHEETS]
        return {sheet.title: _kept(_rows(sheet), name) for sheet in sheets}
    except HouseFault:
        raise
    except TooMuch:
        raise _fault(name, *beyond(MOST_UNPACKED // 1_000_000, "MB once it is unpacked")) from None
    except TooLarge:
        raise _fault(
            name,
            "holds more cells, or more formats of cells, than is read of a workbook",
            "save the rooms and openings alone, as CSV or as a workbook of their own",
        ) from None
    except Exception as error:  # a broken workbook fails in as many ways as it can be broken
        raise _fault(
            name, f"is no workbook that can be read ({type(error).__name__})", "save it anew as XLSX"
        ) from None


def _rows(sheet: Any) -> Iterable[list[str]]:
    """The rows of a sheet that is read as it comes; how large it says that it is may be wrong, and is not gone by."""
    sheet.reset_dimensions()
    return ([_text(cell) for cell in row] for row in sheet.iter_rows(max_col=MOST_COLUMNS + 1, values_only=True))


def _kept(rows: Iterable[Sequence[str]], name: str) -> Grid:
    """Rows of stripped cells, without those that are blank and without blank columns at the end, all of one width."""
    found: list[list[str]] = []
    for number, row in enumerate(rows):
        if number >= LAST_ROW:
            raise _fault(name, *beyond(LAST_ROW, "rows, blank ones among them"))
        cells = [cell.strip() for cell in row]
        if any(cells):
            found.append(cells)
        if len(found) > MOST_ROWS:
            raise _fault(name, *beyond(MOST_ROWS, "rows"))
    width = max((at for row in found for at, cell in enumerate(row, 1) if cell), default=0)
    if width > MOST_COLUMNS:
        raise _fault(name, *beyond(MOST_COLUMNS, "columns"))
    return tuple(tuple([*row, *[""] * width][:width]) for row in found)


def _text(cell: object) -> str:
    """A cell of a workbook as it would be typed."""
    if cell is None:
        return ""
    if isinstance(cell, float) and cell.is_integer() and abs(cell) < 1e15:
        return str(int(cell))
    return str(cell)


def _fault(name: str, message: str, remedy: str) -> HouseFault:
    return HouseFault([Problem(name, None, None, message, remedy)])
