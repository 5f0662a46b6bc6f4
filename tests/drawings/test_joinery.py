"""Doors, windows and fireplaces as they are seen from the front."""

import pytest

from planner.drawings.joinery import Pane, opening_lines, opening_shade, panel_lines, ring
from planner.walls.openings import Aperture

DOOR = Aperture("D", "door", 10.0, 46.0, 0.0, 80.0)
WINDOW = Aperture("W", "window", 10.0, 46.0, 30.0, 90.0)


def box(segments):
    xs = [x for s in segments for x, _ in (s.start, s.end)]
    ys = [y for s in segments for _, y in (s.start, s.end)]
    return min(xs), max(xs), min(ys), max(ys)


@pytest.mark.parametrize(("width", "panels"), [(36.0, 6), (26.1, 6), (26.0, 3)])
def test_a_door_has_six_panels_and_a_narrow_one_three(width, panels):
    lines = opening_lines(DOOR._replace(x1=10 + width))
    assert len(lines) == panels * 8
    x0, x1, y0, y1 = box(lines)
    assert 10 < x0 < x1 < 10 + width and 0 < y0 < y1 < 80


@pytest.mark.parametrize("kind", ["double door", "pocket door"])
def test_a_pair_of_doors_meets_in_the_middle(kind):
    lines = opening_lines(DOOR._replace(kind=kind, x1=70.0))
    assert len(lines) == 2 * 6 * 8 + 1
    assert [s for s in lines if s.start == (40.0, 0.0) and s.end == (40.0, 80.0)]


def test_a_window_is_hung_in_two_sashes_and_a_low_wide_one_in_one():
    def whole(lines):
        """Sashes by their outermost rectangles, four lines each, then as many inside."""
        return [s for s in lines if s.start[1] == s.end[1] and abs(s.end[0] - s.start[0]) == pytest.approx(36)]

    assert {s.start[1] for s in whole(opening_lines(WINDOW))} == {30, 60, 90}
    wide = WINDOW._replace(y1=60.0)
    assert {s.start[1] for s in whole(opening_lines(wide))} == {30, 60}


def test_openings_without_leaves_have_no_lines():
    for kind in ("open", "cased opening", "stair", "fireplace"):
        assert opening_lines(DOOR._replace(kind=kind)) == []


@pytest.mark.parametrize(
    ("kind", "fill", "jamb"),
    [("fireplace", "dark", True), ("window", "light", True), ("door", "paper", True), ("open", "light", False)],
)
def test_what_is_seen_in_an_opening(kind, fill, jamb):
    shades = list(opening_shade(WINDOW._replace(kind=kind)))
    assert shades[0].fill == fill and not shades[0].line
    assert [s.fill for s in shades[1:]] == (["mid"] if jamb else [])


def test_a_jambs_shadow_is_two_inches_wide_and_less_in_a_small_opening():
    (_, jamb) = opening_shade(WINDOW)
    assert jamb.segments[0].end[0] - jamb.segments[0].start[0] == 2.0
    (_, small) = opening_shade(WINDOW._replace(x1=14.0))
    assert small.segments[0].end[0] - small.segments[0].start[0] == 1.0


def test_sticking_goes_round_a_panel_and_a_raised_one_has_a_field():
    panel = Pane(0.0, 20.0, 0.0, 12.0)
    assert box(panel_lines(panel, raised=False)) == (0.5, 19.5, 0.5, 11.5)
    raised = panel_lines(panel, raised=True)
    assert box(raised[4:8]) == (2, 18, 2, 10)
    assert [(s.start, s.end) for s in raised[8:]] == [
        ((0.5, 0.5), (2, 2)),
        ((19.5, 0.5), (18, 2)),
        ((19.5, 11.5), (18, 10)),
        ((0.5, 11.5), (2, 10)),
    ]
    assert box(ring(panel, 1.0)) == (1, 19, 1, 11)
