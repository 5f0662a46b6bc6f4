"""A house being drawn: what is typed is followed, and nothing else changes."""

import tomllib
from dataclasses import replace

import pytest

from planner import demo_house, read_house
from planner.house.editing import TABLES
from planner.house.model import OUTSIDE
from planner.house.sketch import (
    Renamed,
    Sketch,
    changed_files,
    changed_settings,
    form,
    judged,
    merged_settings,
    outline_cells,
    rebased,
    renamed_level,
    with_cell,
    with_entry,
    with_level,
    with_row,
    with_setting,
    with_unit,
    without_level,
    without_row,
)
from tests.house.cells import read_cells
from tests.known import LIBRARY

TOML = """format = 1 # kept
name = "Lodge"
unit = "in"
entry = "Hall"

[levels."Ground"]
ceiling = "9'"
"""


def row(file, *cells, **named):
    return dict.fromkeys(TABLES[file], "") | dict(zip(TABLES[file], cells, strict=False)) | named


@pytest.fixture
def lodge():
    rooms = (
        row("rooms.csv", "Hall", "Ground", "hall", "16'", "12'", outline="0 0; 0 144; 192 144; 192 0"),
        row("rooms.csv", "Den", "Ground", "study", "144", "120", "8'", outline="192 0; 192 120; 336 120; 336 0"),
    )
    openings = (
        row("openings.csv", "D1", "door", "Hall", OUTSIDE, "S"),
        row("openings.csv", "D2", "door", "Hall", "Den", "E"),
    )
    fixtures = (row("fixtures.csv", "Desk", "built-in", "Den", "S", "10", "40"),)
    return Sketch(TOML, {"rooms.csv": rooms, "openings.csv": openings, "fixtures.csv": fixtures})


@pytest.fixture(scope="module")
def demo():
    toml = (demo_house() / "house.toml").read_text("utf-8")
    return Sketch(toml, {file: tuple(read_cells(demo_house(), file)) for file in TABLES})


def test_a_house_reads_as_a_sketch_and_the_sketch_as_the_house(demo):
    house, faults = judged(demo, LIBRARY)
    assert house == read_house(demo_house())[0] and faults == read_house(demo_house())[1]
    assert form(demo).entries == ("Entry Hall", "Mud Room") and list(form(demo).levels) == ["Ground", "Upper"]


def test_a_renamed_room_is_renamed_wherever_it_is_named(lodge):
    made = with_cell(lodge, "rooms.csv", 1, "room", "Study")
    assert made.rows("openings.csv")[1]["other"] == "Study" and made.rows("fixtures.csv")[0]["room"] == "Study"
    made = with_cell(made, "rooms.csv", 0, "room", "Lobby")
    assert form(made).entries == ("Lobby",) and made.renamed.rooms == {"Den": "Study", "Hall": "Lobby"}
    assert with_cell(made, "rooms.csv", 1, "room", "Den").renamed.rooms == {"Hall": "Lobby"}
    assert not [fault for fault in judged(made, LIBRARY)[1] if fault.severity == "error"]


def test_a_name_that_another_room_has_is_not_followed(lodge):
    made = with_cell(lodge, "rooms.csv", 1, "room", "Hall")
    assert made.rows("openings.csv")[1]["other"] == "Den" and not made.renamed.rooms


def test_sides_follow_a_rectangle_s_outline_and_it_them(lodge):
    made = with_cell(lodge, "rooms.csv", 1, "length", "10 ft")
    assert made.rooms[1]["outline"] == "192 0; 192 120; 312 120; 312 0" and made.rooms[1]["length"] == "10 ft"
    made = with_cell(lodge, "rooms.csv", 1, "outline", "192 0; 192 60; 252 60; 252 120; 336 120; 336 0")
    assert (made.rooms[1]["length"], made.rooms[1]["width"]) == ("12'-0\"", "10'-0\"")
    assert with_cell(made, "rooms.csv", 1, "length", "11'").rooms[1]["outline"] == made.rooms[1]["outline"]
    assert with_cell(lodge, "rooms.csv", 1, "length", "wide").rooms[1]["outline"] == lodge.rooms[1]["outline"]


def test_with_a_room_goes_what_names_it(lodge):
    made = without_row(lodge, "rooms.csv", 1)
    assert [one["opening"] for one in made.rows("openings.csv")] == ["D1"] and made.rows("fixtures.csv") == ()


def test_a_level_s_ceiling_is_that_of_its_rooms_that_had_it(lodge):
    own = with_cell(lodge, "rooms.csv", 0, "ceiling", "108")
    made = with_level(own, "Ground", "10'")
    assert [one["ceiling"] for one in made.rooms] == ["", "8'"]
    assert tomllib.loads(made.toml)["levels"] == {"Ground": {"ceiling": "10'"}}
    assert "# kept" in made.toml


def test_a_level_is_renamed_with_its_rooms_and_removed_only_when_empty(lodge):
    made = renamed_level(lodge, "Ground", "First")
    assert {one["level"] for one in made.rooms} == {"First"} and form(made).levels == {"First": "9'"}
    assert made.renamed.levels == {"Ground": "First"}
    with pytest.raises(ValueError, match="has rooms on it"):
        without_level(made, "First")
    assert list(form(without_level(with_level(made, "Attic", "7'"), "Attic")).levels) == ["First"]
    with pytest.raises(ValueError, match="already"):
        renamed_level(with_level(made, "Attic", "7'"), "Attic", "First")


def test_another_unit_leaves_the_house_as_large_as_it_was(demo):
    made = with_unit(demo, "mm")
    before, after = judged(demo, LIBRARY)[0], judged(made, LIBRARY)[0]
    assert after.unit == "mm" and made.rows("openings.csv")[0]["offset"] == "1295 mm"
    for one, other in zip(before.rooms, after.rooms, strict=True):
        assert other.ceiling == pytest.approx(one.ceiling, abs=0.02)
        for corner, same in zip(one.outline, other.outline, strict=True):
            assert same == pytest.approx(corner, abs=0.02)
    assert [f for f in judged(made, LIBRARY)[1] if f.severity == "error"] == []


def test_in_another_unit_the_sides_of_a_room_are_still_those_of_its_outline(demo):
    """A side may end on two rounded corners: 14'-0" from 28'-0" on is 4267 mm long, and 4268 mm between these."""
    made = with_unit(demo, "mm")
    said = [(row["length"], row["width"]) for row in made.rooms]
    assert [bool(length) for length, _ in said] == [bool(row["length"]) for row in demo.rooms]
    for row, (length, width) in zip(made.rooms, said, strict=True):
        xs, ys = zip(*((float(x), float(y)) for x, y in map(str.split, row["outline"].split("; "))), strict=True)
        over_all = (f"{max(xs) - min(xs):g} mm", f"{max(ys) - min(ys):g} mm")
        assert not length or (length, width) == over_all


def test_rooms_without_an_outline_are_drawn_beside_the_others(lodge):
    made = with_row(lodge, "rooms.csv", {"room": "Pantry", "level": "Ground", "length": "6'", "width": "5'"})
    assert [(one.placed, one.room.name) for one in made.drawn.values()][2] == (False, "Pantry")
    assert max(y for _, y in made.drawn[2].room.outline) < 0
    assert 3 not in with_row(made, "rooms.csv", {"room": "Unknown"}).drawn


def test_entries_behind_the_first_stay(demo):
    assert form(with_entry(demo, "Stair Hall")).entries == ("Stair Hall", "Mud Room")
    assert form(with_entry(demo, "Mud Room")).entries == ("Mud Room",)


def test_both_changes_of_the_settings_stand(lodge):
    mine, theirs = with_setting(lodge, "name", "Mine"), with_setting(lodge, "style", "federal")
    found = tomllib.loads(merged_settings(lodge.toml, mine.toml, theirs.toml))
    assert (found["name"], found["style"]) == ("Mine", "federal")
    assert changed_settings(lodge.toml, mine.toml) == {"name": ("Lodge", "Mine")}
    assert list(changed_files(lodge, mine)) == ["house.toml"]


def test_what_was_before_a_saving_is_told_from_the_names_that_were_saved(lodge):
    saved = with_cell(lodge, "rooms.csv", 1, "room", "Study").renamed
    assert rebased(lodge, saved).renamed == Renamed(rooms={"Study": "Den"})
    later = replace(lodge, renamed=Renamed(rooms={"Den": "Study", "Hall": "Lobby"}))
    assert rebased(later, saved).renamed == Renamed(rooms={"Hall": "Lobby"})


def test_an_outline_is_written_in_the_house_s_unit():
    cells = outline_cells(((0, 0), (0, 100 / 25.4), (200 / 25.4, 100 / 25.4), (200 / 25.4, 0)), "mm")
    assert cells == {"outline": "0 0; 0 100; 200 100; 200 0", "length": "200 mm", "width": "100 mm"}


def test_a_level_that_is_added_comes_after_those_whose_rooms_have_their_own_ceilings():
    ground = {"room": "Hall", "level": "Ground", "use": "entry hall", "ceiling": "9'"}
    begun = Sketch('unit = "in"\n', {"rooms.csv": (dict.fromkeys(TABLES["rooms.csv"], "") | ground,)})
    made = with_level(begun, "Upper", "8'")
    assert list(form(made).levels) == ["Ground", "Upper"]
