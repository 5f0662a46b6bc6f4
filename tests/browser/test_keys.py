"""The plan and the charts for those who use the keys, or hear the page."""

from tests.browser.driving import opened, tab, until

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
