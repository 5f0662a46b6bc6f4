"""The tab of cost and order: a budget in money, rates kept, lists unfolded and taken."""

import re
from zipfile import ZipFile

from planner import read_house, read_intent
from planner.house.notes import Note, change_note
from tests.browser.driving import opened, tab, tier, unfold, until


def test_a_budget_moves_rooms_and_a_rate_moves_the_cost(serve, page, folder):
    opened(page, serve("design"), "measured")
    tab(page, "Cost")
    said = page.get_by_text("The trim of the house as planned costs USD")
    said.wait_for()
    dear = money(said)
    budget = page.get_by_label("Budget (USD)")
    budget.fill(f"{0.97 * dear:.0f}")
    budget.press("Enter")
    until(page, lambda: 0.9 * dear < money(said) <= 0.975 * dear)
    page.get_by_text("under the budget of").wait_for()
    page.locator(".pl-figures").get_by_text("Cost (USD)").wait_for()
    cheaper = money(said)
    pace = page.get_by_label("value of pace")
    pace.fill("0.9")
    pace.press("Tab")
    page.get_by_label("markup is confirmed").click()
    page.get_by_role("button", name="Keep these rates").click()
    page.locator(".pl-news").get_by_text("Kept in rates.csv: 2 rates.").wait_for()
    rates = {one.name: one for one in read_house(folder)[0].rates}
    assert rates["pace"].value == 0.9 and rates["markup"].confirmed
    until(page, lambda: money(said) != cheaper)
    page.get_by_role("button", name="Undo", exact=True).click()
    until(page, lambda: budget.input_value() == "")
    assert read_intent(folder, "measured").budget is None
    tab(page, "Rooms")
    assert tier(page, "Entry Hall") >= 3


def test_what_is_bought_and_cut_is_listed_and_taken(desk):
    tab(desk, "Cost")
    desk.get_by_text("The trim of the house as planned costs USD").wait_for()
    unfold(desk, "What to cut")
    desk.get_by_role("columnheader", name="Profile").last.wait_for()
    unfold(desk, "By room")
    desk.locator("details[open] canvas, details[open] svg.marks").first.wait_for()
    desk.get_by_text("Copy or download the tables").click()
    line = desk.locator("li").filter(has_text="Cut list")
    with desk.expect_download() as taken:
        line.get_by_text("CSV").click()
    assert taken.value.suggested_filename.endswith("_cut-list.csv")
    tab(desk, "Rooms")


def test_all_papers_are_made_and_taken_with_what_is_noted(desk, folder, tmp_path):
    change_note(folder, Note("Kitchen"), noted := Note("Kitchen", words="Old paint on the window."))
    tab(desk, "Cost")
    desk.get_by_role("button", name="Make all papers").click()
    desk.get_by_text("Making the papers").wait_for()
    take = desk.get_by_text(re.compile("^Take the papers"))
    take.wait_for()
    desk.locator(".pl-news").get_by_text("The papers are made: take them under Papers for shop").wait_for()
    with desk.expect_download() as taken:
        take.click()
    assert taken.value.suggested_filename == "thornapple-house_as-the-house-stands_papers.zip"
    taken.value.save_as(tmp_path / "papers.zip")
    with ZipFile(tmp_path / "papers.zip") as papers:
        assert papers.testzip() is None
        assert {name.rpartition(".")[2] for name in papers.namelist()} >= {"csv", "pdf", "txt", "xlsx"}
        assert "notes.pdf" in papers.namelist()
    change_note(folder, noted, Note("Kitchen"))
    tab(desk, "Rooms")
    tab(desk, "Cost")
    desk.get_by_role("button", name="Make all papers").wait_for()
    tab(desk, "Rooms")


def money(said):
    """The cost that a sentence says [USD]."""
    return float(said.first.inner_text().split("USD ")[1].split(",  ")[0].split(", in ")[0].replace(",", ""))
