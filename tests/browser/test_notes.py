"""Notes and photographs in a real browser: written, shown, removed, put back, and shown to the client when marked."""

from io import BytesIO

from PIL import Image, ImageDraw

from planner import read_house
from planner.house.notes import FOLDER, Note, read_notes
from tests.browser.driving import opened, tab, until


def photograph(size=(2400, 1600)):
    image = Image.new("RGB", size, "#d8cfc0")
    draw = ImageDraw.Draw(image)
    draw.rectangle((size[0] * 0.1, size[1] * 0.2, size[0] * 0.4, size[1] * 0.9), "#7a5c3e")
    draw.rectangle((0, size[1] * 0.92, *size), "#8a8f98")
    out = BytesIO()
    image.save(out, "JPEG")
    return out.getvalue()


def files(*named):
    return [{"name": name, "mimeType": "image/jpeg", "buffer": data} for name, data in named]


def room(page, name):
    """The field for the note on a room, once the tab of one room shows that room."""
    tab(page, "One room")
    page.get_by_label("Note on ").wait_for()
    page.wait_for_load_state("networkidle")
    page.get_by_label("Room", exact=True).select_option(name)
    field = page.get_by_label(f"Note on {name}", exact=True)
    field.wait_for()
    return field


def noted(folder, place=("Library", "")):
    return read_notes(folder, read_house(folder)[0])[0].get(place, Note(*place))


def test_a_note_with_photographs_is_made_and_one_is_removed_and_put_back(serve, page, folder):
    opened(page, serve("design"))
    note = room(page, "Library")
    note.fill("Shelves are pine, painted.")
    note.blur()  # as a click on the button for photographs does
    page.locator("input[type=file]").set_input_files(files(("IMG 1.JPG", photograph()), ("IMG 2.JPG", photograph())))
    page.get_by_text("2 photographs added.").wait_for()
    assert note.input_value() == "Shelves are pine, painted."
    page.get_by_role("button", name="Save the note").click()
    page.get_by_text("The note is saved.").wait_for()
    assert noted(folder) == Note("Library", "", "Shelves are pine, painted.", ("library-1.jpg", "library-2.jpg"))
    page.get_by_role("figure").filter(has_text="Planned: wall").locator("svg").first.wait_for()
    shown = page.get_by_role("img", name="Photograph of Library: library-1.jpg")
    assert shown.first.evaluate("e => e.complete && e.naturalWidth") == 640
    page.get_by_role("row", name="library-1.jpg").get_by_role("button", name="Remove").click()
    page.get_by_text("library-1.jpg is removed.").wait_for()
    assert not (folder / FOLDER / "library-1.jpg").exists()
    page.get_by_role("button", name="Undo the removal").click()
    page.get_by_text("It is back.").wait_for()
    assert noted(folder).pictures == ("library-1.jpg", "library-2.jpg") and (folder / FOLDER / "library-1.jpg").exists()
    tab(page, "Walls")
    page.get_by_role("region", name="What is there today").get_by_text("Shelves are pine, painted.").wait_for()


def test_a_note_is_about_an_opening_of_the_room(serve, page, folder):
    opened(page, serve("design"))
    room(page, "Entry Hall")
    page.get_by_label("About", exact=True).select_option("Front door")
    note = page.get_by_label("Note on Front door", exact=True)
    note.fill("Binds at the head.")
    note.blur()
    page.get_by_role("button", name="Save the note").click()
    page.get_by_text("The note is saved.").wait_for()
    assert noted(folder, ("Entry Hall", "Front door")).words == "Binds at the head."
    page.get_by_label("About", exact=True).select_option("the room itself")
    until(page, lambda: page.get_by_label("Note on Entry Hall", exact=True).input_value() == "")
    page.get_by_text("Binds at the head.").and_(page.locator(":not(textarea)")).wait_for()


def test_a_half_written_note_waits_with_its_room_whatever_is_looked_at(serve, page, folder):
    opened(page, serve("design"))
    room(page, "Library").fill("Half a no")
    tab(page, "Checks")
    other = room(page, "Kitchen")
    until(page, lambda: other.input_value() == "")
    note = room(page, "Library")
    until(page, lambda: note.input_value() == "Half a no")
    assert noted(folder) == Note("Library")


def test_a_file_that_is_no_photograph_is_told_beside_the_button_and_not_kept(serve, page, folder):
    opened(page, serve("design"))
    room(page, "Library")
    page.locator("input[type=file]").set_input_files(files(("hall.jpg", b"no picture")))
    told = page.get_by_text('Nothing was changed. "hall.jpg": is no picture that can be read')
    told.wait_for()
    assert not (folder / FOLDER).exists()


def test_the_client_sees_what_is_marked_for_the_client(serve, page, chromium, folder):
    opened(page, serve("design"))
    note = room(page, "Library")
    note.fill("Cold in winter.")
    note.blur()
    page.locator("input[type=file]").set_input_files(files(("a.jpg", photograph())))
    page.get_by_text("1 photograph added.").wait_for()
    page.get_by_role("button", name="Save the note").click()
    page.get_by_text("The note is saved.").wait_for()
    context = chromium.new_context(viewport={"width": 1440, "height": 1000})
    context.set_default_timeout(60_000)
    theirs, review = context.new_page(), serve("review")

    def asked():
        theirs.goto(review.url)
        theirs.get_by_label("Room", exact=True).wait_for()
        theirs.wait_for_load_state("networkidle")
        theirs.get_by_label("Room", exact=True).select_option("Library")
        theirs.get_by_role("heading", name="Library", exact=True, level=3).wait_for()

    asked()
    assert theirs.get_by_text("Cold in winter.").count() == 0
    page.get_by_label("For the client").click()
    page.get_by_text("The client is shown this note.").wait_for()
    asked()
    theirs.get_by_text("Cold in winter.").wait_for()
    assert theirs.get_by_role("img", name="Photograph of Library").evaluate("e => e.complete && e.naturalWidth") == 240
    context.close()
