"""House folders read, and written so that they read back the same."""

import os
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from planner.files.problems import HouseFault, Problem
from planner.house.faults import check_rooms
from planner.house.folder import new_house, read_house, write_house
from planner.house.model import OUTSIDE, House, Opening, Room
from planner.house.reach import check_reachable
from tests.house.conftest import state


def test_a_small_house_as_it_is_written(folder):
    house, warnings = read_house(folder)
    parlor = house.by_name['Parlor, "Front"']
    assert (parlor.length, parlor.width, parlor.ceiling) == (180, 144, 108)
    assert house.by_name["Bedroom"].length == pytest.approx(4000 / 25.4)
    assert house.entries == ("Lobby",) and house.levels == ("Ground", "Upper") and house.grade == "cottage"
    doors = {opening.name: opening for opening in house.openings}
    assert doors["Front door"].other == OUTSIDE and doors["Front door"].offset is None
    assert doors["D1"].width == 48 and doors["D1"].height == 84
    assert warnings == ()


def test_what_is_filled_in_is_told_once_for_each_column(folder):
    text = (folder / "openings.csv").read_text("utf-8").replace("N,,30,80,", "N,,,,").replace(",36,80,24", ",36,80,")
    (folder / "openings.csv").write_text(text, "utf-8")
    house, warnings = read_house(folder)
    told = {p.column: p for p in warnings}
    assert set(told) == {"width", "height", "sill"} and len(warnings) == 3
    assert (
        '"D2"' in told["width"].message and '"D3"' in told["width"].message and "door 2'-6\"" in told["width"].message
    )
    doors = {opening.name: opening for opening in house.openings}
    assert (doors["D2"].width, doors["D2"].height, doors["W1"].sill) == (30, 80, 24)


def test_a_synonym_reads_as_its_use_and_an_unknown_use_as_other(folder):
    edit(folder, "rooms.csv", "Lobby,Ground,entry hall", "Lobby,Ground,Foyer")
    edit(folder, "rooms.csv", "Kitchen,Ground,kitchen", "Kitchen,Ground,kitchin")
    house, warnings = read_house(folder)
    assert house.by_name["Lobby"].use == "entry hall"
    assert house.by_name["Kitchen"].use == "other"
    (told,) = warnings
    assert (told.file, told.row, told.column, told.severity) == ("rooms.csv", 4, "use", "warning")
    assert '"kitchen"' in told.remedy


def test_length_and_width_may_come_from_the_outline(folder):
    edit(folder, "rooms.csv", "10 ft,8 ft,,0 0", ",,,0 0")
    lobby = read_house(folder)[0].by_name["Lobby"]
    assert (lobby.length, lobby.width) == (120, 96)


def test_an_outline_in_feet_and_inches_and_below_zero(folder):
    edit(folder, "rooms.csv", "0 96; 0 216; 120 216; 120 96", '"-6"" 8\'; -6"" 18\' 0""; 10\' 18\'; 10\' 8\'"')
    edit(folder, "rooms.csv", "10 ft,10 ft", ",")
    kitchen = read_house(folder)[0].by_name["Kitchen"]
    assert kitchen.outline == ((-6, 96), (-6, 216), (120, 216), (120, 96))


@pytest.mark.parametrize("marks", ["\ufeff", ""])
@pytest.mark.parametrize("ends", ["\n", "\r\n"])
def test_byte_order_marks_and_line_ends_change_nothing(folder, marks, ends):
    expected = read_house(folder)
    for name in ("rooms.csv", "openings.csv", "house.toml"):
        text = (folder / name).read_text("utf-8")
        (folder / name).write_bytes((marks + text.replace("\n", ends)).encode())
    assert read_house(folder) == expected


def test_rows_are_numbered_as_a_spreadsheet_shows_them(folder):
    """A blank row counts, and a cell of two lines is one row."""
    edit(folder, "rooms.csv", "Kitchen,", "\nKitchen,")
    edit(folder, "rooms.csv", "faces the yard", '"faces\nthe yard"')
    edit(folder, "rooms.csv", "4 m,", "ten,")
    with pytest.raises(HouseFault) as fault:
        read_house(folder)
    assert [(p.row, p.column) for p in fault.value.problems] == [(7, "length")]
    assert str(fault.value).startswith('rooms.csv row 7, length: "ten" is not a length; write e.g. ')


NAMES = [
    'a "quoted" name',
    "comma, semicolon; tab",
    "🛋️ salon 👩‍👩‍👧",
    "<script>alert(1)</script>",
    "x" * 200,
    "=1+1",
    "'",
    "日本間",
]


@pytest.mark.parametrize("name", NAMES)
def test_a_room_may_have_any_name(folder, name):
    house = renamed(read_house(folder)[0], "Kitchen", name)
    write_house(house, folder)
    assert read_house(folder)[0] == house


def test_writing_what_was_read_changes_no_byte(folder):
    before = state(folder)
    assert write_house(read_house(folder)[0], folder) == ()
    assert state(folder) == before


def test_only_what_changed_is_spelled_anew(folder):
    house = read_house(folder)[0]
    rooms = tuple(replace(r, ceiling=100.5) if r.name == "Kitchen" else r for r in house.rooms)
    lines = (folder / "rooms.csv").read_text("utf-8").splitlines()
    write_house(replace(house, rooms=rooms, year_built=1911), folder)
    after = (folder / "rooms.csv").read_text("utf-8").splitlines()
    assert [i for i, (a, b) in enumerate(zip(lines, after, strict=True)) if a != b] == [3]
    assert "8'-4 1/2" in after[3] and ",10 ft,10 ft," in after[3]
    toml = (folder / "house.toml").read_text("utf-8")
    assert toml.startswith("# An invented house of five rooms.") and "year_built = 1911" in toml
    assert read_house(folder)[0] == replace(house, rooms=rooms, year_built=1911)


def test_a_canon_is_read_and_written_and_an_order_may_be_left_blank(folder):
    house = read_house(folder)[0]
    assert (house.order, house.canon) == ("doric", "order")
    write_house(replace(house, order="", canon="interior 1809"), folder)
    toml = (folder / "house.toml").read_text("utf-8")
    assert "order = " not in toml and 'canon = "interior 1809"' in toml
    found = read_house(folder)[0]
    assert (found.order, found.canon) == ("", "interior 1809")
    write_house(replace(found, canon="order"), folder)
    assert read_house(folder)[0].canon == "order"
    (folder / "house.toml").write_text(toml.replace("interior 1809", "interior"), "utf-8")
    with pytest.raises(HouseFault) as told:
        read_house(folder)
    assert "canon" in str(told.value) and "interior 1809" in str(told.value)


def test_a_blank_cell_is_written_out_where_it_would_come_to_mean_something_else(folder):
    """A room that moves to another level keeps its ceiling, though the level that it leaves gave it."""
    house = read_house(folder)[0]
    rooms = tuple(replace(r, level="Attic") if r.name == "Kitchen" else r for r in house.rooms)
    openings = tuple(replace(o, kind="stair") if o.name == "D2" else o for o in house.openings)
    moved = replace(house, rooms=rooms, openings=openings)
    write_house(moved, folder)
    assert read_house(folder)[0] == moved


def test_another_unit_means_the_same_lengths(folder):
    house = replace(read_house(folder)[0], unit="mm")
    write_house(house, folder)
    assert read_house(folder)[0] == house
    assert "mm" in (folder / "rooms.csv").read_text("utf-8")


@pytest.mark.parametrize(
    ("broken", "says"),
    [
        (lambda h: replace(h, entries=("Nowhere",)), "there is no room"),
        (lambda h: replace(h, unit="cubit"), "not known"),
        (lambda h: replace(h, rooms=(*h.rooms, h.rooms[0])), "is there already"),
        (lambda h: renamed(h, "Kitchen", "Kit\nchen"), "line break"),
        (lambda h: renamed(h, "Kitchen", " Kitchen"), "blank"),
        (lambda h: renamed(h, "Kitchen", "\udcff"), "UTF-8"),
        (lambda h: renamed(h, "Kitchen", "a\0b"), "NUL"),
        (lambda h: replace(h, rooms=tuple(replace(r, ceiling=float("nan")) for r in h.rooms)), "not a length"),
        (
            lambda h: replace(h, rooms=tuple(replace(r, length=float("inf"), outline=()) for r in h.rooms)),
            "not a length",
        ),
        (lambda h: replace(h, rooms=tuple(replace(r, ceiling=-96.0) for r in h.rooms)), "negative"),
        (lambda h: replace(h, rooms=tuple(replace(r, notes="x" * 140_000) for r in h.rooms)), "more than 131,072"),
        (lambda h: replace(h, openings=h.openings[:3]), "no opening leads"),
        (lambda h: replace(h, rooms=()), "no rooms"),
        (lambda h: replace(h, year_built=3000), "whole number"),
    ],
)
def test_a_faulty_house_never_overwrites(folder, broken, says):
    before = state(folder)
    with pytest.raises(HouseFault, match=says):
        write_house(broken(read_house(folder)[0]), folder)
    assert state(folder) == before


def test_nothing_is_half_written_when_a_file_cannot_take_its_place(folder, monkeypatch):
    house = read_house(folder)[0]
    rooms = tuple(replace(r, ceiling=100.0) for r in house.rooms)
    openings = tuple(replace(o, height=70.0) if o.kind == "door" else o for o in house.openings)
    before, really, calls = state(folder), os.replace, []

    def failing(source, target):
        calls.append(target)
        if len(calls) == 2:
            raise PermissionError(13, "Permission denied")
        return really(source, target)

    monkeypatch.setattr(os, "replace", failing)
    with pytest.raises(HouseFault, match="cannot be written"):
        write_house(replace(house, name="Other", rooms=rooms, openings=openings), folder)
    assert [path.name for path in calls] == ["house.toml", "rooms.csv", "house.toml"]
    assert state(folder) == before


def test_a_directory_in_the_way_is_told_and_nothing_written(folder):
    house = read_house(folder)[0]
    (folder / "openings.csv").unlink()
    (folder / "openings.csv").mkdir()
    before = state(folder)
    with pytest.raises(HouseFault, match=r"openings\.csv: is a directory"):
        write_house(replace(house, name="Other"), folder)
    assert state(folder) == before


def test_a_house_toml_that_a_person_broke_is_not_written_over(folder):
    house = read_house(folder)[0]
    (folder / "house.toml").write_text("name = unfinished", "utf-8")
    before = state(folder)
    with pytest.raises(HouseFault, match="is not TOML"):
        write_house(house, folder)
    assert state(folder) == before


TEXT = st.text(st.characters(codec="utf-8", categories=("L", "N", "P", "S", "Zs")), min_size=1, max_size=30)
LINE = TEXT.map(str.strip).filter(lambda name: name and name.casefold() != OUTSIDE)
SIZES = st.floats(61, 400)


@st.composite
def houses(draw) -> House:
    """Rooms in a chain, of any name and size, with windows and doors in metric or in inches."""
    names = draw(st.lists(LINE, min_size=1, max_size=5, unique=True))
    rooms = [
        Room(
            name,
            draw(st.sampled_from(["Ground", "Wing"])),
            "parlor",
            draw(SIZES),
            draw(SIZES),
            draw(SIZES),
            (),
            draw(TEXT).strip(),
        )
        for name in names
    ]
    if draw(st.booleans()):
        x, drawn = -100.0, []
        for room in rooms:
            corners = ((x, 0.0), (x, room.width), (x + room.length, room.width), (x + room.length, 0.0))
            drawn.append(replace(room, outline=corners))
            x += room.length
        rooms = drawn
    openings = [
        Opening(
            f"D{i}",
            "stair" if a.level != b.level else "door",
            a.name,
            b.name,
            "",
            None,
            draw(st.floats(20, 50)),
            draw(st.floats(50, 60)),
        )
        for i, (a, b) in enumerate(pairwise(rooms))
    ]
    unit = draw(st.sampled_from(["in", "ft", "mm", "cm", "m"]))
    return House(
        draw(LINE), (names[0],), tuple(rooms), tuple(openings), unit, year_built=draw(st.none() | st.just(1800))
    )


@settings(max_examples=75, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(houses())
def test_any_house_reads_back_as_it_was_written(tmp_path_factory, house):
    folder = tmp_path_factory.mktemp("any") / "new"
    write_house(house, folder)
    assert read_house(folder)[0] == house
    before = state(folder)
    write_house(house, folder)
    assert state(folder) == before


def test_new_houses_are_whole_and_never_take_the_place_of_anything(folder, tmp_path):
    new_house(tmp_path / "made" / "blank")
    assert read_house(tmp_path / "made" / "blank")[1] == ()
    (folder / "reviews").mkdir()
    new_house(tmp_path / "copy", folder)
    with pytest.raises(HouseFault, match=r"gone: is not there; give a folder with house\.toml"):
        new_house(tmp_path / "other", tmp_path / "gone")
    assert not (tmp_path / "other").exists()
    assert read_house(tmp_path / "copy") == read_house(folder)
    assert not (tmp_path / "copy" / "reviews").exists()
    before = state(tmp_path)
    with pytest.raises(HouseFault, match="is there already"):
        new_house(tmp_path / "copy", folder)
    with pytest.raises(HouseFault, match="cannot be made"):
        new_house(folder / "rooms.csv" / "inside")
    assert state(tmp_path) == before


def test_what_is_left_of_a_house_whose_making_broke_off_is_swept_in_time(tmp_path):
    old, fresh = tmp_path / ".planner-new-old", tmp_path / ".planner-new-fresh"
    for left in (old, fresh):
        left.mkdir()
        (left / "rooms.csv").touch()
    os.utime(old, (0, 0))
    new_house(tmp_path / "made")
    assert sorted(path.name for path in tmp_path.iterdir()) == [fresh.name, "made"]


def test_rooms_out_of_reach_are_named_with_the_nearest_door_that_could_be_missing(folder):
    house = read_house(folder)[0]
    (kitchen,) = check_reachable(replace(house, openings=tuple(o for o in house.openings if o.name != "D2")))
    assert '"Kitchen"' in kitchen.message and 'a door between "Lobby" and "Kitchen"' in kitchen.remedy
    (upstairs,) = check_reachable(replace(house, openings=tuple(o for o in house.openings if o.name != "Stair")))
    assert '"Landing", "Bedroom"' in upstairs.message and 'a stair from "Lobby" to "Landing"' in upstairs.remedy
    (bedroom,) = check_reachable(replace(house, openings=tuple(o for o in house.openings if o.name != "D3")))
    assert 'a door between "Landing" and "Bedroom"' in bedroom.remedy
    assert check_reachable(house) == []


def test_problems_read_as_one_line():
    told = Problem("rooms.csv", 7, "ceiling", '"ten" is not a length', "write e.g. 10' or 120 in")
    assert str(told) == 'rooms.csv row 7, ceiling: "ten" is not a length; write e.g. 10\' or 120 in'
    assert str(Problem("rooms.csv", None, None, "is missing", "add it")) == "rooms.csv: is missing; add it"


def edit(folder, file, old, new):
    text = (folder / file).read_text("utf-8")
    assert old in text
    (folder / file).write_text(text.replace(old, new), "utf-8")


def renamed(house: House, old: str, new: str) -> House:
    rooms = tuple(replace(room, name=new) if room.name == old else room for room in house.rooms)
    openings = tuple(
        replace(o, room=new if o.room == old else o.room, other=new if o.other == old else o.other)
        for o in house.openings
    )
    return replace(house, rooms=rooms, openings=openings)


@pytest.mark.parametrize(
    ("inches", "remark"),
    [(11.9, "unusual"), (12.0, ""), (2400.0, ""), (2400.1, "unusual"), (0.05, "no size of a room")],
)
def test_a_size_beyond_what_rooms_have_is_doubted(inches, remark):
    """Common practice: sides of 1 ft to 200 ft."""
    hall = Room("Hall", "Ground", "entry hall", 120.0, inches, 96.0)
    told = [p.message for p in check_rooms(House("H", ("Hall",), (hall,), ()), {}) if p.column == "width"]
    assert len(told) == bool(remark) and all(remark in message for message in told)


@pytest.mark.parametrize(("inches", "severity"), [(59.9, "error"), (60.0, None), (480.0, None), (480.1, "warning")])
def test_a_ceiling_beyond_what_rooms_have_is_told(inches, severity):
    hall = Room("Hall", "Ground", "entry hall", 120.0, 120.0, inches)
    told = [p.severity for p in check_rooms(House("H", ("Hall",), (hall,), ()), {}) if p.column == "ceiling"]
    assert told == ([severity] if severity else [])


def test_a_level_that_no_room_is_on_is_a_doubt_that_says_so(folder):
    edit(folder, "house.toml", "[levels", '[levels.Attic]\nceiling = "7\'"\n\n[levels')
    (doubt,) = read_house(folder)[1]
    assert doubt.severity == "warning" and doubt.message == 'no room is on a level "Attic"'
    assert doubt.remedy == 'write one of "Ground", "Upper", or put a room on it, or take it out'
