"""Which rooms a change has moved is told until the next change."""

from dataclasses import replace

import pytest

from planner import Intent, Wish, demo_house, plan, read_house
from planner.apps import moves
from planner.apps.moves import Moves

HOUSE, _ = read_house(demo_house())


@pytest.fixture
def seen():
    seen = Moves()
    assert seen.since(plan(HOUSE)) == {}
    return seen


PINNED = Intent(rooms={"Library": Wish(tier=4)})


def test_what_a_change_moved_has_the_tier_that_it_had(seen):
    before, now = plan(HOUSE), plan(HOUSE, PINNED)
    moved = seen.since(now)
    assert moved["Library"] == before.by_name["Library"].tier != 4
    assert moved == {
        room.room.name: room.tier for room in before.rooms if now.by_name[room.room.name].tier != room.tier
    }


def test_the_highest_tier_that_a_room_has_is_known_once_there_is_a_plan(seen):
    assert Moves().highest is None
    assert seen.highest == max(room.tier for room in plan(HOUSE).rooms)
    seen.since(plan(HOUSE, Intent(rooms={"Entry Hall": Wish(tier=5)})))
    assert seen.highest == 5


def test_it_stays_told_under_a_new_title_and_goes_with_the_next_change(seen):
    moved = seen.since(plan(HOUSE, PINNED))
    assert seen.since(plan(HOUSE, PINNED)) == seen.since(plan(HOUSE, replace(PINNED, name="a", title="A"))) == moved
    idle = replace(PINNED, rooms={**PINNED.rooms, "Dining Room": Wish(lowest=1)})
    assert seen.since(plan(HOUSE, idle)) == {}


def test_where_there_is_no_plan_the_last_one_is_what_the_next_is_compared_with(seen):
    impossible = Intent(rooms={"Entry Hall": Wish(tier=5), "Stair Hall": Wish(tier=1)})
    assert not plan(HOUSE, impossible).feasible
    assert seen.since(plan(HOUSE, impossible)) == {}
    assert "Library" in seen.since(plan(HOUSE, PINNED))


def test_wishes_loosened_to_what_they_were_before_there_was_no_plan_move_nothing(seen):
    impossible = replace(PINNED, rooms={**PINNED.rooms, "Entry Hall": Wish(tier=5), "Stair Hall": Wish(tier=1)})
    assert "Library" in seen.since(plan(HOUSE, PINNED))
    assert not plan(HOUSE, impossible).feasible
    seen.since(plan(HOUSE, impossible))
    assert seen.since(plan(HOUSE, PINNED)) == {}


def test_it_is_said_in_a_line_whose_rooms_are_counted_where_they_are_many():
    planned = plan(HOUSE)
    rooms = [room.room.name for room in planned.rooms]
    assert moves.told(planned, {}) == ""
    assert moves.told(planned, {"Library": 2}) == f"Moved: Library 2 → {planned.by_name['Library'].tier}."
    assert moves.told(planned, dict.fromkeys(rooms[:6], 5)).endswith(" and 2 more.")
