"""The step-down shows every step of every walk, and tells the grave ones without colour."""

import pandas as pd
import pytest

from planner import charts
from planner.look import theme
from planner.planning import frames
from tests.charts.reading import found, rows, words

WALK = {
    "route": ["Bed"] * 4,
    "position": range(4),
    "depth": range(4),
    "room": ["Hall", "Passage", "Landing", "Bed"],
    "tier": [4, 1, 2, 2],
    "tier_name": ["Principal", "Service", "Chamber", "Chamber"],
    "tiers": [5] * 4,
    "step": ["even", "abrupt", "rises", "faint"],
}


def bars(panel: dict) -> list[dict]:
    return panel["data"]["values"]


@pytest.fixture(scope="module")
def walk() -> charts.FinishedChart:
    return charts.step_down(pd.DataFrame(WALK))


@pytest.fixture(scope="module", params=[390, 1000])
def demo(request, planned) -> charts.FinishedChart:
    return charts.step_down(frames.routes(planned), width=request.param)


def test_every_step_of_every_walk_is_drawn_in_order(planned, demo):
    panels = demo.to_dict()["concat"]
    assert [panel["title"]["text"][0] for panel in panels] == [f"To {route.room}" for route in planned.routes]
    for panel, route in zip(panels, planned.routes, strict=True):
        assert [bar["room"] for bar in bars(panel)] == list(route.rooms)
        assert [bar["x2"] for bar in bars(panel)] == [planned.by_name[room].tier for room in route.rooms]
        middles = [bar["mid"] for bar in bars(panel)]
        assert middles == sorted(middles)
        for bar in bars(panel):
            assert bar["x"] == 0
            assert bar["y"] < bar["mid"] < bar["y2"]
            assert bar["text"] in (str(bar["x2"]), bar["tier"])
            assert bar["tier"] == f"{bar['x2']} {planned.tier_names[bar['x2'] - 1]}"
        names = [row["text"] for row in rows_of_names(panel)]
        assert names[0] == f"0 {route.rooms[0]}"


def rows_of_names(panel: dict) -> list[dict]:
    return panel["layer"][3]["data"]["values"]


@pytest.mark.parametrize("dark", [False, True])
def test_bars_have_their_tiers_colours_and_text_that_stands_out(dark):
    (panel,) = charts.step_down(pd.DataFrame(WALK), dark=dark).to_dict()["concat"]
    ramp = theme.ramp(5, dark)
    assert [bar["fill"] for bar in bars(panel)] == [ramp[tier - 1] for tier in WALK["tier"]]
    assert all(theme.contrast(bar["fill"], bar["ink"]) > 4.5 for bar in bars(panel))


def test_bad_steps_carry_a_sign_and_the_word(walk):
    assert [row["sign"] for row in rows(walk) if "sign" in row] == ["", "■ abrupt", "▲ rises", "~ faint"]
    signs = walk.to_dict()["concat"][0]["layer"][2]
    assert signs["encoding"]["text"]["field"] == "sign"
    assert signs["mark"]["color"] == theme.LIGHT.alarm
    subtitle = " ".join(walk.to_dict()["title"]["subtitle"])
    assert "■ abrupt step; ▲ rising step; ~ step too faint to see" in subtitle


def test_the_subtitle_names_the_tiers_from_the_highest(walk):
    subtitle = " ".join(walk.to_dict()["title"]["subtitle"])
    assert subtitle.startswith("Tier of 5: 4 Principal, 2 Chamber, 1 Service. ")


def test_bars_too_short_for_the_name_have_the_number(walk):
    (wide,) = walk.to_dict()["concat"]
    assert [bar["text"] for bar in bars(wide)] == ["4 Principal", "1 Service", "2 Chamber", "2 Chamber"]
    (narrow,) = charts.step_down(pd.DataFrame(WALK), width=342).to_dict()["concat"]
    assert [bar["text"] for bar in bars(narrow)] == ["4 Principal", "1", "2", "2"]


def test_the_axis_has_every_tier_and_room_for_signs(demo):
    for panel in demo.to_dict()["concat"]:
        axis = panel["layer"][0]["encoding"]["x"]["axis"]
        assert axis["values"] == [1, 2, 3, 4, 5]
        end = panel["layer"][0]["encoding"]["x"]["scale"]["domain"][1]
        beyond = panel["width"] * (1 - 5 / end)
        assert beyond == pytest.approx(66)


def test_walks_keep_the_order_that_they_come_in():
    frame = pd.concat([pd.DataFrame(WALK | {"route": [name] * 4}) for name in ("Nursery", "Attic", "Bed")])
    heads = [panel["title"]["text"] for panel in charts.step_down(frame).to_dict()["concat"]]
    assert heads == [["To Nursery"], ["To Attic"], ["To Bed"]]


def test_walks_stand_side_by_side_where_there_is_room(planned):
    routes, widths = frames.routes(planned), (390, 683, 684, 1037, 1038)
    assert [charts.step_down(routes, width=width).to_dict()["columns"] for width in widths] == [1, 1, 2, 2, 3]
    assert charts.step_down(pd.DataFrame(WALK), width=2000).to_dict()["columns"] == 1


@pytest.mark.parametrize("width", [342, 684, 1038])
def test_walks_and_the_gaps_between_them_share_the_width(planned, width):
    spec = charts.step_down(frames.routes(planned), width=width).to_dict()
    for panel in spec["concat"]:
        names = -panel["layer"][4]["encoding"]["x"]["value"]
        assert 100 < names <= 170
        whole = names + panel["width"] + 12
        assert spec["columns"] * whole + (spec["columns"] - 1) * 24 == pytest.approx(width)
        assert panel["height"] == bars(panel)[-1]["mid"] + bars(panel)[0]["mid"]


def test_the_same_walk_of_all_alternatives_stands_side_by_side_on_one_axis(alternatives):
    frame = frames.compare_routes(alternatives)
    spec = charts.step_down(frame, width=1100).to_dict()
    heads = [" ".join(panel["title"]["text"]) for panel in spec["concat"]]
    walks = [route.room for route in alternatives[0].routes]
    assert heads == [f"To {walk} · {p.intent.title}" for walk in walks for p in alternatives]
    assert spec["columns"] == len(alternatives)
    domains = [panel["layer"][0]["encoding"]["x"]["scale"]["domain"] for panel in spec["concat"]]
    assert all(domain == domains[0] for domain in domains)
    assert len({panel["width"] for panel in spec["concat"]}) == 1


def test_a_room_that_is_passed_twice_keeps_its_place():
    frame = pd.DataFrame(WALK | {"room": ["Hall", "Passage", "Hall", "Bed"]})
    (panel,) = charts.step_down(frame).to_dict()["concat"]
    assert len({bar["mid"] for bar in bars(panel)}) == 4
    names = {row["text"]: row["y"] for row in rows_of_names(panel)}
    assert names["0 Hall"] < names["1 Passage"] < names["2 Hall"] < names["3 Bed"]


def test_names_stand_beside_their_bars(walk):
    (panel,) = walk.to_dict()["concat"]
    assert [row["y"] for row in rows_of_names(panel)] == [bar["mid"] for bar in bars(panel)]
    assert "Steps from the entry, and room" in {row["text"] for row in words(walk)}
    assert not any(axis and "labelExpr" in axis for axis in found(walk.to_dict(), "axis"))
