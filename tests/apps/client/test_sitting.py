"""What becomes of a client's answers."""

import os
from contextlib import nullcontext
from itertools import count

import pytest

from planner import HouseFault, demo_house
from planner.apps.client import asking
from planner.apps.client.asking import heard, shown
from planner.apps.client.sitting import NAMELESS, WORDLESS, Sitting, refusal
from planner.record.entries import KEEP, LESS, MORE, Answer, ElementWish
from planner.record.keeping import Record, read_record
from planner.record.voices import voices


@pytest.fixture(autouse=True)
def quiet(monkeypatch):
    """There is no page to say on that it takes long."""
    monkeypatch.setattr(asking.screen, "working", lambda _: nullcontext())


@pytest.fixture(scope="module")
def asked():
    return shown(demo_house(), "measured")


HALL, STAIRS = ("Entry Hall", LESS), ("Stair Hall", MORE)
"""Either can be had alone, and nobody walks up from a plainer hall to a richer stair."""


def answers(*said):
    minutes = count()
    return [
        Answer(
            time=f"2030-01-01T00:{next(minutes):02}:00+00:00",
            who="Ada",
            alternative="measured",
            **dict(zip(("room", "answer", "remark"), one, strict=False)),
        )
        for one in said
    ]


def test_a_wish_that_cannot_be_had_does_not_hold_up_the_later_ones(asked):
    said = answers(("Family Room", MORE), ("Library", MORE), ("Dining Room", KEEP))
    found = heard(asked, asked.base, said)
    assert found.planned.feasible
    assert found.aside == (said[0],)
    assert found.planned.by_name["Library"].tier > asked.base.by_name["Library"].tier


def test_of_two_wishes_that_exclude_each_other_the_later_holds(asked):
    for one, other in ((HALL, STAIRS), (STAIRS, HALL)):
        assert heard(asked, asked.base, answers(one)).aside == ()
        found = heard(asked, asked.base, answers(one, other))
        assert found.planned.feasible
        assert [(said.room, said.answer) for said in found.aside] == [one]


def test_nothing_is_set_aside_where_all_can_be_had(asked):
    every = answers(*((room.room.name, KEEP) for room in asked.base.rooms))
    found = heard(asked, asked.base, every)
    assert found.aside == ()
    assert [r.tier for r in found.planned.rooms] == [r.tier for r in asked.base.rooms]


def sitting_of(who, folder):
    sitting = Sitting(folder, "measured")
    sitting.reviewer(Record(()))._update(who)
    return sitting


def test_whoever_has_no_name_is_told_and_nothing_is_kept(folder, asked):
    assert sitting_of(" ", folder).answer(asked.base, "Library", "", MORE) == NAMELESS
    assert read_record(folder).entries == ()


def test_a_room_may_have_any_name(folder):
    sitting = sitting_of("Ada", folder)
    for name in ("your name", "designer"):
        assert sitting.remark(name).value == ""
        sitting.remark(name)._update("we read")
    assert sitting.who == "Ada" and sitting.waiting({}) == ("your name", "designer")


def test_a_remark_that_is_not_sent_waits_with_its_room(folder, asked):
    sitting = sitting_of("Ada", folder)
    sitting.remark("Library")._update("we read")
    assert sitting.remark("Kitchen").value == ""
    assert sitting.remark("Library").value == "we read"
    sitting.say(asked.base, "Library", MORE, "we read there")
    sitting.before()
    assert sitting.remark("Library").value == "we read there"


def test_what_is_not_said_anew_is_as_it_was(folder, asked):
    sitting, wishes = sitting_of("Ada", folder), (ElementWish("crown", False),)
    assert sitting.answer(asked.base, "Library", "we read", MORE) == ""
    sitting.before()
    assert sitting.answer(asked.base, "Library", "we read", wishes=wishes) == ""
    sitting.before()
    assert sitting.answer(asked.base, "Library", "we read there") == ""
    said = [(one.answer, one.wishes, one.remark) for one in sitting.before().answers]
    assert said == [(MORE, (), "we read"), (MORE, wishes, "we read"), (MORE, wishes, "we read there")]


def test_an_answer_is_taken_back_and_both_stay_in_the_record(folder, asked):
    sitting = sitting_of("Ada", folder)
    assert sitting.take_back(asked.base, "Library") == "" and read_record(folder).entries == ()
    assert sitting.answer(asked.base, "Library", "we read", MORE, (ElementWish("crown", False),)) == ""
    sitting.before()
    sitting.remark("Library")._update("we read, and more")
    assert sitting.take_back(asked.base, "Library") == ""
    record = sitting.before()
    assert [said.takes_back for said in record.answers] == [False, True]
    assert sitting.said == {} and voices(record, "measured") == {}
    assert sitting.remark("Library").value == "we read, and more"
    assert sitting.take_back(asked.base, "Library") == "" and len(read_record(folder).entries) == 2


def test_nobody_takes_back_what_another_has_said(folder, asked):
    ada, cy, nobody = (sitting_of(who, folder) for who in ("Ada", "Cy", ""))
    assert ada.answer(asked.base, "Library", "", MORE) == ""
    cy.before(), nobody.before()
    assert "the answer of Ada" in cy.take_back(asked.base, "Library")
    assert nobody.take_back(asked.base, "Library") == NAMELESS
    assert len(read_record(folder).entries) == 1


def test_nothing_at_all_is_no_answer(folder, asked):
    sitting = sitting_of("Ada", folder)
    assert sitting.answer(asked.base, "Library", " ") == WORDLESS
    assert read_record(folder).entries == ()


def test_an_answer_that_cannot_be_taken_back_stands(folder, asked, monkeypatch):
    sitting = sitting_of("Ada", folder)
    assert sitting.answer(asked.base, "Library", "", MORE) == ""
    sitting.before()

    def refuse(*_):
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patched:
        patched.setattr(os, "fsync", refuse)
        told = sitting.take_back(asked.base, "Library")
    assert "was not taken back: it could not be kept (No space left" in told
    sitting.before()
    assert sitting.said["Library"].answer == MORE


def test_an_answer_that_cannot_be_kept_leaves_its_words_and_is_told(folder, asked, monkeypatch):
    sitting = sitting_of("Ada", folder)
    sitting.remark("Library")._update("we read there")

    def refuse(*_):
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patched:
        patched.setattr(os, "fsync", refuse)
        with pytest.raises(HouseFault) as caught:
            sitting.say(asked.base, "Library", MORE, "we read there")
    assert "Library was not kept: it could not be kept (No space left" in refusal("Library", caught.value)
    assert sitting.remark("Library").value == "we read there"
    sitting.say(asked.base, "Library", MORE, "we read there")
    assert read_record(folder)[0][-1].remark == "we read there"


def test_a_remark_that_is_too_long_is_told_by_its_length_and_stays(folder, asked):
    sitting, words = sitting_of("Ada", folder), "we read " * 300
    sitting.remark("Library")._update(words)
    with pytest.raises(HouseFault) as caught:
        sitting.say(asked.base, "Library", MORE, words)
    assert "the remark has 2,399 characters; keep it to 2,000" in refusal("Library", caught.value)
    assert sitting.remark("Library").value == words
