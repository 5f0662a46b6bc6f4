"""A sheet draws what is put on it, in one order, and keeps within its width."""

from xml.etree import ElementTree

import pytest
import vl_convert

from planner.charts.sheet import STYLES, Sheet, message
from planner.look import theme
from planner.look.theme import LIGHT, text_width
from tests.charts.reading import layers, lines, rows, words, written


@pytest.fixture
def sheet() -> Sheet:
    return Sheet(200, False)


def test_it_keeps_an_edge_on_both_sides(sheet):
    spec = sheet.chart("Title", "", 99.2).to_dict()
    assert (spec["width"], spec["padding"], spec["height"]) == (192, 4, 100)
    assert spec["layer"] == spec["params"] == []


def test_text_of_each_style_keeps_its_place_size_and_colour_in_one_layer(sheet):
    for align, weight in STYLES:
        sheet.write(f"{align} {weight}", 1, 2, LIGHT.alarm, 11, bold=weight == "bold", align=align)
    (layer,) = layers(sheet.chart("", "", 10), "text")
    same = {"x": 1, "y": 2, "size": 11, "ink": LIGHT.alarm}
    assert layer["data"]["values"] == [same | {"text": f"{a} {w}", "align": a, "weight": w} for a, w in STYLES]
    fields = {name: channel["field"] for name, channel in layer["encoding"].items()}
    assert fields == {"x": "x", "y": "y", "text": "text", "size": "size", "color": "ink"}


def test_text_is_painted_in_its_style(sheet):
    """Ends, middle and weight as they come out in a picture, written in another order than they are drawn in."""
    for align, weight in reversed(STYLES):
        sheet.write(f"{align} {weight}", 96, 10, LIGHT.ink, 11, bold=weight == "bold", align=align)
    picture = ElementTree.fromstring(vl_convert.vegalite_to_svg(sheet.chart("", "", 20).to_dict()))
    painted = [t for t in picture.iter("{http://www.w3.org/2000/svg}text") if t.text]
    anchors = {"left": "start", "center": "middle", "right": "end"}
    assert [(t.text, t.get("text-anchor"), t.get("font-weight", "normal")) for t in painted] == [
        (f"{align} {weight}", anchors[align], weight) for align, weight in STYLES
    ]


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
    chart = sheet.chart("", "", 10)
    assert lines(chart) == [{"stroke": LIGHT.alarm, "weight": 3 * theme.pixels("cut"), "at": [[0, 0], [1, 1]]}]
    (layer,) = layers(chart, "geoshape")
    assert layer["encoding"]["stroke"]["field"] == "properties.stroke"
    assert layer["encoding"]["strokeWidth"]["field"] == "properties.weight"
    assert layer["mark"]["filled"] is False


def test_lines_of_one_look_are_one_shape_and_none_is_lost(sheet):
    """Looks lie over each other in the order in which they first come, and so do the lines of one look."""
    looks = [(LIGHT.ink, "cut"), (LIGHT.ink, "edge"), (LIGHT.alarm, "cut"), (LIGHT.ink, "cut"), (LIGHT.ink, "edge")]
    for i, (colour, weight) in enumerate(looks):
        sheet.line([(i, 0), (i, 5), (i, 9)], colour, weight)
    sheet.line([(9, 0), (9, 9)], LIGHT.ink, "cut", widen=2)
    chart = sheet.chart("", "", 10)
    drawn = [(row["properties"]["stroke"], row["properties"]["weight"]) for row in rows(chart)]
    cut = theme.pixels("cut")
    assert drawn == [(LIGHT.ink, cut), (LIGHT.ink, theme.pixels("edge")), (LIGHT.alarm, cut), (LIGHT.ink, 2 * cut)]
    assert [line["at"][0][0] for line in lines(chart)] == [0, 3, 1, 4, 2, 9]
    assert all(len(line["at"]) == 3 for line in lines(chart)[:-1])


def test_lines_of_one_look_are_painted_apart(sheet):
    for x in (10, 20.004, 30.006):
        sheet.line([(x, 0), (x, 8)], LIGHT.ink, "cut")
    picture = ElementTree.fromstring(vl_convert.vegalite_to_svg(sheet.chart("", "", 10).to_dict()))
    (path,) = (p for p in picture.iter() if p.get("stroke") == LIGHT.ink)
    assert path.get("d") == "M10,0L10,8M20,0L20,8M30.01,0L30.01,8"
    assert path.get("fill", "none") in ("none", "transparent")


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
