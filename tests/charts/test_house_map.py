"""The map is the floor plan where there is one, else the room graph, and is clicked alike."""

import pytest

from planner import charts
from planner.planning import frames


@pytest.fixture(scope="module")
def tables(planned) -> tuple:
    return frames.rooms(planned), frames.passages(planned), frames.openings(planned)


def test_it_is_the_floor_plan_where_any_room_has_an_outline(tables):
    rooms, passages, openings = tables
    options = {"selected": "Library", "moved": {"Library": 1}, "dark": True, "width": 500, "height": 400}
    options |= {"across": True, "keys": False}
    whole = charts.house_map(rooms, passages, openings, **options)
    assert whole.to_dict() == charts.floor_plan(rooms, openings, **options).to_dict()
    level = charts.house_map(rooms, passages, openings, level="Upper")
    assert level.to_dict() == charts.floor_plan(rooms, openings, level="Upper").to_dict()
    few = rooms.copy()
    few["outline"] = [*rooms["outline"][:1], *[()] * (len(rooms) - 1)]
    assert charts.house_map(few, passages).to_dict() == charts.floor_plan(few).to_dict()


def test_the_room_graph_stands_in_where_there_are_no_outlines(tables):
    rooms, passages, openings = tables
    bare = rooms.copy()
    bare["outline"] = [()] * len(rooms)
    options = {"selected": "Library", "moved": {"Library": 1}, "dark": True, "width": 500}
    stands_in = charts.house_map(bare, passages, openings, **options, level="Upper", across=True)
    assert stands_in.to_dict() == charts.room_graph(bare, passages, **options).to_dict()
    assert "depth" in " ".join(stands_in.to_dict()["title"]["subtitle"])


def test_both_are_clicked_alike(tables):
    rooms, passages, openings = tables
    plan, graph = charts.floor_plan(rooms, openings).to_dict(), charts.room_graph(rooms, passages).to_dict()
    assert plan["params"] == graph["params"] != []
