"""After a change those controls are built anew that would show something else, and no others."""

import shutil

import pytest

from planner import Wish, demo_house, read_intent
from planner.apps import headline
from planner.apps.changes import Changes, shown
from planner.apps.desk import Desk
from planner.intent import edits
from planner.intent.folder import list_intents
from planner.intent.model import DEFAULT_WEIGHTS


class Page:
    """A page that remembers what it was told."""

    def __init__(self, folder, session=""):
        self.desk = Desk(folder, "measured", session)
        self.planned, self.said, self.built = [], [], []
        wake = {group: lambda value, group=group: self.built.append(group) for group in shown(self.desk)}
        self.changes = Changes(self.desk, self.planned.append, self.said.append, wake)

    def settled(self) -> list[str]:
        """The groups that are built anew when the page settles."""
        self.built.clear()
        self.changes.settle()
        return list(self.built)


@pytest.fixture
def page(tmp_path):
    return Page(shutil.copytree(demo_house(), tmp_path / "house"))


def test_a_control_in_use_stays_as_it_is(page):
    page.changes.make("weights", edits.set_weight, "use", 0.9)
    assert page.planned == [page.desk.intent] and page.desk.intent.importance["use"] == 0.9
    assert page.said == [""]
    assert page.settled() == []


def test_a_control_wakes_the_others_that_show_what_it_changed(page):
    page.changes.make("wishes", edits.pin, "Library", 5)
    assert page.settled() == []
    page.changes.make("whole", edits.set_tiers, 4)
    assert page.desk.intent.rooms["Library"] == Wish(tier=4)
    assert page.settled() == ["limits", "wishes"]
    assert page.settled() == []


def test_each_choice_for_the_whole_house_wakes_its_own_controls_when_taken_back(page):
    choices = ((edits.set_style, "federal"), (edits.set_order, "ionic"), (edits.set_canon, "interior 1809"))
    for edit, value in choices:
        page.changes.make("whole", edit, value)
        page.settled()
        page.changes.undo()
        assert page.settled() == ["whole"]


def test_undoing_wakes_what_shows_other_values_alone(page):
    page.changes.make("wishes", edits.pin, "Library", 4)
    page.changes.make("limits", edits.set_limit, "door", 1)
    page.settled()
    page.changes.undo()
    assert page.settled() == ["limits"]
    page.changes.undo()
    assert page.settled() == ["wishes"]
    page.changes.redo()
    assert page.settled() == ["wishes"]


def test_nothing_is_built_before_the_page_settles(page):
    page.changes.make("weights", edits.set_weight, "use", 0.9)
    page.changes.undo()
    page.changes.make("wishes", edits.pin, "Library", 4)
    assert page.built == []
    assert page.settled() == ["weights"]


def test_a_change_that_cannot_be_is_said_and_its_control_shows_again_what_is(page):
    page.changes.make("wishes", edits.set_range, "Library", 4, 2)
    assert page.said == ["Library: the lowest tier, 4, is above the highest, 2"]
    assert page.built == ["wishes"] and page.planned == []
    page.changes.make("", edits.add_set, ["Library"])
    assert page.said[-1] == "a set needs two rooms or more"
    assert page.built == ["wishes"]


def test_a_set_that_is_made_or_parted_is_shown(page):
    page.changes.make("", edits.add_set, ["Library", "Kitchen"])
    assert page.settled() == ["sets"]
    page.changes.make("", edits.leave_set, "Library")
    assert page.settled() == ["sets"] and page.desk.intent.sets == ()


def test_saving_and_opening_wake_the_names(page):
    page.changes.make("weights", edits.set_weight, "use", 0.9)
    page.changes.save_as("Lighter")
    assert page.said[-1] == f"Saved as {page.desk.intent.name}."
    assert page.settled() == ["top"]
    page.changes.open("measured")
    assert page.settled() == ["top", "weights"]
    page.changes.save()
    assert page.said[-1] == "Saved as measured."
    assert page.settled() == []


def test_an_alternative_that_cannot_be_opened_or_saved_is_told(page):
    page.changes.open("no such alternative")
    assert "no such alternative" in page.said[-1] and page.desk.intent.name == "measured"
    page.changes.make("weights", edits.set_weight, "use", 0.9)
    (page.desk.folder / "alternatives" / "measured.toml").write_text("[rooms", "utf-8")
    page.changes.save()
    assert "measured.toml" in page.said[-1] and not page.desk.is_saved


def test_a_draft_that_cannot_be_kept_is_told_and_the_change_is_shown(page, full_disk):
    with full_disk():
        page.changes.make("weights", edits.set_weight, "use", 0.9)
        assert "No space left on device" in page.said[-1]
        assert page.settled() == ["warnings"]
        page.changes.keep()
        assert "No space left on device" in page.said[-1]
    assert page.planned[-1].importance["use"] == 0.9
    page.changes.keep()
    assert page.said[-1] == "" and page.settled() == ["warnings"]
    page.changes.undo()
    assert page.said[-1] == "Taken back: weight of use 0.9 instead of 0.35."
    assert page.planned[-1].importance["use"] == DEFAULT_WEIGHTS["use"]


def test_what_is_said_of_a_draft_stays_until_the_draft_is_put_away(page):
    page.changes.make("weights", edits.set_weight, "use", 0.9)
    again = Page(page.desk.folder, page.desk.session)
    assert again.desk.drafted
    again.changes.make("weights", edits.set_weight, "use", 0.8)
    assert again.settled() == []
    again.changes.revert()
    assert again.settled() == ["top", "weights"]


def test_a_shorter_ladder_says_which_wishes_have_another_name_now(page):
    page.changes.make("wishes", edits.pin, "Library", 3)
    page.changes.make("whole", edits.set_tiers, 7)
    assert page.said[-1] == "" and page.desk.intent.rooms["Library"] == Wish(tier=4)
    page.changes.make("wishes", edits.pin, "Library", 5)
    page.changes.make("whole", edits.set_tiers, 5)
    assert page.desk.intent.rooms["Library"] == Wish(tier=4)
    assert page.said[-1] == "A ladder of 5 tiers has other names. Library: Company is Principal now."
    page.changes.undo()
    assert page.said[-1] == "Taken back: tiers 5 instead of 7; Library tier 4."
    assert page.desk.intent.rooms["Library"] == Wish(tier=5)


def test_what_is_on_the_desk_is_not_given_up_for_another_alternative_while_it_is_in_no_draft(page, full_disk):
    with full_disk():
        page.changes.make("weights", edits.set_weight, "use", 0.9)
        page.built.clear()
        page.changes.open("easy")
        assert page.built == ["top"], "the choice must show again what is open"
        assert page.desk.intent.name == "measured" and page.desk.intent.importance["use"] == 0.9
    page.changes.open("easy")
    assert page.desk.intent.name == "easy"
    page.changes.open("measured")
    assert page.desk.intent.importance["use"] == 0.9


def test_a_saving_that_somebody_has_overtaken_offers_both(page):
    other = Desk(page.desk.folder, "measured")
    page.changes.make("weights", edits.set_weight, "use", 0.9)
    other.change(edits.set_tiers, 4)
    other.save()
    page.changes.save()
    assert "somebody else has changed alternatives/measured.toml" in page.said[-1]
    assert page.settled() == ["warnings"]
    assert read_intent(page.desk.folder, "measured").tiers == 4
    page.changes.save_as("Mine")
    assert page.said[-1] == "Saved as Mine." and page.settled() == ["top", "warnings"]
    assert read_intent(page.desk.folder, "measured").tiers == 4
    assert read_intent(page.desk.folder, "Mine").importance["use"] == 0.9


def test_what_is_kept_as_new_beside_theirs_has_a_title_of_its_own_each_time(page):
    folder = page.desk.folder
    for weight, tiers in ((0.9, 4), (0.8, 3), (0.7, 6)):
        page.changes.open("measured")
        page.changes.make("weights", edits.set_weight, "use", weight)
        other = Desk(folder, "measured")
        other.change(edits.set_tiers, tiers)
        other.save()
        page.changes.save()
        keep, *_ = headline.ways_to_keep(page.desk, page.changes, lambda act: act, lambda: "")
        keep._update(1)
    titles = [read_intent(folder, name).title for name in list_intents(folder)]
    assert len(titles) == 6 and len(set(titles)) == 6, titles


def test_what_somebody_has_saved_meanwhile_is_overwritten_only_knowingly(page):
    other = Desk(page.desk.folder, "measured")
    other.change(edits.set_tiers, 4)
    other.save()
    page.changes.make("weights", edits.set_weight, "use", 0.9)
    assert page.settled() == ["warnings"], "it is told before the saving"
    other.change(edits.set_tiers, 3)
    other.save()
    page.changes.overwrite()
    assert read_intent(page.desk.folder, "measured").tiers == 3, "what was never shown is not overwritten"
    page.changes.overwrite()
    saved = read_intent(page.desk.folder, "measured")
    assert (saved.tiers, saved.importance["use"]) == (5, 0.9)
