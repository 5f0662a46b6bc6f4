"""What a client may answer, and what comes of it as wishes."""

from dataclasses import replace

import pytest

from planner import Intent, Wish, demo_house, plan, read_house
from planner.record.answers import can_be_had, choices, propose
from planner.record.entries import KEEP, LESS, MORE, Answer


@pytest.fixture(scope="module")
def planned():
    house, _ = read_house(demo_house())
    return plan(house, Intent(name="measured"))


def test_choices_stay_within_the_range_in_force(planned):
    for room in planned.rooms:
        assert (MORE in choices(room)) == (room.tier < room.highest)
        assert (LESS in choices(room)) == (room.tier > room.lowest)
        assert KEEP in choices(room)
    assert any(len(choices(room)) < 3 for room in planned.rooms)
    assert any(len(choices(room)) == 3 for room in planned.rooms)


def test_what_there_is_no_plan_for_is_not_offered(planned):
    family = planned.by_name["Family Room"]
    assert MORE in choices(family) and can_be_had(planned, family) == (KEEP,)
    for room in planned.rooms:
        for said in choices(room):
            after = plan(planned.house, propose(planned.intent, planned, [answer(room.room.name, said)]))
            assert after.feasible is (said in can_be_had(planned, room))


def answer(room, answer):
    return Answer(time="2030-01-01T00:00:00+00:00", who="Ada", alternative="measured", room=room, answer=answer)


def test_each_single_answer_that_is_offered_is_carried_out(planned):
    for room in planned.rooms:
        for said in can_be_had(planned, room):
            after = plan(planned.house, propose(planned.intent, planned, [answer(room.room.name, said)]))
            now = after.by_name[room.room.name]
            assert room.lowest <= now.tier <= room.highest
            assert {KEEP: now.tier == room.tier, MORE: now.tier > room.tier, LESS: now.tier < room.tier}[said]


def test_what_is_not_open_changes_nothing(planned):
    stuck = next(room for room in planned.rooms if MORE not in choices(room))
    said = [answer(stuck.room.name, MORE), answer("No such room", LESS), answer(stuck.room.name, "")]
    assert propose(planned.intent, planned, said) == planned.intent


def test_keeping_a_pinned_room_keeps_the_pin(planned):
    pinned = replace(planned.intent, rooms={"Dining Room": Wish(tier=3)})
    before = plan(planned.house, pinned)
    assert choices(before.by_name["Dining Room"]) == (KEEP,)
    assert propose(pinned, before, [answer("Dining Room", KEEP)]).rooms["Dining Room"].tier == 3
