"""A house's tables as they stand in their files, to be edited by people, and saved only where the house stays whole."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from os.path import lexists
from pathlib import Path

from planner.files.csv_tables import parse_table, table_bytes
from planner.files.problems import Problem, choose, raise_errors
from planner.files.storage import Overtaken, read_bytes, replace_files, seen, settled, writing
from planner.house.existing import EXISTING
from planner.house.faults import OPENINGS, ROOMS
from planner.house.model import House
from planner.house.parsing import ALSO, FILES, OPENING_COLUMNS, ROOM_COLUMNS, parse_house, written_columns
from planner.house.side_tables import SIDE_TABLES
from planner.house.styles import house_library, with_own_faults
from planner.units import quoted

TABLES = {ROOMS: ROOM_COLUMNS, OPENINGS: OPENING_COLUMNS} | {table.file: table.columns for table in SIDE_TABLES}
"""The tables that make a house, in the order in which they are filled in, with their columns."""


KEYS = {file: columns[:1] for file, columns in TABLES.items()} | {EXISTING: ("room", "element")}
"""The columns that name a row of each table."""


@dataclass(frozen=True)
class Sheet:
    """A table as it was read: its rows, a cell as text by its column, and the bytes of its file, None without one."""

    rows: tuple[Mapping[str, str], ...]
    seen: bytes | None


def read_sheet(folder: str | Path, file: str) -> Sheet:
    """One of the TABLES, to be edited. Raises HouseFault where it is no table.

    A table that a house can do without has no rows where there is none.
    """
    if file in ALSO and not lexists(Path(folder) / file):
        return Sheet((), None)
    problems: list[Problem] = []
    with settled(Path(folder)):
        data = read_bytes(Path(folder) / file, file, problems)
    raise_errors(problems)
    return sheet_of(file, data)


def sheet_of(file: str, data: bytes | None) -> Sheet:
    """One of the TABLES from the bytes of its file, None without one. Raises HouseFault where it is no table."""
    problems: list[Problem] = []
    rows = [] if data is None else parse_table(data, file, TABLES[file], problems, TABLES[file])
    raise_errors(problems)
    return Sheet(tuple(dict(row.cells) for row in rows if not row.torn), data)


def save_cells(
    folder: str | Path,
    tables: Mapping[str, Iterable[Mapping[str, object]]],
    expected: Mapping[str, bytes | None] | None = None,
    also: Mapping[str, bytes] | None = None,
) -> tuple[House, tuple[Problem, ...]]:
    """Write tables back to their files, all of them or none; rows that are blank all through are left out.

    Parameters
    ----------
    tables : the rows of each file, a cell by its column; a cell that is None or not there is blank.
    expected : what the writer has seen of files, as in `planner.files.storage.replace_files`.
    also : further files of the folder that are written with them, house.toml perhaps.

    Returns
    -------
    The house as it is then, and the warnings on it.

    Raises
    ------
    Overtaken : a file no longer holds what is expected; the folder is as it was.
    HouseFault : the house would not be whole, or a cell stands in no column of its table; every fault is told by file,
        row and column, and the folder is as it was.
    """
    problems: list[Problem] = []
    rows = {file: _rows(file, cells, problems) for file, cells in tables.items()}
    with writing(Path(folder)):
        stands = seen(Path(folder), expected or ())
        if overtaken := [file for file, data in (expected or {}).items() if stands[file] != data]:
            raise Overtaken(overtaken)
        there = (*FILES, *(name for name in ALSO if rows.get(name) or lexists(Path(folder) / name)))
        written = {
            **(also or {}),
            **{file: _bytes(folder, file, cells) for file, cells in rows.items() if file in there},
        }
        files = {name: written.get(name) or read_bytes(Path(folder) / name, name, problems) for name in there}
        library, told = house_library(folder)
        house = parse_house(files, problems, library)
        problems = list(with_own_faults(problems, told))
        raise_errors(problems)
        replace_files(Path(folder), written)
    return house, tuple(problems)


def as_cells(file: str, rows: Iterable[Mapping[str, object]]) -> list[dict[str, str]]:
    """The rows of a table as an editor has them, each cell stripped, without rows that are blank all through."""
    return [dict(zip(TABLES[file], row, strict=True)) for row in _rows(file, rows, [])]


def _bytes(folder: str | Path, file: str, rows: list[list[str]]) -> bytes:
    """The bytes of a table, without the columns that seldom hold anything where it has had none of them."""
    path, columns = Path(folder) / file, TABLES[file]
    cells = [dict(zip(columns, row, strict=True)) for row in rows]
    before = path.read_bytes() if path.is_file() else None
    kept = written_columns(columns, before, cells)
    return table_bytes(kept, ([row[column] for column in kept] for row in cells))


def _rows(file: str, rows: Iterable[Mapping[str, object]], problems: list[Problem]) -> list[list[str]]:
    """The cells of a table in the order of its columns; what stands in none of them is told in `problems`."""
    columns, kept = TABLES[file], []
    for cells in rows:
        row = {column: _text(cell) for column, cell in cells.items()}
        if not any(row.values()):
            continue
        kept.append([row.get(column, "") for column in columns])
        problems += [
            Problem(
                file, len(kept) + 1, column, f"{quoted(cell)} stands in no column of the table", choose(column, columns)
            )
            for column, cell in row.items()
            if cell and column not in columns
        ]
    return kept


def _text(cell: object) -> str:
    return "" if cell is None else str(cell).strip()
