"""A house that is too large for one chart is drawn in part, and the chart says so."""

import json

import pytest

from planner import charts, plan
from planner.charts.parts import MOST_ROOMS
from planner.planning import frames
from tests.random_houses import random_house


@pytest.fixture(scope="module")
def large():
    return plan(random_house(1_200, 1), integrated=False)


def drawings(planned) -> dict[str, object]:
    rooms, passages = frames.rooms(planned), frames.passages(planned)
    return {
        "house map": charts.house_map(rooms, passages, frames.openings(planned)),
        "room graph": charts.room_graph(rooms, passages),
        "importance": charts.importance(frames.factors(planned)),
        "step down": charts.step_down(frames.step_down([planned]), frames.steps([planned])),
        "tier matrix": charts.tier_matrix(frames.compare([planned, planned]), differing_only=False),
    }


def test_every_chart_of_a_large_house_is_small_and_says_what_it_leaves_out(large):
    for name, chart in drawings(large).items():
        said = json.dumps(chart.to_dict())
        assert len(said) < 1_000_000, name
        assert "rawn are the" in said.replace("\\n", " "), name


def test_what_is_drawn_are_the_rooms_nearest_the_entry(large):
    graph = json.dumps(drawings(large)["room graph"].to_dict())
    drawn = {room.room.name for room in large.rooms if json.dumps({"room": room.room.name})[1:-1] + "," in graph}
    assert len(drawn) == MOST_ROOMS
    deepest = max(large.by_name[name].depth for name in drawn)
    assert all(room.room.name in drawn for room in large.rooms if room.depth < deepest)


def test_a_house_of_300_rooms_is_drawn_whole():
    planned = plan(random_house(MOST_ROOMS, 1), integrated=False)
    rooms, passages = frames.rooms(planned), frames.passages(planned)
    assert "rawn are the" not in json.dumps(charts.room_graph(rooms, passages).to_dict())
