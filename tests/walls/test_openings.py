"""What stands round openings, by kind, tier and period. Common practice unless a test names its source."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon, box, unary_union

from planner.trim.packages import package
from planner.trim.styles import STYLES
from planner.walls.openings import Aperture, casing_of, joint, meeting, plinth_rule, reach_above, surround

DOOR = Aperture("Door", "door", 60.0, 96.0, 0.0, 84.0, "Hall")
CASED = DOOR._replace(name="Arch", kind="cased opening", x1=132.0)
WINDOW = Aperture("Window", "window", 60.0, 93.0, 30.0, 96.0, "outside")
HEARTH = Aperture("Fire", "fireplace", 60.0, 102.0, 0.0, 36.0)
TIERS = [(style, tier, ceiling) for style in STYLES for tier in range(1, 6) for ceiling in (96.0, 108.0, 120.0)]


def trim(style: str, tier: int, ceiling: float = 120.0):
    return package(style, "doric", tier, ceiling, top=5)


@pytest.mark.parametrize(("style", "tier", "ceiling"), TIERS)
def test_whatever_stands_round_an_opening_leaves_it_free_and_nothing_overlaps(style, tier, ceiling):
    for opening in (DOOR, CASED, WINDOW):
        around = surround(opening, trim(style, tier, ceiling), style)
        free = box(opening.x0, opening.y0, opening.x1, opening.y1)
        shapes = [Polygon(s.corners) for s in around.solids]
        assert shapes
        assert unary_union(shapes).intersection(free).area == pytest.approx(0)
        assert unary_union(shapes).area == pytest.approx(sum(s.area for s in shapes))
        assert around.top == pytest.approx(reach_above(opening, trim(style, tier, ceiling)))


@pytest.mark.parametrize(("style", "tier", "ceiling"), TIERS)
def test_a_surround_is_the_same_from_left_and_right(style, tier, ceiling):
    around = surround(DOOR, trim(style, tier, ceiling), style)
    whole = unary_union([Polygon(s.corners) for s in around.solids])
    axis = DOOR.x0 + DOOR.x1
    mirrored = unary_union([Polygon([(axis - x, y) for x, y in s.corners]) for s in around.solids])
    assert whole.symmetric_difference(mirrored).area == pytest.approx(0, abs=1e-6)


@pytest.mark.parametrize("style", STYLES)
def test_plinth_blocks_are_thicker_than_the_base_that_dies_into_them(style):
    for tier in range(1, 6):
        base, plinth = trim(style, tier).element("base"), trim(style, tier).element("plinth block")
        if plinth is not None:
            assert plinth.projection > base.projection


def test_plinth_blocks_by_period():
    """Georgian as high as the base, Federal somewhat taller, Victorian tall with a decorated face."""
    rules = {style: plinth_rule(style) for style in ("georgian", "federal", "victorian")}
    assert rules["georgian"]["least"] == rules["georgian"]["most"] == 1
    assert rules["georgian"]["most"] < rules["federal"]["least"] < rules["victorian"]["least"]
    assert [rules[style]["decorated"] for style in rules] == [False, False, True]
    assert set(STYLES) == {row["style"] for row in map(plinth_rule, STYLES)}


def test_the_stool_runs_past_the_casing_and_the_apron_hangs_under_it():
    solids = {s.name: s for s in surround(WINDOW, trim("georgian", 4), "georgian").solids}
    stool, apron, leg = solids["stool"], solids["apron"], solids["left leg"]
    assert stool.y1 == WINDOW.y0 == leg.y0
    assert stool.x0 < leg.x0 == apron.x0
    assert apron.y1 == stool.y0


def test_joints_follow_period_and_overdoor():
    assert joint("craftsman", "cap on a head board") == joint("craftsman", "") == "butted"
    assert joint("victorian", "corner blocks") == "blocked corners"
    assert joint("georgian", "frieze and cornice") == "mitred"


def test_ears_drop_more_on_a_larger_opening():
    def ear(opening):
        around = surround(opening, trim("georgian", 5), "georgian")
        return next(s for s in around.solids if s.name == "left upright of the ear").height

    assert ear(CASED) > ear(DOOR) >= 12


def test_a_fireplace_keeps_wood_off_the_firebox():
    """At least 6 in: IRC R1001.11, from memory."""
    legs = [s for s in surround(HEARTH, trim("georgian", 5), "georgian").solids if "leg" in s.name]
    assert all(HEARTH.x0 - s.x1 >= 6 or s.x0 - HEARTH.x1 >= 6 for s in legs)


def test_an_open_passage_has_no_casing():
    for kind in ("open", "stair"):
        assert casing_of(kind, trim("georgian", 5)) is None
        assert surround(DOOR._replace(kind=kind), trim("georgian", 5), "georgian").solids == ()


def test_each_face_of_a_door_carries_its_own_rooms_trim_on_one_head_line():
    high, low = trim("georgian", 5), trim("georgian", 2)
    met = meeting(DOOR, high, low, "georgian")
    assert met.head == pytest.approx(84.25)
    assert met.near_top == pytest.approx(surround(DOOR, high, "georgian").top)
    assert met.far_top == pytest.approx(84.25 + low.element("casing").size)
    assert any("chair rail" in words for words in met.words)
    assert meeting(DOOR, low, high, "georgian").near_top == met.far_top


def test_a_meeting_says_where_crown_chair_rail_and_base_stop():
    words = " ".join(meeting(CASED, trim("georgian", 5), trim("georgian", 4), "georgian").words)
    assert all(word in words for word in ("crown", "chair rail", "ase"))
    lower = meeting(CASED, trim("georgian", 5), trim("georgian", 4, 108.0), "georgian")
    assert any("ceilings differ by 1'-0\"" in sentence for sentence in lower.words)
    flowing = meeting(DOOR._replace(kind="open"), trim("georgian", 5), trim("georgian", 4), "georgian")
    assert any("must share a tier" in sentence for sentence in flowing.words)
    assert any("crown of each room runs on over the head" in sentence for sentence in flowing.words)
    to_the_ceiling = meeting(DOOR._replace(kind="open", y1=120.0), trim("georgian", 5), trim("georgian", 5), "georgian")
    assert any("crown turn the wall's end" in sentence for sentence in to_the_ceiling.words)


LENGTHS = st.floats(-50, 400, allow_nan=False)


@settings(deadline=None, max_examples=300)
@given(
    st.sampled_from(["door", "double door", "cased opening", "open", "window", "fireplace", "stair"]),
    st.tuples(LENGTHS, LENGTHS, LENGTHS, LENGTHS),
    st.sampled_from(TIERS),
)
def test_no_opening_however_odd_breaks_the_layout(kind, edges, tier):
    style, rung, ceiling = tier
    opening = Aperture("Odd", kind, *edges)
    around = surround(opening, trim(style, rung, ceiling), style)
    assert around.solids == () or opening.is_open
    assert all(s.x0 < s.x1 and s.y0 < s.y1 for s in around.solids)
