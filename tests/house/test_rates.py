"""rates.csv: read, told, written back, and kept with the house."""

import shutil
from dataclasses import replace

import pytest

from planner import HouseFault, demo_house, read_house, write_house
from planner.house.editing import save_cells
from planner.house.model import OwnRate
from tests.house.cells import read_cells

ROWS = """rate,value,low,high,unit,confirmed,notes
carpenter,82.50,70,95,,yes,by the crew's own books
Crown  Run,0.3,0.2,0.4,hours per m,,
markup,25 %,20%,30%,,no,
tax,,,,,yes,
"""


@pytest.fixture
def folder(tmp_path):
    shutil.copytree(demo_house(), tmp_path / "house")
    return tmp_path / "house"


def faults(folder, rows):
    (folder / "rates.csv").write_text(f"rate,value,low,high,unit,confirmed,notes\n{rows}\n")
    with pytest.raises(HouseFault) as told:
        read_house(folder)
    return [(p.row, p.column, p.message, p.remedy) for p in told.value.problems]


def test_rows_are_the_houses_own_rates(folder):
    (folder / "rates.csv").write_text(ROWS)
    house, problems = read_house(folder)
    assert house.rates == (
        OwnRate("carpenter", 82.5, 70, 95, "", True, "by the crew's own books"),
        OwnRate("crown run", 0.3, 0.2, 0.4, "hours per m"),
        OwnRate("markup", 0.25, 0.2, 0.3),
        OwnRate("tax", confirmed=True),
    )
    assert not [p for p in problems if p.file == "rates.csv"]


def test_what_a_house_does_not_say_is_no_fault(folder):
    (folder / "rates.csv").unlink(missing_ok=True)
    assert read_house(folder)[0].rates == ()


def test_writing_back_keeps_each_cell_as_it_was_spelled(folder):
    (folder / "rates.csv").write_text(ROWS)
    house, _ = read_house(folder)
    write_house(house, folder)
    assert (folder / "rates.csv").read_text() == ROWS
    dearer = (replace(house.rates[0], value=90.0), *house.rates[1:], OwnRate("boards", 1e-07, 0.0, 12.25))
    write_house(replace(house, rates=dearer), folder)
    cells = read_cells(folder, "rates.csv")
    assert [row["value"] for row in cells] == ["90", "0.3", "25 %", "", "0.0000001"]
    assert cells[0]["low"] == "70"
    assert read_house(folder)[0].rates == dearer


@pytest.mark.parametrize(
    ("row", "column", "says", "remedy"),
    [
        ("carpentre,80,,,,,", "rate", '"carpentre" is no rate', 'write "carpenter"'),
        (",80,,,,,", "rate", "is blank", "write e.g. carpenter"),
        ("carpenter,1e308,,,,,", "value", "is no plain number", "from 0 to 2000 [per hour]"),
        ("carpenter,nan,,,,,", "value", "is no plain number", "from 0 to 2000 [per hour]"),
        ("carpenter,inf,,,,,", "value", "is no plain number", "from 0 to 2000 [per hour]"),
        ("carpenter,-5,,,,,", "value", "is no plain number", "from 0 to 2000 [per hour]"),
        ("carpenter,٤٢,,,,,", "value", "is no plain number", "from 0 to 2000 [per hour]"),
        (f"carpenter,{'9' * 400},,,,,", "value", "is out of range", "from 0 to 2000 [per hour]"),
        ("carpenter,2000.01,,,,,", "value", "is out of range", "from 0 to 2000 [per hour]"),
        ("crown run,33,,,hours per m,,", "value", "is out of range", "from 0 to 32.81 [hours per m]"),
        ("carpenter,50%,,,,,", "value", "is no plain number", "from 0 to 2000 [per hour]"),
        ("markup,25,,,,,", "value", "is out of range", "from 0 to 5 [part]"),
        ("pace,0,,,,,", "value", "is out of range", "from 0.1 to 10 [factor]"),
        ("carpenter,80,81,90,,,", "low", '"81" is above the value, "80"', "so that they rise"),
        ("carpenter,80,70,79,,,", "high", '"79" is below the value, "80"', "so that they rise"),
        ("carpenter,,70,79,,,", "value", "is blank, and low is not", "write the value"),
        ("carpenter,80,,,per day,,", "unit", '"per day" is no unit of carpenter', 'write one of "per hour"'),
        ("carpenter,80,,,,maybe,", "confirmed", '"maybe" is neither yes nor no', "write yes or no"),
    ],
)
def test_each_fault_is_told_at_its_cell(folder, row, column, says, remedy):
    ((number, at, message, right),) = faults(folder, row)
    assert (number, at) == (2, column)
    assert says in message
    assert remedy in right or right == 'write "per hour"'


def test_a_rate_said_twice_is_told(folder):
    ((number, at, message, _),) = faults(folder, "tax,0.05,,,,,\nTax,0.06,,,,,")
    assert (number, at) == (3, "rate")
    assert "row 2" in message


def test_twenty_thousand_faulty_rows_are_told_at_once(folder):
    told = faults(folder, "\n".join(f"x{n},1e{n},NaN,-1,,," for n in range(19_999)))
    assert 100 < len(told) < 1_000


def test_the_board_saves_rates_with_the_other_tables(folder):
    row = {"rate": "carpenter", "value": "90", "confirmed": "yes"}
    house, _ = save_cells(folder, {"rates.csv": [row]})
    assert house.rates == (OwnRate("carpenter", 90.0, confirmed=True),)
    with pytest.raises(HouseFault):
        save_cells(folder, {"rates.csv": [row | {"value": "dear"}]})
    assert read_cells(folder, "rates.csv")[0]["value"] == "90"
