"""The page that is sent, opened from a file with the network cut: looked through, answered, and sent back."""

import io
import json
import shutil
from dataclasses import replace

import pytest
from click.testing import CliRunner
from PIL import Image

from planner import demo_house, read_intent, read_record, rename_room, share_page, write_intent
from planner.cli import main
from planner.house.notes import Note, change_note
from planner.record.entries import Reply
from planner.record.keeping import keep, open_session, say
from tests.browser.conftest import Watched
from tests.browser.test_axe import SCRIPT, violations

ROOM, BESIDE = "Upper Hall", "Stair Hall"
"""A room that in the measured alternative goes up with others beside it."""

VECTORS = [
    ("0b" * 20, b"Hi There".hex(), "b0344c61d8db38535ca8afceaf0bf12b881dc200c9833da726e9376c2e32cff7"),
    (
        b"Jefe".hex(),
        b"what do ya want for nothing?".hex(),
        "5bdcc146bf60754e6a042426089575c75a003f089d2739839dec58b964ec3843",
    ),
    ("aa" * 20, "dd" * 50, "773ea91e36800e46854db8ebd09181a72959098b3ef8c122d9635514ced565fe"),
    (
        bytes(range(1, 26)).hex(),
        "cd" * 50,
        "82558a389a443c0ea4cc819899f2083a85f0faa3e578f8077a2e3ff46729665b",
    ),
    (
        "aa" * 131,
        b"Test Using Larger Than Block-Size Key - Hash Key First".hex(),
        "60e431591ee0b67f0d8a26aacbf5b77f8e0bc6213728c5140546040f0ee37f54",
    ),
    (
        "aa" * 131,
        (
            b"This is a test using a larger than block-size key and a larger than block-size data. "
            b"The key needs to be hashed before being used by the HMAC algorithm."
        ).hex(),
        "9b09ffa71b942fcb27635fbcd5b0e944bfdc63644f0713938a7f51535c3a35e2",
    ),
]
"""Key, data and HMAC-SHA-256 (Nystrom, Identifiers and Test Vectors for HMAC-SHA-224, HMAC-SHA-256, HMAC-SHA-384, and
HMAC-SHA-512, RFC 4231, 2005), cases 1 to 4, 6 and 7."""


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    """A house and the page on it, to be copied from."""
    place = tmp_path_factory.mktemp("sent")
    house = shutil.copytree(demo_house(), place / "house")
    return house, share_page(house, place / "page.html", who="Bert")


@pytest.fixture
def sent(made, tmp_path):
    """A house whose record nothing else adds to, and the page on it."""
    house, page = made
    return shutil.copytree(house, tmp_path / "house"), page


@pytest.fixture
def offline(chromium):
    """A window without a network."""
    windows = []

    def opened(width=1440, **how):
        context = chromium.new_context(viewport={"width": width, "height": 900}, offline=True, **how)
        context.set_default_timeout(20_000)
        watched = Watched(context)
        watched.page.on(
            "request", lambda asked: None if asked.url[:5] in ("file:", "data:", "blob:") else fetched(asked)
        )
        windows.append(watched)
        return watched.page

    def fetched(asked):
        windows[-1].errors.append(f"fetched {asked.url}")

    yield opened
    for watched in windows:
        watched.page.context.close()
    assert [error for watched in windows for error in watched.errors] == []


def begun(page, sent, name="Ada Bell", alternative="Measured"):
    """The page, once its reader has said a name and chosen an alternative, where there is a choice."""
    page.goto(sent[1].file.as_uri())
    page.get_by_label("Your name").fill(name)
    page.get_by_role("button", name="Look at the house").click()
    if alternative:
        page.get_by_role("radio", name=alternative).check()
    return page


def on_plan(page, room):
    """A room on the plan that is shown."""
    return page.locator(f'#map polygon.room[aria-label^="{room}, "]').locator("visible=true")


def told(sent, room, answer):
    """What the plan says of an answer by itself."""
    text = sent[1].file.read_text("utf-8").partition('id="facts">')[2].partition("</script>")[0]
    (measured,) = (each for each in json.loads(text)["alternatives"] if each["name"] == "measured")
    return measured["rooms"][room]["ways"][answer]


def saved(page, place):
    """The file that the page gives."""
    with page.expect_download() as given:
        page.get_by_role("button", name="Save my answers as a file").click()
    file = place / given.value.suggested_filename
    given.value.save_as(file)
    return file


def added(house, file):
    found = CliRunner().invoke(main, ["reviews", "add", str(house), str(file)])
    assert found.exit_code == 0, found.output
    return found.output


def test_the_seal_is_that_of_the_published_vectors(offline, sent):
    page = offline()
    page.goto(sent[1].file.as_uri())
    for key, data, expected in VECTORS:
        assert page.evaluate("([key, data]) => hex(hmac(unhex(key), unhex(data)))", [key, data]) == expected


def test_the_name_is_asked_first_and_nothing_else_is_reached_without_one(offline, sent):
    page = offline()
    page.goto(sent[1].file.as_uri())
    assert page.evaluate("document.activeElement.id") == "name"
    assert page.locator("main").is_hidden()
    page.get_by_label("Your name").fill("   ")
    page.get_by_role("button", name="Look at the house").click()
    assert page.locator("main").is_hidden()


def test_an_answer_shows_at_once_what_it_does_to_neighbours_and_cost(offline, sent):
    page = begun(offline(), sent)
    on_plan(page, ROOM).click(position={"x": 60, "y": 10})
    page.get_by_role("heading", name=ROOM, exact=True).wait_for()
    page.get_by_label("A little richer").check()
    does = told(sent, ROOM, "more")
    assert BESIDE in does["moves"]
    assert page.locator("#moves li").count() == len(does["moves"])
    for room, (before, after) in does["moves"].items():
        line = page.locator("#moves li").filter(has_text=f"{room}:").inner_text()
        assert f"{before} of 4" in line and line.strip().endswith(f"{after} of 4")
    assert page.locator("#cost").inner_text() == f"The trim of the whole house costs {does['cost']}."
    assert page.locator("#map .wide polygon.moved").count() == len(does["moves"])
    page.get_by_label("Keep it").check()
    assert (
        page.locator("#map .wide polygon.moved").count() == 0
        and "Nothing changes" in page.locator("#effect").inner_text()
    )


def drawn(page, where):
    """What a drawing shows, once it is there."""
    image = page.locator(f"{where} img").first
    image.wait_for()
    page.wait_for_function("image => image.complete && image.naturalWidth > 0", arg=image.element_handle())
    return image.get_attribute("src")


def test_drawings_and_the_step_down_react_to_an_answer(offline, sent):
    page = begun(offline(), sent)
    page.get_by_label("Room", exact=True).select_option(ROOM)
    page.locator("#every-wall summary").click()
    before = drawn(page, "#door"), drawn(page, "#all")
    assert page.locator("#steps .goes").count() == 0 and page.locator("#sides .chosen").count() == 0
    page.get_by_role("radio", name="A little richer").check()
    page.get_by_text("As you see it from its door, with your answer").wait_for()
    page.get_by_text("All walls of this room with their measures, with your answer").wait_for()
    assert (drawn(page, "#door"), drawn(page, "#all")) != before
    assert page.locator("#sides .chosen figcaption").inner_text().startswith("Your answer. ")
    moves = told(sent, ROOM, "more")["moves"]
    assert page.locator("#steps .wide circle.goes").count() == len(moves) > 1
    words = page.locator("#going").inner_text()
    for room, (was, now) in moves.items():
        assert f"{room} rises from {was} to {now}" in words
    page.get_by_role("radio", name="Keep it").check()
    page.get_by_text("As you see it from its door, as planned").wait_for()
    assert (drawn(page, "#door"), drawn(page, "#all")) == before
    assert page.locator("#steps .goes").count() == 0 and page.locator("#going").inner_text() == ""


def test_whom_it_is_sent_to_reads_the_designer_s_reply(offline, tmp_path):
    house = shutil.copytree(demo_house(), tmp_path / "house")
    file = open_session(house, "Ada Bell")
    asked = say(file, "Ada Bell", "measured", "Library", "more", "we read <b>")
    keep(file, Reply(who="Bert", alternative="measured", room="Library", to=asked.id, word="With pleasure."))
    shared = share_page(house, tmp_path / "page.html", ["measured"], "Bert", "Ada Bell")
    page = offline()
    page.goto(shared.file.as_uri())
    assert page.get_by_label("Your name").input_value() == "Ada Bell"
    page.get_by_role("button", name="Look at the house").click()
    assert page.locator("#told").inner_text() == ""
    page.get_by_label("Room", exact=True).select_option("Library")
    said = page.locator("#told").inner_text()
    assert "You said before: a little richer." in said and "we read <b>" in said
    assert "Bert says:" in said and "With pleasure." in said


def test_a_browser_that_unpacks_nothing_says_so(offline, sent):
    page = offline()
    page.add_init_script("delete window.DecompressionStream")
    begun(page, sent)
    page.locator("#door").get_by_text("This browser is too old to show the drawing.").wait_for()
    page.get_by_role("radio", name="Keep it").check()


def test_what_cannot_be_had_is_not_offered_and_says_why(offline, sent):
    page = begun(offline(), sent)
    page.get_by_label("Room", exact=True).select_option("Entry Hall")
    assert page.get_by_label("A little richer").is_disabled()
    assert told(sent, "Entry Hall", "more")["why"] in page.locator("#question").inner_text()


def test_single_wishes_are_offered_where_the_designer_allows_them_and_come_back(offline, tmp_path):
    house = shutil.copytree(demo_house(), tmp_path / "house")
    write_intent(replace(read_intent(house, "measured"), offered=("chair rail",)), house, "measured")
    own = house, share_page(house, tmp_path / "page.html", ["measured"])
    page = begun(offline(), own, alternative="")
    page.get_by_label("Room", exact=True).select_option("Library")
    assert page.locator("#wishes label").all_inner_texts()[0].startswith("Without a rail at chair height")
    page.get_by_label("Without a rail at chair height").check()
    assert "Library: without a rail at chair height." in page.locator("#said").inner_text()
    page.get_by_label("Keep it").check()
    assert "Nothing changes but what your single wishes do." in page.locator("#effect").inner_text()
    page.get_by_label("Room", exact=True).select_option("Coat Closet")
    page.get_by_label("Keep it").check()
    assert "Nothing changes." in page.locator("#effect").inner_text()
    page.get_by_role("button", name="Take this answer back").click()
    assert "Ada Bell: 1 added to the record" in added(house, saved(page, tmp_path))
    (said,) = read_record(house).answers
    assert [wish.words for wish in said.wishes] == ["no chair rail"] and said.answer == "keep"
    page.get_by_label("Room", exact=True).select_option("Coat Closet")
    assert page.locator("#wishes label").count() == 0


def test_what_is_noted_for_the_client_is_shown_with_its_photographs(offline, tmp_path):
    house, jpeg = shutil.copytree(demo_house(), tmp_path / "house"), io.BytesIO()
    Image.new("RGB", (400, 300), "grey").save(jpeg, "JPEG")
    note = Note("Kitchen", "", "the <old> range\nstays", ("range.jpg",), True)
    change_note(house, Note("Kitchen"), note, [("range.jpg", jpeg.getvalue())])
    page = begun(offline(), (house, share_page(house, tmp_path / "page.html", ["measured"])), alternative="")
    page.get_by_label("Room", exact=True).select_option("Kitchen")
    assert page.locator("#notes p").all_inner_texts() == ["the <old> range", "stays"]
    page.get_by_text("measured by how much of your walls it takes").wait_for()  # of one alternative too
    photograph = page.get_by_role("img", name="Photograph of Kitchen")
    assert photograph.evaluate("each => each.decode().then(() => each.naturalWidth)") == 400
    page.get_by_label("Room", exact=True).select_option("Library")
    assert page.locator("#notes").inner_text() == ""


def test_several_answers_are_told_one_by_one_and_never_summed(offline, sent):
    page = begun(offline(), sent)
    for room in (ROOM, "Library"):
        page.get_by_label("Room", exact=True).select_option(room)
        page.get_by_label("A little richer").check()
    said = page.locator("#said").inner_text()
    assert "Each line says what that answer does by itself." in said and "Bert looks at them together" in said
    for room in (ROOM, "Library"):
        assert told(sent, room, "more")["cost"] in page.locator("#said li").filter(has_text=f"{room}:").inner_text()


def test_the_file_that_comes_back_is_added_once(offline, sent, tmp_path):
    house, shared = sent
    page = begun(offline(), sent)
    page.get_by_label("Room", exact=True).select_option(ROOM)
    page.get_by_label("A little richer").check()
    page.get_by_label("Anything to add?").fill('books, née 🙂 "<b>"\n\u2028 \\')
    page.get_by_role("radio", name="Formal").check()
    page.get_by_label("Room", exact=True).select_option("Library")
    page.get_by_label("Anything to add?").fill("only words")
    file = saved(page, tmp_path)
    assert file.suffix == ".json" and "Ada-Bell" in file.name
    assert "Ada Bell: 2 added to the record" in added(house, file)
    assert "0 added to the record, 2 there already" in added(house, file)
    by_room = {(a.alternative, a.room): a for a in read_record(house).answers}
    first = by_room["measured", ROOM]
    assert (first.who, first.answer, first.sent) == ("Ada Bell", "more", shared.sending.id)
    assert first.remark == 'books, née 🙂 "<b>"\n\u2028 \\'
    assert first.fingerprint == shared.sending.alternatives["measured"].fingerprint
    assert (by_room["formal", "Library"].answer, by_room["formal", "Library"].remark) == ("", "only words")

    page.get_by_role("radio", name="Measured").check()
    page.get_by_label("Room", exact=True).select_option(ROOM)
    page.get_by_label("Keep it").check()
    assert "1 added to the record, 1 there already" in added(house, saved(page, tmp_path))
    said = [a.answer for a in read_record(house).answers if a.room == ROOM]
    assert said == ["more", "keep"]


def test_what_is_in_a_file_already_is_taken_back_by_the_next(offline, sent, tmp_path):
    page = begun(offline(), sent, "Jo")
    page.get_by_label("Room", exact=True).select_option("Library")
    page.get_by_label("Anything to add?").fill("we read")
    page.get_by_label("Room", exact=True).select_option(ROOM)
    page.get_by_label("A little richer").check()
    assert "Jo: 2 added" in added(sent[0], saved(page, tmp_path))
    page.get_by_role("button", name="Take this answer back").click()
    assert page.get_by_role("button", name="Take this answer back").is_hidden()
    assert f"{ROOM}: taken back." in page.locator("#said").inner_text()
    page.get_by_label("Room", exact=True).select_option("Library")
    page.get_by_label("Anything to add?").fill("")
    page.reload()
    assert "Library: taken back." in page.locator("#said").inner_text()
    assert "Jo: 2 added" in added(sent[0], saved(page, tmp_path))
    said = [(a.room, a.takes_back) for a in read_record(sent[0]).answers if a.who == "Jo"]
    assert sorted(said) == [("Library", False), ("Library", True), (ROOM, False), (ROOM, True)]
    page.get_by_label("Keep it").check()
    assert "Library: keep it." in page.locator("#said").inner_text()
    page.get_by_role("button", name="Take this answer back").click()
    assert "Library: taken back." in page.locator("#said").inner_text()


def test_who_takes_another_name_says_it_all_anew(offline, sent, tmp_path):
    page = begun(offline(), sent, "Kit")
    page.get_by_label("Room", exact=True).select_option("Kitchen")
    page.get_by_label("Keep it").check()
    assert "Kit: 1 added" in added(sent[0], saved(page, tmp_path))
    page.get_by_role("button", name="Change the name").click()
    page.get_by_role("button", name="Look at the house").click()
    assert "Kit: 0 added to the record, 1 there already" in added(sent[0], saved(page, tmp_path))
    page.get_by_role("button", name="Change the name").click()
    page.get_by_label("Your name").fill("Kit Dale")
    page.get_by_role("button", name="Look at the house").click()
    assert "In a file already" not in page.locator("#said").inner_text()
    assert "Kit Dale: 1 added" in added(sent[0], saved(page, tmp_path))
    said = [(a.who, a.room, a.answer) for a in read_record(sent[0]).answers]
    assert sorted(said) == [("Kit", "Kitchen", "keep"), ("Kit Dale", "Kitchen", "keep")]


REMARKS = [
    "".join(map(chr, range(0x20, 0x180))),
    "\t\u0085\u2028\u2029\ufeff\u200f\u202e end",
    "\x01\x1f\x7f\x00 end",
    '{"a": "\\u0041"} \\ / \' </script>',
    "🙂" * 1000,
]
"""Words that are written one way in one kind of JSON and another way in another."""


def test_any_words_come_back_as_they_were_written(offline, sent, tmp_path):
    page = begun(offline(), sent, "Ida")
    for room, remark in zip(sent[1].sending.rooms[3:], REMARKS, strict=False):
        page.evaluate("([room, remark]) => kept.say('easy', room, { remark })", [room, remark])
    page.evaluate("room => kept.say('easy', room, { remark: 'half \\ud800 of one' })", sent[1].sending.rooms[1])
    page.reload()
    assert "Ida: 6 added to the record" in added(sent[0], saved(page, tmp_path))
    said = {a.remark for a in read_record(sent[0]).answers if a.who == "Ida"}
    assert said == {*(remark.strip() for remark in REMARKS), "half \ufffd of one"}


def test_a_file_that_was_doctored_is_refused(offline, sent, tmp_path):
    page = begun(offline(), sent, "Eve")
    page.get_by_label("Room", exact=True).select_option("Kitchen")
    page.get_by_label("Keep it").check()
    file = saved(page, tmp_path)
    file.write_text(file.read_text("utf-8").replace("keep", "less"), "utf-8")
    found = CliRunner().invoke(main, ["reviews", "add", str(sent[0]), str(file)])
    assert found.exit_code == 2 and "does not go with what the file says" in found.output
    assert not any(a.who == "Eve" for a in read_record(sent[0]).answers)


def test_the_text_to_copy_is_the_file_too(offline, sent, tmp_path):
    page = begun(offline(), sent, "Cy")
    page.get_by_label("Room", exact=True).select_option("Kitchen")
    page.get_by_label("Keep it").check()
    page.get_by_text("No file appears?").click()
    file = tmp_path / "pasted.json"
    page.wait_for_function("document.getElementById('text').value")
    file.write_text(page.locator("#text").input_value(), "utf-8")
    assert "Cy: 1 added to the record" in added(sent[0], file)
    page.context.grant_permissions(["clipboard-read", "clipboard-write"])
    page.get_by_role("button", name="Copy the text").click()
    page.get_by_text("Copied. Paste it into a message to Bert.").wait_for()
    assert page.evaluate("navigator.clipboard.readText()") == page.locator("#text").input_value()


def test_the_name_can_be_changed_and_the_walk_goes_back(offline, sent):
    page = begun(offline(), sent, "Cy")
    page.get_by_role("button", name="Change the name").click()
    assert page.get_by_label("Your name").input_value() == "Cy"
    page.get_by_label("Your name").fill("Cy Dale")
    page.get_by_role("button", name="Look at the house").click()
    assert page.locator("#called").inner_text() == "You are Cy Dale."
    first = page.locator("#room-head").inner_text()
    page.get_by_role("button", name="Next room").click()
    page.get_by_role("button", name="Room before").click()
    assert page.locator("#room-head").inner_text() == first
    page.get_by_role("button", name="Room before").click()
    last = page.locator("#rooms option").last.inner_text()
    assert page.locator("#room-head").inner_text() == last


def test_a_page_that_is_loaded_again_has_lost_nothing(offline, sent):
    page = begun(offline(), sent)
    page.get_by_label("Room", exact=True).select_option(ROOM)
    page.get_by_label("A little plainer").check()
    page.get_by_label("Anything to add?").fill("half a sent")
    page.reload()
    page.get_by_text("You are Ada Bell.").wait_for()
    page.get_by_role("heading", name=ROOM, exact=True).wait_for()
    assert page.get_by_label("A little plainer").is_checked()
    assert page.get_by_label("Anything to add?").input_value() == "half a sent"
    page.get_by_role("button", name="Take this answer back").click()
    page.reload()
    assert "not said anything yet" in page.locator("#said").inner_text()


def test_a_browser_that_keeps_nothing_says_so_and_the_answers_still_come_back(offline, sent, tmp_path):
    page = offline()
    page.add_init_script("Object.defineProperty(window, 'localStorage', { get() { throw new Error('denied'); } })")
    begun(page, sent, "Dot")
    page.get_by_label("Room", exact=True).select_option("Kitchen")
    page.get_by_label("Keep it").check()
    assert "keeps nothing" in page.locator("#where").inner_text()
    assert "Dot: 1 added to the record" in added(sent[0], saved(page, tmp_path))


def test_two_windows_have_the_same_answers(offline, sent):
    page = begun(offline(), sent)
    other = page.context.new_page()
    other.goto(sent[1].file.as_uri())
    other.get_by_label("Room", exact=True).select_option("Kitchen")
    page.get_by_label("Room", exact=True).select_option(ROOM)
    page.get_by_label("A little richer").check()
    other.locator("#said li").filter(has_text=ROOM).wait_for()
    assert other.locator("#room-head").inner_text() == "Kitchen"
    other.get_by_label("Keep it").check()
    page.locator("#said li").filter(has_text="Kitchen").wait_for()
    assert page.locator("#said li").count() == 2


def test_what_is_kept_and_no_answer_is_passed_over(offline, sent):
    page = begun(offline(), sent)
    torn = [None, {"room": "Kitchen"}, {"alternative": "easy", "room": "Moat", "id": "", "time": "", "answer": ""}]
    here = {"alternative": page.evaluate("kept.alternative"), "room": "Kitchen", "id": "", "time": "", "answer": ""}
    torn.append({**here, "remark": "", "wishes": [None]})
    found = {"name": "Ada Bell", "room": "Moat", "alternative": 7, "sent": 3, "answers": torn}
    page.evaluate("found => localStorage.setItem(kept.place, JSON.stringify(found))", found)
    page.reload()
    assert "not said anything yet" in page.locator("#said").inner_text()
    assert page.locator("#room-head").inner_text() == "Entry Hall"


def test_rooms_are_called_what_they_are_called(offline, tmp_path):
    house = shutil.copytree(demo_house(), tmp_path / "house")
    names = {"Stair Hall": "__proto__", "Upper Hall": "constructor", "Library": '<img src=x onerror="alert(1)">'}
    for old, new in names.items():
        rename_room(house, old, new)
    shared = share_page(house, tmp_path / "page.html", ["measured"], "<b>Bert</b>")
    page = begun(offline(), (house, shared), "<i>Ada</i>", alternative="")
    for name in names.values():
        page.get_by_label("Room", exact=True).select_option(name)
        assert page.locator("#room-head").inner_text() == name
        page.get_by_label("A little richer").check()
        assert page.locator("#moves li").first.inner_text().startswith(f"{name}:")
    assert page.locator("main b, main i").filter(has_text="Bert").count() == 0
    assert page.locator('img[src="x"]').count() == 0
    assert "<i>Ada</i>: 3 added to the record" in added(house, saved(page, tmp_path))


def test_on_a_phone_by_touch(offline, sent):
    page = begun(offline(390, has_touch=True, is_mobile=True), sent)
    on_plan(page, "Library").tap()
    page.get_by_role("heading", name="Library", exact=True).wait_for()
    page.get_by_text("A little richer").tap()
    does = told(sent, "Library", "more")
    assert page.locator("#map .narrow polygon.moved").count() == len(does["moves"])
    page.get_by_role("button", name="Next room").tap()
    assert page.locator("#room-head").inner_text() != "Library"
    assert page.evaluate("document.documentElement.scrollWidth") == 390
    small = page.evaluate(
        "[...document.querySelectorAll('main button, main select, main label.choice')]"
        ".filter(e => e.offsetParent && e.getBoundingClientRect().height < 24).map(e => e.textContent)"
    )
    assert small == []


def test_what_is_saved_is_told_where_the_thumb_is(offline, sent, tmp_path):
    page = begun(offline(390, has_touch=True, is_mobile=True), sent)
    for _ in range(12):
        page.get_by_role("radio", name="Keep it").tap()
        page.get_by_role("button", name="Next room").tap()
    save = page.get_by_role("button", name="Save my answers")
    save.scroll_into_view_if_needed()
    before = save.bounding_box()["y"]
    saved(page, tmp_path)
    assert page.get_by_text("In a file already.").count() == 12
    assert abs(save.bounding_box()["y"] - before) < 2
    assert before < page.get_by_text("Saved as").bounding_box()["y"] < 900


def test_by_keys_alone(offline, sent, tmp_path):
    page = offline()
    page.goto(sent[1].file.as_uri())
    keys = page.keyboard
    keys.type("Flo Key")
    keys.press("Enter")
    _tab_to(page, "input[name=alternative]")
    keys.press("ArrowDown")
    keys.press("ArrowDown")
    assert page.get_by_role("radio", name="Measured").is_checked()
    _tab_to(page, "polygon.room")
    before = page.evaluate("document.activeElement.getAttribute('aria-label')")
    keys.press("ArrowUp")
    there = page.evaluate("document.activeElement.getAttribute('aria-label')")
    assert there != before
    keys.press("Enter")
    assert page.locator("#room-head").inner_text() == there.split(",")[0]
    assert page.evaluate("document.activeElement.getAttribute('aria-label')") == there
    _tab_to(page, "#rooms")
    keys.type("Kitchen")
    page.get_by_role("heading", name="Kitchen", exact=True).wait_for()
    _tab_to(page, "input[name=answer]")
    keys.press("Space")
    assert page.get_by_label("Keep it").is_checked()
    _tab_to(page, "#save")
    with page.expect_download() as given:
        keys.press("Enter")
    given.value.save_as(tmp_path / "answers.json")
    assert "Flo Key: 1 added to the record" in added(sent[0], tmp_path / "answers.json")


def _tab_to(page, selector):
    """Go on by the tab key until something has the focus."""
    for _ in range(60):
        page.keyboard.press("Tab")
        if page.evaluate("wanted => document.activeElement.matches(wanted)", selector):
            return
    raise AssertionError(f"{selector} is not reached by keys")


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [1440, 390])
def test_no_view_breaks_a_serious_rule(chromium, sent, width, scheme):
    context = chromium.new_context(
        viewport={"width": width, "height": 900}, offline=True, color_scheme=scheme, bypass_csp=True
    )
    page = context.new_page()
    page.goto(sent[1].file.as_uri())
    page.evaluate(SCRIPT)
    found = {"asked": violations(page)}
    begun(page, sent)
    page.get_by_label("Room", exact=True).select_option(ROOM)
    page.get_by_label("A little richer").check()
    page.get_by_text("No file appears?").click()
    page.evaluate(SCRIPT)
    found["answered"] = violations(page)
    context.close()
    assert found == {"asked": [], "answered": []}


def test_it_is_printed_without_controls_on_light_paper(offline, sent):
    page = begun(offline(color_scheme="dark"), sent)
    page.emulate_media(media="print")
    shown = page.evaluate(
        "[...document.querySelectorAll('button, select, textarea, input')].filter(e => e.offsetParent).map(e => e.type)"
    )
    assert shown == []
    assert page.evaluate("getComputedStyle(document.documentElement).backgroundColor") == "rgb(253, 252, 249)"
