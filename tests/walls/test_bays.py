"""Bays and their panels: worked by hand, and what holds of any wall. Common practice."""

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.library import standard
from planner.walls.bays import bays, within
from planner.walls.openings import Aperture, Surround
from planner.walls.parts import PANELS, Part
from planner.walls.solids import Solid
from planner.walls.wainscot import dado, field
from tests.walls.trim import trim

RULE = standard().surrounds.panels
STATE = trim(5)


def opening(x0, x1, sill=0.0, top=84.0):
    return Surround(Aperture("O", "open", x0, x1, sill, top), ())


def panels(length, *surrounds):
    return [bay.panels for bay in bays(length, surrounds, RULE)]


def widths(length, *surrounds):
    return [round(x1 - x0, 6) for bay in panels(length, *surrounds) for x0, x1 in bay]


def test_a_plain_wall_is_divided_evenly_near_the_width_preferred():
    """112 in: stiles of 4 leave 104; three panels of 32 with two stiles between them are 104."""
    assert panels(112.0) == [((4.0, 36.0), (40.0, 72.0), (76.0, 108.0))]


def test_bays_of_two_lengths_share_one_width_and_their_ends_take_the_rest():
    """Bays of 112 and 116 in: three panels of 32 in both, and in the longer 2 in more at either end."""
    left, right = panels(268.0, opening(112.0, 152.0))
    assert left == ((4.0, 36.0), (40.0, 72.0), (76.0, 108.0))
    assert right == ((158.0, 190.0), (194.0, 226.0), (230.0, 262.0))


def test_a_bay_too_narrow_for_a_usual_panel_has_one_of_its_own_or_none():
    assert panels(28.0) == [((4.0, 24.0),)]
    assert panels(RULE.least + 2 * RULE.stile - 1 / 16) == [()]


def test_a_wall_no_panel_width_fits_has_wider_stiles_at_its_ends():
    """58 in: two panels would be 23 in, one 50; one of 48 with stiles of 5 is within the limits."""
    ((panel,),) = panels(58.0)
    assert RULE.usual <= panel[1] - panel[0] <= RULE.most


def test_what_goes_under_or_over_an_opening_is_one_panel_until_that_grows_too_wide():
    assert within(100.0, 148.0, RULE) == ((100.0, 148.0),)
    assert within(100.0, 152.0, RULE) == ((100.0, 124.0), (128.0, 152.0))
    assert within(0.0, RULE.least - 1 / 16, RULE) == ()


walls = st.tuples(st.floats(60, 600), st.lists(st.tuples(st.floats(0, 1), st.floats(20, 80)), max_size=3)).map(
    lambda drawn: (drawn[0], tuple(opening(x, x + w) for x, w in _apart(*drawn)))
)


def _apart(length, drawn):
    """Openings that lie on the wall, clear of each other."""
    reach = 0.0
    for at, width in sorted(drawn):
        x = max(at * length, reach)
        if x + width <= length:
            yield x, width
            reach = x + width + 1


@given(walls)
def test_panels_are_within_the_limits_or_their_bay_is_too_narrow(wall):
    length, surrounds = wall
    for bay in bays(length, surrounds, RULE):
        clear = bay.x1 - bay.x0 - 2 * RULE.stile
        for x0, x1 in bay.panels:
            assert bay.x0 + RULE.stile - 1e-4 <= x0 < x1 <= bay.x1 - RULE.stile + 1e-4
            assert x1 - x0 <= RULE.most + 0.1
            assert x1 - x0 >= RULE.usual - 0.1 or clear < 2 * RULE.usual + RULE.stile
        assert bay.panels or clear < RULE.least


@given(walls)
def test_a_mirrored_wall_has_mirrored_panels(wall):
    length, surrounds = wall
    mirrored = tuple(opening(length - s.aperture.x1, length - s.aperture.x0) for s in reversed(surrounds))
    ahead = [edge for bay in bays(length, surrounds, RULE) for panel in bay.panels for edge in panel]
    back = [length - edge for bay in bays(length, mirrored, RULE) for panel in bay.panels for edge in panel]
    assert ahead == pytest.approx(sorted(back), abs=1e-3)


@given(walls)
def test_field_panels_stand_over_the_dados_on_one_axis(wall):
    length, surrounds = wall
    below = [s for s in dado(length, surrounds, STATE.element("wainscot"), 6.0, 27.0, RULE) if s.part in PANELS]
    above = list(field(length, surrounds, STATE.element("wall panels"), 34.0, 100.0, RULE))
    beside = [s for s in above if not any(o.left < s.x1 and s.x0 < o.right for o in surrounds)]
    assert [(s.x0, s.x1) for s in beside] == [(s.x0, s.x1) for s in below]


def test_panels_under_a_window_run_level_with_their_neighbours():
    """The rail's underside is at 27 in; a stool at 26 leaves 2 in of top rail over panels that end at 24."""
    window = opening(100.0, 140.0, sill=26.0)
    solids = list(dado(240.0, (window,), STATE.element("wainscot"), 6.0, 27.0, RULE))
    assert {s.y1 for s in solids if s.part in PANELS} == {24.0}
    under = [s for s in solids if s.part is Part.TOP_RAIL and s.x0 >= 100 and s.x1 <= 140]
    assert [(s.y0, s.y1) for s in under] == [(24.0, 26.0)]


def test_battens_stand_once_where_a_window_divides_the_boards():
    element = trim(5, style="craftsman").element("wainscot")
    boards = dado(240.0, (opening(100.0, 140.0, sill=26.0),), _battened(element), 6.0, 40.0, RULE)
    battens = sorted(s.x0 for s in boards if s.part is Part.BATTEN)
    assert min(b - a for a, b in pairwise(battens)) > 3 * RULE.batten


def _battened(element):
    return replace(element, form="boards and battens")


def test_any_wall_is_bounded_work():
    surrounds = tuple(opening(x, x + 30.0) for x in range(50, 30_000, 100))
    assert len(bays(30_000.0, surrounds, RULE)) == len(surrounds) + 1


def test_a_wainscot_reaches_to_the_casing_though_an_overdoor_parts_the_panels_farther_out():
    """A cap that reaches 5 in past the casing at 100 and 140 in: panels stand a stile clear of the cap, the stile that
    ends the frame goes on to the casing."""
    casing = Solid(Part.LEG, "casing", 100.0, 104.0, 0.0, 84.0, 1.0)
    cap = Solid(Part.OVERDOOR, "overdoor", 95.0, 145.0, 84.0, 90.0, 4.0)
    around = Surround(
        Aperture("O", "door", 104.0, 136.0, 0.0, 80.0), (casing, casing._replace(x0=136.0, x1=140.0), cap)
    )
    solids = list(dado(240.0, (around,), STATE.element("wainscot"), 6.0, 27.0, RULE))
    left = [s for s in solids if s.x1 <= 104.0]
    assert max(s.x1 for s in left) == 100.0 and min(s.x0 for s in solids if s not in left) == 140.0
    assert max(s.x1 for s in left if s.part in PANELS) <= 95.0 - RULE.stile
