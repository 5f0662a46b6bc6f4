"""What clients said: shown as it was said, taken in with one click, answered with a word, and decided on."""

import os
from types import SimpleNamespace

import pytest

from planner import plan, read_house, read_intent, read_record, read_stock
from planner.apps.changes import Changes, shown
from planner.apps.desk import Desk
from planner.apps.panels import answers as panel
from planner.apps.screen import NARROW_CHART, WIDE_CHART
from planner.apps.typed import Typed
from planner.intent.model import Wish
from planner.record.entries import KEEP, LESS, MORE, ElementWish
from planner.record.fingerprint import fingerprint_of
from planner.record.keeping import open_session, say

TAKE = panel.TAKE


@pytest.fixture
def page(folder):
    """One page's answers: what it shows anew each time, and what it was told."""
    said, house, typed, desk = [], read_house(folder)[0], Typed(), Desk(folder, "measured")
    stock = read_stock(folder, house.unit)
    changes = Changes(desk, lambda _: None, said.append, dict.fromkeys(shown(desk), lambda _: None))
    told = {"spoken": [], "sent": [], "news": []}
    tell = {name: heard.append for name, heard in told.items()}

    def answers(width=WIDE_CHART):
        return panel.answers(panel.spoken(folder), plan(house, desk.intent, stock), changes, typed, tell, width)

    def text(found):
        everything = panel.view(found, desk.intent), panel.deciding(panel.spoken(folder), found, fields(), changes)
        return "".join(piece.text for piece in everything)

    def fields():
        return panel.fields(folder, typed)

    def leave():
        assert not panel.is_open("Rooms", panel.spoken(folder), typed)

    made = {
        "leave": leave,
        "answers": answers,
        "text": text,
        "fields": fields,
        "typed": typed,
        "changes": changes,
        "desk": desk,
    }
    return SimpleNamespace(folder=folder, house=house, stock=stock, told=told, tell=tell, said=said, **made)


def answer(page, room="Library", answer=MORE, who="Ada Bell", **more):
    return say(open_session(page.folder, who), who, "measured", room, answer, **more)


def press(found, words, at=0):
    """Press a button of the answer that stands in some place."""
    answered = [each for _, of_room in found.rooms for each in of_room]
    (button,) = (button for button in answered[at].buttons if button._args.label.startswith(words))
    button._update(1)


def labels(found, at=0):
    answered = [each for _, of_room in found.rooms for each in of_room]
    return [button._args.label.partition(" <")[0] for button in answered[at].buttons]


def test_nothing_said_is_told(page):
    assert "Nobody has said anything of Measured" in page.text(page.answers())


def test_open_answers_stand_first_and_the_newest_of_them_before_the_others(page):
    for room in ("Kitchen", "Library", "Garden Room"):
        answer(page, room)
    press(page.answers(), "Take it in as a pin")
    page.leave()
    assert [room.room for room, _ in page.answers().rooms] == ["Library", "Kitchen", "Garden Room"]


def test_no_button_moves_while_the_tab_is_open_and_what_is_new_is_told(page):
    page.leave()
    answer(page, "Kitchen")
    answer(page, "Library")
    before = page.answers()
    assert [each[0].new for _, each in before.rooms] == [True, True]
    assert "2 open answers, 2 new since" in page.text(before)
    press(before, "Take it in as a pin")
    answer(page, "Kitchen", LESS, who="Bert Cole")
    answer(page, "Garden Room", who="Bert Cole")
    now = page.answers()
    assert [room.room for room, _ in now.rooms] == ["Library", "Kitchen", "Garden Room"]
    assert [each.voice.answer.who for each in now.rooms[1][1]] == ["Ada Bell", "Bert Cole"]
    assert "3 open answers, 4 new since" in page.text(now) and page.text(now).count("New · ") == 4
    page.leave()
    later = page.answers()
    assert [room.room for room, _ in later.rooms] == ["Garden Room", "Kitchen", "Library"]
    assert "3 open answers<" in page.text(later) and "New · " not in page.text(later)


def test_what_came_of_an_act_stands_until_the_alternative_changes_or_the_tab_is_left(page):
    answer(page)
    done = "Taken in as a pinned tier."
    press(page.answers(), "Take it in as a pin")
    assert done in page.text(page.answers()) and done in page.text(page.answers())
    page.changes.undo()
    assert done not in page.text(page.answers())
    page.changes.redo()
    assert done in page.text(page.answers())
    page.leave()
    assert done not in page.text(page.answers())


def test_who_says_what_and_whether_they_agree(page):
    answer(page, answer=MORE, remark="we read there", wishes=[ElementWish("chair rail", False)])
    answer(page, answer=LESS, who="Bert Cole")
    answer(page, "Kitchen", KEEP)
    answer(page, "Kitchen", KEEP, who="Bert Cole")
    text = page.text(page.answers())
    assert "Library · disputed: richness" in text and "Kitchen · all agree" in text
    assert "<b>Ada Bell</b>: A little richer, no chair rail" in text and "“we read there”" in text


def test_the_state_that_an_answer_was_given_on_is_told(page):
    now = fingerprint_of(plan(page.house, page.desk.intent, page.stock))

    def state(fingerprint):
        answer(page, fingerprint=fingerprint)
        return page.answers().rooms[0][1][0].state

    assert state(now) == "given on the house as it is now"
    assert state("1a2b3c4d5e6f7788").startswith("given on an earlier state")
    assert state("").startswith("nobody knows")
    page.changes.make("", lambda intent: panel.edits.pin(intent, "Kitchen", 2))
    assert state(now).startswith("given on the alternative as it is saved")


@pytest.mark.parametrize(("way", "tier"), [("pin", (4, None)), ("range", (None, 4))])
def test_an_answer_is_taken_in_with_one_click_and_can_be_undone(page, way, tier):
    said, before = answer(page), page.desk.intent
    press(page.answers(), TAKE[way])
    wish = page.desk.intent.rooms["Library"]
    assert (wish.tier, wish.lowest) == tier
    (reply,) = read_record(page.folder).replies
    assert (reply.to, reply.taken, reply.who, reply.word) == (said.id, way, panel.DESIGNER, "")
    found = page.answers()
    assert TAKE[way] not in labels(found) and "Undo takes it back" in page.text(found)
    page.changes.undo()
    assert page.desk.intent == before
    again = page.answers()
    assert TAKE[way] in labels(again) and "the alternative says so no longer" in page.text(again)


def test_single_wishes_are_taken_as_trim_rules(page):
    answer(page, answer="", wishes=[ElementWish("chair rail", False)])
    assert labels(page.answers()) == [TAKE["rule"], "Send the word"]
    press(page.answers(), TAKE["rule"])
    (rule,) = page.desk.intent.trim
    assert (rule.element, rule.scope.rooms, rule.change.form) == ("chair rail", ("Library",), "none")


def test_what_cannot_be_had_is_told_at_the_answer_and_changes_nothing(page):
    answer(page, "Coat Closet", LESS)
    before = page.desk.intent
    press(page.answers(), TAKE["pin"])
    assert "Coat Closet cannot be plainer" in page.text(page.answers())
    assert page.desk.intent == before and read_record(page.folder).replies == ()


def test_a_word_is_sent_once_under_the_name_that_was_written(page):
    said, fields = answer(page), page.fields()
    press(page.answers(), "Send the word")
    assert panel.WITHOUT_WORDS in page.text(page.answers()) and read_record(page.folder).replies == ()
    fields.who._update("Cy Dale")
    fields.word._update("With pleasure.")
    press(page.answers(), "Send the word")
    (reply,) = read_record(page.folder).replies
    assert (reply.to, reply.who, reply.word, reply.taken) == (said.id, "Cy Dale", "With pleasure.", "")
    again = page.fields()
    assert (again.who.value, again.word.value) == ("Cy Dale", "") and page.told["sent"] == [None]
    assert "Answered by Cy Dale" in page.text(page.answers())


@pytest.mark.parametrize("act", ["Send the word", "Take it in as a pin", "Decide"])
def test_a_full_disk_is_told_and_what_was_typed_stays(page, full_disk, monkeypatch, act):
    answer(page)
    fields = page.fields()
    fields.who._update("Cy Dale")
    fields.word._update("With pleasure.")
    fields.why._update("as agreed")
    before, found = read_record(page.folder), page.answers()
    with monkeypatch.context() as patched, full_disk():
        patched.setattr(os, "write", os.replace)  # which tells of the full disk
        found.decide._update(1) if act == "Decide" else press(found, act)
    again = page.answers()
    assert "No space left on device" in page.text(again) and read_record(page.folder) == before
    fields = page.fields()
    assert (fields.who.value, fields.word.value, fields.why.value) == ("Cy Dale", "With pleasure.", "as agreed")
    assert page.told["sent"] == []
    if act != "Take it in as a pin":
        again.decide._update(1) if act == "Decide" else press(again, act)
        assert len(read_record(page.folder).entries) == 2


def test_a_house_that_has_changed_since_it_was_looked_at_is_not_decided_on(page):
    page.fields().who._update("Cy Dale")
    found, rooms = page.answers(), page.folder / "rooms.csv"
    rooms.write_text(rooms.read_text("utf-8").replace(",10 ft,0 192", ",9.5 ft,0 192"), "utf-8")
    found.decide._update(1)
    assert "is no longer what was looked at" in page.text(page.answers())
    assert read_record(page.folder).decisions == ()


def test_that_somebody_else_has_saved_before_it_was_decided_stays_told_when_theirs_is_shown(page):
    page.fields().who._update("Cy Dale")
    found, other = page.answers(), Desk(page.folder, page.changes.desk.intent.name)
    other.change(panel.edits.pin, "Kitchen", 2)
    other.save()
    found.decide._update(1)
    page.changes.follow()
    assert page.changes.desk.intent == other.intent
    assert "It was not decided" in page.text(page.answers()) and read_record(page.folder).decisions == ()


def test_words_of_people_are_shown_as_they_are(page):
    hostile = "<script>alert(1)</script>[x](javascript:1)"
    answer(page, remark=hostile, who=hostile)
    fields = page.fields()
    fields.who._update(hostile)
    fields.word._update(hostile)
    fields.why._update(hostile)
    press(page.answers(), "Send the word")
    page.answers().decide._update(1)
    text = page.text(page.answers())
    assert "<script" not in text and "&lt;script&gt;" in text
    assert "[x](" not in "".join(b._args.label for _, found in page.answers().rooms for b in found[0].buttons)


def test_a_name_and_a_saved_alternative_are_asked_for_before_it_is_decided(page):
    page.answers().decide._update(1)
    assert panel.NAMELESS in page.text(page.answers())
    page.fields().who._update("Cy Dale")
    page.changes.make("", lambda intent: panel.edits.pin(intent, "Kitchen", 2))
    page.answers().decide._update(1)
    assert panel.UNSAVED in page.text(page.answers()) and read_record(page.folder).decisions == ()


def test_a_decision_holds_and_says_what_has_changed_since(page):
    fields = page.fields()
    fields.who._update("Cy Dale")
    fields.why._update("within what was agreed")
    page.answers().decide._update(1)
    (decision,) = read_record(page.folder).decisions
    assert (decision.who, decision.alternative, decision.remark) == ("Cy Dale", "measured", "within what was agreed")
    assert read_intent(page.folder / decision.copy, "measured") == page.desk.intent and page.fields().why.value == ""
    assert "Nothing has changed since" in page.text(page.answers())
    page.changes.make("", lambda intent: panel.edits.pin(intent, "Kitchen", 2))
    page.changes.save()
    assert "the alternative has changed since: Kitchen tier 2" in page.text(page.answers())


def test_a_page_hears_what_others_say_and_only_that(page):
    was = panel.spoken(page.folder)
    panel.follow(page.folder, was, page.tell)
    assert page.told["spoken"] == page.told["news"] == []
    answer(page, who="Bert Cole")
    panel.follow(page.folder, was, page.tell)
    assert page.told["spoken"] == [panel.spoken(page.folder)]
    assert page.told["news"] == ["Bert Cole answered on Library; see Answers."]


@pytest.mark.parametrize("width", [WIDE_CHART, NARROW_CHART])
def test_of_many_answers_some_are_shown_and_the_others_counted(page, width):
    rooms = [room.name for room in page.house.rooms][:15]
    for room in rooms:
        answer(page, room, KEEP)
    found = page.answers(width)
    assert len(found.rooms) == panel.MOST_SHOWN[width] and found.left_out == 15 - len(found.rooms)
    assert f"{found.left_out} more answers" in page.text(found)


def test_what_clients_may_speak_of_is_chosen_from_all_elements(page):
    library = plan(page.house).library
    chosen = panel.offered(library, page.changes, WIDE_CHART)
    assert chosen.value == [] and list(chosen.options) == list(library.element_kinds)
    chosen._update(["crown", "chair rail"])
    assert set(page.desk.intent.offered) == {"crown", "chair rail"}
    page.changes.undo()
    assert panel.offered(library, page.changes, WIDE_CHART).value == []


def test_answers_are_taken_away_as_a_table(page):
    answer(page, remark="=1+1", wishes=[ElementWish("chair rail", False)])
    table = panel.as_table(read_record(page.folder), "measured")
    assert list(table.columns) == panel.COLUMNS
    assert table.loc[0, ["Room", "Who", "Answer", "Single wishes", "What became of it"]].tolist() == [
        "Library",
        "Ada Bell",
        "A little richer",
        "no chair rail",
        "Open",
    ]


def test_an_alternative_that_says_nothing_of_a_room_holds_no_answer_on_it():
    said = panel.Answer(who="Ada", alternative="", room="Library", wishes=(ElementWish("crown", True),))
    wished = panel.Intent(rooms={"Library": Wish(lowest=2)})
    assert [panel.holds(panel.Intent(), said, way) for way in ("pin", "range", "rule")] == [False] * 3
    assert [panel.holds(wished, said, way) for way in ("pin", "range")] == [False, True]


def test_a_press_too_many_takes_and_decides_once(page):
    answer(page)
    page.fields().who._update("Cy Dale")
    found = page.answers()
    press(found, TAKE["pin"]), press(found, TAKE["pin"])
    assert [reply.taken for reply in read_record(page.folder).replies] == ["pin"]
    page.changes.save()
    found = page.answers()
    found.decide._update(1), found.decide._update(2)
    assert len(read_record(page.folder).decisions) == 1 and panel.DECIDED in page.text(page.answers())
    page.fields().why._update("on other terms")
    page.answers().decide._update(1)
    assert len(read_record(page.folder).decisions) == 2


def test_how_many_answers_are_open_is_in_the_name_of_the_tab_and_in_a_line_on_a_phone(page):
    def waiting(width=WIDE_CHART):
        return panel.waiting(panel.spoken(page.folder), page.desk.intent, width)

    assert waiting() is None
    answer(page), answer(page, "Kitchen"), answer(page, who="Bert Cole")
    assert '--pl-open-answers: " (3)"' in waiting().text
    assert "3 open answers of clients, under Answers" in waiting(NARROW_CHART).text
    press(page.answers(), TAKE["pin"])
    assert '" (2)"' in waiting().text
