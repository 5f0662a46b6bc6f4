"""Names fit where they stand."""

from itertools import pairwise

import pytest

from planner.charts.names import LONGEST, name_column, short
from planner.look.theme import LIGHT, TEXT, text_width

LONG = "Conservatory-Orangery and Winter Garden"


@pytest.mark.parametrize(
    ("name", "shown"),
    [
        ("Hall", "Hall"),
        ("  line\nbreak\ttab ", "line break tab"),
        ("bell\x07", "bell"),
        ("", "(no name)"),
        ("W" * LONGEST, "W" * LONGEST),
        ("W" * (LONGEST + 1), "W" * (LONGEST - 1) + "…"),
        ("W" * (LONGEST - 2) + " and more", "W" * (LONGEST - 2) + "…"),
    ],
)
def test_names_are_one_line_of_no_more_than_so_many_characters(name, shown):
    assert short(name) == shown


def test_a_column_is_as_wide_as_its_names_and_no_wider_than_it_may_be():
    assert name_column(["Hall", "Stair"], 300, 20).width == text_width("Stair", TEXT["label"]) + 12
    assert name_column([LONG], 100, 20).width == 100
    assert name_column(["Hall"], 100, 20, fixed=True).width == 100
    for lines in name_column([LONG, "Hall"], 100, 20).lines.values():
        assert all(text_width(line, TEXT["label"]) <= 90 for line in lines)


def test_rows_follow_each_other_each_as_high_as_its_lines():
    column = name_column(["Hall", LONG, "Hall", "Stair"], 100, 22, top=40)
    assert list(column.lines) == ["Hall", LONG, "Stair"]
    assert column.heights["Hall"] == 22
    assert column.heights[LONG] == 14 * len(column.lines[LONG]) + 6 > 22
    assert column.middle["Hall"] == 40 + 11
    for a, b in pairwise(column.lines):
        assert column.middle[b] - column.middle[a] == (column.heights[a] + column.heights[b]) / 2
    assert column.bottom == 40 + sum(column.heights.values())


def test_lines_stand_about_the_middle_of_their_row():
    column = name_column([LONG], 100, 22)
    texts = column.texts()
    assert [t["text"] for t in texts] == column.lines[LONG]
    assert sum(t["y"] for t in texts) / len(texts) == pytest.approx(column.middle[LONG])
    assert all(b["y"] - a["y"] == 14 for a, b in pairwise(texts))


def test_bars_stand_about_the_middle_of_their_row():
    column = name_column([LONG], 100, 22)
    high, middle = column.heights[LONG], column.middle[LONG]
    assert column.band(LONG, 1.0) == {"y": middle - high / 2, "y2": middle + high / 2}
    assert column.band(LONG, 0.5) == {"y": middle - 6, "y2": middle + 6}


def test_what_is_drawn_may_be_other_than_the_name():
    assert name_column(["a"], 100, 22, drawn={"a": "Alpha"}).lines == {"a": ["Alpha"]}


def test_beside_a_plot_names_end_at_its_edge_under_their_heading():
    column = name_column(["Hall"], 100, 22, top=40)
    names, heading = column.layers("Room", LIGHT)
    assert (names["mark"]["align"], names["encoding"]["x"]) == ("right", {"value": -8})
    assert (heading["mark"]["align"], heading["encoding"]["x"]) == ("left", {"value": -column.width})
    assert heading["data"]["values"] == [{"y": 32, "text": "Room"}]
    assert (names["mark"]["color"], heading["mark"]["color"]) == (LIGHT.ink, LIGHT.soft)
