"""Tables in plain files: comma-separated text, one header row, every fault told by row and column."""

import csv
import io
import stat
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from planner.house.problems import Problem, choose
from planner.units import LengthError, parse_length, quoted

LARGEST_FILE = 50_000_000
"""A file of a house has no more bytes than this."""


@dataclass(frozen=True)
class Row:
    """One row of a table. `number` is the row that a spreadsheet shows; `cells` holds every known column, stripped."""

    file: str
    number: int
    cells: dict[str, str]

    def __getitem__(self, column: str) -> str:
        return self.cells[column]

    def problem(self, column: str, message: str, remedy: str, severity: str = "error") -> Problem:
        """A problem that stands in this row."""
        return Problem(self.file, self.number, column, message, remedy, severity)

    def length(self, column: str, unit: str, problems: list[Problem]) -> float | None:
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
    The rows that could be read, without those that are blank all through.
    """
    path = Path(path)
    data = read_bytes(path, path.name, problems)
    return [] if data is None else parse_table(data, path.name, columns, problems, optional)


def read_bytes(path: Path, file: str, problems: list[Problem], remedy: str = "put the file there") -> bytes | None:
    """The bytes of a plain file, or None where it cannot be read, which is told in `problems` under the name `file`."""
    try:
        state = path.stat()
        if stat.S_ISDIR(state.st_mode):
            problems.append(Problem(file, None, None, "is a directory", "put a plain file in its place"))
        elif not stat.S_ISREG(state.st_mode):
            problems.append(Problem(file, None, None, "is not a plain file", "put a plain file in its place"))
        elif state.st_size > LARGEST_FILE:
            limit = f"{LARGEST_FILE // 1_000_000} MB"
            problems.append(Problem(file, None, None, f"is larger than {limit}", f"keep it under {limit}"))
        else:
            return path.read_bytes()
    except FileNotFoundError:
        problems.append(Problem(file, None, None, "is missing", remedy))
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        problems.append(
            Problem(file, None, None, f"cannot be read ({reason})", "put a plain file there that you may read")
        )
    return None


def decode(data: bytes, file: str, problems: list[Problem]) -> str | None:
    """The text of a UTF-8 file, with or without a byte order mark, or None where it is none."""
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        problems.append(Problem(file, None, None, "is UTF-16 text", "save it as UTF-8"))
        return None
    if b"\0" in data:
        line = data[: data.index(b"\0")].count(b"\n") + 1
        problems.append(Problem(file, line, None, "holds a NUL byte, so it is no text", "save it as UTF-8 text"))
        return None
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        found = f"byte 0x{data[error.start]:02X} is not UTF-8"
        problems.append(Problem(file, line, None, found, "save the file in the encoding UTF-8"))
        return None


def parse_table(
    data: bytes, file: str, columns: Iterable[str], problems: list[Problem], optional: Iterable[str] = ()
) -> list[Row]:
    """Read a table from the bytes of a file; the rest is as in `read_table`."""
    columns, optional = tuple(columns), frozenset(optional)
    text = decode(data, file, problems)
    if text is None:
        return []
    records = _records(text, file, problems)
    if not records:
        header = ",".join(columns)
        problems.append(Problem(file, 1, None, "has no header", f"begin with the row {header}"))
        return []
    header = [cell.strip() for cell in records[0]]
    if not _header_holds(header, columns, optional, file, problems):
        return []
    rows = []
    for number, record in enumerate(records[1:], start=2):
        cells = [cell.strip() for cell in record]
        if not any(cells):
            continue
        if any(cells[len(header) :]):
            found = f"has {len(cells)} cells under {len(header)} columns"
            problems.append(Problem(file, number, None, found, "put a cell that holds a comma in quotes"))
            continue
        cells += [""] * (len(header) - len(cells))
        found = {name: cell for name, cell in zip(header, cells, strict=False) if name}
        rows.append(Row(file, number, {name: found.get(name, "") for name in columns}))
    return rows


def _records(text: str, file: str, problems: list[Problem]) -> list[list[str]]:
    records: list[list[str]] = []
    try:
        for record in csv.reader(io.StringIO(text, newline=""), strict=True):
            records.append(record)
    except csv.Error as error:
        row = len(records) + 1
        if "field larger" in str(error):
            limit = f"{csv.field_size_limit():,} characters"
            problems.append(Problem(file, row, None, f"a cell has more than {limit}", "shorten it"))
        else:
            found = "a cell that begins with a quote is not closed by one"
            problems.append(Problem(file, row, None, found, 'close it, and write a quote inside it twice: ""'))
        return records or [[]]
    return records


def _header_holds(
    header: list[str], columns: tuple[str, ...], optional: frozenset[str], file: str, problems: list[Problem]
) -> bool:
    """Whether the header has every column once; faults are told."""
    if not any(header):
        problems.append(Problem(file, 1, None, "has no header", f"begin with the row {','.join(columns)}"))
        return False
    for mark, name in ((";", "semicolons"), ("\t", "tabs"), ("|", "bars")):
        if len(header) == 1 and mark in header[0]:
            problems.append(Problem(file, 1, None, f"its cells are parted by {name}", "save it with commas"))
            return False
    before = len(problems)
    missing = [name for name in columns if name not in header]
    for name in dict.fromkeys(name for name in header if name and name not in columns):
        problems.append(
            Problem(
                file, 1, name[:60], f"{quoted(name)} is no column", f"{choose(name, missing or columns)}, or drop it"
            )
        )
    for name in columns:
        if header.count(name) > 1:
            problems.append(Problem(file, 1, name, "the column is there twice", "keep one of the two"))
        elif name in missing and name not in optional:
            problems.append(Problem(file, 1, name, "the column is missing", f"add the column {quoted(name)}"))
    return not any(p.severity == "error" for p in problems[before:])
