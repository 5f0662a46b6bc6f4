"""A line ends where a label stands, and a leaf of which too little is left is not drawn."""

from math import hypot

import pytest

from planner.charts.label_box import Box
from planner.charts.opening_signs import LEAST_LEAF, Gap, draw_opening, outside, sign_of
from planner.charts.sheet import Sheet
from tests.charts.reading import lines


@pytest.mark.parametrize(
    ("line", "pieces"),
    [
        ([(0, 0), (10, 0)], [[(0, 0), (3, 0)], [(7, 0), (10, 0)]]),
        ([(0, 2), (10, 2)], [[(0, 2), (10, 2)]]),
        ([(0, 5), (10, 5)], [[(0, 5), (10, 5)]]),
        ([(5, 0), (10, 0)], [[(7, 0), (10, 0)]]),
        ([(0, 0), (5, 0), (5, 9)], [[(0, 0), (3, 0)], [(5, 2), (5, 9)]]),
        ([(4, 0), (6, 0)], []),
        ([(1, -4), (9, 4)], [[(1, -4), (3, -2)], [(7, 2), (9, 4)]]),
    ],
)
def test_what_is_left_of_a_line_outside_a_box(line, pieces):
    """The box has its corners at 3, -2 and 7, 2; a line along its edge is outside."""
    assert outside(line, [Box(5, 0, 4, 4)]) == [[pytest.approx(p) for p in piece] for piece in pieces]


def test_a_line_is_cut_by_each_of_several_boxes():
    cut = outside([(0, 0), (20, 0)], [Box(5, 0, 4, 4), Box(15, 0, 4, 4)])
    assert cut == [[(0, 0), (3, 0)], [(7, 0), (13, 0)], [(17, 0), (20, 0)]]


def drawn(labels: list[Box]) -> list[list[list[float]]]:
    """The lines of a door forty wide, seen from inside by a room to the north of it, hinged at the left."""
    sheet = Sheet(200, False)
    gap = Gap((100.0, 100.0), (60.0, 100.0))
    opening = {"kind": "door", "room": "Hall", "main": False, "x1": 0, "y1": 0, "x2": 0, "y2": 0}
    draw_opening(sheet, opening, gap, "#000000", labels)
    return [line["at"] for line in lines(sheet.chart("", "", 10))]


def test_a_swing_ends_at_a_label():
    whole, cut = drawn([]), drawn([Box(65, 70, 20, 10)])
    assert len(whole) == 2
    assert len(cut) == 3
    assert all(not (55 < x < 75 and 65 < y < 75) for line in cut for x, y in line)
    assert drawn([Box(150, 70, 20, 10)]) == whole


def test_a_leaf_is_left_out_where_a_label_covers_most_of_it():
    assert drawn([Box(80, 80, 44, 30)]) == []


def test_what_a_door_takes_is_a_square_and_a_narrow_one_takes_nothing():
    (box,) = sign_of("door", Gap((100.0, 100.0), (60.0, 100.0))).taken
    assert box == pytest.approx(Box(80, 80, 40, 40))
    assert sign_of("window", Gap((100.0, 100.0), (60.0, 100.0))).taken == ()
    assert sign_of("door", Gap((0.0, 0.0), (LEAST_LEAF - 1, 0.0))).taken == ()
    two = sign_of("double door", Gap((100.0, 100.0), (20.0, 100.0))).taken
    assert [round(hypot(b.width, b.height)) for b in two] == [57, 57]
