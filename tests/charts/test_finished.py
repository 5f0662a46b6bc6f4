"""A finished specification is an Altair chart: shown as it was given, and changed by Altair's own methods."""

import io
import json
import pickle

import altair as alt
import marimo as mo
import pytest

from planner.charts import FinishedChart
from tests.charts.reading import found

SPEC = {
    "title": {"text": ["Steps"]},
    "config": {"background": "#fdfcf9"},
    "layer": [{"data": {"values": [{"a": 1}]}, "mark": "point", "encoding": {"x": {"field": "a", "type": "ordinal"}}}],
}


@pytest.fixture
def chart() -> FinishedChart:
    return FinishedChart(SPEC)


def test_it_is_written_as_it_was_given(chart):
    assert chart.to_dict() == {"$schema": alt.SCHEMA_URL, "description": "Steps", **SPEC}
    assert chart.to_dict(format="vega")["background"] == "#fdfcf9"
    page = io.StringIO()
    chart.save(page, format="html")
    assert '"text": ["Steps"]' in page.getvalue()
    picture = io.BytesIO()
    chart.save(picture, format="png")
    assert picture.getvalue().startswith(b"\x89PNG")
    assert pickle.loads(pickle.dumps(chart)).to_dict() == chart.to_dict()


def test_what_is_written_can_be_written_into(chart):
    said = chart.to_dict()
    said["layer"][0]["encoding"]["x"]["field"] = "b"
    said["layer"][0]["data"]["values"].clear()
    assert chart.to_dict() == {"$schema": alt.SCHEMA_URL, "description": "Steps", **SPEC}


def test_parts_are_replaced_and_the_chart_stays(chart):
    titled = chart.properties(title=alt.Title("Stairs", subtitle="plainly"), width=300)
    anew = {"description": "Stairs. plainly", "title": {"text": "Stairs", "subtitle": "plainly"}, "width": 300}
    assert titled.to_dict() == chart.to_dict() | anew
    assert chart.properties(width=300).to_dict()["description"] == "Steps"
    assert chart.to_dict()["title"] == SPEC["title"]


def test_what_is_spoken_stays_beside_the_title():
    spoken = FinishedChart(SPEC, "Hall, tier 4.")
    assert spoken.to_dict()["description"] == "Steps. Hall, tier 4."
    assert spoken.properties(title="Stairs").to_dict()["description"] == "Stairs. Hall, tier 4."


def test_other_changes_give_a_chart_of_altairs_own(chart):
    changed = chart.configure_axis(grid=False)
    assert type(changed) is alt.LayerChart
    with alt.theme.enable("none"):
        said = changed.to_dict()
    assert said["config"] == SPEC["config"] | {"axis": {"grid": False}}
    assert '{"a": 1}' in json.dumps(said)
    for part in ("mark", "encoding"):
        assert list(found(said, part)) == list(found(SPEC, part))


def test_what_cannot_be_done_is_refused_not_left_undone(chart):
    with pytest.raises(TypeError, match="cannot be used within HConcatChart"):
        alt.hconcat(chart, chart)
    with pytest.raises(AttributeError):
        chart.interactive()


def test_it_is_a_control_in_an_app_without_being_copied(chart):
    control = mo.ui.altair_chart(chart, chart_selection=False, legend_selection=False)
    assert chart.copy() is chart
    assert "Steps" in control.text
    assert "Steps" in mo.as_html(chart).text
