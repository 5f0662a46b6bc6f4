"""A team compares alternatives in a real browser, votes, and weighs what matters."""

from dataclasses import replace

import pytest

from planner import plan, read_house, read_stock
from planner.apps.team.beside import TABS
from planner.intent import edits
from planner.intent.folder import read_intent, write_intent
from planner.record.entries import KEEP
from planner.record.keeping import open_session, read_record, say
from planner.record.voices import votes
from tests.browser.driving import controls_on, cut_on, sheets, tab, unfold, until


@pytest.fixture
def twins(serve, folder):
    """An alternative and its twin, served, with a planted difference: the Library lower by a tier."""
    twin = edits.pin(read_intent(folder, "measured"), "Library", 2)
    write_intent(replace(twin, name="twin", title="Twin"), folder)
    return serve("compare", "--alternative", "measured", "--alternative", "twin")


@pytest.fixture
def compared(twins, page):
    """The team's page on the twins."""
    page.goto(twins.url)
    page.get_by_role("row", name="Twin").wait_for()
    return page


def test_the_planted_difference_is_what_is_shown(compared, folder):
    house, stock = read_house(folder)[0], read_stock(folder)
    measured, twin = (plan(house, read_intent(folder, name), stock) for name in ("measured", "twin"))
    differing = {name for name in measured.by_name if measured.by_name[name].tier != twin.by_name[name].tier}
    assert "Library" in differing and len(differing) < 5
    tab(compared, "Rooms")
    matrix = compared.locator("[role=graphics-document]").first
    matrix.wait_for()
    until(compared, lambda: f"{len(differing)} of 25 rooms differ" in (matrix.get_attribute("aria-label") or ""))
    compared.get_by_text("Tiers side by side").first.wait_for(state="attached")
    tab(compared, "Trim")
    compared.get_by_text("rows in which they are alike are left out").wait_for()
    assert compared.get_by_role("row", name="Chair rail").count() == 1
    tab(compared, "Sizes")
    compared.get_by_text("The alternatives do not differ in this.").wait_for()
    compared.get_by_role("switch").click()
    compared.get_by_text("Sizes by tier").first.wait_for()


def test_what_each_costs_stands_in_a_tab_of_its_own_with_its_range(compared, folder):
    tab(compared, "Cost")
    table = compared.get_by_role("table").filter(has_text="10th to 90th percentile")
    table.wait_for()
    compared.locator("canvas, svg.marks").first.wait_for()
    house, stock = read_house(folder)[0], read_stock(folder)
    measured, twin = (plan(house, read_intent(folder, name), stock).money for name in ("measured", "twin"))
    row = table.get_by_role("row").filter(has_text="10th to 90th percentile").inner_text()
    for cost in (measured, twin):
        assert f"{cost.low:,.0f} to {cost.high:,.0f}" in row
    assert twin.total < measured.total
    compared.get_by_text("they are confirmed there").wait_for()


def test_a_vote_and_a_remark_reach_the_others_open_page(compared, another, serve, folder):
    served = serve("compare", "--alternative", "measured", "--alternative", "twin")
    another.goto(served.url)
    another.get_by_role("row", name="Twin").wait_for()
    for page in (compared, another):
        tab(page, "What is said")
    words = another.get_by_label("What you say of it").first
    words.press_sequentially("half a thou", delay=20)
    compared.get_by_role("button", name="For it").last.click()
    compared.get_by_text("Write your name first").wait_for()
    compared.get_by_label("Your name").fill("Ottilie")
    compared.get_by_role("button", name="For it").last.click()
    compared.get_by_label("What you say of it").last.fill("calmer")
    compared.get_by_role("button", name="Say it").last.click()
    another.get_by_text("Ottilie: for").wait_for()
    another.get_by_text("Ottilie: calmer").wait_for()
    assert words.input_value() == "half a thou"
    assert words.evaluate("field => field === field.getRootNode().activeElement")
    until(compared, lambda: compared.get_by_label("What you say of it").last.input_value() == "")
    compared.get_by_role("button", name="Against it").first.click()
    another.get_by_text("Ottilie: against").wait_for()
    compared.get_by_role("button", name="Take my vote back").first.click()
    another.get_by_text("Ottilie: against").wait_for(state="detached")
    record = read_record(folder)
    assert [v.vote for v in votes(record, "measured")] == []
    record = record._replace(entries=tuple(e for e in record.entries if e.alternative == "twin"))
    assert [(v.who, v.alternative, v.vote) for v in record.votes] == [("Ottilie", "twin", "for")]


def test_the_winner_follows_the_weights_by_keys(compared):
    tab(compared, "What matters")
    first = compared.get_by_role("status").filter(has_text="first").inner_text
    compared.get_by_role("slider").first.wait_for()
    assert first().startswith("Measured")
    for at in range(compared.get_by_role("slider").count()):
        slider = compared.get_by_role("slider").nth(at)
        slider.press("Home")
        until(compared, lambda slider=slider: slider.get_attribute("aria-valuenow") == "0")
    until(compared, lambda: "come first alike" in first())
    compared.get_by_role("slider").nth(2).press("End")
    until(compared, lambda: first().startswith("Twin comes first"))


def test_what_is_saved_meanwhile_is_compared(compared, folder):
    row = compared.get_by_role("row", name="Twin")
    before = row.inner_text()
    write_intent(edits.pin(read_intent(folder, "twin"), "Dining Room", 3), folder)
    until(compared, lambda: row.inner_text() != before)


def test_an_alternative_that_is_new_is_offered_and_nothing_is_taken_from_who_writes(compared, folder):
    tab(compared, "What is said")
    words = compared.get_by_label("What you say of it").first
    words.press_sequentially("half a thou", delay=20)
    write_intent(edits.pin(read_intent(folder, "twin"), "Dining Room", 3), folder)
    write_intent(replace(read_intent(folder, "formal"), name="new", title="New"), folder)
    compared.wait_for_timeout(3000)
    assert words.input_value() == "half a thou"
    assert words.evaluate("field => field === field.getRootNode().activeElement")
    compared.get_by_label("Alternatives (2 to 6)").click()
    compared.get_by_role("option", name="new").click()
    compared.get_by_role("row", name="New").first.wait_for()
    assert compared.get_by_role("row", name="Twin").count()


def test_a_phone_shows_every_tab_without_scrolling_sideways(twins, chromium):
    context = chromium.new_context(viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True)
    context.set_default_timeout(60_000)
    try:
        page = context.new_page()
        page.goto(twins.url)
        show = page.get_by_label("Show", exact=True)
        show.wait_for()
        for name in reversed(TABS):
            show.select_option(name)
            page.locator(SHOWN[name]).first.wait_for()
            assert page.evaluate("document.getElementById('App').scrollWidth") <= 390, name
    finally:
        context.close()


def test_on_a_tablet_what_is_wider_than_the_page_scrolls_by_itself(twins, page):
    page.set_viewport_size({"width": 768, "height": 1024})
    page.goto(twins.url)
    steps = page.locator("[data-cell-name=alternatives]").locator("canvas, svg.marks").last
    until(page, lambda: steps.bounding_box()["width"] > 768)
    assert page.evaluate("document.getElementById('App').scrollWidth") <= 768
    steps.hover(position={"x": 1100, "y": 40})
    assert page.evaluate("document.getElementById('App').scrollLeft") == 0
    assert steps.bounding_box()["x"] < 0


def test_no_table_of_three_alternatives_is_wider_than_a_phone(serve, chromium):
    context = chromium.new_context(viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True)
    context.set_default_timeout(60_000)
    page = context.new_page()
    page.goto(f"{serve('compare').url}&tab=Sizes")
    page.locator("summary:has-text('State')").first.wait_for()
    page.evaluate("document.querySelectorAll('details').forEach(fold => { fold.open = true })")
    tables = page.locator(".pl-table", has=page.get_by_role("columnheader", name="Easy"))
    widths = tables.evaluate_all("all => all.map(on => [on.scrollWidth, on.clientWidth])")
    assert len(widths) > 5
    assert all(0 < needed <= given for needed, given in widths), widths
    context.close()


HEIGHT = "Math.max(...[...document.querySelectorAll('*')].map(on => on.scrollHeight))"


@pytest.fixture
def phone(serve, folder, chromium):
    """Six alternatives, of which clients say something, on a phone."""
    saved = read_intent(folder, "measured"), read_intent(folder, "formal")
    for at in range(4):
        other = edits.pin(saved[at % 2], "Library", 2 + at // 2)
        write_intent(replace(other, name=f"other {at}", title=f"Another way {at}", author=f"Ada {at}"), folder)
    names = ["measured", "formal", *(f"other {at}" for at in range(4))]
    for name in names:
        for room in ("Library", "Kitchen", "Dining Room", "Stair Hall", "Upper Hall", "Mud Room"):
            say(open_session(folder, "Ada"), "Ada", name, room, KEEP, remark="We sit here every evening, all of us.")
    context = chromium.new_context(viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True)
    context.set_default_timeout(60_000)
    page = context.new_page()
    page.goto(serve("compare", *(word for name in names for word in ("--alternative", name))).url)
    page.get_by_label("Show", exact=True).wait_for()
    yield page
    context.close()


TOLD = {
    "Plans": "summary:has-text('How the tiers of each step down')",
    "Sizes": "text=Sizes by tier",
    "Trim": "text=Trim on all walls",
    "Cost": "text=Cost index, no money",
    "To mend": "text=To mend and to mind",
    "What is said": "text=Another way 3: 0 for",
    "What matters": "text=Of each line the best alternative",
}
"""What stands in each tab once it is there as a phone has it: a page that was just opened is wide at first."""


def test_six_alternatives_take_no_tab_beyond_three_screens_of_a_phone(phone):
    for name, words in TOLD.items():
        phone.get_by_label("Show", exact=True).select_option(name)
        phone.locator(words).first.wait_for()
        until(
            phone, lambda: phone.evaluate(HEIGHT) <= 3 * 844, instead=lambda name=name: (name, phone.evaluate(HEIGHT))
        )
    unfold(phone, "Rooms have what they ask for")
    phone.locator("details[open]").get_by_text("Another way 3:").wait_for()


def test_on_a_phone_one_votes_where_an_alternative_is_unfolded_and_it_stays_so(phone, folder):
    phone.get_by_label("Show", exact=True).select_option("What is said")
    phone.get_by_label("Your name").fill("Ottilie")
    phone.get_by_text("Another way 2: 0 for").tap()
    ballot = phone.locator("details[open]")
    ballot.get_by_label("What you say of it").fill("calm")
    ballot.get_by_role("button", name="Against it").tap()
    ballot.get_by_text("Ottilie: against").wait_for()
    assert ballot.locator("summary").inner_text() == "Another way 2: 0 for · 1 against"
    assert ballot.get_by_label("What you say of it").input_value() == "calm"
    ballot.get_by_role("button", name="Say it").tap()
    ballot.get_by_text("Ottilie: calm").wait_for()
    assert [(said.alternative, said.remark) for said in read_record(folder).remarks] == [("other 2", "calm")]


SHOWN = {
    "Plans": "canvas >> nth=2",
    "Rooms": "[role=graphics-document][aria-label^='Tier '] canvas",
    "Sizes": "text=The alternatives do not differ in this.",
    "Trim": "caption:has-text('Trim on all walls')",
    "Cost": "caption:has-text('What each alternative costs')",
    "Cost and fit": "[role=graphics-document][aria-label^='Spend'] canvas",
    "To mend": "caption:has-text('To mend and to mind')",
    "What is said": "h3:has-text('Twin')",
    "What matters": "caption:has-text('Totals, of')",
}
"""What stands in a tab once all of it is there."""


def test_paper_has_the_whole_of_each_tab_and_none_of_the_controls(compared):
    compared.set_viewport_size({"width": 816, "height": 1056})  # a sheet of Letter at 96 px to the inch
    for name in TABS:
        compared.emulate_media(media="screen")
        tab(compared, name)
        compared.locator(SHOWN[name]).first.wait_for()
        compared.emulate_media(media="print")
        until(compared, lambda: controls_on(compared) == [])
        assert cut_on(compared) == [], name
        if name == "Plans":
            assert sheets(compared) >= 2


def test_why_a_vote_is_not_kept_is_seen_where_it_was_pressed(compared):
    tab(compared, "What is said")
    compared.set_viewport_size({"width": 1440, "height": 400})
    compared.get_by_role("button", name="For it").last.click()
    note = compared.get_by_role("alert").filter(has_text="Write your name first")
    note.wait_for()
    until(compared, lambda: 0 < note.bounding_box()["y"] < 400 - note.bounding_box()["height"], 10)
    tab(compared, "Plans")
    note.wait_for(state="detached")
