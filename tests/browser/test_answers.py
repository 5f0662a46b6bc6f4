"""The client and the designer in their own browsers: what one says the other hears, and what is proposed is tried."""

from planner import edits, read_intent, read_record, write_intent
from planner.record.entries import KEEP, MORE, ElementWish
from planner.record.keeping import open_session, say
from tests.browser.driving import choose_room, opened, tab, tier, until
from tests.browser.test_together import in_hand
from tests.browser.test_whole_job import SIDEWAYS, reach, turn
from tests.known import LIBRARY

WORD = "A word to a client, who sees it at the room"


def said(folder, who, room, answer=MORE, **more):
    return say(open_session(folder, who), who, "measured", room, answer, **more)


def take(page, how, who, room):
    return page.get_by_role("button", name=f"Take it in {how} for {who} on {room}")


def send(page, who, room):
    return page.get_by_role("button", name=f"Send the word for {who} on {room}")


def test_an_answer_is_heard_taken_in_and_answered_with_a_word_that_the_client_sees(serve, page, another, folder):
    designer, client = serve("design"), serve("review", "--alternative", "measured")
    opened(page, designer, "measured")
    tab(page, "Answers")
    page.get_by_text("Nobody has said anything of Measured").wait_for()
    page.get_by_label("Your name").press_sequentially("Cy Dale")
    word = page.get_by_label(WORD)
    word.press_sequentially("With plea")

    another.goto(client.url)
    another.get_by_label("Your name").fill("Ada Bell")
    choose_room(another, "Library")
    another.get_by_role("button", name="A little richer").click()
    page.get_by_text("Ada Bell answered on Library; see Answers.").wait_for()
    page.get_by_text("given on the house as it is now").wait_for()
    page.get_by_role("tab", name="Answers (1)", exact=True, selected=True).wait_for()
    assert in_hand(page, word)
    word.press_sequentially("sure.")
    assert word.input_value() == "With pleasure."

    take(page, "as a pin", "Ada Bell", "Library").click()
    page.get_by_text("Taken in as a pinned tier. Undo takes it back").wait_for()
    assert read_record(folder).replies[-1].taken == "pin" and word.input_value() == "With pleasure."
    page.get_by_role("tab", name="Answers", exact=True, selected=True).wait_for()
    tab(page, "Rooms")
    until(page, lambda: tier(page, "Library") == 4)
    another.get_by_text("Your wish is taken into the plan.").wait_for()

    tab(page, "Answers")
    send(page, "Ada Bell", "Library").click()
    page.get_by_text("Answered by Cy Dale").wait_for()
    another.get_by_text("With pleasure.").wait_for()
    until(page, lambda: page.get_by_label(WORD).input_value() == "")
    page.get_by_role("button", name="Undo").click()
    page.get_by_text("the alternative says so no longer").wait_for()


def test_what_clients_may_speak_of_is_said_and_the_alternative_decided_by_the_keys(serve, page, folder):
    said(folder, "Ada Bell", "Library", wishes=[ElementWish("chair rail", False)])
    opened(page, serve("design"), "measured")
    turn(page, "Answers")
    name = page.get_by_label("Your name")
    reach(page, name)
    page.keyboard.type("Cy Dale")
    reach(page, take(page, "as trim rules", "Ada Bell", "Library"))
    page.keyboard.press("Enter")
    page.get_by_text("Taken in as trim rules. Undo takes it back").wait_for()
    page.get_by_text("Save the alternative first").wait_for()
    assert page.get_by_role("button", name="Decide on this alternative").count() == 0
    reach(page, page.get_by_role("button", name="Save", exact=True), "Shift+Tab")
    page.keyboard.press("Enter")
    page.get_by_text("Saved as measured.").wait_for()
    reach(page, page.get_by_label("Why, or on what terms"))
    page.keyboard.type("within what was agreed")
    reach(page, page.get_by_role("button", name="Decide on this alternative"))
    page.keyboard.press("Enter")
    page.get_by_text("Nothing has changed since.").wait_for()
    (decision,) = read_record(folder).decisions
    assert (decision.who, decision.remark) == ("Cy Dale", "within what was agreed")
    write_intent(edits.pin(read_intent(folder, "measured"), "Kitchen", 2), folder)
    page.get_by_text("the alternative has changed since: Kitchen tier 2").wait_for()


def test_on_a_phone_what_clients_may_speak_of_stands_below_its_label(serve, page, folder):
    write_intent(
        edits.offer(read_intent(folder, "measured"), ["chair rail", "picture rail", "wainscot"], LIBRARY), folder
    )
    page.set_viewport_size({"width": 390, "height": 844})
    opened(page, serve("design"), "measured")
    tab(page, "Answers")
    label = page.get_by_text("Clients may speak of", exact=True)
    label.wait_for()
    lines = label.evaluate(
        "label => label.getBoundingClientRect().height / parseFloat(getComputedStyle(label).fontSize)"
    )
    assert lines < 2


def test_what_is_proposed_is_put_on_the_desk_undone_and_saved_beside(serve, page, folder):
    opened(page, serve("design"), "measured")
    before = tier(page, "Entry Hall")
    turn(page, "Proposals")
    put = page.get_by_role("button", name="Put it on the desk (The cheapest that still steps down)")
    reach(page, put)
    page.keyboard.press("Enter")
    page.get_by_text(f"Moved: Entry Hall {before} → {before - 1}").wait_for()
    page.get_by_role("button", name="Undo").click()
    page.get_by_text("Taken back: ").wait_for()
    page.get_by_role("button", name="Save it as new (The cheapest that still steps down)").click()
    page.get_by_text("it opens under Alternative.").wait_for()
    until(page, lambda: len(page.get_by_label("Alternative").locator("option").all()) == 1 + len(names(folder)))
    (new,) = (name for name in names(folder) if name.startswith("The cheapest"))
    assert read_intent(folder, new).title == "The cheapest that still steps down"
    assert page.get_by_label("Alternative").input_value() == "measured"


def names(folder):
    return [path.stem for path in (folder / "alternatives").glob("*.toml")]


def test_answers_and_proposals_on_a_phone(serve, chromium, folder):
    for who in ("Ada Bell", "Bert Cole"):
        for room in ("Library", "Kitchen", "Dining Room"):
            said(folder, who, room, KEEP, remark="as it is, with the shelves to the ceiling " * 3)
    context = chromium.new_context(viewport={"width": 390, "height": 844}, has_touch=True)
    context.set_default_timeout(60_000)
    page = opened(context.new_page(), serve("design"), "measured")
    tab(page, "Answers")
    page.get_by_text("3 more answers").wait_for()
    page.get_by_text("6 open answers of clients, under Answers").wait_for()
    page.wait_for_timeout(500)
    assert page.evaluate(SIDEWAYS) == []
    assert page.evaluate("document.getElementById('App').scrollHeight") <= 3 * 844
    take(page, "as a pin", "Bert Cole", "Dining Room").tap()
    page.get_by_text("Taken in as a pinned tier. Undo takes it back").wait_for()
    assert read_record(folder).replies[-1].taken == "pin"
    tab(page, "Proposals")
    page.get_by_text("Most for the money").first.wait_for()
    page.wait_for_timeout(500)
    assert page.evaluate(SIDEWAYS) == []
    context.close()
