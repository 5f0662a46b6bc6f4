"""What the money of a plan goes to, as it is drawn."""

import pandas as pd
import pytest

from planner import charts
from planner.planning import frames
from tests.charts.reading import layers, words

ROWS = [("crown", 100.0, 300.0, 50.0, 40.0, 10.0, 500.0), ("base", 50.0, 20.0, 20.0, 5.0, 5.0, 100.0)]
TWO = pd.DataFrame(ROWS, columns=["element", *frames.COST[5:]])


def test_bars_are_made_up_of_parts_that_end_at_the_cost():
    (bars,) = layers(charts.cost_parts(TWO, "Element", "USD"), "rect")
    for row in TWO.to_dict("records"):
        parts = [one for one in bars["data"]["values"] if one["group"] == row["element"]]
        assert [one["part"] for one in parts] == ["material", "labour", "finish", "markup", "tax"]
        assert [one["x"] for one in parts[1:]] == [one["x2"] for one in parts[:-1]]
        assert parts[0]["x"] == 0 and parts[-1]["x2"] == pytest.approx(row["cost"])
    assert {"500", "100"} <= {row["text"] for row in words(charts.cost_parts(TWO, "Element", "USD"))}


def test_the_title_says_where_most_goes():
    text = " ".join(charts.cost_parts(TWO, "Element", "USD").to_dict()["title"]["text"])
    assert text == "The largest part of USD 600 goes to crown, 500; 53% of all is labour"


def test_a_figure_stands_within_the_plot():
    domain = layers(charts.cost_parts(TWO, "Element", "USD", width=390), "rect")[0]["encoding"]["x"]["scale"]["domain"]
    assert domain[0] == 0 and domain[1] > 510


def test_where_nothing_is_taken_off_it_says_so():
    assert "could not be taken off" in str(charts.cost_parts(TWO.head(0), "Element", "USD").to_dict())
