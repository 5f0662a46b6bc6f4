"""Rows of a frame come out as pandas itself would write them, and a title is as high as it says."""

from xml.etree import ElementTree

import pandas as pd
import pytest
import vl_convert

from planner.charts.finished import FinishedChart
from planner.charts.vega_lite import config, records, title, title_height
from planner.planning import frames


@pytest.mark.parametrize("of", [frames.rooms, frames.openings, frames.passages, frames.elements])
def test_records_are_those_of_pandas(planned, of):
    frame = of(planned)
    rows = records(frame)
    assert len(rows) == len(frame) > 0
    assert repr(rows) == repr(frame.to_dict("records"))


def test_a_frame_without_rows_or_columns_has_no_records():
    assert records(pd.DataFrame({"room": []})) == records(pd.DataFrame()) == []


@pytest.mark.parametrize(
    ("text", "subtitle"), [("One line", ""), ("One line", "under it"), ("word " * 40, "said " * 60)]
)
def test_a_title_is_as_high_as_it_says(text, subtitle):
    said = title(text, subtitle, 300)

    def high(spec: dict) -> float:
        layer = [{"data": {"values": [{}]}, "mark": "rect"}]
        chart = FinishedChart({"width": 300, "height": 100, "padding": 0, "layer": layer, "config": config()} | spec)
        return float(ElementTree.fromstring(vl_convert.vegalite_to_svg(chart.to_dict())).get("height"))

    assert high({"title": said}) - high({}) == pytest.approx(title_height(text, subtitle, 300), abs=1)


# Properties of the Object prototype object of ECMA-262 and of its Annex B.
OF_EVERY_OBJECT = ["constructor", "hasOwnProperty", "isPrototypeOf", "propertyIsEnumerable", "toLocaleString"]
OF_EVERY_OBJECT += ["toString", "valueOf", "__proto__"]
OF_EVERY_OBJECT += ["__defineGetter__", "__defineSetter__", "__lookupGetter__", "__lookupSetter__"]


@pytest.mark.parametrize("name", OF_EVERY_OBJECT)
@pytest.mark.parametrize("part", ["text", "subtitle"])
def test_a_title_called_as_every_object_s_property_is_drawn(name, part):
    drawn(name, part)
    drawn(f"{'w' * 28} {name}", part)


def drawn(text: str, part: str) -> None:
    said = title(*((text, "under it") if part == "text" else ("One line", text)), 300)
    layer = [{"data": {"values": [{}]}, "mark": "rect"}]
    svg = vl_convert.vegalite_to_svg(FinishedChart({"layer": layer, "title": said, "config": config()}).to_dict())
    assert text.split()[-1] in svg.replace("description", "")
