"""What people do on a page that is still at work on what they did before: nothing of it is lost, nor said of another
room or alternative than the one that they saw.
"""

import shutil
import time

import pytest

from planner import demo_house, read_record
from planner.record.entries import ElementWish
from planner.record.voices import votes
from tests.serving import TABS, Page, Served

FOR, AGAINST = "For it", "Against it"


@pytest.fixture(scope="module")
def house(tmp_path_factory):
    house = shutil.copytree(demo_house(), tmp_path_factory.mktemp("at_work") / "house")
    file = house / "alternatives" / "measured.toml"
    file.write_text('offered = ["chair rail"]\n' + file.read_text("utf-8"), "utf-8")
    return house


@pytest.fixture(scope="module")
def urls(house):
    served = Served("serve", house, *(f"--alternative={name}" for name in ("measured", "formal", "easy")))
    yield dict(zip(("design", "review", "compare"), served.urls, strict=True))
    served.kill()


@pytest.fixture(autouse=True)
def nothing_said(house):
    yield
    shutil.rmtree(house / "reviews", ignore_errors=True)


def client(urls):
    page = Page(urls["review"])
    page.set("Your name", "Ottilie")
    return page


def said(house):
    return [(each.room, each.answer) for each in read_record(house).answers]


def test_an_answer_is_on_the_room_that_was_on_show(urls, house):
    page = client(urls)
    page.at_once(("On →", 1), ("Keep it", 1))
    page.until(lambda shown: "You have answered on 1 room" in shown)
    assert said(house) == [("Entry Hall", "keep")]


def test_a_wish_and_words_are_of_the_room_that_was_on_show(urls, house):
    page = client(urls)
    page.at_once(("On →", 1), ("Anything to add?", "our coats"), ("No rail at chair height here", True))
    page.until(lambda shown: "You have answered on 1 room" in shown)
    (answer,) = read_record(house).answers
    assert (answer.room, answer.remark) == ("Entry Hall", "our coats")
    assert answer.wishes == (ElementWish("chair rail", False),)


def test_each_press_leads_a_room_on(urls):
    page = client(urls)
    page.at_once(("On →", 1), ("On →", 2), ("On →", 3))
    page.until(lambda shown: "4 of 25" in shown)


def test_of_two_answers_at_once_both_are_kept_and_the_later_holds(urls, house):
    page = client(urls)
    page.at_once(("A little plainer", 1), ("Keep it", 1))
    page.until(lambda shown: "Your answer on Entry Hall: keep it" in shown)
    assert said(house) == [("Entry Hall", "less"), ("Entry Hall", "keep")]


def test_of_answers_that_are_pressed_in_turn_each_is_kept_and_the_last_holds(urls, house):
    page = client(urls)
    page.at_once(("Keep it", 1), ("A little plainer", 1), ("Keep it", 2), ("A little plainer", 2), ("Keep it", 3))
    page.until(lambda _: len(said(house)) == 5)
    assert [answer for _, answer in said(house)] == ["keep", "less", "keep", "less", "keep"]
    page.until(lambda shown: "Your answer on Entry Hall: keep it" in shown)


def test_one_answer_pressed_twice_at_once_is_one_answer(urls, house):
    page = client(urls)
    page.at_once(("Keep it", 1), ("Keep it", 2))
    page.until(lambda shown: "Your answer on Entry Hall: keep it" in shown)
    assert set(said(house)) == {("Entry Hall", "keep")}
    page.until(lambda shown: "You have answered on 1 room" in shown)


def team(urls):
    page = Page(urls["compare"])
    page.open_tab(7)
    page.until(lambda shown: "What you say of it" in shown)
    page.set("Your name", "Bert")
    return page


def test_a_vote_is_on_the_alternative_that_was_on_show(urls, house):
    page = team(urls)
    page.at_once(("Alternatives (2 to 6)", ["formal", "easy"]), (FOR, 1), ("What you say of it", "calm"), ("Say it", 1))
    page.until(lambda _: bool(read_record(house).remarks))
    record = read_record(house)
    assert [(vote.alternative, vote.vote) for vote in record.votes] == [("measured", "for")]
    assert [(said.alternative, said.remark) for said in record.remarks] == [("measured", "calm")]


def test_of_two_votes_at_once_both_are_kept_and_the_later_holds(urls, house):
    page = team(urls)
    page.at_once((FOR, 1), (FOR, 2), (AGAINST, 1))
    page.until(lambda shown: "0 for · 1 against" in shown)
    record = read_record(house)
    assert [vote.vote for vote in votes(record, "measured")] == ["against"]
    assert record.votes[0].vote == "for"


def test_of_votes_that_are_given_in_turn_the_last_holds(urls, house):
    page = team(urls)
    page.at_once((FOR, 1), (AGAINST, 1), (FOR, 2))
    page.until(lambda _: len(read_record(house).votes) == 3)
    assert [vote.vote for vote in votes(read_record(house), "measured")] == ["for"]
    page.until(lambda shown: "1 for · 0 against" in shown)


def test_a_remark_that_is_said_twice_at_once_is_there_once(urls, house):
    page = team(urls)
    page.at_once(("What you say of it", "calm"), ("Say it", 1), ("Say it", 2))
    page.until(lambda shown: "<li>Bert: calm</li>" in shown)
    page.at_once((FOR, 1))
    page.until(lambda _: len(read_record(house).votes) == 1)
    assert len(read_record(house).remarks) == 1


NONSENSE = (None, True, -1, 10**12, 0.5, "x" * 3_000, ["Library"], {"a": 1}, [[]])
"""Values that no page tells: somebody who is let in may send anything."""


def test_a_page_that_was_closed_follows_what_others_did_meanwhile_when_it_is_back(urls, house):
    """What it had followed while it was closed, it would never have shown."""
    page, settings = Page(urls["design"]), house / "house.toml"
    before = settings.read_text("utf-8")
    page.until(lambda shown: "<h1>Thornapple House</h1>" in shown)
    page.leave()
    try:
        settings.write_text(before.replace("Thornapple House", "Rowan House"), "utf-8")
        time.sleep(3)  # an open page has followed within two seconds
        page.come_back()
        page.until(lambda shown: "<h1>Rowan House</h1>" in shown, 60)
    finally:
        settings.write_text(before, "utf-8")


@pytest.mark.parametrize("value", NONSENSE, ids=range(len(NONSENSE)))
def test_what_no_page_tells_puts_nothing_into_the_record_and_the_page_lives_on(urls, house, value):
    page = client(urls)
    for label in ("Anything to add?", "Only my words", "Room", "No rail at chair height here", "On →", "← Back"):
        page.at_once((label, value))
    page.at_once(("Your name", value), ("Keep it", value))
    page.set("Your name", "Ottilie")
    page.choose("Room", "Kitchen")
    page.until(lambda shown: '<h3 class="pl-head">Kitchen</h3>' in shown)
    page.set("Anything to add?", "said after all")
    page.press("Keep it")
    page.until(lambda shown: "said after all</td>" in shown)
    record = read_record(house)
    assert record.warnings == () and record.answers[-1].remark == "said after all"
    for said in record.answers[:-1]:
        assert isinstance(said.remark, str) and len(said.remark) <= 2_000 and len(said.who) <= 200


@pytest.mark.parametrize("app", ["design", "compare"])
def test_the_list_of_tabs_of_a_phone_has_another_name_than_the_tabs_whose_place_it_takes(urls, app):
    page = Page(urls[app])
    before = page.named(TABS)
    page.narrow()
    page.until(lambda shown: not TABS.search(shown), seconds=60)
    assert page.control("Show") != before
