"""What is taken away from a tab is made when it is asked for, and not before."""

import re

import pandas as pd
import pytest

from planner import Intent, Wish, bundled, plan
from planner.apps import tables, tabs
from planner.apps.panels.answers import TAB
from planner.deliverables import tables as made


@pytest.mark.parametrize("tab", tabs.TABS)
def test_every_tab_that_shows_a_table_gives_it(planned, changes, till, tab):
    assert planned.money is not None  # what is not taken off has no tables of it yet
    found = tabs.to_take(tab, planned, "Library", changes)
    assert bool(found) == (tab not in ("Walk", "House"))  # one is a drawing, the other files already
    assert all(isinstance(make(), pd.DataFrame) for make in found.values())
    held, shown = tabs.shown(tab, planned, "Library", changes, till, False, 590)
    if tab == "Schedule":  # its tables stand below all that is shown of it
        held, shown = None, tabs.taken(tab, planned, "Library", changes)
        assert tabs.taken(tab, None, "Library", changes) is None
    assert ("Copy or download" in shown.text if shown else False) == bool(found)
    assert held is not None or not found or tab == "Schedule"


@pytest.mark.parametrize("tab", tabs.TABS)
def test_where_there_is_no_plan_a_tab_that_has_nothing_else_says_so(planned, changes, till, tab):
    pins = {"Entry Hall": Wish(tier=1), "Dining Room": Wish(tier=4)}
    stuck = plan(planned.house, Intent(rooms=pins))
    assert not stuck.feasible
    held, shown = tabs.shown(tab, stuck, "Library", changes, till, False, 590)
    assert held is None and (shown is None) == (tab in ("Rooms", "Weights", "Answers", "House"))
    assert shown is None or "No plan keeps all of the wishes" in shown.text


def test_a_table_is_made_when_it_is_taken(planned, changes, monkeypatch):
    asked = []
    monkeypatch.setattr(made, "rooms", lambda plan: asked.append(plan) or pd.DataFrame({"Room": ["=Hall"]}))
    held = tables.ways(tabs.to_take("Rooms", planned, "Library", changes), lambda title, ending: title + ending)
    as_csv, as_workbook, _ = held.controls
    assert asked == [] and as_csv._args.args["filename"] == "Rooms by tier.csv"
    assert as_csv._data().endswith(b"Room\r\n'=Hall\r\n") and as_workbook._data().startswith(b"PK")
    assert asked == [planned, planned]


def test_what_is_copied_is_text_and_not_markup():
    assert "&lt;b&gt;" in tables.to_copy(pd.DataFrame({"Room": ["<b>"]})).text


def test_the_tab_that_says_how_many_answers_are_open_is_that_of_answers():
    """The framework numbers tabs; a sheet of styles can tell them by nothing else."""
    style = (bundled("notebooks") / "desk.css").read_text("utf-8")
    (number,) = re.findall(r'"trigger-(\d+)"\]::after', style)
    assert tabs.TABS[int(number)] == TAB
