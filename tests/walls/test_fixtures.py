"""What trim does at fixtures: each kind as its table says, ends worked by hand. Common practice."""

from dataclasses import replace
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.house.model import OUTSIDE, Fixture, House, Opening, Room
from planner.library import standard
from planner.walls.cuts import Joint
from planner.walls.fixtures import obstacles
from planner.walls.layout import lay_out, stretch
from planner.walls.parts import RUNS, Part
from planner.walls.pieces import pieces
from planner.walls.solids import TOUCH
from tests.known import package
from tests.walls.houses import random_house
from tests.walls.trim import trim, without

LIBRARY = standard()
ROOM = Room("Kitchen", "Ground", "kitchen", 144.0, 120.0, 120.0)
RAILED = trim(3)
"""Base, chair rail and crown."""

BEST = trim(5)
"""A raised wainscot, wall panels and an entablature as well."""

ELEMENTS = ("base", "shoe", "chair rail", "plate rail", "wainscot", "wall panels", "picture rail", "crown")


def fixture(kind="counter", offset=24.0, width=60.0, bottom=None, top=None, wall="N", depth=None, name="F"):
    """A fixture of the kitchen, as its kind has it where nothing else is said."""
    row = LIBRARY.fixture_kinds[kind]
    sizes = [given_ if given_ is not None else own for given_, own in ((bottom, row.bottom), (top, row.top))]
    return Fixture(name, kind, "Kitchen", wall, offset, width, *sizes, row.depth if depth is None else depth)


def kitchen(*fixtures, openings=()):
    return House("Test", ("Kitchen",), (ROOM,), openings, fixtures=fixtures)


def walls(*fixtures, package_=RAILED, openings=()):
    return lay_out(kitchen(*fixtures, openings=openings), "Kitchen", package_, LIBRARY)


def wall(*fixtures, package_=RAILED, openings=(), name="N"):
    return next(w for w in walls(*fixtures, package_=package_, openings=openings) if w.wall == name)


def spans(layout, *parts):
    return sorted((s.x0, s.x1) for s in layout.solids if s.part in parts)


def test_base_and_rail_die_into_a_counter():
    """A wall of 144 in with a counter from 24 to 84: 24 in of base are left of it, 60 in right of it."""
    layout = wall(fixture())
    assert spans(layout, Part.BASE) == spans(layout, Part.CHAIR_RAIL) == [(0, 24), (84, 144)]
    assert set(spans(layout, Part.CROWN)) == {(0, 144)}
    cut = [p for p in pieces(walls(fixture()), LIBRARY) if p.place.wall == "N" and p.part is Part.BASE]
    assert [p.length for p in cut] == [24, 60]
    assert [[end.joint for end in p.ends] for p in cut] == [["coped", "square"], ["square", "square"]]


def test_a_rail_ends_on_returns_clear_of_a_radiator_that_stands_in_its_way():
    """A radiator 34 in high from 40 to 80, and 2 in kept clear: the rail ends at 38 and begins again at 82; the base
    runs on behind it."""
    tall = fixture("radiator", 40.0, 40.0, top=34.0)
    layout = wall(tall)
    assert spans(layout, Part.CHAIR_RAIL) == [(0, 38), (82, 144)] and spans(layout, Part.BASE) == [(0, 144)]
    found = [p for p in pieces(walls(tall), LIBRARY) if p.place.wall == "N" and p.element == "chair rail"]
    rails = [p for p in found if p.part is Part.CHAIR_RAIL]
    assert [[end.joint for end in p.ends] for p in rails] == [[Joint.COPE, Joint.RETURN], [Joint.RETURN, Joint.SQUARE]]
    assert [p.place.x0 for p in found if p.part is Part.RETURN] == [38, 82]
    low = wall(replace(tall, top=24.0))
    assert spans(low, Part.CHAIR_RAIL) == [(0, 144)]


def test_panelling_stands_on_a_tub_and_stops_at_a_press():
    """Over a tub of 20 in the dado goes on from its rim to the rail; at a press of 84 in it ends."""
    tub, press = fixture("tub", 30.0, 60.0), fixture("built-in", 30.0, 60.0)
    dado = [s for s in wall(tub, package_=BEST).solids if s.element == "wainscot"]
    over = [s for s in dado if s.x0 >= 30 and s.x1 <= 90]
    assert over and min(s.y0 for s in over) == 20 and max(s.y1 for s in over) == max(s.y1 for s in dado)
    assert not [s for s in dado if s.x0 < 30 < s.x1 or s.x0 < 90 < s.x1]
    for s in wall(press, package_=BEST).solids:
        assert s.x1 <= 30 + TOUCH or s.x0 >= 90 - TOUCH or s.y0 >= 84 or s.part is Part.CROWN


def test_a_cabinet_up_to_the_ceiling_stops_the_crown_and_a_lower_one_does_not():
    high, low = fixture("wall cabinet", top=120.0), fixture("wall cabinet")
    assert set(spans(wall(high), Part.CROWN)) == {(0, 24), (84, 144)}
    assert set(spans(wall(low), Part.CROWN)) == {(0, 144)}
    crown = [p for p in pieces(walls(high), LIBRARY) if p.place.wall == "N" and p.part is Part.CROWN]
    assert {end.joint for p in crown for end in p.ends} == {Joint.COPE, Joint.SQUARE}


def test_what_stands_in_a_corner_is_in_the_way_on_the_next_wall_too():
    """A counter 25 in deep at the right end of N: on E, whose left end is that corner, the base begins at 25."""
    at_right, at_left = fixture(offset=84.0), fixture(offset=0.0)
    assert spans(wall(at_right, name="E"), Part.BASE) == [(25, 120)]
    assert spans(wall(at_left, name="W"), Part.BASE) == [(0, 95)]
    near = fixture(offset=83.0)
    assert spans(wall(near, name="E"), Part.BASE) == [(0, 120)]
    assert [o.turned for o in wall(at_right, name="E").obstacles] == [True]


def test_shoe_and_base_stop_at_a_heater_and_the_rail_passes():
    heater = fixture("heater")
    layout = wall(heater, package_=trim(1))
    assert spans(layout, Part.BASE) == spans(layout, Part.SHOE) == [(0, 24), (84, 144)]
    assert spans(wall(heater), Part.CHAIR_RAIL) == [(0, 144)]


@pytest.mark.parametrize(("kind", "element"), list(product([row.kind for row in LIBRARY.fixtures], ELEMENTS)))
def test_each_kind_does_what_its_row_says(kind, element):
    """A fixture of every kind, as high as the wall: what stops ends at its sides, what returns ends clear of it, what
    passes runs through."""
    row = LIBRARY.fixture_kinds[kind]
    styled = {"picture rail": ("victorian", 3), "plate rail": ("craftsman", 4), "shoe": ("georgian", 1)}
    style, tier = styled.get(element, ("georgian", 5))
    trim_ = package(style, "doric", tier, 120.0, top=5)
    assert trim_.element(element) is not None
    before = wall(package_=trim_)
    after = wall(fixture(kind, 24.0, 60.0, 0.0, 120.0), package_=trim_)
    mine = [s for s in after.solids if s.element == element]
    match row.manner(element):
        case "passes":
            assert mine == [s for s in before.solids if s.element == element]
        case "stops" | "returns" as manner:
            clear = row.clear if manner == "returns" else 0.0
            assert mine and all(s.x1 <= 24 - clear + TOUCH or s.x0 >= 84 + clear - TOUCH for s in mine)
            if element not in ("wall panels", "wainscot"):
                assert {s.x1 for s in mine} == {24 - clear, 144} and {s.x0 for s in mine} == {0, 84 + clear}
        case "lifts":
            assert mine and all(s.x1 <= 24 + TOUCH or s.x0 >= 84 - TOUCH for s in mine)


def test_every_kind_names_elements_that_there_are_and_each_once():
    for row in LIBRARY.fixtures:
        named = (*row.stops, *row.returns, *row.lifts)
        assert set(named) <= set(ELEMENTS) and len(named) == len(set(named)), row.kind
        assert row.top > row.bottom and row.depth > 0 and row.source
        assert not set(row.lifts) - {"wainscot", "wall panels"}, "only panelling stands on what is under it"


SIZES = st.integers(0, 16 * 60).map(lambda n: n / 16)


@settings(deadline=None, max_examples=80)
@given(st.integers(0, 400), st.sampled_from(LIBRARY.style_names), st.integers(1, 5), st.data())
def test_nothing_that_runs_overlaps_a_fixture_that_stops_it(seed, style, tier, data):
    house = random_house(seed)
    fixtures = []
    for room in house.rooms:
        for wall_ in room.walls:
            row = data.draw(st.sampled_from(LIBRARY.fixtures))
            offset, width = (min(data.draw(SIZES), wall_.length / 2) for _ in range(2))
            bottom = min(data.draw(SIZES), room.ceiling - 1)
            top = min(bottom + 1 + data.draw(SIZES), room.ceiling)
            name = f"{room.name} {wall_.name}"
            fixtures.append(
                Fixture(name, row.kind, room.name, wall_.name, offset, width or 1.0, bottom, top, row.depth)
            )
    house = replace(house, fixtures=tuple(fixtures))
    for room in house.rooms:
        for layout in lay_out(house, room, package(style, "doric", tier, room.ceiling, top=5), LIBRARY):
            crown = layout.package.element("crown")
            for s, o in product(layout.solids, layout.obstacles):
                low = layout.ceiling - crown.size if s.part is Part.CROWN and crown is not None else s.y0
                if o.manner(s.element, low, s.y1) != "passes" and s.part in RUNS | {Part.WALL_PANEL}:
                    assert s.x1 <= o.x0 + TOUCH or s.x0 >= o.x1 - TOUCH, (layout.room, layout.wall, s, o)


def test_a_house_without_fixtures_is_laid_out_as_it_was():
    assert obstacles(kitchen(), ROOM, LIBRARY) == {}
    assert all(w.obstacles == () for w in walls())
    assert wall(fixture("receptacle")).solids == wall().solids


def test_a_stretch_of_wall_keeps_what_stands_before_it():
    """From 50 in on, a counter from 24 to 84 stands from 0 to 34."""
    shown = stretch(wall(fixture(), fixture("wall cabinet", 0.0, 30.0, name="C")), 50.0, 130.0)
    assert [(o.fixture.name, o.x0, o.x1) for o in shown.obstacles] == [("F", 0, 34)]
    assert spans(shown, Part.BASE) == [(34, 80)]


def test_panelling_over_a_tub_leaves_room_for_a_window():
    """Above the tub's rim the window's trim takes its part of the dado."""
    window = Opening("W", "window", "Kitchen", OUTSIDE, "N", 48.0, 24.0, 90.0, 24.0)
    layout = wall(fixture("tub", 30.0, 60.0), package_=without(BEST, "wall panels"), openings=(window,))
    left, right = layout.surrounds[0].span(20.0, 24.875)
    over = [s for s in layout.solids if s.element == "wainscot" and s.x0 >= 30 and s.x1 <= 90 and s.y0 >= 20]
    assert over and all(s.x1 <= left + TOUCH or s.x0 >= right - TOUCH for s in over)
