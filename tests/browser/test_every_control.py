"""Controls of the designer's page that no other journey uses: each is set as a person does, and is taken back."""

import shutil

import pytest

from planner import new_house, read_house, read_intent
from tests.browser.drawing import news, room, saved, table
from tests.browser.driving import controls, opened, tab, tier, unfold, until

pytestmark = pytest.mark.browser


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
def begun(folder, serve, page):
    """The board of a house that is begun from nothing, and its folder."""
    shutil.rmtree(folder)
    new_house(folder)
    page.goto(serve("design").url)
    page.locator(".bd-plan").wait_for()
    room(page, "Entry Hall").wait_for()
    page.wait_for_load_state("networkidle")
    page.wait_for_timeout(2000)  # the board is built anew once the page has settled
    return page


def typed(page, label, text):
    field = page.locator(".bd").get_by_label(label, exact=True)
    field.fill(text)
    field.press("Enter")
    page.wait_for_timeout(700)  # the form is drawn anew


def test_the_form_of_a_house_is_filled_in_and_saved(begun, folder):
    typed(begun, "Name of the house", "Larkmead")
    begun.locator(".bd").get_by_label("Unit").select_option("mm")
    news(begun, "the unit is mm now")
    for label, chosen in (("Style", "federal"), ("Grade", "cottage")):
        begun.locator(".bd").get_by_label(label).select_option(chosen)
        begun.wait_for_timeout(700)  # the form is drawn anew
    typed(begun, "Currency", "EUR")
    typed(begun, "Built in", "1931")
    typed(begun, "Name of level Ground", "Main")
    typed(begun, "Ceiling of level Main", "2800 mm")
    typed(begun, "Name of a new level", "Attic")
    begun.get_by_role("button", name="Remove level Attic").click()
    begun.get_by_role("button", name="Remove level Attic").wait_for(state="detached")
    begun.get_by_label("Name of a new level").fill("Upper")
    begun.get_by_label("Ceiling of the new level").fill("2500 mm")
    begun.get_by_role("button", name="Add a level").click()
    begun.get_by_role("button", name="Remove level Upper").wait_for()
    begun.locator(".bd").get_by_label("Guests arrive in").select_option("Entry Hall")
    saved(begun)
    house, _ = read_house(folder)
    assert (house.name, house.unit, house.style, house.grade) == ("Larkmead", "mm", "federal", "cottage")
    assert (house.currency, house.year_built, house.entries) == ("EUR", 1931, ("Entry Hall",))
    assert house.rooms[0].level == "Main" and round(house.rooms[0].ceiling * 25.4) == 2800


def test_an_opening_is_put_without_a_pointer_and_rows_are_found_and_removed(begun, folder):
    begun.get_by_role("button", name="Add the room").click()
    room(begun, "Parlor").wait_for()
    begun.locator("[data-key=typed-wall]").select_option(index=0)
    begun.locator("[data-key=typed-kind]").select_option("window")
    begun.get_by_role("button", name="Put it there").click()
    table(begun).wait_for()
    begun.get_by_role("button", name="Openings (1)").click()
    begun.locator("[data-key^='cell-0-']").first.wait_for()
    for other in ("Trim that stays (0)", "Fixtures (0)", "Stairs (0)", "Rooms (2)"):
        begun.get_by_role("button", name=other).click()
        begun.get_by_role("button", name=other, pressed=True).wait_for()
    find = begun.locator(".bd").get_by_label("Find", exact=True)
    find.fill("parl")
    find.press("Enter")
    until(begun, lambda: begun.locator(".bd-table tbody [data-key$=-room]").count() <= 2)
    begun.get_by_role("button", name="Remove the room").click()
    until(begun, lambda: room(begun, "Parlor").count() == 0)
    saved(begun)
    assert [one.name for one in read_house(folder)[0].rooms] == ["Entry Hall"]
