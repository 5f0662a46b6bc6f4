"""The importance chart adds up, and shows where the tier given lies beside the one asked for."""

from itertools import groupby

import pytest

from planner import charts
from planner.intent.model import FACTORS
from planner.look import theme
from planner.planning import frames


@pytest.fixture(scope="module")
def layers(planned) -> list[dict]:
    return charts.importance(frames.factors(planned), width=720).to_dict()["layer"]


@pytest.fixture(scope="module")
def parts(layers) -> dict[str, list[dict]]:
    ordered = sorted(layers[0]["data"]["values"], key=lambda row: row["room"])
    return {room: list(rows) for room, rows in groupby(ordered, key=lambda row: row["room"])}


def test_parts_stand_end_to_end_and_add_up_to_the_importance(planned, parts):
    assert set(parts) == set(planned.by_name)
    for name, room in planned.by_name.items():
        at = 0.0
        for part in parts[name]:
            assert part["x"] == pytest.approx(at)
            assert part["x2"] - part["x"] == pytest.approx(part["contribution"], abs=5.1e-4)
            at = part["x2"]
        assert at == pytest.approx(room.importance)


def test_parts_tell_their_factor_in_the_order_of_the_factors(planned, parts):
    total = sum(planned.intent.importance.values())
    legend = [f"{name} {planned.intent.importance[name] / total:.0%}" for name in FACTORS]
    for name, room in planned.by_name.items():
        assert [part["factor"] for part in parts[name]] == legend
        assert [part["value"] for part in parts[name]] == [round(room.factors[factor], 3) for factor in FACTORS]


@pytest.mark.parametrize("dark", [False, True])
def test_factors_are_greys_from_the_strongest(planned, dark):
    bars = charts.importance(frames.factors(planned), dark=dark).to_dict()["layer"][0]
    colour = bars["encoding"]["color"]
    assert colour["scale"]["range"] == list(theme.greys(len(FACTORS), dark))
    assert colour["scale"]["domain"] == list(dict.fromkeys(row["factor"] for row in bars["data"]["values"]))
    paper = theme.palette(dark).paper
    contrasts = [theme.contrast(paper, grey) for grey in colour["scale"]["range"]]
    assert contrasts == sorted(contrasts, reverse=True)


def test_rooms_stand_from_the_most_important_down(planned, layers):
    ends = layers[1]["data"]["values"]
    ranked = sorted(planned.rooms, key=lambda r: (-r.importance, r.room.name))
    assert [row["room"] for row in ends] == [r.room.name for r in ranked]
    heights = [row["y"] for row in ends]
    assert heights == sorted(heights)
    for row, bar in ((row, bar) for row in ends for bar in layers[0]["data"]["values"] if bar["room"] == row["room"]):
        assert bar["y"] < row["y"] < bar["y2"]


def test_rooms_of_the_same_importance_stand_by_name(planned):
    frame = frames.factors(planned)
    frame["importance"] = 0.5
    ends = charts.importance(frame).to_dict()["layer"][1]["data"]["values"]
    assert [row["room"] for row in ends] == sorted(planned.by_name)


@pytest.mark.parametrize("width", [342, 720])
def test_names_stand_beside_their_bars_and_leave_room_for_them(planned, width):
    chart = charts.importance(frames.factors(planned), width=width).to_dict()
    ends, names, heading = (chart["layer"][i]["data"]["values"] for i in (1, 3, 4))
    written = {row["y"]: row["text"] for row in names}
    assert all(row["room"].startswith(written.get(row["y"], "")) for row in ends)
    assert "".join(row["text"] for row in names).replace(" ", "") == "".join(row["room"] for row in ends).replace(
        " ", ""
    )
    assert sum(row["y"] in written for row in ends) > 15
    assert [row["text"] for row in heading] == ["Room"]
    assert width * 0.6 < chart["width"] < width * 0.9
    assert chart["height"] > max(row["y"] for row in ends) + 10


def test_diamonds_stand_where_the_tier_given_would_be_the_target(planned, layers):
    """Importance and target are one straight line, so a room whose tier is its target has its diamond at its end."""
    low, high = min(planned.rooms, key=lambda r: r.importance), max(planned.rooms, key=lambda r: r.importance)
    slope = (high.importance - low.importance) / (high.target - low.target)
    for row in layers[1]["data"]["values"]:
        room = planned.by_name[row["room"]]
        assert row["given"] == pytest.approx(room.importance + (room.tier - room.target) * slope)
        assert row["tier"] == room.tier
    assert layers[1]["mark"]["shape"] == "diamond"
    assert layers[1]["encoding"]["x"]["field"] == "given"


def test_target_and_tier_are_written_beyond_bar_and_diamond(planned, layers):
    for row in layers[2]["data"]["values"]:
        room = planned.by_name[row["room"]]
        assert row["text"] == f"{room.target:.1f} → {room.tier}"
        assert row["right"] == max(row["given"], room.importance)
    assert (layers[2]["encoding"]["x"]["field"], layers[2]["mark"]["align"]) == ("right", "left")


def test_all_share_an_axis_with_room_for_figures(layers, planned):
    assert layers[0]["encoding"]["x"]["axis"]["values"] == [0, 0.25, 0.5, 0.75, 1]
    domains = [layer["encoding"]["x"]["scale"]["domain"] for layer in layers[:3]]
    assert domains[0] == domains[1] == domains[2]
    plot = charts.importance(frames.factors(planned), width=720).to_dict()["width"]
    assert plot * (1 - 1 / domains[0][1]) == pytest.approx(68)


@pytest.mark.parametrize(("width", "columns"), [(390, 2), (720, 5)])
def test_the_legend_fits(planned, width, columns):
    bars = charts.importance(frames.factors(planned), width=width).to_dict()["layer"][0]
    assert bars["encoding"]["color"]["legend"]["columns"] == columns
