"""Letters that no font has a shape of: found, and told on the papers, by the command and in its list."""

import json
from dataclasses import replace

import pytest
from click.testing import CliRunner

from planner import demo_house, plan, read_house, write_house
from planner.cli import main
from planner.deliverables.job_note import job_note, note_text
from planner.deliverables.letters import NOWHERE, shapeless, told, without_shape
from planner.deliverables.sheets.drawing_set import sheets_of
from tests.deliverables.papers_of import stamp
from tests.drawn import demo, frame

UNKNOWN = NOWHERE[:-1] + "\U0010fffc"
"""A letter for private use, of which no machine has a font."""


def test_the_type_of_the_papers_has_the_letters_of_european_names():
    """Latin with its marks, Greek and Cyrillic, as the makers of the type say of it."""
    assert shapeless("éñøßłőŠž½×°“”–…€" + "αΩЖщ") == ()


def test_a_letter_without_a_shape_is_found_among_others():
    assert shapeless(f"é{UNKNOWN}ł") == (UNKNOWN,)
    assert shapeless("") == ()
    assert without_shape(demo()) == () and told(()) == ""


@pytest.mark.parametrize("where", ["name", "room", "opening"])
def test_it_is_told_on_the_job_note_and_on_the_title_sheet(where):
    house, _ = read_house(demo_house())
    if where == "name":
        house = replace(house, name=f"House {UNKNOWN}")
    elif where == "room":
        level = f"Attic {UNKNOWN}"
        house = replace(house, rooms=tuple(replace(r, level=level) if r.level == "Upper" else r for r in house.rooms))
    else:
        first, *rest = house.openings
        house = replace(house, openings=(replace(first, name=f"Door {UNKNOWN}"), *rest))
    made = plan(house)
    assert without_shape(made) == (UNKNOWN,)
    says = "No font of this machine has a shape for 1 letter of names (signs)"
    assert says in " ".join(note_text(job_note(made, stamp(made), 4)).split())
    title = sheets_of(made, stamp(made), frame())[0]
    assert says in " ".join(" ".join(item.lines) for item in title.items if hasattr(item, "lines"))


def test_the_command_says_so_and_lists_them(tmp_path):
    """Of scripts that are written no more; a letter for private use is in no name."""
    unknown = shapeless("\U00010600\U00012000\U00013000\U00010a00")
    if not unknown:
        pytest.skip("this machine has fonts for Linear A, cuneiform, hieroglyphs and Kharosthi")
    house, _ = read_house(demo_house())
    write_house(replace(house, name=f"House {unknown[0]}"), tmp_path / "house")
    ran = CliRunner().invoke(main, ["deliver", str(tmp_path / "house"), "--out", str(tmp_path / "out"), "--json"])
    assert ran.exit_code == 0, ran.stderr
    assert "No font of this machine has a shape for 1 letter of names" in ran.stderr
    assert json.loads(ran.stdout)["unshown"] == [unknown[0]]
