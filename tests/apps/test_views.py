"""What the pages show of the house, and how it is picked."""

from dataclasses import replace
from types import SimpleNamespace

import pytest

from planner import plan
from planner.apps import screen, views
from tests.laid_out_houses import laid_out_house


@pytest.fixture(scope="module")
def large():
    return plan(laid_out_house(120, seed=1, levels=2))


def test_the_list_has_every_room_with_its_tier_and_shows_the_picked_one(planned):
    told = []
    listed = views.room_list(planned, told.append, "Linen Closet")
    assert listed.value == "Linen Closet"
    assert list(listed.options.values()) == list(planned.by_name)
    assert "Linen Closet, tier 1 Service" in listed.options
    listed._update(["Library, tier 3 Family"])
    listed._update([])
    assert told == ["Library"]
    assert views.room_list(planned, told.append, "Barn").value is None


def test_a_house_without_a_bedroom_says_where_walks_come_from(planned):
    assert views.NO_WALK in views.walked(SimpleNamespace(routes=()), None, False, 590).text
    assert views.NO_WALK not in views.walked(planned, None, False, 590).text


def test_another_bedroom_is_spoken_of_only_where_there_is_one(planned):
    (route, *others), hint = planned.routes, "another bedroom"
    assert others and hint in views.walked(planned, None, False, 590).text
    alone = SimpleNamespace(routes=(route,), walls=planned.walls)
    assert hint not in views.walked(alone, None, False, 590).text


def test_who_knows_no_trade_is_shown_no_sign_of_a_step(planned):
    bare = [replace(room, outline=()) for room in planned.house.rooms]
    unplaced = plan(replace(planned.house, rooms=tuple(bare)), planned.intent)
    plain, told = (
        str(views.map_alone(unplaced, print, False, 590, plainly=on)._chart.to_dict()) for on in (True, False)
    )
    assert "abrupt" in told and "abrupt" not in plain


def test_the_map_keeps_within_its_height_and_marks_what_moved(planned):
    spec = views.map_alone(
        planned, print, False, 342, height=300, picked="Library", moved={"Library": 4}
    )._chart.to_dict()
    assert spec["height"] < 300
    assert spec["params"][0]["value"] == [{"properties.room": "Library"}]
    assert spec["title"]["text"] == ["Library moved down from 4 to 3"]
    named = views.map_alone(planned, print, False, 342, title={"text": "Your house"})._chart.to_dict()
    assert named["title"]["text"] == "Your house"
    assert named["description"].startswith("Your house. 4 Principal: ")


def test_the_map_beside_what_is_edited_keeps_its_height_and_draws_one_level(planned):
    chart = views.floor(planned, print, False, screen.NARROW_CHART, level="Upper", picked=None, moved={})
    assert chart._chart.to_dict()["height"] < views.FLOOR_HEIGHT[screen.NARROW_CHART]
    assert chart._chart.to_dict()["title"]["text"][0].startswith("Upper: ")


def test_a_level_is_chosen_by_its_name_and_number_of_rooms(large):
    upper = next(room.name for room in large.house.rooms if room.level == "Level 1")
    levels = views.level_list(large.house, upper)
    assert list(levels.options) == ["All levels", "Level 0, 60 rooms", "Level 1, 60 rooms"]
    assert levels.value == "Level 1"
    levels._update(["All levels"])
    assert levels.value is None


def test_of_a_large_house_the_level_of_the_entry_is_drawn_to_begin_with(planned, large):
    assert views.level_list(large.house, None).value == "Level 0"
    assert views.level_list(planned.house, "Library").value is None
