"""What makes a room important: each factor on houses small enough to work by hand."""

from itertools import pairwise

import pytest

from planner.house.model import House, Opening, Room
from planner.intent.model import DEFAULT_WEIGHTS, FACTORS, Intent
from planner.planning.pipeline import plan
from tests.known import LIBRARY


def two_rooms(hall: tuple[float, float], parlor: tuple[float, float]) -> House:
    """A hall and a drawing room of these lengths and widths [ft], both 10 ft high, with a closet."""
    sizes = {"Hall": ("entry hall", *hall), "Drawing Room": ("drawing room", *parlor), "Closet": ("closet", 4, 3)}
    rooms = tuple(Room(n, "Ground", use, 12 * x, 12 * y, 120) for n, (use, x, y) in sizes.items())
    doors = tuple(Opening(f"D{n}", "door", "Hall", n) for n in ("Drawing Room", "Closet"))
    return House("Worked", ("Hall",), rooms, doors, grade="great house")


def test_display_is_the_use_s_rating_times_the_presence():
    planned = plan(two_rooms((16, 9), (24, 24)))
    hall, parlor, closet = (planned.by_name[n].factors for n in ("Hall", "Drawing Room", "Closet"))
    assert parlor["display"] == parlor["presence"] == 1.0
    assert hall["presence"] == pytest.approx((16 * 9 / 24**2) ** 0.5) == 0.5
    assert hall["display"] == pytest.approx(LIBRARY.use("entry hall").display * 0.5)
    assert closet["display"] == 0.0


def test_a_narrow_hall_is_plainer_than_the_drawing_room_and_one_as_large_is_not():
    """Brown (1822): the hall's cornice is the heavier; the house of 1773: the drawing room is the summit."""
    narrow, large = plan(two_rooms((16, 9), (24, 24))), plan(two_rooms((28, 24), (24, 24)))
    assert narrow.by_name["Hall"].importance < narrow.by_name["Drawing Room"].importance
    assert large.by_name["Hall"].importance > large.by_name["Drawing Room"].importance


def test_importance_is_the_weighted_mean_of_the_five_factors_and_one_weighed_nothing_is_left_out():
    house = two_rooms((16, 9), (24, 24))
    assert sum(DEFAULT_WEIGHTS.values()) == pytest.approx(1) and tuple(DEFAULT_WEIGHTS) == FACTORS
    for weights in (DEFAULT_WEIGHTS, {**DEFAULT_WEIGHTS, "display": 0.0}, {"use": 3, "presence": 1}):
        for room in plan(house, Intent(importance=weights)).rooms:
            total = sum(weights.values())
            expected = sum(weight / total * room.factors[name] for name, weight in weights.items())
            assert room.importance == pytest.approx(expected)


def test_ratings_of_display_are_those_of_the_trade():
    """Most for company, much in halls, the best bedroom above the others, nothing in closets: common practice."""
    display = {use.name: use.display for use in LIBRARY.uses}
    assert all(0 <= rating <= 1 for rating in display.values())
    company = ("drawing room", "ballroom", "parlor", "dining room")
    halls = ("entry hall", "stair hall", "upper hall", "hall")
    assert min(display[n] for n in company) > max(v for n, v in display.items() if n not in company)
    assert max(display[n] for n in halls) < min(display[n] for n in company)
    assert display["principal bedroom"] > display["guest bedroom"] > display["bedroom"] > display["maid's room"] > 0
    assert {display[n] for n in ("closet", "linen closet", "coat closet", "storage", "attic")} == {0.0}


def test_arrival_falls_from_the_entry_to_the_deepest_room():
    rooms = tuple(Room(name, "Ground", "hall", 120, 120, 96) for name in ("Hall", "Passage", "Back", "Yard Room"))
    doors = tuple(Opening(f"D{i}", "door", a.name, b.name) for i, (a, b) in enumerate(pairwise(rooms)))
    planned = plan(House("Row", ("Hall",), rooms, doors))
    found = [planned.by_name[room.name].factors["arrival"] for room in rooms]
    assert found == [1, pytest.approx(2 / 3), pytest.approx(1 / 3), 0]
