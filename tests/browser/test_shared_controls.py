"""Every control of the page that is sent: reached and used by the keys alone, and by touch."""

import shutil
from dataclasses import replace

import pytest

from planner import demo_house, read_intent, read_record, share_page, write_intent
from planner.record.entries import ElementWish
from tests.browser.test_shared_page import _tab_to, added, begun, offline, saved  # noqa: F401  # a fixture among them

RAIL = "Without a rail at chair height"


@pytest.fixture(scope="module")
def sent(tmp_path_factory):
    """A house of which single wishes may be said, and the page on it."""
    place = tmp_path_factory.mktemp("sent")
    house = shutil.copytree(demo_house(), place / "house")
    write_intent(replace(read_intent(house, "measured"), offered=("chair rail",)), house, "measured")
    return house, share_page(house, place / "page.html", ["measured", "easy"], who="Bert")


CONTROLS = """() => [...document.querySelectorAll('button, select, textarea, input, summary')]
    .filter(e => e.checkVisibility() && !e.disabled && !(e.type === 'radio' && !e.checked &&
        document.querySelector(`input[name=${e.name}]:checked`)))
    .map(e => e.id || e.name || (e.closest('label') || e).textContent.trim())"""
"""What can be reached: of several to choose one from, that one which is chosen."""

REACHED = """(() => {
    const e = document.activeElement;
    return e === document.body ? 'nothing' : e.id || e.name || (e.closest('label') || e).textContent.trim();
})()"""


def test_each_control_is_reached_by_the_tab_key_and_seen_to_be(offline, sent):  # noqa: F811
    page = begun(offline(), sent, "Flo")
    page.get_by_label("Room", exact=True).select_option("Library")
    page.get_by_label("A little richer").check()
    page.get_by_text("No file appears?").click()
    page.evaluate("document.activeElement.blur(); scrollTo(0, 0)")
    wanted, reached, unseen = set(page.evaluate(CONTROLS)), set(), set()
    for _ in range(2 * len(wanted) + 20):
        page.keyboard.press("Tab")
        reached.add(here := page.evaluate(REACHED))
        if page.evaluate("getComputedStyle(document.activeElement).outlineStyle") == "none":
            unseen.add(here)
    assert wanted - reached == set() and len(wanted) > 12
    assert unseen & wanted == set()


def test_what_is_answered_by_keys_is_wished_said_taken_back_and_looked_at_again(offline, sent, tmp_path):  # noqa: F811
    page = begun(offline(), sent, "Flo")
    keys = page.keyboard
    page.get_by_label("Room", exact=True).select_option("Library")
    _tab_to(page, "#wishes input")
    keys.press("Space")
    assert page.get_by_label(RAIL).is_checked()
    _tab_to(page, "textarea")
    keys.type("we read there")
    _tab_to(page, "#every-wall summary")
    keys.press("Enter")
    page.locator("#all img").first.wait_for()
    page.get_by_label("Room", exact=True).focus()
    _tab_to(page, "button")
    keys.press("Tab")
    keys.press("Enter")
    assert page.locator("#room-head").inner_text() != "Library"
    _tab_to(page, "#said button")
    keys.press("Enter")
    page.get_by_role("heading", name="Library", exact=True).wait_for()
    assert "Flo: 1 added to the record" in added(sent[0], saved(page, tmp_path))
    (said,) = (each for each in read_record(sent[0]).answers if each.who == "Flo")
    assert (said.remark, said.wishes) == ("we read there", (ElementWish("chair rail", False),))
    page.get_by_label("Room", exact=True).select_option("Kitchen")
    _tab_to(page, "input[name=answer]")
    keys.press("Space")
    assert "Kitchen" in page.locator("#said").inner_text()
    _tab_to(page, "#take-back")
    keys.press("Enter")
    assert "Kitchen" not in page.locator("#said").inner_text()


def test_everything_is_done_by_touch(offline, sent, tmp_path):  # noqa: F811
    page = offline(390, has_touch=True, is_mobile=True)
    page.goto(sent[1].file.as_uri())
    page.get_by_label("Your name").tap()
    page.keyboard.type("Tess")
    page.get_by_role("button", name="Look at the house").tap()
    page.get_by_role("radio", name="Measured").tap()
    page.get_by_label("Room", exact=True).select_option("Library")
    for words in ("A little richer", RAIL):
        page.get_by_text(words).first.tap()
    page.get_by_label("Anything to add?").tap()
    page.keyboard.type("we read there")
    page.locator("#every-wall summary").tap()
    page.locator("#all img").first.wait_for()
    page.get_by_role("button", name="Next room").tap()
    page.get_by_role("button", name="Room before").tap()
    page.get_by_role("heading", name="Library", exact=True).wait_for()
    page.get_by_text("No file appears?").tap()
    page.wait_for_function("document.getElementById('text').value")
    with page.expect_download() as given:
        page.get_by_role("button", name="Save my answers as a file").tap()
    given.value.save_as(tmp_path / "answers.json")
    assert "Tess: 1 added to the record" in added(sent[0], tmp_path / "answers.json")
    (said,) = (each for each in read_record(sent[0]).answers if each.who == "Tess")
    assert (said.answer, said.remark) == ("more", "we read there")
    assert said.wishes == (ElementWish("chair rail", False),)
    page.get_by_role("button", name="Next room").tap()
    page.get_by_text("Keep it").first.tap()
    assert page.locator("#said li").count() == 2
    page.get_by_role("button", name="Take this answer back").tap()
    assert page.locator("#said li").count() == 1
    page.get_by_role("button", name="Change the name").tap()
    assert page.get_by_label("Your name").input_value() == "Tess"
