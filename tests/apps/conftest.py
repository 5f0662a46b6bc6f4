"""A desk with its changes, and a plan, as the panels of the app are handed them."""

import os
import shutil
from contextlib import contextmanager

import pytest

from planner import demo_house, plan, read_house, read_stock
from planner.apps.changes import Changes, shown
from planner.apps.desk import Desk
from planner.apps.panels import cost


@pytest.fixture
def folder(tmp_path):
    """A copy of the demo house."""
    return shutil.copytree(demo_house(), tmp_path / "house")


@pytest.fixture
def full_disk(monkeypatch):
    """While it is entered, no file takes its place."""

    def refuse(*_):
        raise OSError(28, "No space left on device")

    @contextmanager
    def full():
        with monkeypatch.context() as patched:
            patched.setattr(os, "replace", refuse)
            yield

    return full


@pytest.fixture
def changes(folder):
    """Changes on a desk whose page only listens."""
    desk = Desk(folder, "measured")
    return Changes(desk, lambda _: None, lambda _: None, dict.fromkeys(shown(desk), lambda _: None))


@pytest.fixture(scope="session")
def planned():
    """The demo house, built from its stock."""
    house, _ = read_house(demo_house())
    return plan(house, stock=read_stock(demo_house(), house.unit))


class Told(dict):
    """What the page is told, by its kind, in its order."""

    def __init__(self):
        super().__init__()
        self.said = []

    def __missing__(self, kind):
        return lambda value: self.said.append((kind, value))

    def news(self):
        """What it was told last."""
        return [value for kind, value in self.said if kind == "news"][-1]


@pytest.fixture
def told():
    return Told()


@pytest.fixture
def till(told):
    """What the tab of cost needs besides a plan."""
    return cost.till(lambda _: None, told)
