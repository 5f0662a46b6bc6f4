"""Each chart says everything that it must, whatever the rooms are called, and can be drawn."""

import json
import struct
from dataclasses import replace
from time import perf_counter

import pandas as pd
import pytest
import vl_convert

from planner import Plan, charts, plan
from planner.look import theme
from planner.planning import frames

SIZES = [(390, False), (390, True), (1000, False), (1000, True)]


def drawn(planned: Plan, others: list[Plan] = (), **options) -> dict:
    """Every chart of a plan, by name."""
    rooms, passages = frames.rooms(planned), frames.passages(planned)
    compared = [planned, *others] if others else [planned, planned]
    return {
        "floor plan": charts.floor_plan(rooms, frames.openings(planned.house), selected=rooms["room"][0], **options),
        "room graph": charts.room_graph(rooms, passages, selected=rooms["room"][0], **options),
        "step down": charts.step_down(frames.routes(planned), **options),
        "importance": charts.importance(frames.factors(planned), **options),
        "element sizes": charts.element_sizes(frames.elements(planned), **options),
        "tier matrix": charts.tier_matrix(frames.compare(compared), differing_only=False, **options),
        "step down, compared": charts.step_down(frames.compare_routes(compared), **options),
    }


def rows(chart) -> list[dict]:
    """All data of a chart, wherever Altair has put it."""
    spec = chart.to_dict(validate=False)
    return [row for data in _found(spec, "values") for row in data if isinstance(row, dict)] + [
        row for data in spec.get("datasets", {}).values() for row in data
    ]


def texts(chart) -> str:
    """All that is written on a chart, without blanks, so that wrapped lines join again."""
    return "".join("".join(str(row["text"]).split()) for row in rows(chart) if "text" in row)


def _found(node, key: str) -> list:
    if isinstance(node, dict):
        here = [node[key]] if isinstance(node.get(key), list) else []
        return here + [found for value in node.values() for found in _found(value, key)]
    return [found for value in node for found in _found(value, key)] if isinstance(node, list) else []


@pytest.fixture(params=["planned", "odd"])
def any_plan(request) -> Plan:
    return request.getfixturevalue(request.param)


@pytest.mark.parametrize(("width", "dark"), SIZES)
def test_charts_are_valid_and_have_titles(any_plan, width, dark):
    for chart in drawn(any_plan, width=width, dark=dark).values():
        spec = chart.to_dict()
        assert "".join(spec["title"]["text"]).strip()
        assert spec["config"]["background"] == theme.palette(dark).paper


@pytest.mark.parametrize("name", ["floor plan", "room graph", "importance", "tier matrix"])
@pytest.mark.parametrize("width", [390, 1000])
def test_every_room_is_written_out(any_plan, name, width):
    written = texts(drawn(any_plan, width=width)[name])
    for room in any_plan.by_name:
        shown = "".join(c if c.isprintable() else " " for c in room)
        shown = " ".join(shown.split())
        if len(shown) > charts.charts.LONGEST_NAME:
            shown = shown[: charts.charts.LONGEST_NAME - 1].rstrip() + "…"
        assert "".join(shown.split()) in written


@pytest.mark.parametrize("name", ["floor plan", "room graph", "step down", "importance", "tier matrix"])
def test_tooltips_have_the_whole_name(odd, name):
    told = json.dumps(rows(drawn(odd)[name]), ensure_ascii=False)
    on_routes = {room for route in odd.routes for room in route.rooms}
    for room in on_routes if name == "step down" else odd.by_name:
        assert json.dumps(room, ensure_ascii=False) in told


def test_every_step_of_a_route_is_drawn(planned):
    bars = [row for row in rows(charts.step_down(frames.routes(planned))) if "step" in row]
    assert len(bars) == sum(len(route.rooms) for route in planned.routes)
    for row in bars:
        assert row["x2"] == planned.by_name[row["room"]].tier
        assert row["text"].startswith(str(row["x2"]))


def test_bad_steps_carry_a_sign_and_the_word():
    frame = pd.DataFrame(
        {
            "route": ["Bed"] * 4,
            "position": range(4),
            "depth": range(4),
            "room": ["Hall", "Passage", "Landing", "Bed"],
            "tier": [4, 1, 2, 2],
            "tier_name": ["Principal", "Service", "Chamber", "Chamber"],
            "tiers": [5] * 4,
            "step": ["even", "abrupt", "rises", "faint"],
        }
    )
    signs = [row["sign"] for row in rows(charts.step_down(frame)) if "sign" in row]
    assert signs == ["", "■ abrupt", "▲ rises", "~ faint"]


@pytest.mark.parametrize("width", [390, 720, 1000])
def test_axes_have_titles_and_units(planned, width):
    def axis_titles(name: str) -> set[str]:
        spec = json.dumps(drawn(planned, width=width)[name].to_dict())
        return {title for title in ("Importance (0 to 1)", "Tier") if f'"title": "{title}"' in spec}

    assert axis_titles("importance") == {"Importance (0 to 1)"}
    assert axis_titles("step down") == {"Tier"}
    assert "Stepsfromtheentry,androom" in texts(drawn(planned, width=width)["step down"])
    assert "[in]" in "".join(drawn(planned)["element sizes"].to_dict()["title"]["subtitle"])
    assert "ft" in texts(drawn(planned, width=width)["floor plan"])


def test_no_name_becomes_an_expression_or_a_limit(odd):
    for chart in drawn(odd).values():
        spec = chart.to_dict()
        assert spec["config"]["axis"]["labelLimit"] == 0
        spec.pop("datasets", None)
        outside_data = json.dumps(_without_values(spec))
        assert "labelExpr" not in outside_data
        assert "javascript" not in outside_data.lower()
        expressions = [test for test in _strings(spec, "test") if not test.startswith("datum.properties.selected")]
        assert expressions == []


def _without_values(node):
    if isinstance(node, dict):
        return {k: _without_values(v) for k, v in node.items() if k not in ("values", "title")}
    return [_without_values(v) for v in node] if isinstance(node, list) else node


def _strings(node, key: str) -> list[str]:
    if isinstance(node, dict):
        here = [node[key]] if isinstance(node.get(key), str) else []
        return here + [s for value in node.values() for s in _strings(value, key)]
    return [s for value in node for s in _strings(value, key)] if isinstance(node, list) else []


@pytest.mark.parametrize("name", ["floor plan", "room graph"])
def test_a_click_picks_a_room_alike_in_plan_and_graph(planned, name):
    (param,) = drawn(planned)[name].to_dict()["params"]
    assert param["name"] == charts.PICK
    assert param["select"] == {"type": "point", "fields": [charts.PICK_FIELD]}
    picked = [row["properties"]["room"] for row in rows(drawn(planned)[name]) if "fill" in row.get("properties", {})]
    assert set(picked) == set(planned.by_name)


def test_the_floor_plan_is_to_scale_and_labels_lie_inside(planned):
    shapes = {
        row["properties"]["room"]: row["geometry"]["coordinates"][0]
        for row in rows(drawn(planned, width=390)["floor plan"])
        if row.get("geometry", {}).get("type") == "Polygon"
    }
    scales = set()
    for name, ring in shapes.items():
        xs = [x for x, _ in ring]
        corners = [x for x, _ in planned.by_name[name].room.corners]
        scales.add(round((max(xs) - min(xs)) / (max(corners) - min(corners)), 2))
        assert min(xs) >= 0
        assert max(xs) <= 390
    assert max(scales) - min(scales) <= 0.011
    for planned_room in planned.rooms:
        box = charts.label_box(planned_room.room.corners)
        room = planned_room.room
        assert 0 < box.width * box.height <= room.area + 1e-6
        assert charts.charts._contains(room.corners, (box.x, box.y))


def test_the_room_graph_stands_in_where_there_are_no_outlines(planned):
    house = planned.house
    bare = replace(house, rooms=tuple(replace(room, outline=()) for room in house.rooms))
    rooms, passages = frames.rooms(replace(planned, house=bare)), frames.passages(planned)
    rooms["outline"] = [()] * len(rooms)
    title = charts.house_map(rooms, passages).to_dict()["title"]["text"]
    assert "depth" in " ".join(title)
    assert "no outline" not in texts(charts.floor_plan(rooms))
    assert "hasanoutline" in texts(charts.floor_plan(rooms))


def test_rooms_without_an_outline_are_named_below_the_plan(planned):
    rooms = frames.rooms(planned)
    left_out = rooms["room"].iloc[2]
    rooms.at[2, "outline"] = ()
    assert f"Withoutanoutline:{''.join(left_out.split())}" in texts(charts.floor_plan(rooms))


def test_one_level_is_drawn_alone(planned):
    for level in planned.house.levels:
        chart = charts.floor_plan(frames.rooms(planned), frames.openings(planned.house), level=level)
        assert chart.to_dict()["title"]["text"] == [f"Tier by room, {level}"]
        names = {row["properties"]["room"] for row in rows(chart) if "size" in row.get("properties", {})}
        assert names == {room.name for room in planned.house.rooms if room.level == level}


def test_empty_frames_say_so(planned):
    empty = replace(planned, rooms=(), passages=(), packages=(), routes=())
    for chart in _empties(empty):
        chart.to_dict()
        assert len(texts(chart)) > 20


def _empties(empty: Plan) -> list:
    return [
        charts.floor_plan(frames.rooms(empty)),
        charts.room_graph(frames.rooms(empty), frames.passages(empty)),
        charts.step_down(frames.routes(empty)),
        charts.importance(frames.factors(empty)),
        charts.element_sizes(frames.elements(empty)),
        charts.tier_matrix(frames.compare([empty])),
    ]


def test_compared_charts_share_their_axis_and_show_differences_only(alternatives):
    compared = frames.compare(alternatives)
    differing = {row["room"] for row in compared.to_dict("records") if row["differs"]}
    shown = {row["said"]["room"] for row in rows(charts.tier_matrix(compared)) if "said" in row}
    assert shown == differing
    panels = charts.step_down(frames.compare_routes(alternatives), width=1000).to_dict()["concat"]
    domains = {json.dumps(panel["layer"][0]["encoding"]["x"]["scale"]["domain"]) for panel in panels}
    assert len(domains) == 1
    assert {panel["width"] for panel in panels} == {panels[0]["width"]}


def test_charts_are_deterministic(planned):
    first, second = (
        {name: json.dumps(chart.to_dict(), sort_keys=True) for name, chart in drawn(planned).items()} for _ in range(2)
    )
    assert first == second


@pytest.mark.parametrize(("width", "dark"), SIZES)
@pytest.mark.parametrize("which", ["planned", "odd"])
def test_charts_can_be_drawn_and_fit(request, which, width, dark, tmp_path):
    """Every chart comes out as a picture no wider than asked for, far from blank."""
    for name, chart in drawn(request.getfixturevalue(which), width=width, dark=dark).items():
        png = vl_convert.vegalite_to_png(chart.to_dict())
        (tmp_path / f"{name}.png").write_bytes(png)
        wide, high = struct.unpack(">II", png[16:24])
        assert width * 0.9 <= wide <= width, name
        assert high > 100
        assert len(png) > 4 * len(_blank(wide, high, dark)), name


def _blank(width: int, height: int, dark: bool) -> bytes:
    """A sheet of the same size and paper with nothing on it."""
    paper = {"data": {"values": []}, "mark": "point", "width": width, "height": height, "padding": 0}
    return vl_convert.vegalite_to_png(paper | {"config": theme.config(dark)})


def test_charts_are_cheap(planned):
    """At most 25 ms each to build for the demo house's rooms, the best of five."""
    rooms, openings, passages = frames.rooms(planned), frames.openings(planned.house), frames.passages(planned)
    routes, factors, elements = frames.routes(planned), frames.factors(planned), frames.elements(planned)
    compared = frames.compare([planned, planned])
    built = {
        "floor plan": lambda: charts.floor_plan(rooms, openings),
        "room graph": lambda: charts.room_graph(rooms, passages),
        "step down": lambda: charts.step_down(routes),
        "importance": lambda: charts.importance(factors),
        "element sizes": lambda: charts.element_sizes(elements),
        "tier matrix": lambda: charts.tier_matrix(compared, differing_only=False),
    }
    for name, build in built.items():
        assert min(_seconds(build) for _ in range(5)) < 0.025, name


def _seconds(build) -> float:
    start = perf_counter()
    build()
    return perf_counter() - start


def test_small_rooms_have_distinct_keys():
    keys = [charts.charts._letters(i) for i in range(800)]
    assert keys[:2] + keys[25:27] == ["a", "b", "z", "aa"]
    assert len(set(keys)) == 800


def test_the_floor_plan_shows_the_plans_own_tiers(planned):
    cottage = plan(planned.house, replace(planned.intent, grade="cottage"))
    assert _tiers(planned) != _tiers(cottage)
    for one in (planned, cottage):
        assert _tiers(one) == {name: f"{r.tier} {one.tier_names[r.tier - 1]}" for name, r in one.by_name.items()}


def _tiers(planned: Plan) -> dict[str, str]:
    shown = (row["properties"] for row in rows(drawn(planned)["floor plan"]) if "size" in row.get("properties", {}))
    return {properties["room"]: properties["tier"] for properties in shown}
