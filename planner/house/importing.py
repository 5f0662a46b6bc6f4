"""Rooms and openings that stand in a spreadsheet already: what is read of a file or of copied cells, and as what.

Nothing of it is in a house before somebody has seen how it was understood.
"""

import csv
import io
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from planner.files.csv_tables import LARGEST_TABLE, MOST_COLUMNS, MOST_ROWS, beyond
from planner.files.problems import HouseFault, Problem, nearest
from planner.files.storage import decode
from planner.house.editing import TABLES
from planner.house.faults import OPENINGS, ROOMS
from planner.house.packed import MOST_UNPACKED, Packed, TooLarge, TooMuch
from planner.house.sketch import LENGTHS

Cells = dict[str, str]


class Grid(tuple[tuple[str, ...], ...]):
    """The cells of a sheet, row by row, without rows that are blank all through; `numbers` are those of the rows."""

    numbers: tuple[int, ...]

    def __new__(cls, rows: Iterable[tuple[str, ...]], numbers: Iterable[int]) -> "Grid":
        """Rows and the number of each."""
        made = super().__new__(cls, rows)
        made.numbers = tuple(numbers)
        return made


LAST_ROW = 1_048_576
"""Of a sheet, as spreadsheets have it (ECMA-376 leaves it open; from memory); blank rows may run on to it."""

MOST_SHEETS = 20
"""So many sheets of a workbook are read."""

MOST_ABOVE = 10
"""The header is looked for in so many rows; what stands above it is a title."""

_UNIT_AFTER = re.compile(r"(.+?)[ ]?[(\[]?\b(mm|cm|m|ft|feet|in|inch|inches)\b[)\]]?")
_BARE = re.compile(r"[\d][\d./ ½¼¾⅛⅜⅝⅞]*")
_WITH_COMMA = re.compile(r"(\d{1,3}(?:\.\d{3})+|\d+),(\d+)( ?[a-z]*)")

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
    rows, each with its number in the sheet. It `is_sure` where the headings say so; so many rows `above` them are left.
    """

    file: str
    columns: tuple[tuple[str, str], ...]
    rows: tuple[Cells, ...]
    numbers: tuple[int, ...]
    is_sure: bool
    above: int = 0


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
        text, read_as = _text_of(data, name)
        found = {f"{name}{read_as}": text_grid(text)}
    if not any(found.values()):
        raise _fault(name, "holds no cells", "write a header and a row for each room or opening")
    return {sheet: grid for sheet, grid in found.items() if grid}


def text_grid(text: str, mark: str = "") -> Grid:
    """The cells of a text, parted by a mark: where none is given by tabs, if its first line has any, else by commas,
    semicolons or bars. A decimal comma becomes a point where it cannot be the mark of thousands.

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
        rows = csv.reader(io.StringIO(text, newline=""), delimiter=mark)
        return _kept(([_with_point(cell, mark) for cell in row] for row in rows), "the text")
    except csv.Error as error:
        raise _fault("the text", f"is no table ({error})", "copy the cells anew") from None


def understood(grid: Grid, file: str | None = None) -> Understood:
    """What a sheet says, its first row being its header where it reads as one.

    Parameters
    ----------
    file : as which table it is to be read; None reads it as the one that its header fits.
    """
    files = (file,) if file else (ROOMS, OPENINGS)
    best, head = max(((one, _header(grid, one)) for one in files), key=lambda found: _fit(grid, *found))
    if head is None:
        columns = [*TABLES[best], *[""] * len(grid[0])][: len(grid[0])]
        rows = tuple(_row(cells, columns, [""] * len(columns), best) for cells in grid)
        headings = (f"column {at}" for at in range(1, len(grid[0]) + 1))
        return Understood(best, tuple(zip(headings, columns, strict=True)), rows, grid.numbers, False)
    matched = _matched(grid[head], best)
    columns = [matched.get(at, "") for at in range(len(grid[head]))]
    lengths = LENGTHS[best]
    units = [_parted(text)[1] * (column in lengths) for text, column in zip(grid[head], columns, strict=True)]
    rows = tuple(_row(cells, columns, units, best) for cells in grid[head + 1 :])
    said = tuple(zip(grid[head], columns, strict=True))
    return Understood(best, said, rows, grid.numbers[head + 1 :], True, head)


def _header(grid: Grid, file: str) -> int | None:
    """Where the row stands that reads as the header of a table: the first, or one below a title, which has to name more
    columns and to spell them right; None where none does."""
    if len(_matched(grid[0], file)) >= 2:
        return 0
    return next((at for at, row in enumerate(grid[:MOST_ABOVE]) if len(_matched(row, file, guess=False)) >= 3), None)


def _fit(grid: Grid, file: str, head: int | None) -> int:
    return len(_matched(grid[head or 0], file))


def _matched(header: Sequence[str], file: str, *, guess: bool = True) -> dict[int, str]:
    """The column of a table that each heading is read as, by its place; each column once. To `guess` is to read what is
    misspelled as the likeliest."""
    names = {word: column for column, words in ALSO_CALLED.get(file, {}).items() for word in words}
    names |= {column: column for column in TABLES[file]}
    found: dict[int, str] = {}
    plain = [_parted(heading)[0] for heading in header]
    for known in ({column: column for column in TABLES[file]}, names):
        for at, word in enumerate(plain):
            if at not in found and (column := known.get(word)) and column not in found.values():
                found[at] = column
    for at, word in enumerate(plain):
        left = [column for column in TABLES[file] if column not in found.values()]
        if guess and at not in found and len(word) > 3 and (near := nearest(word, left, 1)):
            found[at] = near[0]
    return found


def _parted(heading: str) -> tuple[str, str]:
    """What a heading says in plain words, and the unit that it ends in, if any.

    >>> _parted("Clear_Width (mm)"), _parted("In")
    (('clear width', 'mm'), ('in', ''))
    """
    plain = " ".join(heading.casefold().replace("_", " ").replace("-", " ").split())
    ends = _UNIT_AFTER.fullmatch(plain)
    return (ends[1].strip(), ends[2]) if ends else (plain, "")


def _row(cells: Sequence[str], columns: Sequence[str], units: Sequence[str], file: str) -> Cells:
    """A row by the columns of a table; a bare length is in the unit of its column, if that has one."""
    said = dict.fromkeys(TABLES[file], "")
    for cell, column, unit in zip(cells, columns, units, strict=True):
        if column:
            said[column] = f"{cell} {unit}" if unit and _BARE.fullmatch(cell) else cell
    return said


def _text_of(data: bytes, name: str) -> tuple[str, str]:
    """The text of a file, and what is to be told of how it was read: spreadsheets write UTF-8, UTF-16 with its mark or,
    on Windows, the letters of its Western code page."""
    problems: list[Problem] = []
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        try:
            return data.decode("utf-16"), ""
        except UnicodeDecodeError:
            raise _fault(name, "is no whole UTF-16 text", "save it as UTF-8") from None
    text = decode(data, name, problems)
    if text is None and b"\0" not in data:
        try:
            return data.decode("cp1252"), ", read as Windows-1252: look at its accents"
        except UnicodeDecodeError:
            pass
    if text is None:
        raise HouseFault(problems)
    return text, ""


def _with_point(cell: str, mark: str) -> str:
    """A number with a decimal comma as it is with a point; three digits after a comma may be thousands, but where cells
    are parted by semicolons, which is done for the sake of such commas.

    >>> _with_point("4,25 m", "\\t"), _with_point("3,658", "\\t"), _with_point("3.658,5", ";")
    ('4.25 m', '3,658', '3658.5')
    """
    found = _WITH_COMMA.fullmatch(cell.strip())
    if not found or (mark != ";" and len(found[2]) == 3):
        return cell
    return f"{found[1].replace('.', '')}.{found[2]}{found[3]}"


def _workbook(data: bytes, name: str) -> dict[str, Grid]:
    """The sheets of a workbook, none of which is calculated or looked up elsewhere."""
    from openpyxl.reader.excel import ExcelReader  # only where there is a workbook

    try:
        reader = ExcelReader(io.BytesIO(data), read_only=True, data_only=True, keep_links=False)
        reader.archive = Packed(data)
        reader.read()
        book = reader.wb
        sheets = book.worksheets[:MOST_SHEETS]
        return {sheet.title: _kept(_rows(sheet, reader.archive), name) for sheet in sheets}
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


def _rows(sheet: Any, archive: Packed) -> Iterable[list[str]]:
    """The rows of a sheet that is read as it comes; how large it says that it is may be wrong, and is not gone by."""
    from planner.house.sheet_marks import sheet_marks, spelled_out  # only where there is a workbook

    sheet.reset_dimensions()
    rows = sheet.iter_rows(max_col=MOST_COLUMNS + 1, values_only=True)
    marks = sheet_marks(archive.bytes_of(sheet._worksheet_path))
    return spelled_out(([_text(cell) for cell in row] for row in rows), marks)


def _kept(rows: Iterable[Sequence[str]], name: str) -> Grid:
    """Rows of stripped cells, without those that are blank and without blank columns at the end, all of one width."""
    found: list[list[str]] = []
    numbers: list[int] = []
    for number, row in enumerate(rows, 1):
        if number > LAST_ROW:
            raise _fault(name, *beyond(LAST_ROW, "rows, blank ones among them"))
        cells = [cell.strip() for cell in row]
        if any(cells):
            found.append(cells)
            numbers.append(number)
        if len(found) > MOST_ROWS:
            raise _fault(name, *beyond(MOST_ROWS, "rows"))
    width = max((at for row in found for at, cell in enumerate(row, 1) if cell), default=0)
    if width > MOST_COLUMNS:
        raise _fault(name, *beyond(MOST_COLUMNS, "columns"))
    return Grid((tuple([*row, *[""] * width][:width]) for row in found), numbers)


def _text(cell: object) -> str:
    """A cell of a workbook as it would be typed."""
    if cell is None:
        return ""
    if isinstance(cell, float) and cell.is_integer() and abs(cell) < 1e15:
        return str(int(cell))
    return str(cell)


def _fault(name: str, message: str, remedy: str) -> HouseFault:
    return HouseFault([Problem(name, None, None, message, remedy)])
