"""Notes in the app: kept, shown, removed and put back, and never lost to a bad file, a full disk or somebody else."""

import random
from io import BytesIO
from pathlib import Path
from types import SimpleNamespace

import pytest
from PIL import Image

from planner import read_house, rename_room
from planner.apps import notes
from planner.apps.client import room as asked
from planner.apps.panels import notes as panel
from planner.apps.screen import WIDE_CHART
from planner.apps.typed import Typed
from planner.house.notes import FOLDER, Note, change_note, read_notes
from tests.house.conftest import state


def photograph(color="green", kind="JPEG"):
    out = BytesIO()
    Image.new("RGB", (800, 400), color).save(out, kind)
    return out.getvalue()


@pytest.fixture
def page(folder):
    """One page's notes: what it shows of a room anew each time, and how often it was told to."""
    house, typed, told = read_house(folder)[0], Typed(), []

    def noting(room="Library"):
        return panel.noting(folder, house, room, typed, {"noted": told.append})

    return SimpleNamespace(noting=noting, house=house, typed=typed, told=told, folder=folder)


def uploaded(noting, *files):
    """Files as the browser hands them over."""
    import base64

    noting.upload._update([[name, base64.b64encode(data).decode()] for name, data in files])


def of(page, room="Library", opening=""):
    return read_notes(page.folder, page.house)[0].get((room, opening))


def test_words_are_kept_when_they_are_saved_and_wait_until_then(page):
    page.noting().words._update("Shelves are pi")
    assert page.noting("Kitchen").words.value == "" and of(page) is None
    again = page.noting()
    assert again.words.value == "Shelves are pi"
    again.words._update("Shelves are pine.")
    again.save._update(1)
    assert of(page) == Note("Library", words="Shelves are pine.") and page.told
    shown = page.noting()
    assert (shown.said, shown.refused, shown.words.value) == ("The note is saved.", False, "Shelves are pine.")
    assert page.noting().said == ""


def test_a_note_of_an_opening_is_its_own(page):
    page.noting().about._update(["Library window 1"])
    shown = page.noting()
    assert shown.note == Note("Library", "Library window 1")
    shown.words._update("Sash sticks.")
    shown.save._update(1)
    assert of(page, opening="Library window 1").words == "Sash sticks." and of(page) is None
    assert page.noting("Kitchen").note == Note("Kitchen")


def test_photographs_are_added_shown_beside_the_wall_removed_and_put_back(page, planned):
    uploaded(page.noting(), ("IMG 1.JPG", photograph()), ("b.webp", photograph("red", "WEBP")))
    shown = page.noting()
    assert shown.note.pictures == ("library-1.jpg", "library-2.jpg") and shown.said == "2 photographs added."
    text = panel.view(shown, planned, False).text
    assert text.count("data:image/jpeg;base64,") == 3 and "Planned: wall" in text and "<svg" in text
    before = state(page.folder)
    shown.remove["library-1.jpg"]._update(1)
    shown = page.noting()
    assert shown.note.pictures == ("library-2.jpg",) and not (page.folder / FOLDER / "library-1.jpg").exists()
    shown.back._update(1)
    assert state(page.folder) == before and page.noting().back is None


def test_the_client_is_shown_only_what_is_marked(page, planned):
    change_note(page.folder, Note("Library"), Note("Library", words="Cold in winter."), [("a", photograph())])
    assert notes.room(page.folder, page.house, "Library", client=True) == ""
    page.noting().for_client._update(True)
    shown = notes.room(page.folder, page.house, "Library", client=True)
    assert "Cold in winter." in shown and "data:image/jpeg" in shown
    pictures = asked.pictures(planned, "Library", dark=False, width=WIDE_CHART)
    buttons = asked.answer_buttons(pictures.walls, lambda _: None)
    question = asked.question(page.folder, planned, "Library", pictures, buttons, [], page.noting().words)
    assert "Cold in winter." in question.text
    page.noting().for_client._update(False)
    assert notes.room(page.folder, page.house, "Library", client=True) == ""


def test_what_is_marked_before_it_is_written_is_marked_when_it_is(page):
    page.noting().for_client._update(True)
    assert of(page) is None
    shown = page.noting()
    shown.words._update("Sunny.")
    shown.save._update(1)
    assert of(page).for_client


def test_somebody_else_s_note_is_not_written_over_unasked(page):
    mine = page.noting()
    mine.words._update("mine")
    change_note(page.folder, Note("Library"), Note("Library", words="theirs"))
    mine.save._update(1)
    shown = page.noting()
    assert shown.refused and "somebody else has changed this note" in shown.said
    assert shown.words.value == "mine" and "theirs" in shown.found[0].note.words
    shown.save._update(2)
    assert of(page).words == "mine"


def test_a_full_disk_is_told_and_the_words_stay(page, full_disk):
    shown = page.noting()
    shown.words._update("Plaster is sound.")
    with full_disk():
        shown.save._update(1)
    again = page.noting()
    assert again.refused and "No space left on device" in again.said and again.words.value == "Plaster is sound."
    assert of(page) is None
    again.save._update(1)
    assert of(page).words == "Plaster is sound."


def test_one_bad_file_keeps_its_neighbours_out_and_is_named(page):
    before = state(page.folder)
    uploaded(page.noting(), ("good.jpg", photograph()), ("<b>bad.jpg", b"bad"))
    shown = page.noting()
    assert state(page.folder) == before and shown.refused
    assert shown.said == (
        'Nothing was changed. "<b>bad.jpg": is no picture that can be read; give a photograph as JPEG, PNG or WebP'
    )
    assert "<b>bad" not in panel.view(shown, None, False).text


@pytest.mark.parametrize("number", range(0, 200, 4))
def test_hostile_files_under_hostile_names_write_nothing(page, number):
    chance = random.Random(number)
    whole = photograph(kind=chance.choice(["JPEG", "PNG", "WEBP"]))
    data = chance.choice([b"", chance.randbytes(500), whole[: chance.randrange(len(whole) // 2)], b"<svg/>", bytes(5)])
    name = chance.choice(["../../x.jpg", "a\0b.png", "\u202egpj.exe", "x" * 5000, "", "con.jpg", "/etc/passwd", "a\nb"])
    before = state(page.folder)
    uploaded(page.noting(), (name, data))
    shown = page.noting()
    assert shown.refused and "\n" not in shown.said and len(shown.said) < 400
    assert state(page.folder) == before


def test_words_are_shown_as_they_are(page, planned):
    change_note(
        page.folder, Note("Library"), Note("Library", words="<script>alert(1)</script>\nsecond", for_client=True)
    )
    text = notes.room(page.folder, page.house, "Library", client=True)
    assert "<script" not in text and "&lt;script&gt;" in text and text.count("<p>") == 2


def test_notes_that_cannot_be_read_are_told_where_they_would_stand(page):
    (page.folder / FOLDER).mkdir()
    (page.folder / FOLDER / "notes.csv").write_text("room,note\nLibary,cold\n")
    assert "there is no room" in panel.view(page.noting(), None, False).text
    (page.folder / FOLDER / "notes.csv").write_text("room,note,pictures\nLibrary,cold,gone.jpg\n")
    shown = page.noting()
    assert "cannot be read" in panel.view(shown, None, False).text
    shown.remove["gone.jpg"]._update(1)
    assert of(page) == Note("Library", words="cold") and page.noting().back is None


def test_a_house_folder_that_is_gone_is_told(page):
    Path(page.folder).rename(page.folder.with_name("moved"))
    shown = page.noting()
    assert shown.note == Note("Library")


def test_what_is_being_written_of_a_room_goes_with_it_to_its_new_name(page):
    page.noting().words._update("Shelves are pi")
    page.noting("Kitchen").words._update("The range")
    rename_room(page.folder, "Library", "Book Room")
    house = read_house(page.folder)[0]
    words = {
        room: panel.noting(page.folder, house, room, page.typed, {"noted": page.told.append}).words.value
        for room in ("Book Room", "Kitchen")
    }
    assert words == {"Book Room": "Shelves are pi", "Kitchen": "The range"}
