"""Houses that are larger, or more broken, than any: each ends in few words, and the work is bounded."""

import pytest

from planner.files.problems import MOST_TOLD, HouseFault, Problem
from planner.files.toml_settings import parse_settings, shown
from planner.house import faults, fixtures, parsing, reach
from planner.house.folder import read_house
from planner.house.model import Opening

TOML = 'format = 1\nname = "Large"\nentry = "Room 0"\n'
ROOMS = "room,level,use,length,width,ceiling,outline,notes\n"
OPENINGS = "opening,kind,room,other,wall,offset,width,height,sill\n"
FIXTURES = "fixture,kind,room,wall,offset,width\n"
ONE_ROOM = ROOMS + "Room 0,Ground,entry hall,192,144,108,,\n"


def problems_of(tmp_path, rooms: str = ONE_ROOM, openings: str = OPENINGS, **more: str) -> tuple[Problem, ...]:
    """What reading a house of these tables tells."""
    files = {"house.toml": TOML, "rooms.csv": rooms, "openings.csv": openings}
    for name, text in (files | {f"{table}.csv": text for table, text in more.items()}).items():
        (tmp_path / name).write_text(text, "utf-8")
    try:
        return read_house(tmp_path)[1]
    except HouseFault as fault:
        return fault.problems


def apart(count: int, drawn: bool) -> str:
    """Rooms that no opening joins, in rows of a hundred where they are drawn."""

    def sides(number: int) -> str:
        x, y = number % 100 * 130, number // 100 * 130
        corners = ((x, y), (x, y + 120), (x + 120, y + 120), (x + 120, y))
        return ",,108," + "; ".join(f"{a} {b}" for a, b in corners) if drawn else "120,120,108,"

    return ROOMS + "".join(f"Room {i},Ground,bedroom,{sides(i)},\n" for i in range(count))


@pytest.mark.parametrize("drawn", [True, False])
def test_of_rooms_without_a_way_in_the_nearest_door_is_looked_for_for_those_that_are_told(tmp_path, monkeypatch, drawn):
    looked_at = []
    really = reach._Reached.missing_opening
    monkeypatch.setattr(reach._Reached, "missing_opening", lambda *at: looked_at.append(at) or really(*at))
    told = problems_of(tmp_path, apart(1_000, drawn))
    assert len(told) == MOST_TOLD + 1 == len(looked_at)
    assert 'to "Room 1"' in told[0].message and '"Room 0" and "Room 1" is missing' in told[0].remedy


def test_outlines_that_all_lie_on_each_other_are_told_without_comparing_all(tmp_path, monkeypatch):
    monkeypatch.setattr(faults, "MOST_BESIDE", 50)
    square = ",,,108,0 0; 0 12; 12 12; 12 0,\n"
    rooms = ROOMS + "".join(f"Room {i},Ground,bedroom{square}" for i in range(60))
    told = [p for p in problems_of(tmp_path, rooms) if p.column == "outline"]
    assert len(told) == 60 and '"Room 0" touches more than 50 others' in told[0].message


def test_an_outline_of_too_many_corners_is_told(tmp_path):
    corners = "; ".join(f"{i} {i % 7}" for i in range(parsing.MOST_CORNERS + 2))
    (told,) = problems_of(tmp_path, ROOMS + f"Room 0,Ground,entry hall,,,108,{corners},\n")
    assert str(told).startswith("rooms.csv row 2, outline: has more than 200 corners")


def test_a_wall_with_more_on_it_than_anybody_puts_there_is_told_once(tmp_path, monkeypatch):
    def refuse(*_: object) -> bool:
        raise AssertionError("what stands on a crowded wall is compared")

    many = faults.MOST_ON_WALL + 1
    windows = OPENINGS + "".join(f"W{i},window,Room 0,outside,N,{i % 100},1,80,24\n" for i in range(many))
    counters = FIXTURES + "".join(f"F{i},counter,Room 0,S,{i % 100},1\n" for i in range(many))
    monkeypatch.setattr(faults, "collide", refuse)
    monkeypatch.setattr(fixtures, "combinations", refuse)
    told = problems_of(tmp_path, openings=windows, fixtures=counters)
    assert [p.message for p in told if p.column == "wall"] == [
        'wall N of "Room 0" has more than 500 openings',
        'wall S of "Room 0" has more than 500 fixtures',
    ]


def test_names_that_nobody_knows_are_compared_for_those_that_are_told(tmp_path, monkeypatch):
    looked_for = []
    really = parsing.nearest
    monkeypatch.setattr(parsing, "nearest", lambda name, *of: looked_for.append(name) or really(name, *of))
    doors = OPENINGS + "".join(f"D{i},door,Rome {i},Rom {i},N,,30,80,\n" for i in range(2_000))
    told = problems_of(tmp_path, openings=doors)
    assert len(looked_for) == MOST_TOLD
    assert len(told) <= 2 * MOST_TOLD and 'there is no room "Rome 0"' in told[1].message


@pytest.mark.parametrize("wall", ["9" * 5_000, "²"])
def test_a_wall_of_no_room_is_told_whatever_digits_it_has(tmp_path, wall):
    room = ROOMS + "Room 0,Ground,entry hall,,,108,0 0; 0 144; 192 144; 192 0,\n"
    (told,) = problems_of(tmp_path, room, OPENINGS + f"W,window,Room 0,outside,{wall},20,30,80,24\n")
    assert told.column == "wall" and '"Room 0" has no wall' in told.message


def test_settings_larger_than_a_megabyte_are_told(tmp_path):
    (tmp_path / "rooms.csv").write_text(ONE_ROOM)
    (tmp_path / "openings.csv").write_text(OPENINGS)
    (tmp_path / "house.toml").write_text(TOML + "#" * 1_000_000)
    with pytest.raises(HouseFault, match=r"^house\.toml: is larger than 1 MB; keep it under 1 MB$"):
        read_house(tmp_path)


@pytest.mark.parametrize("end", ["levels{}=1", "[levels{}]", "[[levels{}]]", "levels={{a=1, b{}=1}}"])
def test_a_key_of_more_parts_than_anybody_writes_is_told_before_it_is_read(end):
    found: list[Problem] = []
    assert parse_settings(f"{TOML}{end.format('.a' * 10_000)}\n".encode(), "house.toml", found) is None
    assert [str(p) for p in found] == [
        "house.toml row 4: has a key of more than 50 parts; write key = value on each line"
    ]
    usual = f'{TOML}title = "{"a." * 100}"\n{end.format(".a" * 40)}\n'.encode()
    assert parse_settings(usual, "house.toml", found) is not None and len(found) == 1


def test_a_value_nested_too_deeply_to_be_written_out_is_told():
    value: object = []
    for _ in range(5_000):
        value = [value]
    assert shown(value) == "what is nested too deeply"


def test_openings_without_a_wall_are_told_without_comparing_each_with_each(tmp_path, monkeypatch):
    compared = []
    monkeypatch.setattr(Opening, "__eq__", lambda one, other: compared.append(one) or one is other)
    doors = (
        OPENINGS + "Front,door,Room 0,outside,,,,,\n" + "".join(f"D{i},door,Room 0,Room 1,,,,,\n" for i in range(400))
    )
    told = problems_of(tmp_path, ONE_ROOM + "Room 1,Ground,closet,96,96,108,,\n", doors)
    assert [problem.column for problem in told] == ["wall", "width", "height"]
    assert "and 395 more have no wall, and none can be told from the plan" in told[0].message
    assert len(compared) < 4_000
