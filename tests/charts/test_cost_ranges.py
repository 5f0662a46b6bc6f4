"""What alternatives cost, as it is drawn."""

import pandas as pd
import pytest

from planner import charts
from planner.planning import frames
from tests.charts.reading import layers, words


def costs(*rows):
    every = [(name, "USD", cost, low, high, 100.0, 7, 28) for name, cost, low, high in rows]
    return pd.DataFrame(every, columns=frames.COSTS)


def titled(chart):
    return " ".join(chart.to_dict()["title"]["text"])


THREE = costs(("Plain", 40_000.4, 33_000, 52_000), ("Rich", 61_000, 50_000, 80_000), ("Mean", 39_000, 30_000, 45_000))


def test_the_title_says_which_costs_least_and_by_how_much():
    assert titled(charts.cost_ranges(THREE)) == "Mean costs least, USD 1,000 less than the next"
    assert titled(charts.cost_ranges(THREE[1:2])) == "Rich costs USD 61,000"
    alike = costs(("A", 5.0, 4.0, 6.0), ("B", 5.2, 4.0, 6.0))
    assert titled(charts.cost_ranges(alike)) == "A and B cost the same, and least"


def test_a_line_runs_over_the_range_and_a_dot_stands_at_the_cost():
    chart = charts.cost_ranges(THREE)
    (rule,), (dot,) = layers(chart, "rule"), layers(chart, "point")
    for layer in (rule, dot):
        assert [(r["low"], r["cost"], r["high"]) for r in layer["data"]["values"]] == [
            (33_000, 40_000.4, 52_000), (50_000, 61_000, 80_000), (30_000, 39_000, 45_000)
        ]  # fmt: skip
    assert (rule["encoding"]["x"]["field"], rule["encoding"]["x2"]["field"]) == ("low", "high")
    assert dot["encoding"]["x"]["field"] == "cost"
    assert {"40,000", "61,000", "39,000"} <= {row["text"] for row in words(chart)}


@pytest.mark.parametrize("width", [390, 900])
def test_money_is_measured_from_nothing_and_all_of_it_is_within(width):
    domain = layers(charts.cost_ranges(THREE, width=width), "rule")[0]["encoding"]["x"]["scale"]["domain"]
    assert domain[0] == 0 and domain[1] > 80_000


def test_how_many_rates_are_assumptions_stands_below_the_title():
    assert "7 of 28 are assumptions" in " ".join(charts.cost_ranges(THREE).to_dict()["title"]["subtitle"])


def test_where_nothing_was_taken_off_it_says_so():
    assert "None of them could be taken off." in str(charts.cost_ranges(costs()).to_dict())
