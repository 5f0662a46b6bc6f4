"""Entries as lines: every kind comes back as it was, old lines are answers, and what is none is refused in words."""

import json
from datetime import datetime, timedelta

import pytest
from msgspec.structs import replace

from planner.record.entries import (
    LONGEST_NAME,
    LONGEST_REMARK,
    MOST_WISHES,
    Answer,
    ElementWish,
    Vote,
    entry_of,
    new_id,
    person,
    too_long,
    values_of,
)
from tests.record.said import ALL, ANSWER, REMARK, VOTE


@pytest.mark.parametrize("entry", ALL, ids=lambda entry: type(entry).__name__)
def test_every_kind_comes_back_as_it_was(entry):
    assert entry_of(json.loads(json.dumps(values_of(entry)))) == entry
    assert hash(entry) == hash(entry_of(values_of(entry)))


def test_a_line_of_before_there_were_kinds_is_an_answer_with_an_id_of_its_words():
    old = {"time": "2029-05-01T12:00:00", "reviewer": "Ada", "alternative": "formal", "room": "Hall", "answer": "keep"}
    said = entry_of(old)
    assert isinstance(said, Answer)
    assert (said.who, said.room, said.answer, said.remark, said.fingerprint) == ("Ada", "Hall", "keep", "", "")
    assert said == entry_of(dict(reversed(old.items()))) and len(said.id) == 32
    assert said.id != entry_of({**old, "remark": "x"}).id


def test_an_answer_is_written_under_the_names_that_it_always_had():
    assert {"time", "reviewer", "alternative", "room", "answer", "remark"} <= set(values_of(ANSWER))
    assert "who" in values_of(VOTE) and "reviewer" not in values_of(VOTE)


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ({"kind": "rumour"}, "rumour"),
        ({"kind": 7}, "kind"),
        ({"time": "soon"}, "its time is none"),
        ({"time": 5}, "time"),
        ({"vote": "perhaps"}, "perhaps"),
        ({"vote": ["for"]}, "vote"),
        ({"self": "x"}, "self"),
    ],
)
def test_what_is_no_entry_is_refused_by_its_place(changes, told):
    with pytest.raises(ValueError, match=told):
        entry_of({**values_of(VOTE), **changes})


@pytest.mark.parametrize("missing", ["time", "vote", "who", "alternative"])
def test_what_an_entry_lacks_is_told(missing):
    with pytest.raises(ValueError, match=missing):
        entry_of({key: value for key, value in values_of(VOTE).items() if key != missing})


def test_a_new_entry_has_this_moment_and_an_id_that_no_other_has():
    one, two = (Vote(who="Ada", alternative="formal", vote="for") for _ in range(2))
    assert one.id != two.id and one != two and len({new_id() for _ in range(100)}) == 100
    assert abs(datetime.fromisoformat(one.time) - datetime.now().astimezone()) < timedelta(seconds=10)


def test_what_is_too_long_is_told_at_one_more_than_the_most():
    most = replace(ANSWER, who="x" * LONGEST_NAME, remark="x" * LONGEST_REMARK)
    most = replace(most, wishes=(ElementWish("base", True),) * MOST_WISHES)
    assert list(too_long(most)) == []
    for name in ("who", "remark"):
        assert len(list(too_long(replace(most, **{name: getattr(most, name) + "x"})))) == 1
    assert len(list(too_long(replace(most, wishes=(*most.wishes, ElementWish("base", True)))))) == 1
    assert len(list(too_long(replace(REMARK, remark="x" * 3000)))) == 1


def test_people_are_known_by_their_names_whatever_capitals_and_blanks():
    assert person("Ada  Bell ") == person("ADA BELL") != person("Ada Belle")
