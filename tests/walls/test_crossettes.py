"""The pieces of wood round an opening close on the outline they must cover.

Common practice (no published source): ears kick out 1 to 1 1/2 in and drop about 12 in, more on a larger opening.
"""

from itertools import pairwise
from math import dist

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely import Polygon, box, unary_union

from planner.walls import crossettes
from planner.walls.crossettes import Frame

CLOSE = 1 / 32


def sixteenths(low: float, high: float):
    return st.integers(round(low * 16), round(high * 16)).map(lambda n: n / 16)


@st.composite
def frames(draw) -> Frame:
    width = draw(sixteenths(3, 8))
    band = draw(st.sampled_from([0.0, 0.75, 1.0, 1.25, 1.5, 2.0]))
    height, clear = draw(sixteenths(60, 110)), draw(sixteenths(18, 120))
    x0, y0 = draw(sixteenths(0, 40)), draw(sixteenths(0, 12))
    kick, drop = draw(sixteenths(0.5, 2)), draw(sixteenths(6, 24))
    assume(drop > 2 * (band or width) and drop >= width)
    return Frame(x0, x0 + clear, y0, height, width, band, kick, drop)


def outline(f: Frame) -> Polygon:
    """What must be covered, from boxes alone."""
    top, out = f.y1 + f.width, f.width + f.kick
    legs_and_head = box(f.x0 - f.width, f.y0, f.x1 + f.width, top)
    ears = box(f.x0 - out, top - f.drop, f.x1 + out, top) if f.kick else Polygon()
    return unary_union([legs_and_head, ears]).difference(box(f.x0, f.y0 - 1, f.x1, f.y1))


def assert_closes(pieces, wanted) -> None:
    shapes = [Polygon(piece.outline) for piece in pieces]
    assert all(shape.is_valid and shape.exterior.is_ccw and shape.area > 0 for shape in shapes)
    covered = unary_union(shapes)
    assert sum(shape.area for shape in shapes) == pytest.approx(wanted.area, rel=1e-9)
    # No gap and no lap wider than 1/32 in: what is left over vanishes when it shrinks by half of that.
    assert covered.symmetric_difference(wanted).buffer(-CLOSE / 2).is_empty
    assert covered.hausdorff_distance(wanted) < CLOSE


@settings(deadline=None)
@given(frames())
def test_mitred_ears_close(frame):
    assert_closes(crossettes.eared(frame), outline(frame))


@settings(deadline=None)
@given(frames())
def test_let_in_blocks_close(frame):
    assert_closes(crossettes.kicked(frame), outline(frame))


@settings(deadline=None)
@given(frames())
def test_plain_casings_close(frame):
    bare = Frame(frame.x0, frame.x1, frame.y0, frame.y1, frame.width, frame.band)
    for make in (crossettes.plain, crossettes.butted, crossettes.blocked_corners):
        assert_closes(make(bare), outline(bare))


@settings(deadline=None)
@given(frames())
def test_lengths_are_the_long_points_and_cuts_are_the_angles_of_the_outline(frame):
    for piece in crossettes.eared(frame) + crossettes.kicked(frame):
        xs, ys = zip(*piece.outline, strict=True)
        spans = (max(xs) - min(xs), max(ys) - min(ys))
        assert piece.length == pytest.approx(spans[0]) or piece.length == pytest.approx(spans[1])
        corners = [*piece.outline, piece.outline[0]]
        slanted = sum(1 for p, q in pairwise(corners) if p[0] != q[0] and p[1] != q[1] and dist(p, q) > 1e-6)
        assert slanted == sum(cut == crossettes.MITRE for cut in piece.cuts)


def test_a_carpenters_list_for_one_door():
    """A 32 x 80 in door, 5 1/2 in casing in one piece, ears 1 1/4 by 14: worked by hand."""
    pieces = {p.name: p for p in crossettes.eared(Frame(0, 32, 0, 80, 5.5, 0, 1.25, 14))}
    assert pieces["left leg"].length == 80 + 5.5 - 14 + 5.5
    assert pieces["head"].length == 32 + 2 * 5.5 + 2 * 1.25
    assert pieces["left return under the ear"].length == 6.75
    assert (pieces["left ear"].length, pieces["left ear"].width) == (3.0, 1.25)
    kicked = {p.name: p for p in crossettes.kicked(Frame(0, 32, 0, 80, 5.5, 0, 1.25, 14))}
    assert kicked["left leg"].length == 71.5
    assert kicked["left upper leg"].cuts == (0, 45)
    assert kicked["left block"].length == 8.5


def test_kick_and_drop_follow_practice():
    assert [crossettes.kick(k) for k in (0.5, 1.25, 3)] == [1.0, 1.25, 1.5]
    drops = [crossettes.drop(width, 1.25) for width in (24, 32, 36, 48, 72)]
    assert drops[:3] == [12, 12, 12]
    assert drops == sorted(drops) and drops[-1] > 12


@pytest.mark.parametrize(
    ("numbers", "words"),
    [
        ((0, 0, 0, 80, 5), "wider and higher than 0"),
        ((0, 30, 80, 80, 5), "wider and higher than 0"),
        ((0, 30, 0, 80, -1), "casing is wider than 0"),
        ((0, 30, 0, 80, 4, 5), "backband of 5 in does not fit"),
        ((0, 30, 0, 80, 4, 0, -1, 12), "kick out by 0 in or more"),
        ((0, 30, 0, 80, 6, 0, 1, 12), "ears drop more than 12"),
        ((0, 30, 0, 80, 6, 1, 1, 5), "at least the head's own 6"),
    ],
)
def test_casings_that_cannot_be_made_say_why(numbers, words):
    with pytest.raises(ValueError, match=words):
        Frame(*numbers)
