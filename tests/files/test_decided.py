"""Nobody writes in a copy of what was decided, by whatever way."""

import shutil

import pytest

from planner import HouseFault, decide, demo_house, edits, new_house, plan, read_house, share_page
from planner.apps.desk import Desk
from planner.apps.drawing import Drawing
from planner.house.notes import Note, change_note
from planner.intent.sessions import Session
from planner.record.keeping import open_session, say
from tests.house.conftest import state


@pytest.fixture
def copy(tmp_path):
    """A house folder in which a decision is locked."""
    new_house(tmp_path / "house", demo_house())
    return tmp_path / "house" / decide(tmp_path / "house", "Ada Bell", "formal").copy


def told(act, *given):
    with pytest.raises(HouseFault) as caught:
        act(*given)
    return str(caught.value)


def test_every_way_of_writing_is_refused_and_the_copy_stays_as_it_was(copy, tmp_path):
    before, desk, drawing = state(copy), Desk(copy, "formal"), Drawing(copy)
    said = [
        told(desk.change, edits.set_tiers, 4),
        told(desk.save),
        told(desk.save_as, "Another"),
        told(say, open_session(copy, "Ada"), "Ada", "formal", "Library", "keep"),
        told(decide, copy, "Ada", "formal"),
        told(share_page, copy, tmp_path / "page.html"),
        told(change_note, copy, Note("Library"), Note("Library", words="pine")),
    ]
    drawing.act({"do": "cell", "file": "rooms.csv", "at": 0, "column": "notes", "text": "tall"})
    said += [str(drawing.unkept[0]), str(drawing.save().faults[0])]
    Session(copy).show()
    for words in said:
        assert "this is a locked copy of what was decided; open the house that it stands in" in words
    assert state(copy) == before
    assert plan(read_house(copy)[0]).feasible


def test_a_copy_that_stands_elsewhere_is_a_house_as_any_other(copy, tmp_path):
    elsewhere = shutil.copytree(copy, tmp_path / "elsewhere")
    Desk(elsewhere, "formal").change(edits.set_tiers, 4)
    say(open_session(elsewhere, "Ada"), "Ada", "formal", "Library", "keep")


def test_a_copy_is_known_by_whatever_way_one_comes_to_it(copy, tmp_path, monkeypatch):
    link = tmp_path / "link"
    link.symlink_to(copy)
    assert "locked copy" in told(say, open_session(link, "Ada"), "Ada", "formal", "Library", "keep")
    monkeypatch.chdir(copy)
    assert "locked copy" in told(say, open_session(".", "Ada"), "Ada", "formal", "Library", "keep")
