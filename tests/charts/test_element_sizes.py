"""Sizes are written for every element and tier, and compared by bars within a row."""

import pytest

from planner import charts
from planner.look import theme
from planner.planning import frames
from tests.charts.reading import rows, styled, words, written


@pytest.fixture(scope="module")
def elements(planned):
    return frames.elements(planned)


def blocks(chart: charts.FinishedChart) -> list[dict]:
    return [row for row in rows(chart) if "said" in row]


@pytest.mark.parametrize("ceiling", [108.0, 120.0])
def test_every_element_under_the_ceiling_is_shown(planned, elements, ceiling):
    chart = charts.element_sizes(elements, ceiling=ceiling)
    packages = [p for p in planned.packages if p.ceiling == ceiling]
    assert packages
    expected = {(e.element, e.form, p.tier) for p in packages for e in p.elements}
    shown = {(b["said"]["element"], b["said"]["form"], int(b["said"]["tier"].split()[0])) for b in blocks(chart)}
    assert shown == expected
    assert len(blocks(chart)) == len(expected)


def test_the_title_names_the_ceiling_which_is_the_highest_unless_asked(elements):
    assert charts.element_sizes(elements).to_dict() == charts.element_sizes(elements, ceiling=120.0).to_dict()
    titles = [charts.element_sizes(elements, ceiling=c).to_dict()["title"]["text"] for c in (120.0, 108.0)]
    assert titles == [
        ["Sizes of trim by tier under a 10'-0\" ceiling"],
        ["Sizes of trim by tier under a 9'-0\" ceiling"],
    ]


def test_a_ceiling_that_no_package_has_says_so(elements):
    assert "Thereisnopackagetoshow." in written(charts.element_sizes(elements, ceiling=99.0))


def test_bars_compare_sizes_within_a_row_and_say_them(elements):
    shown = elements[elements["ceiling"] == 120.0].to_dict("records")
    drawn = blocks(charts.element_sizes(elements))
    texts = words(charts.element_sizes(elements))
    longest = {e["element"]: max(o["size"] for o in shown if o["element"] == e["element"]) for e in shown}
    full = max(block["x2"] - block["x"] for block in drawn)
    for e, block in zip(shown, drawn, strict=True):
        assert block["x2"] - block["x"] == pytest.approx(full * e["size"] / longest[e["element"]])
        assert block["said"]["size"] == e["size_text"]
        assert block["said"]["projection"] == e["projection_text"]
        assert 5 < block["y2"] - block["y"] < 15
        above = [t["text"] for t in texts if t["x"] == block["x"] and 6 < block["y"] - t["y"] < 12]
        assert above == [e["size_text"]]


@pytest.mark.parametrize("dark", [False, True])
def test_tiers_stand_side_by_side_from_the_lowest_in_their_colours(planned, elements, dark):
    chart = charts.element_sizes(elements, dark=dark)
    ramp = theme.ramp(len(planned.tier_names), dark)
    numbers = {t["text"]: t["x"] for t in words(chart) if t["y"] == 21}
    names = {t["x"]: t["text"] for t in words(chart) if t["y"] == 35 and t["text"]}
    for block in blocks(chart):
        number, name = block["said"]["tier"].split()
        assert block["fill"] == ramp[int(number) - 1]
        assert numbers[number] == block["x"]
        assert names[block["x"]] == name
    (heading,) = (t for t in words(chart) if t["text"] == "Tier")
    assert (heading["x"], heading["y"]) == (numbers["1"], 6)
    assert list(numbers) == [str(n) for n in range(1, len(numbers) + 1)]
    assert list(numbers.values()) == sorted(numbers.values())


def test_columns_share_what_the_names_leave_of_the_width(elements):
    chart = charts.element_sizes(elements, width=720)
    named, bold = styled(chart, "right", "normal"), styled(chart, "left", "bold")
    left, cell = named[0]["x"] + 6, bold[1]["x"] - bold[0]["x"]
    assert [row["x"] - left for row in bold] == pytest.approx([4 + i * cell for i in range(len(bold))])
    assert left + len(bold) * cell == pytest.approx(712)
    assert max(block["x2"] - block["x"] for block in blocks(chart)) == pytest.approx(cell - 10)


def test_rows_are_named_in_the_order_of_the_highest_tier(elements):
    shown = elements[elements["ceiling"] == 120.0]
    richest = list(shown[shown["tier"] == shown["tier"].max()]["element"])
    chart = charts.element_sizes(elements, width=1000)
    heights = {block["said"]["element"]: block["y"] for block in blocks(chart)}
    assert sorted(heights, key=heights.__getitem__)[: len(richest)] == richest
    names = {t["text"]: t["y"] for t in words(chart)}
    for element, y in heights.items():
        assert abs(names[element.capitalize()] - y) < 6
