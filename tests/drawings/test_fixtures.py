"""Fixtures before a wall hide the trim behind them, and their names keep clear of lines."""

from dataclasses import replace

import pytest
from shapely import Polygon, box

from planner import demo_house, plan, read_house
from planner.drawings.elevation import elevation, wall
from planner.drawings.fixtures import fixture_names, fixtures_before
from planner.drawings.scale import paper
from planner.drawings.scene import Group, Path, Text, flat, text_box
from planner.house.model import Fixture, Flight, House, Room
from planner.library import standard
from planner.walls.layout import lay_out
from planner.walls.stairs import nosing
from tests.walls.trim import trim

LIBRARY = standard()
ROOM = Room("Kitchen", "Ground", "kitchen", 144.0, 120.0, 120.0)


def laid_out(*fixtures, flights=()):
    house = House("Test", ("Kitchen",), (ROOM,), (), fixtures=fixtures, flights=flights)
    return next(w for w in lay_out(house, "Kitchen", trim(3), LIBRARY) if w.wall == "N")


def fixture(kind="counter", offset=24.0, width=60.0, bottom=0.0, top=36.0, depth=25.0, name="Sink counter"):
    return Fixture(name, kind, "Kitchen", "N", offset, width, bottom, top, depth)


def texts(shapes):
    return [shape for shape in shapes if isinstance(shape, Text)]


def names(layout):
    """The names of its fixtures, on the paper that an elevation is laid out for."""
    return list(fixture_names(layout, paper("in").type("small")))


def test_a_fixture_is_a_filled_figure_of_its_size_before_the_trim():
    layout = laid_out(fixture("radiator", bottom=3.0, top=26.0))
    shapes = list(wall(layout))
    before = list(fixtures_before(layout))
    cover = next(s for s in before if isinstance(s, Path) and s.fill == "paper" and not s.line)
    assert cover.box == (24.0, 3.0, 84.0, 26.0)
    trim_lines = [n for n, s in enumerate(shapes) if isinstance(s, Path) and s.layer == "edge" and s.fill is None]
    assert shapes.index(cover) > max(n for n in trim_lines if n < shapes.index(before[-1]))
    assert not [s for s in before if isinstance(s, Path) and s.layer not in ("shade", "fine")]


def test_a_name_that_finds_room_stands_in_the_middle_else_above_or_below():
    (inside,) = texts(names(laid_out(fixture())))
    assert inside.x == 54.0 and 0 < inside.y < 36
    (above,) = texts(names(laid_out(fixture("register", top=20.0, bottom=12.0, width=8.0, name="Register"))))
    assert above.y > 20
    taken = fixture("register", top=25.0, bottom=17.0, width=8.0, name="Register")
    (below,) = texts(names(laid_out(taken)))
    assert below.y < 17, "the rail is close above it"
    assert texts(names(laid_out(fixture("receptacle", 0.0, 3.0, 12.0, 16.0, 0.25, "Receptacle by the door")))) == []


def test_the_end_of_what_stands_in_the_corner_is_drawn_without_a_name():
    house = House("Test", ("Kitchen",), (ROOM,), (), fixtures=(replace(fixture(), offset=84.0),))
    east = next(w for w in lay_out(house, "Kitchen", trim(3), LIBRARY) if w.wall == "E")
    shapes = list(fixtures_before(east))
    assert names(east) == []
    assert [s.box for s in shapes if isinstance(s, Path) and s.fill] == [(0.0, 0.0, 25.0, 36.0)]


def test_a_handrail_beside_a_flight_keeps_its_heights_above_the_nosings():
    flight = Flight("Main", "Kitchen", "N", 20.0, "right", 6, 7.5, 10.0)
    layout = laid_out(fixture("handrail", 30.0, 40.0, 34.0, 36.0, 3.5, "Rail"), flights=(flight,))
    cover = next(s for s in fixtures_before(layout) if isinstance(s, Path) and s.fill)
    low, high = nosing(flight, 10.0) + 34.0, nosing(flight, 50.0) + 36.0
    assert cover.box == pytest.approx((30.0, low, 70.0, high))


def test_names_of_fixtures_on_the_demo_keep_clear_of_all_other_words_and_of_what_they_do_not_name():
    planned = plan(read_house(demo_house())[0])
    seen = 0
    for room in ("Kitchen", "Library", "Hall Bath", "Stair Hall", "Back Stair", "Dining Room"):
        for layout in planned.walls[room]:
            words = [Polygon(text_box(t).corners) for t in flat(elevation(layout).shapes) if isinstance(t, Text)]
            for text in texts(names(layout)):
                seen += 1
                label = Polygon(text_box(text).corners)
                assert sum(label.intersection(other).area > 0.05 * label.area for other in words) == 1, text.text
                hit = [o.fixture.name for o in layout.obstacles if label.intersects(box(o.x0, o.y0, o.x1, o.y1))]
                assert len(hit) <= 1, (room, layout.wall, text.text)
                assert not any(label.intersects(box(a.x0, a.y0, a.x1, a.y1)) for a in layout.apertures)
    assert seen > 10


def test_no_section_is_cut_in_a_corner_that_a_fixture_fills():
    """A counter of 36 in at the right end: base and rail of the next wall end at its front, the crown does not."""
    free, filled = laid_out(), laid_out(fixture(offset=84.0))
    for layout, cut in ((free, (3, 3)), (filled, (3, 1))):
        groups = [s for s in wall(layout) if isinstance(s, Group)]
        at_right = [g.placement.mirror for g in groups]
        assert (at_right.count(False), at_right.count(True)) == cut
