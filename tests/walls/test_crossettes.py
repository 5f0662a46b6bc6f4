"""Casings with ears close on the outline that they must cover, whichever way the ear is made.

Ears kick out an inch or two: F. Cousins and P. M. Riley, The Colonial Architecture of Philadelphia (1920). They drop
about 12 in, a little more on a larger opening and 16 at most: common practice.
"""

from dataclasses import replace

from hypothesis import given, settings

from planner.library import standard
from planner.walls import crossettes
from planner.walls.casings import Frame
from planner.walls.cuts import measured
from planner.walls.parts import Part, Side
from tests.walls.frames import assert_closes, frames, outline

RULE = standard().surrounds.crossette


@settings(deadline=None)
@given(frames())
def test_mitred_ears_close(frame):
    assert_closes(crossettes.eared(frame), outline(frame))


@settings(deadline=None)
@given(frames())
def test_let_in_blocks_close(frame):
    assert_closes(crossettes.kicked(frame, RULE.lap), outline(frame))


def sizes(solids):
    return {(s.part, s.side): measured(s) for s in solids}


def test_a_carpenters_list_for_one_door():
    """A 32 x 80 in door, 5 1/2 in casing in one piece, ears 1 1/4 by 14: worked by hand."""
    frame = Frame(0, 32, 0, 80, 5.5, 0, 1.25, 14)
    mitred = sizes(crossettes.eared(frame))
    assert mitred[Part.LEG, Side.LEFT][0] == mitred[Part.LEG, Side.RIGHT][0] == 80 + 5.5 - 14 + 5.5
    assert mitred[Part.HEAD, Side.NONE][:2] == (32 + 2 * 5.5 + 2 * 1.25, 5.5)
    assert mitred[Part.EAR_RETURN, Side.LEFT][:2] == (6.75, 5.5)
    assert mitred[Part.UPRIGHT, Side.LEFT][:2] == (14, 5.5)
    assert mitred[Part.EAR, Side.LEFT][:2] == (3.0, 1.25)
    let_in = sizes(crossettes.kicked(frame, RULE.lap))
    assert let_in[Part.LEG, Side.LEFT][0] == 71.5
    assert let_in[Part.UPPER_LEG, Side.LEFT][0] == 14
    assert let_in[Part.BLOCK, Side.LEFT][0] == 8.5
    assert [cut.across for cut in let_in[Part.UPPER_LEG, Side.LEFT][2]] == [0, 45]


def test_mitres_turn_the_way_that_the_moulding_runs():
    """Both of a head's long points are at its outer edge; the two mitres of a return are parallel."""
    across = {key: [c.across for c in ends] for key, (*_, ends) in sizes(crossettes.eared(FRAME)).items()}
    assert across[Part.HEAD, Side.NONE] == [45, 45]
    assert across[Part.UPRIGHT, Side.LEFT] == across[Part.UPRIGHT, Side.RIGHT] == [45, 45]
    assert across[Part.LEG, Side.LEFT] == across[Part.LEG, Side.RIGHT] == [0, -45]
    assert across[Part.EAR_RETURN, Side.LEFT] == [45, -45]
    assert across[Part.EAR_RETURN, Side.RIGHT] == [-45, 45]


FRAME = Frame(0, 32, 0, 80, 5.5, 0, 1.25, 14)


def test_a_block_is_let_in_behind_its_leg_and_left_out_where_the_head_takes_its_place():
    blocks = [s for s in crossettes.kicked(FRAME, RULE.lap) if s.part is Part.BLOCK]
    assert [(s.width, s.behind) for s in blocks] == [(1.25, 0.5), (1.25, 0.5)]
    low = crossettes.kicked(Frame(0, 32, 0, 80, 5.5, 1, 1.25, 5.5), RULE.lap)
    assert not [s for s in low if s.part is Part.BLOCK]


def test_an_ear_belongs_to_the_crossette_and_what_is_mitred_round_it_to_the_outermost_moulding():
    banded = crossettes.eared(Frame(0, 32, 0, 80, 5.5, 1.25, 1.25, 14))
    elements = {(s.part, s.element) for s in banded}
    assert (Part.EAR, "crossette") in elements and (Part.UPRIGHT, "backband") in elements
    assert (Part.LEG, "casing") in elements and (Part.LEG, "backband") in elements
    assert {s.element for s in crossettes.eared(FRAME) if s.part is not Part.EAR} == {"casing"}


def test_a_rosette_fills_the_jog_under_each_ear():
    """In the jog of the ear in the best rooms: Cousins and Riley."""
    left, right = crossettes.rosettes(FRAME)
    assert (left.x0, left.x1, left.y0, left.y1) == (-6.75, -5.5, 85.5 - 14 - 1.25, 85.5 - 14)
    assert (right.x0, right.x1) == (37.5, 38.75)
    assert left.decorated and {left.element, right.element} == {"crossette"}
    assert crossettes.rosettes(Frame(0, 32, 0, 80, 5.5)) == ()


def test_kick_and_drop_follow_practice():
    assert [crossettes.kick(k, RULE) for k in (0.5, 1.25, 1.75, 3)] == [1.0, 1.25, 1.75, 2.0]
    drops = [crossettes.drop(width, 1.25, RULE) for width in (24, 32, 36, 45, 54, 72, 120)]
    assert drops == [12, 12, 12, 13, 14, 16, 16]
    assert [crossettes.drop(32, mitred, RULE) for mitred in (5.0, 6.0, 7.0, 7.5)] == [12, 14, 16, 16]


def test_where_only_the_outer_moulding_breaks_the_fasciae_run_straight_up():
    """A casing of 6 in: its cymatium is a sixth (Vitruvius IV.6.3), an inch, and the 5 in inside it make no ear."""
    frame = crossettes.outer_moulding(Frame(0, 32, 0, 80, 6, face=1.5), 1.0, RULE)
    assert (frame.band, frame.flat, frame.face, frame.band_face) == (1.0, 5.0, 1.0, 1.5)
    banded = Frame(0, 32, 0, 80, 6, band=1.25, face=1.0, band_face=1.375)
    assert crossettes.outer_moulding(banded, 1.0, RULE) is banded
    solids = crossettes.eared(replace(frame, kick=1.25, drop=12))
    inside = [s for s in solids if s.element == "casing"]
    assert {s.part for s in inside} == {Part.LEG, Part.HEAD}
    assert {(s.x0, s.x1, s.y1) for s in inside if s.part is Part.LEG} == {(-5, 0, 85), (32, 37, 85)}
    (ear, _) = [s for s in solids if s.part is Part.EAR]
    assert (ear.x0, ear.x1, ear.y0, ear.y1) == (-6.25, -5, 75, 85)
    assert min(s.x0 for s in solids) == -7.25
