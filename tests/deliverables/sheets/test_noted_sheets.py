"""What was noted of rooms and openings is on a paper, with its photographs beside the walls as planned."""

from datetime import date
from io import BytesIO

import pytest
from PIL import Image

from planner import deliver, demo_house
from planner.deliverables import room_notes as room_notes_
from planner.deliverables.papers import SIZES
from planner.deliverables.room_notes import best_wall, room_notes
from planner.deliverables.sheets import noted_sheets as made
from planner.deliverables.sheets.noted_sheets import noted_papers, noted_sheets
from planner.deliverables.sheets.sheet import Drawn, Words
from planner.house.notes import Note, change_note, read_notes
from tests.drawn import demo, frame, pages, stamp, texts

HOSTILE = "#x $1$ <b>\\ \"'&"


def jpeg(wide, high):
    held = BytesIO()
    Image.new("RGB", (wide, high), "#884422").save(held, "JPEG")
    return held.getvalue()


@pytest.fixture
def folder(tmp_path):
    """A house's notes: a room with three photographs, one of them upright, a fireplace with one, a room with none."""
    (tmp_path / "notes").mkdir()
    for name, size in {"one": (800, 600), "two": (600, 800), "three": (800, 600), "mantel": (500, 500)}.items():
        (tmp_path / "notes" / f"{name}.jpg").write_bytes(jpeg(*size))
    for note in (
        Note("Library", words=f"The cornice is whole.\n{HOSTILE}", pictures=("one.jpg", "two.jpg", "three.jpg")),
        Note("Drawing Room", "Drawing room fireplace", pictures=("mantel.jpg",)),
        Note("Kitchen", words="No photograph yet."),
    ):
        change_note(tmp_path, Note(*note.place), note)
    return tmp_path


def paper_of(folder, size="ANSI B"):
    (paper,) = noted_papers(demo(), stamp(demo()), SIZES[size], folder=folder)
    return paper


def noted(folder):
    return [each for room in demo().rooms for each in room_notes(folder, demo().house, room.room.name, 400)]


@pytest.mark.parametrize("size", list(SIZES))
def test_words_and_photographs_stand_under_the_place_that_they_are_of(folder, size):
    data = paper_of(folder, size).data
    said = "\n".join(texts(data))
    assert all(words in said for words in ("The cornice is whole.", HOSTILE, "No photograph yet."))
    lines = said.splitlines()
    places = [lines.index(words) for words in ("Drawing room fireplace, from Drawing Room", "Library", "Kitchen")]
    assert places == sorted(places)
    assert all(f"Today, {name}.jpg" in said for name in ("one", "mantel")) and "Library: two.jpg" in said
    shown = [picture for page in pages(data) for picture in page.images]
    assert sorted(round(p["width"] / p["height"], 2) for p in shown) == [0.75, 1.0, 1.33, 1.33]
    for page in pages(data):
        assert all(0 < p["x0"] < p["x1"] < page.width and 0 < p["top"] < p["bottom"] < page.height for p in page.images)


def test_a_wall_is_drawn_as_planned_at_the_scale_that_is_said(folder):
    (sheet,) = noted_sheets(demo(), noted(folder)[:1], frame())
    today, planned = (item for item in sheet.items if isinstance(item, Drawn))
    (said,) = (line for item in sheet.items if isinstance(item, Words) for line in item.lines if "As planned" in line)
    ratio = int(said.rpartition(": ")[2].rstrip(")"))
    layout = best_wall(demo().walls["Drawing Room"], "Drawing room fireplace")
    assert layout.length / ratio < planned.figure.width < layout.length / ratio * 1.15
    assert planned.x > today.x + today.figure.width and planned.x + planned.figure.width <= frame().across


def test_long_notes_go_over_sheets_and_lose_nothing(folder):
    lines = [f"Line {n} of what was seen" for n in range(400)]
    before = Note("Kitchen", words="No photograph yet.")
    change_note(folder, before, Note("Kitchen", words="\n".join(lines)[:10_000]))
    sheets = list(noted_sheets(demo(), noted(folder), frame()))
    found = [
        (line, item.y) for sheet in sheets for item in sheet.items if isinstance(item, Words) for line in item.lines
    ]
    assert [line for line, _ in found if line.startswith("Line ")] == "\n".join(lines)[:10_000].split("\n")
    assert len(sheets) > 3 and all(y < frame().down for _, y in found)
    assert sheets[1].title == f"What is there today, 2 of {len(sheets)}"


def test_what_finds_no_room_is_counted(folder, monkeypatch):
    monkeypatch.setattr(made, "MOST_PHOTOGRAPHS", 3)
    said = "\n".join(texts(paper_of(folder).data))
    assert "1 more photograph in the folder of notes found no room here." in said and "three.jpg" not in said


def test_notes_are_read_once_and_no_picture_beyond_those_that_find_room(folder, monkeypatch):
    opened, read = [], []
    monkeypatch.setattr(made, "MOST_PHOTOGRAPHS", 3)
    monkeypatch.setattr(room_notes_, "small_picture", lambda _, name, longest: opened.append(name) or jpeg(4, 3))
    monkeypatch.setattr(room_notes_, "read_notes", lambda *of: read.append(of) or read_notes(*of))
    room_notes_._small.cache_clear()
    assert paper_of(folder)
    assert opened == ["mantel.jpg", "one.jpg", "two.jpg"] and len(read) == 1


def test_a_house_without_notes_has_no_such_paper(folder, tmp_path):
    assert [*noted_papers(demo(), stamp(demo()), SIZES["A3"], folder=demo_house())] == []
    done = deliver(demo(), tmp_path / "out", date(2030, 1, 31), notes=folder)
    assert "notes.pdf" in {paper.name for paper in done.papers} and (tmp_path / "out" / "notes.pdf").is_file()
    again = deliver(demo(), tmp_path / "out", date(2030, 1, 31))
    assert "notes.pdf" not in {paper.name for paper in again.papers} and not (tmp_path / "out" / "notes.pdf").exists()
