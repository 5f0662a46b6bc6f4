"""Tables that people edit are saved whole or not at all."""

import shutil

import pytest

from planner import HouseFault, demo_house, read_house
from planner.house.editing import TABLES, save_cells
from tests.house.cells import read_cells


@pytest.fixture
def folder(tmp_path):
    return shutil.copytree(demo_house(), tmp_path / "house")


def state(folder):
    return {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_what_was_not_touched_is_not_written(folder):
    before = state(folder)
    save_cells(folder, {file: read_cells(folder, file) for file in TABLES})
    after = state(folder)
    assert after == before
    assert read_house(folder)[0] == read_house(demo_house())[0]


def test_a_cell_changed_by_hand_is_found_in_the_house(folder):
    rooms = read_cells(folder, "rooms.csv")
    next(row for row in rooms if row["room"] == "Entry Hall")["ceiling"] = "11'-6\""
    house, _ = save_cells(folder, {"rooms.csv": rooms})
    assert house.by_name["Entry Hall"].ceiling == 138
    assert read_house(folder)[0] == house


def test_a_fault_is_told_by_row_and_leaves_every_file_as_it_was(folder):
    before = state(folder)
    rooms, openings = read_cells(folder, "rooms.csv"), read_cells(folder, "openings.csv")
    rooms[1]["ceiling"] = "ten"
    openings[0]["width"] = "5'"
    with pytest.raises(HouseFault) as fault:
        save_cells(folder, {"rooms.csv": rooms, "openings.csv": openings})
    assert any((p.file, p.row, p.column) == ("rooms.csv", 3, "ceiling") for p in fault.value.errors)
    assert state(folder) == before


def test_a_table_without_its_columns_is_no_table_and_a_blank_one_is_told(folder):
    """An editor whose every row was deleted comes back with one column of another name."""
    before = state(folder)
    with pytest.raises(HouseFault, match=r'openings\.csv row 2, value: "W1" stands in no column of the table'):
        save_cells(folder, {"openings.csv": [{"value": "W1"}]})
    with pytest.raises(HouseFault, match="no opening leads"):
        save_cells(folder, {"openings.csv": [{"value": ""}, {"value": None}]})
    assert state(folder) == before


def test_trim_that_stays_is_begun_in_its_table_and_left_out_where_there_is_none(folder):
    assert read_cells(folder, "existing.csv") == []
    tables = {file: read_cells(folder, file) for file in TABLES}
    save_cells(folder, tables)
    assert not (folder / "existing.csv").exists()
    row = {"room": "Library", "element": "base", "form": "board and cap", "height": "8"}
    house, _ = save_cells(folder, tables | {"existing.csv": [row]})
    assert [(one.room, one.element, one.height) for one in house.existing] == [("Library", "base", 8.0)]
    assert read_cells(folder, "existing.csv")[0]["form"] == "board and cap"
    with pytest.raises(HouseFault, match="Libary"):
        save_cells(folder, tables | {"existing.csv": [row | {"room": "Libary"}]})
    assert read_cells(folder, "existing.csv")[0]["room"] == "Library"


@pytest.mark.parametrize(
    ("file", "row"),
    [
        ("fixtures.csv", {"fixture": "Desk", "kind": "built-in", "room": "Library", "wall": "W", "offset": "2'-11\"",
                          "width": "18", "top": "30"}),
        ("stairs.csv", {"flight": "Attic stair", "room": "Back Hall", "wall": "1", "offset": "12", "up": "right",
                        "risers": "4", "rise": "8", "run": "9"}),
    ],
)  # fmt: skip
def test_fixtures_and_stairs_are_begun_in_an_empty_table(folder, file, row):
    (folder / file).unlink()
    assert read_cells(folder, file) == []
    tables = {name: read_cells(folder, name) for name in TABLES}
    save_cells(folder, tables)
    assert not (folder / file).exists()
    house, _ = save_cells(folder, tables | {file: [row]})
    assert [one.name for one in (house.fixtures if file == "fixtures.csv" else house.flights)] == [
        row.get("fixture") or row["flight"]
    ]
    assert {column: cell for column, cell in read_cells(folder, file)[0].items() if cell} == row
