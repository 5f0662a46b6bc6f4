"""Stock is read whole, and every fault in it is told by row."""

import pickle
from dataclasses import replace
from pathlib import Path

import pytest
from msgspec.structs import replace as replace_struct

from planner.files.problems import HouseFault
from planner.mouldings.outlines import polygon
from planner.stock.stock import COLUMNS, UNITS, Stock, price_per_foot, read_stock, usable_stock
from tests.known import LIBRARY
from tests.stock.invented import DEMO, made, shuffled

FOLDER = Path(__file__).parents[2] / "demo_house"
GOOD = ["A1", "casing", "Any", "4", "7/8", "7/8", "fascia 4 x 7/8", "8' 12'", "2.50", "ft"]


def write(folder: Path, *rows: list[str], header: tuple[str, ...] = COLUMNS) -> Path:
    lines = [",".join(f'"{cell}"' if '"' not in cell else cell for cell in row) for row in (header, *rows)]
    (folder / "stock.csv").write_text("\n".join(lines) + "\n", encoding="utf-8")
    return folder


def told(folder: Path, *rows: list[str]) -> list[str]:
    with pytest.raises(HouseFault) as fault:
        read_stock(write(folder, *rows))
    return [str(problem) for problem in fault.value.errors]


def changed(**cells: str) -> list[str]:
    return [cells.get(name, cell) for name, cell in zip(COLUMNS, GOOD, strict=True)]


@pytest.fixture(scope="module")
def demo():
    return read_stock(FOLDER)


def test_no_stock_is_none(tmp_path):
    assert read_stock(tmp_path) is None


def test_a_row_is_read(tmp_path):
    (profile,) = read_stock(write(tmp_path, GOOD)).profiles
    assert (profile.code, profile.role, profile.height, profile.projection) == ("A1", "casing", 4.0, 0.875)
    assert profile.lengths == (96.0, 144.0)
    assert profile.members[0].kind == "fascia"


def test_bare_numbers_are_inches_or_millimetres(tmp_path):
    row = changed(height="100", projection="20", thickness="20", members="fascia 100 x 20", lengths="2440; 3050")
    (profile,) = read_stock(write(tmp_path, row), unit="m").profiles
    assert profile.height == pytest.approx(100 / 25.4)
    assert profile.lengths == pytest.approx((2440 / 25.4, 3050 / 25.4))
    assert read_stock(write(tmp_path, GOOD), unit="ft").profiles[0].height == 4.0


@pytest.mark.parametrize(
    ("cells", "column", "words"),
    [
        ({"profile": ""}, "profile", "the code is missing"),
        ({"role": "casin"}, "role", 'write "casing"'),
        ({"height": ""}, "height", "is blank"),
        ({"height": "0"}, "height", "is above zero"),
        ({"height": "-4"}, "height", "is negative"),
        ({"projection": "0"}, "projection", "is above zero"),
        ({"thickness": "thick"}, "thickness", "is not a length"),
        ({"members": ""}, "members", "no members"),
        ({"members": "ovalo 4 x 7/8"}, "members", "ovolo"),
        ({"members": "fascia 0 x 7/8"}, "members", "above zero"),
        ({"members": "fascia 3 1/2 x 7/8"}, "members", 'heights sum to 3 1/2", height says 4"'),
        ({"members": "fascia 4 x 3/4"}, "members", 'they reach 3/4", projection says 7/8"'),
        ({"lengths": "8' ten"}, "lengths", "is not a length"),
        ({"lengths": "8 12"}, "lengths", "too short for a stock length"),
        ({"price": "two"}, "price", "is no price"),
        ({"price": "-1"}, "price", "is no price"),
        ({"price": "nan"}, "price", "is no price"),
        ({"price": "1e308"}, "price", "is no price"),
        ({"unit": "yard"}, "unit", "is no unit of sale"),
    ],
)
def test_each_fault_is_told_by_row(tmp_path, cells, column, words):
    (message,) = told(tmp_path, GOOD, changed(profile="B2", **cells) if "profile" not in cells else changed(**cells))
    assert message.startswith(f"stock.csv row 3, {column}: ")
    assert words in message


def test_all_faults_are_found_in_one_pass(tmp_path):
    bad = changed(profile="B2", role="x", height="0", price="?")
    messages = told(tmp_path, GOOD, bad, GOOD)
    assert [m.split(":")[0] for m in messages] == [
        "stock.csv row 3, role",
        "stock.csv row 3, height",
        "stock.csv row 3, price",
        "stock.csv row 4, profile",
    ]
    assert "the code of row 2 too" in messages[-1]


def test_a_missing_column_and_an_empty_table_are_told(tmp_path):
    with pytest.raises(HouseFault, match="members: the column is missing"):
        read_stock(write(tmp_path, header=tuple(c for c in COLUMNS if c != "members")))
    with pytest.raises(HouseFault, match="holds no profiles"):
        read_stock(write(tmp_path))


def test_a_directory_in_its_place_is_told(tmp_path):
    (tmp_path / "stock.csv").mkdir()
    with pytest.raises(HouseFault, match="is a directory"):
        read_stock(tmp_path)


@pytest.mark.parametrize("target", ["stock.csv", "gone.csv"])
def test_a_link_that_leads_to_no_file_is_no_missing_stock(tmp_path, target):
    (tmp_path / "stock.csv").symlink_to(target)
    with pytest.raises(HouseFault, match=r"stock\.csv: (cannot be read|is missing)"):
        read_stock(tmp_path)


def test_a_broken_rule_of_mouldings_is_a_doubt(tmp_path):
    """A cyma recta under load (Hatfield, art. 310) may be bought, but not without a word."""
    row = changed(projection="2", members="cyma recta 2 x 1; fillet 1/4 x 1; corona 1 3/4 x 2")
    (doubt,) = read_stock(write(tmp_path, row)).doubts
    assert doubt.severity == "warning" and doubt.row == 2
    assert "Hatfield, art. 310" in doubt.message


@pytest.mark.parametrize(
    ("price", "unit", "lengths", "per_foot"),
    [("3", "ft", "8'", 3.0), ("3", "m", "8'", 3 * 0.3048), ("24", "each", "8' 12'", 2.0), ("9", "each", "", 9.0)],
)
def test_price_per_foot(tmp_path, price, unit, lengths, per_foot):
    """A foot is 0.3048 m (international yard and pound agreement, 1959)."""
    (profile,) = read_stock(write(tmp_path, changed(price=price, unit=unit, lengths=lengths))).profiles
    assert price_per_foot(profile) == pytest.approx(per_foot)


def test_the_demo_stock_is_whole_and_sound(demo):
    assert len(demo.profiles) >= 60
    assert len({p.family for p in demo.profiles}) == 3
    assert not demo.doubts
    assert {p.unit for p in demo.profiles} <= set(UNITS)
    assert set(demo.by_role) == set(LIBRARY.role_names)
    assert all(polygon(p).is_valid and polygon(p).area > 0 for p in demo.profiles)


def test_the_demo_stock_lets_a_house_step_down(demo):
    """Common practice: casings from 4 in up, crowns from 2 1/2 to more than 7 in."""
    heights = {role: sorted({p.height for p in profiles}) for role, profiles in demo.by_role.items()}
    assert heights["casing"][0] == 4.0
    assert heights["crown"][0] == 2.5 and heights["crown"][-1] > 7
    for role in ("base cap", "backband", "chair rail", "bed mould", "corona", "cymatium", "bead", "board"):
        assert len(heights[role]) >= 3, role


def test_roles_and_mouldings_are_the_library_s(tmp_path):
    building = replace_struct(LIBRARY.building, roles=LIBRARY.building.roles[:1])
    small = replace(LIBRARY, building=building)
    with pytest.raises(HouseFault, match="is no role"):
        read_stock(write(tmp_path, GOOD), library=small)
    assert read_stock(tmp_path, library=LIBRARY).profiles[0].code == "A1"


def test_a_house_can_be_planned_without_a_faulty_stock(tmp_path):
    stock, faults = usable_stock(write(tmp_path, changed(price="two")))
    assert stock is None and "is no price" in str(faults[0])
    stock, faults = usable_stock(write(tmp_path, GOOD))
    assert stock.profiles[0].code == "A1" and faults == ()


def test_codes_are_numbered_by_the_alphabet():
    codes = sorted(p.code for p in DEMO.profiles)
    for stock in (DEMO, shuffled(DEMO, 1)):
        assert [stock.numbers[code] for code in codes] == list(range(len(codes)))


def test_a_stock_is_known_by_its_profiles():
    one, other = Stock((made("A", "board", "fascia 4 x 3/4"),)), Stock((made("A", "board", "fascia 4 x 3/4"),))
    assert one == other and hash(one) == hash(other)
    assert one != Stock((made("A", "board", "fascia 4 x 3/4", 2.0),))
    hash(one), one.by_role, one.numbers
    assert pickle.loads(pickle.dumps(one)) == one
    assert "by_role" not in vars(pickle.loads(pickle.dumps(one)))
