"""The editors hold the house's files, and save them only where they are sound."""

from planner import read_house
from planner.apps.panels import house_tables
from planner.house.editing import TABLES


def edited(editor, *edits):
    editor._update({"edits": list(edits)})


def test_what_was_not_touched_is_saved_as_it_was(folder):
    before = {path.name: path.read_bytes() for path in folder.glob("*.csv")}
    assert house_tables.save(folder, house_tables.editors(folder)) == ()
    assert {path.name: path.read_bytes() for path in folder.glob("*.csv")} == before


def test_a_cell_that_is_changed_is_saved(folder):
    editors = house_tables.editors(folder)
    edited(editors["rooms.csv"], {"rowIdx": 0, "columnId": "ceiling", "value": "11'"})
    assert house_tables.save(folder, editors) == ()
    assert read_house(folder)[0].rooms[0].ceiling == 132


def test_a_fault_is_told_by_row_and_nothing_is_saved(folder):
    before = (folder / "rooms.csv").read_bytes()
    editors = house_tables.editors(folder)
    edited(editors["rooms.csv"], {"rowIdx": 1, "columnId": "ceiling", "value": "ten"})
    (fault,) = (fault for fault in house_tables.save(folder, editors) if fault.severity == "error")
    assert (fault.file, fault.row, fault.column) == ("rooms.csv", 3, "ceiling")
    assert (folder / "rooms.csv").read_bytes() == before


def test_a_table_without_rows_keeps_its_columns(folder):
    (folder / "openings.csv").write_text(",".join(TABLES["openings.csv"]) + "\n", "utf-8")
    rows = house_tables.editors(folder)["openings.csv"].value
    assert [list(row) for row in rows] == [list(TABLES["openings.csv"])]


def test_fixtures_and_stairs_are_begun_in_a_blank_row(folder):
    for file, said in (
        ("fixtures.csv", ("Desk", "built-in", "Library", "W", "35", "18", "", "30", "", "")),
        ("stairs.csv", ("Steps", "Library", "W", "40", "right", "2", "7", "11", "", "")),
    ):
        (folder / file).unlink()
        editors = house_tables.editors(folder)
        edits = [
            {"rowIdx": 0, "columnId": column, "value": cell}
            for column, cell in zip(TABLES[file], said, strict=True)
            if cell
        ]
        edited(editors[file], *edits)
        assert house_tables.save(folder, editors) == ()
    house, _ = read_house(folder)
    assert [one.name for one in (*house.fixtures, *house.flights)] == ["Desk", "Steps"]
