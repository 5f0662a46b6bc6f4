"""A room one step richer or plainer is what the answer asks for, or there is a reason in plain words."""

from dataclasses import replace

import pytest

from planner import Intent, demo_house, edits, plan, read_house, read_stock
from planner.house.model import OUTSIDE, Existing, House, Opening, Room
from planner.record.answers import can_be_had, propose
from planner.record.entries import LESS, MORE, Answer, ElementWish
from planner.record.one_step import OneWish, one_step, one_wish
from planner.record.taking import possible_wishes

HOUSE = read_house(demo_house())[0]
STOCK = read_stock(demo_house(), HOUSE.unit)
PLANNED = plan(HOUSE, stock=STOCK)
NAMES = [room.room.name for room in PLANNED.rooms]
WAYS = (("richer", MORE), ("plainer", LESS))
TRADE = ("tier", "rung", "grade", "package", "abrupt", "pinned")


@pytest.mark.parametrize("name", NAMES)
def test_a_step_is_the_plan_that_the_clients_answer_leads_to(name):
    for way, answer in WAYS:
        step = one_step(PLANNED, name, way)
        open_to = answer in can_be_had(PLANNED, PLANNED.by_name[name])
        assert (step.planned is not None) == open_to
        if step.planned is not None:
            said = Answer(who="A", alternative="", room=name, answer=answer)
            assert step.planned == plan(HOUSE, propose(Intent(), PLANNED, [said]), STOCK)


@pytest.mark.parametrize("name", NAMES)
def test_a_step_says_what_moves_with_it_and_what_it_costs(name):
    for way, _ in WAYS:
        step = one_step(PLANNED, name, way)
        if step.planned is None:
            continue
        before, after = PLANNED.by_name, step.planned.by_name
        change = after[name].tier - before[name].tier
        assert change > 0 if way == "richer" else change < 0
        moved = {n: (before[n].tier, after[n].tier) for n in NAMES if n != name and before[n].tier != after[n].tier}
        assert step.moves == moved
        assert step.cost == pytest.approx(step.planned.cost - PLANNED.cost, abs=0.01)
        what_if = PLANNED.what_if(name)[after[name].tier - 1]
        assert what_if.moves == step.moves


def test_a_reason_is_a_sentence_without_a_word_of_the_trade():
    for name in NAMES:
        for way, _ in WAYS:
            why = one_step(PLANNED, name, way).why
            assert not [word for word in TRADE if word.lower() in why.lower()]
            assert why == "" or (why[0].isupper() and why.endswith("."))


@pytest.mark.parametrize("name", ["Entry Hall", "Library", "Kitchen", "Mud Room"])
def test_a_single_wish_is_the_plan_that_the_client_s_answer_leads_to(name):
    offering = Intent(offered=tuple(PLANNED.library.element_kinds))
    planned = plan(HOUSE, offering, STOCK)
    for wish in possible_wishes(planned, name):
        said = Answer(who="A", alternative="", room=name, wishes=(wish,))
        assert one_wish(planned, name, wish).planned == plan(HOUSE, propose(offering, planned, [said]), STOCK)
        assert one_wish(planned, name, wish).why == ""


def test_a_single_wish_that_cannot_be_had_says_what_holds_it():
    panelled = ElementWish("wainscot", True)
    short = plan(HOUSE, Intent(budget=149.0), STOCK)
    assert one_wish(short, "Library", panelled) == OneWish(None, "The budget does not reach for it.")
    assert one_wish(short, "Library", ElementWish("crown", False)).planned.feasible


def why(intent: Intent, way: str, house: House = HOUSE, room: str = "Library", stock=None) -> str:
    step = one_step(plan(house, intent, stock), room, way)
    assert step.planned is None
    return step.why


def test_what_the_designer_holds_is_said_to_be_held():
    held = "Your designer holds this room as it is."
    assert why(edits.pin(Intent(), "Library", 3), "richer") == held
    assert why(edits.set_range(Intent(), "Library", 3, 3), "plainer") == held


def test_what_a_use_is_given_is_said():
    assert why(Intent(), "richer", room="Coat Closet") == "A coat closet is given no richer trim than this."


def test_the_end_of_the_house_is_said():
    assert why(Intent(), "richer", room="Drawing Room") == "It has the richest trim that this house goes to."


def test_trim_that_stays_is_said_to_stay():
    kept = replace(HOUSE, existing=(Existing("Library", "all"), Existing("Library", "base", "board and cap", 6.5)))
    assert why(Intent(), "richer", kept) == "Its trim is there already and stays."


def alone(ceiling: float, *openings: Opening) -> House:
    room = Room("Hall", "Ground", "entry hall", 192.0, 144.0, ceiling)
    door = Opening("D", "door", "Hall", OUTSIDE, "S", None, 36.0, 78.0)
    return House("One", ("Hall",), (room,), (door, *openings))


def test_a_ceiling_that_is_too_low_is_told_with_the_one_that_is_asked_for():
    """The richest georgian trim asks for 9'-0"."""
    intent = edits.set_range(Intent(grade="great house"), "Hall", 4, None)
    said = why(intent, "richer", alone(102.0), "Hall")
    assert said == "Richer trim asks for a ceiling of 9'-0\", and this one is 8'-6\"."


def test_neighbours_that_cannot_follow_are_said_not_to():
    assert "rooms beside it" in why(Intent(), "richer", room="Family Room")


def test_a_budget_that_does_not_reach_is_said_not_to():
    """The first budget that any plan keeps leaves nothing for a richer library."""
    least = next(b for b in range(80, 200) if plan(HOUSE, Intent(budget=float(b))).feasible)
    assert why(Intent(budget=float(least)), "richer") == "The budget does not reach for it."


def test_a_room_that_is_not_there_is_refused():
    with pytest.raises(KeyError):
        one_step(PLANNED, "Ballroom", "richer")


def test_the_only_room_of_a_house_moves_no_other():
    step = one_step(plan(alone(120.0), Intent(grade="great house")), "Hall", "richer")
    assert step.planned is not None
    assert step.moves == {}
