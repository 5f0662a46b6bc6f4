"""Controls of the designer's page that no other journey uses: each is set as a person does, and is taken back."""

import os

import pytest

from planner import edits, read_intent
from planner.intent.drafts import keep_draft
from planner.record.entries import MORE
from planner.record.keeping import open_session, say
from tests.browser.driving import controls, opened, settled, tab, tier, unfold, until


def standing(page):
    return page.locator(".pl-title").inner_text()


def taken_back(page):
    """Undo, until nothing differs from what is saved."""
    page.get_by_role("button", name="Undo", exact=True).click()
    until(page, lambda: "not saved" not in standing(page))
    page.wait_for_timeout(1500)  # controls that show something else now are built anew after the charts


WHOLE = {
    "Order": ("ionic", "ionic order"),
    "Crowns sized by": ("interior 1809", ""),
    "Grade, how high the tiers go": ("great house", "grade great house"),
    "cased opening": ("2", ""),
    "stair": ("1", ""),
}
"""What is chosen under Weights, and what the headline says then; "" where it says nothing of it."""


@pytest.mark.parametrize("label", WHOLE)
def test_what_counts_for_the_whole_house_is_chosen_and_taken_back(desk, label):
    chosen, said = WHOLE[label]
    tab(desk, "Weights")
    control = desk.get_by_label(label, exact=True)
    usual = control.input_value()
    control.select_option(label=chosen)
    until(desk, lambda: "not saved" in standing(desk) and said in standing(desk))
    taken_back(desk)
    until(desk, lambda: control.input_value() == usual)
    tab(desk, "Rooms")


def test_the_number_of_tiers_and_a_budget_are_said_and_taken_back(desk):
    tab(desk, "Weights")
    desk.get_by_label("Tiers", exact=True).select_option("4")
    desk.locator(".pl-figures").get_by_text("of 4; in").wait_for()
    taken_back(desk)
    cost = desk.locator(".pl-figures div").filter(has_text="Cost index")
    budget = desk.get_by_label("Budget, at most so much cost index")
    budget.fill("dear")
    budget.press("Enter")
    desk.locator(".pl-news").get_by_text("dear").wait_for()
    budget.fill("150")
    budget.press("Enter")
    cost.get_by_text("of 150;").wait_for()
    assert int(cost.locator("b").inner_text()) <= 150
    taken_back(desk)
    tab(desk, "Rooms")


def test_rooms_are_held_to_a_range_and_share_a_tier_until_they_are_parted(desk):
    tab(desk, "Rooms")
    now = tier(desk, "Library")
    _, lowest, highest = (controls(desk, "Library").nth(at) for at in range(3))
    highest.select_option(str(now - 1))
    until(desk, lambda: tier(desk, "Library") == now - 1)
    lowest.select_option(str(now - 1))
    desk.locator(".pl-news").get_by_text("Library").wait_for()
    desk.get_by_role("button", name="Undo", exact=True).click()
    taken_back(desk)
    desk.get_by_label("Rooms that share a tier").click()
    for name in ("Library", "Coat Closet"):
        desk.get_by_role("option", name=name, exact=True).click()
    desk.keyboard.press("Escape")
    desk.get_by_role("button", name="Make them share").click()
    part = desk.get_by_role("button", name="Part Coat Closet, Library").or_(
        desk.get_by_role("button", name="Part Library, Coat Closet")
    )
    part.wait_for()
    part.click()
    part.wait_for(state="detached")
    until(desk, lambda: "not saved" not in standing(desk))


def test_undo_pressed_twice_while_the_page_is_at_work_takes_two_changes_back(desk):
    tab(desk, "Rooms")
    now = tier(desk, "Library")
    controls(desk, "Library").first.select_option(str(now - 1))
    until(desk, lambda: tier(desk, "Library") == now - 1)
    desk.wait_for_timeout(1500)
    controls(desk, "Kitchen").first.select_option("1")
    desk.get_by_role("button", name="Undo", exact=True).evaluate("button => { button.click(); button.click(); }")
    until(desk, lambda: "not saved" not in standing(desk))
    until(desk, lambda: tier(desk, "Library") == now)


def test_what_is_said_after_a_change_leaves_both_pictures_whole(desk):
    tab(desk, "Rooms")
    desk.locator("#App").evaluate("page => page.scrollTo(0, 0)")
    drawn = desk.locator("[data-cell-name=pictures], [data-cell-name=walks]").locator("canvas, svg.marks")
    news = desk.locator(".pl-news").filter(has_text="Library")
    now = tier(desk, "Library")
    controls(desk, "Library").first.select_option(str(now - 1))
    news.wait_for()
    assert drawn.count() == 2
    feet = [box["y"] + box["height"] for box in (settled(desk, one) for one in drawn.all())]
    assert max(feet) <= settled(desk, news)["y"]
    taken_back(desk)


def test_a_weight_that_cannot_be_goes_back_to_what_holds(desk):
    tab(desk, "Weights")
    sliders = desk.get_by_role("slider")
    sliders.nth(4).wait_for()

    def weight(at):
        return sliders.nth(at).get_attribute("aria-valuenow")

    last = weight(4)
    for at in range(4):
        sliders.nth(at).press("Home")
        until(desk, lambda at=at: weight(at) == "0")
    sliders.nth(4).press("Home")
    desk.locator(".pl-news").get_by_text("all weights are zero").wait_for()
    until(desk, lambda: weight(4) == last != "0")
    for _ in range(4):
        desk.get_by_role("button", name="Undo", exact=True).click()
    until(desk, lambda: "not saved" not in standing(desk))
    until(desk, lambda: "0" not in map(weight, range(5)))
    tab(desk, "Rooms")


def test_a_room_has_a_period_of_its_own_and_a_rail_another_height(desk):
    tab(desk, "One room")
    desk.get_by_label("Its period", exact=True).select_option("victorian")
    until(desk, lambda: "not saved" in standing(desk))
    taken_back(desk)
    tab(desk, "Schedule")
    desk.get_by_label("Seen under a ceiling of", exact=True).select_option("9'-0\"")
    desk.get_by_role("heading", name="What each tier has under a ceiling of 9'-0\"").wait_for()
    desk.get_by_label("More of the", exact=True).select_option("chair rail")
    top = desk.get_by_label("Top above the floor", exact=True)
    top.wait_for()
    top.fill("30")
    top.press("Enter")
    until(desk, lambda: "not saved" in standing(desk))
    unfold(desk, "On the walls")
    desk.get_by_text("at 2'-6\"").first.wait_for()
    taken_back(desk)
    tab(desk, "Rooms")


@pytest.mark.parametrize(
    ("button", "kept"), [("Overwrite theirs with mine", "Library"), ("Keep theirs, put mine away", "Kitchen")]
)
def test_of_two_who_save_one_alternative_the_second_chooses_whose_stands(serve, page, another, folder, button, kept):
    served = serve("design")
    for window in (page, another):
        opened(window, served, "measured")
    controls(page, "Library").nth(2).select_option("3")
    until(page, lambda: "kept as a draft" in standing(page))
    controls(another, "Kitchen").nth(2).select_option("2")
    until(another, lambda: "kept as a draft" in standing(another))
    another.get_by_role("button", name="Save", exact=True).click()
    another.get_by_text("Saved as measured").wait_for()
    page.get_by_text("Somebody else has saved this alternative").wait_for()
    page.get_by_role("button", name=button).click()
    page.get_by_text("Somebody else has saved this alternative").wait_for(state="detached")
    until(page, lambda: set(read_intent(folder, "measured").rooms) == {kept})
    until(page, lambda: "not saved" not in standing(page))


def test_folds_that_were_opened_stay_open_when_the_plan_changes(desk):
    tab(desk, "Rooms")
    desk.locator("details.pl-take > summary").click()
    now = tier(desk, "Library")
    controls(desk, "Library").first.select_option(str(now - 1))
    until(desk, lambda: tier(desk, "Library") == now - 1)
    desk.wait_for_timeout(1500)
    assert desk.locator("details.pl-take").first.get_attribute("open") is not None
    taken_back(desk)
    desk.wait_for_timeout(1500)
    assert desk.locator("details.pl-take").first.get_attribute("open") is not None


@pytest.fixture
def left_behind(folder):
    """The drafts that two sessions which are gone have left of one alternative, the later one of the Kitchen."""
    measured = read_intent(folder, "measured")
    keep_draft(folder, edits.pin(measured, "Library", 2), "0000aaaa")
    later = keep_draft(folder, edits.pin(measured, "Kitchen", 2), "0000bbbb")
    os.utime(folder / later.file, times=(later.touched.timestamp() + 60,) * 2)
    return folder / "alternatives"


def drafts(alternatives):
    return sorted(path.name for path in alternatives.glob("*.draft.toml"))


def of_another(page):
    """What is said of the draft of a session that is gone."""
    return page.get_by_text("There is another draft of this alternative, from a session that is gone")


def test_a_draft_of_a_session_that_is_gone_is_gone_on_from(serve, page, left_behind):
    opened(page, serve("design"), "measured")
    of_another(page).wait_for()
    until(page, lambda: (tier(page, "Kitchen"), controls(page, "Library").first.input_value()) == (2, "–"))
    page.get_by_role("button", name="Go on from it").click()
    of_another(page).wait_for(state="detached")
    until(page, lambda: tier(page, "Library") == 2 and controls(page, "Kitchen").first.input_value() == "–")
    (kept,) = drafts(left_behind)
    assert "Library" in (left_behind / kept).read_text("utf-8")
    page.get_by_role("button", name="Undo", exact=True).click()
    until(page, lambda: tier(page, "Kitchen") == 2 and controls(page, "Library").first.input_value() == "–")


def test_a_draft_of_a_session_that_is_gone_is_put_away(serve, page, left_behind):
    opened(page, serve("design"), "measured")
    of_another(page).wait_for()
    page.get_by_role("button", name="Put it away").click()
    of_another(page).wait_for(state="detached")
    assert "measured.0000aaaa.draft.toml" not in drafts(left_behind)
    assert tier(page, "Kitchen") == 2 and "kept as a draft" in standing(page)


def test_a_draft_of_somebody_at_work_is_copied_and_theirs_stays(serve, page, another, folder):
    served = serve("design")
    opened(page, served, "measured")
    controls(page, "Library").first.select_option("2")
    until(page, lambda: "kept as a draft" in standing(page))
    (theirs,) = drafts(folder / "alternatives")
    opened(another, served, "measured")
    another.get_by_role("button", name="Go on from a copy of the draft").click()
    until(another, lambda: tier(another, "Library") == 2)
    until(another, lambda: "kept as a draft" in standing(another))
    assert theirs in drafts(folder / "alternatives") and len(drafts(folder / "alternatives")) == 2


def test_what_clients_may_speak_of_is_chosen_and_taken_back(desk):
    tab(desk, "Answers")
    desk.get_by_label("Clients may speak of").click()
    desk.get_by_role("option", name="chair rail", exact=True).click()
    desk.keyboard.press("Escape")
    until(desk, lambda: "not saved" in standing(desk))
    desk.get_by_label("Clients may speak of").get_by_text("chair rail").wait_for()
    taken_back(desk)
    desk.get_by_label("Clients may speak of").get_by_text("chair rail").wait_for(state="detached")
    tab(desk, "Rooms")


def test_an_answer_is_taken_in_as_a_range_of_tiers(serve, page, folder):
    say(open_session(folder, "Ada Bell"), "Ada Bell", "measured", "Library", MORE)
    opened(page, serve("design"), "measured")
    now = tier(page, "Library")
    tab(page, "Answers")
    page.get_by_role("button", name="Take it in as a range for Ada Bell on Library").click()
    page.get_by_text("Taken in as a range of tiers.").first.wait_for()
    tab(page, "Rooms")
    until(page, lambda: tier(page, "Library") == now + 1)
    assert controls(page, "Library").nth(1).input_value() == str(now + 1)


def test_another_tier_of_a_room_is_taken_where_it_is_told_what_it_would_change(desk):
    tab(desk, "Rooms")
    now = tier(desk, "Library")
    desk.get_by_label("Room on the plan").select_option(label=f"Library, tier {now} Family")
    tab(desk, "One room")
    desk.get_by_role("heading", name=f"Library: tier {now}").wait_for()
    what_if = desk.get_by_role("region", name="What if it had another tier?")
    what_if.locator("tbody tr").nth(now).get_by_role("button", name="Pin").click()
    desk.get_by_role("heading", name=f"Library: tier {now + 1}").wait_for()
    taken_back(desk)
    desk.get_by_role("heading", name=f"Library: tier {now}").wait_for()
    tab(desk, "Rooms")


def test_a_phone_shows_the_picture_that_is_chosen(serve, chromium):
    context = chromium.new_context(viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True)
    context.set_default_timeout(60_000)
    page = opened(context.new_page(), serve("design"))
    plan = page.locator("[data-cell-name=pictures]").locator("canvas, svg.marks")
    steps = page.locator("[data-cell-name=walks]").locator("canvas, svg.marks")
    page.get_by_label("Show", exact=True).wait_for()
    for name, shown in (("Step-down", (0, 1)), ("Both", (1, 1)), ("Floor plan", (1, 0))):
        page.get_by_role("radio", name=name).tap()
        until(page, lambda shown=shown: (plan.count(), steps.count()) == shown)
        for drawn in (plan, steps):
            assert not drawn.count() or settled(page, drawn)["width"] <= 390, name
    context.close()
