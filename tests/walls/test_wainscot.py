"""Wainscot and wall panels: equal panels between limits, under windows, over doors; boards. Common practice."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.library import standard
from planner.walls.layout import lay_out
from planner.walls.openings import Aperture, Surround
from planner.walls.parts import BOARDS, FRAME, PANELS, Part
from planner.walls.solids import Solid, overlaps
from planner.walls.wainscot import beads, dado, field
from tests.walls.rooms import HOUSE
from tests.walls.trim import altered, trim

RULE = standard().surrounds.panels
STATE = trim(5)
WAINSCOT = STATE.element("wainscot")


def of(solids, *parts):
    return sorted((s for s in solids if s.part in parts), key=lambda s: s.x0)


def filled(length=200.0, surrounds=(), low=6.0, high=28.0, form="raised panels"):
    thickness = next((f.thickness for f in standard().forms if (f.element, f.name) == ("wainscot", form)), 0.75)
    element = altered(STATE, "wainscot", form=form, thickness=thickness).element("wainscot")
    return list(dado(length, tuple(surrounds), element, low, high, RULE))


def door(x0, x1, top=84.0):
    return Surround(Aperture("D", "open", x0, x1, 0.0, top), ())


def window(x0, x1, sill, top=90.0):
    return Surround(Aperture("W", "window", x0, x1, sill, top), ())


def test_a_bay_is_framed_by_stiles_and_rails():
    solids = filled(104 + 2 * RULE.stile)
    panels, stiles = of(solids, Part.RAISED_PANEL), of(solids, Part.STILE)
    assert [s.width for s in panels] == [32, 32, 32]
    assert [(s.x0, s.x1) for s in stiles] == [(0, 4), (36, 40), (72, 76), (108, 112)]
    (bottom,), (top,) = of(solids, Part.BOTTOM_RAIL), of(solids, Part.TOP_RAIL)
    assert (bottom.x0, bottom.x1, bottom.y0, bottom.y1) == (4, 108, 6, 9)
    assert (top.x0, top.x1, top.y0, top.y1) == (4, 108, 25, 28)
    assert {(s.y0, s.y1) for s in panels} == {(9, 25)}
    assert {s.projection for s in panels} == {WAINSCOT.thickness - RULE.sink}
    assert {s.projection for s in (*stiles, bottom, top)} == {WAINSCOT.thickness}
    ends = [s for s in stiles if s.x0 in (0, 108)]
    assert {(s.y0, s.y1) for s in ends} == {(6, 28)}
    assert {(s.y0, s.y1) for s in stiles if s not in ends} == {(9, 25)}
    assert {s.element for s in solids} == {"wainscot"}


def test_a_form_says_what_fills_the_frame():
    assert of(filled(form="flat panels"), Part.FLAT_PANEL) and of(filled(), Part.RAISED_PANEL)
    assert {s.part for s in filled(form="beaded boards")} == {Part.BEADED_BOARD}
    assert {s.part for s in filled(form="boards and battens")} == {Part.BOARD, Part.BATTEN}
    (plain,) = filled(form="tapestry")
    assert (plain.part, plain.x0, plain.x1) == (Part.PLAIN_WAINSCOT, 0, 200)


def test_a_bay_too_narrow_or_too_low_for_a_panel_is_plain():
    (narrow,) = filled(RULE.least + 2 * RULE.stile - 1 / 16)
    assert narrow.part is Part.PLAIN_WAINSCOT and narrow.name == "plain wainscot"
    assert of(filled(RULE.least + 2 * RULE.stile), *PANELS)
    rails = RULE.bottom_rail + RULE.top_rail
    assert of(filled(low=6.0, high=6.0 + rails + RULE.least_height), *PANELS)
    assert not of(filled(low=6.0, high=5.9 + rails + RULE.least_height), *PANELS)
    assert filled(low=6.0, high=6.01) == []


def test_wainscot_stops_at_a_door_and_goes_on_under_a_window():
    solids = filled(300.0, [door(100.0, 136.0)])
    assert all(s.x1 <= 100 or s.x0 >= 136 for s in solids)
    assert {s.x1 for s in solids} >= {100.0, 300.0}
    least = RULE.bottom_rail + RULE.top_rail + RULE.least_height
    high = window(100.0, 136.0, 6.0 + least)
    under = [s for s in filled(300.0, [high]) if s.x0 >= 100 and s.x1 <= 136]
    assert {s.part for s in under} == {Part.BOTTOM_RAIL, Part.TOP_RAIL, Part.RAISED_PANEL}
    assert max(s.y1 for s in under) == 6.0 + least
    assert {s.y0 for s in of(under, Part.RAISED_PANEL)} == {6.0 + RULE.bottom_rail}
    low = window(100.0, 136.0, 6.0 + least - 1 / 16)
    assert not [s for s in filled(300.0, [low]) if s.x0 < 136 and s.x1 > 100]


def test_a_window_above_the_rail_leaves_the_wainscot_as_high_as_elsewhere():
    assert {s.y1 for s in filled(300.0, [window(100.0, 136.0, 40.0)]) if s.part is Part.TOP_RAIL} == {28.0}


def test_windows_whose_trim_overlaps_share_the_wainscot_under_them():
    windows = [window(100.0, 140.0, 24.0), window(130.0, 170.0, 24.0)]
    solids = filled(300.0, windows)
    assert overlaps(solids) == []
    assert sum(s.width for s in of(solids, Part.BOTTOM_RAIL, Part.PLAIN_WAINSCOT)) <= 300


def test_panels_stand_between_stiles_and_are_centred_under_their_window():
    wall = next(w for w in lay_out(HOUSE, "Parlor", STATE, standard()) if w.wall == "S")
    panels = of(wall.solids, *PANELS)
    for around in wall.surrounds:
        under = [s for s in panels if around.left - 0.01 <= s.x0 and s.x1 <= around.right + 0.01]
        assert under
        middle = (around.aperture.x0 + around.aperture.x1) / 2
        assert (under[0].x0 + under[-1].x1) / 2 == pytest.approx(middle)
        assert len({round(s.width, 6) for s in under}) == 1
    for one, other in pairwise(panels):
        assert other.x0 - one.x1 >= RULE.stile - 1e-9


def test_boards_cover_their_bay_and_beaded_ones_are_about_three_inches_wide():
    (solid,) = filled(100.0, form="beaded boards")
    assert (solid.x0, solid.x1, solid.projection, solid.name) == (0, 100, 0.5, "beaded boards")
    places = [solid.x0, *beads(solid), solid.x1]
    assert len({round(b - a, 9) for a, b in pairwise(places)}) == 1
    assert abs(places[1] - 3.0) < 0.1
    assert beads(solid._replace(x1=1.0)) == []


def test_battens_stand_at_both_ends_and_evenly_between():
    solids = filled(100.0, form="boards and battens")
    battens = of(solids, Part.BATTEN)
    assert (battens[0].x0, battens[-1].x1) == (0, 100)
    assert {s.width for s in battens} == {RULE.batten}
    pitches = {round(b.x0 - a.x0, 9) for a, b in pairwise(battens)}
    assert len(pitches) == 1
    wanted = RULE.battens_apart + RULE.batten
    assert abs(pitches.pop() - wanted) <= wanted / 4
    assert all(16.0 <= b.x0 - a.x1 <= 20.0 for a, b in pairwise(battens)), "common practice"
    assert {s.on for s in battens} == {"wainscot"} and {s.on for s in of(solids, *BOARDS)} == {""}
    assert {s.projection for s in battens} == {WAINSCOT.projection}


def test_a_bay_hardly_wider_than_two_battens_has_none():
    assert not of(filled(2 * RULE.batten, form="boards and battens"), Part.BATTEN)
    assert len(of(filled(2 * RULE.batten + 1, form="boards and battens"), Part.BATTEN)) == 2


def panelled(length, surrounds=(), low=36.0, high=100.0):
    return list(field(length, tuple(surrounds), STATE.element("wall panels"), low, high, RULE))


def test_wall_panels_stand_a_stile_apart_between_low_and_high():
    solids = panelled(104 + 2 * RULE.stile)
    assert [(s.x0, s.x1) for s in solids] == [(4, 36), (40, 72), (76, 108)]
    assert {(s.y0, s.y1, s.part, s.element) for s in solids} == {(36, 100, Part.WALL_PANEL, "wall panels")}
    assert {s.projection for s in solids} == {STATE.element("wall panels").projection}
    assert panelled(RULE.least + 2 * RULE.stile - 1 / 16) == []


def test_a_panel_over_a_door_keeps_a_stile_above_it():
    over = [s for s in panelled(300.0, [door(100.0, 140.0, top=80.0)]) if s.x0 < 140 and s.x1 > 100]
    assert over
    assert {(s.y0, s.y1) for s in over} == {(80 + RULE.stile, 100)}
    most = 100 - RULE.stile - RULE.least_height
    assert [s for s in panelled(300.0, [door(100.0, 140.0, top=most)]) if s.x0 < 140 and s.x1 > 100]
    assert not [s for s in panelled(300.0, [door(100.0, 140.0, top=most + 1 / 16)]) if s.x0 < 140 and s.x1 > 100]
    assert not [s for s in panelled(300.0, [door(100.0, 140.0, top=100.0)]) if s.x0 < 140 and s.x1 > 100]


def test_a_bay_without_room_for_a_panel_leaves_the_next_its_own():
    beside = panelled(300.0, [door(RULE.least, 140.0, top=100.0)])
    assert beside and min(s.x0 for s in beside) == 140 + RULE.stile


def test_wall_panels_over_a_fireplace_are_one_panel_on_its_axis():
    over = [s for s in panelled(300.0, [door(130.0, 170.0, top=36.0)]) if s.x0 < 170 and s.x1 > 130]
    assert [(s.x0, s.x1, s.y0) for s in over] == [(134.0, 166.0, 36.0)]


def test_two_openings_side_by_side_share_no_panel_above_them():
    solids = panelled(300.0, [door(100.0, 140.0, top=80.0), door(130.0, 170.0, top=80.0)])
    assert all(a.x1 <= b.x0 for a, b in pairwise(of(solids, Part.WALL_PANEL)))


@given(st.floats(1, 400), st.floats(0, 400), st.floats(10, 80), st.floats(0, 80))
def test_whatever_the_bay_its_filling_lies_within_and_nothing_overlaps(length, x0, width, sill):
    surrounds = [window(x0, x0 + width, sill)] if x0 + width < length else []
    for form in ("raised panels", "boards and battens"):
        solids = [s for s in filled(length, surrounds, form=form) if not s.on]
        assert all(-1e-9 <= s.x0 < s.x1 <= length + 1e-9 and 6 <= s.y0 < s.y1 <= 28 for s in solids)
        area = sum(s.width * s.height for s in solids)
        assert area <= length * 22 + 1e-6
        assert all(isinstance(s, Solid) and s.part in FRAME | PANELS | BOARDS for s in solids)
