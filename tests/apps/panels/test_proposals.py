"""What the planner proposes is told with what it trades, put on the desk so that it can be undone, and saved beside."""

from dataclasses import replace

import marimo as mo
import pytest

from planner import Wish, demo_house, list_intents, plan, read_house, read_intent
from planner.apps.panels import proposals as panel
from planner.apps.screen import NARROW_CHART, WIDE_CHART
from planner.intent import edits
from tests.house.conftest import state


@pytest.fixture(scope="module")
def planned():
    house, _ = read_house(demo_house())
    return plan(house, read_intent(demo_house(), "measured"))


@pytest.fixture
def ways(planned, changes):
    return panel.ways(planned, changes)


def pressed(button):
    button._update(1)


@pytest.mark.parametrize("width", [WIDE_CHART, NARROW_CHART])
def test_each_is_told_with_its_sentence_its_cost_and_the_rooms_that_move(planned, ways, width):
    shown = panel.view(planned, ways, False, width).text
    assert len(ways) == len(planned.proposals) > 3
    for proposal in planned.proposals:
        assert proposal.trade.replace("'", "&#x27;") in shown and f"Cost index {proposal.cost:,.2f}, " in shown
        room, (before, after) = next(iter(proposal.moves.items()))
        assert f"{room}: tier {before} → {after}" in shown
    assert "vegalite" in shown.replace("-", "")


@pytest.mark.parametrize(("counted", "means"), [("index", "by the length of wall"), ("money", "each room by itself")])
def test_it_is_said_what_their_costs_count(changes, counted, means):
    house, _ = read_house(demo_house())
    made = plan(house, edits.set_cost_in(read_intent(demo_house(), "measured"), counted))
    shown = panel.view(made, panel.ways(made, changes), False, WIDE_CHART).text
    assert f"{made.cost_name}: {means}" in shown and ("is under Cost." in shown) == (counted == "money")


def test_in_a_very_large_house_they_are_looked_for_when_they_are_asked_for(planned, changes, monkeypatch):
    searched = []
    monkeypatch.setattr(panel, "ways", lambda *_: searched.append(True) or [])
    monkeypatch.setattr(panel, "view", lambda *_: mo.Html("what is proposed"))
    _, at_once = panel.shown(planned, changes, False, WIDE_CHART)
    assert searched == [True] and at_once.text == "what is proposed"
    monkeypatch.setattr(panel, "MOST_AT_ONCE", 24)
    _, waiting = panel.shown(planned, changes, False, WIDE_CHART)
    assert searched == [True] and "marimo-lazy" in waiting.text
    assert panel.LOOK in waiting.text and "25 rooms" in waiting.text and "what is proposed" not in waiting.text


def test_one_is_put_on_the_desk_under_the_name_that_is_open_and_taken_back(planned, ways, changes):
    before = changes.desk.intent
    put, _ = ways[0]
    pressed(put)
    now, first = changes.desk.intent, planned.proposals[0]
    assert (now.name, now.title, now.offered) == (before.name, before.title, before.offered)
    assert plan(planned.house, now).cost == first.cost != planned.cost
    changes.undo()
    assert changes.desk.intent == before


def test_what_clients_may_speak_of_stays_as_it_is_on_the_desk(planned, ways, changes):
    changes.put(replace(changes.desk.intent, offered=("crown",)))
    pressed(ways[0][0])
    assert changes.desk.intent.offered == ("crown",)


def test_one_is_saved_beside_and_the_desk_stays(planned, ways, changes, folder):
    before, known = changes.desk.intent, list_intents(folder)
    pressed(ways[0][1])
    (new,) = set(list_intents(folder)) - set(known)
    saved, first = read_intent(folder, new), planned.proposals[0]
    assert saved.title == first.title and plan(planned.house, saved).cost == first.cost
    assert changes.desk.intent == before and changes.desk.is_saved


def test_a_full_disk_is_told_and_nothing_is_saved(ways, changes, folder, full_disk, monkeypatch):
    said, before = [], state(folder)
    monkeypatch.setattr(changes, "_say", said.append)
    with full_disk():
        pressed(ways[0][1])
    assert "No space left on device" in said[0] and state(folder) == before
    pressed(ways[0][1])
    assert said[1].startswith("Saved as ")


def test_where_nothing_is_proposed_that_is_said(planned, changes):
    held = {room.room.name: Wish(tier=room.tier) for room in planned.rooms}
    pinned = plan(planned.house, replace(planned.intent, rooms=held))
    assert "No other plan" in panel.view(pinned, panel.ways(pinned, changes), False, WIDE_CHART).text
