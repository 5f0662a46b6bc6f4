"""Strings of dimensions close, say what rounding leaves, and set their labels clear of one another."""

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.drawings.dimensions import spread, staggered, string, upright
from planner.drawings.scene import Path
from planner.units import format_length, grain, parse_length


def assert_closes(measured):
    """What is written, read back as a carpenter reads it, sums to the written total or to it less the residual."""
    read = sum(parse_length(format_length(value, measured.unit)) for value in measured.written)
    total = parse_length(format_length(measured.total, measured.unit))
    assert read + measured.residual * grain(measured.unit) == pytest.approx(total)


@settings(deadline=None)
@given(st.lists(st.floats(0, 400, allow_nan=False), min_size=2, max_size=12), st.sampled_from(["in", "mm"]))
def test_a_string_shows_its_residual_instead_of_fudging(places, unit):
    measured = string([*places, 0.0, 401.0], unit)
    assert_closes(measured)
    for written, (a, b) in zip(measured.written, pairwise(measured.points), strict=True):
        assert abs(written - (b - a)) <= grain(unit) / 2 + 1e-9
    assert abs(measured.residual) <= len(measured.written)


def test_a_residual_is_written_on_the_drawing():
    """Three spans of 10 1/32 in are each written 10 1/16 in the string and come to 30 3/32, written 30 1/8."""
    measured = string([0, 10 + 1 / 32, 20 + 2 / 32, 30 + 3 / 32], "in")
    assert measured.residual == -1
    labels, _ = staggered(measured, 0.0, 1.0)
    assert 'rounding −1/16"' in [label.text for label in labels]


def test_what_finds_no_room_is_written_as_its_mark_and_nothing_is_written_twice():
    measured = string([0.0, 2.0, 42.0, 44.0], "in")
    labels, rows = staggered(measured, 0.0, 2.0, {(0.0, 2.0): "K"})
    assert [label.text for label in labels] == ["K", "3'-4\"", '2"'] and rows == 1


def test_labels_stand_over_a_string_or_under_it():
    measured = string([0.0, 40.0, 100.0], "in")
    for up in (False, True):
        labels, _ = staggered(measured, 10.0, 1.0, up=up)
        assert all((label.y > 10.0) is up for label in labels)


def test_a_label_that_had_to_move_is_led_to_its_span():
    (near,), (far,) = (
        [s for s in upright(string(points, "in"), 0.0, -1, {}, 3.0) if isinstance(s, Path)]
        for points in ([0.0, 20.0, 60.0], [0.0, 1.0, 2.0, 60.0])
    )
    leaders = [[s for s in path.segments if s.start[0] == 0.0 and abs(s.end[0]) > 2.0] for path in (near, far)]
    assert leaders[0] == [] and len(leaders[1]) == 2


def test_labels_spread_to_their_gap_and_stay_where_they_can():
    places = spread([0.0, 0.1, 0.2, 9.0], 1.0)
    assert all(b - a >= 1.0 - 1e-9 for a, b in pairwise(places))
    assert places[3] == 9.0
    assert sum(places[:3]) == pytest.approx(0.3)
