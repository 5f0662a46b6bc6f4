"""What stands round a firebox. Common practice unless a test names its source."""

from dataclasses import replace

import pytest
from shapely import Polygon, unary_union

from planner.library import standard
from planner.walls.openings import Aperture, surround
from planner.walls.parts import Part, Side
from planner.walls.solids import overlaps
from tests.walls.trim import altered, trim, without

LIBRARY = standard()
STYLES = LIBRARY.style_names
HEARTH = Aperture("Fire", "fireplace", 60.0, 102.0, 0.0, 36.0)
LADDER = [(style, tier, ceiling) for style in STYLES for tier in range(1, 6) for ceiling in (96.0, 108.0, 120.0, 144.0)]
FORMS = LIBRARY.form_names("mantel")


def solids(package, hearth=HEARTH):
    return surround(hearth, package, LIBRARY).solids


def of(package, part, hearth=HEARTH):
    return [s for s in solids(package, hearth) if s.part is part]


def with_mantel(form):
    """The best Georgian room with a mantel of a form."""
    shapes = LIBRARY.form("mantel", form)
    parts = tuple((part.part, 9.0 * part.share) for part in shapes.parts)
    return altered(trim(5), "mantel", form=form, size=9.0, parts=parts, projection=shapes.projection)


@pytest.mark.parametrize("package", [trim(t, h, s) for s, t, h in LADDER] + [with_mantel(form) for form in FORMS])
def test_pieces_do_not_overlap_and_are_the_same_from_left_and_right_of_the_hearths_axis(package):
    found = solids(package)
    assert overlaps(found) == []
    axis = HEARTH.x0 + HEARTH.x1
    whole = unary_union([Polygon(s.corners) for s in found])
    mirrored = unary_union([Polygon([(axis - x, y) for x, y in s.corners]) for s in found])
    assert whole.symmetric_difference(mirrored).area == pytest.approx(0, abs=1e-6)
    sides = [s.side for s in found]
    assert sides.count(Side.LEFT) == sides.count(Side.RIGHT) > 0


@pytest.mark.parametrize("package", [trim(t, h, s) for s, t, h in LADDER] + [with_mantel(form) for form in FORMS])
def test_wood_keeps_eight_inches_off_the_firebox_and_what_stands_out_far_keeps_a_foot(package):
    """At least 6 in, and 12 for what stands out as far as a shelf does: IRC R1001.11, from memory."""
    for s in solids(package):
        beside = max(HEARTH.x0 - s.x1, s.x0 - HEARTH.x1, s.y0 - HEARTH.y1)
        assert beside >= LIBRARY.surrounds.hearth.clear - 1 / 8 >= 6
        if s.projection - package.element("casing").ground >= 2:
            assert s.y0 - HEARTH.y1 >= 12


@pytest.mark.parametrize("style", STYLES)
def test_a_mantel_grows_with_its_tier(style):
    sizes = [trim(tier, style=style).element("mantel").size for tier in range(1, 6)]
    assert sizes == sorted(sizes) and sizes[0] < sizes[-1]


def test_an_eared_chimneypiece_by_hand():
    """A casing of 6 in round a firebox 42 by 36 with slips of 8: ears an inch and a quarter out, 9 down; on it a frieze
    of 4, a bed mould of 3 and a shelf of 1 1/4 that runs three inches past the ears."""
    room = altered(trim(5), "casing", size=6.0, projection=1.5, thickness=1.0)
    room = altered(room, "crossette", size=1.25)
    room = altered(room, "mantel", parts=(("frieze", 4.0), ("bed mould", 3.0), ("shelf", 1.25)), size=8.25)
    room = without(room, "overmantel")
    base = room.element("base").size
    (head,) = [s for s in of(room, Part.HEAD) if s.element == "backband"]
    assert (head.x0, head.x1, head.y1) == (60 - 8 - 6 - 1.25, 102 + 8 + 6 + 1.25, 36 + 8 + 6)
    ears = of(room, Part.UPRIGHT)
    assert {s.y0 for s in ears} == {50 - 9.0}
    plinths = of(room, Part.PLINTH)
    assert [(s.x0, s.x1, s.y1) for s in plinths] == [(45.875, 52.0, base), (110.0, 116.125, base)]
    assert {s.y0 for s in of(room, Part.LEG)} == {base}
    frieze, bed = of(room, Part.MANTEL)
    (shelf,) = of(room, Part.MANTEL_SHELF)
    assert (frieze.y0, frieze.y1, bed.y1, shelf.y1) == (50.0, 54.0, 57.0, 58.25)
    assert (frieze.x0, bed.x0, shelf.x0) == (head.x0, head.x0 - 1.5, head.x0 - 3.0)
    assert (frieze.form, bed.form, shelf.name) == ("frieze", "bed mould", "mantel shelf")
    assert shelf.projection == room.element("mantel").projection


def test_pilasters_carry_an_entablature_in_the_place_of_a_head():
    federal = trim(5, style="federal")
    width = federal.element("casing").size
    (left, right), (capital, _) = of(federal, Part.PILASTER), of(federal, Part.CAPITAL)
    assert (left.x0, left.x1, right.x0) == (52 - width, 52.0, 110.0)
    assert left.y0 == of(federal, Part.PLINTH)[0].y1
    assert (capital.y0, capital.y1) == (left.y1, 44.0) and capital.y1 - capital.y0 == pytest.approx(width / 2)
    architrave, frieze, bed = of(federal, Part.MANTEL)
    assert [s.form for s in (architrave, frieze, bed)] == ["architrave", "frieze", "bed mould"]
    assert architrave.y0 == 44.0 and of(federal, Part.HEAD) == of(federal, Part.LEG) == []


def test_a_shelf_on_brackets_has_one_on_the_axis_of_a_wide_hearth():
    craftsman = trim(5, style="craftsman")
    assert {s.side for s in of(craftsman, Part.BRACKET)} == {Side.LEFT, Side.RIGHT, Side.NONE}
    narrow = HEARTH._replace(x1=HEARTH.x0 + 30.0)
    assert {s.side for s in of(craftsman, Part.BRACKET, narrow)} == {Side.LEFT, Side.RIGHT}
    (board,), brackets = of(craftsman, Part.MANTEL), of(craftsman, Part.BRACKET)
    assert {(s.y0, s.y1) for s in brackets} == {(board.y0, board.y1)}
    (shelf,) = of(craftsman, Part.MANTEL_SHELF)
    assert all(board.projection < s.projection < shelf.projection for s in brackets)


def test_blocks_of_a_victorian_chimneypiece_are_as_wide_as_its_casing():
    victorian = trim(4, style="victorian")
    blocks = of(victorian, Part.CORNER_BLOCK)
    assert {s.element for s in blocks} == {"mantel"}
    assert {round(s.width, 6) for s in blocks} == {victorian.element("casing").size}


def test_one_panel_stands_on_the_chimney_breast_between_shelf_and_crown():
    """F. Kimball, Domestic Architecture of the American Colonies and of the Early Republic (1922): a single large panel
    framed by an architrave. Four inches of wall are left above the shelf and at least as much below the crown."""
    for room in (trim(5), trim(4), trim(5, 144.0)):
        (panel,), frame = of(room, Part.OVERMANTEL_PANEL), of(room, Part.OVERMANTEL_FRAME)
        (shelf,) = of(room, Part.MANTEL_SHELF)
        casing, width = room.element("casing").size, room.element("overmantel").size
        assert (min(s.x0 for s in frame), max(s.x1 for s in frame)) == (52 - casing, 110 + casing)
        assert panel.x0 == 52 - casing + width
        crown = room.ceiling - room.element("crown").size
        assert min(s.y0 for s in frame) - shelf.y1 == pytest.approx(4.0)
        assert 4.0 <= crown - max(s.y1 for s in frame) <= 4.125
        assert len(frame) == 4


def test_a_chimney_breast_too_low_for_a_panel_has_none():
    room = trim(4, 96.0)
    assert of(room, Part.OVERMANTEL_PANEL)
    crown = 96.0 - room.element("crown").size
    reach = of(room, Part.MANTEL_SHELF)[0].y1 - HEARTH.y1
    least = 2 * 4.0 + 12.0 + 2 * room.element("overmantel").size
    high = HEARTH._replace(y1=crown - reach - least + 0.25)
    assert of(room, Part.OVERMANTEL_PANEL, high) == [] and of(room, Part.MANTEL_SHELF, high)


def test_a_panel_stays_below_the_picture_rail():
    victorian = trim(5, 144.0, "victorian")
    rail = replace(trim(3, 144.0, "victorian").element("picture rail"), bottom=100.0)
    hung = replace(victorian, elements=(*victorian.elements, rail))
    assert max(s.y1 for s in of(hung, Part.OVERMANTEL_FRAME)) <= 100.0 - 4.0


def test_without_a_mantel_the_casing_stands_alone_round_the_slips():
    bare = without(trim(5), "mantel", "overmantel")
    assert {s.part for s in solids(bare)} == {Part.LEG, Part.HEAD}


@pytest.mark.parametrize("size", [(6.0, 6.0), (20.0, 4.0), (200.0, 90.0), (42.0, 1.0)])
@pytest.mark.parametrize("form", FORMS)
def test_no_firebox_however_odd_breaks_a_form(form, size):
    odd = HEARTH._replace(x1=HEARTH.x0 + size[0], y1=size[1])
    found = solids(with_mantel(form), odd)
    assert found and all(s.x0 < s.x1 and s.y0 < s.y1 for s in found)


def test_every_form_of_mantel_says_how_it_is_made():
    assert {row.form for row in LIBRARY.surrounds.mantels} == set(FORMS)
