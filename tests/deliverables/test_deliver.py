"""All papers are written, or none: whatever is in the way, and whenever the run ends."""

import json
import os
import signal
from dataclasses import replace
from datetime import date

import pytest

from planner import Existing, House, HouseFault, Intent, Opening, Room, Wish, demo_house, plan, read_house
from planner.deliverables import deliver as module
from planner.deliverables.deliver import LIST, deliver, delivered_object
from planner.deliverables.papers import Paper
from planner.files.storage import settled
from planner.takeoff import takeoff
from tests.files.dying import killed_at, moments
from tests.house.conftest import state

PLAN = plan(read_house(demo_house())[0])
FIRST, SECOND = date(2030, 1, 31), date(2030, 2, 1)


def made_of(names):
    """Makes papers that say the date."""

    def maker(plan, stamp, size):
        for name in names:
            yield Paper(name, name, f"{name} of {stamp.words} on {size.name}".encode())

    return maker


@pytest.fixture
def makers(monkeypatch):
    """Has papers of some names made."""

    def set_to(*names):
        monkeypatch.setattr(module, "MAKERS", (made_of(names),))

    set_to("a.txt", "tables/b.csv")
    return set_to


def test_papers_are_written_told_one_by_one_and_listed(makers, tmp_path):
    told = []
    done = deliver(PLAN, tmp_path / "out", FIRST, "A3", told.append)
    assert [paper.name for paper in told] == ["a.txt", "tables/b.csv"] and tuple(told) == done.papers
    for paper in told:
        assert (tmp_path / "out" / paper.name).read_bytes() == paper.data
    assert told[0].data.decode() == f"a.txt of {done.stamp.words} on A3"
    listed = json.loads((tmp_path / "out" / LIST).read_text("utf-8"))
    assert listed == delivered_object(done)
    assert (listed["fingerprint"], listed["date"]) == (done.stamp.fingerprint, "2030-01-31")


def test_papers_that_are_made_no_more_go_and_all_else_stays(makers, tmp_path):
    deliver(PLAN, tmp_path, FIRST)
    (tmp_path / "mine.txt").write_text("mine")
    makers("a.txt", "c.txt")
    deliver(PLAN, tmp_path, SECOND)
    assert {p.name for p in tmp_path.rglob("*") if p.is_file()} == {"a.txt", "c.txt", "mine.txt", LIST}
    assert "2030-02-01" in (tmp_path / "a.txt").read_text()


@pytest.mark.parametrize("name", ["a.txt", "tables/b.csv"])
def test_a_paper_that_somebody_wrote_in_is_not_lost(makers, tmp_path, name):
    deliver(PLAN, tmp_path, FIRST)
    (tmp_path / name).write_text("marked up on site")
    before = state(tmp_path)
    with pytest.raises(HouseFault, match=rf"{name}: was changed since it was written; move it"):
        deliver(PLAN, tmp_path, SECOND)
    assert state(tmp_path) == before
    makers("c.txt")
    deliver(PLAN, tmp_path, SECOND)
    assert (tmp_path / name).read_text() == "marked up on site"


def test_what_is_none_of_the_papers_keeps_its_place(makers, tmp_path):
    (tmp_path / "a.txt").write_text("somebody else's")
    with pytest.raises(HouseFault, match=r"a\.txt: is none of the planner's papers"):
        deliver(PLAN, tmp_path, FIRST)
    assert set(state(tmp_path)) == {"a.txt"}


@pytest.mark.parametrize("text", ["[]", "{", '{"papers": [{"name": 1}]}', '{"a":' + "[" * 200_000])
def test_a_list_that_is_none_is_told_and_stays(makers, tmp_path, text):
    (tmp_path / LIST).write_text(text)
    with pytest.raises(HouseFault, match=r"papers\.json: is no list of the planner's papers"):
        deliver(PLAN, tmp_path, FIRST)
    assert (tmp_path / LIST).read_text() == text


def test_a_list_that_names_files_elsewhere_removes_none_of_them(makers, tmp_path):
    (outside := tmp_path / "outside.txt").write_text("")
    empty = "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"
    (folder := tmp_path / "out").mkdir()
    (folder / LIST).write_text(json.dumps({"papers": [{"name": "../outside.txt", "sha256": empty}]}))
    deliver(PLAN, folder, FIRST)
    assert outside.exists()


def test_where_no_plan_exists_nothing_is_written(makers, tmp_path):
    made = plan(PLAN.house, Intent(rooms={"Entry Hall": Wish(tier=4), "Drawing Room": Wish(tier=1)}))
    with pytest.raises(HouseFault, match="no plan keeps every rule"):
        deliver(made, tmp_path / "out", FIRST)
    assert not (tmp_path / "out").exists()


def test_a_size_that_no_paper_has_is_told_with_those_that_there_are(makers, tmp_path):
    with pytest.raises(HouseFault, match='no paper is of size \'A9\'; write one of "ANSI B", "A3"'):
        deliver(PLAN, tmp_path / "out", FIRST, "A9")
    assert not (tmp_path / "out").exists()


def test_a_folder_that_is_none_is_told(makers, tmp_path):
    (tmp_path / "out").write_text("a file")
    with pytest.raises(HouseFault, match="out"):
        deliver(PLAN, tmp_path / "out", FIRST)
    assert (tmp_path / "out").read_text() == "a file"


def test_two_papers_of_one_name_are_a_mistake(makers, tmp_path):
    makers("a.txt", "A.TXT")
    with pytest.raises(ValueError, match="two papers called"):
        deliver(PLAN, tmp_path, FIRST)
    assert state(tmp_path) == {}


def test_a_run_that_fails_or_is_killed_while_papers_are_made_leaves_the_former(makers, tmp_path, monkeypatch):
    deliver(PLAN, tmp_path, FIRST)
    before = state(tmp_path)

    def failing(plan, stamp, size):
        yield Paper("a.txt", "a", b"new")
        raise RuntimeError("out of ink")

    def dying(plan, stamp, size):
        yield Paper("a.txt", "a", b"new")
        os.kill(os.getpid(), signal.SIGKILL)

    monkeypatch.setattr(module, "MAKERS", (failing,))
    with pytest.raises(RuntimeError):
        deliver(PLAN, tmp_path, SECOND)
    assert state(tmp_path) == before
    monkeypatch.setattr(module, "MAKERS", (dying,))
    assert killed_at(10**9, lambda: deliver(PLAN, tmp_path, SECOND))
    assert state(tmp_path) == before


def test_a_run_killed_at_any_call_of_the_system_leaves_all_or_none(makers, tmp_path):
    def both(folder):
        deliver(PLAN, folder, FIRST)
        return lambda: deliver(PLAN, folder, SECOND)

    total = moments(both(tmp_path / "after"))
    after, before = state(tmp_path / "after"), {}
    found = set()
    for moment in range(0, total, 10):
        run = both(folder := tmp_path / f"killed {moment}")
        before = before or state(folder)
        killed_at(moment, run)
        with settled(folder):
            now = state(folder)
        assert now in (before, after), f"moment {moment}"
        found.add(now == after)
        run()
        assert state(folder) == after
    assert found == {True, False}


LODGE = House(
    "Lodge",
    ("Parlor",),
    (Room("Parlor", "Ground", "parlor", 264.0, 192.0, 120.0),),
    (Opening("Front", "door", "Parlor", "outside", "S", 100.0, 36.0, 84.0),),
)
ODD = {
    "all of it stays": replace(LODGE, existing=(Existing("Parlor", "all"),)),
    "no opening": replace(LODGE, openings=()),
    "metric": replace(LODGE, unit="m", currency="EUR"),
    "as it is": LODGE,
}


@pytest.mark.parametrize("name", ODD)
def test_any_house_has_papers(tmp_path, name):
    made = plan(ODD[name], Intent(title=name))
    done = deliver(made, tmp_path, FIRST)
    names = {paper.name for paper in done.papers}
    assert {"job-note.pdf", "job-note.txt", "workbook.xlsx", "tables/rooms.csv", "tables/sources.csv"} <= names
    assert ("tables/cut-list.csv" in names) == (name != "all of it stays")
    assert done.size.name == ("A3" if name == "metric" else "ANSI B")
    assert (tmp_path / "job-note.txt").read_text("utf-8").splitlines()[1] == done.stamp.words


def test_a_house_that_is_too_large_to_be_taken_off_has_papers_without_a_cut_list(tmp_path, monkeypatch):
    monkeypatch.setattr(takeoff, "MOST_PIECES", 10)
    made = plan(LODGE)
    names = {paper.name for paper in deliver(made, tmp_path, FIRST).papers}
    assert made.takeoff is None and {"workbook.xlsx", "tables/trim-by-room.csv"} <= names
    assert not names & {"tables/cut-list.csv", "tables/cost-by-room.csv", "tables/pieces.csv"}
    assert "To buy: more than is taken off at once" in (tmp_path / "job-note.txt").read_text("utf-8")
