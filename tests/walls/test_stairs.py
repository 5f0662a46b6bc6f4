"""The trim beside a flight, worked by trigonometry. Heights above the nosings: common practice, library/stairs.toml."""

from dataclasses import replace
from itertools import product
from math import atan, cos, degrees, hypot, radians, tan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon, box, unary_union

from planner.house.model import Flight, House, Opening, Room
from planner.library import standard
from planner.walls.layout import lay_out, stretch
from planner.walls.parts import Part
from planner.walls.pieces import pieces
from planner.walls.solids import TOUCH
from planner.walls.stairs import landings, nosing, on_wall, turned
from tests.walls.trim import altered, trim, without

LIBRARY = standard()
RULES = LIBRARY.stairs
HALL = Room("Hall", "Ground", "stair hall", 240.0, 120.0, 120.0)
BEST = trim(5)
RAILED = trim(3)
FLIGHT = Flight("Main", "Hall", "N", 60.0, "right", 8, 7.5, 10.0)
"""Eight risers of 7 1/2 in, seven treads of 10: from 60 to 130 along the wall, 60 in up. The rake is atan(3/4)."""

ANGLE = degrees(atan(0.75))


def walls(*flights, package=RAILED, openings=()):
    house = House("Test", ("Hall",), (HALL,), openings, flights=flights)
    return lay_out(house, "Hall", package, LIBRARY)


def wall(*flights, package=RAILED, openings=(), name="N"):
    return next(w for w in walls(*flights, package=package, openings=openings) if w.wall == name)


def only(layout, part):
    (found,) = [s for s in layout.solids if s.part is part]
    return found


def levels(layout, part):
    return sorted((round(s.x0, 4), round(s.x1, 4), s.y0) for s in layout.solids if s.part is part)


def test_nosings_rise_by_the_rise_from_the_first_tread():
    """At the first riser the first tread is one rise up, a run on the second is two."""
    assert [nosing(FLIGHT, along) for along in (0.0, 10.0, 70.0)] == [7.5, 15.0, 60.0]
    assert on_wall(FLIGHT, (70.0, 60.0)) == (130.0, 60.0)
    assert on_wall(replace(FLIGHT, up="left"), (70.0, 60.0)) == (-10.0, 60.0)


def test_a_moulding_leaves_the_level_where_the_line_over_the_nosings_is_as_high():
    """6 in of base and a skirt 4 in over the nosings: 2 in are 2/7.5 of a run, so it turns 22/3 in before the first
    riser, and on the landing as far before the riser that would follow; both ends are 80 in apart and 60 in up."""
    line = turned(FLIGHT, 6.0, 4.0, 6.0)
    assert line.start == pytest.approx(-22 / 3) and line.end == pytest.approx(80 - 22 / 3)
    assert (line.low, line.high) == (6.0, 66.0)
    for along, height in ((line.start, line.low), (line.end, line.high)):
        assert nosing(FLIGHT, along) + 4.0 == pytest.approx(height)
    assert line.lean == pytest.approx(6.0 * tan(radians(ANGLE) / 2)) == pytest.approx(2.0)
    assert line.plumb == pytest.approx(6.0 / 0.8)


@pytest.mark.parametrize("up", ["left", "right"])
def test_the_skirt_follows_the_nosings_and_is_mitred_into_the_base(up):
    flight = replace(FLIGHT, up=up, offset=100.0)
    layout, base = wall(flight), RAILED.element("base")
    skirt = only(layout, Part.SKIRT)
    assert Polygon(skirt.corners).is_valid and Polygon(skirt.corners).exterior.is_ccw
    way = 1 if up == "right" else -1
    (x0, y0), (x1, y1) = sorted((skirt.outline[0], skirt.outline[-1]), key=lambda end: end[1])
    assert hypot(x1 - x0, y1 - y0) == pytest.approx(8 * hypot(7.5, 10)) == pytest.approx(100.0)
    assert y0 == base.size and y1 == pytest.approx(base.size + 60)
    for x, y in ((x0, y0), (x1, y1)):
        assert y - nosing(flight, (x - 100.0) * way) == pytest.approx(RULES.skirt.above)
    assert skirt.projection == base.projection
    mitre = base.size * tan(radians(ANGLE) / 2)
    lower = min((s for s in layout.solids if s.part is Part.BASE), key=lambda s: (s.y0, abs(s.x0 - 100)))
    end = lower.outline[3:1:-1] if up == "right" else lower.outline[:2]
    assert [x for x, _ in end] == [pytest.approx(x0), pytest.approx(x0 + way * mitre)]


def test_pieces_know_the_rake_cuts():
    """Long point to long point, the raking rail is as long as its upper edge and the lean of one mitre; each mitre
    halves the rake, and the skirt is wide enough to cover the foot of a riser."""
    found = pieces(walls(FLIGHT), LIBRARY)
    skirt, rail = (next(p for p in found if p.part is part) for part in (Part.SKIRT, Part.RAKING_RAIL))
    size = RAILED.element("chair rail").size
    assert rail.length == pytest.approx(100.0 + size * tan(radians(ANGLE) / 2))
    assert rail.width == pytest.approx(size)
    for piece in (skirt, rail):
        assert [cut.across for cut in piece.ends] == [pytest.approx(-ANGLE / 2, 1e-5), pytest.approx(ANGLE / 2, 1e-5)]
    reach = (FLIGHT.rise + RULES.skirt.above) * cos(radians(ANGLE))
    assert skirt.width == pytest.approx(max(RULES.skirt.width, reach))
    assert skirt.length == pytest.approx(100.0 + RAILED.element("base").size * tan(radians(ANGLE) / 2))
    level = [p for p in found if p.place.wall == "N" and p.element == "chair rail" and p.part is Part.CHAIR_RAIL]
    assert [[round(cut.across, 3) for cut in p.ends] for p in sorted(level, key=lambda p: p.place.x0)] == [
        [0.0, round(-ANGLE / 2, 3)],
        [round(ANGLE / 2, 3), 0.0],
        [0.0, 0.0],
    ]


@pytest.mark.parametrize("top", [24.0, 30.0, 40.0])
def test_a_raking_rail_keeps_the_level_rails_height_within_bounds(top):
    rail = altered(RAILED, "chair rail", bottom=top - RAILED.element("chair rail").size)
    rail = altered(rail, "chair rail", rule=True) if hasattr(RAILED.element("chair rail"), "rule") else rail
    raking = only(wall(FLIGHT, package=rail), Part.RAKING_RAIL)
    x, y = raking.outline[0]
    above = y - nosing(FLIGHT, x - 60.0)
    assert above == pytest.approx(min(max(y, RULES.rail.lowest), RULES.rail.highest))


def test_no_rail_rakes_where_the_tier_has_none():
    bare = wall(FLIGHT, package=without(RAILED, "chair rail"))
    assert not [s for s in bare.solids if s.part is Part.RAKING_RAIL]
    plain = wall(FLIGHT, package=trim(1))
    assert [s.part for s in plain.solids if s.part in (Part.SKIRT, Part.RAKING_RAIL)] == [Part.SKIRT]


def test_without_a_base_the_skirt_still_stands_on_the_floor():
    skirt = only(wall(FLIGHT, package=without(RAILED, "base")), Part.SKIRT)
    assert skirt.projection == RULES.skirt.projection and min(y for _, y in skirt.corners) == 0.0
    assert Polygon(skirt.corners).is_valid


def test_level_trim_stops_at_the_stair_and_goes_on_upon_its_landing():
    """The last riser is at 130; the landing reaches 60 in on, to 190; beyond it the floor's own trim goes on."""
    layout, base, rail = wall(FLIGHT), RAILED.element("base"), RAILED.element("chair rail")
    line = turned(FLIGHT, base.size, RULES.skirt.above, base.size)
    ends = [round(60.0 + x, 4) for x in (line.under_start[0], line.end)]
    assert levels(layout, Part.BASE) == [(0.0, ends[0], 0.0), (ends[1], 190.0, 60.0), (190.0, 240.0, 0.0)]
    assert [y for *_, y in levels(layout, Part.CHAIR_RAIL)] == [
        layout.rail_top - rail.size,
        layout.rail_top - rail.size + 60.0,
        layout.rail_top - rail.size,
    ]
    assert set(levels(layout, Part.CROWN)) == set(levels(wall(), Part.CROWN))


def test_a_flight_to_the_floor_above_has_no_landing_and_the_wall_is_free_where_one_walks_under_it():
    """18 risers are 135 in, past the ceiling of 120. Its underside is 80 in up where the nosings are that and the depth
    of the string more."""
    whole = replace(FLIGHT, offset=20.0, risers=18)
    layout = wall(whole)
    assert landings(layout.stairs[0], layout.stairs, layout.length) == []
    depth = 7.5 + RULES.string.width / 0.8
    clear = 20.0 + 10.0 * ((RULES.under.headroom + depth) / 7.5 - 1)
    assert [x0 for x0, _, y in levels(layout, Part.BASE) if x0 > 20] == [round(clear, 4)]
    skirt = only(layout, Part.SKIRT)
    assert max(y for _, y in skirt.corners) == 120.0
    cuts = next(p for p in pieces(walls(whole), LIBRARY) if p.part is Part.SKIRT).ends
    assert cuts[1].across == pytest.approx(-(90 - ANGLE), 1e-5), "cut level at the ceiling"


def test_an_upper_flight_leaves_the_floor_below_it_alone_where_people_walk_under_its_landing():
    """From a landing at 90 in, seen on its own: the floor's base runs on under it, the landing has its own; one at 60
    in, with 50 in under it, is closed as far as it reaches."""
    upper, base = replace(FLIGHT, foot=90.0, risers=2), RAILED.element("base")
    layout = wall(upper)
    assert (0.0, 240.0, 0.0) in levels(layout, Part.BASE)
    line = turned(upper, base.size, RULES.skirt.above, base.size)
    assert (0.0, round(60.0 + line.under_start[0], 4), 90.0) in levels(layout, Part.BASE)
    upper = replace(FLIGHT, foot=60.0)
    layout = wall(upper)
    assert (60.0, 240.0, 0.0) in levels(layout, Part.BASE)
    line = turned(upper, base.size, RULES.skirt.above, base.size)
    assert (0.0, round(60.0 + line.under_start[0], 4), 60.0) in levels(layout, Part.BASE)


@pytest.mark.parametrize("up", ["left", "right"])
def test_a_second_flight_goes_on_from_the_landing_of_the_first(up):
    """The landing's base begins where the first skirt ends and is mitred into the second's."""
    at, way = (30.0, 1) if up == "right" else (210.0, -1)
    first = replace(FLIGHT, risers=4, offset=at, up=up)
    second = replace(first, offset=at + way * 80.0, foot=30.0)
    layout, base = wall(first, second), RAILED.element("base")
    lines = [turned(f, base.size, RULES.skirt.above, base.size) for f in (first, second)]
    ends = sorted((first.offset + way * lines[0].end, second.offset + way * lines[1].under_start[0]))
    assert (*(round(end, 4) for end in ends), 30.0) in levels(layout, Part.BASE)
    assert len([s for s in layout.solids if s.part is Part.BASE and s.y0 == 30.0]) == 1


@pytest.mark.parametrize(("tier", "style"), [(5, "georgian"), (4, "victorian"), (4, "craftsman"), (4, "federal")])
@pytest.mark.parametrize("up", ["left", "right"])
def test_a_raked_wainscot_fills_what_is_between_skirt_and_cap(tier, style, up):
    """Its plumb height is the rail's underside less the skirt's upper edge, both above the nosings, wherever both
    rake; all of it together, panels, stiles, rails or boards, leaves no gap and lies once."""
    layout = wall(replace(FLIGHT, up=up, offset=110.0), package=trim(tier, style=style))
    (one,) = layout.stairs
    raked = [s for s in layout.solids if s.element == "wainscot" and s.outline and s.part is not Part.BATTEN]
    shapes = [Polygon(s.corners) for s in raked]
    assert all(shape.is_valid and shape.exterior.is_ccw for shape in shapes) and len(shapes) > 3
    whole = unary_union(shapes)
    assert sum(shape.area for shape in shapes) == pytest.approx(whole.area) and whole.geom_type == "Polygon"
    at = on_wall(one.flight, (40.0, 0.0))[0]
    section = whole.intersection(box(at - 0.01, 0, at + 0.01, 200))
    assert section.area / 0.02 == pytest.approx(one.rail.above - one.rail.plumb - one.skirt.above, 1e-4)


def test_panels_beside_a_flight_are_cut_to_the_rake():
    """Stiles and panels stand plumb; a rail's ends are plumb, so cut to the rake; the moulds of a panel are mitred by
    half of what its corners measure: 90 less and more the rake."""
    found = [p for p in pieces(walls(FLIGHT, package=BEST), LIBRARY) if p.place.wall == "N" and p.element == "wainscot"]
    rake = round(ANGLE, 6)
    rails = [p for p in found if p.part in (Part.TOP_RAIL, Part.BOTTOM_RAIL) and p.ends[0].across]
    assert len(rails) == 2
    for rail in rails:
        assert [cut.across for cut in rail.ends] == [pytest.approx(-rake, 1e-5), pytest.approx(rake, 1e-5)]
    rule = LIBRARY.surrounds.panels
    behind = (BEST.element("base").size, BEST.element("chair rail").size)
    widths = sorted((rule.bottom_rail + behind[0], rule.top_rail + behind[1]))
    assert sorted(p.width for p in rails) == [pytest.approx(w) for w in widths], "they go on behind skirt and rail"
    panels = [p for p in found if p.part is Part.RAISED_PANEL and p.ends[0].across]
    assert panels and {p.ends[0].across for p in panels} == {rake}
    moulds = [p for p in found if p.part is Part.PANEL_MOULD and abs(p.ends[0].across - 45) > 1]
    assert len(moulds) == 4 * len(panels)
    cuts = {round(cut.across, 3) for p in moulds for cut in p.ends}
    assert cuts == {round(45 + rake / 2, 3), round(45 - rake / 2, 3)}


RISES = st.integers(6 * 16, 9 * 16).map(lambda n: n / 16)
RUNS = st.integers(8 * 16, 13 * 16).map(lambda n: n / 16)


@settings(deadline=None, max_examples=120)
@given(RISES, RUNS, st.integers(2, 18), st.integers(0, 240), st.sampled_from(["left", "right"]), st.integers(1, 5),
       st.sampled_from([0.0, 30.0, 66.0]), st.sampled_from(LIBRARY.style_names))  # fmt: skip
def test_no_two_pieces_beside_a_flight_take_one_place(rise, run, risers, offset, up, tier, foot, style):
    """All that is fixed to the wall itself is apart, and lies on the wall."""
    flight = Flight("Main", "Hall", "N", float(offset), up, risers, rise, run, foot)
    layout = wall(flight, package=trim(tier, style=style))
    shapes = [(s, Polygon(s.corners)) for s in layout.solids if not s.on]
    for (i, (a, one)), (j, (b, other)) in product(enumerate(shapes), repeat=2):
        if i < j and one.intersects(other):
            assert one.intersection(other).buffer(-TOUCH).is_empty, (a, b)
    for s, shape in shapes:
        assert shape.is_valid and s.x0 >= -1e-9 and s.x1 <= 240 + 1e-9 and s.y0 >= -1e-9 and s.y1 <= 120 + 1e-9


def test_a_stretch_of_wall_keeps_its_flights():
    shown = stretch(wall(FLIGHT), 50.0, 150.0)
    assert [s.flight.offset for s in shown.stairs] == [10.0]
    skirt = only(shown, Part.SKIRT)
    assert (skirt.x0, skirt.x1) == (0.0, 100.0) or skirt.x0 > 0


def test_an_opening_on_a_landing_stops_its_base():
    window = Opening("W", "window", "Hall", "outside", "N", 150.0, 24.0, 110.0, 62.0)
    layout = wall(FLIGHT, openings=(window,))
    left, right = layout.surrounds[0].left, layout.surrounds[0].right
    upper = [(x0, x1) for x0, x1, y in levels(layout, Part.BASE) if y == 60.0]
    assert [x1 for _, x1 in upper[:-1]] == [round(left, 4)] and upper[-1][0] == round(right, 4)


HALF = Room("Hall", "Ground", "stair hall", 72.0, 144.0, 120.0)
"""Walls N and S are 72 in long, E and W 144; seen from inside the left end of S is at E, its right end at W."""
LOWER = Flight("Lower", "Hall", "W", 100.0, "left", 9, 7.5, 9.0)
UPPER = Flight("Upper", "Hall", "E", 100.0, "left", 6, 7.5, 9.0, foot=67.5)


def half_turned(*flights, package=RAILED, openings=()):
    house = House("Test", ("Hall",), (HALF,), openings, flights=flights)
    return {w.wall: w for w in lay_out(house, "Hall", package, LIBRARY)}


@pytest.mark.parametrize("package", [RAILED, BEST])
def test_a_landing_between_flights_on_facing_walls_lies_along_the_whole_wall_between_them(package):
    """Nine risers of 7 1/2 in lead up W to 67 1/2 in, 28 in before the corner; six more go on up E from 44 in before
    it. All that stands on the floor stands on that landing on S, and nothing below it, where nobody walks."""
    found = half_turned(LOWER, UPPER, package=package)
    south = found["S"]
    assert (south.half_turn.floor, south.half_turn.under) == (67.5, 0.0)
    assert found["N"].half_turn is None and found["E"].half_turn is None
    assert levels(south, Part.BASE) == [(0.0, 72.0, 67.5)]
    rail = package.element("chair rail")
    assert levels(south, Part.CHAIR_RAIL) == ([(0.0, 72.0, 67.5 + south.rail_top - rail.size)] if rail else [])
    low = [s for s in south.solids if s.y0 < 67.5]
    assert low == []
    assert [south.floor_at(at_right=at) for at in (False, True)] == [67.5, 67.5]
    assert (found["W"].floor_at(at_right=False), found["E"].floor_at(at_right=True)) == (67.5, 67.5)
    assert (found["W"].floor_at(at_right=True), found["N"].floor_at(at_right=False)) == (0.0, 0.0)
    panelled = {s.y0 for s in south.solids if s.element == "wainscot"}
    assert bool(panelled) == (package is BEST) and all(y > 67.5 for y in panelled)


def test_the_base_of_a_half_turn_meets_that_of_the_landings_beside_it_in_both_corners():
    cuts = [p for p in pieces(tuple(half_turned(LOWER, UPPER).values()), LIBRARY) if p.part is Part.BASE]
    (south,) = [p for p in cuts if p.place.wall == "S"]
    assert [str(cut.joint) for cut in south.ends] == ["coped", "square"]
    (east,) = [p for p in cuts if p.place.wall == "E" and p.place.y0 == 67.5]
    (west,) = [p for p in cuts if p.place.wall == "W" and p.place.y0 == 67.5]
    assert str(east.ends[1].joint) == "square" and str(west.ends[0].joint) == "coped"


def test_no_landing_lies_between_flights_that_do_not_meet_at_one_height_or_do_not_reach_the_corners():
    assert half_turned(LOWER)["S"].half_turn is None
    assert half_turned(LOWER, replace(UPPER, foot=75.0))["S"].half_turn is None
    far = replace(LOWER, offset=144.0, risers=3, rise=22.5)
    assert half_turned(far, UPPER)["S"].half_turn is None


def test_grounds_and_frames_of_a_landing_go_on_behind_its_base_as_on_the_floor():
    found = [p for p in pieces(tuple(half_turned(LOWER, UPPER, package=BEST).values()), LIBRARY) if p.place.wall == "S"]
    base = BEST.element("base").size
    rails = [p for p in found if p.part is Part.BOTTOM_RAIL]
    assert rails and all(p.width == pytest.approx(p.place.y1 - p.place.y0 + base) for p in rails)
    grounds = [p for p in found if p.part is Part.LOWER_GROUND and p.element == "wainscot"]
    assert [(p.length, p.place.y0) for p in grounds] == [(72.0, 68.5)]
