"""Saw settings: the figures in print, and the two planes that are cut, laid upon each other in space."""

from dataclasses import replace
from math import cos, radians, sin

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner import demo_house, plan, read_house, read_stock
from planner.mouldings.assembly import Placed
from planner.takeoff.saw import crown_flat, crown_nested, settings_of, spring_of
from planner.walls.cuts import RETURNED, Cut, Joint
from tests.known import LIBRARY

FIGURES = [
    (38, 90, 31.62, 33.86, "common saw presets"),
    (45, 90, 35.26, 30.00, "common saw presets"),
    (38, 135, 14.31, 17.55, "a published worked example"),
    (45, 135, 16.32, 15.70, "a published worked example"),
]


@pytest.mark.parametrize(("spring", "corner", "miter", "bevel", "source"), FIGURES)
def test_settings_are_those_in_print(spring, corner, miter, bevel, source):
    found = crown_flat(spring, corner)
    assert found.miter == pytest.approx(miter, abs=0.01), source
    assert found.bevel == pytest.approx(bevel, abs=0.01), source


def planes(spring: float, corner: float, outside: bool) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """The normals of the two planes that the saw cuts, each piece put where it goes, and that of the plumb plane that
    halves the corner. The walls leave the corner at the origin; the room lies between them, or all round them."""
    lean, turn = radians(spring), radians(corner)
    setting, side = crown_flat(spring, corner), -1 if outside else 1
    m, b, up = radians(setting.miter), radians(setting.bevel), np.array([0.0, 0.0, 1.0])
    found = []
    for along, into in (
        (np.array([1.0, 0.0, 0.0]), side * np.array([0.0, 1.0, 0.0])),
        (np.array([cos(turn), sin(turn), 0.0]), side * np.array([sin(turn), -cos(turn), 0.0])),
    ):
        across, face = sin(lean) * into + cos(lean) * up, cos(lean) * into - sin(lean) * up
        found.append(cos(m) * cos(b) * along - side * (sin(m) * cos(b) * across + sin(b) * face))
    return found[0], found[1], np.array([sin(turn / 2), -cos(turn / 2), 0.0])


@given(st.floats(5, 85), st.floats(20, 175), st.booleans())
def test_the_two_planes_that_are_cut_are_one(spring, corner, outside):
    left, right, halving = planes(spring, corner, outside)
    for normal in (left, right):
        assert np.linalg.norm(normal) == pytest.approx(1, abs=1e-12)
    assert np.linalg.norm(np.cross(left, right)) < 1e-9
    assert np.linalg.norm(np.cross(left, halving)) < 1e-9


@given(st.floats(20, 175))
def test_a_nested_crown_is_cut_in_the_plane_that_halves_the_corner(corner):
    miter = radians(crown_nested(corner).miter)
    halving = np.array([sin(radians(corner / 2)), -cos(radians(corner / 2))])
    assert np.allclose([cos(miter), -sin(miter)], halving, atol=1e-12)
    assert crown_nested(corner).bevel == 0


@given(st.floats(5, 85), st.floats(1, 80))
def test_a_cut_of_a_crown_is_set_by_the_corner_that_it_is_for(spring, half):
    for joint, through in ((Joint.INSIDE, -half), (Joint.COPE, -half), (Joint.OUTSIDE, half)):
        found = settings_of(Cut(joint, through=through), spring)
        assert found.flat == crown_flat(spring, 180 - 2 * half)
        assert found.nested == crown_nested(180 - 2 * half)


def test_what_stands_flat_is_mitred_across_and_bevelled_through():
    assert settings_of(Cut(Joint.MITRE, across=-30.0)) == ((30.0, 0.0), None)
    assert settings_of(Cut(Joint.OUTSIDE, through=45.0)) == ((0.0, 45.0), None)


def test_returns_and_ears():
    assert settings_of(RETURNED) == ((0.0, 45.0), None)
    assert settings_of(RETURNED, 38) == (crown_flat(38, 90), crown_nested(90))
    assert settings_of(Cut(Joint.MITRE, across=-45.0)) == ((45.0, 0.0), None)


def test_the_spring_of_a_crown_is_that_of_its_back():
    stock = read_stock(demo_house())
    crown = next(p for p in stock.profiles if p.code == "QB-KR438")
    placed = Placed(crown, backing=LIBRARY.joinery.backing)
    assert 35 < spring_of(placed) < 45
    fascia = next(p for p in stock.profiles if p.role == "board")
    assert spring_of(Placed(fascia, backing=LIBRARY.joinery.backing)) is None


def test_a_crown_in_a_room_out_of_square_is_cut_for_its_own_corners():
    house, _ = read_house(demo_house())
    room = next(r for r in house.rooms if r.name == "Library")
    west, south = (min(c[i] for c in room.corners) for i in (0, 1))
    east, north = (max(c[i] for c in room.corners) for i in (0, 1))
    skew = ((west, south), (west, north), (east + 30, north), (east, south))
    rooms = tuple(replace(r, outline=skew, length=0, width=0) if r is room else r for r in house.rooms)
    openings = tuple(o for o in house.openings if room.name not in (o.room, o.other) or o.kind == "door")
    openings = tuple(replace(o, wall="", offset=None) if room.name in (o.room, o.other) else o for o in openings)
    skewed = replace(house, rooms=rooms, openings=openings, fixtures=(), flights=())
    made = plan(skewed, stock=read_stock(demo_house()))
    walls = {layout.wall: layout for layout in made.walls[room.name]}
    crowns = [s for s in made.takeoff.sticks if s.place.room == room.name and s.element == "crown"]
    checked = 0
    for stick in crowns:
        layout = walls[stick.place.wall]
        for at, x in ((0, 0.0), (1, layout.length)):
            place = (stick.place.x0, stick.place.x1)[at]
            setting = stick.saw[at]
            if setting is not None and setting.nested is not None and abs(place - x) < 1e-6:
                assert setting.nested == pytest.approx(crown_nested(layout.corners[at]))
                checked += abs(layout.corners[at] - 90) > 1
    assert checked
