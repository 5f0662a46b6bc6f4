"""Each chart says everything that it must, whatever the rooms are called, and can be drawn."""

import json
from dataclasses import replace
from functools import cache
from xml.etree import ElementTree

import altair as alt
import pytest
import vl_convert

from planner import Plan, charts
from planner.charts.names import short
from planner.charts.vega_lite import config
from planner.look import theme
from planner.planning import frames
from tests.charts.reading import SIZES, drawn, found, rows, words, written

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="session")
def pictured(planned, odd):
    """All charts of a plan by its name, width and darkness, each with its SVG; made once."""
    plans = {"planned": planned, "odd": odd}

    @cache
    def pictures(which: str, width: int, dark: bool) -> dict[str, tuple[charts.FinishedChart, str]]:
        made = drawn(plans[which], width=width, dark=dark)
        return {name: (chart, vl_convert.vegalite_to_svg(chart.to_dict())) for name, chart in made.items()}

    return pictures


@pytest.mark.parametrize(("width", "dark"), SIZES)
@pytest.mark.parametrize("which", ["planned", "odd"])
def test_charts_hold_to_the_schema_and_have_titles(pictured, which, width, dark):
    for name, (chart, _) in pictured(which, width, dark).items():
        spec = json.loads(json.dumps(chart.to_dict()))
        alt.LayerChart.validate(spec)
        assert spec["$schema"] == alt.SCHEMA_URL
        assert "".join(spec["title"]["text"]).strip()
        assert "".join(spec["title"].get("subtitle", ())).strip() or name == "floor plan"
        assert spec["config"]["background"] == theme.palette(dark).paper


def test_the_schema_check_finds_faults(planned):
    spec = drawn(planned)["importance"].to_dict() | {"layer": [{"mark": "no such mark"}]}
    with pytest.raises(Exception, match="no such mark"):
        alt.LayerChart.validate(spec)


@pytest.mark.parametrize(("width", "dark"), SIZES)
@pytest.mark.parametrize("which", ["planned", "odd"])
def test_pictures_fit_and_have_every_word_and_colour(pictured, which, width, dark):
    """Every chart comes out as a picture no wider than asked for, far from blank."""
    for name, (chart, svg) in pictured(which, width, dark).items():
        picture = ElementTree.fromstring(svg)
        wide, high = (float(picture.get(side)) for side in ("width", "height"))
        assert width * 0.9 <= wide <= width, name
        assert high > 100
        said = {line for text in picture.iter(f"{SVG}text") for line in text.itertext()}
        assert {text for text in _texts(chart) if text} <= said, name
        look, painted = theme.palette(dark), {e.get(way) for e in picture.iter() for way in ("fill", "stroke")}
        assert {look.paper, look.ink, *_fills(chart)} <= painted, name


def _texts(chart: charts.FinishedChart) -> list[str]:
    titles = [t for t in found(chart.to_dict(), "title") if isinstance(t, dict) and "text" in t]
    return [line for t in titles for line in [*t["text"], *t.get("subtitle", ())]] + [r["text"] for r in words(chart)]


def _fills(chart: charts.FinishedChart) -> set[str]:
    """Colours that stand in the data or, of the factors, in their scale."""
    drawn = [row.get("properties", row) for row in rows(chart)]
    scales = [s["range"] for s in found(chart.to_dict(), "scale") if isinstance(s, dict) and "range" in s]
    return {row["fill"] for row in drawn if "fill" in row} | {colour for scale in scales for colour in scale}


@pytest.mark.parametrize("name", ["floor plan", "room graph", "importance", "tier matrix"])
@pytest.mark.parametrize("width", [390, 1000])
@pytest.mark.parametrize("which", ["planned", "odd"])
def test_every_room_is_written_out(request, pictured, which, width, name):
    text = written(pictured(which, width, False)[name][0])
    for room in request.getfixturevalue(which).by_name:
        assert "".join(short(room).split()) in text


@pytest.mark.parametrize("name", ["floor plan", "room graph", "step down", "importance", "tier matrix"])
def test_tooltips_have_the_whole_name(odd, pictured, name):
    chart, _ = pictured("odd", 390, False)[name]
    told = json.dumps(rows(chart), ensure_ascii=False)
    for room in odd.by_name:
        whole = json.dumps(room, ensure_ascii=False)
        assert (whole[1:-1] if name == "step down" else whole) in told  # there a box may list several


@pytest.mark.parametrize(
    "name", ["floor plan", "room graph", "step down", "importance", "frontier", "element sizes", "tier matrix"]
)
def test_tooltips_tell_what_the_rows_have(pictured, name):
    """Every field of a tooltip, and of any other channel, is in each row that the layer draws."""
    spec = pictured("planned", 1000, False)[name][0].to_dict()
    told = 0
    for layer in spec["layer"]:
        for channel in _channels(layer):
            told += 1
            for row in layer["data"]["values"]:
                for part in channel["field"].split("."):
                    row = row[part]
                assert row is not None
    assert told > 5


def _channels(layer: dict) -> list[dict]:
    said = layer.get("encoding", {}).values()
    flat = [c for channel in said for c in (channel if isinstance(channel, list) else [channel])]
    return [c for c in flat if "field" in c]


@pytest.mark.parametrize("width", [390, 1000])
def test_axes_have_titles_and_units(pictured, width):
    def of(name: str) -> charts.FinishedChart:
        return pictured("planned", width, False)[name][0]

    def axis_titles(name: str) -> set[str]:
        return {axis["title"] for axis in found(of(name).to_dict(), "axis") if axis and "title" in axis}

    assert axis_titles("importance") == {"Importance (0 to 1)"}
    assert axis_titles("frontier") == {"Cost index", None}
    assert "Away from what all rooms ask for (tiers in all)" in {r["text"] for r in rows(of("frontier")) if "text" in r}
    assert "Tier" in {row["text"] for row in words(of("step down"))}
    assert "entry1step2steps" in written(of("step down"))
    assert "Room" in written(of("importance"))
    sizes = [row["text"] for row in words(of("element sizes")) if row["text"][:1].isdigit() and "/" in row["text"]]
    assert sizes and all(size.endswith('"') for size in sizes)
    assert "ft" in written(of("floor plan"))


def test_no_name_becomes_an_expression_or_a_limit(pictured):
    for chart, _ in pictured("odd", 390, False).values():
        spec = chart.to_dict()
        assert spec["config"]["axis"]["labelLimit"] == 0
        outside_data = json.dumps(_without_values(spec))
        assert "labelExpr" not in outside_data
        assert "javascript" not in outside_data.lower()
        tests = [test for test in found(spec, "test") if isinstance(test, str)]
        assert set(found(spec, "expr")) <= {"datum.align", "datum.weight"}
        assert [test for test in tests if not test.startswith("datum.properties.selected")] == []


def _without_values(node):
    if isinstance(node, dict):
        return {k: _without_values(v) for k, v in node.items() if k not in ("values", "title")}
    return [_without_values(v) for v in node] if isinstance(node, list) else node


def test_empty_frames_say_so(planned):
    empty = replace(planned, rooms=(), passages=(), routes=(), assignment=None)
    for chart, said in _empties(empty):
        assert said in " ".join(row["text"] for row in words(chart))


def _empties(empty: Plan) -> list:
    rooms = frames.rooms(empty)
    return [
        (charts.floor_plan(rooms), "No room here has an outline"),
        (charts.room_graph(rooms, frames.passages(empty)), "There are no rooms to draw"),
        (charts.step_down(frames.step_down([empty]), frames.steps([empty])), "No room has a tier"),
        (charts.importance(frames.factors(empty)), "There are no rooms to weigh"),
        (charts.frontier(frames.frontier(empty), frames.proposals(empty)), "No plan keeps every rule"),
        (charts.element_sizes(frames.elements(empty)), "There is no package to show"),
        (charts.tier_matrix(frames.compare([empty])), "Every room has the same tier"),
    ]


def test_charts_are_the_same_every_time_light_and_720_wide_unless_asked(planned):
    first, second = drawn(planned), drawn(planned, width=720, dark=False)
    assert {name: chart.to_json() for name, chart in first.items()} == {n: c.to_json() for n, c in second.items()}


@pytest.mark.parametrize("dark", [False, True])
def test_the_configuration_has_the_look(dark):
    look, said = theme.palette(dark), config(dark)
    assert (said["background"], said["font"]) == (look.paper, theme.FONT)
    assert said["title"]["color"] == said["axis"]["labelColor"] == said["text"]["color"] == look.ink
    assert said["title"]["subtitleColor"] == said["axis"]["titleColor"] == said["legend"]["titleColor"] == look.soft
    assert said["axis"]["gridColor"] == look.faint
    assert said["view"] == {"stroke": None}
    assert min(size for size in _sizes(said)) >= theme.TEXT["small"]


def _sizes(said: dict) -> list[float]:
    return [v for part in said.values() if isinstance(part, dict) for k, v in part.items() if k.endswith("ontSize")]
