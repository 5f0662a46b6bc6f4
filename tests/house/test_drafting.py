"""Gestures on the board: each gives the sketch that the one who draws expects, or says why it cannot."""

import pytest

from planner import new_house
from planner.house.drafting import (
    add_room,
    change_unit,
    leads_to,
    move_room,
    pasted,
    place_room,
    put_opening,
    resize_room,
    with_ceilings,
    with_rows_added,
)
from planner.house.editing import TABLES
from planner.house.placements import placements
from planner.house.placing import box
from planner.house.sketch import Sketch, form, judged, with_cell, with_level, with_row
from tests.house.cells import read_cells
from tests.known import LIBRARY


@pytest.fixture
def blank(tmp_path):
    """The house that is begun from nothing: a hall of 16 by 12 feet."""
    new_house(tmp_path / "lodge")
    toml = (tmp_path / "lodge/house.toml").read_text("utf-8")
    return Sketch(toml, {file: tuple(read_cells(tmp_path / "lodge", file)) for file in TABLES})


@pytest.fixture
def two(blank):
    """A hall, and a parlor of 18 by 14 feet north of it."""
    return add_room(blank, "parlor", "Ground", 0, LIBRARY)[0]


def extent(sketch, at):
    return box(sketch.drawn[at].room.corners)


def put(sketch, at, wall, along, kind):
    return put_opening(sketch, at, wall, along, kind, judged(sketch, LIBRARY)[0], LIBRARY)


def errors(sketch):
    return [str(fault) for fault in judged(sketch, LIBRARY)[1] if fault.severity == "error"]


def test_a_room_is_added_with_its_usual_size_against_the_one_that_is_picked(two):
    assert two.rooms[1] == {
        "room": "Parlor",
        "level": "Ground",
        "use": "parlor",
        "length": "18'-0\"",
        "width": "14'-0\"",
        "ceiling": "",
        "outline": "0 144; 0 312; 216 312; 216 144",
        "notes": "",
    }
    assert two.drawn[0].placed and form(two).levels == {"Ground": "9'-0\""}
    assert add_room(two, "parlor", "Ground", 0, LIBRARY)[0].rooms[2]["room"] == "Parlor 2"


def test_a_first_room_of_a_level_stands_over_the_others_corner_and_has_a_ceiling(two):
    made = add_room(two, "bedroom", "Upper", None, LIBRARY)[0]
    assert extent(made, 2)[:2] == (0, 0) and form(made).levels["Upper"] == "9'-0\""


def test_a_metric_house_has_metric_sizes(blank):
    made, _ = change_unit(blank, "mm", LIBRARY)
    assert made.rooms[0]["outline"] == "0 0; 0 3700; 4300 3700; 4300 0" and form(made).levels == {"Ground": "2700 mm"}
    made, _ = add_room(made, "bath", "Ground", 0, LIBRARY)
    assert (made.rooms[1]["length"], made.rooms[1]["width"]) == ("2700 mm", "1800 mm")


def test_a_side_is_whole_millimetres_wherever_the_room_stands(blank):
    made, _ = change_unit(blank, "mm", LIBRARY)
    made = add_room(made, "bath", "Ground", 0, LIBRARY)[0]
    for east in range(0, 40_000, 1_100):
        made = place_room(made, 1, "from_west", str(east))[0]
        assert (made.rooms[1]["length"], made.rooms[1]["width"]) == ("2700 mm", "1800 mm"), east


def test_a_dragged_room_snaps_and_one_moved_by_keys_goes_on_from_an_edge(two):
    dragged, words = move_room(two, 1, (194, -140), True)
    assert extent(dragged, 1)[:2] == (192, 0) and words == "Parlor moved"
    stepped, _ = move_room(dragged, 1, (6, 0), False)
    assert extent(stepped, 1).west == 198


def test_a_resized_room_keeps_its_doors_where_they_are(two):
    made, _ = put(two, 1, "S", 150, "door")
    before = judged(made, LIBRARY)[0]
    made, words = resize_room(made, 1, "e", (24, 0), True)
    assert words == "Parlor is 20'-0\" x 14'-0\" now" and made.rooms[1]["length"] == "20'-0\""
    jambs = [placements(house, LIBRARY)["Parlor"][0].jambs for house in (before, judged(made, LIBRARY)[0])]
    assert jambs[0] == jambs[1]


def test_what_is_no_rectangle_is_moved_and_not_reshaped(two):
    ell = with_cell(two, "rooms.csv", 1, "outline", "0 144; 0 312; 216 312; 216 200; 100 200; 100 144")
    assert extent(move_room(ell, 1, (600, 0), True)[0], 1).west == 600
    with pytest.raises(ValueError, match="more corners"):
        resize_room(ell, 1, "e", (24, 0), True)


def test_a_corner_is_typed(two):
    assert extent(place_room(two, 1, "from_west", "20'")[0], 1).west == 240
    assert extent(place_room(two, 1, "from_south", "-3'")[0], 1).south == -36
    with pytest.raises(ValueError, match="not a length"):
        place_room(two, 1, "from_west", "over there")


def test_a_door_joins_the_rooms_that_share_the_wall_and_leads_outside_elsewhere(two):
    assert leads_to(two, 0) == {"N": "Parlor", "E": "outside", "S": "outside", "W": "outside"}
    made, words = put(two, 0, "N", 90, "door")
    assert words == "D1, a door to Parlor, put on wall N of Entry Hall"
    made, _ = put(made, 0, "S", 20, "door")
    made, _ = put(made, 1, "N", 30, "window")
    made, _ = put(made, 1, "W", None, "fireplace")
    cells = [[one[c] for c in ("opening", "room", "other", "wall", "offset")] for one in made.rows("openings.csv")]
    assert cells == [
        ["D1", "Entry Hall", "Parlor", "N", "6'-9\""],
        ["D2", "Entry Hall", "outside", "S", '6"'],
        ["W1", "Parlor", "outside", "N", "1'-0\""],
        ["F1", "Parlor", "", "W", "5'-6\""],
    ]
    assert errors(made) == []


def test_a_window_is_put_where_nothing_is_behind_the_wall(two):
    with pytest.raises(ValueError, match="Parlor is behind wall N"):
        put(two, 0, "N", 90, "window")


def test_rooms_are_not_put_before_the_entry_as_long_as_there_is_place(two):
    for _ in range(3):
        two, _ = add_room(two, "pantry", "Ground", 0, LIBRARY)
    assert all(extent(two, at).south >= 0 for at in two.drawn)


def test_a_level_on_which_a_room_has_no_ceiling_gets_that_of_the_others(blank):
    made = with_row(blank, "rooms.csv", {"room": "Den", "level": "Ground", "length": "9'", "width": "9'"})
    assert form(with_ceilings(made)).levels == {"Ground": "9'-0\""} and with_ceilings(blank) == blank


def test_where_less_wall_is_shared_an_opening_is_narrower_or_refused(two):
    made, _ = move_room(two, 1, (192 - 26, 0), False)
    made, _ = place_room(made, 1, "from_west", "166")
    narrow, _ = put(made, 0, "N", 180, "door")
    assert narrow.rows("openings.csv")[0]["width"] == "2'-2\""
    made, _ = place_room(made, 1, "from_west", "180")
    with pytest.raises(ValueError, match="share of wall N is 1'-0\" long"):
        put(made, 0, "N", 186, "door")


def test_a_wall_that_is_full_says_so(two):
    two, _ = put(two, 0, "N", None, "door")
    for _ in range(3):
        two, _ = put(two, 0, "W", 70, "window")
    with pytest.raises(ValueError, match="move what stands there first"):
        put(two, 0, "W", 70, "window")
    assert errors(two) == []


def test_a_stair_leads_to_the_hall_over_it(two):
    with pytest.raises(ValueError, match="two levels"):
        put(two, 0, "E", 70, "stair")
    two, _ = put(two, 0, "N", None, "door")
    made = add_room(with_level(two, "Upper", "8'"), "upper hall", "Upper", None, LIBRARY)[0]
    made, words = put(made, 0, "E", None, "stair")
    assert "a stair to Upper Hall" in words and errors(made) == []


def test_cells_of_a_spreadsheet_are_pasted_from_a_cell_on(two):
    made, words = pasted(two, "rooms.csv", 1, "use", "library\t20'\t15'\nstudy\t12'\t11'\n")
    assert words == "2 rows pasted into rooms.csv"
    assert [made.rooms[1][c] for c in ("room", "use", "length")] == ["Parlor", "library", "20'"]
    assert [made.rooms[2][c] for c in ("room", "use", "width")] == ["", "study", "11'"]
    with pytest.raises(ValueError, match="only 2 begin at outline"):
        pasted(two, "rooms.csv", 1, "outline", "a\tb\tc")


def test_cells_with_a_header_are_pasted_under_their_columns(two):
    made, _ = pasted(two, "openings.csv", 0, "opening", "Type\tFrom\tTo\tMark\ndoor\tEntry Hall\tParlor\tD7\n")
    assert [made.rows("openings.csv")[0][c] for c in ("opening", "kind", "room", "other")] == [
        *("D7", "door", "Entry Hall", "Parlor")
    ]


def test_rooms_without_a_level_are_on_the_first(two):
    made = with_rows_added(two, "rooms.csv", [{**dict.fromkeys(TABLES["rooms.csv"], ""), "room": "Den"}])
    assert made.rooms[-1]["level"] == "Ground" and len(made.rooms) == 3


def test_a_room_without_a_size_is_not_moved(two):
    with pytest.raises(ValueError, match="no size yet"):
        move_room(with_row(two, "rooms.csv", {"room": "Den", "level": "Ground"}), 2, (6, 0), False)
