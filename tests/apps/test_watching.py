"""What others change in a house folder is seen by an open page, once a change, and nothing else is."""

import asyncio

import pytest

from planner.apps import watching
from planner.apps.watching import Watch, traces
from tests.loops import run


@pytest.fixture
def quickly(monkeypatch):
    monkeypatch.setattr(watching, "EVERY", 0.02)


async def rest():
    await asyncio.sleep(0.1)


def test_each_change_of_what_is_shared_is_told_once(folder, quickly):
    told = []

    async def page():
        watch = Watch(folder)
        watch.do(lambda: told.append(1))
        await rest()
        assert told == []
        (folder / "reviews").mkdir(exist_ok=True)
        (folder / "reviews" / "said.jsonl").write_text("{}")
        await rest()
        assert len(told) == 1
        with (folder / "reviews" / "said.jsonl").open("a") as file:
            file.write("{}")
        await rest()
        assert len(told) == 2
        (folder / "alternatives" / "easy.toml").unlink()
        await rest()
        assert len(told) == 3
        watch.do(lambda: told.append(2))
        (folder / "rooms.csv").unlink()
        await rest()
        assert told == [1, 1, 1, 2]

    run(page())


def test_what_changes_while_a_page_is_closed_is_told_once_when_it_is_back(folder, quickly):
    told, is_open = [], [True]

    async def page():
        watch = Watch(folder, lambda: is_open[0])
        watch.do(lambda: told.append(1))
        is_open[0] = False
        for name in ("easy", "formal"):
            (folder / "alternatives" / f"{name}.toml").unlink()
            await rest()
        assert told == []
        is_open[0] = True
        await rest()
        assert told == [1]

    run(page())


def test_what_was_missed_while_a_page_could_show_nothing_is_made_up_for(folder, quickly):
    whole, part = [], []

    async def page():
        watch = Watch(folder)
        watch.do(lambda: part.append(1), whole=False)
        watch.do(lambda: whole.append(1))
        await rest()
        assert (whole, part) == ([], [])
        watch.do(lambda: part.append(1), whole=False)
        (folder / "alternatives" / "easy.toml").unlink()
        await rest()
        assert (whole, part) == ([], [1])
        watch.do(lambda: whole.append(1))
        await rest()
        assert (whole, part) == ([1], [1])

    run(page())


def test_drafts_and_what_is_hidden_are_nobody_else_s(folder):
    before = traces(folder)
    (folder / "alternatives" / "easy.a1b2.draft.toml").write_text("title = ''")
    (folder / "alternatives" / "tables.a1b2.draft.json").write_text("{}")
    (folder / ".lock").write_text("")
    assert traces(folder) == before
    (folder / "notes").mkdir()
    (folder / "notes" / "notes.csv").write_text("room")
    assert traces(folder) > before


def test_what_goes_wrong_once_does_not_end_the_watch(folder, quickly):
    told = []

    def then():
        told.append(1)
        raise ValueError("once")

    async def page():
        asyncio.get_running_loop().set_exception_handler(lambda loop, context: None)
        Watch(folder).do(then)
        for number in range(2):
            (folder / "house.toml").write_text("#" * number)
            await rest()
        assert len(told) == 2

    run(page())


def test_a_folder_that_is_gone_leaves_no_trace_and_a_script_watches_nothing(tmp_path):
    assert traces(tmp_path / "gone") == frozenset()
    Watch(tmp_path).do(lambda: None)


def test_a_folder_of_very_many_files_is_looked_at_in_part(tmp_path, monkeypatch):
    monkeypatch.setattr(watching, "MOST_FILES", 3)
    for number in range(5):
        (tmp_path / str(number)).write_text("")
    assert len(traces(tmp_path)) == 3
