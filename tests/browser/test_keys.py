"""The plan and the charts for those who use the keys, or hear the page."""

import pytest

from tests.browser.driving import choose_room, opened, tab, until

FOCUSED = """() => {
    let e = document.activeElement;
    while (e.shadowRoot && e.shadowRoot.activeElement) e = e.shadowRoot.activeElement;
    const style = getComputedStyle(e);
    return [e.localName, e.className, style.outlineStyle + style.boxShadow];
}"""
"""What has the focus, within whatever it stands, and how that is shown."""

NAMED = """() => {
    let e = document.activeElement;
    while (e.shadowRoot && e.shadowRoot.activeElement) e = e.shadowRoot.activeElement;
    return e.labels?.[0]?.textContent ?? "";
}"""
"""What that which has the focus is called by its label."""


def test_a_room_of_the_plan_is_picked_by_the_keys_alone(desk):
    page = desk
    page.get_by_role("button", name="Redo").focus()
    for _ in range(80):
        page.keyboard.press("Tab")
        if page.get_by_label("Room on the plan").evaluate("e => e.getRootNode().activeElement === e"):
            break
    kind, _, ring = page.evaluate(FOCUSED)
    assert kind == "select" and ring != "nonenone", "the list of rooms is not reached, or not seen to be"
    page.keyboard.type("Libr")
    page.keyboard.press("Enter")
    tab(page, "One room")
    page.get_by_role("heading", name="Library: tier").wait_for()
    listed = page.get_by_label("Room on the plan").locator("option").all_inner_texts()
    assert any(text.startswith("Dining Room, tier ") for text in listed)


def test_each_chart_says_what_it_shows(serve, page):
    opened(page, serve("design"))
    for name in ("3 of 25 rooms are Principal", "Thornapple House steps down"):
        page.locator(f"[role=graphics-document][aria-label^='{name}']").first.wait_for()


def test_a_drawing_that_has_the_focus_shows_it(serve, page):
    opened(page, serve("design"))
    tab(page, "Walk")
    drawing = page.get_by_role("region", name="From Entry Hall").first
    drawing.focus()
    page.keyboard.press("Shift+Tab")
    page.keyboard.press("Tab")
    ring = drawing.evaluate("e => [getComputedStyle(e).outlineStyle, getComputedStyle(e).outlineWidth]")
    assert ring == ["solid", "2px"]


def test_a_field_that_is_built_anew_by_what_is_typed_in_it_keeps_the_focus(serve, page):
    opened(page, serve("design"))
    tab(page, "Cost")
    budget = page.get_by_label("Budget (USD)").element_handle()
    budget.fill("140000")
    budget.press("Enter")
    until(page, lambda: not budget.evaluate("e => e.isConnected"))
    until(page, lambda: "USD" in page.evaluate(NAMED), 10)


def test_the_focus_stays_near_a_button_that_goes_with_what_it_did(serve, page):
    page.goto(serve("review").url)
    page.get_by_label("Anything to add?").fill("we read the")
    page.wait_for_timeout(1000)  # until it is kept, which is said only after loading the page anew
    page.reload()
    let_go = page.get_by_role("button", name="Let go of these words")
    let_go.press("Enter")
    let_go.wait_for(state="detached")
    until(page, lambda: page.evaluate("document.activeElement.classList.contains('marimo-cell')"), 10)


def test_the_focus_stays_near_a_way_on_that_leads_no_further(serve, page):
    page.goto(serve("review").url)
    page.get_by_role("heading", name="Entry Hall").wait_for()
    last = page.get_by_role("button", name="On →")
    choose_room(page, "Powder Room")  # the last of the walk
    page.get_by_role("button", name="← Back").press("Enter")
    page.get_by_text("24 of 25").wait_for()
    last.press("Enter")
    page.get_by_text("25 of 25").wait_for()
    until(page, lambda: page.evaluate("document.activeElement.dataset.cellName") == "walking", 10)
    page.keyboard.press("Shift+Tab")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement !== document.body")


UNDER = """() => {
    let e = document.activeElement, root = e;
    while (e.shadowRoot && e.shadowRoot.activeElement) e = e.shadowRoot.activeElement;
    const bar = document.querySelector("[data-cell-name=walking]"), { top, bottom, height } = e.getBoundingClientRect();
    const way = bar.getBoundingClientRect(), free = height > 100 || root === document.body || bar.contains(root);
    return [e.localName, !free && top < way.bottom && bottom > way.top];
}"""
"""What has the focus on the client's page, and whether it lies under the way on, even in part, though it is no higher
than could be clear of it."""


@pytest.mark.parametrize("size", [(1180, 700), (720, 500)], ids=["desk", "enlarged"])
def test_what_has_the_focus_is_never_under_the_way_on(serve, page, size):
    page.set_viewport_size(dict(zip(("width", "height"), size, strict=True)))
    page.goto(serve("review").url)
    page.get_by_role("heading", name="Entry Hall").wait_for()
    page.get_by_label("Your name").focus()
    seen = set()
    for key in ["Tab"] * 12 + ["Shift+Tab"] * 12:
        page.keyboard.press(key)
        until(page, lambda: not page.evaluate(UNDER)[1], 5, lambda: f"covered: {page.evaluate(UNDER)}")
        seen.add(page.evaluate(UNDER)[0])
    assert {"button", "summary"} <= seen


def test_the_client_hears_what_came_of_each_press(serve, page):
    page.goto(serve("review").url)
    page.get_by_role("heading", name="Entry Hall").wait_for()
    line = page.get_by_role("status").filter(has_text="Entry Hall").element_handle()

    def heard(words):
        until(page, lambda: line.inner_text() == words, 30)  # in the same line, or nobody hears it

    heard("You have not answered on Entry Hall yet.")
    page.get_by_label("Your name").fill("Ottilie")
    page.get_by_role("button", name="Keep it").press("Enter")
    heard("Your answer on Entry Hall: keep it.")
    page.get_by_role("button", name="On →").press("Enter")
    heard("You have not answered on Drawing Room yet.")
    page.get_by_role("button", name="← Back").press("Enter")
    heard("Your answer on Entry Hall: keep it.")
    page.get_by_role("button", name="Take this answer back").press("Enter")
    heard("You have not answered on Entry Hall yet.")
