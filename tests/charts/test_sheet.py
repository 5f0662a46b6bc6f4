"""A sheet draws what is put on it, in one order, and keeps within its width."""

import pytest

from planner.charts.sheet import STYLES, Sheet, message
from planner.look import theme
from planner.look.theme import LIGHT, text_width
from tests.charts.reading import layers, rows, words, written


@pytest.fixture
def sheet() -> Sheet:
    return Sheet(200, False)


def test_it_keeps_an_edge_on_both_sides(sheet):
    spec = sheet.chart("Title", "", 99.2).to_dict()
    assert (spec["width"], spec["padding"], spec["height"]) == (192, 4, 100)
    assert spec["layer"] == spec["params"] == []


def test_each_style_of_text_is_a_layer(sheet):
    for align, weight in STYLES:
        sheet.write(f"{align} {weight}", 1, 2, LIGHT.alarm, 11, bold=weight == "bold", align=align)
    drawn = layers(sheet.chart("", "", 10), "text")
    assert [(layer["mark"]["align"], layer["mark"]["fontWeight"]) for layer in drawn] == list(STYLES)
    for layer, (align, weight) in zip(drawn, STYLES, strict=True):
        text = {"x": 1, "y": 2, "text": f"{align} {weight}", "size": 11, "ink": LIGHT.alarm}
        assert layer["data"]["values"] == [text]
        assert layer["encoding"]["color"]["field"] == "ink"
        assert layer["encoding"]["size"]["field"] == "size"


def test_text_lies_over_marks_over_blocks_over_lines_over_the_ground(sheet):
    sheet.write("text", 0, 0, LIGHT.ink, 11, align="center")
    sheet.mark(0, 0, "square", 150, LIGHT.ink)
    sheet.block(0, 0, 1, 1, LIGHT.ink, {"room": "Hall"})
    sheet.line([(0, 0), (1, 1)], LIGHT.ink, "cut")
    spec = sheet.chart("", "", 10, ground=[{"mark": {"type": "arc"}}], halo=True).to_dict()
    kinds = [layer["mark"]["type"] for layer in spec["layer"]]
    assert kinds == ["arc", "geoshape", "rect", "point", "text", "text"]
    assert "stroke" in spec["layer"][-2]["mark"]


def test_lines_have_their_weight(sheet):
    sheet.line([(0, 0), (1, 1)], LIGHT.alarm, "cut", widen=3)
    (row,) = rows(sheet.chart("", "", 10))
    assert row["properties"] == {"stroke": LIGHT.alarm, "weight": 3 * theme.pixels("cut")}
    assert row["geometry"]["coordinates"] == [[0, 0], [1, 1]]


def test_blocks_tell_what_is_said_of_them(sheet):
    sheet.block(1, 2, 3, 4, LIGHT.soft, {"room": "Hall", "tier": "3"})
    (layer,) = layers(sheet.chart("", "", 10), "rect")
    assert [c["title"] for c in layer["encoding"]["tooltip"]] == ["room", "tier"]
    assert layer["data"]["values"][0] | {"said": 0} == {"x": 1, "y": 2, "x2": 3, "y2": 4, "fill": LIGHT.soft, "said": 0}


def test_a_paragraph_keeps_within_the_sheet_and_says_where_it_ends(sheet):
    text = "Without an outline: " + ", ".join(f"Room {i}" for i in range(20))
    bottom = sheet.paragraph(text, 50)
    lines = words(sheet.chart("", "", bottom))
    assert len(lines) > 3
    assert written(sheet.chart("", "", bottom)) == "".join(text.split())
    assert all(row["x"] + text_width(row["text"], row["size"]) <= 192 for row in lines)
    assert 50 < lines[0]["y"] < lines[-1]["y"] < bottom


def test_the_tiers_go_on_in_another_row_where_they_do_not_fit(sheet):
    bottom = sheet.tiers(10, 5, {1: "Service", 2: "Chamber", 4: "Principal"})
    chart = sheet.chart("", "", bottom)
    squares = [row for row in rows(chart) if row.get("shape") == "square"]
    assert [row["fill"] for row in squares] == [theme.ramp(5)[tier - 1] for tier in (4, 2, 1)]
    assert [row["text"] for row in words(chart)] == ["4 Principal", "2 Chamber", "1 Service"]
    assert [row["y"] for row in squares] == [24, 24, 42]
    assert squares[2]["x"] == squares[0]["x"]
    assert bottom == 56


def test_a_message_stands_in_for_a_chart():
    chart = message("Tiers", "There are no rooms.", 300, True)
    assert chart.to_dict()["title"]["text"] == ["Tiers"]
    assert written(chart) == "Therearenorooms."
    assert chart.to_dict()["config"]["background"] == theme.DARK.paper
