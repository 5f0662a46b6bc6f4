"""Tiers on houses written down by hand beforehand: what a practitioner would choose, room by room.

Common practice: no published table grades rooms; `why` in each expected.csv gives the trade's reason.
"""

import csv
from pathlib import Path

import pytest

from planner import plan, read_house

HERE = Path(__file__).parent / "houses"
DEMO = Path(__file__).parents[2] / "demo_house"
CASES = {
    "cottage": (HERE / "cottage", HERE / "cottage" / "expected.csv"),
    "town house": (HERE / "town_house", HERE / "town_house" / "expected.csv"),
    "great house": (HERE / "great_house", HERE / "great_house" / "expected.csv"),
    "farmhouse": (HERE / "farmhouse", HERE / "farmhouse" / "expected.csv"),
    "demo house": (DEMO, HERE / "demo_expected.csv"),
}


def expected_tiers(path: Path) -> dict[str, int]:
    """The tier expected of each room."""
    with path.open(encoding="utf-8", newline="") as file:
        return {row["room"]: int(row["tier"]) for row in csv.DictReader(file)}


@pytest.mark.parametrize("case", CASES)
def test_tiers_are_those_of_practice(case):
    folder, path = CASES[case]
    house, _ = read_house(folder)
    result = plan(house)
    expected = expected_tiers(path)
    assert set(expected) == set(house.by_name)
    chosen = {name: room.tier for name, room in result.by_name.items()}
    assert {name: (expected[name], tier) for name, tier in chosen.items() if tier != expected[name]} == {}


def test_the_demo_house_reads_without_a_remark():
    _, warnings = read_house(DEMO)
    assert list(warnings) == []
