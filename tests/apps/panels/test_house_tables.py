"""The editors hold the house's files, keep what is typed into them, and save it only where it is sound and seen."""

import gc
import shutil
from html import escape

import pytest

from planner import read_house
from planner.apps.panels.house_tables import Refusal, letting_go, refused, saving, sheets_again, view, ways_on
from planner.house.editing import TABLES, save_cells
from tests.house.cells import read_cells


class Screen:
    """The tab of the tables on one screen; `told` is what it has told its page."""

    def __init__(self, folder, address=None):
        self.told = {"refusal": [], "opened": [], "news": [], "sheets": []}
        self.tell = {name: heard.append for name, heard in self.told.items()}
        self.address = {} if address is None else address
        self.sheets = sheets_again(folder, self.address, self.tell)
        self.look()

    def look(self):
        """Open the tab, the first time or again."""
        self.edits = {file: [] for file in TABLES}
        self.editors, self.lost = self.sheets.editors(self.tell)

    def type(self, file, row, **cells):
        self.edits[file] += ({"rowIdx": row, "columnId": column, "value": cell} for column, cell in cells.items())
        self.editors[file]._update({"edits": list(self.edits[file])})

    def shown(self, file, row, column):
        return self.editors[file].value[row][column].strip()

    def save(self) -> Refusal | None:
        saving(self.sheets, self.tell)._update(1)
        return self.told["refusal"][-1]

    def press(self, label):
        (button,) = (b for b in ways_on(self.sheets, self.told["refusal"][-1], self.tell) if b.text.count(label))
        button._update(1)


@pytest.fixture
def screen(folder):
    return Screen(folder)


def cell(folder, file, row, column):
    return read_cells(folder, file)[row][column]


def test_the_rows_stand_in_the_page_and_in_no_file_that_may_be_gone(screen):
    for file, (row, *_) in ((file, editor.value) for file, editor in screen.editors.items()):
        text = screen.editors[file].text
        assert all(f"&quot;{escape(cell)}&quot;" in text for cell in row.values() if cell.isalpha())
        assert "text/csv" not in text and "@file" not in text


def test_what_was_not_touched_is_saved_as_it_was(folder, screen):
    before = {path.name: path.read_bytes() for path in folder.glob("*.csv")}
    assert screen.save() is None
    assert {path.name: path.read_bytes() for path in folder.glob("*.csv")} == before


def test_a_cell_that_is_changed_is_saved(folder, screen):
    screen.type("rooms.csv", 0, ceiling="11'")
    assert screen.save() is None
    assert read_house(folder)[0].rooms[0].ceiling == 132
    assert screen.told["opened"][-1].house.rooms[0].ceiling == 132


def test_a_fault_is_told_by_row_and_nothing_is_saved(folder, screen):
    before = (folder / "rooms.csv").read_bytes()
    screen.type("rooms.csv", 1, ceiling="ten")
    (fault,) = (fault for fault in screen.save().faults if fault.severity == "error")
    assert (fault.file, fault.row, fault.column) == ("rooms.csv", 3, "ceiling")
    assert (folder / "rooms.csv").read_bytes() == before


def test_what_was_typed_is_there_again_after_a_look_at_something_else(screen):
    screen.type("rooms.csv", 0, ceiling="11'", notes="high")
    screen.type("openings.csv", 0, notes="")
    screen.look()
    assert (screen.shown("rooms.csv", 0, "ceiling"), screen.shown("rooms.csv", 0, "notes")) == ("11'", "high")
    screen.type("rooms.csv", 1, ceiling="ten")
    assert screen.save().faults
    screen.look()
    assert screen.shown("rooms.csv", 1, "ceiling") == "ten"


def test_what_was_not_typed_into_follows_its_file(folder, screen):
    screen.type("rooms.csv", 0, notes="high")
    screen.type("rooms.csv", 0, notes=cell(folder, "rooms.csv", 0, "notes"))
    rows = read_cells(folder, "rooms.csv")
    save_cells(folder, {"rooms.csv": [rows[0] | {"notes": "theirs"}, *rows[1:]]})
    screen.look()
    assert screen.shown("rooms.csv", 0, "notes") == "theirs"


def test_one_table_is_saved_beside_what_somebody_does_to_another(folder, screen):
    other = Screen(folder)
    screen.type("rooms.csv", 0, notes="mine")
    other.type("openings.csv", 0, height="7' 2\"")
    assert screen.save() is None and other.save() is None
    assert cell(folder, "rooms.csv", 0, "notes") == "mine"
    assert cell(folder, "openings.csv", 0, "height") == "7' 2\""


@pytest.fixture
def overtaken(folder, screen):
    """A screen whose tables somebody else has changed since: one cell that was typed into as well, and one beside."""
    other = Screen(folder)
    screen.type("rooms.csv", 0, notes="mine", ceiling="11'")
    other.type("rooms.csv", 0, notes="theirs")
    other.type("rooms.csv", 1, ceiling="9' 6\"")
    assert other.save() is None
    return screen


def test_a_table_that_somebody_else_has_changed_is_named_and_nothing_is_undone(folder, overtaken):
    before = (folder / "rooms.csv").read_bytes()
    (file, changes), *others = overtaken.save().overtaken.items()
    assert (file, others) == ("rooms.csv", []) and overtaken.told["opened"] == []
    assert [(change.kind, dict(change.cells)) for change in changes] == [
        ("changed", {"notes": "theirs"}),
        ("changed", {"ceiling": "9' 6\""}),
    ]
    assert (folder / "rooms.csv").read_bytes() == before
    overtaken.look()
    assert overtaken.shown("rooms.csv", 0, "notes") == "mine"


def test_mine_is_put_into_theirs_and_saved(folder, overtaken):
    overtaken.save()
    overtaken.press("Put mine into theirs")
    overtaken.look()
    assert overtaken.shown("rooms.csv", 1, "ceiling") == "9' 6\""
    assert overtaken.save() is None
    found = [cell(folder, "rooms.csv", row, column) for row, column in ((0, "notes"), (0, "ceiling"), (1, "ceiling"))]
    assert found == ["mine", "11'", "9' 6\""]


def test_theirs_is_overwritten_only_knowingly(folder, overtaken):
    before = cell(folder, "rooms.csv", 1, "ceiling")
    overtaken.save()
    overtaken.press("Overwrite theirs")
    assert overtaken.told["refusal"][-1] is None
    assert cell(folder, "rooms.csv", 0, "notes") == "mine" and cell(folder, "rooms.csv", 1, "ceiling") != before


def test_mine_is_dropped_where_that_is_asked_for(folder, overtaken):
    overtaken.save()
    overtaken.press("Keep theirs, drop mine")
    overtaken.look()
    assert overtaken.shown("rooms.csv", 0, "notes") == "theirs"
    assert overtaken.save() is None and cell(folder, "rooms.csv", 0, "notes") == "theirs"


def test_a_full_disk_is_told_and_what_was_typed_stays(folder, screen, full_disk):
    before = (folder / "rooms.csv").read_bytes()
    screen.type("rooms.csv", 0, ceiling="11'")
    with full_disk():
        assert "No space left on device" in str(screen.save().faults[0])
    assert (folder / "rooms.csv").read_bytes() == before
    screen.look()
    assert screen.shown("rooms.csv", 0, "ceiling") == "11'"
    assert screen.save() is None and cell(folder, "rooms.csv", 0, "ceiling") == "11'"


def test_a_table_that_is_none_any_more_is_told_and_the_others_are_shown(folder, screen):
    (folder / "fixtures.csv").write_bytes(b"\xff\xfe")
    screen.look()
    assert [problem.file for problem in screen.lost] == ["fixtures.csv"]
    assert set(screen.editors) == set(TABLES) - {"fixtures.csv"}


def test_a_table_without_rows_keeps_its_columns(folder, screen):
    (folder / "openings.csv").write_text(",".join(TABLES["openings.csv"]) + "\n", "utf-8")
    screen.look()
    assert [list(row) for row in screen.editors["openings.csv"].value] == [list(TABLES["openings.csv"])]


def test_fixtures_and_stairs_are_begun_in_a_blank_row(folder):
    for file, said in (
        ("fixtures.csv", ("Desk", "built-in", "Library", "W", "35", "18", "", "30", "", "")),
        ("stairs.csv", ("Steps", "Library", "W", "40", "right", "2", "7", "11", "", "")),
    ):
        (folder / file).unlink()
        screen = Screen(folder)
        screen.type(file, 0, **{column: c for column, c in zip(TABLES[file], said, strict=True) if c})
        assert screen.save() is None
    house, _ = read_house(folder)
    assert [one.name for one in (*house.fixtures, *house.flights)] == ["Desk", "Steps"]


def drafts(folder):
    return sorted(path.name for path in (folder / "alternatives").glob("tables.*.draft.json"))


def test_what_was_typed_is_back_when_the_page_is_loaded_again_and_is_saved_from_there(folder, screen):
    screen.type("rooms.csv", 0, ceiling="11'")
    again = Screen(folder, screen.address)
    assert again.shown("rooms.csv", 0, "ceiling") == "11'" and again.sheets.back == ("rooms.csv",)
    assert again.told["news"][-1].startswith("Cells of rooms.csv that were typed on ")
    assert drafts(folder) == [f"tables.{screen.address['session']}.draft.json"]
    assert again.save() is None
    assert read_house(folder)[0].rooms[0].ceiling == 132 and drafts(folder) == []
    assert Screen(folder, screen.address).sheets.back == ()


def test_what_is_back_can_be_let_go(folder, screen):
    before = cell(folder, "rooms.csv", 0, "ceiling")
    screen.type("rooms.csv", 0, ceiling="11'")
    again = Screen(folder, screen.address)
    (button,) = letting_go(again.sheets, again.tell)
    button._update(1)
    again.look()
    assert again.shown("rooms.csv", 0, "ceiling") == before and drafts(folder) == []
    assert letting_go(again.sheets, again.tell) == [] and again.told["sheets"] == [None]


def test_what_is_typed_back_to_what_it_was_leaves_no_draft(folder, screen):
    before = cell(folder, "rooms.csv", 0, "ceiling")
    screen.type("rooms.csv", 0, ceiling="11'")
    screen.type("rooms.csv", 0, ceiling=before)
    assert drafts(folder) == [] and Screen(folder, screen.address).sheets.back == ()


def test_a_table_that_somebody_saved_while_the_page_was_loaded_again_is_not_written_over(folder, screen):
    screen.type("rooms.csv", 0, ceiling="11'")
    rooms = read_cells(folder, "rooms.csv")
    rooms[1]["ceiling"] = "9'"
    save_cells(folder, {"rooms.csv": rooms})
    again = Screen(folder, screen.address)
    assert set(again.save().overtaken) == {"rooms.csv"}
    again.press("Put mine into theirs")
    again.look()
    assert [again.shown("rooms.csv", row, "ceiling") for row in (0, 1)] == ["11'", "9'"]


def test_another_window_takes_up_only_what_a_window_that_is_gone_has_left(folder, screen):
    screen.type("rooms.csv", 0, ceiling="11'")
    assert Screen(folder).sheets.back == ()
    screen.sheets = screen.editors = None
    gc.collect()
    other = Screen(folder)
    assert other.sheets.back == ("rooms.csv",)
    other.type("rooms.csv", 1, ceiling="9'")
    assert drafts(folder) == [f"tables.{other.address['session']}.draft.json"]


def test_two_pages_of_one_address_keep_a_draft_each(folder, screen):
    twin = Screen(folder, dict(screen.address))
    screen.type("rooms.csv", 0, ceiling="11'")
    twin.type("rooms.csv", 1, ceiling="9'")
    assert len(drafts(folder)) == 2


def test_what_cannot_be_kept_is_told_and_tried_again(folder, screen):
    shutil.rmtree(folder / "alternatives")
    (folder / "alternatives").write_text("in the way")
    screen.type("rooms.csv", 0, ceiling="11'")
    refusal = screen.told["refusal"][-1]
    assert "alternatives" in str(refusal.unkept[0]) and refused(refusal, []).text.count("on this page alone")
    (folder / "alternatives").unlink()
    screen.press("Try again")
    assert screen.told["refusal"][-1] is None and len(drafts(folder)) == 1


@pytest.mark.parametrize(
    "data", [b"", b"[]", b'{"rooms.csv": 1}', b'{"rooms.csv": {"read": 1, "rows": []}}', b"[" * 9999]
)
def test_a_draft_that_is_none_is_told_and_stops_nobody(folder, data):
    (folder / "alternatives" / "tables.00000000.draft.json").write_bytes(data)
    screen = Screen(folder)
    assert "is no draft of a house's tables" in str(screen.sheets.faults[0]) and screen.sheets.back == ()
    shown = view(screen.sheets, screen.editors, screen.lost, saving(screen.sheets, screen.tell), [])
    assert "tables.00000000.draft.json" in shown.text
