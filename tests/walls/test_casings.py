"""The pieces of wood round an opening close on the outline that they must cover."""

import msgspec
import pytest
from hypothesis import given, settings

from planner.library import standard
from planner.walls import casings
from planner.walls.casings import PROUD, Frame
from planner.walls.parts import Part, Side
from tests.walls.frames import assert_closes, frames, outline


def blocked(frame):
    """Corner blocks as wide as the casing."""
    return casings.blocked_corners(frame, frame.width)


def butted(frame):
    """A square head that is as high as the legs are wide and runs no farther than they."""
    return casings.butted(frame, msgspec.structs.replace(RULE, higher=0.0, past=0.0))


RULE = standard().surrounds.butted_head
MAKES = (casings.plain, butted, blocked)


@settings(deadline=None)
@given(frames())
def test_casings_without_ears_close(frame):
    bare = Frame(frame.x0, frame.x1, frame.y0, frame.y1, frame.width, frame.band)
    for make in MAKES:
        assert_closes(make(bare), outline(bare))


@pytest.mark.parametrize("make", MAKES)
def test_each_side_has_its_pieces_and_one_head_joins_them(make):
    parts = [(s.part, s.side) for s in make(Frame(0, 32, 0, 80, 5))]
    assert parts.count((Part.LEG, Side.LEFT)) == parts.count((Part.LEG, Side.RIGHT)) == 1
    assert parts.count((Part.HEAD, Side.NONE)) == 1
    left = next(s for s in make(Frame(0, 32, 0, 80, 5)) if s.side is Side.LEFT)
    assert left.x1 <= 0


def test_a_backband_goes_round_the_casing_and_stands_before_it():
    solids = casings.plain(Frame(0, 32, 0, 80, 5, band=1.25, face=0.875, band_face=1.25, opening="Door"))
    by_element = {e: [s for s in solids if s.element == e] for e in ("casing", "backband")}
    assert [len(found) for found in by_element.values()] == [3, 3]
    assert {s.projection for s in by_element["casing"]} == {0.875}
    assert {s.projection for s in by_element["backband"]} == {1.25}
    assert by_element["casing"][0].x0 == by_element["backband"][0].x1 == -3.75
    assert {s.opening for s in solids} == {"Door"}
    assert [s.name for s in by_element["backband"]] == ["left leg backband", "right leg backband", "head backband"]


def test_a_casing_all_backband_has_no_flat():
    assert {s.element for s in casings.plain(Frame(0, 32, 0, 80, 5, band=5))} == {"backband"}


def test_a_square_head_is_higher_thicker_and_longer_than_its_legs():
    """Common practice: an inch higher, a quarter thicker, half an inch past them."""
    left, right, head = casings.butted(Frame(0, 32, 0, 80, 5, face=0.875), RULE)
    assert (left.x0, left.x1, left.y1, right.x0, right.x1) == (-5, 0, 80, 32, 37)
    assert (head.x0, head.x1, head.y0, head.y1) == (-5.5, 37.5, 80, 86)
    assert (left.projection, head.projection) == (0.875, 1.125)


def test_corner_blocks_stand_a_quarter_inch_proud_of_the_casing():
    """Casings 7/8 in thick, corner blocks 1 1/8: L. H. Gibson, Convenient Houses (1889)."""
    assert PROUD == 0.25
    solids = blocked(Frame(0, 32, 0, 80, 5, face=0.875))
    blocks = [s for s in solids if s.part is Part.CORNER_BLOCK]
    assert [(s.x0, s.x1, s.y0, s.y1) for s in blocks] == [(-5, 0, 80, 85), (32, 37, 80, 85)]
    assert {s.projection for s in blocks} == {1.125}
    assert {s.projection for s in solids if s.part is not Part.CORNER_BLOCK} == {0.875}


def test_legs_and_head_butt_against_corner_blocks_a_quarter_inch_wider():
    """F. E. Kidder, Building Construction and Superintendence, section 168."""
    frame = Frame(0, 32, 0, 80, 5)
    left, right, block, other, head = casings.blocked_corners(frame, 5.25)
    assert (block.x0, block.x1, block.y0, block.y1) == (-5.125, 0.125, 79.875, 85.125)
    assert (other.x0, other.x1, other.y0, other.y1) == (31.875, 37.125, 79.875, 85.125)
    assert (left.x0, left.x1, left.y1) == (-5, 0, 79.875) and (right.x0, right.x1, right.y1) == (32, 37, 79.875)
    assert (head.x0, head.x1, head.y0, head.y1) == (0.125, 31.875, 80, 85)


def test_a_large_corner_block_leaves_the_opening_free():
    _, _, block, *_ = casings.blocked_corners(Frame(0, 32, 0, 80, 5), 8)
    assert (block.x0, block.x1, block.y0, block.y1) == (-7.875, 0.125, 79.875, 87.875)
    _, _, small, *_ = casings.blocked_corners(Frame(0, 32, 0, 80, 5), 4)
    assert (small.x0, small.x1, small.y0, small.y1) == (-5, 0, 80, 85)


@pytest.mark.parametrize(
    ("numbers", "words"),
    [
        ((0, 0, 0, 80, 5), "wider and higher than 0"),
        ((0, 30, 80, 80, 5), "wider and higher than 0"),
        ((0, 30, 0, 80, -1), "casing is wider than 0"),
        ((0, 30, 0, 80, 0), "casing is wider than 0"),
        ((0, 30, 0, 80, 4, -1), "backband of -1 in does not fit"),
        ((0, 30, 0, 80, 4, 5), "backband of 5 in does not fit"),
        ((0, 30, 0, 80, 4, 0, -1, 12), "kick out by 0 in or more"),
        ((0, 30, 0, 80, 6, 0, 1, 12), "ears drop more than 12"),
        ((0, 30, 0, 80, 6, 0, 1, 86), "less than the casing's 86"),
        ((0, 30, 0, 80, 6, 1, 1, 5), "at least the head's own 6"),
    ],
)
def test_casings_that_cannot_be_made_say_why(numbers, words):
    with pytest.raises(ValueError, match=words):
        Frame(*numbers)


def test_what_can_just_be_made_is():
    assert Frame(0, 30, 0, 80, 4, 4).flat == 0
    assert Frame(0, 30, 0, 80, 6, 1, 1, 6).underside == 80
