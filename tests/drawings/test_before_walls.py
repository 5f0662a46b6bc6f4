"""Whatever stands before the walls of random houses: laid out, cut, checked and drawn, all of it on its wall."""

from dataclasses import replace
from random import Random

import pytest

from planner.checks.plan import check_room
from planner.drawings.elevation import elevation
from planner.drawings.fixtures import fixtures_before
from planner.drawings.measures import above_floor, standing
from planner.drawings.scene import Text, flat
from planner.drawings.stairs import flights_before
from planner.drawings.svg import svg
from planner.house.model import Fixture, Flight, House, Room
from planner.walls.layout import lay_out
from planner.walls.pieces import pieces
from tests.drawings.rooms import LIBRARY
from tests.known import package
from tests.walls.houses import random_house


def furnished(seed):
    """A random house with a fixture on every other wall and a flight on some."""
    house, rng = random_house(seed), Random(seed)
    fixtures, flights = [], []
    for room in house.rooms:
        for wall in room.walls:
            if rng.random() < 0.5:
                width = rng.uniform(0.05, 1.0) * wall.length
                bottom = rng.uniform(0.0, 0.8) * room.ceiling
                top = rng.uniform(bottom + 1, room.ceiling)
                offset = rng.choice([0.0, wall.length - width, rng.uniform(0, wall.length - width)])
                kind = rng.choice(LIBRARY.fixtures).kind
                name = f"{kind} of {room.name} {wall.name}"
                fixtures.append(
                    Fixture(name, kind, room.name, wall.name, offset, width, bottom, top, rng.uniform(0.2, 40))
                )
            if rng.random() < 0.3:
                foot, up = rng.choice([0.0, 0.0, 24.0, 60.0]), rng.choice(["left", "right"])
                sizes = (rng.uniform(5, 9), rng.uniform(7, 14), foot)
                offset = rng.uniform(0, wall.length)
                name = f"Flight of {room.name} {wall.name}"
                flights.append(Flight(name, room.name, wall.name, offset, up, rng.randint(2, 19), *sizes))
    return replace(house, fixtures=tuple(fixtures), flights=tuple(flights))


@pytest.mark.parametrize(
    "seeds", [range(first, first + 8) for first in range(0, 24, 8)], ids=lambda seeds: f"{seeds[0]}"
)
def test_all_of_it_is_laid_out_cut_checked_and_drawn_on_its_wall(seeds):
    for seed in seeds:
        house, rng = furnished(seed), Random(seed)
        style = rng.choice(LIBRARY.style_names)
        for room in house.rooms:
            trim = package(style, "doric", rng.randint(1, 5), room.ceiling, top=5)
            walls = lay_out(house, room, trim, LIBRARY)
            assert all(piece.length > 0 and piece.width > 0 for piece in pieces(walls, LIBRARY))
            assert all("{" not in c.message for c in check_room(house, room.name, trim, walls, LIBRARY))
            for layout in walls:
                for shape in (*fixtures_before(layout), *flights_before(layout)):
                    x0, y0, x1, y1 = shape.box
                    assert x0 >= -1e-6 and x1 <= layout.length + 1e-6, (seed, layout.room, layout.wall, shape.name)
                    assert y0 >= -1e-6 and y1 <= layout.ceiling + 1e-6, (seed, layout.room, layout.wall, shape.name)
                assert svg(elevation(layout)).endswith("</svg>\n")


def test_a_wall_along_a_half_turn_is_measured_from_the_floor_over_the_landing_to_the_ceiling():
    """The landing lies 5'-7 1/2" up, the base on it."""
    hall = Room("Hall", "Ground", "stair hall", 72.0, 144.0, 120.0)
    lower = Flight("Lower", "Hall", "W", 100.0, "left", 9, 7.5, 9.0)
    upper = Flight("Upper", "Hall", "E", 100.0, "left", 6, 7.5, 9.0, foot=67.5)
    house = House("Test", ("Hall",), (hall,), (), flights=(lower, upper))
    south = next(
        w for w in lay_out(house, "Hall", package("georgian", "doric", 1, 120.0, top=5), LIBRARY) if w.wall == "S"
    )
    base = south.package.element("base").size
    assert standing(south)["base"] == (67.5, 67.5 + base) and above_floor(south)["base"] == (0.0, base)
    texts = [s.text for s in flat(elevation(south).shapes) if isinstance(s, Text)]
    assert "5'-7 1/2\"" in texts and any(t.startswith("base") for t in texts)
