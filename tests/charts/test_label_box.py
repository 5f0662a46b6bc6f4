"""A label stands inside its room."""

import pytest

from planner.charts.label_box import Box, contains, label_box

ELL = ((0.0, 0.0), (0.0, 10.0), (4.0, 10.0), (4.0, 4.0), (10.0, 4.0), (10.0, 0.0))


def test_a_rectangle_is_its_own_box():
    assert label_box(((0.0, 0.0), (0.0, 6.0), (4.0, 6.0), (4.0, 0.0))) == Box(2.0, 3.0, 4.0, 6.0)


def test_a_room_is_preferred_to_a_longer_corridor():
    """A room of 8 by 8 with a corridor 3 wide and 30 long beside it, which has the greater area."""
    corners = ((0.0, 0.0), (0.0, 8.0), (8.0, 8.0), (8.0, 3.0), (38.0, 3.0), (38.0, 0.0))
    assert label_box(corners) == Box(4.0, 4.0, 8.0, 8.0)


def test_a_slanted_room_has_a_box_within_its_extent():
    diamond = ((0.0, 3.0), (3.0, 6.0), (6.0, 3.0), (3.0, 0.0))
    assert label_box(diamond) == Box(3.0, 3.0, 2.0, 2.0)


@pytest.mark.parametrize(("point", "inside"), [((1, 9), True), ((9, 1), True), ((9, 9), False), ((-1, 5), False)])
def test_points_are_told_inside_from_outside(point, inside):
    assert contains(ELL, point) is inside
