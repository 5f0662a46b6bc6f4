"""The whole job on the desk: by the keys alone, and by touch on a phone; and what is in view while it is done."""

import re
from pathlib import Path

import pytest

from planner import list_intents, read_intent
from planner.apps import tabs
from tests.browser.driving import controls, controls_on, counted, cut_on, opened, settled, sheets, tab, tier, until

TABS = tuple(name for name in tabs.TABS if name != "House")
"""The tabs that show the plan; that in which the house is drawn keeps its own drawing in view."""

SIDEWAYS = """() => [...document.querySelectorAll('#App, #App *')].filter(e =>
    e.scrollWidth > e.clientWidth + 1 && ['auto', 'scroll'].includes(getComputedStyle(e).overflowX)
    && !e.closest('.pl-drawing, [data-cell-name=pictures], [data-cell-name=walks]')
).map(e => e.className || e.localName)"""
"""What has to be scrolled sideways, but for drawings in their frames."""


def is_focused(locator):
    return locator.evaluate("e => e.getRootNode().activeElement === e")


def reach(page, locator, key="Tab", most=200):
    """Press a key until an element has the focus."""
    locator.wait_for()
    for _ in range(most):
        if is_focused(locator):
            return
        page.keyboard.press(key)
    raise AssertionError(f"{locator} is not reached by {key}")


def turn(page, name):
    """Open a tab by the arrow keys."""
    reach(page, page.get_by_role("tab", selected=True), "Shift+Tab")
    page.keyboard.press("Home")
    for _ in range(tabs.TABS.index(name)):
        page.keyboard.press("ArrowRight")
    page.get_by_role("tab", name=counted(name), selected=True).wait_for()


def choose(page, locator, letters):
    """Choose by the first letters of an option."""
    reach(page, locator)
    page.keyboard.type(letters)
    page.keyboard.press("Enter")


def away(page):
    """How far the plan is from what all rooms ask for, as the bar says it."""
    figure = page.locator(".pl-figures div").filter(has_text="Away from what all rooms ask for").locator("b")
    return figure.text_content()


def rail(page):
    return page.locator("tr").filter(has=page.get_by_role("rowheader", name="chair rail", exact=True))


def test_by_the_keys_alone(serve, page, folder):
    opened(page, serve("design"))
    choose(page, page.get_by_label("Room on the plan"), "Libr")
    turn(page, "One room")
    page.get_by_role("heading", name="Library: tier").wait_for()

    turn(page, "Rooms")
    before = away(page)
    choose(page, controls(page, "Library").first, "4")
    until(page, lambda: tier(page, "Library") == 4)

    turn(page, "Weights")
    pinned = away(page)
    assert pinned != before
    reach(page, page.get_by_role("slider").nth(4))
    page.keyboard.press("End")
    until(page, lambda: away(page) != pinned)

    turn(page, "Schedule")
    choose(page, rail(page).locator("select").nth(3), "moul")
    rail(page).get_by_text("◆ moulded rail, ").wait_for()

    reach(page, page.get_by_label("New title"), "Shift+Tab")
    page.keyboard.type("By the keys")
    reach(page, page.get_by_role("button", name="Save as new"))
    page.keyboard.press("Enter")
    until(page, lambda: "By the keys" in list_intents(folder))
    assert read_intent(folder, "By the keys").rooms["Library"].tier == 4

    reach(page, page.get_by_role("button", name="Undo"), "Shift+Tab")
    page.keyboard.press("Enter")
    page.get_by_text("Taken back: chair rail in tier 2: moulded rail.").wait_for()
    reach(page, page.get_by_role("button", name="Save", exact=True))
    page.keyboard.press("Enter")
    page.get_by_text("Saved as By the keys.").wait_for()
    assert read_intent(folder, "By the keys").trim == ()

    turn(page, "Walls")
    take = page.get_by_role("button", name="SVG", exact=True).or_(page.get_by_role("link", name="SVG", exact=True))
    reach(page, take)
    with page.expect_download() as caught:
        page.keyboard.press("Enter")
    assert Path(caught.value.path()).read_bytes().startswith(b"<svg ")


TAPPED = (0.17, 0.67)
"""Where the Drawing Room is on the plan of a phone, in parts of its width and height from the top left."""


def test_by_touch_on_a_phone(serve, chromium, folder):
    context = chromium.new_context(viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True)
    context.set_default_timeout(60_000)
    page = opened(context.new_page(), serve("design"))
    show = page.get_by_label("Show", exact=True)
    show.wait_for()

    def turned(name):
        show.select_option(name)
        until(page, lambda: show.input_value() == name)

    box = settled(page, page.locator("canvas, svg.marks").first)
    page.touchscreen.tap(box["x"] + TAPPED[0] * box["width"], box["y"] + TAPPED[1] * box["height"])
    turned("One room")
    page.get_by_role("heading", name="Drawing Room: tier").wait_for()
    page.get_by_label("Room on the plan").select_option(label="Library, tier 3 Family")
    page.get_by_role("heading", name="Library: tier").wait_for()
    turned("Rooms")
    controls(page, "Library").first.tap()
    controls(page, "Library").first.select_option("4")
    until(page, lambda: tier(page, "Library") == 4)
    pinned = away(page)

    turned("Weights")
    track = page.get_by_role("slider").nth(4).locator("xpath=ancestor::*[@data-orientation][last()]")
    track.scroll_into_view_if_needed()
    box = settled(page, track)
    page.touchscreen.tap(box["x"] + box["width"] - 2, box["y"] + box["height"] / 2)
    until(page, lambda: away(page) != pinned)

    turned("Schedule")
    page.get_by_label("in tier", exact=True).select_option("2")
    rail(page).get_by_text("–").first.wait_for()
    rail(page).locator("select").select_option("moulded rail")
    rail(page).get_by_text("◆ moulded rail, ").wait_for()

    page.get_by_label("New title").fill("By touch")
    page.get_by_role("button", name="Save as new").tap()
    until(page, lambda: "By touch" in list_intents(folder))
    page.get_by_role("button", name="Undo").tap()
    page.get_by_text("Taken back: chair rail in tier 2: moulded rail.").wait_for()
    page.get_by_role("button", name="Save", exact=True).tap()
    page.get_by_text("Saved as By touch.").wait_for()
    assert read_intent(folder, "By touch").trim == ()
    turned("Walls")
    with page.expect_download() as caught:
        page.get_by_role("button", name="SVG", exact=True).or_(
            page.get_by_role("link", name="SVG", exact=True)
        ).first.tap()
    assert Path(caught.value.path()).read_bytes().startswith(b"<svg ")
    for name in tabs.TABS:
        turned(name)
        if name == "Cost":  # the house is taken off first
            page.get_by_role("heading", name="What you pay").wait_for()
        page.wait_for_timeout(1500)
        assert page.evaluate(SIDEWAYS) == [], name
        page.locator("details").evaluate_all("all => all.forEach(fold => fold.open = true)")
        page.wait_for_timeout(300)
        assert page.evaluate(SIDEWAYS) == [], f"{name}, unfolded"
    context.close()


@pytest.mark.parametrize(("width", "height"), [(1440, 1000), (390, 844)])
def test_no_view_is_longer_than_three_screens_and_the_pictures_stay_in_it(serve, chromium, width, height):
    context = chromium.new_context(viewport={"width": width, "height": height})
    context.set_default_timeout(60_000)
    page = opened(context.new_page(), serve("design"))
    for name in tabs.TABS:
        tab(page, name)
        if name == "Cost":  # the house is taken off first
            page.get_by_role("heading", name="What you pay").wait_for()
        page.wait_for_timeout(2500)
        high = page.evaluate("document.getElementById('App').scrollHeight")
        assert high <= 3 * height, f"{name} is {high} px long"
        if name not in TABS:
            continue
        page.evaluate("document.getElementById('App').scrollTop = 900")
        page.wait_for_timeout(300)
        shown = [box for cell in ("pictures", "walks") if (box := _in_view(page, cell, height))]
        assert len(shown) == (2 if width > 700 else 1), f"{name}: {shown}"
        page.mouse.move(width - 60, height - 40)  # what is pointed at is lifted, and goes behind what stays in view
        page.mouse.move(width - 60, height - 60)
        stays = ("pictures", "controls", "tabs_of_the_page") if width > 700 else ("pictures",)
        assert [cell for cell in stays if page.evaluate(IN_FRONT, cell) != cell] == [], name
        page.evaluate("document.getElementById('App').scrollTop = 0")
    context.close()


IN_FRONT = """cell => {
    const box = document.querySelector(`[data-cell-name=${cell}]`).getBoundingClientRect();
    const top = document.elementFromPoint(box.right - 100, box.bottom - 4);
    return top?.closest('[data-cell-name]')?.dataset.cellName;
}"""
"""Which cell is seen in the lower right corner of one."""


def _in_view(page, cell, height):
    """Where a picture is on the screen, None where nothing of it is drawn or it is not wholly there."""
    drawn = page.locator(f"[data-cell-name={cell}] canvas, [data-cell-name={cell}] svg.marks").first
    box = drawn.bounding_box() if drawn.count() else None
    return box if box and box["y"] >= 0 and box["y"] + min(box["height"], 300) <= height else None


def test_an_address_opens_a_room_and_a_tab_and_a_missing_alternative_is_said(serve, page, folder):
    served = serve("design")
    page.goto(f"{served.url}&room=Library&tab=One%20room&alternative=measurd")
    page.get_by_role("heading", name="Library: tier").wait_for()
    page.get_by_text('there is no alternative "measurd"').wait_for()
    page.get_by_text('write "measured"').or_(page.get_by_text("measured").first).first.wait_for()
    tab(page, "Walk")
    until(page, lambda: "tab=Walk" in page.url and "room=Library" in page.url)


OF_CONTROLS = re.compile("Decide on|Papers for|notes and photographs|More of one element")
"""What heads nothing but controls where nothing is noted or decided yet."""


def test_paper_has_what_is_folded_away_and_none_of_the_controls(serve, page):
    opened(page, serve("design"))
    tab(page, "Checks")
    page.locator("details.pl-fold").first.wait_for()
    page.emulate_media(media="print")
    folded = page.locator("details.pl-fold:not([open]) li").first
    assert folded.evaluate("e => e.getBoundingClientRect().height") > 0
    assert not page.get_by_role("button", name="Undo").is_visible()
    assert cut_on(page) == []
    page.set_viewport_size({"width": 816, "height": 1056})  # a sheet of Letter at 96 px to the inch
    for name in tabs.TABS:
        page.emulate_media(media="screen")
        tab(page, name)
        page.wait_for_load_state("networkidle")
        if name == "Cost":
            page.get_by_role("heading", name="What you pay").wait_for()
        page.emulate_media(media="print")
        until(page, lambda: controls_on(page) == [])
        bare = page.get_by_role("heading", name=OF_CONTROLS)
        assert [one.inner_text() for one in bare.all() if one.is_visible()] == [], name
        if name == "Cost":
            said = page.get_by_role("region", name="Wage, pace, markup").inner_text()
            assert "78" in said and "yes" in said, "what is paid is on paper"
        assert page.locator(".animate-spin").locator("visible=true").count() == 0, name
        wide = page.locator(".pl-drawing svg, .pl-table, .bd-plan, .bd-table").evaluate_all(
            "all => all.filter(e => e.getBoundingClientRect().right > innerWidth + 1).length"
        )
        assert wide == 0, name
        unbroken = page.locator("#App div").evaluate_all(
            "all => all.filter(e => /flex/.test(getComputedStyle(e).display) && e.clientHeight > innerHeight).length"
        )
        assert unbroken == 0, name
    written = page.locator(".bd-table td[data-head=notes]").nth(1)
    assert "L-shaped; the short arm" in written.evaluate("e => getComputedStyle(e, '::after').content")
    assert page.locator(".bd-table :is(input, select)").locator("visible=true").count() == 0
    assert sheets(page) >= 2
    page.emulate_media(media="screen")


def test_the_designer_s_page_leads_to_the_others_and_theirs_to_none(folder, chromium):
    from tests.serving import Served

    served = Served("serve", folder)
    context = chromium.new_context()
    context.set_default_timeout(60_000)
    try:
        page = context.new_page()
        page.goto(served.urls[0])
        for words, app in (("What the client sees", "review"), ("What the team compares", "compare")):
            with context.expect_page() as caught:
                page.get_by_role("link", name=words).click()
            other = caught.value
            other.locator("canvas, svg.marks").first.wait_for()
            assert f"/{app}/" in other.url and "key=" not in other.url
            unseen = other.evaluate(
                "[...document.querySelectorAll('a')].map(a => a.href).filter(h => h.includes('key='))"
            )
            assert unseen == []
    finally:
        context.close()
        served.kill()
