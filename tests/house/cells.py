"""The cells of a house's tables, to be changed and saved again."""

from pathlib import Path

from planner.house.editing import read_sheet


def read_cells(folder: Path, file: str) -> list[dict[str, str]]:
    """Every row of a table, each cell as text by its column."""
    return [dict(row) for row in read_sheet(folder, file).rows]
