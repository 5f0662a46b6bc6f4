"""What was typed is not lost: not by looking elsewhere, not beside somebody else, not on a full disk."""

import resource
from contextlib import contextmanager
from functools import partial

import pytest

from planner import read_house, read_intent
from planner.record.keeping import read_record
from tests.browser.drawing import table
from tests.browser.driving import choose_room, controls, opened, tab, tier, until

SAVE = "Save the house"


@contextmanager
def full_disk(served):
    """While it is entered, the server can write no byte into any file."""
    free = resource.prlimit(served.process.pid, resource.RLIMIT_FSIZE)
    resource.prlimit(served.process.pid, resource.RLIMIT_FSIZE, (0, free[1]))
    try:
        yield
    finally:
        resource.prlimit(served.process.pid, resource.RLIMIT_FSIZE, free)


def tables(page):
    tab(page, "House")
    table(page).wait_for()


def typed(page, row, text, column="room"):
    """A text is typed into a cell of the table of rooms."""
    cell = page.locator(f"[data-key=cell-{row}-{column}]")
    cell.fill(text)
    cell.press("Enter")
    page.locator(".bd-news").get_by_text(f"{column[:1].upper()}{column[1:]} of ").wait_for()


def shown(page, row, column="room"):
    return page.locator(f"[data-key=cell-{row}-{column}]").input_value()


def standing(page):
    return page.locator(".pl-title").inner_text()


def test_a_table_s_cells_and_a_half_written_title_outlive_a_look_at_another_tab(serve, page, folder):
    opened(page, serve("design"))
    tables(page)
    typed(page, 0, "ten", "ceiling")
    page.get_by_placeholder("a new alternative").fill("Half a tit")
    tab(page, "Rooms")
    page.get_by_role("row", name="Entry Hall").wait_for()
    tables(page)
    until(page, lambda: shown(page, 0, "ceiling") == "ten")
    page.get_by_role("button", name=SAVE).click()
    page.get_by_text("Nothing was saved; what you did is still here.").wait_for()
    assert shown(page, 0, "ceiling") == "ten"
    assert page.get_by_placeholder("a new alternative").input_value() == "Half a tit"


def test_a_table_s_cells_outlive_a_reload_and_the_server_and_can_be_let_go(serve, page, folder):
    served = serve("design", "--alternative", "measured")
    opened(page, served)
    tables(page)
    typed(page, 0, "tall", "notes")
    page.reload()
    page.get_by_text("What was done to rooms.csv on").first.wait_for()
    tables(page)  # all of the page is here before its server goes
    until(page, lambda: shown(page, 0, "notes") == "tall")
    assert (folder / "rooms.csv").read_text("utf-8").count("tall") == 0
    served.kill()
    page.goto("about:blank")
    opened(page, serve("design"))
    page.get_by_text("What was done to rooms.csv on").first.wait_for()
    tables(page)
    until(page, lambda: shown(page, 0, "notes") == "tall")
    page.get_by_role("button", name="Go back to what is saved").click()
    until(page, lambda: shown(page, 0, "notes") != "tall")
    page.get_by_text("All that is drawn is saved.").wait_for()
    page.reload()
    page.get_by_role("row", name="Entry Hall").wait_for()
    tables(page)
    until(page, lambda: shown(page, 0, "notes") != "tall")


def test_a_half_written_remark_outlives_a_reload_and_can_be_let_go(serve, page, folder):
    page.goto(serve("review").url)
    page.get_by_label("Your name").fill("Ottilie")
    choose, words = partial(choose_room, page), page.get_by_label("Anything to add?")
    for name, typed_words in (("Library", "we read the"), ("Kitchen", "the dresser")):
        choose(name)
        until(page, lambda: words.input_value() == "")
        words.press_sequentially(typed_words, delay=20)
        page.wait_for_timeout(1000)
    page.reload()
    page.get_by_text("What you had written and not sent is back, at: Library, Kitchen.").wait_for()
    choose("Library")
    until(page, lambda: words.input_value() == "we read the")
    page.get_by_role("button", name="Only my words").click()
    page.get_by_text("What you had written and not sent is back, at: Kitchen.").wait_for()
    choose("Kitchen")
    until(page, lambda: words.input_value() == "the dresser")
    page.get_by_role("button", name="Let go of these words").click()
    until(page, lambda: words.input_value() == "")
    page.get_by_text("What you had written").wait_for(state="detached")
    ((answer,), _) = read_record(folder)
    assert (answer.room, answer.remark) == ("Library", "we read the")


def test_half_a_letter_in_a_remark_takes_no_word_of_it_away(serve, page, folder):
    page.goto(serve("review").url)
    page.get_by_label("Your name").fill("Ottilie")
    choose_room(page, "Library")
    page.get_by_label("Anything to add?").focus()
    page.evaluate("document.execCommand('insertText', false, 'a \\ud83d thousand \\ud83d\\udcda')")
    page.get_by_role("button", name="Only my words").click()
    until(page, lambda: read_record(folder)[0])
    ((answer,), _) = read_record(folder)
    assert (answer.room, answer.remark) == ("Library", "a \ufffd thousand \U0001f4da")


def test_a_half_written_remark_waits_with_its_room(serve, page, folder):
    page.goto(serve("review").url)
    choose, words = partial(choose_room, page), page.get_by_label("Anything to add?")
    choose("Library")
    words.fill("we read the")
    choose("Kitchen")
    until(page, lambda: words.input_value() == "")
    page.get_by_label("Your name").fill("Ottilie")
    choose("Library")
    until(page, lambda: words.input_value() == "we read the")
    assert read_record(folder) == ((), ())


def test_two_at_one_alternative_keep_their_own_and_neither_saves_over_the_other(serve, page, another, folder):
    served = serve("design")
    for window in (page, another):
        opened(window, served, "measured")
    controls(page, "Library").nth(2).select_option("3")
    controls(another, "Kitchen").nth(2).select_option("2")
    for window in (page, another):
        until(window, lambda window=window: "kept as a draft" in standing(window))
    assert len(list((folder / "alternatives").glob("measured.*.draft.toml"))) == 2
    another.get_by_role("button", name="Save", exact=True).click()
    another.get_by_text("Saved as measured").wait_for()
    page.get_by_role("button", name="Save", exact=True).click()
    page.get_by_text("Somebody else has saved this alternative").wait_for()
    assert "not saved: somebody else has saved it meanwhile; kept as a draft" in standing(page)
    page.get_by_text("Kitchen to tier 2").wait_for()
    assert set(read_intent(folder, "measured").rooms) == {"Kitchen"}
    page.get_by_role("button", name="Keep theirs, save mine as new").click()
    page.get_by_text("Saved as Measured").wait_for()
    page.get_by_text("Somebody else has saved this alternative").wait_for(state="detached")
    assert set(read_intent(folder, "measured").rooms) == {"Kitchen"}
    page.reload()
    page.get_by_role("row", name="Entry Hall").wait_for()
    assert controls(page, "Library").nth(2).input_value() == "3" and " 2 · saved" in standing(page)
    assert list((folder / "alternatives").glob("*draft*")) == []


@pytest.fixture
def overtaken(serve, page, another, folder):
    """What has a page's note on the first room refused, as somebody else has changed the row of the Library meanwhile;
    gives that row."""

    def refused(text, column):
        served, row = serve("design"), [room.name for room in read_house(folder)[0].rooms].index("Library")
        for window in (page, another):
            opened(window, served)
            tables(window)
        typed(page, 0, "mine", "notes")
        typed(another, row, text, column)
        another.get_by_role("button", name=SAVE).click()
        another.get_by_text("All that is drawn is saved.").wait_for()
        page.get_by_role("button", name=SAVE).click()
        page.get_by_text("somebody else has changed rooms.csv since you opened it").wait_for()
        return row

    return refused


def test_a_stale_table_is_not_saved_over_somebody_s_edit(overtaken, page, folder):
    row = overtaken("Study", "room")
    page.get_by_role("row", name="rooms.csv Library changed room Library Study").wait_for()
    page.locator(".pl-news").get_by_text(
        "Somebody else has changed the house"
    ).wait_for()  # nothing else wakes the page
    assert [room.name for room in read_house(folder)[0].rooms][row] == "Study"
    page.get_by_role("button", name="Overwrite theirs").click()
    page.get_by_text("Theirs cannot be overwritten: what else they saved goes with it").wait_for()
    assert [room.name for room in read_house(folder)[0].rooms][row] == "Study"
    page.get_by_role("button", name="Put mine into theirs").click()
    until(page, lambda: shown(page, row) == "Study" and shown(page, 0, "notes") == "mine")


@pytest.mark.parametrize(
    ("button", "kept", "told"),
    [
        ("Overwrite theirs", "mine", "The house is saved."),
        ("Keep theirs, drop mine", "theirs", "The house is as it is in its folder."),
    ],
)
def test_of_two_who_change_one_table_the_second_chooses_whose_stands(overtaken, page, folder, button, kept, told):
    row = overtaken("theirs", "notes")
    page.get_by_role("button", name=button, exact=True).click()
    page.locator(".pl-news").get_by_text(told).wait_for()
    page.get_by_text("somebody else has changed rooms.csv").wait_for(state="detached")
    page.get_by_text("All that is drawn is saved.").wait_for()
    assert {"mine", "theirs"} & {shown(page, at, "notes") for at in (0, row)} == {kept}
    assert {"mine", "theirs"} & {read_house(folder)[0].rooms[at].notes for at in (0, row)} == {kept}


def test_a_full_disk_is_told_in_the_headline_and_the_work_stays(serve, page, folder):
    served = serve("design")
    opened(page, served, "measured")
    with full_disk(served):
        controls(page, "Entry Hall").first.select_option("5")
        until(page, lambda: "not kept as a draft: cannot be written (File too large)" in standing(page))
        until(page, lambda: tier(page, "Entry Hall") == 5)
        page.get_by_text("Your work is on this page alone").wait_for()
        page.get_by_role("button", name="Save", exact=True).click()
        until(page, lambda: "not saved: cannot be written (File too large)" in standing(page))
        assert "kept as a draft ·" not in standing(page).replace("not kept as a draft", "")
        alternative = page.get_by_label("Alternative", exact=True)
        alternative.select_option("formal")
        until(page, lambda: alternative.evaluate("e => e.selectedOptions[0].text") == "measured")
    page.get_by_role("button", name="Try again").click()
    until(page, lambda: "· not saved; kept as a draft ·" in standing(page))
    page.get_by_text("Your work is on this page alone").wait_for(state="detached")
    page.get_by_role("button", name="Save", exact=True).click()
    until(page, lambda: "· saved ·" in standing(page))
    assert read_intent(folder, "measured").rooms["Entry Hall"].tier == 5


def test_an_answer_that_cannot_be_kept_is_told_to_the_client(serve, page, folder):
    served = serve("review")
    page.goto(served.url)
    page.get_by_label("Room", exact=True).select_option("Library")
    page.get_by_role("heading", name="Library").wait_for()
    page.get_by_label("Anything to add?").fill("we read there")
    with full_disk(served):
        page.get_by_role("button", name="A little richer").click()
        page.get_by_text("Your answer on Library was not kept").wait_for()
        assert page.get_by_label("Anything to add?").input_value() == "we read there"
    page.get_by_role("button", name="A little richer").click()
    page.get_by_role("row", name="Library").get_by_text("we read there").wait_for()
    page.get_by_text("Your answer on Library was not kept").wait_for(state="detached")
    (answer,), _ = read_record(folder)
    assert (answer.answer, answer.remark) == ("more", "we read there")
