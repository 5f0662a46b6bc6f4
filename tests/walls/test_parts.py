"""What people read for a piece is made from its part and side, in one place."""

import pytest

from planner.walls.parts import BOARDS, FLAT, FRAME, PANELS, PLUMB, RUNS, Part, Side, called


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ((Part.LEG, Side.LEFT), "left leg"),
        ((Part.LEG, Side.RIGHT, "", "backband"), "right leg backband"),
        ((Part.HEAD, Side.NONE, "", "casing"), "head"),
        ((Part.EAR_RETURN, Side.LEFT), "left return under the ear"),
        ((Part.UPRIGHT, Side.RIGHT), "right upright of the ear"),
        ((Part.UPPER_LEG, Side.LEFT), "left upper leg"),
        ((Part.PLINTH_BLOCK, Side.RIGHT), "right plinth block"),
        ((Part.MANTEL_SHELF,), "mantel shelf"),
        ((Part.OVERDOOR, Side.NONE, "cornice", "overdoor"), "overdoor cornice"),
        ((Part.CROWN, Side.NONE, "taenia", "crown"), "taenia"),
        ((Part.CROWN,), "crown"),
        ((Part.BEADED_BOARD, Side.NONE, "beaded boards", "wainscot"), "beaded boards"),
        ((Part.RAISED_PANEL,), "raised panel"),
        ((Part.RETURN, Side.LEFT, "", "base"), "left return"),
    ],
)
def test_names_for_people(name, words):
    assert called(*name) == words


def test_no_two_parts_have_one_name():
    assert len({str(part) for part in Part}) == len(Part)


def test_no_part_both_runs_and_fills():
    assert not RUNS & (FRAME | PANELS | BOARDS | FLAT)
    assert not PLUMB & (RUNS | FLAT)
