"""The whole house on the client's page."""

import re

import pytest

from planner import Intent, Wish, demo_house, plan, read_house
from planner.apps import views
from planner.apps.client import house
from planner.apps.client.asking import Heard
from planner.record.entries import Answer, ElementWish


@pytest.fixture(scope="module", params=[None, 5], ids=["of the grade", "held above it"])
def base(request):
    facts, _ = read_house(demo_house())
    return plan(facts, Intent(rooms={"Drawing Room": Wish(tier=request.param)}))


def test_no_room_is_a_dot_short_of_what_its_house_goes_to(base):
    shown = re.findall(r"([●○]+)</span><span> (\d) of (\d)", house.room_by_room(base, base, {}).text)
    tiers = [room.tier for room in base.rooms for _ in ("as planned", "with the answers")]
    most = max(tiers)
    assert shown == [("●" * tier + "○" * (most - tier), str(tier), str(most)) for tier in tiers]
    listed = views.room_list(base, lambda _: None, plainly=True)
    assert [words.rpartition(" of ")[2] for words in listed.options] == [str(most)] * len(base.rooms)


def test_the_plan_says_how_rich_the_richest_is(base):
    most = max(room.tier for room in base.rooms)
    assert f"1 is the plainest, {most} the richest" in house.house_map(base, lambda _: None, False, 720).text


def test_it_is_said_what_kind_of_cost_is_told(base):
    assert "measured by how much of your walls it takes" in house.sums(base, Heard(base), {}).text


def test_single_wishes_that_cannot_be_had_beside_the_others_are_told(base):
    rail = Answer(who="Ada", alternative="", room="Library", wishes=(ElementWish("chair rail", False),))
    told = house.sums(base, Heard(base, (rail,)), {"Library": rail}).text
    assert "<li>Library: without a rail at chair height</li>" in told
