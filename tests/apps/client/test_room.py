"""What a client is shown and asked of one room."""

import re
from dataclasses import replace

import pytest

from planner import Intent, demo_house, edits, house_library, plan, read_house, read_stock
from planner.apps import screen
from planner.apps.client import room, sitting
from planner.planning.walking import walk
from planner.record.entries import Answer, ElementWish, Reply
from tests.trade_words import trade_words

JARGON = ("tier", "abrupt", "entablature", "casing", "objective", "Principal ", "Chamber", "Service")
"""Words that no client need know."""


@pytest.fixture(scope="module")
def base():
    house, _ = read_house(demo_house())
    library, _ = house_library(demo_house())
    return plan(house, Intent(offered=("chair rail", "crown")), read_stock(demo_house(), house.unit), library)


@pytest.fixture(scope="module")
def library_room(base):
    return room.pictures(base, "Library", dark=False, width=screen.WIDE_CHART)


def asked(base, name, pictures):
    buttons = room.answer_buttons(pictures.walls, lambda _: None)
    boxes = room.wish_boxes(base, name, None, lambda _: None)
    remark = room.mo.ui.text_area(label="Anything to add?")
    return room.question(demo_house(), base, name, pictures, buttons, boxes, remark).text


def test_back_and_on_lead_through_every_room_from_the_front_door(base):
    order, gone = walk(base), []
    assert order[0] == "Entry Hall" and sorted(order) == sorted(base.by_name)
    back, on = room.steps(base, order[3], gone.append)
    back._update(1), on._update(2)
    assert [next_to(order[3]) for next_to in gone] == [order[2], order[4], order[4]]
    assert [gone[1](at) for at in (order[-1], "No such room")] == [order[-1], order[0]]
    assert room.steps(base, order[0], gone.append)[0]._args.args["disabled"]
    assert room.steps(base, order[-1], gone.append)[1]._args.args["disabled"]
    assert "4 of 25" in room.where(base, order[3]).text


def test_a_walk_goes_through_no_room_that_was_not_reached(base):
    order = walk(base)
    for place, name in enumerate(order[1:], 1):
        assert base.before[name] in order[:place]


def test_only_what_can_be_had_is_offered_and_why_not_the_rest(base, library_room):
    said = []
    buttons = room.answer_buttons(library_room.walls, said.append)
    assert set(buttons) == {"planned", "richer", "words"}
    buttons["richer"]._update(1), buttons["planned"]._update(1), buttons["words"]._update(1)
    assert said == ["more", "keep", None]
    text = asked(base, "Library", library_room)
    assert "A little plainer: A library is given no plainer trim than this." in text
    assert "in two ways, at one scale" in text and text.count("<figure") == 2


def test_nothing_is_to_be_chosen_where_there_is_one_way(base, library_room):
    only = room.pictures(base, "Dining Room", False, screen.WIDE_CHART)
    text = asked(base, "Dining Room", only)
    assert text.count("<figure") == 1 and "Which would you have?" not in text
    text = asked(base, "Library", library_room)
    assert text.count("<figure") == 2 and "in two ways, at one scale. Which would you have?" in text


def test_the_last_answer_is_told_and_marked_on_its_drawing(base, library_room):
    taken = []
    button = sitting.taking_back(lambda: taken.append(True))

    def given(**said):
        return sitting.given(
            "Library", Answer(who="Ada", alternative="", room="Library", **said), base.library, button
        ).text

    told, rail = given(answer="more"), ElementWish("chair rail", False)
    assert "Your answer on Library: a little richer." in told and '[data-side="richer"]' in told
    assert '<figure data-side="richer">' in asked(base, "Library", library_room)
    nothing = sitting.given("Library", None, base.library, button).text
    assert "You have not answered on Library yet." in nothing and "Take this answer back" not in nothing
    assert all('role="status"' in text for text in (told, nothing))
    assert "Your answer on Library: in your words." in given(remark="only words")
    assert "Your answer on Library: without a rail at chair height." in given(wishes=(rail,))
    assert "data-side" not in given(wishes=(rail,))
    assert "Take this answer back" in told and taken == []
    button._update(1)
    assert taken == [True]


def test_each_way_says_what_follows_and_what_it_costs(base, library_room):
    (richer,) = (side for side in library_room.walls.sides if side.which == "richer")
    text = asked(base, "Library", library_room)
    after = richer.step.planned
    moved = [r.room.name for r in base.rooms if after.by_name[r.room.name].tier != r.tier and r.room.name != "Library"]
    assert moved and all(name in text for name in moved)
    assert f"{(after.cost - base.cost) / base.cost:.1%}".replace("%", " %") + " more" in text


def test_single_wishes_are_those_that_the_designer_offers(base):
    kept = []

    def answer(wishes):
        kept.append(wishes)

    boxes = room.wish_boxes(base, "Library", None, answer)
    assert [room.wished(base, wish) for wish in (ElementWish("chair rail", False), ElementWish("crown", False))] == [
        "No rail at chair height here",
        "No ceiling moulding here",
    ]
    assert len(boxes) == 2
    boxes[0]._update(True), boxes[1]._update(True), boxes[0]._update(False)
    assert kept[0] == (ElementWish("chair rail", False),) and len(kept[1]) == 2
    assert kept[2] == (ElementWish("crown", False),)
    assert room.wish_boxes(replace(base, intent=Intent()), "Library", None, answer) == []


@pytest.fixture(scope="module")
def short(base):
    """The same house with hardly more money than it needs."""
    return plan(base.house, Intent(offered=("wainscot",), budget=149.0), base.stock, base.library)


def test_a_single_wish_that_cannot_be_had_is_told_with_its_reason_instead(short):
    without, with_it = ElementWish("wainscot", False), ElementWish("wainscot", True)
    text = asked(short, "Library", room.pictures(short, "Library", dark=False, width=screen.WIDE_CHART))
    assert room.wish_boxes(short, "Library", None, lambda _: None) == []
    assert f"{room.wished(short, with_it)}: The budget does not reach for it." in text and "Or only this:" not in text
    (box,) = room.wish_boxes(short, "Drawing Room", None, lambda _: None)
    assert room.wished(short, without) in box.text


def test_a_wish_from_before_can_be_let_go_though_it_can_no_longer_be_had(short):
    before = Answer(who="Ada", alternative="", room="Library", wishes=(ElementWish("wainscot", True),))
    (box,) = room.wish_boxes(short, "Library", before, lambda _: None)
    assert box.value


def test_what_was_wished_before_is_set(base):
    before = Answer(who="Ada", alternative="", room="Library", wishes=(ElementWish("crown", False),))
    assert [box.value for box in room.wish_boxes(base, "Library", before, lambda _: None)] == [False, True]


def test_the_designer_s_word_is_shown_and_escaped():
    reply = Reply(who="Bo", alternative="", room="Library", to="0" * 32, word="<b>Gladly</b>")
    text = room.replied([reply], "Library").text
    assert "Your designer says:" in text and "&lt;b&gt;Gladly" in text
    assert room.replied([reply], "Kitchen") is None


@pytest.mark.parametrize("name", ["Entry Hall", "Library", "Kitchen", "Principal Bedroom", "Coat Closet"])
def test_no_word_of_it_asks_for_a_trade(base, name):
    pictures = room.pictures(base, name, dark=False, width=screen.NARROW_CHART)
    text = asked(base, name, pictures)
    for one in sorted(base.by_name, key=len, reverse=True):
        text = re.sub(re.escape(one), "", text, flags=re.IGNORECASE)
    assert [word for word in JARGON if word in text] == []
    assert trade_words(re.sub(r"<[^>]*>", " ", text), base.library) == set()


def test_a_wish_changes_the_plan_that_answers_give(base):
    from planner.record.answers import propose

    said = Answer(who="Ada", alternative="", room="Library", wishes=(ElementWish("crown", False),))
    after = plan(base.house, propose(base.intent, base, [said]), base.stock, base.library)
    assert base.by_name["Library"].package.element("crown") and not after.by_name["Library"].package.element("crown")
    closed = edits.offer(base.intent, [])
    assert propose(closed, base, [said]) == closed
