"""Every table and drawing that leaves a page: clicked, named after what it shows, and read back."""

import csv
import io
from pathlib import Path

import openpyxl
import pytest

from tests.browser.driving import controls, opened, tab, until

TABLES = {
    "Rooms": {"Rooms by tier": "rooms-by-tier"},
    "Weights": {"Importance": "importance"},
    "Schedule": {"Schedule": "schedule"},
    "Packages": {"Packages": "packages", "Built from": "built-from"},
    "One room": {
        "Entry Hall: other tiers": "entry-hall-other-tiers",
        "Entry Hall: passages": "entry-hall-passages",
        "Entry Hall: importance": "entry-hall-importance",
    },
    "Walls": {"Entry Hall: meetings": "entry-hall-meetings", "Entry Hall: pieces": "entry-hall-pieces"},
    "Checks": {"Checks": "checks", "Remarks on the files": "remarks-on-the-files"},
    "Proposals": {"Proposals": "proposals", "Frontier": "frontier"},
    "Answers": {"Answers": "answers"},
}
"""What is taken from each tab, and the last part of its file's name."""

MAY_BE_EMPTY = ("remarks-on-the-files", "_answers")
"""Of a house in which nothing is doubtful, and of which nobody has said anything."""


def unfolded(page, title):
    """The line of a table that a tab shows, unfolded."""
    line = page.locator(".pl-take li").filter(has=page.get_by_text(title, exact=True))
    line.wait_for(state="attached")
    page.wait_for_load_state("networkidle")
    fold = line.locator("xpath=ancestor::details[1]/summary")
    if fold.evaluate("e => !e.parentElement.open"):
        fold.click()
    return line


def taken(page, kind, title, tmp_path):
    """The file that the button of a table gives: its name and its bytes."""
    line = unfolded(page, title)
    with page.expect_download() as download:
        line.get_by_text(kind, exact=True).click()
    file = tmp_path / download.value.suggested_filename
    download.value.save_as(file)
    return file.name, file.read_bytes()


def rows_of(data):
    return [[cell or "" for cell in row] for row in openpyxl.load_workbook(io.BytesIO(data)).active.values]


def both(page, title, tmp_path):
    """A table as its CSV and as its workbook say it, and what its files are called."""
    name, data = taken(page, "CSV", title, tmp_path)
    book, whole = taken(page, "XLSX", title, tmp_path)
    assert Path(name).stem == Path(book).stem and (Path(name).suffix, Path(book).suffix) == (".csv", ".xlsx")
    plain = list(csv.reader(io.StringIO(data.decode("utf-8-sig"), newline="")))
    assert plain[0] == rows_of(whole)[0] and len(plain) == len(rows_of(whole))
    return Path(name).stem, plain


@pytest.mark.parametrize("name", TABLES)
def test_a_tab_s_tables_are_taken_as_csv_and_as_workbooks(desk, tmp_path, name):
    tab(desk, name)
    found = dict(both(desk, title, tmp_path) for title in TABLES[name])
    assert list(found) == [f"thornapple-house_as-the-house-stands_{part}" for part in TABLES[name].values()]
    assert all(len(rows) > 1 for title, rows in found.items() if not title.endswith(MAY_BE_EMPTY))
    if name == "Rooms":
        (rows,) = found.values()
        assert rows[0][:4] == ["Room", "Level", "Use", "Tier"] and "Ceiling [in]" in rows[0] and len(rows) == 26
    tab(desk, "Rooms")


@pytest.mark.parametrize(("kind", "begins"), [("SVG", b"<svg"), ("DXF", b"  0\n"), ("PNG", b"\x89PNG")])
def test_a_room_s_walls_are_named_after_house_alternative_and_room(desk, tmp_path, kind, begins):
    tab(desk, "Walls")
    with desk.expect_download() as download:
        desk.get_by_text(kind, exact=True).click()
    assert download.value.suggested_filename == f"thornapple-house_as-the-house-stands_entry-hall_walls.{kind.lower()}"
    download.value.save_as(tmp_path / "walls")
    assert (tmp_path / "walls").read_bytes().startswith(begins)
    tab(desk, "Rooms")


def test_a_table_is_copied_to_be_pasted_into_a_spreadsheet(desk):
    desk.context.grant_permissions(["clipboard-read", "clipboard-write"])
    tab(desk, "Rooms")
    unfolded(desk, "Rooms by tier").get_by_text("Copy", exact=True).click()
    desk.get_by_role("button", name="Copy to clipboard").click()
    desk.wait_for_timeout(300)
    lines = desk.evaluate("navigator.clipboard.readText()").splitlines()
    assert lines[0].split("\t")[:2] == ["Room", "Level"] and len(lines) == 26
    assert {len(line.split("\t")) for line in lines} == {len(lines[0].split("\t"))}


def test_the_team_takes_the_comparison(serve, page, tmp_path):
    page.goto(serve("compare").url)
    found = dict(both(page, title, tmp_path) for title in ("How each reads", "Tiers side by side"))
    assert [name.rpartition("_")[2] for name in found] == ["how-each-reads", "tiers-side-by-side"]
    assert [len(rows) for rows in found.values()] == [4, 26]


def test_the_client_takes_the_rooms_with_the_answers(serve, page, tmp_path):
    page.goto(serve("review").url)
    name, rows = both(page, "Room by room", tmp_path)
    assert name == "thornapple-house_as-the-house-stands_room-by-room" and len(rows) == 26
    assert rows[0] == ["Room", "As planned", "With your answers", "You said", "You added"]


@pytest.mark.parametrize(
    ("name", "kind", "part"), [("Rooms", "XLSX", "rooms-by-tier.xlsx"), ("Walls", "DXF", "_walls.dxf")]
)
def test_a_file_that_was_asked_for_comes_though_its_tab_is_built_anew_meanwhile(serve, page, name, kind, part):
    opened(page, serve("design"))
    tab(page, "Rooms")
    pin = controls(page, "Library").first
    pin.select_option(index=2)
    until(page, lambda: "not saved" in page.locator(".pl-title").inner_text())
    tab(page, name)
    line = unfolded(page, "Rooms by tier") if name == "Rooms" else page.locator("body")
    asked = []
    page.route("**/api/kernel/function_call", lambda route: asked.append(route), times=1)
    button = line.get_by_text(kind, exact=True)
    built = button.evaluate("e => e.getRootNode().host.closest('marimo-ui-element').getAttribute('random-id')")
    with page.expect_download() as download:
        button.click()
        until(page, lambda: asked)
        page.get_by_role("button", name="Undo", exact=True).click()
        until(page, lambda: page.locator(f"[random-id='{built}']").count() == 0)
        asked[0].continue_()
    assert download.value.suggested_filename.endswith(part)
    assert Path(download.value.path()).stat().st_size > 1000
