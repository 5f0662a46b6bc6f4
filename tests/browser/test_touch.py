"""The apps on a screen that is touched."""

import pytest

from tests.browser.driving import opened, settled, tab, until


def test_a_tap_on_a_room_picks_it(serve, chromium):
    context = chromium.new_context(viewport={"width": 820, "height": 1180}, has_touch=True)
    try:
        page = opened(context.new_page(), serve("design"))
        box = settled(page, page.locator("canvas, svg.marks").first)
        page.touchscreen.tap(box["x"] + 0.39 * box["width"], box["y"] + 0.67 * box["height"])
        tab(page, "One room")
        page.get_by_role("heading", name="Dining Room: tier").wait_for(timeout=15_000)
    finally:
        context.close()


def test_what_stands_over_the_plan_ends_within_the_screen_of_a_phone(serve, chromium):
    context = chromium.new_context(viewport={"width": 390, "height": 844}, has_touch=True)
    try:
        page = opened(context.new_page(), serve("design"))
        for what in (page.get_by_label("Room on the plan", exact=True), page.get_by_role("radiogroup").first):
            box = settled(page, what)
            assert box["x"] > 0 and box["x"] + box["width"] <= 390 - 24
    finally:
        context.close()


CELLS = """all => all.map(drawn => {
    let around = drawn;
    while (!around.matches?.(".marimo-cell")) around = around.parentElement ?? around.getRootNode().host;
    const [in_it, cell] = [drawn, around].map(each => each.getBoundingClientRect());
    return [cell.left <= in_it.left, in_it.right <= Math.min(cell.right, innerWidth)];
})"""
"""Whether charts are whole within their cells, beyond which nothing shows."""


@pytest.mark.parametrize("width", [360, 390])
@pytest.mark.parametrize("app", ["design", "review", "compare"])
def test_a_phone_shows_its_charts_whole(serve, chromium, app, width):
    context = chromium.new_context(viewport={"width": width, "height": 780}, has_touch=True, is_mobile=True)
    context.set_default_timeout(60_000)
    try:
        page = context.new_page()
        page.goto(serve(app).url)
        charts = page.locator("canvas:visible, svg.marks:visible")
        charts.first.wait_for()  # as wide as on a desk at first
        until(page, lambda: page.evaluate("document.getElementById('App').scrollWidth") <= width)
        until(page, lambda: {tuple(each) for each in charts.evaluate_all(CELLS)} == {(True, True)})
    finally:
        context.close()


@pytest.fixture
def phone(serve, chromium):
    """The designer's page on a phone."""
    context = chromium.new_context(viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True)
    context.set_default_timeout(60_000)
    yield opened(context.new_page(), serve("design"))
    context.close()


def test_on_a_phone_the_foot_of_the_page_scrolls_clear_of_the_news_and_all_is_big_enough(phone):
    pin = phone.get_by_label("Pin tier of Library")
    pin.focus()  # its entries come when it is reached
    pin.select_option("2")
    news = phone.locator(".pl-news").filter(has_text="Library 3 → 2")
    news.wait_for()
    foot = phone.get_by_text("Copy or download the tables")
    phone.locator("#App").evaluate("e => e.scrollTo(0, e.scrollHeight)")
    until(phone, lambda: foot.bounding_box()["y"] + foot.bounding_box()["height"] < news.bounding_box()["y"], 10)
    small = phone.locator("button[role=radio], #App summary").evaluate_all(
        """all => all.map(e => [e.textContent, e.getBoundingClientRect()])
            .filter(([, box]) => box.width && Math.min(box.width, box.height) < 24)"""
    )
    assert small == []


def test_on_a_phone_what_is_written_on_a_button_is_within_it(phone):
    tab(phone, "Schedule")
    form = phone.locator("table select").first
    form.focus()
    form.select_option("plain crown")
    back = phone.get_by_role("button", name="Put back", exact=True)
    back.first.wait_for()
    tall = back.evaluate_all("all => all.filter(e => e.scrollHeight > e.clientHeight + 1).length")
    assert tall == 0


def test_on_a_phone_what_is_said_at_length_leaves_room_for_the_page(phone):
    phone.get_by_label("Pin tier of Library").focus()
    phone.get_by_label("Pin tier of Library").select_option("2")
    news = phone.locator(".pl-news").filter(has_text="Library 3 → 2")
    news.wait_for()
    news.evaluate("e => e.textContent += ' and what else there is to say of it'.repeat(40)")
    assert news.bounding_box()["height"] < 844 / 6
    assert news.evaluate("e => e.scrollHeight > e.clientHeight && getComputedStyle(e).overflowY") == "auto"
