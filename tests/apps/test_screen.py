"""The page says that it works where that takes long, and does last what was asked for last."""

import asyncio
from concurrent.futures import ThreadPoolExecutor
from threading import Event
from time import sleep
from types import SimpleNamespace

import pytest

from planner.apps import screen


def apart(act, *arguments):
    """Do it in a thread of its own, in which no other test has left a loop of events running."""
    with ThreadPoolExecutor(1) as thread:
        thread.submit(act, *arguments).result(60)


@pytest.fixture
def shown(monkeypatch) -> list[str | None]:
    """What a cell showed, one after the other; None where it was cleared."""
    outputs: list[str | None] = []
    monkeypatch.setattr(screen.mo.output, "replace", lambda spinner: outputs.append(spinner.title))
    monkeypatch.setattr(screen.mo.output, "clear", lambda: outputs.append(None))
    return outputs


def test_what_takes_long_is_said_to_be_going_on_and_then_no_longer(shown, monkeypatch):
    said = Event()
    monkeypatch.setattr(screen, "MOMENT", 0.0)
    monkeypatch.setattr(screen.mo.output, "replace", lambda spinner: (shown.append(spinner.title), said.set()))
    with screen.working("Planning 400 rooms"):
        assert said.wait(30)
    assert shown == ["Planning 400 rooms", None]


def test_what_is_done_in_a_moment_goes_unsaid(shown, monkeypatch):
    monkeypatch.setattr(screen, "MOMENT", 60.0)
    with screen.working("Planning 4 rooms"):
        pass
    assert shown == []


def test_what_takes_long_between_cells_is_said_nowhere(shown, monkeypatch):
    page = SimpleNamespace(execution_context=None)
    monkeypatch.setattr(screen, "MOMENT", 0.0)
    monkeypatch.setattr(screen, "get_context", lambda: page, raising=False)
    with screen.working("Planning 400 rooms"):
        sleep(0.3)
    assert shown == []


def test_a_plan_that_fails_leaves_no_word_behind(shown, monkeypatch):
    said = Event()
    monkeypatch.setattr(screen, "MOMENT", 0.0)
    monkeypatch.setattr(screen.mo.output, "replace", lambda spinner: (shown.append(spinner.title), said.set()))
    with pytest.raises(ValueError, match="no plan"), screen.working("Planning 4 rooms"):
        assert said.wait(30)
        raise ValueError("no plan")
    assert shown == ["Planning 4 rooms", None]


def test_the_first_act_is_done_at_once_and_of_those_that_follow_fast_the_last(monkeypatch):
    monkeypatch.setattr(screen, "REST", 0.01)
    done: list[str] = []

    async def page() -> None:
        afterwards, settled = screen.Afterwards(), asyncio.Event()
        afterwards.do(lambda: done.append("first"))
        assert done == ["first"]
        afterwards.do(lambda: done.append("second"))
        afterwards.do(lambda: (done.append("third"), settled.set()))
        assert done == ["first"]
        await asyncio.wait_for(settled.wait(), 30)

    apart(asyncio.run, page())
    assert done == ["first", "third"]


def test_as_a_script_every_act_is_done_at_once():
    done: list[int] = []
    afterwards = screen.Afterwards()
    for number in range(3):
        apart(afterwards.do, lambda number=number: done.append(number))
    assert done == [0, 1, 2]
