"""Flights before their wall: steps to scale, what they hide, names along the string."""

from dataclasses import replace
from math import hypot

import pytest
from shapely import Polygon

from planner.drawings.elevation import wall
from planner.drawings.relief import level_ends
from planner.drawings.scene import Path
from planner.drawings.stairs import flight_names, flights_before, raked_edges, steps
from planner.house.model import Flight, House, Room
from planner.library import standard
from planner.walls.layout import lay_out
from planner.walls.parts import Part
from tests.walls.trim import trim

LIBRARY = standard()
TREAD = LIBRARY.stairs.tread
HALL = Room("Hall", "Ground", "stair hall", 240.0, 120.0, 120.0)
FLIGHT = Flight("Main", "Hall", "N", 60.0, "right", 8, 7.5, 10.0)


def laid_out(*flights):
    house = House("Test", ("Hall",), (HALL,), (), flights=flights)
    return next(w for w in lay_out(house, "Hall", trim(3), LIBRARY) if w.wall == "N")


def test_steps_are_drawn_with_their_nosings():
    """The first three corners of each step: up the riser to the tread, out by the nosing, up its thickness."""
    (up,) = laid_out(FLIGHT).stairs
    outline = steps(up)
    assert outline[:5] == [
        (0.0, 0.0),
        (0.0, 7.5 - TREAD.thickness),
        (-TREAD.nosing, 7.5 - TREAD.thickness),
        (-TREAD.nosing, 7.5),
        (10.0, 7.5),
    ]
    assert max(y for _, y in outline) == 60.0 and len(outline) == 4 * 8


@pytest.mark.parametrize("up", ["left", "right"])
@pytest.mark.parametrize("foot", [0.0, 48.0])
def test_all_of_a_flight_is_drawn_on_its_wall_and_hides_the_steps_side(up, foot):
    layout = laid_out(replace(FLIGHT, up=up, foot=foot, offset=120.0))
    figures = [s for s in flights_before(layout) if isinstance(s, Path)]
    for figure in figures:
        x0, y0, x1, y1 = figure.box
        assert x0 >= -1e-9 and x1 <= 240 + 1e-9 and y0 >= -1e-9 and y1 <= 120 + 1e-9
    assert [f.name for f in figures if f.fill == "paper"].count("newel of Main") == 1
    body = next(f for f in figures if f.name == "Main" and len(f.sides) > 8)
    under_the_steps = Polygon([s.start for s in body.sides])
    assert body.fill == "paper" and under_the_steps.is_valid
    way = 1 if up == "right" else -1
    skirt = Polygon(next(s for s in layout.solids if s.part is Part.SKIRT).corners)
    seen = skirt.difference(under_the_steps)
    assert 0 < seen.area < skirt.area, "the skirt shows above the steps, and is hidden behind them"
    assert seen.centroid.y > under_the_steps.centroid.y and way * (seen.centroid.x - 120.0) > -20


def test_the_name_lies_along_the_string_below_the_steps():
    for up, turn in (("right", 1), ("left", -1)):
        (name,) = flight_names(laid_out(replace(FLIGHT, up=up, offset=120.0)), 2.0)
        assert name.text == "Main" and name.rotation == pytest.approx(turn * FLIGHT.angle)
    assert list(flight_names(laid_out(FLIGHT), 20.0)) == [], "no room for it"


def test_the_edges_of_what_rakes_run_parallel_to_its_upper_edge_from_mitre_to_mitre():
    """An edge 1 in below the upper one is as long as it, and stands 1 in off it, square."""
    rail = next(s for s in laid_out(FLIGHT).solids if s.part is Part.RAKING_RAIL)
    size = trim(3).element("chair rail").size
    (line,) = raked_edges(rail, (size - 1.0, size, 0.0), size)
    (ax, ay), (bx, by) = rail.outline[0], rail.outline[-1]
    (px, py), (qx, qy) = line.start, line.end
    assert hypot(qx - px, qy - py) == pytest.approx(hypot(bx - ax, by - ay)) == pytest.approx(100.0)
    off = ((bx - ax) * (py - ay) - (by - ay) * (px - ax)) / 100.0
    assert off == pytest.approx(-1.0)


def test_the_edges_of_a_level_run_end_in_its_mitre():
    base = min((s for s in laid_out(FLIGHT).solids if s.part is Part.BASE), key=lambda s: (s.y0, s.x0))
    upper, lower = base.outline[3][0], base.outline[2][0]
    assert level_ends(base, base.y1) == (0.0, upper) and level_ends(base, base.y0) == (0.0, lower)
    assert level_ends(base, (base.y0 + base.y1) / 2)[1] == pytest.approx((upper + lower) / 2)


def test_a_wall_without_stairs_is_drawn_as_it_was():
    assert list(flights_before(laid_out())) == []
    assert list(wall(laid_out()))
