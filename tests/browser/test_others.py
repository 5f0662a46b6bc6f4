"""The client's and the team's apps in a real browser."""

from planner import plan, read_house, read_intent
from planner.record.keeping import open_session, read_record, say
from tests.browser.driving import settled, tab, until, visitor


def test_a_client_s_answer_is_on_the_disk_at_once_and_moves_the_plan(serve, page, folder):
    page.goto(serve("review", "--alternative", "measured").url)
    page.locator("canvas, svg.marks").first.wait_for()
    page.get_by_label("Your name").fill("Ottilie <i>")
    page.get_by_label("Room", exact=True).select_option("Library")
    page.get_by_role("heading", name="Library").wait_for()
    page.get_by_label("Anything to add?").fill("we read there")
    page.get_by_role("button", name="A little richer").click()
    row = page.get_by_role("row", name="Library")
    row.get_by_text("A little richer").wait_for()
    answers, warnings = read_record(folder)
    assert warnings == ()
    assert [(a.who, a.alternative, a.room, a.answer, a.remark) for a in answers] == [
        ("Ottilie <i>", "measured", "Library", "more", "we read there")
    ]
    house, _ = read_house(folder)
    before = plan(house, read_intent(folder, "measured")).by_name["Library"].tier
    assert f"{before} of 4" in row.inner_text() and f"{before + 1} of 4" in row.inner_text()
    page.reload()
    page.get_by_role("row", name="Library").get_by_text("we read there").wait_for()


def test_a_wish_that_cannot_be_had_is_told_and_the_later_ones_show(serve, page, folder):
    page.goto(serve("review").url)
    file = open_session(folder, "Ottilie", visitor(page))
    say(file, "Ottilie", "", "Family Room", "more")
    say(file, "Ottilie", "", "Library", "more")
    page.reload()
    page.get_by_text("Not all of your answers can be had together").wait_for()
    page.get_by_text("Family Room: a little richer").wait_for()
    house, _ = read_house(folder)
    before = plan(house).by_name["Library"].tier
    row = page.get_by_role("row", name="Library").inner_text()
    assert f"{before} of 4" in row and f"{before + 1} of 4" in row
    page.get_by_label("Room", exact=True).select_option("Family Room")
    page.get_by_role("heading", name="Family Room").wait_for()
    page.get_by_text("A little richer: ").wait_for()
    assert page.get_by_role("button", name="A little richer").count() == 0


def test_comparing_shows_only_differences_until_asked_for_all(serve, page):
    page.goto(serve("compare").url)
    page.locator("canvas, svg.marks").first.wait_for()
    for title in ("Easy", "Formal", "Measured"):
        assert page.get_by_role("row", name=title).is_visible()
    until(page, lambda: page.locator("canvas, svg.marks").count() == 4)  # a plan of each, and the step-down
    tab(page, "Rooms")
    until(page, lambda: page.locator("canvas, svg.marks").count() == 1)
    matrix = page.locator("canvas, svg.marks").first
    short = settled(page, matrix)["height"]
    page.get_by_role("switch").click()
    until(page, lambda: (matrix.bounding_box() or {"height": 0})["height"] > short + 100)
