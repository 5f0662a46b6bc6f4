"""Bands that join heads along a wall: common practice."""

from planner.walls import heads
from planner.walls.parts import Part
from planner.walls.solids import Solid
from tests.walls.trim import trim

BAND = trim(5, style="craftsman").element("head band")


def head(x0, x1, y0, height=5.5):
    return Solid(Part.HEAD, "casing", x0, x1, y0, y0 + height, 1.125)


def test_a_band_runs_from_head_to_head_where_they_are_at_one_height():
    one, other, lower = head(20.0, 60.0, 84.25), head(100.0, 140.0, 84.25), head(160.0, 200.0, 80.25)
    (band,) = heads.bands((one, other, lower), BAND)
    assert (band.x0, band.x1, band.y0, band.part) == (60.0, 100.0, 84.25, Part.HEAD_BAND)
    assert band.y1 == 84.25 + min(BAND.size, 5.5)


def test_a_band_is_no_higher_than_the_heads_that_it_joins():
    (band,) = heads.bands((head(20.0, 60.0, 84.0, 2.0), head(100.0, 140.0, 84.0)), BAND)
    assert band.height == 2.0


def test_heads_that_touch_or_differ_by_a_sixteenth_are_not_joined():
    assert list(heads.bands((head(20.0, 60.0, 84.0), head(60.0, 100.0, 84.0)), BAND)) == []
    assert list(heads.bands((head(20.0, 60.0, 84.0), head(80.0, 100.0, 84.0625)), BAND)) == []
    assert len(list(heads.bands((head(20.0, 60.0, 84.0), head(80.0, 100.0, 84.05)), BAND))) == 1
