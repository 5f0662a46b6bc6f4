"""Files of a folder change together or not at all, whatever happens meanwhile."""

import errno
import json
import os
import threading
from pathlib import Path

import pytest

from planner.files import journal, locks
from planner.files.locks import locked
from planner.files.problems import HouseFault
from planner.files.storage import Overtaken, replace_files, seen, settled, writing
from tests.files.dying import failing_at, killed_at, moments
from tests.house.conftest import state

OLD = {"rooms.csv": b"old rooms", "openings.csv": b"old openings", "alternatives/a.draft.toml": b"draft"}
NEW = {
    "rooms.csv": b"new rooms",
    "alternatives/a.draft.toml": None,
    "openings.csv": b"new openings",
    "reviews/renamed.jsonl": b"{}",
}


@pytest.fixture
def folder(tmp_path):
    made = tmp_path / "house"
    replace_files(made, OLD)
    return made


def settled_state(folder: Path) -> dict[str, str]:
    """What a folder holds once a reader has been there."""
    with settled(folder):
        return state(folder)


@pytest.fixture
def both(tmp_path, folder):
    """What the folder holds before and after the write."""
    after = tmp_path / "after"
    replace_files(after, OLD)
    replace_files(after, NEW)
    return state(folder), state(after)


def test_a_write_writes_removes_and_leaves_nothing_else(folder):
    replace_files(folder, NEW)
    assert {name: path.read_bytes() for name in NEW if (path := folder / name).exists()} == {
        name: data for name, data in NEW.items() if data is not None
    }
    assert [path.name for path in folder.iterdir() if path.name.startswith(".")] == []
    assert list((folder / "alternatives").iterdir()) == []


def test_a_process_killed_at_any_call_of_the_system_leaves_all_or_none(tmp_path, both):
    before, after = both
    found, moment, died = set(), 0, True
    while died:
        folder = tmp_path / f"killed {moment}"
        replace_files(folder, OLD)
        died = killed_at(moment, lambda to=folder: replace_files(to, NEW))
        now = settled_state(folder)
        assert now in (before, after), f"moment {moment}"
        found.add(now == after)
        moment += 2
    assert found == {True, False} and moment > 100


def test_a_reader_killed_while_it_puts_back_leaves_it_to_the_next(tmp_path, both):
    before, after = both
    total = moments(lambda: replace_files(tmp_path / "counted", NEW))
    for moment in range(total // 3, total, 16):
        folder = tmp_path / f"killed {moment}"
        replace_files(folder, OLD)
        killed_at(moment, lambda to=folder: replace_files(to, NEW))
        again = 0
        while killed_at(again, lambda to=folder: settled_state(to)):
            again += 4
        assert settled_state(folder) in (before, after)


@pytest.mark.parametrize(("number", "pace"), [(errno.ENOSPC, 1), (errno.EROFS, 8), (errno.EIO, 7)])
def test_a_call_that_is_refused_leaves_all_as_it_was_and_is_told(tmp_path, both, number, pace):
    before, after = both
    total = moments(lambda: replace_files(tmp_path / "counted", NEW))
    assert total > 100
    for moment in range(0, total, pace):
        folder = tmp_path / f"{number} {moment}"
        replace_files(folder, OLD)
        try:
            failing_at(moment, lambda to=folder: replace_files(to, NEW), number)
        except HouseFault as fault:
            assert os.strerror(number) in str(fault)
            assert settled_state(folder) == before, f"moment {moment}"
        else:
            assert settled_state(folder) == after


@pytest.mark.parametrize("change", [{"rooms.csv": b"new rooms"}, {"added.csv": b"new"}, {"rooms.csv": None}])
def test_a_call_that_is_refused_leaves_one_file_alone_as_it_was(tmp_path, folder, change):
    before, moment, ended = state(folder), 0, 0
    total = moments(lambda: replace_files(tmp_path / "counted", OLD) or replace_files(tmp_path / "counted", change))
    for moment in range(total):
        tried = tmp_path / str(moment)
        replace_files(tried, OLD)
        try:
            failing_at(moment, lambda to=tried: replace_files(to, change), errno.EIO)
        except HouseFault:
            assert settled_state(tried) == before, f"moment {moment}"
        else:
            ended += 1
            assert settled_state(tried) != before
    assert 0 < ended < total


def test_one_file_alone_is_old_or_new_at_every_moment(tmp_path):
    moment, died = 0, True
    while died:
        folder = tmp_path / str(moment)
        replace_files(folder, OLD)
        died = killed_at(moment, lambda to=folder: replace_files(to, {"rooms.csv": b"new rooms"}))
        assert (folder / "rooms.csv").read_bytes() in (b"old rooms", b"new rooms")
        assert set(settled_state(folder)) == {*OLD, "alternatives"}
        moment += 2
    assert moment > 20


def test_what_is_not_as_expected_is_not_written_over(folder):
    before = state(folder)
    with pytest.raises(Overtaken) as told:
        replace_files(folder, NEW, expected={"rooms.csv": b"older", "openings.csv": None, "stock.csv": None})
    assert told.value.files == ("rooms.csv", "openings.csv")
    assert "rooms.csv: has been changed by somebody else; look at what it says now" in str(told.value)
    assert state(folder) == before
    replace_files(folder, NEW, expected=seen(folder, [*OLD, "stock.csv"]))
    assert (folder / "rooms.csv").read_bytes() == b"new rooms"


def test_of_many_writers_who_saw_the_same_one_writes(folder):
    expected, won, late = seen(folder, OLD), [], []

    def write(number: int) -> None:
        try:
            replace_files(folder, dict.fromkeys(OLD, f"{number}".encode()), expected)
            won.append(number)
        except Overtaken:
            late.append(number)

    threads = [threading.Thread(target=write, args=(number,)) for number in range(30)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(won) == 1 and len(late) == 29
    assert set(seen(folder, OLD).values()) == {f"{won[0]}".encode()}


def test_readers_never_see_half_of_a_write(folder):
    done, mixed = threading.Event(), []

    def read() -> None:
        while not done.is_set():
            if len(found := set(seen(folder, ("rooms.csv", "openings.csv")).values())) > 1:
                mixed.append(found)

    replace_files(folder, dict.fromkeys(("rooms.csv", "openings.csv"), b"start"))
    threads = [threading.Thread(target=read) for _ in range(3)]
    for thread in threads:
        thread.start()
    for number in range(60):
        replace_files(folder, dict.fromkeys(("rooms.csv", "openings.csv"), f"{number}".encode()))
    done.set()
    for thread in threads:
        thread.join()
    assert mixed == []


def test_who_writes_holds_others_off_but_not_itself(folder, monkeypatch):
    monkeypatch.setattr(locks, "PATIENCE", 0.05)
    told = []

    def other() -> None:
        for act in (lambda: replace_files(folder, {"a": b"1"}), lambda: seen(folder, ["a"])):
            try:
                act()
            except HouseFault as fault:
                told.append(str(fault))

    with writing(folder):
        replace_files(folder, {"rooms.csv": b"mine"}, expected=seen(folder, OLD))
        thread = threading.Thread(target=other)
        thread.start()
        thread.join()
    assert len(told) == 2 and all("is being written by another program; try again" in fault for fault in told)
    assert seen(folder, ["a", "rooms.csv"]) == {"a": None, "rooms.csv": b"mine"}


def test_a_file_is_locked_where_folders_cannot_be(folder, monkeypatch):
    really = locks.fcntl.flock

    def flock(descriptor, how):
        if os.path.isdir(f"/proc/self/fd/{descriptor}"):
            raise OSError(errno.EBADF, "Bad file descriptor")
        return really(descriptor, how)

    monkeypatch.setattr(locks.fcntl, "flock", flock)
    monkeypatch.setattr(locks, "PATIENCE", 0.05)
    told = []

    def other() -> None:
        try:
            replace_files(folder, {"a": b"1"})
        except HouseFault as fault:
            told.append(str(fault))

    with locked(folder):
        thread = threading.Thread(target=other)
        thread.start()
        thread.join()
    assert len(told) == 1 and not (folder / "a").exists() and (folder / locks.LOCK_FILE).exists()
    replace_files(folder, NEW)
    assert (folder / "rooms.csv").read_bytes() == b"new rooms"


def left_behind(folder: Path) -> None:
    """Leave a folder as a writer does that ends between two of its files."""
    moment = 0
    while not (journal.unfinished(folder) and (folder / "rooms.csv").read_bytes() == b"new rooms"):
        settled_state(folder)
        assert killed_at(moment, lambda: replace_files(folder, NEW))
        moment += 2


def test_what_cannot_be_put_back_is_said_and_litter_is_passed_over(folder, monkeypatch):
    left_behind(folder)

    def refused(*_: object, **__: object) -> None:
        raise OSError(errno.EROFS, os.strerror(errno.EROFS))

    with monkeypatch.context() as patched:
        patched.setattr(os, "replace", refused)
        patched.setattr(os, "unlink", refused)
        with pytest.raises(HouseFault, match=r"cannot be put back \(Read-only file system\); open the house where"):
            seen(folder, OLD)
    assert seen(folder, OLD) == OLD
    (folder / journal.STAGED).mkdir()
    with monkeypatch.context() as patched:
        patched.setattr(os, "rmdir", refused)
        assert seen(folder, OLD) == OLD
    assert seen(folder, OLD) == OLD
    assert not (folder / journal.STAGED).exists()


FORGED = [
    b"",
    b"[" * 100_000,
    b"{}",
    b'{"files": [3], "folders": []}',
    b'{"files": [{"name": 3, "new": null, "old": null}], "folders": []}',
    *(
        json.dumps({"files": [{"name": name, "new": "new 0", "old": None}], "folders": []}).encode()
        for name in ("../outside", "/etc/hostname", "a/../../outside", "", ".", "a\0b")
    ),
]


@pytest.mark.parametrize("forged", FORGED)
def test_a_forged_list_touches_nothing(folder, forged):
    outside = folder.parent / "outside"
    outside.write_text("mine")
    (folder / journal.UNDO).mkdir()
    (folder / journal.UNDO / journal.LIST).write_bytes(forged)
    before = state(folder.parent)
    for act in (lambda: seen(folder, OLD), lambda: replace_files(folder, NEW)):
        with pytest.raises(HouseFault, match=r"is not what a write .* leaves behind; remove \.planner-undo"):
            act()
    assert state(folder.parent) == before


def test_a_list_larger_than_any_is_none(folder, monkeypatch):
    monkeypatch.setattr(journal, "LARGEST_LIST", 10)
    (folder / journal.UNDO).mkdir()
    (folder / journal.UNDO / journal.LIST).write_text(json.dumps({"files": [], "folders": []}))
    with pytest.raises(HouseFault, match=r"is not what a write .* leaves behind"):
        seen(folder, OLD)


IN_THE_WAY = [Path.touch, lambda p: p.symlink_to("/"), lambda p: p.symlink_to("gone"), Path.mkdir, os.mkfifo]


@pytest.mark.parametrize("make", IN_THE_WAY)
def test_what_stands_in_the_way_of_the_journal_is_cleared(folder, make, in_time):
    for name in (journal.UNDO, journal.STAGED):
        make(folder / name)
    replace_files(folder, NEW)
    assert [path.name for path in folder.iterdir() if path.name.startswith(".")] == []


def test_a_file_keeps_its_mode(folder):
    (folder / "rooms.csv").chmod(0o640)
    replace_files(folder, {"rooms.csv": b"new", "openings.csv": b"new"})
    assert (folder / "rooms.csv").stat().st_mode & 0o777 == 0o640


def test_a_pipe_or_folder_in_the_way_is_told(folder):
    os.mkfifo(folder / "stock.csv")
    (folder / "stairs.csv").mkdir()
    for name in ("stock.csv", "stairs.csv"):
        with pytest.raises(HouseFault, match=rf"{name}: is (not a plain file|a directory)"):
            replace_files(folder, {"rooms.csv": b"new", name: b"new"})
    assert (folder / "rooms.csv").read_bytes() == b"old rooms"


def test_what_cannot_be_written_leaves_none_of_the_folders_that_were_made_for_it(tmp_path, monkeypatch):
    monkeypatch.setattr(journal, "write", refuse)
    with pytest.raises(HouseFault, match="No space left"):
        replace_files(tmp_path / "papers" / "first", {"a.txt": b"1"})
    assert list(tmp_path.iterdir()) == []


def refuse(*_: object) -> None:
    raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
