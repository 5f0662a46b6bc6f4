"""Walls laid out: what runs stops where it must, panels are equal, the rail has one height. Common practice."""

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.house.model import OUTSIDE, House, Opening, Room
from planner.library import table
from planner.trim.packages import package
from planner.walls.layout import lay_out, meetings, panel_width, rail_top
from planner.walls.solids import clipped, gaps, overlaps, polygon
from tests.walls.houses import random_house

ROOM = Room("Parlor", "Ground", "parlor", 216.0, 168.0, 120.0)
HALL = Room("Hall", "Ground", "hall", 120.0, 120.0, 120.0)
OPENINGS = (
    Opening("D", "door", "Parlor", "Hall", "N", 40.0, 36.0, 84.0),
    Opening("W1", "window", "Parlor", OUTSIDE, "S", 36.0, 36.0, 90.0, 30.0),
    Opening("W2", "window", "Parlor", OUTSIDE, "S", 144.0, 36.0, 90.0, 30.0),
    Opening("F", "fireplace", "Parlor", OUTSIDE, "E", None, 42.0, 36.0),
    Opening("Gap", "open", "Parlor", "Hall", "W", 40.0, 60.0, 120.0),
)
HOUSE = House("Test", ("Hall",), (HALL, ROOM), OPENINGS)
STATE = package("georgian", "doric", 5, 120.0, top=5)
PANELS = table("openings_trim")["panels"]


def walls(trim=STATE, house=HOUSE):
    return {w.wall: w for w in lay_out(house, "Parlor", trim)}


def of(wall, *elements):
    return [s for s in wall.solids if s.element in elements]


def test_base_and_rail_stop_at_doors_and_fireplaces():
    for name in ("N", "E"):
        wall = walls()[name]
        around = wall.surrounds[0]
        for s in of(wall, "base", "chair rail", "stile", "panel"):
            assert s.x1 <= around.left + 8 or s.x0 >= around.right - 8
        base = of(wall, "base")
        assert len(base) == 2
        feet = [s for s in around.solids if s.y0 == 0]
        assert base[0].x1 == pytest.approx(min(s.x0 for s in feet))
        assert base[1].x0 == pytest.approx(max(s.x1 for s in feet))


def test_base_runs_on_under_windows_and_a_crown_over_them():
    wall = walls()["S"]
    assert [(s.x0, s.x1) for s in of(wall, "base")] == [(0.0, wall.length)]
    assert all((s.x0, s.x1) == (0.0, wall.length) for s in of(wall, "crown"))


def test_an_open_gap_up_to_the_ceiling_stops_the_crown():
    for s in of(walls()["W"], "crown", "base", "chair rail"):
        assert s.x1 <= 40 or s.x0 >= 100


def test_the_rail_lines_up_with_the_stools_within_reach():
    wall = walls()["S"]
    assert wall.rail_top == 30.0
    stool = next(s for s in wall.solids if s.element == "stool")
    assert stool.y1 == of(wall, "chair rail")[0].y1


@settings(deadline=None)
@given(st.integers(0, 400), st.sampled_from([96.0, 108.0, 120.0]), st.integers(2, 5))
def test_one_rail_height_for_a_tier_and_ceiling_and_within_28_to_32(seed, ceiling, tier):
    house = random_house(seed)
    trim = package("georgian", "doric", tier, ceiling, top=5)
    rooms = [room for room in house.rooms if room.ceiling == ceiling]
    found = {w.rail_top for room in rooms for w in lay_out(house, room, trim)}
    assert len(found) <= 1
    assert all(top is None or 28 <= top <= 32 for top in found)
    assert rail_top(house, trim) in found or not rooms


@settings(deadline=None)
@given(st.floats(0.5, 500))
def test_panels_are_equal_between_limits_and_fill_the_bay(clear):
    width = panel_width(clear)
    if width is None:
        counts = range(1, 60)
        fitting = [
            n for n in counts if PANELS["least"] <= (clear + PANELS["stile"]) / n - PANELS["stile"] <= PANELS["most"]
        ]
        assert not fitting
    else:
        count = (clear + PANELS["stile"]) / (width + PANELS["stile"])
        assert count == pytest.approx(round(count))
        assert PANELS["least"] - 1e-9 <= width <= PANELS["most"] + 1e-9


def test_panels_stand_between_stiles_and_are_centred_under_their_window():
    wall = walls()["S"]
    panels = sorted(of(wall, "panel"), key=lambda s: s.x0)
    for around in wall.surrounds:
        under = [s for s in panels if around.left - 0.01 <= s.x0 and s.x1 <= around.right + 0.01]
        assert under
        middle = (around.aperture.x0 + around.aperture.x1) / 2
        assert (under[0].x0 + under[-1].x1) / 2 == pytest.approx(middle)
        assert len({round(s.width, 6) for s in under}) == 1
    for one, other in pairwise(panels):
        assert other.x0 - one.x1 >= PANELS["stile"] - 1e-9


def test_a_wall_without_openings_is_the_same_from_both_ends():
    room = Room("Plain", "Ground", "parlor", 200.0, 160.0, 120.0)
    house = House("Plain", ("Plain",), (room,), ())
    for wall in lay_out(house, room, STATE):
        boxes = {(s.element, round(s.x0, 6), round(s.x1, 6), s.y0) for s in wall.solids}
        assert boxes == {(e, round(wall.length - b, 6), round(wall.length - a, 6), y) for e, a, b, y in boxes}


def test_every_passage_between_two_rooms_has_its_meeting():
    chamber = package("georgian", "doric", 2, 120.0, top=5)
    met = meetings(HOUSE, {"Parlor": STATE, "Hall": chamber})
    assert set(met) == {"D", "Gap"}
    assert met["D"].near_top > met["D"].far_top
    assert any("must share a tier" in words for words in met["Gap"].words)
    assert meetings(HOUSE, {"Parlor": STATE}) == {}


def test_gaps_and_overlaps_and_clipping():
    assert gaps(0, 10, [(-5, 2), (8, 20)]) == [(2, 8)]
    assert gaps(0, 10, [(0, 10)]) == []
    a = polygon("a", "casing", ((0, 0), (4, 0), (4, 4)), 1.0)
    b = polygon("b", "casing", ((0, 0.5), (3.5, 4), (0, 4)), 1.0)
    assert overlaps([a, b]) == []
    assert len(overlaps([a, b._replace(outline=())])) == 1
    cut = clipped(a, 2, 10)
    assert (cut.x1, cut.y1) == (2, pytest.approx(2))
    assert clipped(a._replace(outline=(), x0=20, x1=30), 10, 10) is None
