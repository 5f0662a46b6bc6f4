"""A designer loses nothing: drafts, saving, undoing, and finding the way out of a conflict."""

import os

import pytest

from planner import HouseFault, list_intents, plan, read_house, read_intent
from planner.apps.desk import Desk, ways_out
from planner.intent import drafts, edits
from planner.intent.model import DEFAULT_WEIGHTS


def test_a_change_is_found_again_by_the_next_desk(folder):
    changed = Desk(folder, "measured").change(edits.set_weight, "use", 0.9)
    again = Desk(folder, "measured")
    assert again.intent == changed and again.drafted and not again.is_saved
    assert again.undo() == read_intent(folder, "measured")
    assert Desk(folder, "measured").drafted is None
    assert Desk(folder, "easy").intent == read_intent(folder, "easy")


def test_the_house_defaults_have_a_draft_too(folder):
    changed = Desk(folder).change(edits.pin, "Dining Room", 3)
    assert Desk(folder).intent == changed
    assert "Dining Room" in Desk(folder).save_as("First try").rooms
    assert Desk(folder).intent.rooms == {}


def test_drafts_are_no_alternatives(folder):
    before = list_intents(folder)
    Desk(folder, "easy").change(edits.set_tiers, 4)
    assert list_intents(folder) == before


def test_saving_ends_the_draft_and_keeps_the_way_back(folder):
    desk = Desk(folder, "measured")
    first = desk.intent
    saved = desk.change(edits.set_limit, "door", 1) and desk.save()
    assert read_intent(folder, "measured") == saved and desk.is_saved
    assert not drafts.draft_path(folder, "measured").exists()
    assert desk.undo() == first and not desk.is_saved


@pytest.mark.parametrize("title", ["Lighter", "../../escape", 'a "b" <c>', "🙂", "", "CON", "x" * 400, "measured"])
def test_any_title_can_be_saved_and_found_again(folder, title):
    around = set(folder.parent.iterdir())
    desk = Desk(folder, "measured")
    desk.change(edits.set_weight, "use", 0.9)
    saved = desk.save_as(title)
    assert saved.name in list_intents(folder)
    found = read_intent(folder, saved.name)
    assert found.importance["use"] == 0.9 and found.title == (title.strip() or saved.name)
    assert read_intent(folder, "measured").importance["use"] == DEFAULT_WEIGHTS["use"]
    assert set(folder.parent.iterdir()) == around


def test_a_broken_draft_is_told_and_what_is_saved_is_opened(folder):
    Desk(folder, "measured").change(edits.set_tiers, 4)
    drafts.draft_path(folder, "measured").write_text("[rooms", "utf-8")
    desk = Desk(folder, "measured")
    assert desk.intent == read_intent(folder, "measured")
    assert desk.fault and desk.drafted is None


def test_a_write_that_fails_leaves_the_last_draft_whole(folder, monkeypatch):
    desk = Desk(folder, "measured")
    first = desk.change(edits.set_tiers, 4)

    def refuse(*_):
        raise OSError("disk full")

    with monkeypatch.context() as patched:
        patched.setattr(os, "replace", refuse)
        with pytest.raises((OSError, HouseFault)):
            desk.change(edits.set_tiers, 3)
    assert Desk(folder, "measured").intent == first
    assert not list((folder / "alternatives").glob("*.tmp"))


def test_opening_a_faulty_alternative_leaves_the_desk_alone(folder):
    (folder / "alternatives" / "broken.toml").write_text("tiers = 'many'\n", "utf-8")
    desk = Desk(folder, "easy")
    with pytest.raises(HouseFault):
        desk.open("broken")
    assert desk.intent == read_intent(folder, "easy")


def test_every_way_out_of_a_conflict_leads_to_a_plan(folder):
    house, _ = read_house(folder)
    desk = Desk(folder)
    desk.change(edits.pin, "Entry Hall", 1)
    desk.change(edits.pin, "Dining Room", 4)
    desk.change(edits.set_weight, "use", 0.9)
    assert not plan(house, desk.intent).feasible
    ways = list(ways_out(house, desk.intent))
    assert {words for words, _ in ways} >= {"let go of the pin on Entry Hall", "let go of the pin on Dining Room"}
    assert all(plan(house, intent).feasible for _, intent in ways)
