"""Tiers on houses written down by hand beforehand: what a practitioner would choose, and what was built.

Of the houses of `houses/` every room's tier is expected; common practice: no published table grades rooms, and `why`
in each expected.csv gives the trade's reason. Of the documented houses only the order of rooms is known; each row of
an order.csv names its source.
"""

import csv
from operator import eq, ge, gt
from pathlib import Path

import pytest

from planner import plan, read_house, read_intent
from planner.intent.model import Intent

HERE = Path(__file__).parent / "houses"
DOCUMENTED = Path(__file__).parent / "documented"
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


STANDS = {"above": gt, "level": eq, "level or above": ge}

BEYOND_THE_RATINGS = {
    ("gunston_hall", "Southwest Parlor", "Passage"): "the passage is wide and every walk goes through it: level",
    ("gunston_hall", "Southwest Parlor", "Northwest Parlor"): "two rooms for company of one size: level",
    ("london_1773", "Front Parlor", "Back Parlor"): "double doors draw two parlors to one tier",
    ("powel_house", "Ballroom", "Hall"): "its hall asks for 4.56 of 5, and a plainer one would undo Brown's: level",
    ("parlor_1764", "Parlor", "Back Room"): "its use, a dining room, asks for as much as a parlor",
}
"""What was built and is not chosen: a rating of uses does not know why these owners preferred one room."""


@pytest.mark.parametrize("folder", sorted(DOCUMENTED.iterdir()), ids=lambda folder: folder.name)
def test_rooms_stand_as_they_were_built(folder):
    """A row that holds although it is listed as not chosen fails too: then the list is to be shortened."""
    house, _ = read_house(folder)
    intent = read_intent(folder, "as built") if (folder / "alternatives").exists() else Intent()
    tiers = {name: room.tier for name, room in plan(house, intent).by_name.items()}
    with (folder / "order.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    other = {(r["room"], r["other"]) for r in rows if not STANDS[r["stands"]](tiers[r["room"]], tiers[r["other"]])}
    assert other == {(room, than) for name, room, than in BEYOND_THE_RATINGS if name == folder.name}
    assert all(row["source"] for row in rows)


def test_a_drawing_room_upstairs_is_richer_than_hall_and_stair_and_the_walk_to_it_may_rise():
    house, _ = read_house(DOCUMENTED / "london_1773")
    planned = plan(house, read_intent(DOCUMENTED / "london_1773", "as built"))
    best = planned.by_name["Front Drawing Room"].tier
    assert best > max(planned.by_name[name].tier for name in ("Hall", "Stairs", "First Landing"))
    door = next(p for p in planned.passages if (p.start, p.end) == ("First Landing", "Front Drawing Room"))
    assert door.leads_on and door.rise == door.limit and door.difference > 0
    upstairs = [p for p in planned.passages if p.start == "Second Landing"]
    assert all(p.rise == 0 and not p.leads_on and p.difference <= 0 for p in upstairs)


@pytest.mark.parametrize(("grade", "tiers"), [("great house", 5), ("great house", 6), ("great house", 7), ("house", 7)])
@pytest.mark.parametrize("name", ["farmhouse", "town house", "great house", "demo house"])
def test_the_best_bedroom_stands_above_the_others_where_the_grade_leaves_room(name, grade, tiers):
    """Repton and the great houses know a distinguished chamber; a ladder that ends at 4 has one rung for chambers."""
    house, _ = read_house(CASES[name][0])
    planned = plan(house, Intent(grade=grade, tiers=tiers))
    best = [r.tier for r in planned.rooms if r.room.use == "principal bedroom"]
    assert min(best) > max(r.tier for r in planned.rooms if r.room.use == "bedroom")
