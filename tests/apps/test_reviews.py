"""What a reviewer says is on the disk at once, and outlives torn files."""

from dataclasses import replace

import pytest

from planner import Intent, Wish, demo_house, plan, read_house
from planner.apps import reviews
from planner.apps.reviews import KEEP, LESS, MORE, can_be_had, choices, latest, propose, read_reviews, say


@pytest.fixture(scope="module")
def planned():
    house, _ = read_house(demo_house())
    return plan(house, Intent(name="measured"))


def test_answers_come_back_in_order_whatever_the_text(tmp_path):
    file = reviews.open_session(tmp_path, 'Ada "<b>" / Bell')
    other = reviews.open_session(tmp_path, "")
    for where, room, answer in [(file, "Salon, 🙂", KEEP), (other, "Hall", MORE), (file, "Salon, 🙂", LESS)]:
        say(where, "Ada", "measured", room, answer, "line one\nline two")
    answers, warnings = read_reviews(tmp_path)
    assert warnings == ()
    assert [(a.room, a.answer) for a in answers] == [("Salon, 🙂", KEEP), ("Hall", MORE), ("Salon, 🙂", LESS)]
    assert latest(answers, "measured")["Salon, 🙂"].answer == LESS
    assert latest(answers, "another") == {}
    assert all(a.time.endswith("+00:00") for a in answers)
    assert file.parent == other.parent == tmp_path / "reviews"


def test_every_cut_of_the_last_line_is_told_and_costs_only_that_line(tmp_path):
    file = reviews.open_session(tmp_path, "Ada")
    say(file, "Ada", "measured", "Hall", KEEP)
    whole = file.read_bytes()
    say(file, "Ada", "measured", "Parlor", MORE, "é")
    both = file.read_bytes()
    for length in range(len(whole) + 1, len(both) - 1):
        file.write_bytes(both[:length])
        answers, warnings = read_reviews(tmp_path)
        assert [a.room for a in answers] == ["Hall"]
        assert len(warnings) == 1 and "line 2" in warnings[0] and "breaks off" in warnings[0]


def test_an_answer_after_a_torn_line_stands_on_its_own(tmp_path):
    file = reviews.open_session(tmp_path, "Ada")
    say(file, "Ada", "measured", "Hall", KEEP)
    file.write_bytes(file.read_bytes() + b'{"time": "20')
    say(file, "Ada", "measured", "Parlor", LESS)
    answers, warnings = read_reviews(tmp_path)
    assert [a.room for a in answers] == ["Hall", "Parlor"]
    assert len(warnings) == 1 and "line 2" in warnings[0]


@pytest.mark.parametrize("line", ["[]", "3", '{"room": "Hall"}', "{}", '{"time": 1}', "\0", "nonsense"])
def test_a_line_that_is_no_answer_is_passed_over(tmp_path, line):
    file = reviews.open_session(tmp_path, "Ada")
    say(file, "Ada", "measured", "Hall", KEEP)
    file.write_text(f"{line}\n{file.read_text()}")
    answers, warnings = read_reviews(tmp_path)
    assert [a.room for a in answers] == ["Hall"]
    assert len(warnings) == 1 and "line 1" in warnings[0]


def test_only_known_answers_are_taken(tmp_path):
    with pytest.raises(ValueError, match="keep, more, less"):
        say(tmp_path / "x.jsonl", "Ada", "measured", "Hall", "perhaps")
    assert not (tmp_path / "x.jsonl").exists()


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
    return reviews.Answer("2030-01-01T00:00:00+00:00", "Ada", "measured", room, answer)


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
