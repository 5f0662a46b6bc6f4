"""Tables in plain files: comma-separated text, one header row, every fault told by row and column."""

import csv
import io
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from planner.files.problems import Problem, Severity, choose, nearest
from planner.files.storage import decode, read_bytes
from planner.units import LengthError, Unit, parse_length, quoted

LARGEST_TABLE = 10_000_000
"""A table has no more bytes than this."""

MOST_ROWS = 20_000
"""A table has no more rows than this that hold anything; a house of so many rooms is planned in seconds."""

MOST_COLUMNS = 100
"""A table has no more columns than this, those that are not known among them."""


@dataclass(frozen=True)
class Row:
    """One row of a table.

    `number` is the row that a spreadsheet shows; `cells` holds every known column, stripped. A `torn` row has more
    cells than the header, which is told: its cells may stand under the wrong columns.
    """

    file: str
    number: int
    cells: dict[str, str]
    torn: bool = False

    def __getitem__(self, column: str) -> str:
        return self.cells[column]

    def problem(self, column: str, message: str, remedy: str, severity: Severity = "error") -> Problem:
        """A problem that stands in this row."""
        return Problem(self.file, self.number, column, message, remedy, severity)

    def length(self, column: str, unit: Unit, problems: list[Problem]) -> float | None:
        """The length in a cell [in]; None where it is blank, or where it is none, which is told in `problems`."""
        if not self[column]:
            return None
        try:
            return parse_length(self[column], unit)
        except LengthError as error:
            problems.append(self.problem(column, error.message, error.remedy))
            return None


def read_table(
    path: str | Path, columns: Iterable[str], problems: list[Problem], optional: Iterable[str] = ()
) -> list[Row]:
    """Read a table of a house folder.

    Parameters
    ----------
    path : the file.
    columns : every column that the table may have; all but the `optional` ones must be there.
    problems : every fault found is appended to it.
    optional : columns that may be missing; their cells then read as blank.

    Returns
    -------
    The rows that could be read, without those that are blank all through and without torn ones.
    """
    path = Path(path)
    data = read_bytes(path, path.name, problems)
    rows = [] if data is None else parse_table(data, path.name, columns, problems, optional)
    return [row for row in rows if not row.torn]


def parse_table(
    data: bytes, file: str, columns: Iterable[str], problems: list[Problem], optional: Iterable[str] = ()
) -> list[Row]:
    """Read a table from the bytes of a file; the rest is as in `read_table`, but torn rows are in it."""
    columns, optional = tuple(columns), frozenset(optional)
    if len(data) > LARGEST_TABLE:
        problems.append(Problem(file, None, None, *beyond(LARGEST_TABLE // 1_000_000, "MB")))
        return []
    text = decode(data, file, problems)
    if text is None or not _commas_part(text, file, problems):
        return []
    header: list[str] | None = None
    rows: list[Row] = []
    number = 0
    try:
        for number, record in enumerate(csv.reader(io.StringIO(text, newline=""), strict=True), start=1):
            if number == 1:
                header = _header(record, columns, optional, file, problems)
            elif header is not None and any(cells := [cell.strip() for cell in record]):
                rows.append(_row(file, number, cells, header, columns, problems))
                if len(rows) > MOST_ROWS:
                    problems.append(Problem(file, number, None, *beyond(MOST_ROWS, "rows")))
                    return []
    except csv.Error as error:
        problems.append(_unreadable(error, file, number + 1))
        return []
    if not number:
        _header([], columns, optional, file, problems)
    return rows


def beyond(most: int, what: str) -> tuple[str, str]:
    """What is wrong with a table, or a part of one, that holds more than is read, and what would be right."""
    return f"has more than {most:,} {what}", f"keep it to {most:,} {what}"


def _row(
    file: str, number: int, cells: list[str], header: list[str], columns: tuple[str, ...], problems: list[Problem]
) -> Row:
    """A row from its stripped cells."""
    torn = any(cells[len(header) :])
    if torn:
        message = f"has {len(cells)} cells under {len(header)} columns"
        problems.append(Problem(file, number, None, message, "put a cell that holds a comma in quotes"))
    cells += [""] * (len(header) - len(cells))
    found = {name: cell for name, cell in zip(header, cells, strict=False) if name}
    return Row(file, number, {name: found.get(name, "") for name in columns}, torn)


def _unreadable(error: csv.Error, file: str, row: int) -> Problem:
    """Why a row is none of a table."""
    if "field larger" in str(error):
        limit = f"{csv.field_size_limit():,} characters"
        return Problem(file, row, None, f"a cell has more than {limit}", "shorten it")
    if "new-line" in str(error):
        return Problem(file, row, None, "its line ends are mixed", "save the table anew as CSV")
    message = "a cell that begins with a quote does not end with one"
    return Problem(file, row, None, message, 'close it, and write a quote inside it twice: ""')


def _commas_part(text: str, file: str, problems: list[Problem]) -> bool:
    """Whether it is commas that part the cells of the header."""
    first = text.partition("\n")[0]
    for mark, name in ((";", "semicolons"), ("\t", "tabs"), ("|", "bars")):
        if first.count(mark) > first.count(","):
            problems.append(Problem(file, 1, None, f"its cells are parted by {name}", "save it with commas"))
            return False
    return True


def _header(
    first: list[str], columns: tuple[str, ...], optional: frozenset[str], file: str, problems: list[Problem]
) -> list[str] | None:
    """The columns in their order, each misspelled one under its likely name; None where one is lacking."""
    header = [cell.strip() for cell in first]
    if len(header) > MOST_COLUMNS:
        problems.append(Problem(file, 1, None, *beyond(MOST_COLUMNS, "columns")))
        return None
    if not any(header):
        problems.append(Problem(file, 1, None, "has no header", f"begin with the row {','.join(columns)}"))
        return None
    missing = [name for name in columns if name not in header]
    for name in dict.fromkeys(name for name in header if name and name not in columns):
        likely = nearest(name, missing, 1)
        remedy = f"{choose(name, likely or columns)}, or drop it"
        problems.append(Problem(file, 1, name[:60], f"{quoted(name)} is no column", remedy))
        if likely:
            header[header.index(name)] = likely[0]
            missing.remove(likely[0])
    for name in columns:
        if header.count(name) > 1:
            problems.append(Problem(file, 1, name, "the column is there twice", "keep one of the two"))
        elif name in missing and name not in optional:
            problems.append(Problem(file, 1, name, "the column is missing", f"add the column {quoted(name)}"))
    return header if set(columns) - optional <= set(header) else None


def table_bytes(columns: Iterable[str], rows: Iterable[Iterable[str]]) -> bytes:
    """A table as the bytes of a file, header first."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(columns)
    writer.writerows(rows)
    return out.getvalue().encode("utf-8", "surrogatepass")
