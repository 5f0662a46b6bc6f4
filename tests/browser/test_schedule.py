"""The designer's schedule in a real browser: by mouse, by keyboard, by touch, and after a refresh."""

import shutil
from dataclasses import replace

from planner import Change, Scope, TrimRule, demo_house, new_house, read_intent, read_stock, write_intent
from tests.browser.driving import opened, settled, tab, unfold


def turned(page, name="Schedule"):
    """The app, once a tab with a table of what elements it has is open."""
    tab(page, name)
    page.get_by_label("More of the").wait_for()
    return page


def row(page, element):
    """An element's row of the table of what it has."""
    return page.locator("tr").filter(has=page.get_by_role("rowheader", name=element, exact=True))


def strip(page):
    """The drawing of the walk to the first bedroom; the schedule is open again afterwards."""
    tab(page, "Walk")
    drawing = page.get_by_role("img", name="From Entry Hall to")
    drawing.first.wait_for()
    drawn = drawing.first.evaluate("e => [...e.querySelectorAll('path')].map(p => p.getAttribute('d')).join()")
    tab(page, "Schedule")
    return drawn


def test_a_chair_rail_from_tier_2_is_seen_on_the_walls_and_undone_in_words(desk):
    page = turned(desk)
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


def test_a_rule_is_put_back_by_its_button(serve, page, folder):
    rule = TrimRule("chair rail", Scope(tiers=(2, 2)), Change("moulded rail"))
    write_intent(replace(read_intent(folder, "measured"), trim=(rule,)), folder, "measured")
    page.goto(serve("design").url + "&alternative=measured")
    tab(page, "Schedule")
    row(page, "chair rail").get_by_text("◆ moulded rail, ").wait_for()
    page.get_by_role("button", name="Put back").click()
    page.get_by_text("Every element is as the style has it.").wait_for()
    page.get_by_role("button", name="Undo").click()
    page.get_by_text("Taken back: no longer chair rail in tier 2: moulded rail.").wait_for()
    row(page, "chair rail").get_by_text("◆ moulded rail, ").wait_for()


def test_a_casing_is_sized_locked_and_put_back_by_keyboard(desk):
    page = turned(desk)
    unfold(page, "Round doors")
    page.get_by_label("in tier", exact=True).select_option("3")
    size = page.get_by_label("Size", exact=True)
    page.wait_for_load_state("networkidle")
    settled(page, size)  # the panel is built anew for the tier
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
    turned(opened(page, served), "One room")
    page.get_by_label("Room", exact=True).select_option("West Bedroom")
    page.get_by_role("heading", name="West Bedroom: tier").wait_for()
    cell = row(page, "wainscot")
    cell.locator("select").select_option("flat panels")
    cell.get_by_text("◆ flat panels, ").wait_for()
    page.reload()
    page.locator("canvas, svg.marks").first.wait_for()
    tab(page, "Schedule")
    page.get_by_role("row", name="1 wainscot in West Bedroom: flat panels").wait_for()
    tab(page, "Packages")
    page.locator("summary", has_text="with flat panels wainscot: West Bedroom").wait_for()


def test_one_door_has_trim_of_its_own(desk):
    page = turned(desk, "Walls")
    page.get_by_label("Room", exact=True).select_option("Entry Hall")
    page.get_by_label("at", exact=True).select_option("Front door")
    row(page, "crossette").locator(".pl-cell").get_by_text("broken outer moulding").wait_for()
    row(page, "crossette").locator("select").select_option("none")
    row(page, "crossette").get_by_text("◆ none").wait_for()
    page.get_by_role("row", name="1 crossette at Front door: none").wait_for()
    page.get_by_label("at", exact=True).select_option("Drawing room doors")
    row(page, "crossette").locator(".pl-cell").get_by_text("broken outer moulding").wait_for()
    page.get_by_role("button", name="Undo").click()
    page.get_by_text("Every element is as the style has it.").wait_for()


def test_a_form_is_chosen_by_touch_on_a_phone(serve, chromium):
    context = chromium.new_context(viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True)
    context.set_default_timeout(60_000)
    page = context.new_page()
    page.goto(serve("design").url)
    page.locator("canvas, svg.marks").first.wait_for()
    tab(page, "Schedule")
    page.get_by_label("in tier", exact=True).select_option("1")
    row(page, "crown").get_by_role("cell").nth(1).wait_for(state="detached")
    choice = row(page, "crown").locator("select")
    choice.scroll_into_view_if_needed()
    choice.tap()
    choice.select_option("plain crown")
    rule = page.get_by_role("row", name="1 crown in tier 1: plain crown").get_by_role("rowheader")
    rule.wait_for()
    assert rule.bounding_box()["width"] < 50  # the words have the rest
    context.close()


def test_a_schedule_is_kept_as_a_style_and_opens_another_house(serve, page, folder):
    turned(opened(page, serve("design")))
    row(page, "chair rail").locator("select").nth(3).select_option("moulded rail")
    page.get_by_role("row", name="1 chair rail in tier 2: moulded rail").wait_for()
    page.get_by_label("Keep all this as a style").fill("railed")
    page.keyboard.press("Tab")
    page.get_by_role("button", name="Keep as a style").click()
    page.get_by_text("Kept as the style railed.").first.wait_for()
    page.get_by_text("railed style, doric order, grade house").wait_for()
    style = (folder / "styles" / "railed.toml").read_bytes()

    shutil.rmtree(folder)
    new_house(folder, demo_house())
    (folder / "styles").mkdir()
    (folder / "styles" / "railed.toml").write_bytes(style)
    page.reload()
    page.get_by_text("georgian style, doric order, grade house").wait_for()
    tab(page, "Schedule")
    assert row(page, "chair rail").locator("td").nth(3).locator("svg").count() == 0
    tab(page, "Weights")
    page.get_by_label("Period", exact=True).select_option("railed")
    page.get_by_text("railed style, doric order, grade house").wait_for()
    tab(page, "Schedule")
    row(page, "chair rail").locator("td").nth(3).locator("svg").wait_for()
    assert "moulded rail, " in row(page, "chair rail").inner_text()
    assert "◆" not in row(page, "chair rail").inner_text()


def test_a_profile_is_drawn_as_it_is_typed_and_joins_the_stock(serve, page, folder):
    before = (folder / "stock.csv").read_bytes()
    turned(opened(page, serve("design")))
    unfold(page, "A profile of your own")
    members = page.get_by_label("Members from the bottom up")
    members.fill("facia 2 x 3/4")
    page.get_by_text("facia").first.wait_for()
    members.fill("fascia 2 x 3/4; cyma reversa 1/2 x 1 1/4; fillet 1/4 x 1 3/8")
    page.get_by_label("Code", exact=True).fill("OWN-1")
    page.keyboard.press("Enter")
    page.get_by_role("img", name="OWN-1").wait_for()
    page.get_by_role("button", name="Add to the stock").click()
    page.get_by_text("OWN-1 is in the stock of this house.").wait_for()
    assert (folder / "stock.csv").read_bytes().startswith(before)
    assert "OWN-1" in {profile.code for profile in read_stock(folder).profiles}
