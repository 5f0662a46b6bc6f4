"""The chart of cost against fit: every point in its place, the plan and the knees told, nothing hidden."""

from itertools import combinations

import pandas as pd
import pytest
import vl_convert

from planner import Plan, charts, demo_house, frames, plan, read_house, read_intent, read_stock
from planner.charts.frontier import finding
from planner.deliverables import comparison
from planner.look import theme
from planner.look.theme import TEXT, text_width

WIDTHS = [390, 1200]


def chart(planned: Plan, **options) -> dict:
    return charts.frontier(frames.frontier(planned), frames.proposals(planned), **options).to_dict()


def layer(spec: dict, mark: str) -> dict:
    return next(found for found in spec["layer"] if found["mark"]["type"] == mark)


def labels(spec: dict) -> list[dict]:
    return [found for found in spec["layer"] if "label" in found["data"]["values"][0]]


def test_the_line_goes_through_the_points_in_steps(planned):
    """Between two points the cheaper is the best that can be had, so the line goes on level, then falls."""
    line = layer(chart(planned), "line")
    points = [(row["cost"], row["objective"]) for row in line["data"]["values"]]
    assert points == [(p.cost, p.total) for p in planned.frontier.points]
    assert line["mark"]["interpolate"] == "step-after"
    assert line["encoding"]["order"]["field"] == "cost"


def test_marks_tell_the_plan_the_knees_and_what_is_proposed_apart(planned):
    marks = layer(chart(planned), "point")["data"]["values"]
    by_shape = {shape: {m["cost"] for m in marks if m["shape"] == shape} for shape in {m["shape"] for m in marks}}
    points = planned.frontier.points
    assert by_shape["diamond"] == {planned.cost}
    assert by_shape["triangle-up"] == {points[at].cost for at in planned.frontier.knees} - {planned.cost}
    assert by_shape["diamond"] | by_shape["triangle-up"] | by_shape["circle"] == {p.cost for p in points}
    assert by_shape["square"] <= {p.cost for p in planned.proposals} - {p.cost for p in points}


def test_what_lies_far_off_is_told_and_does_not_squeeze_the_rest(planned):
    spec = chart(planned)
    drawn = {row["cost"] for row in layer(spec, "point")["data"]["values"]}
    said = " ".join(spec["title"]["subtitle"])
    (wide,) = [p for p in planned.proposals if p.kind == "contrast"]
    assert wide.cost not in drawn
    assert f"{wide.title} (cost {wide.cost:.2f}, {wide.total:.2f} away)" in said
    for proposal in planned.proposals:
        assert (proposal.cost in drawn) != (f"{proposal.title} (cost" in said)
    domain = layer(spec, "point")["encoding"]["x"]["scale"]["domain"]
    assert all(domain[0] <= cost <= domain[1] for cost in drawn)


@pytest.mark.parametrize("width", WIDTHS)
def test_labels_stand_beside_their_marks_and_hide_none(planned, width):
    spec = chart(planned, width=width)
    point = layer(spec, "point")
    scales = {axis: point["encoding"][axis]["scale"]["domain"] for axis in "xy"}

    def place(row: dict) -> tuple[float, float]:
        (x0, x1), (y0, y1) = scales["x"], scales["y"]
        across = (row["cost"] - x0) / (x1 - x0) * spec["width"]
        return across, (y1 - row["objective"]) / (y1 - y0) * spec["height"]

    boxes = []
    for label in labels(spec):
        (row,), mark = label["data"]["values"], label["mark"]
        x, y = place(row)
        long = text_width(row["label"], TEXT["label"])
        west = x + mark["dx"] - (long if mark["align"] == "right" else 0)
        boxes.append((west, y + mark["dy"] - 6, west + long, y + mark["dy"] + 6))
    told = {label["data"]["values"][0]["cost"] for label in labels(spec)}
    assert told == {planned.cost} | {planned.frontier.points[at].cost for at in planned.frontier.knees}
    assert all(w >= 0 and e <= spec["width"] and n >= 0 and s <= spec["height"] for w, n, e, s in boxes)
    for (w, n, e, s), (w2, n2, e2, s2) in combinations(boxes, 2):
        assert not (w < e2 and w2 < e and n < s2 and n2 < s)
    for x, y in map(place, point["data"]["values"]):
        assert not any(w - 3 < x < e + 3 and n - 3 < y < s + 3 for w, n, e, s in boxes)


def test_on_a_phone_the_plan_and_the_knees_have_their_whole_names(planned):
    said = {found["data"]["values"][0]["label"].partition(",")[0] for found in labels(chart(planned, width=343))}
    assert said == {"the plan as it stands", "Most for the money", "Most for less money"}


@pytest.mark.parametrize("width", WIDTHS)
def test_a_long_name_is_cut_short_before_it_stands_far_from_its_mark(width):
    house, stock = read_house(demo_house())[0], read_stock(demo_house())
    standing = [plan(house, read_intent(demo_house(), name), stock) for name in ("measured", "formal", "easy")]
    points, others = comparison.money(standing)
    spec = charts.frontier(points, others, stands="Measured", compared=True, width=width).to_dict()
    shown = {label["data"]["values"][0]["label"].partition(":")[0]: label["mark"] for label in labels(spec)}
    assert set(shown) >= {"Easy", "Formal"}
    assert all(abs(mark["dx"]) == 10 for mark in shown.values())


@pytest.mark.parametrize("dark", [False, True])
@pytest.mark.parametrize("width", WIDTHS)
def test_all_is_ink_on_paper(planned, width, dark):
    """Marks differ in shape and in being filled, so that greyscale tells them apart."""
    spec, look = chart(planned, width=width, dark=dark), theme.palette(dark)
    fills = {row["shape"]: row["fill"] for row in layer(spec, "point")["data"]["values"]}
    assert fills["diamond"] == fills["triangle-up"] == look.ink
    assert fills["circle"] == look.paper
    assert len(vl_convert.vegalite_to_png(spec)) > 5_000


def row(cost: float, objective: float, *, stands: bool = False, knee: bool = False) -> dict:
    return {"cost": cost, "objective": objective, "stands": stands, "knee": knee, "title": "", "gap": 0.0}


def test_the_title_says_what_the_knee_says_of_the_plan():
    low, high = row(50, 9), row(100, 1)
    knee = row(60.0, 2.5, knee=True)
    assert finding([low, knee, high | {"stands": True}]) == (
        "Spending 40 % less takes rooms 1.50 farther from what they ask for; from there it takes more"
    )
    assert finding([low | {"stands": True}, knee, high]) == (
        "Spending 17 % more brings rooms 6.50 nearer to what they ask for; from there it brings less"
    )
    assert finding([low, knee | {"stands": True}, high]) == "The plan as it stands is where the money buys most"
    assert finding([low, high | {"stands": True}]).startswith("No cost stands out")
    assert finding([low | {"stands": True}]).startswith("No plan costs less")


def test_a_plan_that_is_alone_is_drawn(planned):
    frame = pd.DataFrame([row(50.0, 2.0, stands=True)])
    spec = charts.frontier(frame, frames.proposals(planned)[:0]).to_dict()
    assert [found["label"] for found in (labels(spec)[0]["data"]["values"])] == ["the plan as it stands, 50.00"]
    assert vl_convert.vegalite_to_svg(spec)


def test_a_gap_that_is_left_open_is_told(planned):
    frame = frames.frontier(planned).assign(gap=0.25)
    said = " ".join(charts.frontier(frame, frames.proposals(planned)).to_dict()["title"]["subtitle"])
    assert "nearer than the cheaper one by 0.25 at most" in said
    assert "at most" not in " ".join(chart(planned)["title"]["subtitle"])
