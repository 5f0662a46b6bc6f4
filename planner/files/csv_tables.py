"""Tables in plain files: comma-separated text, one header row, every fault told by row and column."""

import csv
import io
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from planner.files.problems import Problem, Severity, choose, nearest
from planner.files.storage import decode, read_bytes
from planner.units import LengthError, Unit, parse_length, quoted


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
    text = decode(data, file, problems)
    if text is None or not _commas_part(text, file, problems):
        return []
    records = _records(text, file, problems)
    header = None if records is None else _header(records[:1], columns, optional, file, problems)
    if records is None or header is None:
        return []
    rows = []
    for number, record in enumerate(records[1:], start=2):
        cells = [cell.strip() for cell in record]
        if not any(cells):
            continue
        torn = any(cells[len(header) :])
        if torn:
            message = f"has {len(cells)} cells under {len(header)} columns"
            problems.append(Problem(file, number, None, message, "put a cell that holds a comma in quotes"))
        cells += [""] * (len(header) - len(cells))
        found = {name: cell for name, cell in zip(header, cells, strict=False) if name}
        rows.append(Row(file, number, {name: found.get(name, "") for name in columns}, torn))
    return rows


def _records(text: str, file: str, problems: list[Problem]) -> list[list[str]] | None:
    """The cells of every row, or None where the text is no table."""
    records: list[list[str]] = []
    try:
        for record in csv.reader(io.StringIO(text, newline=""), strict=True):
            records.append(record)
    except csv.Error as error:
        row = len(records) + 1
        if "field larger" in str(error):
            limit = f"{csv.field_size_limit():,} characters"
            problems.append(Problem(file, row, None, f"a cell has more than {limit}", "shorten it"))
        elif "new-line" in str(error):
            problems.append(Problem(file, row, None, "its line ends are mixed", "save the table anew as CSV"))
        else:
            message = "a cell that begins with a quote does not end with one"
            problems.append(Problem(file, row, None, message, 'close it, and write a quote inside it twice: ""'))
        return None
    return records


def _commas_part(text: str, file: str, problems: list[Problem]) -> bool:
    """Whether it is commas that part the cells of the header."""
    first = text.partition("\n")[0]
    for mark, name in ((";", "semicolons"), ("\t", "tabs"), ("|", "bars")):
        if first.count(mark) > first.count(","):
            problems.append(Problem(file, 1, None, f"its cells are parted by {name}", "save it with commas"))
            return False
    return True


def _header(
    first: list[list[str]], columns: tuple[str, ...], optional: frozenset[str], file: str, problems: list[Problem]
) -> list[str] | None:
    """The columns in their order, each misspelled one under its likely name; None where one is lacking."""
    header = [cell.strip() for cell in first[0]] if first else []
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
