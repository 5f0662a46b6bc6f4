"""A house's tables as they stand in their files, to be edited by people, and saved only where the house stays whole."""

from collections.abc import Mapping
from pathlib import Path

import pandas as pd

from planner.files.csv_tables import read_table, table_bytes
from planner.files.problems import Problem, raise_errors
from planner.files.storage import read_bytes, replace_files
from planner.house.model import House
from planner.house.parsing import FILES, OPENING_COLUMNS, OPENINGS, ROOM_COLUMNS, ROOMS, parse_house
from planner.library import standard

TABLES = {ROOMS: ROOM_COLUMNS, OPENINGS: OPENING_COLUMNS}
"""The tables that make a house, in the order in which they are filled in, with their columns."""


def read_cells(folder: str | Path, file: str) -> pd.DataFrame:
    """Every cell of one of the TABLES as text. Raises HouseFault where it is no table."""
    problems: list[Problem] = []
    rows = read_table(Path(folder) / file, TABLES[file], problems, TABLES[file])
    raise_errors(problems)
    return pd.DataFrame([row.cells for row in rows], columns=list(TABLES[file]), dtype=str)


def save_cells(folder: str | Path, tables: Mapping[str, pd.DataFrame]) -> tuple[House, tuple[Problem, ...]]:
    """Write tables back to their files, all of them or none; rows that are blank all through are left out.

    Returns the house as it is then and the warnings on it. Raises HouseFault with every fault, by file, row and
    column, and leaves the folder as it was, where the house would not be whole.
    """
    problems: list[Problem] = []
    written = {file: table_bytes(TABLES[file], _rows(cells, TABLES[file])) for file, cells in tables.items()}
    files = {name: written.get(name) or read_bytes(Path(folder) / name, name, problems) for name in FILES}
    house = parse_house(files, problems, standard())
    raise_errors(problems)
    replace_files(Path(folder), written)
    return house, tuple(problems)


def _rows(cells: pd.DataFrame, columns: tuple[str, ...]) -> list[list[str]]:
    rows = [
        ["" if pd.isna(value) else str(value).strip() for value in row]
        for row in cells[list(columns)].itertuples(index=False)
    ]
    return [row for row in rows if any(row)]
