"""What stands round openings, by kind, tier and period. Common practice unless a test names its source."""

from dataclasses import replace
from typing import NamedTuple

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace as with_row
from shapely import Polygon, box, unary_union

from planner.library import standard
from planner.library.trim_rows import CasingJoint
from planner.walls.openings import UNCASED, Aperture, casing_of, joint, reach_above, surround
from planner.walls.parts import Part, Side
from tests.known import package
from tests.walls.trim import altered, trim, with_style, without

LIBRARY = standard()
STYLES = LIBRARY.style_names
DOOR = Aperture("Door", "door", 60.0, 96.0, 0.0, 84.0, "Hall")
CASED = DOOR._replace(name="Arch", kind="cased opening", x1=132.0)
WINDOW = Aperture("Window", "window", 60.0, 93.0, 30.0, 96.0, "outside")
HEARTH = Aperture("Fire", "fireplace", 60.0, 102.0, 0.0, 36.0)
TIERS = [(style, tier, ceiling) for style in STYLES for tier in range(1, 6) for ceiling in (96.0, 108.0, 120.0)]


def around(opening, package_, library=LIBRARY):
    return surround(opening, package_, library)


def of(found, part):
    return [s for s in found.solids if s.part is part]


@pytest.mark.parametrize(("style", "tier", "ceiling"), TIERS)
def test_whatever_stands_round_an_opening_leaves_it_free_and_nothing_overlaps(style, tier, ceiling):
    package_ = trim(tier, ceiling, style)
    for opening in (DOOR, CASED, WINDOW):
        found = around(opening, package_)
        free = box(opening.x0, opening.y0, opening.x1, opening.y1)
        shapes = [Polygon(s.corners) for s in found.solids]
        assert shapes
        assert unary_union(shapes).intersection(free).area == pytest.approx(0)
        assert unary_union(shapes).area == pytest.approx(sum(s.area for s in shapes))
        assert found.top == pytest.approx(reach_above(opening, package_, LIBRARY))
        assert {s.opening for s in found.solids} == {opening.name}


@pytest.mark.parametrize(("style", "tier", "ceiling"), TIERS)
def test_a_surround_is_the_same_from_left_and_right(style, tier, ceiling):
    found = around(DOOR, trim(tier, ceiling, style))
    whole = unary_union([Polygon(s.corners) for s in found.solids])
    axis = DOOR.x0 + DOOR.x1
    mirrored = unary_union([Polygon([(axis - x, y) for x, y in s.corners]) for s in found.solids])
    assert whole.symmetric_difference(mirrored).area == pytest.approx(0, abs=1e-6)
    sides = [s.side for s in found.solids]
    assert sides.count(Side.LEFT) == sides.count(Side.RIGHT) > 0


def test_the_reach_above_an_opening_is_told_without_its_overdoor_too():
    state = trim(5)
    overdoor = sum(height for _, height in state.element("overdoor").parts)
    assert reach_above(DOOR, state, LIBRARY, crowned=False) == pytest.approx(around(DOOR, state).top - overdoor)
    (shelf,) = of(around(HEARTH, state), Part.MANTEL_SHELF)
    assert reach_above(HEARTH, state, LIBRARY) == pytest.approx(shelf.y1)
    plain = without(state, "overmantel", "mantel")
    assert reach_above(HEARTH, plain, LIBRARY) == pytest.approx(around(HEARTH, plain).top)
    assert reach_above(DOOR._replace(kind="open"), state, LIBRARY) == DOOR.y1


def test_a_surround_takes_the_wall_where_its_trim_or_its_opening_is():
    found = around(WINDOW, trim(3))
    assert found.span(0, found.bottom) is None
    assert found.span(found.bottom, found.bottom + 1) == (of(found, Part.APRON)[0].x0, of(found, Part.APRON)[0].x1)
    head = of(found, Part.HEAD)[-1]
    assert found.span(WINDOW.y1 - 1, WINDOW.y1) == (head.x0, head.x1)
    bare = around(DOOR._replace(kind="open"), trim(4))
    assert bare.span(0, 10) == (60, 96)
    assert bare.span(84, 90) is None
    assert (bare.left, bare.right, bare.bottom, bare.top) == (60, 96, 0, 84)


@pytest.mark.parametrize("style", STYLES)
def test_plinth_blocks_are_thicker_than_the_base_that_dies_into_them(style):
    for tier in range(1, 6):
        base, plinth = (trim(tier, style=style).element(e) for e in ("base", "plinth block"))
        if plinth is not None:
            assert plinth.projection > base.projection


def test_plinth_blocks_stand_proud_of_the_casing_and_carry_its_legs():
    package_ = trim(5)
    found = around(DOOR, package_)
    left, right = of(found, Part.PLINTH_BLOCK)
    legs = of(found, Part.LEG)
    assert (left.side, right.side) == (Side.LEFT, Side.RIGHT)
    assert left.x1 == legs[0].x1 == DOOR.x0 - 0.25
    assert right.x0 == DOOR.x1 + 0.25
    assert left.width == right.width == package_.element("casing").size + LIBRARY.style("georgian").plinth.proud
    assert left.y1 == legs[0].y0 == package_.element("plinth block").size


def test_a_plinth_block_as_high_as_the_opening_is_left_out():
    for under in (0.25, 1.0):
        low = DOOR._replace(y1=trim(5).element("plinth block").size - under)
        assert of(around(low, trim(5)), Part.PLINTH_BLOCK) == []
        assert {s.y0 for s in of(around(low, trim(5)), Part.LEG)} == {0}


def test_a_period_says_whether_its_blocks_are_decorated():
    """Victorian blocks are tall, with a decorated face; Georgian ones are plain."""
    assert {s.decorated for s in of(around(DOOR, trim(5, style="victorian")), Part.PLINTH_BLOCK)} == {True}
    assert {s.decorated for s in of(around(DOOR, trim(5)), Part.PLINTH_BLOCK)} == {False}


def test_a_new_period_brings_its_own_plinth_blocks_and_joints():
    """Its rules are found by its own name, as those of the periods that come along are."""
    georgian = LIBRARY.style("georgian")
    plinth = with_row(georgian.plinth, proud=0.5, decorated=True)
    casing = CasingJoint(joint="butted", source="common practice")
    library = replace(LIBRARY, styles=(*LIBRARY.styles, with_row(georgian, name="ours", plinth=plinth, casing=casing)))
    package_ = with_style(without(trim(4), "crossette"), "ours")
    found = surround(DOOR, package_, library)
    assert {s.decorated for s in of(found, Part.PLINTH_BLOCK)} == {True}
    assert of(found, Part.PLINTH_BLOCK)[0].width == package_.element("casing").size + 0.5
    assert joint(package_, library) == "butted"
    assert len(of(found, Part.HEAD)[0].corners) == 4 and of(found, Part.LEG)[0].y1 == DOOR.y1 + 0.25


def test_blocks_of_a_period_under_a_cornice_are_as_wide_as_the_casing():
    georgian = LIBRARY.style("georgian")
    casing = CasingJoint(joint="blocked corners", source="common practice")
    library = replace(LIBRARY, styles=(*LIBRARY.styles, with_row(georgian, name="ours", casing=casing)))
    package_ = with_style(trim(5), "ours")
    found = surround(DOOR, package_, library)
    assert [s.form for s in of(found, Part.OVERDOOR)] == ["frieze", "cornice"]
    assert {s.width for s in of(found, Part.CORNER_BLOCK)} == {package_.element("casing").size}
    assert found.top == pytest.approx(reach_above(DOOR, package_, library))
    blocks = trim(4, style="victorian")
    assert around(DOOR, blocks).top == pytest.approx(reach_above(DOOR, blocks, LIBRARY))


def test_the_stool_runs_past_the_casing_and_the_apron_hangs_under_it():
    found = around(WINDOW, without(trim(3), "backband"))
    (stool,), (apron,), (left, _) = (of(found, p) for p in (Part.STOOL, Part.APRON, Part.LEG))
    assert stool.y1 == WINDOW.y0 == left.y0
    assert left.x0 - stool.x0 == LIBRARY.surrounds.stool.horn
    assert left.x0 == apron.x0
    assert apron.y1 == stool.y0
    assert apron.height == trim(3).element("apron").size


def test_a_window_near_the_floor_has_no_apron_and_one_on_it_no_stool():
    base, apron, stool = (trim(3).element(e).size for e in ("base", "apron", "stool"))
    just = WINDOW._replace(y0=base + apron + stool)
    assert of(around(just, trim(3)), Part.APRON)
    low = around(just._replace(y0=just.y0 - 1 / 16), trim(3))
    assert of(low, Part.APRON) == [] and of(low, Part.STOOL)
    french = around(WINDOW._replace(y0=0.0), trim(4))
    assert not {Part.STOOL, Part.APRON} & {s.part for s in french.solids}


@pytest.mark.parametrize(
    ("rail", "stool"), [(30.0, False), (30.05, False), (30.0625, True), (31.0, True), (24.0, True), (None, True)]
)
def test_in_a_wainscoted_room_there_is_no_apron_and_the_rail_at_the_sill_is_the_stool(rail, stool):
    """A sill at 30 in: the rail's top there, above it, and below it."""
    assert trim(4).element("wainscot") is not None and trim(3).element("wainscot") is None
    found = surround(WINDOW, trim(4), LIBRARY, rail)
    assert (bool(of(found, Part.STOOL)), bool(of(found, Part.APRON))) == (stool, False)
    plain = surround(WINDOW, trim(3), LIBRARY, rail)
    assert of(plain, Part.STOOL) and of(plain, Part.APRON)


def test_joints_follow_period_and_overdoor():
    assert joint(trim(5, style="craftsman"), LIBRARY) == "butted"
    assert joint(trim(2, style="craftsman"), LIBRARY) == "butted"
    assert joint(trim(5), LIBRARY) == "mitred"
    blocks = with_style(altered(trim(5), "overdoor", form="corner blocks", parts=()), "georgian")
    assert joint(blocks, LIBRARY) == "blocked corners"
    assert joint(blocks, LIBRARY, "window") == "mitred"
    assert len(of(around(DOOR, blocks), Part.CORNER_BLOCK)) == 2
    assert of(around(WINDOW, blocks), Part.CORNER_BLOCK) == []
    victorian = trim(4, style="victorian")
    block = of(around(DOOR, victorian), Part.CORNER_BLOCK)[0]
    assert block.width == block.height == victorian.element("overdoor").size == victorian.element("casing").size + 0.25


def test_ears_drop_about_a_foot_and_at_most_sixteen_inches():
    """On openings of 36 and 72 in whose casing is a backband of an inch and a quarter and what it goes round."""
    banded = replace(trim(3), elements=(*trim(3).elements, trim(4).element("crossette")))
    drops = [of(around(opening, banded), Part.UPRIGHT)[0].height for opening in (DOOR, CASED)]
    assert drops == [12.0, 16.0]


@pytest.mark.parametrize(("style", "tier", "ceiling"), [(*t[:2], h) for t in TIERS for h in (t[2], 144.0)])
def test_ears_keep_within_their_limits_on_doors_and_windows(style, tier, ceiling):
    """A kick of 1 to 2 in (Cousins and Riley), a drop of 12 to 16 (common practice)."""
    package_ = trim(tier, ceiling, style)
    for opening in (DOOR, CASED, WINDOW):
        found = around(opening, package_)
        if ears := of(found, Part.UPRIGHT) + of(found, Part.UPPER_LEG):
            assert 12 <= ears[0].height <= 16
            legs = min(s.x0 for s in of(found, Part.LEG))
            assert 1 <= legs - min(s.x0 for s in of(found, Part.HEAD)) <= 2


def test_a_casing_too_wide_to_turn_within_sixteen_inches_breaks_only_its_outer_moulding():
    wide = altered(trim(5), "casing", size=8.0)
    found = around(DOOR, wide)
    assert {s.element for s in of(found, Part.UPRIGHT)} == {"backband"}
    assert of(found, Part.UPRIGHT)[0].height == 12
    assert {s.element for s in of(around(DOOR, altered(trim(5), "casing", size=7.5)), Part.UPRIGHT)} == {"casing"}


def test_of_a_broken_outer_moulding_the_fasciae_run_straight_up():
    broken = altered(trim(5), "crossette", form="broken outer moulding")
    found = around(DOOR, broken)
    casing = broken.element("casing")
    inside = [s for s in of(found, Part.LEG) if s.element == "casing"]
    assert {round(s.width, 6) for s in inside} == {round(casing.size * 5 / 6, 6)}
    assert {s.projection for s in inside} == {casing.ground + casing.thickness}
    assert {s.projection for s in of(found, Part.UPRIGHT)} == {casing.projection}


def test_ears_are_left_out_where_a_low_opening_has_no_room_for_them():
    plinth, casing = (trim(5).element(e).size for e in ("plinth block", "casing"))
    drop = min(max(12.0, 2 * casing + 2.0), 16.0)
    low = DOOR._replace(y1=plinth + drop - casing - 0.25)
    assert of(around(low, trim(5)), Part.EAR) == []
    assert of(around(low._replace(y1=low.y1 + 1 / 16), trim(5)), Part.EAR)


def test_windows_have_the_ears_of_the_doors_by_as_much_less_as_their_casing_is_narrower():
    package_ = altered(trim(5), "crossette", size=1.5)
    (left, _), (head,) = of(around(WINDOW, package_), Part.LEG), of(around(WINDOW, package_), Part.HEAD)
    share = package_.element("window casing").size / package_.element("casing").size
    assert left.x0 - head.x0 == pytest.approx(1.5 * share) and share < 1


@pytest.mark.parametrize(("style", "tier", "ceiling"), [(*t[:2], h) for t in TIERS for h in (t[2], 144.0)])
def test_no_window_has_a_larger_head_than_the_doors(style, tier, ceiling):
    """One design for all openings of a room: L. H. Gibson (1889); the window's is the smaller: common practice."""
    package_ = trim(tier, ceiling, style)
    over, head = package_.element("overdoor"), package_.element("window head")
    assert (over is None) == (head is None)
    if over is not None and head is not None:
        assert head.form == over.form and head.size <= over.size
        heights = [crowned.y1 - max(s.y0 for s in of(crowned, Part.HEAD)) for crowned in map_top(package_)]
        assert heights[1] <= heights[0]


class Crowned(NamedTuple):
    """What stands round an opening, and how high it goes [in]."""

    solids: tuple
    y1: float


def map_top(package_):
    """A door and a window of one height under a high ceiling."""
    for opening in (DOOR, WINDOW._replace(y1=DOOR.y1)):
        found = around(opening, package_)
        yield Crowned(found.solids, found.top)


def test_a_window_whose_head_comes_too_near_to_the_crown_goes_without_a_cornice_on_it():
    package_ = trim(5)
    crown = 120.0 - package_.element("crown").size
    casing, over = (package_.element(e).size for e in ("window casing", "window head"))
    fits = crown - 1.5 - over - casing - 0.25
    assert of(around(WINDOW._replace(y1=fits), package_), Part.WINDOW_HEAD)
    near = around(WINDOW._replace(y1=fits + 1 / 16), package_)
    assert of(near, Part.WINDOW_HEAD) == [] and of(near, Part.HEAD)
    assert near.top == pytest.approx(reach_above(near.aperture, package_, LIBRARY))


def test_rosettes_and_turned_blocks_follow_what_the_tier_carries():
    best = altered(trim(5), "crossette", enrichments=("rosettes",))
    assert len(of(around(DOOR, best), Part.ROSETTE)) == len(of(around(WINDOW, best), Part.ROSETTE)) == 2
    assert of(around(DOOR, altered(best, "crossette", enrichments=())), Part.ROSETTE) == []
    victorian = trim(4, style="victorian")
    for opening, element in ((DOOR, "overdoor"), (WINDOW, "window head")):
        turned = altered(victorian, element, enrichments=("bull's-eyes",))
        blank = altered(victorian, element, enrichments=())
        assert {s.decorated for s in of(around(opening, turned), Part.CORNER_BLOCK)} == {True}
        assert {s.decorated for s in of(around(opening, blank), Part.CORNER_BLOCK)} == {False}


def test_a_let_in_block_kicks_the_whole_casing_out():
    federal = trim(5, style="federal")
    found = around(DOOR, federal)
    assert {s.part for s in found.solids} >= {Part.UPPER_LEG, Part.BLOCK}
    assert {s.element for s in found.solids} >= {"casing", "crossette"}


def test_a_casing_kicked_out_by_a_block_has_no_backband_and_stands_out_whole():
    federal = trim(5, style="federal")
    banded = replace(federal, elements=(*federal.elements, trim(3).element("backband")))
    casings = [s for s in around(DOOR, banded).solids if s.element in ("casing", "backband")]
    assert {s.element for s in casings} == {"casing"}
    assert {s.projection for s in casings} == {federal.element("casing").projection}
    assert federal.element("casing").projection != federal.element("casing").thickness


def test_an_overdoor_reaches_out_as_far_as_it_stands_forward_of_the_casing():
    package_ = trim(5)
    overdoor, casing = package_.element("overdoor"), package_.element("casing")
    found = around(DOOR, package_)
    frieze, cornice = of(found, Part.OVERDOOR)
    head = of(found, Part.HEAD)[0]
    assert (frieze.x0, frieze.x1) == (head.x0, head.x1)
    assert head.x0 - cornice.x0 == pytest.approx(overdoor.projection - casing.ground - casing.thickness)
    assert cornice.projection == overdoor.projection
    assert frieze.projection == casing.ground + casing.thickness
    assert (frieze.form, cornice.form) == ("frieze", "cornice")
    assert (frieze.y0, cornice.y1) == (head.y1, pytest.approx(head.y1 + sum(h for _, h in overdoor.parts)))


def test_a_fillet_reaches_a_third_as_far_as_the_cap_above_it():
    package_ = trim(5, style="craftsman")
    overdoor, casing = package_.element("overdoor"), package_.element("casing")
    assert [part for part, _ in overdoor.parts] == ["fillet", "cap"]
    found = around(DOOR, package_)
    fillet, cap = of(found, Part.OVERDOOR)
    head = of(found, Part.HEAD)[0]
    face = casing.ground + casing.thickness
    out = max(0.5, overdoor.projection - face)
    assert head.x0 - cap.x0 == pytest.approx(out)
    assert (head.x0 - fillet.x0, fillet.x1 - head.x1) == pytest.approx((out / 3, out / 3))
    assert fillet.projection == pytest.approx(face + out / 3)
    flush = around(DOOR, altered(package_, "overdoor", projection=face))
    assert head.x0 - of(flush, Part.OVERDOOR)[1].x0 == pytest.approx(0.5)


def test_a_backband_stands_before_its_casing():
    found = around(DOOR, trim(3))
    stands = {s.element: s.projection for s in found.solids if s.part is Part.LEG}
    casing, band = trim(3).element("casing"), trim(3).element("backband")
    assert stands == {"casing": casing.thickness, "backband": max(band.projection, casing.projection)}
    flush = around(DOOR, altered(trim(3), "backband", projection=0.5))
    assert {s.projection for s in flush.solids if s.element == "backband"} == {casing.projection}


def test_a_window_takes_the_doors_casing_where_it_has_none_of_its_own():
    package_ = trim(4)
    assert casing_of("window", package_).element == "window casing"
    assert casing_of("window", without(package_, "window casing")).element == "casing"
    assert casing_of("door", package_).element == "casing"


def test_an_open_passage_has_no_casing():
    for kind in UNCASED:
        assert casing_of(kind, trim(5)) is None
        assert around(DOOR._replace(kind=kind), trim(5)).solids == ()
    assert around(DOOR, without(trim(5), "casing")).solids == ()


@pytest.mark.parametrize("edges", [(60, 60, 0, 84), (96, 60, 0, 84), (60, 96, 84, 84), (60, 96, -9, 0)])
def test_an_opening_without_size_has_nothing_round_it(edges):
    opening = Aperture("Odd", "door", *map(float, edges))
    assert not opening.is_open
    assert around(opening, trim(5)).solids == ()


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
    found = around(opening, package(style, "doric", rung, ceiling, top=5))
    assert found.solids == () or opening.is_open
    assert all(s.x0 < s.x1 and s.y0 < s.y1 for s in found.solids)
