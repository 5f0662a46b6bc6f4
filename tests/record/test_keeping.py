"""What a reviewer says is on the disk at once, and outlives torn files."""

import errno
import os
import re
import shutil
import threading
import time

import pytest
from msgspec.structs import replace

from planner import HouseFault, demo_house, rename_room
from planner.files import json_lines
from planner.record import keeping
from planner.record.answers import latest
from planner.record.entries import KEEP, LESS, LONGEST_NAME, LONGEST_REMARK, MORE, Reply
from planner.record.keeping import keep, lines_of, read_record, say
from tests.record.answering import Writer, account
from tests.record.said import ALL, ANSWER, REPLY, VOTE


def test_answers_come_back_in_order_whatever_the_text(tmp_path):
    file = keeping.open_session(tmp_path, 'Ada "<b>" / Bell')
    other = keeping.open_session(tmp_path, "")
    for where, room, answer in [(file, "Salon, 🙂", KEEP), (other, "Hall", MORE), (file, "Salon, 🙂", LESS)]:
        say(where, "Ada", "measured", room, answer, "line one\nline two")
    answers, warnings = read_record(tmp_path)
    assert warnings == ()
    assert [(a.room, a.answer) for a in answers] == [("Salon, 🙂", KEEP), ("Hall", MORE), ("Salon, 🙂", LESS)]
    assert latest(answers, "measured")["Salon, 🙂"].answer == LESS
    assert latest(answers, "another") == {}
    assert all(a.time.endswith("+00:00") for a in answers)
    assert file.parent == other.parent == tmp_path / "reviews"


def test_every_cut_of_the_last_line_is_told_and_costs_only_that_line(tmp_path):
    file = keeping.open_session(tmp_path, "Ada")
    say(file, "Ada", "measured", "Hall", KEEP)
    whole = file.read_bytes()
    say(file, "Ada", "measured", "Parlor", MORE, "é")
    both = file.read_bytes()
    for length in range(len(whole) + 1, len(both) - 1):
        file.write_bytes(both[:length])
        answers, warnings = read_record(tmp_path)
        assert [a.room for a in answers] == ["Hall"]
        assert len(warnings) == 1 and "row 2" in warnings[0] and "breaks off" in warnings[0]


def test_an_answer_after_a_torn_line_stands_on_its_own(tmp_path):
    file = keeping.open_session(tmp_path, "Ada")
    say(file, "Ada", "measured", "Hall", KEEP)
    file.write_bytes(file.read_bytes() + b'{"time": "20')
    say(file, "Ada", "measured", "Parlor", LESS)
    answers, warnings = read_record(tmp_path)
    assert [a.room for a in answers] == ["Hall", "Parlor"]
    assert len(warnings) == 1 and "row 2" in warnings[0]


@pytest.mark.parametrize("line", ["[]", "3", '{"room": "Hall"}', "{}", '{"time": 1}', "\0", "nonsense"])
def test_a_line_that_is_no_answer_is_passed_over(tmp_path, line):
    file = keeping.open_session(tmp_path, "Ada")
    say(file, "Ada", "measured", "Hall", KEEP)
    file.write_text(f"{line}\n{file.read_text()}")
    answers, warnings = read_record(tmp_path)
    assert [a.room for a in answers] == ["Hall"]
    assert len(warnings) == 1 and "row 1" in warnings[0]


def test_only_known_answers_are_taken(tmp_path):
    with pytest.raises(ValueError, match="keep, more, less"):
        say(tmp_path / "x.jsonl", "Ada", "measured", "Hall", "perhaps")
    assert not (tmp_path / "x.jsonl").exists()


def test_what_is_too_long_or_no_text_is_told_and_not_kept(tmp_path):
    file = keeping.open_session(tmp_path, "Ada")
    say(file, "A" * LONGEST_NAME, "measured", "Hall", KEEP, "é" * LONGEST_REMARK)
    before = file.read_bytes()
    with pytest.raises(HouseFault, match=r"the remark: has 2,001 characters; keep it to 2,000"):
        say(file, "Ada", "measured", "Hall", KEEP, "e" * (LONGEST_REMARK + 1))
    with pytest.raises(HouseFault, match=r"the name: has 201 characters; keep it to 200"):
        say(file, "A" * (LONGEST_NAME + 1), "measured", "Hall", KEEP)
    with pytest.raises(HouseFault, match=r"could not be kept .*no text"):
        say(file, "Ada", "measured", "Hall", KEEP, "\ud800")
    assert file.read_bytes() == before


def short_of_room(monkeypatch, room):
    """Let only so many bytes more be written, and then tell of a full disk, as a disk does: in short writes."""
    really, left = os.write, [room]

    def write(descriptor, data):
        if not left[0]:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        written = really(descriptor, bytes(data[: min(left[0], 7)]))
        left[0] -= written
        return written

    monkeypatch.setattr(os, "write", write)


@pytest.mark.parametrize("entry", ALL, ids=lambda entry: type(entry).__name__)
def test_a_disk_that_is_full_at_any_byte_keeps_an_entry_of_any_kind_or_none_of_it(tmp_path, monkeypatch, entry):
    file = keeping.open_session(tmp_path, "Ada")
    say(file, "Ada", "measured", "Hall", KEEP)
    whole, kept = file.read_bytes(), 0
    for room in range(len(lines_of([entry])) + 8):
        file.write_bytes(whole)
        with monkeypatch.context() as patched:
            short_of_room(patched, room)
            try:
                keep(file, entry)
                kept += 1
            except HouseFault:
                assert file.read_bytes() == whole
                continue
        entries, warnings = read_record(tmp_path)
        assert entry in entries and len(entries) == 2 and warnings == ()
    assert kept == 8


def test_a_disk_that_is_full_at_any_byte_loses_no_answer_that_was_acknowledged(tmp_path, monkeypatch):
    file = keeping.open_session(tmp_path, "Ada")
    say(file, "Ada", "measured", "Hall", KEEP)
    whole, refused = file.read_bytes(), 0
    for room in range(len(whole) + 40):
        file.write_bytes(whole)
        with monkeypatch.context() as patched:
            short_of_room(patched, room)
            try:
                say(file, "Ada", "measured", "Parlor", MORE, "née")
                expected = ["Hall", "Parlor"]
            except HouseFault as fault:
                assert "could not be kept (No space left on device)" in str(fault)
                expected, refused = ["Hall"], refused + 1
                assert file.read_bytes() == whole
        answers, warnings = read_record(tmp_path)
        assert [said.room for said in answers] == expected and warnings == ()
    assert len(whole) < refused < len(whole) + 40


@pytest.mark.parametrize("name", ["fsync", "write", "open"])
def test_what_is_refused_is_told_and_comes_back_nowhere(tmp_path, monkeypatch, name):
    file = keeping.open_session(tmp_path, "Ada")

    def refused(*_):
        raise OSError(errno.EROFS, os.strerror(errno.EROFS))

    with monkeypatch.context() as patched:
        patched.setattr(os, name, refused)
        with pytest.raises(HouseFault, match=r"Ada .*jsonl: it could not be kept \(Read-only file system\)"):
            say(file, "Ada", "measured", "Hall", KEEP)
    assert read_record(tmp_path) == ((), ())
    say(file, "Ada", "measured", "Hall", LESS)
    assert [said.answer for said in read_record(tmp_path)[0]] == [LESS]


def test_folder_entries_are_synced_before_an_answer_is_acknowledged(tmp_path, monkeypatch):
    synced, really = [], os.fsync
    monkeypatch.setattr(os, "fsync", lambda at: (synced.append(os.readlink(f"/proc/self/fd/{at}")), really(at)))
    file = keeping.open_session(tmp_path, "Ada")
    say(file, "Ada", "measured", "Hall", KEEP)
    assert synced == [str(file), str(file.parent), str(tmp_path)]


def test_a_house_that_is_gone_is_not_made_anew(tmp_path):
    file = keeping.open_session(tmp_path / "gone", "Ada")
    with pytest.raises(HouseFault, match="No such file"):
        say(file, "Ada", "measured", "Hall", KEEP)
    assert not (tmp_path / "gone").exists()


def test_writers_that_are_killed_lose_no_acknowledged_answer_and_none_is_there_twice(tmp_path):
    """Short; the long one is tests/benchmarks/soak_answers.py."""
    file = keeping.open_session(tmp_path, "Ada")
    writers = [
        Writer(file, "Ada", 40),
        Writer(file, "Bell", 40),
        Writer(keeping.open_session(tmp_path, "Cy"), "Cy", 40),
    ]
    for writer in writers:
        writer.start()
    for pause in range(12):
        time.sleep(pause / 200)
        writers[pause % 3].kill()
        writers[pause % 3].start()
    for writer in writers:
        while writer.listen():
            time.sleep(0.01)
        writer.end()
    found = account(tmp_path, writers)
    assert found["acknowledged"] == 120 and found["lost"] == found["twice"] == 0


def test_many_at_once_in_one_file_keep_every_line_whole(tmp_path):
    file = keeping.open_session(tmp_path, "Ada")

    def answer_all(who):
        for number in range(12):
            say(file, "Ada", "measured", f"{who} {number}", KEEP, "x" * 1500)

    threads = [threading.Thread(target=answer_all, args=(who,)) for who in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    answers, warnings = read_record(tmp_path)
    assert warnings == () and len({said.room for said in answers}) == len(answers) == 96


ANSWERED = b'{"time": "%s", "reviewer": "a", "alternative": "a", "room": "%s", "answer": "keep"}\n'
WISHED = (ANSWERED % (b"2030-01-01", b"Hall")).replace(b"}", b', "wishes": %s}')
HOSTILE = {
    "nested.jsonl": b"[" * 100_000,
    "long.jsonl": b'{"remark": "' + b"x" * 30_000_000 + b'"}\n',
    "surrogate.jsonl": ANSWERED % (b"2030-01-01", b"\\ud800"),
    "far.jsonl": ANSWERED % (b"0001-01-01T00:00:00+23:59", b"Hall"),
    "digits.jsonl": b'{"time": ' + b"9" * 100_000 + b"}\n",
    "more keys.jsonl": b'{"time": "2030-01-01", "self": "x", "room": "a"}\n',
    "zeros.jsonl": b"\0" * 4096,
    "bytes.jsonl": bytes(range(128, 256)) + b"\n",
    "many.jsonl": b"{}\n" * 50_000,
    "kind.jsonl": b'{"kind": "rumour", "time": "2030-01-01", "who": "a", "alternative": "a"}\n',
    "vote.jsonl": b'{"kind": "vote", "time": "2030-01-01", "who": "a", "alternative": "a", "vote": ["for"]}\n',
    "wishes.jsonl": (ANSWERED % (b"2030-01-01", b"Hall")).replace(
        b"}", b', "wishes": ' + b"[" * 500 + b"]" * 500 + b"}"
    ),
    "wanted.jsonl": (ANSWERED % (b"2030-01-01", b"Hall")).replace(
        b"}", b', "wishes": [{"element": "a", "wanted": 1}]}'
    ),
    "reply.jsonl": b'{"kind": "reply", "time": "2030-01-01", "who": "a", "alternative": "a", "room": "Hall"}\n',
    "decision.jsonl": b'{"kind": "decision", "time": "2030-01-01", "who": "a", "alternative": "a", "copy": 5}\n',
    "a hundred thousand digits.jsonl": b'{"kind": "remark", "time": ' + b"9" * 100_000 + b"}\n",
}


def test_hostile_records_are_named_and_stop_nobody(tmp_path):
    file = keeping.open_session(tmp_path, "Ada")
    say(file, "Ada", "measured", "Hall", KEEP)
    for name, data in HOSTILE.items():
        (file.parent / name).write_bytes(data)
    secret = tmp_path / "secret.jsonl"
    shutil.copy(file, secret)
    (file.parent / "link.jsonl").symlink_to(secret)
    (file.parent / "loop.jsonl").symlink_to("loop.jsonl")
    (file.parent / "folder.jsonl").mkdir()
    os.mkfifo(file.parent / "pipe.jsonl")
    (file.parent / os.fsdecode(b"\xff\x1b[31m.jsonl")).write_bytes(b"?\n")
    with (file.parent / "large.jsonl").open("wb") as large:
        large.truncate(60_000_000)
    began = time.perf_counter()
    answers, warnings = read_record(tmp_path)
    assert time.perf_counter() - began < 10
    assert [said.room for said in answers] == ["Hall"]
    told = "\n".join(warnings)
    for name in (*HOSTILE, "link.jsonl", "loop.jsonl", "folder.jsonl", "pipe.jsonl", "large.jsonl", "[31m.jsonl"):
        assert name in told
    assert told.encode() and "\x1b" not in told and len(warnings) < 40 and max(map(len, warnings)) < 300
    assert re.search("many.jsonl: 49,?995 more lines cannot be read", told)
    say(file, "Ada", "measured", "Parlor", KEEP)
    assert len(read_record(tmp_path)[0]) == 2


@pytest.mark.parametrize("make", [lambda p: p.touch(), lambda p: p.symlink_to("reviews"), os.mkfifo])
def test_something_else_in_the_place_of_the_folder_is_told(tmp_path, make):
    make(tmp_path / "reviews")
    answers, warnings = read_record(tmp_path)
    assert answers == () and len(warnings) == 1 and "reviews: cannot be read" in warnings[0]
    with pytest.raises(HouseFault, match="could not be kept"):
        say(keeping.open_session(tmp_path, "Ada"), "Ada", "measured", "Hall", KEEP)


def test_what_was_said_of_a_room_is_found_under_its_new_name_and_stays_as_it_was_said(tmp_path):
    folder = shutil.copytree(demo_house(), tmp_path / "house")
    file = keeping.open_session(folder, "Ada")
    say(file, "Ada", "measured", "Library", MORE, "books to the ceiling")
    said = file.read_bytes()
    rename_room(folder, "Library", "Book Room")
    rename_room(folder, "Book Room", "Study")
    assert file.read_bytes() == said
    say(file, "Ada", "measured", "Library", LESS)  # from a page that was opened before
    answers, warnings = read_record(folder)
    assert warnings == () and [(a.room, a.answer) for a in answers] == [("Study", MORE), ("Study", LESS)]
    assert latest(answers, "measured")["Study"].answer == LESS


def test_every_kind_is_found_by_its_name_and_in_the_order_of_times(tmp_path):
    for entry in reversed(ALL):
        keep(keeping.open_session(tmp_path, entry.who), entry)
    record = read_record(tmp_path)
    assert record == (ALL, ())
    found = (record.answers, record.replies, record.votes, record.remarks, record.decisions)
    assert found == tuple((entry,) for entry in ALL)


def test_an_entry_is_there_once_however_often_it_was_written_and_another_does_not_take_its_id(tmp_path):
    one, two = keeping.open_session(tmp_path, "Ada"), keeping.open_session(tmp_path, "Bert")
    for file in (one, two, two):
        keep(file, VOTE)
    assert read_record(tmp_path) == ((VOTE,), ())
    keep(two, replace(VOTE, vote="against"))
    entries, (warning,) = read_record(tmp_path)
    assert entries == (VOTE,) and "Bert" in warning and "row 3: has the id of another entry" in warning


def test_a_visitor_is_shown_the_replies_to_what_was_said_in_the_same_browser_and_no_others(tmp_path):
    keep(keeping.open_session(tmp_path, "Ada", "mark"), ANSWER)
    other = say(keeping.open_session(tmp_path, "Cy", "other"), "Cy", "formal", "Hall", KEEP)
    designer = keeping.open_session(tmp_path, "Bert")
    keep(designer, REPLY)
    keep(designer, replace(REPLY, id="f" * 32, to=other.id))
    keep(designer, VOTE)
    assert read_record(tmp_path, "mark") == ((ANSWER, REPLY), ())
    assert len(read_record(tmp_path).entries) == 5


def test_a_reply_is_found_under_the_new_name_of_its_room(tmp_path):
    folder = shutil.copytree(demo_house(), tmp_path / "house")
    answer = say(keeping.open_session(folder, "Ada"), "Ada", "formal", "Library", MORE, wishes=ANSWER.wishes)
    keep(keeping.open_session(folder, "Bert"), Reply(who="Bert", alternative="formal", room="Library", to=answer.id))
    rename_room(folder, "Library", "Study")
    record = read_record(folder)
    assert record.answers[0].room == record.replies[0].room == "Study" and record.answers[0].wishes == ANSWER.wishes


def test_lines_beyond_the_most_of_a_file_are_told_and_passed_over(tmp_path, monkeypatch):
    monkeypatch.setattr(json_lines, "MOST_LINES", 3)
    file = keeping.open_session(tmp_path, "Ada")
    for room in ("Hall", "Parlor", "Library"):
        say(file, "Ada", "measured", room, KEEP)
    assert not read_record(tmp_path).warnings
    say(file, "Ada", "measured", "Kitchen", KEEP)
    answers, (told,) = read_record(tmp_path)
    assert [said.room for said in answers] == ["Hall", "Parlor", "Library"]
    assert told.endswith("has more than 3 lines; those after them were passed over")


def test_nothing_is_acknowledged_that_would_make_a_file_too_large_to_be_read(tmp_path, monkeypatch):
    file = keeping.open_session(tmp_path, "Ada")
    first = say(file, "Ada", "measured", "Hall", KEEP)
    monkeypatch.setattr(json_lines, "LARGEST_FILE", file.stat().st_size + 20)
    with pytest.raises(HouseFault, match="its file is full"):
        say(file, "Ada", "measured", "Hall", MORE)
    assert read_record(tmp_path).answers == (first,)
