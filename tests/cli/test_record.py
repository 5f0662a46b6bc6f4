"""What the command line tells of the record, and what it takes into it."""

import json
import shutil

import pytest

from planner import demo_house
from planner.record.decisions import decide
from planner.record.keeping import open_session, read_record, say
from planner.record.sent import new_sending
from tests.cli.test_cli import run
from tests.record.said import answer_file


@pytest.fixture
def house(tmp_path):
    return shutil.copytree(demo_house(), tmp_path / "house")


def test_the_record_is_printed_and_nothing_in_it_is_done_by_the_terminal(house):
    say(open_session(house, "Ada"), "A\x1b[2Jda", "measured", "Library", "more", "books\u202e\nup\x1b]0;x\x07")
    decide(house, "Bert", "measured")
    result = run("history", house)
    assert result.exit_code == 0
    head, answer, decision, since = result.output.splitlines()
    assert head == "Thornapple House: 2 entries"
    assert r"A\x1b[2Jda  Library: a little richer:" in answer and "measured, fingerprint not known]" in answer
    assert "Bert" in decision and "DECIDED" in decision and since == "    nothing has changed since"
    assert "\x1b" not in result.output and "\u202e" not in result.output and "\x07" not in result.output


def test_the_record_as_json_says_the_same_and_does_nothing_either(house):
    say(open_session(house, "Ada"), "A\x1bda", "measured", "Library", "more", "books\u202e")
    text = run("history", house, "--json").output
    told = json.loads(text)
    assert (
        told["format"] == 1 and told["entries"][0]["who"] == "A\x1bda" and told["entries"][0]["remark"] == "books\u202e"
    )
    assert "\x1b" not in text and "\u202e" not in text


def test_lines_that_cannot_be_read_are_told_beside_the_record(house):
    (house / "reviews").mkdir()
    (house / "reviews" / "torn.jsonl").write_text("{")
    result = run("history", house)
    assert result.exit_code == 0 and "reviews/torn.jsonl row 1: breaks off" in result.stderr
    assert result.stdout == "Thornapple House: nothing yet\n"


def test_an_answer_file_is_added_once(house, tmp_path):
    (file := tmp_path / "answers.json").write_text(json.dumps(answer_file(new_sending(house, ["formal"]), {}, {})))
    assert run("reviews", "add", house, file).output == "Ada Bell: 2 added to the record\n"
    again = run("reviews", "add", house, file)
    assert (again.exit_code, again.output) == (0, "Ada Bell: 0 added to the record, 2 there already\n")
    assert len(read_record(house).answers) == 2
    assert run("history", house).output.count("(by the page sent)") == 2


def test_a_doctored_file_ends_with_what_is_wrong_and_code_2(house, tmp_path):
    content = answer_file(new_sending(house, ["formal"]), {"room": "Libr\x1bary"})
    content["who"] = "Mallory"
    (file := tmp_path / "an\x1bswers.json").write_text(json.dumps(content))
    result = run("reviews", "add", house, file)
    assert result.exit_code == 2 and result.stdout == "" and "\x1b" not in result.output
    digest, room = result.stderr.splitlines()
    assert "digest: does not go with what the file says: it was damaged or changed" in digest
    assert 'answer 1, room: there is no room "Libr ary"; write "Library"' in room
    assert read_record(house).answers == ()


@pytest.mark.parametrize("command", [("history",), ("reviews", "add")])
def test_a_house_that_is_not_there_is_told(tmp_path, command):
    file = ["x.json"] if command[0] == "reviews" else []
    result = run(*command, tmp_path / "none", *file)
    assert result.exit_code == 2 and "no such folder" in result.output
