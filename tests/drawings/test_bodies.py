"""Trim, openings and fixtures as bodies: as thick as they stand off the wall, and only the faces that are seen."""

import pytest

from planner.drawings.before_eye import Standing
from planner.drawings.bodies import against_the_clock, bodies, runs_behind, solid_body
from planner.drawings.camera import Camera
from planner.drawings.furnished import furnished
from planner.house.model import OUTSIDE, Fixture, Flight, House, Opening, Room
from planner.library import standard
from planner.walls.layout import lay_out
from planner.walls.parts import RUNS
from tests.known import package

LIBRARY = standard()
ROOM = Room("Room", "Ground", "parlor", 240.0, 180.0, 120.0)
BOX = ((40.0, 0.0), (80.0, 0.0), (80.0, 30.0), (40.0, 30.0))


def view(x: float = 120.0, height: float = 64.0, close: float = 0.01) -> Standing:
    """The north wall from the south, so far along it."""
    return Standing(ROOM.walls[0], Camera((x, 20.0), height, (0.0, 1.0), 160.0, 1.0), close)


def laid_out(*openings: Opening, tier: int = 4, **more):
    house = House("One", ("Room",), (ROOM,), openings, **more)
    return lay_out(house, ROOM, package("georgian", "doric", tier, 120.0, top=5), LIBRARY)[0]


def offs(step):
    return {corner[2] for facet in step.facets for corner in facet.corners}


@pytest.mark.parametrize(("x", "height", "faces"), [(120, 64, 3), (60, 64, 2), (60, 20, 1), (20, 64, 3), (120, 20, 2)])
def test_of_a_box_on_the_floor_the_front_is_seen_and_what_else_looks_that_way(x, height, faces):
    """From the right its right side, from the left its left one, from above its top."""
    steps = list(solid_body(BOX, 0.0, 20.0, view(x, height)))
    assert len(steps) == faces
    assert {corner[2] for corner in steps[-1].facets[0].corners} == {20.0}
    assert all(len(step.edges) == 4 for step in steps)


def test_a_body_that_stands_before_the_wall_reaches_from_one_distance_to_another():
    found = set().union(*map(offs, solid_body(BOX, 12.0, 20.0, view())))
    assert found == {12.0, 20.0}


def test_corners_are_turned_against_the_clock():
    assert against_the_clock(BOX) == BOX
    assert against_the_clock(BOX[::-1]) == BOX


def test_trim_is_drawn_from_the_wall_outwards():
    """The faces of a later level lie farther off the wall than those of the first."""
    door = Opening("D", "door", "Room", OUTSIDE, "N", 20.0, 36.0, 80.0)
    layout = laid_out(door)
    fronts = [max(offs(step)) for step in bodies(layout, view()) if step.facets]
    assert fronts[0] == 0.0
    assert fronts[-1] == max(fronts) > 3.0
    reach = max(s.projection for s in layout.solids)
    assert max(fronts) == pytest.approx(reach, abs=0.05)


def test_every_edge_of_trim_lies_on_the_wall_or_off_it_no_farther_than_it_stands():
    window = Opening("W", "window", "Room", OUTSIDE, "N", 100.0, 36.0, 84.0, 40.0)
    layout = laid_out(window)
    reach = max(s.projection for s in layout.solids)
    edges = [edge for step in bodies(layout, view()) for edge in step.edges]
    assert len(edges) > 50
    for edge in edges:
        for x, y, off in (edge.a, edge.b):
            assert -1e-6 <= off <= reach + 0.05
            assert -1e-6 <= x <= layout.length + 1e-6
            assert -1e-6 <= y <= layout.ceiling + 1e-6


def test_what_is_too_narrow_to_be_seen_is_left_out():
    layout = laid_out()
    fine, coarse = (sum(len(step.facets) for step in bodies(layout, view(close=close))) for close in (0.01, 1e4))
    assert fine > coarse == 0


def test_behind_a_corner_only_mouldings_are_drawn():
    layout = laid_out()
    runs = [s for s in layout.solids if s.part in RUNS]
    assert len(list(runs_behind(layout, view()))) == len(runs)


def test_fixtures_stand_as_deep_as_they_are_and_flights_as_wide():
    counter = Fixture("C", "counter", "Room", "N", 20.0, 60.0, 0.0, 36.0, 25.0)
    flight = Flight("S", "Room", "N", 100.0, "right", 8, 7.5, 10.0)
    layout = laid_out(fixtures=(counter,), flights=(flight,))
    found = list(furnished(layout, view(), 40.0))
    reached = {max(offs(step)) for step in found}
    assert {25.0, 40.0} <= reached
    treads = [
        step
        for step in found
        if {c[2] for c in step.facets[0].corners} == {0.0, 40.0} and len({c[1] for c in step.facets[0].corners}) == 1
    ]
    below_the_eye = sum(n * 7.5 < 64.0 for n in range(1, 9))
    assert len(treads) >= below_the_eye - 1


def test_the_end_of_a_fixture_in_the_corner_is_drawn_on_its_own_wall_alone():
    counter = Fixture("C", "counter", "Room", "E", 0.0, 60.0, 0.0, 36.0, 25.0)
    layout = laid_out(fixtures=(counter,))
    assert any(one.turned for one in layout.obstacles)
    assert list(furnished(layout, view(), 40.0)) == []
