"""The designer's schedule in a real browser: by mouse, by keyboard, by touch, and after a refresh."""

import pytest

pytestmark = pytest.mark.browser


def opened(page, served, tab="Schedule"):
    page.goto(served.url)
    page.locator("canvas, svg.marks").first.wait_for()
    page.get_by_role("tab", name=tab, exact=True).click()
    page.get_by_label("More of the").wait_for()
    return page


def row(page, element):
    """An element's row of the table of what it has."""
    return page.locator("tr").filter(has=page.get_by_role("rowheader", name=element, exact=True))


def strip(page):
    """The drawing of the walk to the first bedroom."""
    drawing = page.get_by_role("img", name="From Entry Hall to")
    drawing.first.wait_for()
    return drawing.first.evaluate("e => [...e.querySelectorAll('path')].map(p => p.getAttribute('d')).join()")


def test_a_chair_rail_from_tier_2_is_seen_on_the_walls_and_undone_in_words(serve, page, folder):
    opened(page, serve("design"))
    before, cell = strip(page), row(page, "chair rail").locator("td").nth(3)
    assert cell.locator("svg").count() == 0
    cell.locator("select").select_option("moulded rail")
    cell.get_by_text("◆ moulded rail, ").wait_for()
    assert cell.locator("svg").count() == 1
    page.get_by_role("row", name="1 chair rail in tier 2: moulded rail").wait_for()
    assert strip(page) != before
    page.get_by_role("button", name="Undo").click()
    page.get_by_text("Taken back: chair rail in tier 2: moulded rail.").wait_for()
    page.get_by_text("Every element is as the style has it.").wait_for()
    assert strip(page) == before
    page.get_by_role("button", name="Redo").click()
    page.get_by_text("Made again: chair rail in tier 2: moulded rail.").wait_for()
    page.get_by_role("button", name="Put back").click()
    page.get_by_text("Every element is as the style has it.").wait_for()
    assert strip(page) == before


def test_a_casing_is_sized_locked_and_put_back_by_keyboard(serve, page):
    opened(page, serve("design"))
    page.get_by_label("in tier", exact=True).select_option("3")
    size = page.get_by_label("Size", exact=True)
    size.focus()
    page.keyboard.type('5 1/2"')
    page.keyboard.press("Enter")
    row(page, "casing").get_by_text('◆ backbanded casing, 5 1/2"').wait_for()
    page.get_by_role("row", name='1 casing in tier 3: 5 1/2"').wait_for()
    page.get_by_label("Locked to a profile").focus()
    page.get_by_label("Locked to a profile").select_option("QB-CB475")
    row(page, "casing").locator(".pl-cell").filter(has_text='4 3/4" QB-CB475').wait_for()
    page.get_by_label("Size", exact=True).fill("abc")
    page.keyboard.press("Enter")
    page.get_by_text('"abc" is not a length').wait_for()
    back = page.get_by_role("button", name="Put it back")
    back.focus()
    page.keyboard.press("Enter")
    page.get_by_text("Every element is as the style has it.").wait_for()


def test_one_bedroom_has_a_wainscot_and_keeps_it_after_a_refresh(serve, page, folder):
    served = serve("design")
    opened(page, served, "One room")
    page.get_by_label("Room", exact=True).select_option("West Bedroom")
    page.get_by_role("heading", name="West Bedroom: tier").wait_for()
    cell = row(page, "wainscot")
    cell.locator("select").select_option("flat panels")
    cell.get_by_text("◆ flat panels, ").wait_for()
    page.reload()
    page.locator("canvas, svg.marks").first.wait_for()
    page.get_by_role("tab", name="Schedule", exact=True).click()
    page.get_by_role("row", name="1 wainscot in West Bedroom: flat panels").wait_for()
    page.get_by_role("tab", name="Packages", exact=True).click()
    page.get_by_role("caption").filter(has_text="with flat panels wainscot: West Bedroom").wait_for()


def test_one_door_has_trim_of_its_own(serve, page):
    opened(page, serve("design"), "Walls")
    page.get_by_label("at", exact=True).select_option("Front door")
    row(page, "crossette").locator(".pl-cell").get_by_text("mitred ear").wait_for()
    row(page, "crossette").locator("select").select_option("none")
    row(page, "crossette").get_by_text("◆ none").wait_for()
    page.get_by_role("row", name="1 crossette at Front door: none").wait_for()
    page.get_by_label("at", exact=True).select_option("Drawing room doors")
    row(page, "crossette").locator(".pl-cell").get_by_text("mitred ear").wait_for()


def test_a_form_is_chosen_by_touch_on_a_phone(serve, chromium):
    context = chromium.new_context(viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True)
    context.set_default_timeout(60_000)
    page = context.new_page()
    page.goto(serve("design").url)
    page.locator("canvas, svg.marks").first.wait_for()
    page.get_by_role("tab", name="Schedule", exact=True).tap()
    choice = row(page, "crown").locator("select").nth(4)
    choice.scroll_into_view_if_needed()
    choice.tap()
    choice.select_option("plain crown")
    page.get_by_role("row", name="1 crown in tier 1: plain crown").wait_for()
    context.close()
