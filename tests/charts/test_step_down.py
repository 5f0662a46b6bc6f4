"""The step-down shows every step of every walk, and tells the grave ones without colour."""

from dataclasses import dataclass
from itertools import combinations, pairwise

import pandas as pd
import pytest

from planner import charts
from planner.charts.step_down import NAMES_HEADING
from planner.look import theme
from planner.planning import frames
from tests.charts.reading import extent, lines, rows, words

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


LONG = "Conservatory-Orangery and Winter Garden with the Fernery"


@dataclass
class Seen:
    """A walk as it is seen: what stands in its column from its head down to the word Tier."""

    left: float
    heading: float
    bottom: float
    words: list[dict]
    bars: list[dict]
    lines: list[dict]

    @property
    def head(self) -> list[str]:
        return [word["text"] for word in sorted(self.heads, key=lambda word: word["y"])]

    @property
    def heads(self) -> list[dict]:
        return [word for word in self.words if word["y"] < self.heading]

    @property
    def names(self) -> list[dict]:
        return [w for w in self.words if w["align"] == "right" and w["x"] < self.bars[0]["x"]]

    @property
    def numbers(self) -> list[dict]:
        return [word for word in self.words if word["align"] == "center" and word["text"] != "Tier"]

    @property
    def axis(self) -> list[list[float]]:
        """From and to where the line goes that the bars stand on."""
        (axis,) = (line["at"] for line in self.lines if line["at"][0][1] == line["at"][1][1])
        return axis

    def tier(self, bar: dict) -> int:
        """As many tiers as a bar reaches, by the numbers of the axis."""
        return next(int(n["text"]) for n in self.numbers if n["x"] == pytest.approx(bar["x2"] + 0.5))

    def inside(self, bar: dict) -> dict:
        """The word written in a bar."""
        (word,) = (w for w in self.words if bar["x"] < w["x"] < bar["x2"] and bar["y"] < w["y"] < bar["y2"])
        return word

    def beside(self, bar: dict) -> list[dict]:
        """What is written right of a bar."""
        return [w for w in self.words if w["x"] > bar["x2"] and bar["y"] < w["y"] < bar["y2"]]


def walks(chart: charts.FinishedChart) -> list[Seen]:
    """The walks of a chart in the order in which they are read, row by row."""
    headings = sorted((w["y"], w["x"]) for w in words(chart) if w["text"] == NAMES_HEADING)
    lefts = sorted({x for _, x in headings})
    ends = {
        x: sorted(w["y"] for w in words(chart) if w["text"] == "Tier" and _column(lefts, w["x"]) == x) for x in lefts
    }
    seen = []
    for y, x in headings:
        bottom = next(end for end in ends[x] if end > y)
        seen.append(Seen(x, y, bottom, *(_of_walk(chart, lefts, ends, x, bottom, kind) for kind in range(3))))
    return seen


def _of_walk(
    chart, lefts: list[float], ends: dict[float, list[float]], left: float, bottom: float, kind: int
) -> list[dict]:
    """Words, bars or lines whose column and place in it are those of a walk."""
    drawn = (words(chart), [row for row in rows(chart) if "said" in row], lines(chart))[kind]
    places = [row["at"][0] if kind == 2 else (row["x"], row["y"]) for row in drawn]
    return [
        row
        for row, (x, y) in zip(drawn, places, strict=True)
        if _column(lefts, x) == left and next(end for end in ends[left] if end >= y) == bottom
    ]


def _column(lefts: list[float], x: float) -> float:
    return max(left for left in lefts if left <= x)


@pytest.fixture(scope="module")
def walk() -> charts.FinishedChart:
    return charts.step_down(pd.DataFrame(WALK))


@pytest.fixture(scope="module", params=[390, 1000])
def demo(request, planned) -> charts.FinishedChart:
    return charts.step_down(frames.routes(planned), width=request.param)


def test_every_step_of_every_walk_is_drawn_in_order(planned, demo):
    seen = walks(demo)
    assert [each.head for each in seen] == [[f"To {route.room}"] for route in planned.routes]
    for each, route in zip(seen, planned.routes, strict=True):
        assert [bar["said"]["room"] for bar in each.bars] == list(route.rooms)
        assert [each.tier(bar) for bar in each.bars] == [planned.by_name[room].tier for room in route.rooms]
        assert len({bar["x"] for bar in each.bars}) == 1
        for above, bar in pairwise(each.bars):
            assert above["y"] < above["y2"] < bar["y"] < bar["y2"]
        for bar in each.bars:
            assert bar["said"]["tier"] == f"{each.tier(bar)} {planned.tier_names[each.tier(bar) - 1]}"
            assert each.inside(bar)["text"] in (str(each.tier(bar)), bar["said"]["tier"])
        said = " ".join(name["text"] for name in each.names)
        assert said == " ".join(f"{i} {room}" for i, room in enumerate(route.rooms))


def test_tooltips_tell_room_tier_and_step(walk):
    (layer,) = (layer for layer in walk.to_dict()["layer"] if layer["mark"]["type"] == "rect")
    assert [channel["title"] for channel in layer["encoding"]["tooltip"]] == ["room", "tier", "step"]
    (seen,) = walks(walk)
    assert [bar["said"] for bar in seen.bars] == [
        {"room": "Hall", "tier": "4 Principal", "step": theme.STEPS["even"].word},
        {"room": "Passage", "tier": "1 Service", "step": "abrupt"},
        {"room": "Landing", "tier": "2 Chamber", "step": "rises"},
        {"room": "Bed", "tier": "2 Chamber", "step": "faint"},
    ]


@pytest.mark.parametrize("dark", [False, True])
def test_bars_have_their_tiers_colours_and_text_that_stands_out(dark):
    (seen,) = walks(charts.step_down(pd.DataFrame(WALK), dark=dark))
    ramp = theme.ramp(5, dark)
    assert [bar["fill"] for bar in seen.bars] == [ramp[tier - 1] for tier in WALK["tier"]]
    assert all(theme.contrast(bar["fill"], seen.inside(bar)["ink"]) > 4.5 for bar in seen.bars)


def test_bad_steps_carry_a_sign_and_the_word(walk):
    (seen,) = walks(walk)
    none, *signs = (seen.beside(bar) for bar in seen.bars)
    assert none == []
    assert [[sign["text"] for sign in beside] for beside in signs] == [["■ abrupt"], ["▲ rises"], ["~ faint"]]
    for bar, (sign,) in zip(seen.bars[1:], signs, strict=True):
        assert (sign["x"], sign["y"]) == (bar["x2"] + 5, pytest.approx((bar["y"] + bar["y2"]) / 2))
        assert (sign["ink"], sign["align"], sign["weight"]) == (theme.LIGHT.alarm, "left", "bold")
    subtitle = " ".join(walk.to_dict()["title"]["subtitle"])
    assert "■ abrupt step; ▲ rising step; ~ step too faint to see" in subtitle


def test_the_subtitle_names_the_tiers_from_the_highest(walk):
    subtitle = " ".join(walk.to_dict()["title"]["subtitle"])
    assert subtitle.startswith("Tier of 5: 4 Principal, 2 Chamber, 1 Service. ")


def test_bars_too_short_for_the_name_have_the_number(walk):
    (wide,) = walks(walk)
    assert [wide.inside(bar)["text"] for bar in wide.bars] == ["4 Principal", "1 Service", "2 Chamber", "2 Chamber"]
    (narrow,) = walks(charts.step_down(pd.DataFrame(WALK), width=342))
    assert [narrow.inside(bar)["text"] for bar in narrow.bars] == ["4 Principal", "1", "2", "2"]


def test_words_in_bars_keep_within_them(walk):
    for chart in (walk, charts.step_down(pd.DataFrame(WALK), width=342)):
        (seen,) = walks(chart)
        for bar in seen.bars:
            west, _, east, _ = extent(seen.inside(bar))
            assert bar["x"] + 4 < west < east == pytest.approx(bar["x2"] - 5)


def test_the_axis_has_every_tier_and_room_for_signs(demo):
    for each in walks(demo):
        (x0, y), (x1, _) = each.axis
        assert [number["text"] for number in each.numbers] == ["1", "2", "3", "4", "5"]
        assert [number["y"] for number in each.numbers] == pytest.approx([y + 12.5] * 5, abs=0.51)
        places = [x0 + 0.5, *(number["x"] for number in each.numbers)]
        assert [b - a for a, b in pairwise(places)] == pytest.approx([places[1] - places[0]] * 5)
        assert (x0, x1 - places[-1]) == pytest.approx((each.bars[0]["x"], 66 - 0.5), abs=0.01)
        (title,) = (word for word in each.words if word["text"] == "Tier")
        assert (title["x"], title["align"]) == (pytest.approx((x0 + x1) / 2, abs=0.01), "center")
        assert title["y"] > each.numbers[0]["y"] + 10
        assert title["ink"] == theme.LIGHT.soft


def test_every_tier_has_a_line_behind_the_bars_and_a_tick_below_them(demo):
    for each in walks(demo):
        y = each.axis[0][1]
        upright = [line for line in each.lines if line["at"][0][0] == line["at"][1][0]]
        grid = [line for line in upright if line["at"][0][1] == each.heading + 8]
        ticks = [line for line in upright if line not in grid]
        for those, colour, weight in ((grid, theme.LIGHT.faint, "hatch"), (ticks, theme.LIGHT.soft, "edge")):
            assert {(line["stroke"], line["weight"]) for line in those} == {(colour, theme.pixels(weight))}
            places = [line["at"][0][0] for line in those]
            assert places == pytest.approx([number["x"] for number in each.numbers], abs=0.51)
        assert all(line["at"][1][1] == pytest.approx(y, abs=0.51) for line in grid)
        assert all(line["at"][0][1] == pytest.approx(y, abs=0.51) for line in ticks)
        assert all(4 <= line["at"][1][1] - line["at"][0][1] <= 6 for line in ticks)
    kinds = [layer["mark"]["type"] for layer in demo.to_dict()["layer"]]
    assert kinds == ["geoshape", "rect", "text"]


def test_walks_keep_the_order_that_they_come_in():
    frame = pd.concat([pd.DataFrame(WALK | {"route": [name] * 4}) for name in ("Nursery", "Attic", "Bed")])
    assert [each.head for each in walks(charts.step_down(frame))] == [["To Nursery"], ["To Attic"], ["To Bed"]]


def test_walks_stand_side_by_side_where_there_is_room(planned):
    routes, widths = frames.routes(planned), (390, 683, 684, 1037, 1038)
    assert [_columns(charts.step_down(routes, width=width)) for width in widths] == [1, 1, 2, 2, 3]
    assert _columns(charts.step_down(pd.DataFrame(WALK), width=2000)) == 1


def _columns(chart: charts.FinishedChart) -> int:
    return len({each.left for each in walks(chart)})


@pytest.mark.parametrize("width", [342, 684, 1038])
def test_walks_and_the_gaps_between_them_share_the_width(planned, width):
    seen = walks(charts.step_down(frames.routes(planned), width=width))
    columns = sorted({each.left for each in seen})
    panel = (width - 24 * (len(columns) - 1)) / len(columns)
    assert columns == pytest.approx([i * (panel + 24) for i in range(len(columns))])
    for each in seen:
        assert 100 < each.bars[0]["x"] - each.left <= 170
        assert each.axis[1][0] == pytest.approx(each.left + panel - 12)
        first, last = each.bars[0], each.bars[-1]
        top = each.heading + 8
        assert each.axis[0][1] - last["y2"] == pytest.approx(first["y"] - top, abs=0.51)


def test_the_same_walk_of_all_alternatives_stands_side_by_side_on_one_axis(alternatives):
    frame = frames.compare_routes(alternatives)
    seen = walks(charts.step_down(frame, width=1100))
    titles = [p.intent.title for p in alternatives]
    assert [" ".join(each.head) for each in seen] == [
        f"To {route.room} · {title}" for route in alternatives[0].routes for title in titles
    ]
    assert len({each.left for each in seen}) == len(alternatives)
    for beside in zip(*[iter(seen)] * len(alternatives), strict=True):
        assert len({each.heading for each in beside}) == len({each.axis[0][1] for each in beside}) == 1
    axes = [[x - each.left for x in (each.axis[0][0], *(n["x"] for n in each.numbers))] for each in seen]
    assert all(axis == pytest.approx(axes[0]) for axis in axes)


def test_a_room_that_is_passed_twice_keeps_its_place():
    frame = pd.DataFrame(WALK | {"room": ["Hall", "Passage", "Hall", "Bed"]})
    (seen,) = walks(charts.step_down(frame))
    assert [bar["said"]["room"] for bar in seen.bars] == ["Hall", "Passage", "Hall", "Bed"]
    assert len({bar["y"] for bar in seen.bars}) == 4
    names = {row["text"]: row["y"] for row in seen.names}
    assert names["0 Hall"] < names["1 Passage"] < names["2 Hall"] < names["3 Bed"]


def test_names_stand_beside_their_bars(walk):
    (seen,) = walks(walk)
    assert [row["y"] for row in seen.names] == pytest.approx([(bar["y"] + bar["y2"]) / 2 for bar in seen.bars])
    assert {bar["x"] - row["x"] for bar, row in zip(seen.bars, seen.names, strict=True)} == {8}
    (heading,) = (row for row in words(walk) if row["text"] == "Steps from the entry, and room")
    assert (heading["x"], heading["ink"]) == (seen.left, theme.LIGHT.soft)
    assert 0 < seen.bars[0]["y"] - heading["y"] < 12


def test_a_head_of_several_lines_is_read_downwards_and_ends_above_the_names(alternatives):
    frame = frames.compare_routes(alternatives).replace("cottage", "the cottage as it was wished for at first")
    for each in walks(charts.step_down(frame, width=342)):
        assert len(each.head) == (2 if "cottage" in " ".join(each.head) else 1)
        assert {(word["x"], word["weight"]) for word in each.heads} == {(each.left, "bold")}
        ys = [word["y"] for word in each.heads]
        assert max(ys) == each.heading - 19
        assert sorted(ys) == [max(ys) - 14 * i for i in reversed(range(len(ys)))]
        assert each.head[0].startswith("To ")
        assert " ".join(each.head).endswith(("at first", "great house"))


def test_heads_of_walks_side_by_side_end_on_one_line(alternatives):
    frame = frames.compare_routes(alternatives).replace("cottage", "the cottage as it was wished for at first")
    first, second = walks(charts.step_down(frame, width=700))[:2]
    assert (len(first.head), len(second.head)) == (2, 1)
    assert first.heading == second.heading
    assert max(word["y"] for word in first.heads) == second.heads[0]["y"]
    assert first.bars[0]["y"] == second.bars[0]["y"]
    assert min(word["y"] for word in first.heads) > 0


@pytest.mark.parametrize(("width", "columns"), [(342, 1), (700, 2)])
def test_walks_of_different_heights_do_not_overlap(width, columns):
    """Walks of two, four and four steps, the second with names of several lines, the third under the first."""
    short, long = pd.DataFrame(WALK)[:2], pd.DataFrame(WALK | {"room": [LONG, "Passage", LONG, "Bed"]})
    frame = pd.concat([short, long.assign(route=LONG), pd.DataFrame(WALK).assign(route="Attic")])
    chart = charts.step_down(frame, width=width)
    seen = walks(chart)
    assert [len(each.bars) for each in seen] == [2, 4, 4]
    assert len(seen[1].names) > 6
    assert _columns(chart) == columns
    for upper, lower in pairwise(seen) if columns == 1 else [(seen[0], seen[2]), (seen[1], seen[2])]:
        assert lower.heads[0]["y"] - upper.bottom > 14
    assert chart.to_dict()["height"] > seen[-1].bottom + 4


@pytest.mark.parametrize("width", [342, 590, 1000])
@pytest.mark.parametrize("which", ["planned", "odd"])
def test_no_word_lies_on_another_or_is_cut_off(request, alternatives, which, width):
    plans = [request.getfixturevalue(which)]
    for frame in (frames.routes(plans[0]), frames.compare_routes(plans + alternatives)):
        chart = charts.step_down(frame, width=width)
        extents = [extent(word) for word in words(chart)]
        for west, north, east, south in extents:
            assert 0 <= west < east <= width - 8
            assert 0 <= north < south <= chart.to_dict()["height"]
        for (w0, n0, e0, s0), (w1, n1, e1, s1) in combinations(extents, 2):
            assert e0 <= w1 or e1 <= w0 or s0 <= n1 or s1 <= n0
