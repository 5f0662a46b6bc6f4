"""The boards behind the face: what each element is nailed to. Common practice."""

import pytest

from planner.library.model import known_name
from planner.trim.joinery import joinery
from planner.trim.sections import sections
from tests.known import LIBRARY, STYLES, package

STATE = package("georgian", "doric", 5, 120.0, top=5)
PLAIN = package("georgian", "doric", 1, 108.0, top=5)


def behind(whole, name):
    return {board.name: board for board in joinery(whole, whole.element(name), LIBRARY)}


def test_every_row_names_elements_that_there_are_and_its_source():
    for row in LIBRARY.joinery.boards:
        assert row.source and all(known_name(name, LIBRARY.element_kinds, "element") for name in row.elements)
    for row in LIBRARY.joinery.panelling:
        assert LIBRARY.form(row.element, row.form) and row.source


def test_a_casing_stands_back_from_its_jamb_by_the_reveal():
    jamb = behind(PLAIN, "casing")["jamb"]
    assert jamb.y == -LIBRARY.surrounds.reveal.inches
    assert jamb.x + jamb.depth == 0.0


def test_a_jamb_is_furred_out_to_the_wainscots_face_and_the_casing_with_it():
    found = behind(STATE, "casing")
    jamb, extension, furring = found["jamb"], found["jamb extension"], found["furring"]
    assert (jamb.x + jamb.depth, extension.x, extension.depth) == (0.0, 0.0, 0.75)
    assert STATE.element("casing").ground == 0.75 and (extension.y, extension.height) == (jamb.y, jamb.height)
    assert (furring.x, furring.depth) == (0.0, 0.75)
    assert not {"furring", "jamb extension"} & set(behind(PLAIN, "casing"))


def test_what_comes_with_the_opening_the_framing_or_another_element_is_not_bought():
    with_opening = {"jamb": "opening", "shims": "framing", "stud": "framing", "jamb extension": "", "furring": ""}
    assert {name: board.comes_with for name, board in behind(STATE, "casing").items()} == with_opening
    assert {b.comes_with for b in behind(STATE, "base").values() if "rail" in b.name} == {"wainscot"}
    assert behind(STATE, "stool")["stool, let into the jamb"].comes_with == "stool"
    assert {b.comes_with for b in behind(STATE, "crown").values()} == {""}


def test_the_base_of_a_wainscoted_room_stands_on_its_bottom_rail_and_the_chair_rail_on_its_top_rail():
    base, rail = behind(STATE, "base")["bottom rail"], behind(STATE, "chair rail")["top rail"]
    assert (base.x, base.y, base.depth, base.height) == (0.0, 0.0, 0.75, STATE.element("base").size)
    assert (rail.depth, rail.height) == (0.75, STATE.element("chair rail").size)
    assert "ground" in behind(PLAIN, "base") and "bottom rail" not in behind(PLAIN, "base")


def test_an_entablature_has_its_frieze_run_up_its_corona_blocked_and_its_crown_backed():
    found = behind(STATE, "crown")
    assert {"board run up", "blocking", "backing"} <= set(found)
    corona = next(m for p in sections(STATE, LIBRARY)["crown"] for m in p.profile.members if m.kind == "corona")
    blocks = [b for b in joinery(STATE, STATE.element("crown"), LIBRARY) if b.blocks and b.x >= 0]
    assert any(b.x + b.depth == pytest.approx(corona.projection - 0.75) for b in blocks)


def test_a_stool_is_let_into_the_jamb():
    stool = behind(STATE, "stool")["stool, let into the jamb"]
    assert stool.x < 0 and stool.x + stool.depth == STATE.element("stool").ground
    assert stool.height == STATE.element("stool").size


@pytest.mark.parametrize("style", STYLES)
@pytest.mark.parametrize("ceiling", [96.0, 120.0])
def test_no_board_lies_before_the_face(style, ceiling):
    """Whatever fills a hollow ends behind the farthest reach of its element, and within its height."""
    for tier in range(1, 6):
        whole = package(style, "doric", tier, ceiling, top=5)
        for element in whole.elements:
            for board in joinery(whole, element, LIBRARY):
                assert board.depth > 0 and board.height > 0
                if board.x >= 0:
                    assert board.x + board.depth <= element.projection + 1e-6, (whole.label, element.element, board)
                    reveal = LIBRARY.surrounds.reveal.inches if board.name == "jamb extension" else 0.0
                    assert board.y >= -reveal - 1e-6 and board.y + board.height <= element.size + 1e-6
