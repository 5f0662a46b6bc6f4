"""The room graph shows every room at its depth and every passage between two rooms."""

from itertools import combinations
from math import dist, sqrt
from xml.etree import ElementTree

import pandas as pd
import pytest
import vl_convert

from planner import charts
from planner.charts.room_graph import RADIUS
from planner.look import theme
from planner.planning import frames
from tests.charts.reading import layers, lines, picked, rows, styled, told, words

ROOM = {"level": "Ground", "entry": False, "length_text": "10'", "width_text": "10'", "ceiling_text": "9'"}
ROOM |= {"outline": (), "importance": 0.5, "tier": 2, "tier_name": "Chamber", "tiers": 5}


def graph(depths: dict[str, int], passages: list[tuple[str, str, str]] = (), width: int = 390) -> charts.FinishedChart:
    rooms = pd.DataFrame([{"room": name, "depth": depth, **ROOM} for name, depth in depths.items()])
    return charts.room_graph(rooms, pd.DataFrame(passages, columns=["start", "end", "step"]), width=width)


def places(chart: charts.FinishedChart) -> dict[str, tuple[float, float]]:
    return {r["properties"]["room"]: (r["x"], r["y"]) for r in layers(chart, "point")[0]["data"]["values"]}


@pytest.fixture(scope="module", params=[390, 1000])
def demo(request, planned) -> charts.FinishedChart:
    return charts.room_graph(frames.rooms(planned), frames.passages(planned), width=request.param, selected="Library")


def test_a_click_or_a_tap_picks_a_room_and_the_picked_one_is_outlined(planned, demo):
    (param,) = demo.to_dict()["params"]
    assert param["select"] == {"type": "point", "fields": [charts.PICK_FIELD], "on": "click, touchend"}
    (nodes,) = (layer for layer in demo.to_dict()["layer"] if layer.get("name") in param["views"])
    assert {row["properties"]["room"] for row in nodes["data"]["values"]} == set(planned.by_name)
    assert picked(demo) == ["Library"]
    assert set(told(demo)) == set(planned.by_name)
    width = nodes["encoding"]["strokeWidth"]
    assert width["value"] == theme.pixels("edge")
    assert width["condition"][0]["value"] == 4 * width["value"]
    assert {"param": charts.PICK, "empty": False}.items() < width["condition"][0].items()


def test_rooms_stand_in_rows_by_depth(planned, demo):
    at = places(demo)
    for a, b in combinations(planned.rooms, 2):
        if a.depth < b.depth:
            assert at[a.room.name][1] < at[b.room.name][1]
        assert dist(at[a.room.name], at[b.room.name]) > 2 * RADIUS
    heads = [row for row in words(demo) if row["x"] == 0]
    assert [row["text"] for row in heads] == ["0 steps", "1 step", "2 steps", "3 steps", "4 steps", "5 steps"]
    for depth, head in enumerate(heads):
        tops = [at[r.room.name][1] - RADIUS for r in planned.rooms if r.depth == depth]
        assert 0 <= min(tops) - head["y"] < 5


def test_circles_have_their_tiers_number_and_colour(planned, demo):
    numbers = {(row["x"], row["y"]): row for row in words(demo) if row["size"] == 13}
    ramp = theme.ramp(len(planned.tier_names))
    for node in layers(demo, "point")[0]["data"]["values"]:
        tier = planned.by_name[node["properties"]["room"]].tier
        number = numbers[node["x"], node["y"]]
        assert (number["text"], node["properties"]["fill"]) == (str(tier), ramp[tier - 1])
        assert number["ink"] == theme.text_on(ramp[tier - 1])
        assert sqrt(node["size"] / 3.14159265) == pytest.approx(RADIUS)


def test_passages_join_circles_below_them(planned, demo):
    at = places(demo)
    joined = {frozenset((at[p.start], at[p.end])) for p in planned.passages}
    drawn = demo.to_dict()["layer"]
    links = [line for row in drawn[0]["data"]["values"] for line in row["geometry"]["coordinates"]]
    assert len(links) == len(planned.passages)
    assert {frozenset(map(tuple, line)) for line in links} == {_rounded(ends) for ends in joined}
    kinds = [layer["mark"]["type"] for layer in drawn]
    assert kinds.index("point") == 2
    assert set(kinds[3:]) == {"point", "text"}


def _rounded(ends: frozenset) -> frozenset:
    return frozenset((round(x, 2), round(y, 2)) for x, y in ends)


def test_names_on_lines_are_set_off_by_a_halo(demo):
    halo, text, *_ = layers(demo, "text")
    assert halo["mark"]["stroke"] == theme.LIGHT.paper
    assert halo["mark"]["strokeWidth"] > 2
    names = [{**row, "align": "center", "weight": "normal"} for row in halo["data"]["values"]]
    assert names == styled(demo, "center", "normal") != []
    assert "align" not in halo["mark"]
    assert "stroke" not in text["mark"]


@pytest.mark.parametrize("step", ["even", "clear", "faint", "abrupt", "rises"])
def test_alarming_steps_have_a_sign_and_the_alarm_colour(step):
    chart = graph({"Hall": 0, "Room": 1}, [("Hall", "Room", step)])
    (x0, y0), (x1, y1) = places(chart).values()
    middle = [r["text"] for r in words(chart) if (r["x"], r["y"]) == ((x0 + x1) / 2, (y0 + y1) / 2)]
    link = next(line for line in lines(chart) if line["weight"] == theme.pixels("edge"))
    if step in ("abrupt", "rises"):
        assert set(middle) == {theme.STEPS[step].glyph}
        assert link["stroke"] == theme.LIGHT.alarm
    else:
        assert middle == []
        assert link["stroke"] == theme.LIGHT.soft
    signs = {"abrupt": "■ an abrupt step", "rises": "▲ the tier rises away from the entry"}
    explained = [row["text"] for row in words(chart) if row["text"].startswith(("■ ", "▲ "))]
    assert explained == [said for sign, said in signs.items() if sign == step]


@pytest.mark.parametrize("turned", [False, True])
def test_rooms_stand_below_those_that_they_are_entered_from(turned):
    """By name alone A would stand left of Z and its passage would cross the other, whichever end comes first."""
    depths = {"Hall": 0, "Left": 1, "Right": 1, "A": 2, "Z": 2}
    joined = [("Left", "Z"), ("Right", "A"), ("Hall", "Left"), ("Hall", "Right")]
    at = places(graph(depths, [(*(reversed(ends) if turned else ends), "even") for ends in joined]))
    assert at["Left"][0] < at["Right"][0]
    assert at["Z"][0] < at["A"][0]


def test_a_full_row_goes_on_in_another_of_about_the_same_length():
    at = places(graph({"Hall": 0, **{f"Room {i}": 1 for i in range(5)}}))
    below = sorted({y for name, (_, y) in at.items() if name != "Hall"})
    assert [sum(y == row for _, y in at.values()) for row in below] == [3, 2]
    assert all(46 < x < 382 for x, _ in at.values())


def test_names_of_several_lines_have_the_room_that_they_need():
    long = "Conservatory-Orangery and Winter Garden"
    chart = graph({"Hall": 0, long: 1, "Below": 2})
    at = places(chart)
    named = {row["text"]: row["y"] for row in words(chart) if row["x"] == at[long][0] and row["size"] == 10}
    lines_of_name = [y for y in named.values() if at[long][1] < y < at["Below"][1]]
    assert len(lines_of_name) > 2
    assert max(lines_of_name) + 10 < at["Below"][1] - RADIUS


def test_the_chart_ends_below_the_tiers(demo):
    squares = [row["y"] for row in rows(demo) if row.get("shape") == "square"]
    assert squares
    assert demo.to_dict()["height"] > max(squares) + 10


def test_a_passage_to_a_room_that_is_not_shown_is_left_out():
    chart = graph({"Hall": 0}, [("Hall", "Attic", "abrupt")])
    assert all(line["weight"] == theme.pixels("hatch") for line in lines(chart))
    assert {row["text"] for row in rows(chart) if row.get("text") == "■"} == set()


@pytest.mark.parametrize("alarming", ["abrupt", "rises"])
def test_alarming_passages_lie_over_the_others_that_they_cross(alarming):
    depths = {"Hall": 0, "Left": 1, "Right": 1, "Lower": 2, "Lowest": 2}
    first, later = ("Hall", "Left", "even"), ("Right", "Lower", "even")
    drawn = lines(graph(depths, [("Left", "Lowest", alarming), first, ("Hall", "Right", alarming), later]))
    links = [line["stroke"] for line in drawn if line["weight"] == theme.pixels("edge")]
    assert links == [theme.LIGHT.soft] * 2 + [theme.LIGHT.alarm] * 2


@pytest.mark.parametrize(("width", "height"), [(590, 470), (342, 300)])
def test_it_keeps_within_its_height_and_tells_names_where_they_do_not_fit(planned, width, height):
    rooms = frames.rooms(planned).iloc[:12]
    whole = charts.room_graph(rooms, frames.passages(planned), width=width)
    chart = charts.room_graph(rooms, frames.passages(planned), width=width, height=height, moved={"Library": 4})
    picture = ElementTree.fromstring(vl_convert.vegalite_to_svg(chart.to_dict()))
    assert float(picture.get("height")) <= height
    assert set(told(chart)) == set(rooms["room"])
    assert any(row["text"] == "Library" for row in words(whole))
    assert any(row["text"] == "Library" for row in words(chart)) is (height == 470)
    assert "▼ from 4" in {row["text"] for row in words(chart)}
    assert chart.to_dict()["title"]["text"] == ["Library moved down from 4 to 3"]
