"""A client walks through the house in a real browser: by mouse, by touch and by keys."""

import pytest

from planner import rename_room
from planner.record.entries import MORE, ElementWish
from planner.record.keeping import read_record
from tests.browser.driving import choose_room, controls_on, cut_on, settled, sheets, until

SIDES = ("planned", "richer")
RICHER, KEEP = "A little richer", "Keep it"


@pytest.fixture
def asked(serve, page, folder):
    """The client's page on an alternative of which they may speak of the chair rail."""
    file = folder / "alternatives" / "measured.toml"
    file.write_text('offered = ["chair rail"]\n' + file.read_text("utf-8"), "utf-8")
    page.goto(serve("review", "--alternative", "measured").url)
    page.get_by_role("heading", name="Entry Hall").wait_for()
    return page


def row(page, room):
    return page.get_by_role("row").filter(has=page.get_by_role("rowheader", name=room, exact=True))


def test_nobody_answers_without_a_name_which_is_remembered(asked, folder):
    choose_room(asked, "Library")
    asked.get_by_role("button", name=KEEP).click()
    asked.get_by_text("Write your name first").wait_for()
    assert read_record(folder).answers == ()
    asked.get_by_label("Your name").fill("Ottilie")
    asked.get_by_role("button", name=KEEP).click()
    asked.get_by_text("Write your name first").wait_for(state="detached")
    until(asked, lambda: len(read_record(folder).answers) == 1)
    asked.reload()
    asked.get_by_role("heading", name="Entry Hall").wait_for()
    until(asked, lambda: asked.get_by_label("Your name").input_value() == "Ottilie")


def test_a_richer_room_shows_its_neighbours_and_its_cost_before_and_after(asked):
    asked.get_by_label("Your name").fill("Ottilie")
    choose_room(asked, "Library")
    richer = asked.locator("figure").filter(has=asked.get_by_role("button", name=RICHER))
    told = richer.inner_text()
    assert "Garden Room would become richer" in told and "would cost 10.4 % more" in told
    asked.get_by_role("img", name="Library, as it is seen from").wait_for()
    assert asked.get_by_role("img", name="Library, a little richer").is_visible()
    before = row(asked, "Garden Room").inner_text()
    richer.get_by_role("button", name=RICHER).click()
    asked.get_by_text("You have answered on 1 room. 2 rooms of the house would change").wait_for()
    until(asked, lambda: row(asked, "Garden Room").inner_text() != before)
    asked.get_by_text("and its trim would cost 10.4 % more").wait_for()
    asked.get_by_text("Your answer on Library: a little richer.").wait_for()
    outlines = [f"getComputedStyle(document.querySelector('[data-side={side}]')).outlineStyle" for side in SIDES]
    assert [asked.evaluate(outline) for outline in outlines] == ["none", "solid"]


ON_TOP = """on => {
  const { x, y, width, height } = on.getBoundingClientRect()
  const seen = document.elementFromPoint(x + width / 2, y + height / 2)
  return on.contains(seen) || !!seen?.shadowRoot?.contains(on)
}"""
"""Whether a button is what a finger would touch in its middle."""


@pytest.mark.parametrize("size", [(1440, 900), (390, 844)], ids=["desk", "phone"])
def test_the_way_on_stays_before_what_was_pressed_last(asked, size):
    asked.set_viewport_size(dict(zip(("width", "height"), size, strict=True)))
    asked.get_by_label("Your name").fill("Ottilie")
    keep = asked.get_by_role("button", name=KEEP)
    keep.scroll_into_view_if_needed()
    keep.click()
    asked.get_by_text("No room of the house would change").wait_for()
    keep.focus()
    asked.locator("[data-cell-name=asked]").evaluate("cell => cell.scrollIntoView({ block: 'center' })")
    until(asked, lambda: asked.get_by_role("button", name="On →").evaluate(ON_TOP))


def test_a_line_parts_the_way_on_from_what_goes_under_it(asked):
    asked.set_viewport_size({"width": 390, "height": 844})
    way_on = asked.locator("[data-cell-name=walking]")
    edge, wide = way_on.evaluate("bar => [getComputedStyle(bar).borderTopWidth, bar.getBoundingClientRect().width]")
    assert (edge, wide) == ("2px", 390)
    foot = way_on.evaluate("bar => innerHeight - bar.getBoundingClientRect().bottom")
    assert foot == 0


def test_a_single_wish_is_kept_at_once(asked, folder):
    choose_room(asked, "Library")
    box = asked.get_by_label("No rail at chair height here")
    box.click()
    asked.get_by_text("Write your name first").wait_for()
    until(asked, lambda: not box.is_checked())
    assert read_record(folder).entries == ()
    asked.get_by_label("Your name").fill("Ottilie")
    box.click()
    until(asked, lambda: len(read_record(folder).answers) == 1)
    (said,) = read_record(folder).answers
    assert (said.room, said.answer, said.wishes) == ("Library", "", (ElementWish("chair rail", False),))
    row(asked, "Library").get_by_text("Without a rail at chair height").wait_for()
    asked.reload()
    asked.get_by_role("heading", name="Entry Hall").wait_for()
    choose_room(asked, "Library")
    until(asked, lambda: asked.get_by_label("No rail at chair height here").is_checked())


def test_an_answer_is_taken_back_by_keys_and_both_stay_in_the_record(asked, folder):
    asked.get_by_label("Your name").fill("Ottilie")
    choose_room(asked, "Library")
    box, words = asked.get_by_label("No rail at chair height here"), asked.get_by_label("Anything to add?")
    words.fill("we read there")
    asked.get_by_role("button", name=RICHER).click()
    asked.get_by_text("Your answer on Library: a little richer.").wait_for()
    box.click()
    asked.get_by_text("Your answer on Library: a little richer, without a rail at chair height.").wait_for()
    asked.get_by_role("button", name="Take this answer back").focus()
    asked.keyboard.press("Enter")
    asked.get_by_text("You have said nothing of the house yet.").wait_for()
    asked.get_by_text("Your answer on Library").wait_for(state="detached")
    assert asked.get_by_role("button", name="Take this answer back").count() == 0
    until(asked, lambda: not box.is_checked() and words.input_value() == "")
    assert "we read there" not in row(asked, "Library").inner_text()
    said = [(one.answer, one.remark, one.takes_back) for one in read_record(folder).answers]
    assert said == [(MORE, "we read there", False), (MORE, "we read there", False), ("", "", True)]


def test_words_that_are_typed_at_once_and_sent_at_once_are_kept(asked, folder):
    asked.get_by_label("Your name").fill("Ottilie")
    typed = {room: f"what we would say of the {room}" for room in ("Library", "Kitchen", "Mud Room", "Garden Room")}
    for room, words in typed.items():
        choose_room(asked, room)
        asked.get_by_label("Anything to add?").focus()
        asked.keyboard.type(words)
        asked.keyboard.press("Tab")
        asked.keyboard.press("Enter")
        asked.get_by_text(f"Your answer on {room}: in your words.").wait_for()
    assert {said.room: said.remark for said in read_record(folder).answers} == typed


def test_the_walk_leads_on_by_keys_alone(asked, folder):
    name = asked.get_by_label("Your name")
    name.focus()
    asked.keyboard.type("Ottilie")
    asked.keyboard.press("Tab")
    on = asked.get_by_role("button", name="On →")
    for room in ("Drawing Room", "Library"):
        on.focus()
        asked.keyboard.press("Enter")
        asked.get_by_role("heading", name=room).wait_for()
    asked.get_by_text("3 of 25").wait_for()
    keep = asked.get_by_role("button", name=KEEP)
    keep.focus()
    asked.keyboard.press("Enter")
    until(
        asked,
        lambda: [(a.who, a.room, a.answer) for a in read_record(folder).answers] == [("Ottilie", "Library", "keep")],
    )


def test_every_other_control_does_what_it_says(asked, folder):
    welcome = asked.get_by_text("Walk through the house from the front door")
    welcome.wait_for()
    asked.get_by_text("How this works").click()
    welcome.wait_for(state="hidden")
    asked.get_by_label("Your name").fill("Ottilie")
    asked.get_by_role("button", name="On →").click()
    asked.get_by_role("heading", name="Drawing Room").wait_for()
    asked.get_by_role("button", name="← Back").click()
    asked.get_by_role("heading", name="Entry Hall").wait_for()
    on_plan = asked.get_by_label("Room on the plan")
    on_plan.select_option(label=on_plan.locator("option").filter(has_text="Library").first.inner_text())
    asked.get_by_role("heading", name="Library").wait_for()
    smaller = asked.locator("figure").get_by_text("And in smaller things").first
    smaller.click()
    asked.locator("figure details[open]").first.wait_for()
    asked.get_by_label("Anything to add?").fill("we read there")
    asked.get_by_role("button", name="Only my words").click()
    asked.get_by_role("cell", name="we read there").wait_for()
    choose_room(asked, "Kitchen")
    asked.get_by_role("button", name="A little plainer").click()
    asked.get_by_text("Your answer on Kitchen: a little plainer.").wait_for()
    said = [(one.room, one.answer, one.remark) for one in read_record(folder).answers]
    assert said == [("Library", "", "we read there"), ("Kitchen", "less", "")]


def test_one_thumb_is_enough_on_a_phone(serve, folder, chromium):
    served = serve("review", "--alternative", "measured")
    context = chromium.new_context(viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True)
    context.set_default_timeout(60_000)
    try:
        page = context.new_page()
        page.goto(served.url)
        page.get_by_role("heading", name="Entry Hall").wait_for()
        page.get_by_label("Your name").tap()
        page.keyboard.type("Ottilie")
        on = page.get_by_role("button", name="On →")
        box = on.bounding_box()
        assert box["y"] > 844 / 2 and box["height"] >= 24  # under the thumb, wherever the page is
        back = page.get_by_role("button", name="← Back").bounding_box()
        assert abs(back["y"] - box["y"]) < 2 and box["x"] + box["width"] <= 390  # in one row
        on.tap()
        page.get_by_role("heading", name="Drawing Room").wait_for()
        assert page.evaluate("document.getElementById('App').scrollWidth <= innerWidth")
        answer = page.get_by_role("button", name=KEEP)
        answer.scroll_into_view_if_needed()
        answer.tap()
        until(page, lambda: [a.room for a in read_record(folder).answers] == ["Drawing Room"])
    finally:
        context.close()


@pytest.mark.parametrize("width", [320, 360, 390])
def test_the_way_on_is_on_the_screen_of_a_phone_whatever_rooms_are_called(serve, folder, chromium, width):
    rename_room(folder, "Library", "Housekeeper's sitting room towards the court")
    context = chromium.new_context(viewport={"width": width, "height": 740}, has_touch=True, is_mobile=True)
    context.set_default_timeout(60_000)
    try:
        page = context.new_page()
        page.goto(serve("review").url)
        on, rooms = page.get_by_role("button", name="On →"), page.locator("[data-cell-name=walking] select")
        until(page, lambda: rooms.locator("option", has_text="towards the court").count() == 1)
        box, choice = settled(page, on), settled(page, rooms)
        assert choice["width"] > 100 and choice["x"] + choice["width"] < box["x"] < box["x"] + box["width"] <= width
    finally:
        context.close()


def test_two_clients_review_at_once_and_each_sees_their_own(asked, another, serve, folder):
    served = serve("review", "--alternative", "measured")
    another.goto(served.url)
    another.get_by_role("heading", name="Entry Hall").wait_for()
    for page, name, room in ((asked, "Ottilie", "Library"), (another, "Bell", "Kitchen")):
        page.get_by_label("Your name").fill(name)
        choose_room(page, room)
        page.get_by_label("Anything to add?").fill(f"said by {name}")
        page.get_by_role("button", name=KEEP).click()
        page.get_by_role("cell", name=f"said by {name}").wait_for()
    until(asked, lambda: len(read_record(folder).answers) == 2)
    assert asked.get_by_text("said by Bell").count() == 0 and another.get_by_text("said by Ottilie").count() == 0


def test_paper_has_the_whole_page_and_none_of_the_controls(asked):
    asked.get_by_role("img", name="Entry Hall, as it is seen from").wait_for()
    asked.emulate_media(media="print")
    until(asked, lambda: controls_on(asked) == [])
    assert cut_on(asked) == [] and sheets(asked) >= 2
