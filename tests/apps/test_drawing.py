"""The board holds a house's files, keeps what is done to them, and saves it only where it is sound and seen."""

import gc
import shutil
import tomllib

import pytest
from shapely import Polygon

from planner import new_house, read_house
from planner.apps import tabs
from planner.apps.board.meant import STEPS
from planner.apps.drawing import Drawing, Refusal
from planner.apps.panels.house import board, drawing_again, finish, refused, shown, ways_on
from planner.house.editing import TABLES, save_cells
from planner.house.styles import write_style
from tests.house.cells import read_cells


class Screen:
    """The board on one screen; `told` is what its page was told."""

    def __init__(self, folder, address=None):
        self.told = {"refusal": [], "opened": [], "news": [], "drawn": []}
        self.tell = {name: heard.append for name, heard in self.told.items()}
        self.address = {} if address is None else address
        self.drawing = drawing_again(folder, self.address, self.tell)

    def type(self, file, row, **cells):
        for column, text in cells.items():
            self.drawing.act({"do": "cell", "file": file, "at": row, "column": column, "text": text})

    def act(self, do, **gesture):
        self.drawing.act({"do": do, **gesture})

    def shown(self, file, row, column):
        return self.drawing.sketch.rows(file)[row][column]

    def look(self):
        """Open the tab again."""
        self.drawing.follow()

    def save(self) -> Refusal | None:
        finish(self.drawing, self.drawing.save(), self.tell)
        return self.told["refusal"][-1]

    def press(self, label):
        (button,) = (b for b in ways_on(self.drawing, self.told["refusal"][-1], self.tell) if b.text.count(label))
        button._update(1)

    @property
    def said(self):
        return self.drawing.shown()["said"]


@pytest.fixture
def screen(folder):
    return Screen(folder)


def cell(folder, file, row, column):
    return read_cells(folder, file)[row][column]


@pytest.fixture
def refused_board(screen):
    """The board after a save that faults have stopped."""
    live = board(screen.drawing, screen.tell).widget
    for number, gesture in enumerate([typing(1, "ten"), {"do": "save"}]):
        live._handle_custom_msg({"number": number, "gestures": [gesture]}, [])
    assert screen.told["refusal"][-1].faults
    return live


def typing(row, text):
    return {"do": "cell", "file": "rooms.csv", "at": row, "column": "ceiling", "text": text}


@pytest.mark.parametrize("gesture", [{"do": "let go"}, {"do": "undo"}, typing(1, "9'")])
def test_why_nothing_was_saved_is_told_no_longer_once_something_else_was_done(screen, refused_board, gesture):
    refused_board._handle_custom_msg({"number": 9, "gestures": [{"do": "pick", "at": 2}]}, [])
    assert screen.told["refusal"][-1].faults
    refused_board._handle_custom_msg({"number": 10, "gestures": [gesture]}, [])
    assert screen.told["refusal"][-1] is None


def test_the_ways_on_stay_until_nothing_is_left_to_save(overtaken):
    live = board(overtaken.drawing, overtaken.tell).widget
    live._handle_custom_msg({"number": 1, "gestures": [{"do": "save"}, typing(2, "9'")]}, [])
    assert overtaken.told["refusal"][-1].overtaken
    live._handle_custom_msg({"number": 2, "gestures": [{"do": "let go"}]}, [])
    assert overtaken.told["refusal"][-1] is None


def test_a_cell_too_long_to_be_pasted_is_refused_in_words(screen):
    screen.act("paste", file="rooms.csv", at=3, column="room", text="x" * 200_000)
    assert screen.said["is_refused"] and "field larger than" in screen.said["news"]


def test_what_was_not_touched_is_saved_as_it_was(folder, screen):
    before = {path.name: path.read_bytes() for path in folder.iterdir() if path.is_file()}
    assert screen.save() is None and screen.said["unsaved"] == "All that is drawn is saved."
    assert {path.name: path.read_bytes() for path in folder.iterdir() if path.is_file()} == before


def test_a_cell_that_is_changed_is_saved(folder, screen):
    screen.type("rooms.csv", 0, ceiling="11'")
    assert "rooms.csv" in screen.said["unsaved"]
    assert screen.save() is None
    assert read_house(folder)[0].rooms[0].ceiling == 132
    assert screen.told["opened"][-1].house.rooms[0].ceiling == 132


def test_a_fault_is_told_at_its_cell_and_nothing_is_saved(folder, screen):
    before = (folder / "rooms.csv").read_bytes()
    screen.type("rooms.csv", 1, ceiling="ten")
    (fault,) = screen.drawing.shown()["table"]["rows"][1]["faults"]
    assert (fault["column"], fault["is_error"]) == ("ceiling", True) and "write e.g." in fault["words"]
    assert screen.said["faults"][0]["place"] == "rooms.csv row 3, ceiling"
    (fault,) = (fault for fault in screen.save().faults if fault.severity == "error")
    assert (fault.file, fault.row, fault.column) == ("rooms.csv", 3, "ceiling")
    assert screen.told["news"][-1].startswith("Nothing of the house was saved")
    assert (folder / "rooms.csv").read_bytes() == before and screen.said["is_refused"]


def test_what_was_done_is_there_after_a_look_at_something_else_and_can_be_undone(screen):
    screen.type("rooms.csv", 0, ceiling="11'", notes="high")
    screen.look()
    assert (screen.shown("rooms.csv", 0, "ceiling"), screen.shown("rooms.csv", 0, "notes")) == ("11'", "high")
    assert screen.said["undo"] == "notes of Entry Hall changed"
    screen.act("undo")
    assert (screen.shown("rooms.csv", 0, "ceiling"), screen.shown("rooms.csv", 0, "notes")) == (
        *("11'", "Centre of the five-bay front"),
    )
    screen.act("redo")
    assert screen.shown("rooms.csv", 0, "notes") == "high"


def test_what_nothing_was_done_to_follows_its_file(folder, screen):
    screen.type("openings.csv", 0, height="7' 2\"")
    rows = read_cells(folder, "rooms.csv")
    save_cells(folder, {"rooms.csv": [rows[0] | {"notes": "theirs"}, *rows[1:]]})
    screen.look()
    assert screen.shown("rooms.csv", 0, "notes") == "theirs" and screen.said["unsaved"].count(".csv") == 1
    assert screen.shown("openings.csv", 0, "height") == "7' 2\""


def test_a_style_that_the_house_was_given_meanwhile_can_be_chosen(folder, screen):
    write_style(folder, "north wing", "georgian", [{"element": "chair rail", "form": "none"}])
    assert "north wing" not in screen.drawing.shown()["form"]["styles"]
    screen.look()
    assert "north wing" in screen.drawing.shown()["form"]["styles"]
    screen.act("setting", key="style", text="north wing")
    assert screen.save() is None and read_house(folder)[0].style == "north wing"


def test_one_table_is_saved_beside_what_somebody_does_to_another(folder, screen):
    other = Screen(folder)
    screen.type("rooms.csv", 0, notes="mine")
    other.type("openings.csv", 0, height="7' 2\"")
    assert screen.save() is None and other.save() is None
    assert cell(folder, "rooms.csv", 0, "notes") == "mine"
    assert cell(folder, "openings.csv", 0, "height") == "7' 2\""


@pytest.fixture
def overtaken(folder, screen):
    """A screen whose files somebody else has changed since: one cell that was typed into as well, and one beside."""
    other = Screen(folder)
    screen.type("rooms.csv", 0, notes="mine", ceiling="11'")
    screen.act("setting", key="style", text="federal")
    other.type("rooms.csv", 0, notes="theirs")
    other.type("rooms.csv", 1, ceiling="9' 6\"")
    other.act("setting", key="name", text="Theirs")
    assert other.save() is None
    return screen


def test_a_file_that_somebody_else_has_changed_is_named_and_nothing_is_undone(folder, overtaken):
    before = (folder / "rooms.csv").read_bytes()
    changes = overtaken.save().overtaken
    assert set(changes) == {"rooms.csv", "house.toml"} and overtaken.told["opened"] == []
    assert [(change.kind, dict(change.cells)) for change in changes["rooms.csv"]] == [
        ("changed", {"notes": "theirs"}),
        ("changed", {"ceiling": "9' 6\""}),
    ]
    assert [(change.row, dict(change.cells)) for change in changes["house.toml"]] == [("name", {"value": "Theirs"})]
    assert (folder / "rooms.csv").read_bytes() == before
    overtaken.look()
    assert overtaken.shown("rooms.csv", 0, "notes") == "mine"


def test_mine_is_put_into_theirs_and_saved(folder, overtaken):
    overtaken.save()
    overtaken.press("Put mine into theirs")
    assert overtaken.shown("rooms.csv", 1, "ceiling") == "9' 6\""
    assert overtaken.save() is None
    found = [cell(folder, "rooms.csv", row, column) for row, column in ((0, "notes"), (0, "ceiling"), (1, "ceiling"))]
    assert found == ["mine", "11'", "9' 6\""]
    house, _ = read_house(folder)
    assert (house.name, house.style) == ("Theirs", "federal")


@pytest.mark.parametrize(
    ("way", "told"),
    [("Put mine into theirs", "What you did stands in the house"), ("Keep theirs", "The house is as it is in its")],
)
def test_after_a_way_on_the_board_says_no_longer_that_nothing_was_saved(overtaken, way, told):
    overtaken.save()
    assert overtaken.said["news"].startswith("Nothing was saved")
    overtaken.press(way)
    assert overtaken.said["news"].startswith(told) and not overtaken.said["is_refused"]


def test_theirs_is_overwritten_only_knowingly(folder, overtaken):
    before = cell(folder, "rooms.csv", 1, "ceiling")
    overtaken.save()
    overtaken.press("Overwrite theirs")
    assert overtaken.told["refusal"][-1] is None
    assert cell(folder, "rooms.csv", 0, "notes") == "mine" and cell(folder, "rooms.csv", 1, "ceiling") != before


def test_theirs_is_not_overwritten_where_their_other_tables_go_with_it_and_the_ways_on_stay(folder, screen):
    other = Screen(folder)
    screen.type("rooms.csv", 0, notes="mine")
    other.type("rooms.csv", 1, room="Their Room")
    assert other.save() is None
    theirs = read_cells(folder, "rooms.csv")
    screen.save()
    screen.press("Overwrite theirs")
    refusal = screen.told["refusal"][-1]
    assert refusal.faults and [change.kind for change in refusal.overtaken["rooms.csv"]] == ["changed"]
    assert read_cells(folder, "rooms.csv") == theirs
    screen.press("Put mine into theirs")
    assert screen.save() is None
    assert (cell(folder, "rooms.csv", 0, "notes"), cell(folder, "rooms.csv", 1, "room")) == ("mine", "Their Room")


def test_mine_is_dropped_where_that_is_asked_for(folder, overtaken):
    overtaken.save()
    overtaken.press("Keep theirs, drop mine")
    assert overtaken.shown("rooms.csv", 0, "notes") == "theirs"
    assert overtaken.save() is None and cell(folder, "rooms.csv", 0, "notes") == "theirs"


def test_a_full_disk_is_told_and_what_was_done_stays(folder, screen, full_disk):
    before = (folder / "rooms.csv").read_bytes()
    screen.type("rooms.csv", 0, ceiling="11'")
    with full_disk():
        assert "No space left on device" in str(screen.save().faults[0])
    assert (folder / "rooms.csv").read_bytes() == before
    assert screen.shown("rooms.csv", 0, "ceiling") == "11'"
    assert screen.save() is None and cell(folder, "rooms.csv", 0, "ceiling") == "11'"


def test_a_table_that_is_none_any_more_is_told(folder, screen):
    (folder / "fixtures.csv").write_bytes(b"\xff\xfe")
    screen.look()
    assert [problem.file for problem in screen.drawing.lost] == ["fixtures.csv"]


def drafts(folder):
    return sorted(path.name for path in (folder / "alternatives").glob("tables.*.draft.json"))


def test_what_was_done_is_back_when_the_page_is_loaded_again_and_is_saved_from_there(folder, screen):
    screen.type("rooms.csv", 0, ceiling="11'", room="Lobby")
    screen.act("setting", key="name", text="Sedge Lodge")
    again = Screen(folder, screen.address)
    assert again.shown("rooms.csv", 0, "ceiling") == "11'" and {"rooms.csv", "house.toml"} <= set(again.drawing.back)
    assert again.told["news"][-1].startswith("What was done to house.toml, rooms.csv")
    assert drafts(folder) == [f"tables.{screen.address['session']}.draft.json"]
    assert again.save() is None and drafts(folder) == []
    house, _ = read_house(folder)
    assert (house.name, house.rooms[0].ceiling, house.entries[0]) == ("Sedge Lodge", 132, "Lobby")
    assert '"Entry Hall"' not in alternatives(folder)
    assert Screen(folder, screen.address).drawing.back == ()


def test_what_is_not_saved_can_be_put_away_and_had_back(folder, screen):
    before = cell(folder, "rooms.csv", 0, "ceiling")
    screen.type("rooms.csv", 0, ceiling="11'")
    again = Screen(folder, screen.address)
    again.act("let go")
    assert again.shown("rooms.csv", 0, "ceiling") == before and drafts(folder) == []
    again.act("undo")
    assert again.shown("rooms.csv", 0, "ceiling") == "11'" and len(drafts(folder)) == 1


def test_what_is_typed_back_to_what_it_was_leaves_no_draft(folder, screen):
    before = cell(folder, "rooms.csv", 0, "ceiling")
    screen.type("rooms.csv", 0, ceiling="11'")
    screen.type("rooms.csv", 0, ceiling=before)
    assert drafts(folder) == [] and Screen(folder, screen.address).drawing.back == ()


def test_a_table_that_somebody_saved_while_the_page_was_loaded_again_is_not_written_over(folder, screen):
    screen.type("rooms.csv", 0, ceiling="11'")
    rooms = read_cells(folder, "rooms.csv")
    rooms[1]["ceiling"] = "9'"
    save_cells(folder, {"rooms.csv": rooms})
    again = Screen(folder, screen.address)
    assert set(again.save().overtaken) == {"rooms.csv"}
    again.press("Put mine into theirs")
    assert [again.shown("rooms.csv", row, "ceiling") for row in (0, 1)] == ["11'", "9'"]


def test_another_window_takes_up_only_what_a_window_that_is_gone_has_left(folder, screen):
    screen.type("rooms.csv", 0, ceiling="11'")
    assert Screen(folder).drawing.back == ()
    screen.drawing = None
    gc.collect()
    other = Screen(folder)
    assert other.drawing.back == ("rooms.csv",)
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
    live = board(screen.drawing, screen.tell).widget
    raised = {"do": "cell", "file": "rooms.csv", "at": 0, "column": "ceiling", "text": "11'"}
    live._handle_custom_msg({"number": 7, "gestures": [raised, {"do": "pick", "at": 2}]}, [])
    assert live.answered == 7 and live.plan["picked"] == 2
    refusal = screen.told["refusal"][-1]
    assert "alternatives" in str(refusal.unkept[0]) and refused(refusal, []).text.count("on this page alone")
    (folder / "alternatives").unlink()
    screen.press("Try again")
    assert screen.told["refusal"][-1] is None and len(drafts(folder)) == 1


@pytest.mark.parametrize(
    "data",
    [
        *(b"", b"[]", b'{"rooms.csv": 1}', b'{"rooms.csv": {"read": 1, "rows": []}}', b"[" * 9999),
        *(b'{"house.toml": {"read": "", "text": "=="}}', b'{"renamed": {"rooms": 1}}'),
    ],
)
def test_a_draft_that_is_none_is_told_and_stops_nobody(folder, data):
    (folder / "alternatives" / "tables.00000000.draft.json").write_bytes(data)
    screen = Screen(folder)
    assert "is no draft of a house" in str(screen.drawing.torn[0]) and screen.drawing.back == ()
    assert "tables.00000000.draft.json" in shown(screen.drawing, board(screen.drawing, screen.tell)).text


def alternatives(folder):
    return "".join(path.read_text("utf-8") for path in (folder / "alternatives").glob("*.toml"))


def test_a_room_that_is_renamed_is_renamed_in_alternatives_and_what_was_said_of_it_is_found(folder, screen):
    at = [row["room"] for row in screen.drawing.sketch.rooms].index("Library")
    before = alternatives(folder).count('"Library"')
    screen.type("rooms.csv", at, room="Study")
    assert screen.save() is None
    assert alternatives(folder).count('"Study"') == before and '"Library"' not in alternatives(folder)
    assert '"renamed": "Study"' in (folder / "reviews/renamed rooms.jsonl").read_text("utf-8")
    screen.act("undo")
    assert screen.shown("rooms.csv", at, "room") == "Library"
    assert screen.save() is None and "Library" in read_house(folder)[0].by_name
    assert alternatives(folder).count('"Library"') == before > 0


def test_a_level_that_is_renamed_is_renamed_in_alternatives(folder, screen):
    (folder / "alternatives/plain.toml").write_text(
        'title = "Plain"\n[[wings]]\nlevels = ["Upper"]\nstyle = "federal"\n'
    )
    screen.act("rename level", level="Upper", text="First floor")
    assert screen.save() is None
    assert tomllib.loads((folder / "alternatives/plain.toml").read_text())["wings"][0]["levels"] == ["First floor"]


def test_fixtures_and_stairs_are_begun_in_a_blank_row(folder):
    for file, said in (
        ("fixtures.csv", ("Desk", "built-in", "Library", "W", "35", "18", "", "30", "", "")),
        ("stairs.csv", ("Steps", "Library", "W", "40", "right", "2", "7", "11", "", "")),
    ):
        (folder / file).unlink()
        screen = Screen(folder)
        screen.act("file", file=file)
        screen.act("row")
        screen.type(file, 0, **{column: c for column, c in zip(TABLES[file], said, strict=True) if c})
        assert screen.save() is None
    house, _ = read_house(folder)
    assert [one.name for one in (*house.fixtures, *house.flights)] == ["Desk", "Steps"]


def test_gestures_that_are_none_change_nothing_and_are_told(screen):
    before = screen.drawing.sketch
    for gesture in (
        {"do": "cell", "file": "../x.csv", "at": 0, "column": "room", "text": "x"},
        {"do": "cell", "file": "rooms.csv", "at": 999, "column": "room", "text": "x"},
        {"do": "cell", "file": "rooms.csv", "at": 0, "column": "colour", "text": "x"},
        {"do": "move", "at": "first", "by": [1, 2], "dragged": True},
        {"do": "put", "at": 0, "wall": "N", "along": 3, "kind": "hatch"},
        {"do": "pick", "at": -1},
        {"do": "setting", "key": "levels", "text": "x"},
        {},
    ):
        screen.drawing.act(gesture)
        assert screen.drawing.sketch is before
    assert screen.said["is_refused"]


def test_a_spreadsheet_is_shown_as_it_was_understood_before_it_is_taken(screen):
    text = "name\tfloor\ttype\tlength\twidth\nOrangery\tGround\tconservatory\t20'\twide\n"
    before = screen.drawing.sketch
    screen.act("read", name="what was pasted", text=text)
    (part,) = screen.drawing.shown()["reading"]["parts"]
    assert part["columns"][0] == ["name", "room"] and part["rows"] == [
        ["Orangery", "Ground", "conservatory", "20'", "wide"]
    ]
    assert part["faults"][0][:2] == ["2", "width"] and screen.drawing.sketch is before
    screen.act("read", part=part["number"], take="add")
    screen.act("read", part=part["number"], take="add")
    assert screen.said["is_refused"] and len(screen.drawing.sketch.rooms) == len(before.rooms) + 1
    assert screen.shown("rooms.csv", -1, "room") == "Orangery" and screen.drawing.readings.parts == []
    screen.act("undo")
    assert screen.drawing.sketch.rooms == before.rooms


def test_a_file_that_cannot_be_read_says_so(screen):
    screen.act("read", name="a.xlsx", data="UEsDBA==")
    assert "no workbook" in screen.drawing.readings.error
    screen.act("read", name="big.csv", size=20_000_000)
    assert "more than 10 MB" in screen.drawing.readings.error
    screen.act("read", name="a.csv", data="not base64!")
    assert "did not arrive whole" in screen.drawing.readings.error


def test_what_is_done_to_a_row_is_done_to_that_which_the_board_showed(screen):
    names = list(screen.drawing.sketch.room_names)
    seen = screen.said["moment"]
    screen.act("remove", file="rooms.csv", at=5, seen=seen)
    screen.act("remove", file="rooms.csv", at=8, seen=seen)
    screen.act("cell", file="rooms.csv", at=10, column="notes", text="tiled", seen=seen)
    assert [name for name in names if name not in screen.drawing.sketch.room_names] == [names[5], names[8]]
    noted = [row["room"] for row in screen.drawing.sketch.rooms if row["notes"] == "tiled"]
    assert noted == [names[10]]
    screen.act("remove", file="rooms.csv", at=5, seen=seen)
    assert screen.said["is_refused"] and "gone" in screen.said["news"]
    assert len(screen.drawing.sketch.rooms) == len(names) - 2
    screen.act("remove", file="rooms.csv", at=5, seen=screen.said["moment"])
    assert names[6] not in screen.drawing.sketch.room_names


def test_a_ceiling_is_given_to_the_level_that_was_renamed_just_before(screen):
    seen = screen.said["moment"]
    screen.act("rename level", level="Upper", text="Bedrooms", seen=seen)
    screen.act("ceiling", level="Upper", text="8'-3\"", seen=seen)
    levels = {level["name"]: level["ceiling"] for level in screen.drawing.shown()["form"]["levels"]}
    assert "Upper" not in levels and levels["Bedrooms"] == "8'-3\""


def test_a_fault_in_the_form_stands_at_its_field_and_a_doubt_does_not(screen):
    screen.act("setting", key="year_built", text="19x2")
    screen.act("ceiling", level="Upper", text="low")
    form = screen.drawing.shown()["form"]
    ceilings = {level["name"]: level["fault"] for level in form["levels"]}
    assert '"19x2" is no whole number' in form["faults"]["year_built"]
    assert '"low" is not a length; write' in ceilings.pop("Upper") and set(ceilings.values()) == {""}
    screen.act("setting", key="year_built", text="1912")
    screen.act("ceiling", level="Upper", text="8'")
    assert screen.drawing.shown()["form"]["faults"] == {}


def test_what_is_older_than_the_board_remembers_is_refused(screen):
    seen = screen.said["moment"]
    for step in range(STEPS + 1):
        screen.act("cell", file="rooms.csv", at=0, column="notes", text=f"step {step}")
    screen.act("remove", file="rooms.csv", at=1, seen=seen)
    assert screen.said["is_refused"] and "load the page again" in screen.said["news"]


def test_a_file_of_a_house_that_is_blank_opens_on_the_board(tmp_path):
    new_house(tmp_path / "lodge")
    house, _ = read_house(tmp_path / "lodge")
    assert tabs.is_begun(house) and Drawing(tmp_path / "lodge").is_blank


def test_a_name_stands_in_the_widest_part_of_a_room_and_is_told_how_wide_that_is(folder, screen):
    rooms = {one["name"]: one for one in screen.drawing.shown()["plan"]["rooms"]}
    pantry, corners = rooms["Butler's Pantry"], rooms["Butler's Pantry"]["corners"]
    assert not pantry["is_rectangular"]
    (x, y), dx, dy = pantry["middle"], pantry["width"] / 2 - 1, pantry["height"] / 2 - 1
    ends = [(x - dx, y - dy), (x - dx, y + dy), (x + dx, y + dy), (x + dx, y - dy)]
    assert Polygon(corners).contains(Polygon(ends))
    hall = rooms["Dining Room"]
    assert (hall["width"], hall["height"]) == (22 * 12, 16 * 12)


def test_the_room_of_the_address_is_picked_with_its_level(folder):
    drawing = Screen(folder, {"room": "West Bedroom"}).drawing
    plan = drawing.shown()["plan"]
    assert plan["level"] == "Upper"
    assert [room["name"] for room in plan["rooms"] if room["at"] == plan["picked"]] == ["West Bedroom"]
    first = Screen(folder).drawing.shown()["plan"]["picked"]
    assert Screen(folder, {"room": "Nowhere"}).drawing.shown()["plan"]["picked"] == first != plan["picked"]
