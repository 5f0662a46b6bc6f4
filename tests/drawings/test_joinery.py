"""Doors, windows and fireplaces as they are seen from the front."""

import pytest

from planner.drawings.joinery import inset, opening_lines, opening_shade, panel_lines
from planner.drawings.scene import around
from planner.walls.leaves import Pane
from planner.walls.openings import Aperture, Surround, filling
from tests.known import LIBRARY
from tests.walls.trim import trim

DOOR = Aperture("D", "door", 10.0, 46.0, 0.0, 80.0)
WINDOW = Aperture("W", "window", 10.0, 46.0, 30.0, 90.0)


def seen(opening):
    """An opening in the best Georgian room, without trim round it."""
    return Surround(opening, (), filling(opening, trim(5), LIBRARY))


def test_a_leaf_is_one_rectangle_and_each_of_its_panels_two():
    """Six panels in a leaf, each with its moulding."""
    leaf, *panels = opening_lines(seen(DOOR))
    assert len(panels) == 6 * 2
    assert leaf == (10, 0, 46, 80)
    assert around(*panels) == (14.5, 7.875, 41.5, 75.5)


def test_each_sash_and_each_light_is_a_rectangle():
    lines = opening_lines(seen(WINDOW))
    assert len(lines) == 2 + 12
    assert around(*lines) == (10, 30, 46, 90)


def test_openings_without_leaves_have_no_lines():
    for kind in ("open", "cased opening", "stair", "fireplace"):
        assert opening_lines(seen(DOOR._replace(kind=kind))) == []


def test_lights_of_a_leaf_are_glass():
    shades = list(opening_shade(seen(DOOR._replace(leaf="lights over long panels"))))
    assert [s.fill for s in shades] == ["paper", "light", "light", "light", "mid"]


@pytest.mark.parametrize(
    ("kind", "fill", "jamb"),
    [("fireplace", "dark", True), ("window", "light", True), ("door", "paper", True), ("open", "light", False)],
)
def test_what_is_seen_in_an_opening(kind, fill, jamb):
    shades = list(opening_shade(Surround(WINDOW._replace(kind=kind), ())))
    assert shades[0].fill == fill and not shades[0].line
    assert [s.fill for s in shades[1:]] == (["mid"] if jamb else [])


def test_a_jambs_shadow_is_two_inches_wide_and_less_in_a_small_opening():
    (_, jamb) = opening_shade(Surround(WINDOW, ()))
    assert jamb.sides[0] == ((10.0, 30.0), (12.0, 30.0))
    (_, small) = opening_shade(Surround(WINDOW._replace(x1=14.0), ()))
    assert small.sides[0] == ((10.0, 30.0), (11.0, 30.0))


def test_sticking_goes_round_a_panel_and_a_raised_one_has_a_field():
    panel = Pane("panel", 0.0, 20.0, 0.0, 12.0)
    assert panel_lines(panel, raised=False) == [(0.5, 0.5, 19.5, 11.5)]
    sticking, field, *mitres = panel_lines(panel, raised=True)
    assert [sticking] == panel_lines(panel, raised=False)
    assert field == (2, 2, 18, 10)
    assert mitres == [
        ((0.5, 0.5), (2, 2)),
        ((19.5, 0.5), (18, 2)),
        ((19.5, 11.5), (18, 10)),
        ((0.5, 11.5), (2, 10)),
    ]
    assert inset(panel, 1.0) == (1, 1, 19, 11)
