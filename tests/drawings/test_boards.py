"""Boards behind an element as they are drawn: measured on what is drawn."""

from dataclasses import replace

import pytest

from planner.drawings import boards
from planner.drawings.scale import paper
from planner.drawings.scene import Path, flat
from planner.drawings.section import package_sections
from planner.mouldings.curves import Arc
from planner.trim.joinery import Board, joinery
from tests.drawings.texts import texts
from tests.known import LIBRARY
from tests.walls.trim import profiles, trim

STATE = trim(5)


def scene_of(package, name):
    found = package_sections(package, profiles(package), LIBRARY)
    return next(scene for scene in found if scene.title.startswith(name))


def wainscot(form, thickness, projection):
    return replace(STATE.element("wainscot"), form=form, thickness=thickness, projection=projection)


@pytest.mark.parametrize("name", ["crown", "casing", "base", "chair rail", "wainscot", "stool"])
def test_every_board_is_drawn_and_each_kind_is_named_once(name):
    element = STATE.element(name)
    scene = scene_of(STATE, name.capitalize())
    behind = joinery(STATE, element, LIBRARY)
    written = [t.text for t in texts(scene)]
    assert behind
    for kind in {board.name for board in behind}:
        assert sum(words.startswith(f"{kind} ") for words in written) >= 1
    outlines = [s.box for s in flat(scene.shapes) if isinstance(s, Path) and s.layer == "edge" and s.fill == "paper"]
    for board in behind:
        wanted = (board.x, board.y, board.x + board.depth, board.y + board.height)
        assert any(box == pytest.approx(wanted) for box in outlines), board


def test_blocks_are_crossed_and_a_board_that_runs_on_has_one_diagonal():
    block, board = Board("blocking", 0.0, 0.0, 2.0, 1.0, blocks=True), Board("ground", 0.0, 3.0, 2.0, 1.0)
    counts = [len(s.segments) for s in boards.drawn([block, board]) if s.layer == "fine"]
    assert counts == [2, 1]


def test_what_is_named_twice_is_named_once():
    two = [Board("blocking", 0.0, 0.0, 2.0, 1.0), Board("blocking", 0.0, 3.0, 1.0, 1.0)]
    assert [words for _, words in boards.named(two, paper("in"))] == ['blocking 1" × 2"']


def test_a_base_stands_on_the_floor_and_a_crown_hangs_under_the_ceiling():
    for name, at in (("Base", 0.0), ("Crown", STATE.element("crown").size)):
        cut = [s.box for s in scene_of(STATE, name).shapes if isinstance(s, Path) and s.layer == "cut"]
        assert any(box.y0 == box.y1 == pytest.approx(at) and box.x1 > 0 for box in cut)


def test_beaded_boards_are_beaded_in_plan():
    cut = [s for s in boards.in_plan(wainscot("beaded boards", 0.5, 0.5), LIBRARY) if s.fill == "wood"]
    assert len(cut) == 4 and all(any(isinstance(part, Arc) for part in s.segments) for s in cut)
    assert [s.box.x0 for s in cut] == pytest.approx([0.0, 3.0, 6.0, 9.0])
    assert {round(s.box.y1, 6) for s in cut} == {0.5}


def test_a_batten_covers_the_joint_of_two_boards_in_plan():
    one, other, batten = (
        s for s in boards.in_plan(wainscot("boards and battens", 0.5, 0.75), LIBRARY) if s.fill == "wood"
    )
    joint = one.box.x1
    assert other.box.x0 == pytest.approx(joint)
    assert batten.box.x0 < joint < batten.box.x1
    assert (batten.box.y0, batten.box.y1) == pytest.approx((0.5, 0.75))


def test_a_framed_wainscot_has_no_plan_of_boards():
    assert boards.in_plan(STATE.element("wainscot"), LIBRARY) == ()
