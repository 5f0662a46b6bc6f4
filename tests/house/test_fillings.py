"""Leaves and lights that a house says of its own openings: read, written, and faulted by row and column."""

from dataclasses import replace

import pytest

from planner import HouseFault, demo_house, plan, read_house, write_house
from planner.house.editing import save_cells
from planner.intent.renaming import rename_room
from tests.house.cells import read_cells

OPENINGS = "openings.csv"


@pytest.fixture
def folder(tmp_path):
    """The demo house, of which a door and a window say what hangs in them."""
    house, _ = read_house(demo_house())
    said = {"Library hall door": {"leaf": "four panels"}, "Library window 1": {"lights": "9/6"}}
    openings = tuple(replace(o, **said.get(o.name, {})) for o in house.openings)
    write_house(replace(house, openings=openings), tmp_path / "house")
    return tmp_path / "house"


def rewritten(folder, old, new):
    file = folder / OPENINGS
    assert old in file.read_text("utf-8")
    file.write_text(file.read_text("utf-8").replace(old, new, 1), "utf-8")
    return folder


def test_what_is_said_is_read_back(folder):
    house, _ = read_house(folder)
    said = {o.name: (o.leaf, o.lights) for o in house.openings if o.leaf or o.lights}
    assert said == {"Library hall door": ("four panels", ""), "Library window 1": ("", "9/6")}


def test_it_is_drawn_on_both_faces_of_the_opening(folder):
    planned = plan(read_house(folder)[0])
    hung = {
        wall.room: around.filling
        for walls in planned.walls.values()
        for wall in walls
        for around in wall.surrounds
        if around.aperture.name == "Library hall door"
    }
    assert set(hung) == {"Library", "Stair Hall"}
    assert {sum(p.kind == "panel" for p in panes) for panes in hung.values()} == {4}


def test_a_house_that_says_nothing_has_no_such_columns(tmp_path):
    house, _ = read_house(demo_house())
    write_house(house, tmp_path / "house")
    assert (tmp_path / "house" / OPENINGS).read_text("utf-8").splitlines()[0].endswith("height,sill")


def test_columns_that_are_there_stay_and_new_ones_come_with_what_is_said(folder):
    rename_room(folder, "Library", "Book Room")
    assert (folder / OPENINGS).read_text("utf-8").splitlines()[0].endswith("sill,leaf,lights")
    rows = read_cells(folder, OPENINGS)
    save_cells(folder, {OPENINGS: [row | {"leaf": "", "lights": ""} for row in rows]})
    assert (folder / OPENINGS).read_text("utf-8").splitlines()[0].endswith("sill,leaf,lights")
    assert not any(o.leaf or o.lights for o in read_house(folder)[0].openings)


@pytest.mark.parametrize(
    ("old", "new", "column", "message", "remedy"),
    [
        ("four panels", "for panels", "leaf", "is no kind of leaf", '"four panels"'),
        ("four panels", "Four  Panels", "leaf", "", ""),
        ("9/6", "9/7", "lights", "is no number of lights", "upper/lower, e.g. 6/6"),
        ("9/6", "9 / 6", "lights", "", ""),
        ("four panels,", "four panels,6/6", "lights", "a door has no lights", "leave it blank"),
        (",9/6", "six panels,9/6", "leaf", "a window has no leaf", "leave it blank"),
    ],
)
def test_a_fault_is_told_by_row_and_column_with_what_would_be_right(folder, old, new, column, message, remedy):
    rewritten(folder, old, new)
    if not message:
        assert {o.leaf or o.lights for o in read_house(folder)[0].openings} == {"", "four panels", "9/6"}
        return
    with pytest.raises(HouseFault) as raised:
        read_house(folder)
    (problem,) = raised.value.problems
    assert (problem.file, problem.column) == (OPENINGS, column) and problem.row is not None
    assert message in problem.message and remedy in problem.remedy
