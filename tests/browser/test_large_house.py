"""Houses of hundreds and of more than a thousand rooms are worked in as one of 25 is, and 5,000 rooms open."""

import re
import shutil
from dataclasses import replace

import pytest

from planner import write_house
from planner.apps.panels.rooms import SHOWN_ROOMS
from planner.apps.tabs import TABS
from planner.house.model import OUTSIDE
from tests.browser.driving import controls, tab, tier, until
from tests.browser.test_metric import SAID
from tests.laid_out_houses import laid_out_house

SECONDS = 60
"""A tab of a large house is there within so long, on a busy machine."""

HEIGHT = 1000


def sound(house):
    """The house without the windows and fireplaces that stand where a door may be."""
    doors = [one for one in house.openings if one.other != OUTSIDE]
    taken = {one.room for one in doors if one.wall == "S"} | {one.other for one in doors if one.wall == "N"}
    kept = (one for one in house.openings if one in doors or one.kind == "door" or one.room not in taken)
    return replace(house, openings=tuple(kept))


@pytest.fixture(params=[(300, 4), (1200, 6)], ids=["300 rooms", "1,200 rooms"])
def large(request, folder):
    return laid_out(folder, *request.param)


def laid_out(folder, rooms, levels):
    """A house of so many rooms in the place of the one that is served."""
    shutil.rmtree(folder)
    folder.mkdir()
    house = sound(laid_out_house(rooms, 1, levels))
    write_house(house, folder)
    return house


def calm(page, name):
    """Wait until a tab shows something of its own, and nothing is being made any more."""
    page.get_by_role("tab", name=name, exact=True, selected=True).wait_for(timeout=SECONDS * 1000)
    page.wait_for_load_state("networkidle")
    seen = [""]

    def is_calm():
        seen.append(said(page))
        return seen[-1] and seen[-1] == seen[-20:][0]

    def changing():
        before, after = (set(text.splitlines()) for text in (seen[-20:][0], seen[-1]))
        return f"{name} is still made: {sorted(before ^ after) or 'it says that it works'}"

    until(page, is_calm, SECONDS, changing)


def said(page):
    """What stands on the page, and how long it is; nothing while it says that it works."""
    working = page.locator(".animate-spin").locator("visible=true").count()
    return "" if working else page.evaluate("document.getElementById('App').innerText")


def test_every_tab_is_there_in_time_and_short_and_wishes_are_followed(serve, page, large):
    page.goto(serve("design").url)
    page.get_by_label("Find a room").wait_for()
    page.locator("canvas, svg.marks").nth(1).wait_for()
    count, level = len(large.rooms), sum(room.level == large.rooms[0].level for room in large.rooms)
    until(page, lambda: any(f" of {level} rooms are " in text for text in page.evaluate(SAID)))
    page.get_by_text(f"{count - SHOWN_ROOMS:,} more rooms").wait_for()
    other = next(room.level for room in large.rooms if room.level != large.rooms[0].level)
    count = sum(room.level == other for room in large.rooms)
    page.get_by_label("Level on the plan").select_option(f"{other}, {count} rooms")
    until(page, lambda: any(f" of {count} rooms are " in text for text in page.evaluate(SAID)))
    follow_a_pin(page, large)
    for name in TABS:
        tab(page, name)
        calm(page, name)
        high = page.evaluate("document.getElementById('App').scrollHeight")
        assert high <= 3 * HEIGHT, f"{name} is {high} px long"
    tab(page, "Weights")
    assert_news_keep_clear(page)
    before = page.locator(".pl-figures").inner_text()
    page.get_by_role("slider").first.press("ArrowRight")
    until(page, lambda: page.locator(".pl-figures").inner_text() != before, SECONDS)


PHONE = (390, 844)


def test_the_tabs_of_a_large_house_are_short_on_a_phone_too(serve, chromium, folder):
    laid_out(folder, 300, 4)
    width, height = PHONE
    context = chromium.new_context(viewport={"width": width, "height": height}, has_touch=True, is_mobile=True)
    context.set_default_timeout(SECONDS * 1000)
    try:
        page = context.new_page()
        page.goto(serve("design").url)
        page.get_by_label("Find a room").wait_for()
        for name, sign in (("Walk", "Drawn are the last"), ("House", "All that is drawn is saved.")):
            tab(page, name)
            page.get_by_text(sign).wait_for()
            seen = [""]
            until(page, lambda seen=seen: seen.append(said(page)) or (seen[-1] and seen[-1] == seen[-20:][0]), SECONDS)
            high = page.evaluate("document.getElementById('App').scrollHeight")
            assert high <= 3 * height, f"{name} is {high} px long"
    finally:
        context.close()


def follow_a_pin(page, house):
    """Find the last room by its name and by its level, and pin it to the tier below."""
    last = house.rooms[-1]
    page.get_by_label("Find a room").fill(last.name)
    page.get_by_label("Level", exact=True).select_option(last.level)
    rows = page.get_by_role("region", name="Rooms and tiers").locator("tbody tr")
    until(page, lambda: rows.count() == 1)
    now = tier(page, last.name)
    wanted = now - 1 or 2
    controls(page, last.name).first.select_option(str(wanted))
    until(page, lambda: tier(page, last.name) == wanted, SECONDS)
    page.get_by_text(re.compile("Moved: ")).first.wait_for()
    page.get_by_role("button", name="Undo", exact=True).click()
    until(page, lambda: tier(page, last.name) == now, SECONDS)
    page.get_by_label("Find a room").fill("no such room")
    page.get_by_text("No room of that level has that in its name.").wait_for()


def test_5_000_rooms_open_and_follow_a_weight(serve, page, folder):
    house = laid_out(folder, 5000, 20)
    page.goto(serve("design").url)
    opening = 3 * SECONDS * 1000  # pages of tests before it, open on the same server, follow the house too
    page.get_by_text(f"{len(house.rooms) - SHOWN_ROOMS:,} more rooms").wait_for(timeout=opening)
    level = sum(room.level == house.rooms[0].level for room in house.rooms)
    until(page, lambda: any(f" of {level} rooms are " in text for text in page.evaluate(SAID)), SECONDS)
    assert page.evaluate("document.getElementById('App').scrollHeight") <= 3 * HEIGHT
    tab(page, "Weights")
    before = page.locator(".pl-figures").inner_text()
    page.get_by_role("slider").first.press("ArrowRight")
    until(page, lambda: page.locator(".pl-figures").inner_text() != before, SECONDS)


LONG_NEWS = """(line, words) => {
    const long = line.cloneNode();
    long.textContent = words;
    line.after(long);
}"""

FIGURES = ".pl-title h1, .pl-title p, .pl-figures > div > *"


def assert_news_keep_clear(page):
    """The longest of news is in view however far the page is scrolled, and lies on no words of the headline, nor on
    what is edited."""
    line = "Moved: " + ", ".join(f"Principal Bedroom {n} 1 → 2" for n in range(3)) + " and 1,196 more. "
    page.locator(".pl-news").evaluate(LONG_NEWS, line * 2)
    news = page.locator(".pl-news").last
    slider = page.get_by_role("slider").first
    slider.wait_for()
    boxes = [one.bounding_box() for one in page.locator(FIGURES).all()]
    assert len(boxes) > 10
    assert [box for box in [*boxes, slider.bounding_box()] if box and meet(news.bounding_box(), box)] == []
    page.mouse.move(1000, 500)
    page.mouse.wheel(0, 400)
    until(page, lambda: page.locator(".pl-title h1").bounding_box()["y"] < 0)
    box = news.bounding_box()
    assert box["y"] >= 0 and box["y"] + box["height"] <= HEIGHT
    page.mouse.wheel(0, -400)
    news.evaluate("line => line.remove()")


def meet(one, other):
    """Whether two boxes of a page have anything in common."""
    return all(
        one[at] < other[at] + other[size] and other[at] < one[at] + one[size]
        for at, size in (("x", "width"), ("y", "height"))
    )
