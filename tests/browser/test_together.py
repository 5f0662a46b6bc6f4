"""What one person saves or answers is shown in the others' open pages, and nothing is taken out of their hands."""

import re

import pytest

from planner.intent.folder import read_intent
from planner.intent.renaming import rename_room
from planner.record.entries import Reply
from planner.record.keeping import keep, open_session, read_record, say
from tests.browser.driving import choose_room, controls, opened, tab, tier, until, visitor

TITLE, REMARK = "a new alternative", "Anything to add?"


def saved(window, room, wanted):
    controls(window, room).first.select_option(wanted)
    until(window, lambda: tier(window, room) == int(wanted))
    window.get_by_role("button", name="Save", exact=True).click()
    window.get_by_text("Saved as measured").wait_for()


def in_hand(window, field):
    return field.evaluate("field => field === (field.getRootNode().activeElement)")


def test_a_designer_who_has_done_nothing_sees_what_somebody_else_saves_and_can_go_back(serve, page, another, folder):
    served = serve("design")
    for window in (page, another):
        opened(window, served, "measured")
    before = tier(page, "Library")
    saved(another, "Library", "2")
    page.get_by_text("Somebody else has saved this alternative: Library tier 2.").wait_for()
    until(page, lambda: tier(page, "Library") == 2)
    assert "· saved ·" in page.locator(".pl-title").inner_text() and before != 2
    page.get_by_role("button", name="Undo").click()
    until(page, lambda: tier(page, "Library") == before)
    assert read_intent(folder, "measured").rooms["Library"].tier == 2


def test_what_a_designer_has_in_hand_stays_there_while_somebody_else_saves(serve, page, another, folder):
    served = serve("design")
    for window in (page, another):
        opened(window, served, "measured")
    controls(page, "Kitchen").nth(2).select_option("2")
    until(page, lambda: "kept as a draft" in page.locator(".pl-title").inner_text())
    title = page.get_by_placeholder(TITLE)
    title.press_sequentially("Half a tit")
    saved(another, "Library", "2")
    page.get_by_text("Somebody else has saved this alternative since you opened it").wait_for()
    assert in_hand(page, title)
    title.press_sequentially("le")
    assert title.input_value() == "Half a title" and controls(page, "Kitchen").nth(2).input_value() == "2"
    assert tier(page, "Library") != 2


def test_a_client_sees_what_the_designer_saves_without_losing_a_word(serve, page, another, folder):
    designer, client = serve("design"), serve("review", "--alternative", "measured")
    opened(another, designer, "measured")
    page.goto(client.url)
    choose_room(page, "Kitchen")
    words = page.get_by_label(REMARK)
    words.press_sequentially("The dresser st", delay=20)
    row = page.get_by_role("row").filter(has=page.get_by_role("rowheader", name="Library", exact=True))
    before = row.locator("td").first.inner_text()
    saved(another, "Library", "2")
    until(page, lambda: row.locator("td").first.inner_text() != before)
    assert in_hand(page, words)
    words.press_sequentially("ays", delay=20)
    assert words.input_value() == "The dresser stays"


def test_a_client_hears_the_designer_and_what_was_said_in_another_window_without_losing_a_word(serve, page, folder):
    page.goto(serve("review", "--alternative", "measured").url)
    page.get_by_role("heading", name="Entry Hall").wait_for()
    choose_room(page, "Kitchen")
    words = page.get_by_label(REMARK)
    words.press_sequentially("The dresser ", delay=20)
    asked = say(open_session(folder, "Ada", visitor(page)), "Ada", "measured", "Kitchen", "keep")
    page.get_by_text("Your answer on Kitchen: keep it.").wait_for()
    assert in_hand(page, words)
    words.press_sequentially("st", delay=20)
    keep(
        open_session(folder, "Bert"),
        Reply(who="Bert", alternative="measured", room="Kitchen", to=asked.id, word="Good."),
    )
    page.get_by_text("Good.").wait_for()
    assert in_hand(page, words)
    words.press_sequentially("ays", delay=20)
    assert words.input_value() == "The dresser stays"
    page.get_by_label("Your name").fill("Ada")
    page.get_by_role("button", name="Only my words").click()
    page.get_by_role("cell", name="The dresser stays").wait_for()
    assert [each.answer for each in read_record(folder).answers] == ["keep", "keep"]


def test_what_a_client_is_writing_of_a_room_goes_with_it_to_its_new_name(serve, page, folder):
    page.goto(serve("review", "--alternative", "measured").url)
    page.get_by_role("heading", name="Entry Hall").wait_for()
    choose_room(page, "Kitchen")
    page.get_by_label(REMARK).press_sequentially("The dresser st", delay=20)
    rename_room(folder, "Kitchen", "Cookery")
    page.get_by_role("heading", name="Cookery").wait_for()
    words = page.get_by_label(REMARK)
    assert words.input_value() == "The dresser st"
    words.press_sequentially("ays", delay=20)
    page.get_by_label("Your name").fill("Ada")
    page.get_by_role("button", name="Only my words").click()
    page.get_by_role("cell", name="The dresser stays").wait_for()
    assert [(said.room, said.remark) for said in read_record(folder).answers] == [("Cookery", "The dresser stays")]


def test_a_designer_stays_in_a_room_that_somebody_else_renames(serve, page, folder):
    page.goto(f"{serve('design').url}&tab=One+room&room=Kitchen")
    shown = page.get_by_label("Room", exact=True)
    until(page, lambda: shown.count() and shown.input_value() == "Kitchen")
    rename_room(folder, "Kitchen", "Cookery")
    until(page, lambda: shown.input_value() == "Cookery")
    assert "room=Cookery" in page.url
    page.goto(f"{page.url.replace('Cookery', 'Kitchen')}")
    until(page, lambda: shown.count() and shown.input_value() == "Cookery")


@pytest.mark.parametrize("shown", ["One room", "Walls", "Schedule"])
def test_a_room_that_is_on_show_is_renamed_by_somebody_else_without_an_error(serve, page, folder, shown):
    served = serve("design", "--alternative", "measured")
    page.goto(f"{served.url}&tab={shown.replace(' ', '+')}&room=Kitchen")
    page.get_by_role("row", name="crown").or_(page.get_by_role("img", name="Kitchen")).first.wait_for()
    rename_room(folder, "Kitchen", "Cookery")
    page.locator("select").get_by_text("Cookery").first.wait_for(state="attached")
    page.wait_for_load_state("networkidle")
    page.wait_for_timeout(3000)  # until all that shows the plan has followed
    served.process.terminate()
    assert served.process.communicate(timeout=60)[1] == ""


def test_what_was_said_in_another_window_is_in_the_field_where_nothing_is_written(serve, page, folder):
    page.goto(serve("review", "--alternative", "measured").url)
    page.get_by_role("heading", name="Entry Hall").wait_for()
    choose_room(page, "Kitchen")
    say(open_session(folder, "Ada", visitor(page)), "Ada", "measured", "Kitchen", "keep", "said elsewhere")
    until(page, lambda: page.get_by_label(REMARK).input_value() == "said elsewhere")


def test_the_house_is_drawn_as_somebody_else_has_saved_it(serve, page, folder):
    served = serve("design")
    opened(page, served, "measured")
    tab(page, "Weights")
    text = (folder / "house.toml").read_text("utf-8")
    (folder / "house.toml").write_text(text.replace("Thornapple House", "Thornapple Lodge"), "utf-8")
    page.get_by_role("heading", name="Thornapple Lodge").wait_for()
    page.get_by_text("Somebody else has changed the house; it is shown as it is now.").wait_for()
    assert page.get_by_role("slider").count() > 0


def test_whoever_is_about_to_decide_can_do_so_while_somebody_else_changes_the_house(serve, page, folder):
    opened(page, serve("design"), "measured")
    tab(page, "Answers")
    page.get_by_label("Your name").fill("Cy Dale")
    page.get_by_label("Why, or on what terms").fill("as agreed")
    file = folder / "house.toml"
    for style in ("federal", "victorian"):
        file.write_text(re.sub('style = "[a-z]+"', f'style = "{style}"', file.read_text("utf-8"), count=1), "utf-8")
        page.get_by_text(f"{style} style").wait_for()
        until(page, lambda: page.get_by_label("Your name").input_value() == "Cy Dale")
    until(page, lambda: page.get_by_label("Why, or on what terms").input_value() == "as agreed")
    page.get_by_role("button", name="Decide on this alternative").click()
    page.get_by_text("It is decided, and a copy is locked.").wait_for()
    (decision,) = read_record(folder).decisions
    assert (decision.who, decision.remark) == ("Cy Dale", "as agreed")


def test_an_alternative_that_somebody_removes_leaves_the_controls_and_is_told(serve, page, folder):
    opened(page, serve("design"), "measured")
    (folder / "alternatives" / "measured.toml").unlink()
    page.get_by_text("Somebody has removed this alternative since you opened it.").wait_for()
    until(page, lambda: "not saved: somebody else has removed it meanwhile" in page.locator(".pl-title").inner_text())
    page.get_by_role("button", name="Save", exact=True).click()
    page.get_by_role("button", name="Overwrite theirs with mine").click()
    page.get_by_text("Saved as measured").wait_for()
    assert (folder / "alternatives" / "measured.toml").is_file()
    assert page.get_by_label("Alternative").evaluate("e => e.selectedOptions[0].text") == "measured"


def test_what_others_save_while_the_house_cannot_be_read_is_followed_when_it_can(serve, page, folder):
    opened(page, serve("design"), "measured")
    rooms = (folder / "rooms.csv").read_bytes()
    (folder / "rooms.csv").unlink()
    page.get_by_text("This house cannot be planned yet").wait_for()
    file = folder / "alternatives" / "measured.toml"
    file.write_text(file.read_text("utf-8") + "\n[rooms.Library]\ntier = 2\n", "utf-8")
    page.wait_for_timeout(2000)  # so that it is seen while nothing can be shown
    (folder / "rooms.csv").write_bytes(rooms)
    until(page, lambda: tier(page, "Library") == 2)
    assert "· saved ·" in page.locator(".pl-title").inner_text()


def test_an_alternative_that_was_away_with_its_folder_is_saved_when_it_is_back(serve, page, folder):
    opened(page, serve("design"), "measured")
    away = folder.with_name("away")
    folder.rename(away)
    page.get_by_text("This house cannot be planned yet").wait_for()
    page.wait_for_timeout(1500)
    away.rename(folder)
    until(page, lambda: "· saved ·" in page.locator(".pl-title").inner_text())
