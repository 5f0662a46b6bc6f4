"""What a house says of allowances: read with every fault told, written back, respelled with the unit."""

from dataclasses import replace

import pytest

from planner import demo_house
from planner.files.problems import HouseFault
from planner.house.editing import TABLES
from planner.house.folder import new_house, read_house, write_house
from planner.house.model import House, Room
from planner.house.sketch import Sketch, judged, with_unit
from planner.record.fingerprint import fingerprint
from planner.values import immutabledict
from tests.house.cells import read_cells
from tests.known import LIBRARY


@pytest.fixture
def folder(tmp_path):
    new_house(tmp_path / "house", demo_house())
    return tmp_path / "house"


def said(folder, text: str) -> None:
    path = folder / "house.toml"
    path.write_text(path.read_text("utf-8") + f"\n[takeoff]\n{text}\n", "utf-8")


def test_a_house_that_says_nothing_has_no_allowances_of_its_own(folder):
    assert read_house(folder)[0].takeoff == {}


def test_allowances_are_read_in_the_unit_of_sizes(folder):
    said(folder, 'kerf = "3/32"\nend_trim = 0.5\nscarf = 30\nlengths = ["8\'", "12\'"]')
    house, warnings = read_house(folder)
    assert house.takeoff == {"kerf": 3 / 32, "end_trim": 0.5, "scarf": 30.0, "lengths": (96.0, 144.0)}
    assert not [w for w in warnings if "takeoff" in (w.column or "")]


@pytest.mark.parametrize(
    ("text", "place", "words"),
    [
        ("kerf = 3", "takeoff.kerf", "out of range"),
        ('kerf = "much"', "takeoff.kerf", "much"),
        ("scarf = 80", "takeoff.scarf", "out of range"),
        ("scarf = true", "takeoff.scarf", "not a number"),
        ("lengths = []", "takeoff.lengths", "lists 0 lengths"),
        ('lengths = ["1\'"]', "takeoff.lengths", "no length that is sold"),
        ("lengths = [true]", "takeoff.lengths", "true"),
        ("lengths = 5", "takeoff.lengths", "no length that is sold"),
        ("offcut = inf", "takeoff.offcut", "inf"),
    ],
)
def test_a_faulty_allowance_is_told_with_its_place(folder, text, place, words):
    said(folder, text)
    with pytest.raises(HouseFault) as fault:
        read_house(folder)
    told = [p for p in fault.value.problems if p.column == place]
    assert len(told) == 1 and words.lower() in told[0].message.lower() and told[0].remedy


def test_an_unknown_allowance_is_a_doubt_with_the_nearest_known(folder):
    said(folder, "kerv = 0.1")
    told = [w for w in read_house(folder)[1] if w.column == "takeoff.kerv"]
    assert "kerf" in told[0].remedy


def test_what_is_no_table_is_told(folder):
    path = folder / "house.toml"
    path.write_text("takeoff = 3\n" + path.read_text("utf-8"), "utf-8")
    with pytest.raises(HouseFault, match="not a table"):
        read_house(folder)


def test_what_a_house_says_is_written_and_comments_stay(folder):
    said(folder, "kerf = 0.1 # a thin blade")
    house, _ = read_house(folder)
    write_house(house, folder)
    assert "kerf = 0.1 # a thin blade" in (folder / "house.toml").read_text("utf-8")
    changed = replace(house, takeoff=immutabledict({"kerf": 0.1, "offcut": 36.0, "lengths": (96.0, 192.0)}))
    write_house(changed, folder)
    assert read_house(folder)[0] == changed
    assert "# a thin blade" in (folder / "house.toml").read_text("utf-8")
    write_house(replace(house, takeoff=immutabledict()), folder)
    assert read_house(folder)[0].takeoff == {}


def test_a_new_folder_holds_the_allowances(tmp_path):
    hall = Room("Hall", "Ground", "entry hall", 192.0, 144.0, 108.0)
    house = House("Lodge", ("Hall",), (hall,), (), unit="mm", takeoff=immutabledict({"kerf": 0.125, "scarf": 30.0}))
    write_house(house, tmp_path / "lodge")
    assert read_house(tmp_path / "lodge")[0] == house


def test_another_unit_changes_no_allowance(folder):
    said(folder, "kerf = 0.125\nscarf = 30\nlengths = [96, 120]")
    house, _ = read_house(folder)
    write_house(replace(house, unit="mm"), folder)
    assert read_house(folder)[0].takeoff == house.takeoff


def test_a_sketch_in_another_unit_keeps_its_allowances(folder):
    said(folder, "kerf = 0.125\nlengths = [96, 120]")
    sketch = Sketch(
        (folder / "house.toml").read_text("utf-8"), {file: tuple(read_cells(folder, file)) for file in TABLES}
    )
    assert judged(with_unit(sketch, "mm"), LIBRARY)[0].takeoff == judged(sketch, LIBRARY)[0].takeoff != {}


def test_a_house_without_allowances_has_the_fingerprint_it_had(folder):
    house, _ = read_house(folder)
    assert fingerprint(house) == fingerprint(replace(house, takeoff=immutabledict()))
    assert fingerprint(house) != fingerprint(replace(house, takeoff=immutabledict({"kerf": 0.1})))
