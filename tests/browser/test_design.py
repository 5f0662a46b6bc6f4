"""The designer's app in a real browser."""

import csv
from pathlib import Path

from planner import Wish, edits, list_intents, read_intent
from planner.intent.drafts import keep_draft
from tests.browser.drawing import table
from tests.browser.driving import controls, opened, settled, tab, tier, unfold, until


def painted(page):
    """The floor plan as it is on the screen."""
    drawing = page.locator("canvas, svg.marks").first
    return drawing.evaluate("e => e.tagName === 'CANVAS' ? e.toDataURL() : e.outerHTML")


def set_weight_to_end(page, factor):
    tab(page, "Weights")
    slider = page.get_by_role("slider").nth(("use", "display", "arrival", "passage", "presence").index(factor))
    slider.focus()
    slider.press("End")


def test_a_click_on_a_room_shows_its_reasons(desk):
    page = desk
    box = settled(page, page.locator("canvas, svg.marks").first)
    page.mouse.click(box["x"] + 0.39 * box["width"], box["y"] + 0.67 * box["height"])
    tab(page, "One room")
    page.get_by_role("heading", name="Dining Room: tier").wait_for()
    page.get_by_text("Its importance asks for").wait_for()
    assert page.get_by_text("What if it had another tier?").is_visible()
    tab(page, "Weights")
    tab(page, "One room")
    page.get_by_role("heading", name="Dining Room: tier").wait_for()


LYING_OVER = """() => [...document.querySelectorAll('body *')].filter(e => getComputedStyle(e).position === 'fixed'
    && e.checkVisibility() && e.offsetWidth * e.offsetHeight && !e.querySelector('ol:empty') && !e.matches(':empty')
).map(e => e.className)"""
"""What stands over the page wherever it is scrolled to."""


def test_at_1440_the_tabs_stand_in_one_row_and_no_wall_is_cut(serve, page):
    opened(page, serve("design"))
    assert page.get_by_role("tablist").evaluate("e => e.clientHeight") < 60
    for name in ("Walk", "Walls"):
        tab(page, name)
        page.locator(".pl-drawing svg").first.wait_for()
        cut = page.locator(".pl-drawing").evaluate_all("all => all.filter(e => e.scrollWidth > e.clientWidth).length")
        assert cut == 0, name
        lying = [""]
        for _ in range(100):
            if not (lying := page.evaluate(LYING_OVER)):
                break
            page.wait_for_timeout(100)
        assert lying == [], name
    tab(page, "Rooms")


LINES = """label => {
    const range = document.createRange();
    range.selectNodeContents(label);
    return new Set([...range.getClientRects()].map(box => Math.round(box.top / 8))).size;
}"""
"""On how many lines the words of a label stand."""


def test_what_is_chosen_for_the_whole_house_is_named_in_one_line(desk):
    page = desk
    tab(page, "Weights")
    for name in ("Period", "Grade, how high the tiers go", "Costs counted in", "Budget, at most so much cost index"):
        label = page.locator(".pl-across label", has_text=name)
        label.wait_for()
        assert label.evaluate(LINES) == 1, name


def test_the_schedule_opens_on_the_best_tier_that_a_room_has(desk):
    page = desk
    best = max(tier(page, name) for name in ("Entry Hall", "Drawing Room", "Dining Room"))
    tab(page, "Schedule")
    page.get_by_label("in tier", exact=True).wait_for()
    assert page.get_by_label("in tier", exact=True).input_value() == str(best) != "5"


def test_every_tab_is_reached_by_the_keys_alone(desk):
    page = desk
    names = [one.inner_text() for one in page.get_by_role("tab").all()]

    def pressed(key, name):
        page.keyboard.press(key)
        page.get_by_role("tab", name=name, exact=True, selected=True).wait_for()

    page.get_by_role("tab").first.focus()
    pressed("Home", names[0])
    for name in (*names[1:], names[0]):
        pressed("ArrowRight", name)
    pressed("ArrowLeft", names[-1])
    pressed("Home", names[0])


def test_tables_come_with_the_page_and_in_no_file_that_is_gone_a_moment_later(desk):
    page, asked = desk, []
    page.on("request", lambda request: asked.append(request.url))
    tab(page, "House")
    page.get_by_label("room of Entry Hall", exact=True).wait_for(state="attached")
    tab(page, "Rooms")
    page.get_by_role("row", name="Entry Hall").wait_for()
    assert [url for url in asked if "/@file/" in url and not url.endswith(".js")] == []


def test_a_pin_moves_its_neighbours_and_undo_moves_them_back(desk):
    page = desk
    tab(page, "Rooms")
    before = {room: tier(page, room) for room in ("Dining Room", "Butler's Pantry", "Library")}
    controls(page, "Entry Hall").first.focus()
    controls(page, "Entry Hall").first.select_option("5")
    until(page, lambda: tier(page, "Entry Hall") == 5)
    assert tier(page, "Stair Hall") == 4
    assert page.evaluate("document.activeElement.localName") == "marimo-dropdown", "the control lost its focus"
    assert {room: tier(page, room) for room in before} == before
    page.get_by_role("button", name="Undo").click()
    until(page, lambda: tier(page, "Entry Hall") == 4)
    assert tier(page, "Stair Hall") == 3
    until(page, lambda: controls(page, "Entry Hall").first.input_value() == "–")
    page.get_by_role("button", name="Redo").click()
    until(page, lambda: tier(page, "Stair Hall") == 4)
    assert page.locator("td, th", has_text="Pinned").count() == 0
    page.get_by_role("button", name="Undo").click()
    until(page, lambda: tier(page, "Stair Hall") == 3)


def test_a_changed_weight_replans_and_repaints(desk):
    page = desk
    tab(page, "Rooms")
    away = page.locator(".pl-figures div").filter(has_text="Away from what all rooms ask for").locator("b")
    before, tiers = away.inner_text(), tier(page, "Family Room")
    picture = painted(page)
    set_weight_to_end(page, "presence")
    until(page, lambda: away.inner_text() != before)
    until(page, lambda: painted(page) != picture)
    tab(page, "Rooms")
    page.get_by_role("row", name="Entry Hall").wait_for()
    assert tier(page, "Family Room") >= tiers
    page.get_by_role("button", name="Undo").click()
    until(page, lambda: away.inner_text() == before)


def test_wishes_that_cannot_all_hold_are_told_with_a_way_out(desk):
    page = desk
    tab(page, "Rooms")
    controls(page, "Entry Hall").first.select_option("1")
    controls(page, "Dining Room").first.select_option("4")
    page.get_by_text("No plan can keep all of these at once").wait_for()
    page.get_by_role("button", name="Let go of the pin on Entry Hall").click()
    page.get_by_text("No plan can keep all of these at once").wait_for(state="detached")
    until(page, lambda: tier(page, "Dining Room") == 4)
    page.get_by_role("button", name="Undo").click()
    page.get_by_text("No plan can keep all of these at once").wait_for()
    page.get_by_role("button", name="Undo").click()
    page.get_by_text("No plan can keep all of these at once").wait_for(state="detached")
    page.get_by_role("button", name="Undo").click()
    until(page, lambda: "not saved" not in page.locator(".pl-title").inner_text())


def test_a_room_s_sheet_comes_down_as_svg_dxf_and_png(desk):
    """Each file is the drawing of the room that is picked, whole."""
    page = desk
    tab(page, "Walls")
    page.get_by_label("Room", exact=True).select_option("Library")
    page.get_by_role("img", name="Library: ", exact=False).first.wait_for()
    begins = {"SVG": b"<svg ", "DXF": b"  0\n", "PNG": b"\x89PNG"}
    for label, beginning in begins.items():
        with page.expect_download() as caught:
            page.get_by_role("button", name=label, exact=True).or_(
                page.get_by_role("link", name=label, exact=True)
            ).click()
        name = "thornapple-house_as-the-house-stands_library_walls"
        assert caught.value.suggested_filename == f"{name}.{label.lower()}"
        data = Path(caught.value.path()).read_bytes()
        assert data.startswith(beginning) and len(data) > 20_000
        assert label == "PNG" or b"Library, wall" in data


def test_on_a_phone_drawings_are_laid_out_for_it_and_stay_so(serve, chromium):
    context = chromium.new_context(viewport={"width": 390, "height": 844})
    context.set_default_timeout(60_000)
    page = context.new_page()
    opened(page, serve("design"))
    tab(page, "Walk")

    def wide():
        return float(page.get_by_role("img", name="From Entry Hall to").first.get_attribute("width"))

    until(page, lambda: wide() <= 390)
    page.wait_for_timeout(3000)
    assert wide() <= 390
    context.close()


def test_an_alternative_is_saved_and_found_again_after_a_refresh(serve, page, folder):
    opened(page, serve("design"), "measured")
    controls(page, "Entry Hall").first.select_option("4")
    until(page, lambda: "not saved" in page.locator(".pl-title").inner_text())
    page.get_by_placeholder("a new alternative").fill("Quieter <b>upstairs</b>")
    page.get_by_role("button", name="Save as new").click()
    page.get_by_text("Saved as Quieter").wait_for()
    (new,) = set(list_intents(folder)) - {"easy", "formal", "measured"}
    assert read_intent(folder, new).rooms == {"Entry Hall": Wish(tier=4)}
    assert read_intent(folder, "measured").rooms == {}
    page.reload()
    page.get_by_role("row", name="Entry Hall").wait_for()
    assert "Quieter <b>upstairs</b>" in page.locator(".pl-title").inner_text()
    assert controls(page, "Entry Hall").first.input_value() == "4"


def test_a_draft_comes_back_and_can_be_put_away(serve, page, folder):
    keep_draft(folder, edits.set_range(read_intent(folder, "measured"), "Library", None, 3))
    opened(page, serve("design"), "measured")
    page.get_by_text("are back as a draft").wait_for()
    assert controls(page, "Library").nth(2).input_value() == "3"
    page.get_by_role("button", name="Return to what is saved").click()
    until(page, lambda: "not saved" not in page.locator(".pl-title").inner_text())
    until(page, lambda: controls(page, "Library").nth(2).input_value() == "–")
    assert list((folder / "alternatives").glob("*draft*")) == []


def test_a_broken_table_shows_its_faults_by_row(serve, page, folder):
    rooms = folder / "rooms.csv"
    rooms.write_text(rooms.read_text().replace("22 ft", "22 miles & <b>more</b>"))
    page.goto(serve("design").url)
    row = page.get_by_role("row", name="rooms.csv")
    row.wait_for()
    assert "4" in row.inner_text() and "length" in row.inner_text()
    assert page.get_by_text("22 miles & <b>more</b>").first.is_visible()


def test_a_room_s_name_is_text_and_never_markup(serve, page, folder):
    name = "<img src=x onerror=alert(1)> & `**Library**`"
    for file in ("rooms.csv", "openings.csv", "fixtures.csv"):
        path = folder / file
        rows = [[name if cell == "Library" else cell for cell in row] for row in csv.reader(path.open(newline=""))]
        with path.open("w", newline="") as out:
            csv.writer(out).writerows(rows)
    dialogs = []
    page.on("dialog", lambda dialog: (dialogs.append(dialog.message), dialog.dismiss()))
    opened(page, serve("design"))
    assert page.locator("th", has_text=name).first.is_visible()
    controls(page, name).first.select_option("4")
    until(page, lambda: tier(page, name) == 4)
    tab(page, "One room")
    page.get_by_label("Room", exact=True).select_option(name)
    page.get_by_role("heading", name=f"{name}: tier").wait_for()
    tab(page, "Packages")
    page.get_by_text(name).first.wait_for()
    assert dialogs == []


def test_the_house_s_tables_are_saved_only_where_they_are_sound(serve, page, folder):
    before = (folder / "openings.csv").read_bytes()
    opened(page, serve("design"))
    tab(page, "House")
    table(page).wait_for()
    page.get_by_role("button", name="Openings (").click()
    cell = page.get_by_label("offset of Front door", exact=True)
    cell.fill("far")
    cell.press("Enter")
    page.locator(".bd-faults").get_by_text("is not a length").wait_for()
    page.get_by_role("button", name="Save the house").click()
    page.get_by_text("Nothing was saved; what you did is still here.").wait_for()
    assert page.get_by_role("row", name="openings.csv").first.is_visible()
    assert (folder / "openings.csv").read_bytes() == before


def test_what_is_drawn_when_it_is_unfolded_is_dressed_as_what_stood_there_before(serve, page):
    opened(page, serve("design"))
    tab(page, "Packages")
    unfold(page, "4 Principal 10'-0\"")
    unfolded = page.locator("marimo-lazy .pl-drawing .f-paper")
    unfolded.nth(5).wait_for()
    look = "all => [...new Set(all.map(e => getComputedStyle(e).fill))]"
    assert unfolded.evaluate_all(look) == page.locator(".pl-drawing .f-paper").evaluate_all(look) != ["rgb(0, 0, 0)"]
    head = page.locator("marimo-lazy .pl-table thead th").first
    assert head.evaluate("e => getComputedStyle(e).color") != head.locator("xpath=ancestor::table").evaluate(
        "e => getComputedStyle(e).color"
    ), "the heads of a table are softer than its cells"
