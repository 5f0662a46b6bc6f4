"""A house that is begun as a copy in another unit: its bars come as they are sold there, its profiles stay."""

import csv
from dataclasses import replace

import pytest

from planner import demo_house
from planner.stock.beginning import new_house
from planner.stock.stock import COLUMNS, price_per_foot, read_stock
from planner.units import INCHES_IN
from tests.known import LIBRARY
from tests.stock.invented import DEMO

METRIC = LIBRARY.takeoff.sold_in("mm")
BARS = {"lengths": (), "price": 0.0, "unit": ""}
"""What a profile says of the bars that it comes in, left out."""


@pytest.fixture(scope="module")
def metric(tmp_path_factory):
    folder = tmp_path_factory.mktemp("begun") / "metric"
    new_house(folder, demo_house(), "mm")
    return folder


def told(folder):
    """The lengths of each profile, as its row tells them."""
    return [row["lengths"] for row in csv.DictReader((folder / "stock.csv").open(encoding="utf-8"))]


def test_bars_of_a_copy_come_in_the_lengths_that_are_sold_in_its_unit(metric):
    """Common practice: the row of [[sold]] in library/takeoff.toml, which boards come in as well."""
    sold = {f"{length:g} mm" for length in METRIC.lengths}
    assert {length for lengths in told(metric) if lengths for length in lengths.split("; ")} == sold
    counts = [len(profile.lengths) for profile in read_stock(metric, "mm").profiles]
    assert counts == [len(profile.lengths) for profile in DEMO.profiles]


def test_a_copy_keeps_its_profiles_and_what_they_cost(metric):
    after = read_stock(metric, "mm").profiles
    assert [replace(profile, **BARS) for profile in after] == [replace(profile, **BARS) for profile in DEMO.profiles]
    for profile, was in zip(after, DEMO.profiles, strict=True):
        if was.unit == "each":
            assert (profile.price, profile.unit) == (was.price, "each")
        else:
            assert profile.unit == "m"
            assert price_per_foot(profile) == pytest.approx(price_per_foot(was), abs=0.025 * 0.3048 + 1e-9)


def test_every_bar_of_a_copy_costs_whole_cents(metric):
    """Bars of one price a metre then cost by their lengths alone, which is what proves their cutting best."""
    by_the_run = [profile for profile in read_stock(metric, "mm").profiles if profile.unit == "m"]
    cents = [profile.price * 100 * length / INCHES_IN["m"] for profile in by_the_run for length in profile.lengths]
    assert cents == pytest.approx([round(price) for price in cents], abs=1e-6)


def test_back_in_feet_the_bars_are_those_that_they_were(metric, tmp_path):
    new_house(tmp_path / "back", metric, "ft")
    back = read_stock(tmp_path / "back", "ft").profiles
    assert [profile.lengths for profile in back] == [profile.lengths for profile in DEMO.profiles]
    assert [profile.unit for profile in back] == [profile.unit for profile in DEMO.profiles]


def test_bars_that_come_to_one_length_are_told_once(tmp_path):
    new_house(tmp_path / "odd", demo_house())
    row = ["A1", "casing", "Any", "4", "7/8", "7/8", "fascia 4 x 7/8", "13\" 94\" 8' 17'", "2.50", "ft"]
    with (tmp_path / "odd" / "stock.csv").open("w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows([COLUMNS, row])
    new_house(tmp_path / "metric", tmp_path / "odd", "mm")
    assert told(tmp_path / "metric") == ["300 mm; 2400 mm; 5100 mm"]


def test_a_copy_in_a_unit_of_the_same_kind_keeps_its_stock_to_the_byte(tmp_path):
    new_house(tmp_path / "feet", demo_house(), "ft")
    assert (tmp_path / "feet" / "stock.csv").read_bytes() == (demo_house() / "stock.csv").read_bytes()
