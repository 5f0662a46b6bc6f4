"""A house begun from nothing: its rooms and doors are typed into the tables, and it is planned."""

import shutil

import pytest

from planner import new_house, read_house
from tests.browser.driving import HEADER, ROW, settled, tab, tier, until

pytestmark = pytest.mark.browser


def typed(page, grid, row, cells):
    """Cells are typed into a row of a grid from its first column on, the keyboard going from one to the next."""
    canvas = page.locator("canvas[data-testid=data-grid-canvas]").nth(grid)

    def is_selected(column):
        cell = page.locator(f"[data-testid=glide-cell-{column}-{row}]").nth(grid)
        return cell.count() == 1 and cell.get_attribute("aria-selected") == "true"

    def selected():
        if is_selected(1):
            return True
        canvas.scroll_into_view_if_needed()
        box = settled(page, canvas)
        page.mouse.click(box["x"] + 60, box["y"] + HEADER + ROW * (row + 0.5))
        return False

    until(page, selected)
    for column, cell in enumerate(cells, 2):
        page.keyboard.type(cell, delay=20)
        page.keyboard.press("Tab")
        until(page, lambda column=column: is_selected(column))


def test_a_blank_house_is_filled_in_and_planned(serve, page, folder):
    shutil.rmtree(folder)
    new_house(folder)
    page.goto(serve("design").url)
    page.get_by_role("row", name="Entry Hall").wait_for()
    tab(page, "House")
    page.get_by_role("button", name="Check and save the tables").wait_for()
    typed(page, 0, 1, ["Parlor", "Ground", "parlor", "18'", "14'", "9'"])
    typed(page, 1, 0, ["Parlor door", "door", "Entry Hall", "Parlor", "N"])
    page.get_by_role("button", name="Check and save the tables").click()
    until(page, lambda: (folder / "rooms.csv").read_text().count("\n") == 3)
    page.locator("option", has_text="Parlor").first.wait_for(state="attached")
    assert page.get_by_role("tab", name="House").get_attribute("aria-selected") == "true"
    tab(page, "Rooms")
    page.locator("th", has_text="Parlor").wait_for()
    assert tier(page, "Parlor") >= 2
    house, _ = read_house(folder)
    assert [room.name for room in house.rooms] == ["Entry Hall", "Parlor"]
    assert [(o.name, o.kind, o.room, o.other, o.wall) for o in house.openings] == [
        ("Parlor door", "door", "Entry Hall", "Parlor", "N")
    ]
