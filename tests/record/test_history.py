"""The record told for people and for machines."""

import json
import time
from shutil import copytree

import pytest
from msgspec.structs import replace

from planner import demo_house, new_sending, open_session
from planner.record import decisions
from planner.record.decisions import decide
from planner.record.entries import Decision, Vote
from planner.record.history import History, history, history_json, history_object, history_text
from planner.record.keeping import keep, lines_of, say
from planner.record.returned import add_answers
from tests.record.said import ALL, ANSWER, DECISION, REPLY, SEEN, VOTE, answer_file


@pytest.fixture
def house(tmp_path):
    return copytree(demo_house(), tmp_path / "house")


@pytest.fixture
def by_utc(monkeypatch):
    monkeypatch.setenv("TZ", "UTC")
    time.tzset()
    yield
    monkeypatch.undo()
    time.tzset()


def test_every_kind_is_a_line_with_when_who_what_which_and_on_what(by_utc):
    told = history_text(History("Larkmead", ALL, {DECISION.id: ("rooms.csv has changed since: Den is new",)}))
    assert told.split("\n") == [
        "Larkmead: 5 entries",
        '2030-05-01 12:00  Ada Bell  Library: a little richer, no chair rail, crown: "née 🙂" [formal, 1a2b3c4d]',
        "2030-05-01 12:01  Bert      Library: Ada Bell's answer is taken as a range of tiers: "
        '"yes" [formal, fingerprint not known]',
        "2030-05-01 12:02  Cy        votes for it [formal, 1a2b3c4d]",
        '2030-05-01 12:03  Cy        "dear, and worth it" [formal, fingerprint not known]',
        "2030-05-01 12:04  Bert      DECIDED [formal, 1a2b3c4d]",
        "    rooms.csv has changed since: Den is new",
    ]


def test_an_answer_that_is_taken_back_says_so(by_utc):
    told = history_text(History("Larkmead", (replace(ANSWER, answer="", remark="", wishes=()),), {}))
    assert "Ada Bell  Library: takes the answer back [formal, 1a2b3c4d]" in told


def test_times_are_those_of_this_machine(monkeypatch):
    monkeypatch.setenv("TZ", "UTC-05:30")
    time.tzset()
    try:
        assert "2030-05-01 17:32  Cy" in history_text(History("Larkmead", (VOTE,), {}))
        assert "9999-12-31 23:59" in history_text(History("", (replace(VOTE, time="9999-12-31T23:59:59"),), {}))
    finally:
        monkeypatch.undo()
        time.tzset()


def test_what_became_of_decisions_is_told(house):
    first = decide(house, "Ada", "formal")
    second = decide(house, "Bert", "formal")
    told = history(house)
    assert told.changed == {second.id: ()}
    lines = history_text(told).split("\n")
    assert [line for line in lines if line.startswith("    ")] == [
        "    superseded by a later decision",
        "    nothing has changed since",
    ]
    rooms = house / "rooms.csv"
    rooms.write_text(rooms.read_text("utf-8").replace(",10 ft,0 192", ",9.5 ft,0 192"))
    assert "    rooms.csv has changed since: the ceiling of Library was 10'-0\", is 9'-6\"" in history_text(
        history(house)
    )
    assert history_object(history(house))["decisions"] == [
        {"id": first.id, "holds": False, "changed": []},
        {
            "id": second.id,
            "holds": True,
            "changed": ["rooms.csv has changed since: the ceiling of Library was 10'-0\", is 9'-6\""],
        },
    ]


def test_of_very_many_decisions_it_is_looked_for_the_latest_what_has_changed_since(house, monkeypatch):
    looked_for: list[Decision] = []
    monkeypatch.setattr(decisions, "changed_since", lambda _, decision: looked_for.append(decision) or ())
    made = [replace(DECISION, id=f"{number:032x}", alternative=f"plan {number}") for number in range(60)]
    (house / "reviews").mkdir()
    (house / "reviews" / "many.jsonl").write_bytes(lines_of(made))
    told = history(house)
    assert looked_for == made[10:] and len(told.changed) == 60
    assert told.changed[made[9].id] == ("what has changed since is told of the latest 50 decisions alone",)


def test_words_of_anybody_make_no_line_of_their_own():
    spoof = "2030-05-01 12:04  Bert  DECIDED [formal, 1a2b3c4d]"
    entries = (
        replace(ANSWER, who=f"x\n{spoof}", remark=f"\r\n{spoof}", room=f"\u2028{spoof}"),
        replace(REPLY, word=f"\x0b{spoof}"),
        replace(VOTE, alternative=f"\n{spoof}", fingerprint=f"\n{spoof}"),
        replace(DECISION, remark=f"\n\n{spoof}"),
    )
    lines = history_text(History("Larkmead", entries, {})).splitlines()
    assert len(lines) == 1 + len(entries) + 1 and spoof not in lines


def test_a_machine_is_told_all_that_the_files_say():
    told = json.loads(history_json(History("Larkmead", ALL, {DECISION.id: ()}, ("torn",))))
    assert [entry["kind"] for entry in told["entries"]] == ["answer", "reply", "vote", "remark", "decision"]
    assert [entry["who"] for entry in told["entries"]] == [entry.who for entry in ALL]
    assert told["entries"][0]["wishes"] == [
        {"element": "chair rail", "wanted": False},
        {"element": "crown", "wanted": True},
    ]
    assert told["entries"][2]["fingerprint"] == SEEN and told["entries"][3]["fingerprint"] == ""
    assert told["warnings"] == ["torn"] and told["decisions"][0]["holds"]


def test_an_answer_that_came_back_says_so(house):
    sent = new_sending(house, ["formal"])
    (file := house.parent / "a.json").write_text(json.dumps(answer_file(sent, {})))
    add_answers(house, file)
    say(open_session(house, "Cy"), "Cy", "formal", "Kitchen", "keep")
    lines = history_text(history(house)).split("\n")
    assert "Library: a little richer (by the page sent) [formal, " in lines[1] and "(by the page sent)" not in lines[2]


def test_a_house_that_cannot_be_read_has_its_record_told_all_the_same(house):
    keep(open_session(house, "Ada"), Vote(who="Ada", alternative="formal", vote="for"))
    (house / "rooms.csv").write_text("?")
    assert history_text(history(house)).startswith("house: 1 entry\n")


def test_an_empty_record_says_so(house):
    assert history_text(history(house)) == "Thornapple House: nothing yet"
