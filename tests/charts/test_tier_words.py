"""The title of a picture of tiers is a true sentence, whatever the house."""

import pytest

from planner.charts.tier_words import MOST_DESCRIBED, description, finding

NAMES = {1: "Service", 2: "Chamber", 3: "Family", 4: "Principal"}


def rooms(*tiers: int) -> list[dict]:
    return [{"room": f"Room {i}", "tier": tier, "tier_name": NAMES[tier]} for i, tier in enumerate(tiers)]


@pytest.mark.parametrize(
    ("tiers", "moved", "level", "said"),
    [
        ((4, 4, 3, 1), None, None, "2 of 4 rooms are Principal, 1 Service"),
        ((3, 2, 2), None, None, "1 of 3 rooms is Family, 2 Chamber"),
        ((2, 2), None, None, "All 2 rooms are Chamber"),
        ((2,), None, None, "The one room is Chamber"),
        ((2,) * 5000 + (4,), None, None, "1 of 5,001 rooms is Principal, 5,000 Chamber"),
        ((4, 1), None, "Upper\nfloor", "Upper floor: 1 of 2 rooms is Principal, 1 Service"),
        ((4, 1), {"Room 0": 4, "Barn": 2}, None, "1 of 2 rooms is Principal, 1 Service"),
        ((4, 1), {"Room 0": 3}, None, "Room 0 moved up from 3 to 4"),
        ((4, 1), {"Room 1": 3}, "Upper", "Upper: Room 1 moved down from 3 to 1"),
        ((4, 1), {"Room 0": 2, "Room 1": 2}, None, "2 rooms moved: 1 up, 1 down"),
        ((4, 3, 3), {"Room 0": 2, "Room 1": 2}, None, "2 rooms moved up"),
        ((1, 1, 3), {"Room 0": 2, "Room 1": 2}, None, "2 rooms moved down"),
    ],
)
def test_the_finding(tiers, moved, level, said):
    assert finding(rooms(*tiers), moved, level) == said


def test_the_description_names_the_rooms_of_each_tier_and_those_that_moved():
    assert description(rooms(4, 2, 4), {"Room 1": 3, "Room 2": 4}) == (
        "4 Principal: Room 0, Room 2. 2 Chamber: Room 1. Room 1 is 2 Chamber, down from 3"
    )


def test_the_description_counts_where_rooms_are_many():
    assert description(rooms(*[2] * MOST_DESCRIBED, 1), None) == "2 Chamber: 60 rooms. 1 Service: 1 room"
