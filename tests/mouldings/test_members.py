"""Mouldings against closed forms, shapely, and R. G. Hatfield (The American House-Carpenter, art. 310-311) and Ware."""

from dataclasses import replace
from itertools import pairwise
from math import atan2, degrees, hypot, isclose, pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.mouldings import curves
from planner.mouldings.curves import Arc, EllipseArc, Line, Placement
from planner.mouldings.members import bare_number, profile
from planner.mouldings.outlines import area, girth, member_outlines, outline, polygon
from planner.mouldings.soundness import faults
from tests.known import LIBRARY, member, parse_members

KINDS = [row.kind for row in LIBRARY.mouldings]
RUNNING = ("ovolo", "cavetto", "cyma recta", "cyma reversa", "conge")


def rising(kind: str, run: float, height: float, greek: bool = False):
    """A curve that runs from the wall out to `run`, alone."""
    return profile([member(kind, height, run, greek)])


def falling(kind: str, run: float, height: float, greek: bool = False):
    """The same curve on a face that stands out as far, falling back to the wall."""
    return profile([member("fascia", 1.0, run), member(kind, height, run, greek)])


def tangent(segment, at_end=False):
    """Unit vector of travel at a segment's start, or at its end."""
    if isinstance(segment, Line):
        dx, dy = segment.end[0] - segment.start[0], segment.end[1] - segment.start[1]
    else:
        angle = segment.last if at_end else segment.first
        ex, ey = -segment.rx * curves._sin(angle), segment.ry * curves._cos(angle)
        c, s = curves._cos(segment.rotation), curves._sin(segment.rotation)
        way = 1.0 if segment.ccw else -1.0
        dx, dy = way * (ex * c - ey * s), way * (ex * s + ey * c)
    size = hypot(dx, dy)
    return (dx / size, dy / size)


# Closed forms


@pytest.mark.parametrize(
    ("kind", "greek", "share"),
    [
        ("ovolo", False, pi / 4),
        ("cavetto", False, 1 - pi / 4),
        ("conge", False, 1 - pi / 4),
        ("cyma recta", False, 0.5),
        ("cyma reversa", False, 0.5),
    ],
)
def test_area_of_a_curve_in_a_square(kind, greek, share):
    assert isclose(area(rising(kind, 2.0, 2.0, greek)), 4.0 * share, rel_tol=1e-12)


@pytest.mark.parametrize("size", [(1.0, 2.0), (2.0, 1.0), (1.125, 1.25)])
@pytest.mark.parametrize(("kind", "share"), [("ovolo", pi / 4), ("cavetto", 1 - pi / 4), ("cyma recta", 0.5)])
def test_area_of_a_greek_curve_is_that_of_quarter_ellipses(kind, share, size):
    assert isclose(area(rising(kind, *size, greek=True)), size[0] * size[1] * share, rel_tol=1e-12)


@pytest.mark.parametrize("kind", ["bead", "astragal", "torus"])
def test_a_half_round_is_a_semicircle(kind):
    """Hatfield, art. 311: the bead is a semicircle in both manners."""
    for greek in (False, True):
        whole = profile([member(kind, 0.5, 0.75, greek)])
        (arc,) = member_outlines(whole)[0]
        assert isinstance(arc, Arc)
        assert (arc.radius, arc.sweep) == (0.25, 180.0)
        assert isclose(arc.start[0], arc.end[0])
        assert isclose(arc.at(0.0)[0], 0.75)
        assert isclose(area(whole), 0.5 * 0.5 + pi * 0.25**2 / 2, rel_tol=1e-12)
        assert isclose(girth(whole), pi * 0.25 + 2 * 0.5, rel_tol=1e-12)


def test_girth_of_a_quarter_round_and_of_a_cyma():
    """A quarter circle is π r/2 long; a square Roman cyma is two quarters of half the radius, as long together."""
    for kind in ("ovolo", "cavetto", "cyma recta", "cyma reversa"):
        (chain,) = member_outlines(rising(kind, 2.0, 2.0))
        assert isclose(curves.length(chain), pi, rel_tol=1e-12)


def test_a_scotia_is_two_quarters_that_meet_plumb():
    lips = parse_members("fascia 1 x 2; scotia 1 x 2; fillet 1/4 x 1 1/2")
    upper_to_lower = member_outlines(profile(lips))[1]
    assert sorted(round(s.radius, 9) for s in upper_to_lower) == [0.25, 0.75]
    assert all(isclose(abs(s.sweep), 90.0) for s in upper_to_lower)
    assert isclose(abs(tangent(upper_to_lower[0], at_end=True)[1]), 1.0)
    assert isclose(upper_to_lower[0].end[0], 2.0 - 0.75)


def test_girth_leaves_out_what_never_shows():
    board = parse_members("fascia 5 x 3/4")
    assert isclose(girth(profile(board, "board")), 5 + 2 * 0.75)
    assert isclose(girth(profile(board, "base")), 5 + 0.75)
    assert isclose(girth(profile(board, "crown")), 5 + 0.75)


# Against shapely, for every kind and both manners

SIZES = st.floats(0.25, 6.0)


@given(st.sampled_from(RUNNING), SIZES, SIZES, st.booleans(), st.booleans())
def test_area_and_girth_agree_with_shapely(kind, run, height, greek, falls):
    drawn = (falling if falls else rising)(kind, run, height, greek)
    figure = polygon(drawn, 1e-5)
    assert figure.is_valid
    assert isclose(area(drawn), figure.area, rel_tol=1e-3)
    assert isclose(curves.length(outline(drawn)), figure.length, rel_tol=1e-3)
    left, low, right, high = figure.bounds
    assert (left, low) == pytest.approx((0, 0), abs=1e-9)
    assert (right, high) == pytest.approx((run, drawn.height), abs=1e-9)


@given(st.sampled_from(sorted(KINDS)), SIZES, SIZES, st.booleans())
def test_every_outline_closes_and_stays_in_its_box(kind, height, reach, greek):
    members = (member("fillet", 0.5, reach), member(kind, height, reach + height, greek), member("fillet", 0.5, reach))
    drawn = profile(members)
    chain = outline(drawn)
    for one, following in zip(chain, chain[1:] + chain[:1], strict=True):
        assert hypot(one.end[0] - following.start[0], one.end[1] - following.start[1]) < 1e-9
    left, low, right, high = polygon(drawn).bounds
    assert left >= -1e-9
    assert right <= drawn.projection + 1e-9
    assert (low, high) == pytest.approx((0, drawn.height), abs=1e-9)


# Tangents


@pytest.mark.parametrize("size", [(1.0, 1.0), (1.0, 2.0), (2.0, 1.0), (1.125, 1.25)])
@pytest.mark.parametrize("greek", [False, True])
@pytest.mark.parametrize("make", [rising, falling])
def test_tangents_of_a_cyma(size, greek, make):
    """Ware: the tangents at a cyma recta's ends are horizontal, at a cyma reversa's vertical."""
    for kind, axis in (("cyma recta", 1), ("cyma reversa", 0)):
        chain = member_outlines(make(kind, *size, greek))[-1]
        assert tangent(chain[0])[axis] == pytest.approx(0.0, abs=1e-9)
        assert tangent(chain[-1], at_end=True)[axis] == pytest.approx(0.0, abs=1e-9)
        for one, following in pairwise(chain):
            assert tangent(one, at_end=True) == pytest.approx(tangent(following), abs=1e-9)


def test_greek_curves_are_conics_and_roman_ones_circles():
    """Hatfield, art. 310-311."""
    for kind in RUNNING:
        roman = member_outlines(rising(kind, 1.0, 2.0))[0]
        greek = member_outlines(rising(kind, 1.0, 2.0, greek=True))[0]
        assert not any(isinstance(s, EllipseArc) for s in roman)
        assert all(isinstance(s, EllipseArc) for s in greek)


def test_a_placed_curve_keeps_its_length_and_ends():
    place = Placement(3.0, -2.0, rotation=30.0, scale=2.0, mirror=True)
    for greek in (False, True):
        chain = outline(rising("cyma recta", 1.0, 1.5, greek))
        moved = place.segments(chain)
        assert isclose(curves.length(moved), 2 * curves.length(chain), rel_tol=1e-9)
        assert isclose(curves.area(moved), -4 * curves.area(chain), rel_tol=1e-9)
        for before, after in zip(chain, moved, strict=True):
            assert after.start == pytest.approx(place.point(before.start), abs=1e-9)
            assert after.end == pytest.approx(place.point(before.end), abs=1e-9)


def test_a_quarter_round_turns_up_as_a_shoe_and_down_under_a_crown():
    """Common practice: a shoe's round faces the room and the ceiling."""
    for role, widest in (("shoe", 0.0), ("crown", 0.75)):
        drawn = polygon(profile(parse_members("ovolo 3/4 x 1/2"), role))
        reach = [x for x, y in drawn.exterior.coords if abs(y - widest) < 1e-9]
        assert max(reach) == pytest.approx(0.5)
        assert max(x for x, y in drawn.exterior.coords if abs(y - (0.75 - widest)) < 1e-9) == pytest.approx(0.0)
        assert area(profile(parse_members("ovolo 3/4 x 3/4"), role)) == pytest.approx(pi / 4 * 0.75**2)


def test_a_corona_is_throated():
    """The drip is a half-round groove in the soffit, wholly behind the corona's face."""
    drawn = profile(parse_members("ovolo 1 x 1; corona 2 x 3"))
    (groove,) = [s for s in outline(drawn) if isinstance(s, Arc) and abs(s.sweep) == 180.0]
    assert groove.radius == pytest.approx(0.25)
    assert groove.center[1] == 1.0
    assert 1.0 < groove.center[0] - groove.radius < groove.center[0] + groove.radius < 3.0
    plain = profile(parse_members("ovolo 1 x 1; fascia 2 x 3"))
    assert area(plain) - area(drawn) == pytest.approx(pi * 0.25**2 / 2)


def test_a_beaded_edge_ends_flush_and_keeps_its_quirk():
    drawn = profile(parse_members("beaded edge 1/2 x 3/4; fascia 4 x 3/4"))
    (bead,) = [s for s in outline(drawn) if isinstance(s, Arc)]
    assert (bead.radius, bead.at(0.0)[0]) == pytest.approx((0.2, 0.75))
    assert area(drawn) == pytest.approx(4.5 * 0.75 - 0.5 * 0.2 + pi * 0.2**2 / 2)


# Reading and writing


def test_members_are_read_with_and_without_a_projection():
    fillet, cyma, top = parse_members("fillet 1/4; cyma recta 1 1/4 x 1 1/8; fillet 1/4")
    assert (fillet, cyma, top) == (
        member("fillet", 0.25, 0.25),
        member("cyma recta", 1.25, 1.125),
        member("fillet", 0.25, 1.125),
    )
    assert parse_members("fascia 4 x 3/4; bead 1/2")[1] == member("bead", 0.5, 1.0)
    assert parse_members("fillet 1/4; Quarter Round 1/2")[1] == member("ovolo", 0.5, 0.75)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "no members"),
        ("filet 1/4", "fillet"),
        ("fillet", "height"),
        ("fascia 5", "needs its projection"),
        ("ovolo 1 x 2 x 3", "two sizes"),
        ("ovolo 0 x 1", "above zero"),
        ("ovolo one", "height"),
        ("ovolo 1/0 x 1", "member 1"),
        ("fillet 1/4; ovolo -1", "member 2"),
    ],
)
def test_bad_members_are_told_with_what_would_be_right(text, says):
    with pytest.raises(ValueError, match=says):
        parse_members(text)


@given(
    st.lists(
        st.builds(
            member,
            st.sampled_from(sorted(KINDS)),
            st.integers(1, 640).map(lambda n: n / 64),
            st.integers(1, 640).map(lambda n: n / 64),
            st.booleans(),
        ),
        min_size=1,
        max_size=8,
    )
)
def test_what_is_written_is_read_back(members):
    written = "; ".join(
        f"{'greek ' * m.greek}{m.kind} {bare_number(m.height)} x {bare_number(m.projection)}" for m in members
    )
    assert parse_members(written) == tuple(members)


# What members do, and the rules


@pytest.mark.parametrize(
    ("kind", "does"),
    [
        ("ovolo", "supports"),
        ("cyma reversa", "supports"),
        ("cyma recta", "terminates"),
        ("cavetto", "terminates"),
        ("fillet", "binds"),
        ("astragal", "binds"),
        ("torus", "binds"),
        ("scotia", "separates"),
    ],
)
def test_what_each_member_does(kind, does):
    """Hatfield, art. 310."""
    assert member(kind, 1, 1).action == does


def test_every_kind_names_a_source_and_a_known_action():
    for kind in LIBRARY.mouldings:
        assert kind.action in ("supports", "terminates", "binds", "separates")
        assert kind.source


GOOD = (
    "fillet 1/4; ovolo 1/2 x 3/4; fillet 1/4 x 7/8; cyma recta 1 x 1 7/8; fillet 1/4",
    "fillet 1/4; cyma reversa 3/4 x 1; corona 1 1/2 x 2; fillet 1/4; cyma recta 1 x 3; fillet 1/4 x 3 1/8",
    "fascia 5 x 3/4; cyma recta 1 x 3/4; fillet 1/4 x 1/4",
)


@pytest.mark.parametrize("text", GOOD)
def test_a_sound_profile_has_no_fault(text):
    assert faults(profile(parse_members(text), "cornice")) == ()


@pytest.mark.parametrize(
    ("text", "role", "says"),
    [
        ("fillet 1/4; cavetto 1 x 1; fillet 1/4; corona 1 x 2", "crown", "terminates a profile, but carries a corona"),
        ("cyma recta 1 x 1; fillet 1/4 x 3", "crown", "carries a fillet"),
        ("ovolo 1 x 1; cavetto 1 x 2", "crown", "no fillet to part them"),
        ("corona 1 x 2; fillet 1/4; ovolo 1 x 3", "cornice", "no bed mould below it"),
        ("fillet 1/4; cavetto 1 x 1; fillet 1/4; corona 1 x 2", "cornice", "no bed mould below it"),
        ("fascia 2 x 1; ovolo 1 x 1; fillet 1 x 1", "base", "nowhere to run"),
        ("fascia 2 x 1/4; scotia 1 x 1/4; fillet 1/4 x 1/4", "base", "cut through to the wall"),
    ],
)
def test_a_broken_rule_is_told(text, role, says):
    assert any(says in fault for fault in faults(profile(parse_members(text), role)))


def test_bad_sizes_are_told():
    sound = profile(parse_members(GOOD[0]), "crown")
    assert "no members" in faults(replace(sound, members=()))[0]
    assert "members sum to 2 1/4 in" in faults(replace(sound, height=3.0))[0]
    assert "members reach 1 7/8 in" in faults(replace(sound, projection=3.0))[0]
    for bad in (0.0, -1.0, float("nan"), float("inf")):
        assert "above zero" in faults(profile([member("ovolo", bad, 1.0)]))[0]
        assert "above zero" in faults(profile([member("ovolo", 1.0, bad)]))[0]
    assert "semicircle" in faults(profile([member("bead", 1.0, 0.25)]))[0]
    with pytest.raises(ValueError, match="no moulding is called 'wiggle'"):
        member("wiggle", 1.0, 1.0)


def test_an_arc_that_is_no_quarter_keeps_its_tangent_along_its_longer_side():
    high, deep = (member_outlines(rising("ovolo", *size))[0][0] for size in ((1.0, 2.0), (2.0, 1.0)))
    assert tangent(high, at_end=True) == pytest.approx((0.0, 1.0), abs=1e-9)
    assert tangent(deep) == pytest.approx((1.0, 0.0), abs=1e-9)
    assert degrees(atan2(*reversed(tangent(deep, at_end=True)))) < 90.0
    assert isinstance(member_outlines(rising("fascia", 1.0, 2.0))[0][0], Line)
