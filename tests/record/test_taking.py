"""What a client would have, taken into the alternative: the plan of the new one has it."""

from dataclasses import replace

import pytest

from planner import Answer, Intent, demo_house, edits, plan, read_house
from planner.house.model import WHOLE_ROOM, Existing
from planner.intent.trim_rules import Scope
from planner.record.answers import can_be_had
from planner.record.entries import ElementWish
from planner.record.taking import possible_wishes, take_answer, ways_to_take


@pytest.fixture(scope="module")
def planned():
    return plan(read_house(demo_house())[0])


def said(room, answer="", *wishes):
    wishes = tuple(ElementWish(element, wanted) for element, wanted in wishes)
    return Answer(who="Ada", alternative="", room=room, answer=answer, wishes=wishes)


@pytest.mark.parametrize("way", ["pin", "range"])
def test_each_answer_that_can_be_had_is_had_in_the_plan_of_the_alternative(planned, way):
    held = {"keep": lambda now, then: now == then, "more": lambda now, then: now > then}
    held["less"] = lambda now, then: now < then
    for room in planned.rooms[:12]:
        for answer in can_be_had(planned, room):
            taken = take_answer(planned.intent, planned, said(room.room.name, answer), way)
            wish = taken.rooms[room.room.name]
            assert (wish.tier is not None) == (way == "pin") and (wish.lowest is not None) == (way == "range")
            after = plan(planned.house, taken).by_name[room.room.name]
            assert held[answer](after.tier, room.tier)


def test_a_pin_is_the_nearest_tier_and_a_range_leaves_all(planned):
    kitchen = planned.by_name["Kitchen"]
    assert (kitchen.lowest, kitchen.tier) == (1, 3)
    assert take_answer(Intent(), planned, said("Kitchen", "less"), "pin").rooms["Kitchen"].tier == 2
    taken = take_answer(Intent(), planned, said("Kitchen", "less"), "range").rooms["Kitchen"]
    assert (taken.lowest, taken.highest) == (1, 2)


def test_single_wishes_become_rules_of_the_room_alone_and_the_plan_has_them(planned):
    library = planned.by_name["Library"].package
    assert library.element("crown") and not library.element("plate rail") and library.element("chair rail")
    answer = said("Library", "", ("crown", False), ("plate rail", True), ("chair rail", True))
    taken = take_answer(planned.intent, planned, answer, "rule")
    assert [(rule.element, rule.scope) for rule in taken.trim] == [
        (element, Scope(rooms=("Library",))) for element in ("crown", "plate rail", "chair rail")
    ]
    assert taken.trim[2].change.form == library.element("chair rail").form
    after = plan(planned.house, taken)
    now = after.by_name["Library"].package
    assert now.element("crown") is None and now.element("plate rail") and now.element("chair rail")
    assert after.by_name["Drawing Room"].package.element("crown")


def test_what_is_taken_twice_is_there_once(planned):
    answer = said("Library", "keep", ("crown", False))
    for way in ways_to_take(answer):
        once = take_answer(planned.intent, planned, answer, way)
        assert take_answer(once, planned, answer, way) == once


def test_what_cannot_be_taken_is_refused_in_words(planned):
    with pytest.raises(ValueError, match="there is no room Ballroom in the plan"):
        take_answer(Intent(), planned, said("Ballroom", "more"), "pin")
    with pytest.raises(ValueError, match="Drawing Room cannot be richer beside what else is asked for"):
        take_answer(Intent(), planned, said("Drawing Room", "more"), "range")
    with pytest.raises(ValueError, match="cannot be taken as a rule"):
        take_answer(Intent(), planned, said("Library", "more"), "rule")
    with pytest.raises(ValueError, match="cannot be taken as a pin"):
        take_answer(Intent(), planned, said("Library", "", ("crown", False)), "pin")
    with pytest.raises(ValueError, match="unknown element 'moat'"):
        take_answer(Intent(), planned, said("Library", "", ("moat", True)), "rule")
    with pytest.raises(ValueError, match="unknown element 'moat'"):
        take_answer(Intent(), planned, said("Library", "", ("moat", False)), "rule")


def test_an_answer_keeps_what_else_the_alternative_asks(planned):
    before = edits.set_range(edits.pin(Intent(), "Kitchen", 2), "Library", 2, 4)
    taken = take_answer(before, planned, said("Library", "more"), "pin")
    assert taken.rooms["Kitchen"].tier == 2
    assert (taken.rooms["Library"].tier, taken.rooms["Library"].lowest, taken.rooms["Library"].highest) == (4, 2, 4)


def test_each_single_wish_that_is_offered_changes_the_room_as_it_says(planned):
    for room in ("Library", "Kitchen", "Linen Closet"):
        offered = possible_wishes(planned, room)
        assert offered and {wish.wanted for wish in possible_wishes(planned, "Kitchen")} == {True, False}
        for wish in offered:
            had = planned.by_name[room].package.element(wish.element) is not None
            answer = Answer(who="Ada", alternative="", room=room, wishes=(wish,))
            after = plan(planned.house, take_answer(planned.intent, planned, answer, "rule"))
            assert had != wish.wanted == (after.by_name[room].package.element(wish.element) is not None)


@pytest.mark.parametrize("form", ["plain crown", "none"])
def test_what_stays_and_what_goes_round_openings_is_not_wished_for_or_away(planned, form):
    kept = plan(replace(planned.house, existing=(Existing("Library", "crown", form, 4.0),)))
    assert "crown" in {wish.element for wish in possible_wishes(planned, "Library")}
    assert {"crown", "casing"}.isdisjoint({wish.element for wish in possible_wishes(kept, "Library")})
    whole = plan(replace(planned.house, existing=(Existing("Library", WHOLE_ROOM),)))
    assert possible_wishes(whole, "Library") == ()
