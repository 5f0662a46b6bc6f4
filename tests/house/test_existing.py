"""Trim that stays: read with every fault told, written back with the house, all or none."""

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from planner.files.problems import HouseFault
from planner.house.editing import save_cells
from planner.house.existing import COLUMNS, EXISTING
from planner.house.folder import read_house, write_house
from planner.house.model import Existing
from tests.house.cells import read_cells
from tests.house.conftest import HOUSE, OPENINGS, ROOMS, state

PARLOR = 'Parlor, "Front"'
TABLE = '''\
room,element,form,height,projection,bottom,profile,notes
"Parlor, ""Front""",Base,Board and cap,9 1/2,7/8,,,oak
"Parlor, ""Front""",chair rail,moulded rail,"3""",1 1/4,"2'-6""",R-7,
"Parlor, ""Front""",crown,none,,,,,never had one
Kitchen,all,,,,,,
'''


def put(folder, text=TABLE):
    """Write the table by hand."""
    (folder / EXISTING).write_bytes(text if isinstance(text, bytes) else text.encode())


def test_its_rows_are_facts_of_the_house(folder):
    put(folder)
    house, warnings = read_house(folder)
    assert warnings == ()
    assert house.existing == (
        Existing(PARLOR, "base", "board and cap", 9.5, 0.875, None, "", "oak"),
        Existing(PARLOR, "chair rail", "moulded rail", 3.0, 1.25, 30.0, "R-7"),
        Existing(PARLOR, "crown", "none", notes="never had one"),
        Existing("Kitchen", "all"),
    )
    assert list(house.stays) == [PARLOR, "Kitchen"] and len(house.stays[PARLOR]) == 3


def test_a_house_without_the_file_keeps_nothing_and_is_written_without_it(folder):
    house, _ = read_house(folder)
    assert house.existing == ()
    write_house(replace(house, name="New"), folder)
    assert not (folder / EXISTING).exists()


def test_the_columns_of_the_design_are_enough(folder):
    put(folder, "room,element,form,height,projection,profile,notes\nKitchen,base,board,5,3/4,,\n")
    assert read_house(folder)[0].existing == (Existing("Kitchen", "base", "board", 5.0, 0.75),)


@pytest.mark.parametrize(
    ("row", "column", "says"),
    [
        ("Kitchn,base,board,5,,,,", "room", 'there is no room "Kitchn"; write "Kitchen"'),
        (",base,board,5,,,,", "room", "is blank; write e.g. Parlor"),
        ("Kitchen,,board,5,,,,", "element", "is blank; write e.g. base, or all for the whole room"),
        ("Kitchen,bass,board,5,,,,", "element", '"bass" is no element; write "base"'),
        ("Kitchen,base,bord,5,,,,", "form", '"bord" is no form of base; write'),
        ("Kitchen,base,,5,,,,", "form", "is blank; write one of"),
        ("Kitchen,base,board,,,,,", "height", "is blank; measure it"),
        ("Kitchen,base,board,tall,,,,", "height", '"tall" is not a length'),
        ("Kitchen,base,board,-5,,,,", "height", '"-5" is negative'),
        ("Kitchen,base,board,0,,,,", "height", "is zero"),
        ("Kitchen,base,board,5,0,,,", "projection", "is zero"),
        ("Kitchen,base,board,5,5 ft,,,", "projection", "5'-0\" is no projection of trim"),
        ("Kitchen,base,board,9'-1\",,,,", "height", 'it reaches 9\'-1", and the ceiling of "Kitchen" is at 9\'-0"'),
        ("Kitchen,chair rail,beaded rail,3,,107,,", "bottom", "it reaches 9'-2\""),
        ("Kitchen,crown,none,5,,,,", "height", 'there is no crown, and it measures "5"; leave it blank'),
        ("Kitchen,all,board,,,,,", "form", '"board" is said of a whole room; write it in a row of its element'),
        ("Kitchen,base,board,5,,,,x,y", None, "has 9 cells under 8 columns"),
        ('Kitchen,base,board,5,,,"a\nb",', "profile", "has a line break"),
    ],
)
def test_every_fault_is_told_by_row_and_column(folder, row, column, says):
    put(folder, f"{','.join(COLUMNS)}\nLobby,base,board,5,,,,\n{row}\n")
    with pytest.raises(HouseFault) as fault:
        read_house(folder)
    (problem,) = fault.value.errors
    assert (problem.file, problem.row, problem.column) == (EXISTING, 3, column)
    assert says in str(problem)


def test_an_element_is_said_once_of_a_room_and_faults_come_in_one_pass(folder):
    put(folder, TABLE + "Kitchen,ALL,,,,,,\nKitchen,base,plank,5,,,,\nCellar,base,board,5,,,,\n")
    with pytest.raises(HouseFault) as fault:
        read_house(folder)
    assert [(p.row, p.column) for p in fault.value.errors] == [(6, "element"), (7, "form"), (8, "room")]
    assert 'the all of "Kitchen" is there already, in row 5' in str(fault.value)


def test_a_faulty_room_is_told_once(folder):
    put(folder)
    text = (folder / "rooms.csv").read_text("utf-8")
    (folder / "rooms.csv").write_text(text.replace("15 ft", "wide"), "utf-8")
    with pytest.raises(HouseFault) as fault:
        read_house(folder)
    assert {p.file for p in fault.value.errors} == {"rooms.csv"}


def test_what_is_no_table_is_told(folder):
    (folder / EXISTING).mkdir()
    with pytest.raises(HouseFault, match=r"existing\.csv: is a directory"):
        read_house(folder)
    before = state(folder)
    with pytest.raises(HouseFault, match=r"existing\.csv"):
        write_house(read_without(folder), folder)
    assert state(folder) == before


def read_without(folder):
    """The house of a folder as if nothing stayed."""
    aside = folder.parent / "aside"
    aside.mkdir()
    for name in ("house.toml", "rooms.csv", "openings.csv"):
        (aside / name).write_bytes((folder / name).read_bytes())
    return read_house(aside)[0]


def test_it_is_written_with_the_house_and_keeps_what_a_person_spelled(folder):
    put(folder)
    house, _ = read_house(folder)
    before = state(folder)
    write_house(house, folder)
    assert state(folder) == before
    changed = tuple(replace(e, height=10.0) if e.element == "base" else e for e in house.existing)
    write_house(replace(house, existing=changed), folder)
    assert (folder / EXISTING).read_text("utf-8") == TABLE.replace("9 1/2", '"10"""')
    assert read_house(folder)[0].existing == changed
    write_house(replace(house, existing=()), folder)
    assert read_house(folder)[0].existing == ()


def test_it_is_spelled_anew_in_another_unit(folder):
    put(folder)
    house, _ = read_house(folder)
    write_house(replace(house, unit="mm"), folder)
    again, _ = read_house(folder)
    assert again.unit == "mm" and again.existing == house.existing


def test_what_cannot_be_is_not_written(folder):
    put(folder)
    house, _ = read_house(folder)
    before = state(folder)
    for wrong in (Existing("Cellar", "base", "board", 5.0), Existing("Kitchen", "bass", "board", 5.0)):
        with pytest.raises(HouseFault, match=r"existing\.csv row 6"):
            write_house(replace(house, existing=(*house.existing, wrong)), folder)
    assert state(folder) == before


def test_tables_edited_in_an_app_are_held_to_it(folder):
    put(folder)
    rooms = read_cells(folder, "rooms.csv")
    save_cells(folder, {"rooms.csv": rooms})
    rooms[2]["room"] = "Scullery"
    openings = [
        {column: "Scullery" if cell == "Kitchen" else cell for column, cell in row.items()}
        for row in read_cells(folder, "openings.csv")
    ]
    with pytest.raises(HouseFault, match=r'existing\.csv row 5, room: there is no room "Kitchen"'):
        save_cells(folder, {"rooms.csv": rooms, "openings.csv": openings})


@settings(max_examples=200, suppress_health_check=list(HealthCheck))
@given(st.binary(max_size=30), st.integers(0, len(TABLE)), st.integers(0, 30))
@example(b"\xff\xfe", 0, 0)
@example(b"\0", 20, 0)
@example(b'"', 70, 0)
def test_a_table_broken_anywhere_is_read_or_told(tmp_path_factory, data, at, gone):
    folder = tmp_path_factory.mktemp("house")
    for name, text in (("house.toml", HOUSE), ("rooms.csv", ROOMS), ("openings.csv", OPENINGS)):
        (folder / name).write_text(text, "utf-8")
    put(folder, TABLE.encode()[:at] + data + TABLE.encode()[at + gone :])
    try:
        house, _ = read_house(folder)
    except HouseFault as fault:
        assert all(p.file == EXISTING for p in fault.errors)
    else:
        write_house(replace(house, name="Again"), folder)
        assert read_house(folder)[0].existing == house.existing
