"""Controls of the drawing board that no other journey uses: each is set as a person does, and what it did is seen."""

import shutil

import pytest

from planner import new_house, read_house
from tests.browser.drawing import news, room, saved, table
from tests.browser.driving import opened, tab, until
from tests.browser.test_new_house import at_the_board


@pytest.fixture
def begun(folder, serve, page):
    """The board of a house that is begun from nothing, and its folder."""
    shutil.rmtree(folder)
    new_house(folder)
    return at_the_board(page, serve("design"))


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


def test_each_level_is_drawn_and_what_was_undone_is_done_again(begun):
    begun.get_by_label("Name of a new level").fill("Upper")
    begun.get_by_role("button", name="Add a level").click()
    shown = begun.get_by_role("group", name="Level that is drawn")
    shown.get_by_role("button", name="Upper", pressed=True).wait_for()
    begun.get_by_role("button", name="Add the room").click()
    news(begun, "Parlor added.")
    assert room(begun, "Entry Hall").count() == 0
    shown.get_by_role("button", name="Ground").click()
    room(begun, "Entry Hall").wait_for()
    assert room(begun, "Parlor").count() == 0
    shown.get_by_role("button", name="Upper").click()
    room(begun, "Parlor").wait_for()
    begun.get_by_role("button", name="Undo: Parlor added").click()
    room(begun, "Parlor").wait_for(state="detached")
    begun.get_by_role("button", name="Redo: Parlor added").click()
    room(begun, "Parlor").wait_for()
    room(begun, "Parlor").focus()
    begun.keyboard.press("Delete")
    room(begun, "Parlor").wait_for(state="detached")


def test_a_room_is_typed_where_it_is_picked(begun):
    begun.get_by_role("button", name="Add the room").click()
    news(begun, "Parlor added.")
    for label, text, said in (
        ("Name", "Snug", "Room of Snug changed"),
        ("West to east", "12'", "Length of Snug changed"),
        ("South to north", "10'", "Width of Snug changed"),
        ("Ceiling", "8'-6\"", "Ceiling of Snug changed"),
        ("From the west", "30'", "Snug"),
        ("From the south", "5'", "Snug"),
    ):
        typed(begun, label, text)
        news(begun, said)
    begun.locator("[data-key=typed-use]").focus()  # its entries come when it is reached
    begun.locator("[data-key=typed-use]").select_option("library")
    news(begun, "Use of Snug changed")
    fields = ("Name", "West to east", "South to north", "Ceiling", "From the west", "From the south")
    now = [begun.locator(".bd").get_by_label(label, exact=True).input_value() for label in fields]
    assert now == ["Snug", "12'", "10'", "8'-6\"", "30'-0\"", "5'-0\""]
    assert room(begun, "Snug").get_attribute("aria-label") == "Snug, library, 12'-0\" x 10'-0\""


def test_a_fault_leads_to_its_row_and_a_row_is_removed(begun, folder):
    begun.get_by_role("button", name="Add the room").click()
    news(begun, "Parlor added.")
    table(begun)
    begun.get_by_label("length of Parlor", exact=True).fill("wide")
    begun.get_by_label("length of Parlor", exact=True).press("Enter")
    begun.locator(".bd-faults").wait_for()
    begun.get_by_role("button", name="Openings (0)").click()
    begun.get_by_role("button", name="Openings (0)", pressed=True).wait_for()
    begun.get_by_text("Tables of rooms").click()  # folds them away
    begun.get_by_role("button", name="Openings (0)").wait_for(state="hidden")
    begun.locator(".bd-todo").get_by_role("button", name="rooms.csv row 3, length").click()
    begun.get_by_role("button", name="Rooms (2)", pressed=True).wait_for()
    begun.get_by_label("length of Parlor", exact=True).wait_for()
    begun.get_by_role("button", name="Remove Parlor", exact=True).click()
    begun.get_by_role("button", name="Rooms (1)").wait_for()
    saved(begun)
    assert [one.name for one in read_house(folder)[0].rooms] == ["Entry Hall"]


def test_a_name_that_is_too_wide_for_its_room_goes_on_in_the_next_line(serve, page, folder):
    opened(page, serve("design"))
    tab(page, "House")
    name = room(page, "Powder Room").locator(".bd-name")
    until(page, lambda: name.all_text_contents() == ["Powder", "Room"])
    assert room(page, "Drawing Room").locator(".bd-name").all_text_contents() == ["Drawing Room"]


def test_a_long_table_is_turned_page_by_page(serve, page, folder):
    opened(page, serve("design"))
    tab(page, "House")
    table(page).wait_for()
    page.get_by_role("button", name="Openings (").click()
    page.get_by_text("1 to 60 of 79").wait_for()
    assert page.get_by_role("button", name="Earlier").is_disabled()
    page.get_by_role("button", name="Later").click()
    page.get_by_text("61 to 79 of 79").wait_for()
    assert page.locator(".bd-table tbody [data-column=opening]").count() == 19
    assert page.get_by_role("button", name="Later").is_disabled()
    page.get_by_role("button", name="Earlier").click()
    page.get_by_text("1 to 60 of 79").wait_for()


def test_a_text_that_is_read_is_taken_as_another_table_put_in_the_place_of_one_or_put_away(begun):
    begun.get_by_text("Bring in a spreadsheet").click()

    def read(text):
        begun.get_by_label("Cells copied from a spreadsheet").fill(text)
        begun.get_by_role("button", name="Read the text").click()

    read("room,use,length,width\nHall,entry hall,10',8'\nDen,study,12',10'\n")
    begun.get_by_text("2 rows read, 0 faults in them.").wait_for()
    begun.get_by_role("button", name="Put this away").click()
    begun.get_by_text("2 rows read").wait_for(state="detached")
    read("name,kind,from,to\nD1,door,Entry Hall,Den\n")
    begun.get_by_role("button", name="Add 1 opening").wait_for()
    begun.get_by_label("These rows are").select_option("rooms.csv")
    begun.get_by_role("button", name="Add 1 room").wait_for()
    begun.get_by_role("button", name="Put this away").click()
    read("room,level,use,length,width\nEntry Hall,Ground,entry hall,10',8'\nDen,Ground,study,12',10'\n")
    begun.get_by_role("button", name="Put them in the place of").click()
    news(begun, "2 rows of what was pasted put into rooms.csv.")
    table(begun)
    begun.get_by_role("button", name="Rooms (2)").wait_for()
    lengths = [begun.get_by_label(f"length of {name}", exact=True).input_value() for name in ("Entry Hall", "Den")]
    assert lengths == ["10'", "12'"]
