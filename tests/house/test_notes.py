"""Notes with photographs: read with every fault told, changed all or none, and followed when a room is renamed."""

import errno
import shutil
from dataclasses import replace
from io import BytesIO

import pytest
from PIL import Image

from planner import read_house, rename_room
from planner.files.problems import HouseFault
from planner.files.storage import Overtaken, settled
from planner.house.notes import (
    FOLDER,
    LONGEST_NOTE,
    MOST_PICTURES,
    NOTES,
    Note,
    change_note,
    note_faults,
    read_notes,
    small_picture,
)
from tests.files.dying import failing_at, killed_at, moments
from tests.house.conftest import state

WORDS = 'Plaster is sound, "mostly".\n\n- crown, later\n- base, original'


def photograph(size=(2000, 1000), color="green"):
    out = BytesIO()
    Image.new("RGB", size, color).save(out, "JPEG")
    return out.getvalue()


@pytest.fixture
def house(folder):
    return read_house(folder)[0]


def written(folder, *rows, header="room,opening,note,pictures,for client"):
    (folder / FOLDER).mkdir(exist_ok=True)
    (folder / NOTES).write_text("\n".join((header, *rows)) + "\n", "utf-8")


def told(folder, house):
    return [str(problem) for problem in note_faults(folder, house)]


def test_a_house_without_notes_has_none_and_no_faults(folder, house):
    before = state(folder)
    assert read_notes(folder, house) == ({}, ()) and told(folder, house) == []
    assert state(folder) == before


def test_a_note_with_pictures_is_read_as_it_was_written(folder, house):
    note, removed = change_note(
        folder, Note("Lobby"), Note("Lobby", words=WORDS), [("IMG 1.JPG", photograph()), ("b.png", photograph())]
    )
    assert note.pictures == ("lobby-1.jpg", "lobby-2.jpg") and removed == {}
    assert read_notes(folder, house) == ({("Lobby", ""): note}, ()) and told(folder, house) == []
    with Image.open(folder / FOLDER / "lobby-1.jpg") as image:
        assert image.size == (1600, 800)
    with Image.open(BytesIO(small_picture(folder, "lobby-1.jpg", 320))) as image:
        assert image.size == (320, 160)


def test_a_room_and_its_openings_have_notes_of_their_own_and_others_stay(folder, house):
    written(folder, 'Kitchen,,"as found, 1988",,yes')
    change_note(folder, Note("Lobby", "D2"), Note("Lobby", "D2", "Door is swollen."), [("a.jpg", photograph())])
    change_note(folder, Note("Lobby"), Note("Lobby", words="Cold."))
    notes, faults = read_notes(folder, house)
    assert not faults and notes["Lobby", "D2"].pictures == ("lobby_d2-1.jpg",)
    assert notes["Kitchen", ""] == Note("Kitchen", "", "as found, 1988", (), True)
    assert list(notes) == [("Kitchen", ""), ("Lobby", "D2"), ("Lobby", "")]


def test_a_note_that_says_nothing_any_more_is_gone_with_its_pictures(folder, house):
    note, _ = change_note(folder, Note("Lobby"), Note("Lobby", words=WORDS), [("a", photograph())])
    _, removed = change_note(folder, note, Note("Lobby"))
    assert list(removed) == ["lobby-1.jpg"] and read_notes(folder, house) == ({}, ())
    assert not (folder / FOLDER / "lobby-1.jpg").exists()


def test_a_picture_that_was_removed_is_put_back_to_the_byte(folder):
    note, _ = change_note(folder, Note("Lobby"), Note("Lobby"), [("a", photograph()), ("b", photograph(color="red"))])
    before = state(folder)
    shorter, removed = change_note(folder, note, replace(note, pictures=note.pictures[1:]))
    assert change_note(folder, shorter, note, back=removed)[0] == note
    assert state(folder) == before


def test_a_picture_that_another_note_shows_too_is_not_taken_from_it(folder, house):
    note, _ = change_note(folder, Note("Lobby"), Note("Lobby"), [("a", photograph())])
    change_note(folder, Note("Kitchen"), Note("Kitchen", pictures=note.pictures))
    _, removed = change_note(folder, note, Note("Lobby"))
    assert removed == {} and told(folder, house) == []


def test_what_somebody_else_has_written_meanwhile_is_not_passed_over(folder):
    change_note(folder, Note("Lobby"), Note("Lobby", words="theirs"))
    before = state(folder)
    with pytest.raises(Overtaken):
        change_note(folder, Note("Lobby"), Note("Lobby", words="mine"), [("a", photograph())])
    assert state(folder) == before


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ("Lobbi,,a,,", 'notes/notes.csv row 2, room: there is no room "Lobbi"; write "Lobby"'),
        (",,a,,", "notes/notes.csv row 2, room: is blank; write the room, e.g. Parlor"),
        ("Lobby,D3,a,,", 'row 2, opening: "Lobby" has no opening "D3"; write one of "Front door", "D1"'),
        ("Lobby,,a,,maybe", 'row 2, for client: "maybe" is neither yes nor no; write yes or no'),
        ("Lobby,,a,../house.toml,", 'row 2, pictures: "../house.toml" is no name of a picture'),
        ("Lobby,,a,/etc/passwd.jpg,", 'row 2, pictures: "/etc/passwd.jpg" is no name of a picture'),
        ("Lobby,,a,hall.heic,", 'row 2, pictures: "hall.heic" is no name of a picture'),
        ("Lobby,,a,gone.jpg,", "notes/gone.jpg: is missing; put it there, or take its name out of notes/notes.csv"),
        ("Lobby,,a,a,b,c", "notes/notes.csv row 2: has 6 cells under 5 columns"),
        (f"Lobby,,{'x' * (LONGEST_NOTE + 1)},,", "row 2, note: has 10,001 characters; keep it to 10,000"),
        (f"Lobby,,,{'; '.join(['a.jpg'] * (MOST_PICTURES + 1))},", "row 2, pictures: there are 25; keep them to 24"),
    ],
)
def test_each_fault_is_told_by_its_place(folder, house, row, said):
    written(folder, row)
    assert any(said in line for line in told(folder, house)), told(folder, house)


def test_a_folder_of_notes_that_cannot_be_read_is_told_once(folder, house):
    shutil.rmtree(folder / FOLDER, ignore_errors=True)
    (folder / FOLDER).write_text("in its place")
    (fault,) = told(folder, house)
    assert fault.startswith("notes: cannot be read (Not a directory)")


def test_pictures_that_cannot_be_read_are_too_large_or_are_named_by_nobody_are_told(folder, house):
    written(folder, "Lobby,,,torn.jpg; vast.png; sound.webp,")
    (folder / FOLDER / "torn.jpg").write_bytes(photograph()[:900])
    with (folder / FOLDER / "vast.png").open("wb") as file:
        file.truncate(20_000_001)
    (folder / FOLDER / "sound.webp").write_bytes(photograph())
    (folder / FOLDER / "left.jpeg").write_bytes(photograph())
    (folder / FOLDER / "LOUD.JPG").write_bytes(photograph())
    (folder / FOLDER / "words.txt").write_text("beside them")
    assert told(folder, house) == [
        "notes/torn.jpg: is no picture that can be read; give a photograph as JPEG, PNG or WebP",
        "notes/vast.png: is larger than 20 MB; keep it under 20 MB",
        "notes/LOUD.JPG: is named by no note; name it in notes/notes.csv, or remove it",
        "notes/left.jpeg: is named by no note; name it in notes/notes.csv, or remove it",
    ]


def test_two_notes_on_one_place_are_told_and_neither_is_written_over(folder, house):
    written(folder, "Lobby,,a,,", "Lobby,,b,,")
    assert 'row 3, room: "Lobby" has a note already, in row 2' in told(folder, house)[0]
    before = state(folder)
    with pytest.raises(HouseFault, match="has a note already"):
        change_note(folder, read_notes(folder)[0]["Lobby", ""], Note("Lobby", words="c"))
    assert state(folder) == before


@pytest.mark.parametrize("text", ["room;opening;note\n", "room,opening,note,pictures,for client,more\nLobby,,a,,,b\n"])
def test_a_table_that_cannot_be_changed_without_a_loss_is_left_as_it_is(folder, text):
    (folder / FOLDER).mkdir()
    (folder / NOTES).write_text(text)
    with pytest.raises(HouseFault):
        change_note(folder, Note("Lobby"), Note("Lobby", words="c"))
    assert (folder / NOTES).read_text() == text


@pytest.mark.parametrize(
    ("after", "added", "said"),
    [
        (Note("Lobby", words="x" * (LONGEST_NOTE + 1)), [], "has 10,001 characters"),
        (Note("Lobby", words="a\0b"), [], "no text"),
        (Note("Lobby", words="a\ud800b"), [], "no text"),
        (Note("Lobby"), [("a.jpg", b"")] * (MOST_PICTURES + 1), "has 25 pictures"),
        (Note("Lobby", words="c"), [("good.jpg", photograph()), ("bad.jpg", b"bad")], '"bad.jpg": is no picture'),
    ],
)
def test_what_cannot_be_kept_whole_is_not_kept_in_part(folder, after, added, said):
    before = state(folder)
    with pytest.raises(HouseFault, match=said):
        change_note(folder, Note("Lobby"), after, added)
    assert state(folder) == before


def test_a_renamed_room_keeps_its_note(folder):
    note, _ = change_note(folder, Note("Lobby", "D2"), Note("Lobby", "D2", "Swollen."), [("a", photograph())])
    rename_room(folder, "Lobby", "Porch")
    house, _ = read_house(folder)
    assert read_notes(folder, house) == ({("Porch", "D2"): replace(note, room="Porch")}, ())


def test_a_writer_killed_at_any_moment_leaves_a_note_with_its_pictures_or_none_of_both(folder, tmp_path):
    small = photograph((20, 10))

    def act(to):
        change_note(to, Note("Lobby"), Note("Lobby", words="Cold."), [("a", small), ("b", small)])

    blank = state(folder)
    total = moments(lambda: act(shutil.copytree(folder, tmp_path / "counted")))
    whole, found = state(tmp_path / "counted"), set()
    assert total > 100
    for moment in range(0, total, 7):
        struck = shutil.copytree(folder, tmp_path / str(moment))
        killed_at(moment, lambda to=struck: act(to))
        with settled(struck):
            now = state(struck)
        assert {k: v for k, v in now.items() if k != FOLDER} == blank or now == whole
        found.add(NOTES in now)
    assert found == {True, False}


def test_a_full_disk_is_told_and_leaves_all_as_it_was(folder, tmp_path):
    act = [Note("Lobby"), Note("Lobby", words="Cold."), [("a", photograph((20, 10)))]]
    total = moments(lambda: change_note(shutil.copytree(folder, tmp_path / "counted"), *act))
    refused = 0
    for moment in range(0, total, 9):
        struck = shutil.copytree(folder, tmp_path / str(moment))
        try:
            failing_at(moment, lambda to=struck: change_note(to, *act), errno.ENOSPC)
        except HouseFault as fault:
            refused += 1
            assert "No space left on device" in str(fault)
            with settled(struck):
                assert (NOTES in state(struck)) == ("lobby-1.jpg" in {p.name for p in struck.rglob("*")})
    assert refused > 5
