"""A designer loses nothing: drafts, saving, undoing, and finding the way out of a conflict."""

import shutil
from concurrent.futures import ThreadPoolExecutor

import pytest

from planner import HouseFault, list_intents, new_house, plan, read_house, read_intent
from planner.apps.desk import Desk, desk_again, ways_out
from planner.apps.headline import state
from planner.apps.houses import opened
from planner.files.storage import Overtaken
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
    assert drafts.drafts_of(folder, "measured") == []
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
    (folder / drafts.draft_file("measured")).write_text("[rooms", "utf-8")
    desk = Desk(folder, "measured")
    assert desk.intent == read_intent(folder, "measured")
    assert desk.fault and desk.drafted is None


def test_a_write_that_fails_leaves_the_last_draft_whole(folder, full_disk):
    desk = Desk(folder, "measured")
    first = desk.change(edits.set_tiers, 4)

    with full_disk(), pytest.raises(HouseFault):
        desk.change(edits.set_tiers, 3)
    assert Desk(folder, "measured", desk.session).intent == first
    assert len(list((folder / "alternatives").iterdir())) == len(list_intents(folder)) + 2  # a draft and its sign


def test_two_at_one_alternative_keep_their_own_drafts(folder):
    mine, theirs = Desk(folder, "measured"), Desk(folder, "measured")
    mine.change(edits.set_tiers, 4)
    theirs.change(edits.set_weight, "use", 0.9)
    mine.change(edits.set_limit, "door", 1)
    for desk in (mine, theirs):
        assert Desk(folder, "measured", desk.session).intent == desk.intent
    theirs.save()
    assert Desk(folder, "measured", mine.session).intent == mine.intent
    (other,) = Desk(folder, "measured").others
    assert other.lasts and other.session == mine.session


def test_a_draft_whose_session_is_gone_is_taken_up_once_and_forgotten_by_saving(folder):
    changed = Desk(folder, "measured").change(edits.set_tiers, 4)
    desk = Desk(folder, "measured")
    assert desk.intent == changed
    desk.change(edits.set_weight, "use", 0.9)
    assert [draft.session for draft in drafts.drafts_of(folder, "measured")] == [desk.session]
    desk.save()
    assert drafts.drafts_of(folder, "measured") == []


def test_of_two_who_take_up_one_draft_neither_loses_anything(folder):
    left = Desk(folder, "measured").change(edits.set_tiers, 4)
    one, other = Desk(folder, "measured"), Desk(folder, "measured")
    assert one.intent == other.intent == left
    one.change(edits.set_weight, "use", 0.9)
    other.change(edits.set_weight, "use", 0.8)
    for desk in (one, other):
        assert Desk(folder, "measured", desk.session).intent == desk.intent


def test_a_page_that_is_open_twice_under_one_name_becomes_two_sessions(folder):
    first = Desk(folder, "measured")
    first.change(edits.set_tiers, 4)
    second = Desk(folder, "measured", first.session)
    second.change(edits.set_weight, "use", 0.9)
    first.change(edits.set_limit, "door", 1)
    assert first.session != second.session
    for desk in (first, second):
        assert Desk(folder, "measured", desk.session).intent == desk.intent


def test_further_drafts_are_offered_and_can_be_put_away(folder):
    left = [Desk(folder, "easy"), Desk(folder, "easy")]
    for desk, tiers in zip(left, (3, 4), strict=True):
        desk.change(edits.set_tiers, tiers)
    del left, desk
    desk = Desk(folder, "easy")
    (other,) = desk.others
    assert not other.lasts
    desk.take_up(other)
    assert {desk.intent.tiers, desk.undo().tiers} == {3, 4} and desk.others == ()
    assert len(drafts.drafts_of(folder, "easy")) == 1
    del desk
    Desk(folder, "easy").revert()
    assert drafts.drafts_of(folder, "easy") == []


def test_a_draft_of_an_earlier_kind_is_taken_up(folder):
    kept = edits.set_tiers(read_intent(folder, "easy"), 4)
    drafts.keep_draft(folder, kept)
    assert drafts.draft_file("easy") == "alternatives/easy.draft.toml"
    desk = Desk(folder, "easy")
    assert desk.intent == kept and desk.drafted
    desk.save()
    assert read_intent(folder, "easy").tiers == 4 and drafts.drafts_of(folder, "easy") == []


def test_a_saving_never_overwrites_what_its_writer_has_not_seen(folder):
    mine, theirs = Desk(folder, "measured"), Desk(folder, "measured")
    mine.change(edits.set_tiers, 4)
    theirs.change(edits.set_weight, "use", 0.9)
    saved = theirs.save()
    with pytest.raises(Overtaken):
        mine.save()
    assert read_intent(folder, "measured") == saved
    assert mine.intent.tiers == 4 and mine.theirs.intent == saved and not mine.is_saved
    mine.revert()
    assert mine.intent == saved and mine.is_saved
    assert mine.undo().tiers == 4
    mine.save()
    assert read_intent(folder, "measured").tiers == 4


def begun_before_somebody_saved(folder, *session):
    """What a draft says that was begun before somebody saved, and the desk of who saved."""
    draft = Desk(folder, "measured", *session).change(edits.set_tiers, 4)
    (path,) = (folder / "alternatives").glob("measured.*.draft.toml")
    data = path.read_bytes()
    path.unlink()
    other = Desk(folder, "measured")
    other.change(edits.set_weight, "use", 0.9)
    other.save()
    path.write_bytes(data)
    return draft, other


def test_a_draft_begun_before_somebody_saved_does_not_pass_over_that(folder):
    draft, other = begun_before_somebody_saved(folder)
    desk = Desk(folder, "measured")
    assert desk.intent == draft and desk.theirs.intent == other.intent
    with pytest.raises(Overtaken):
        desk.save()
    assert desk.overwrite() == read_intent(folder, "measured") == draft


def test_what_somebody_saved_before_a_draft_was_taken_up_is_not_passed_over_after_one_more_change(folder):
    _, other = begun_before_somebody_saved(folder, "11112222")
    Desk(folder, "measured", "11112222").change(edits.set_tiers, 3)
    again = Desk(folder, "measured", "11112222")
    assert again.intent.tiers == 3 and again.theirs.intent == other.intent
    with pytest.raises(Overtaken):
        again.save()
    assert read_intent(folder, "measured") == other.intent


def test_what_is_back_as_it_was_is_nobody_else_s_any_more(folder):
    desk = Desk(folder, "measured")
    path = folder / "alternatives" / "measured.toml"
    data = path.read_bytes()
    path.unlink()
    desk.look()
    assert desk.theirs.data is None and not desk.is_saved
    path.write_bytes(data)
    desk.look()
    assert desk.theirs is None and desk.is_saved


def test_sixty_who_save_under_one_title_at_once_get_a_file_each(folder):
    before = set(list_intents(folder))

    def save(number):
        desk = Desk(folder, "measured")
        desk.change(edits.set_weight, "use", number / 100)
        return desk.save_as("Ours").name

    with ThreadPoolExecutor(60) as pool:
        names = list(pool.map(save, range(60)))
    assert set(list_intents(folder)) - before == set(names) and len(set(names)) == 60
    found = [read_intent(folder, name).importance["use"] for name in names]
    assert found == [number / 100 for number in range(60)]


def test_what_cannot_be_written_stays_on_the_desk_and_can_be_tried_again(folder, full_disk):
    desk = Desk(folder, "measured")
    with full_disk():
        with pytest.raises(HouseFault):
            desk.change(edits.set_tiers, 4)
        assert desk.intent.tiers == 4
        assert "not saved" in state(desk) and "not kept as a draft: cannot be written (No space" in state(desk)
        with pytest.raises(HouseFault):
            desk.save()
        assert "not saved: cannot be written (No space left on device)" in state(desk)
    desk.keep()
    assert state(desk) == "not saved; kept as a draft"
    assert Desk(folder, "measured", desk.session).intent == desk.intent
    with full_disk(), pytest.raises(HouseFault):
        desk.save()
    assert state(desk) == "not saved: cannot be written (No space left on device); kept as a draft"
    desk.save()
    assert state(desk) == "saved"


def test_a_copy_of_a_house_is_without_its_drafts(folder, tmp_path):
    desk = Desk(folder, "measured")
    desk.change(edits.set_tiers, 4)
    new_house(tmp_path / "copy", folder)
    assert drafts.drafts_of(tmp_path / "copy", "measured") == []
    assert list_intents(tmp_path / "copy") == list_intents(folder)


def test_the_headline_tells_what_somebody_else_has_saved(folder):
    mine, theirs = Desk(folder, "measured"), Desk(folder, "measured")
    theirs.change(edits.set_tiers, 4)
    theirs.save()
    assert state(mine) == "saved"
    mine.change(edits.set_weight, "use", 0.9)
    assert state(mine) == "not saved: somebody else has saved it meanwhile; kept as a draft"


def test_a_house_read_again_leaves_the_desk_and_its_way_back(folder):
    address, desks = {"alternative": "measured"}, []
    desk, _ = desk_again(desks, opened(folder), address, ())
    assert address["session"] == desk.session
    desk.change(edits.set_tiers, 4)
    again, _ = desk_again(desks, opened(folder), address, ())
    assert again is desk
    reloaded, _ = desk_again([], opened(folder), address, ())
    assert reloaded is not desk and reloaded.intent == desk.intent


def test_what_is_kept_later_is_in_the_draft_before_another_alternative_is_opened_or_the_page_says_so(folder):
    desk, _ = desk_again([], opened(folder), {"alternative": "measured"}, ())
    for way in (desk.keep_up, lambda: desk.open("easy"), lambda: desk_again([desk], opened(folder), {}, ())):
        desk.open("measured")
        before = read_draft(desk)
        changed = desk.change(edits.set_weight, "use", 0.5 if desk.intent.importance["use"] == 0.4 else 0.4)
        assert read_draft(desk) == before != changed
        way()
        assert read_draft(desk) == changed


def test_what_could_not_be_kept_later_is_told_and_stays_on_the_desk(folder):
    desk, _ = desk_again([], opened(folder), {"alternative": "measured"}, ())
    shutil.rmtree(folder / "alternatives")
    (folder / "alternatives").write_text("", "utf-8")
    changed = desk.change(edits.set_tiers, 4)
    assert desk.unkept == () and desk.intent == changed
    desk.keep_up()
    assert "alternatives" in str(desk.unkept[0]) and "not kept as a draft: " in state(desk)


def test_a_saving_that_failed_is_still_told_when_the_draft_has_been_kept_later(folder):
    desk, _ = desk_again([], opened(folder), {"alternative": "measured"}, ())
    theirs = Desk(folder, "measured")
    desk.change(edits.set_tiers, 4)
    theirs.change(edits.set_weight, "use", 0.9)
    theirs.save()
    with pytest.raises(HouseFault):
        desk.save()
    told = desk.unsaved
    desk.keep_up()
    assert told and desk.unsaved == told and read_draft(desk) == desk.intent


def read_draft(desk):
    """What the draft of "measured" of the desk's session says; None where it has none."""
    own = [d for d in drafts.drafts_of(desk.folder, "measured", desk.session) if d.session == desk.session]
    return drafts.read_draft(desk.folder, "measured", own[0]) if own else None


def test_a_desk_is_opened_anew_where_the_house_has_lost_what_it_names(folder):
    address, desks = {"alternative": "measured"}, []
    desk, _ = desk_again(desks, opened(folder), address, ())
    desk.change(edits.pin, "Library", 4)
    desk.keep_up()
    for file in ("rooms.csv", "openings.csv", "fixtures.csv"):
        path = folder / file
        path.write_text(path.read_text("utf-8").replace("Library", "Study"), "utf-8")
    again, _ = desk_again(desks, opened(folder), address, ())
    assert again is not desk and again.intent.rooms == {} and "Library" in again.fault


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


def test_undoing_past_a_saving_takes_back_what_was_wished_and_neither_name_nor_title(folder):
    desk = Desk(folder)
    desk.change(edits.pin, "Library", 4)
    desk.save_as("Richer library")
    taken_back = desk.undo()
    assert (taken_back.name, taken_back.title) == ("Richer library", "Richer library")
    assert "Library" not in taken_back.rooms
