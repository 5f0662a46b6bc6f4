"""Sections and the ladder: measured on what is drawn, not on what is written."""

from itertools import pairwise

import pytest
from shapely.geometry import box

from planner.drawings.dimensions import String
from planner.drawings.profiles import face_points, shades
from planner.drawings.scene import Dimension, Path, Text, flat, parts, text_box
from planner.drawings.section import closing, element_section, ladder, section, spread
from planner.mouldings import order_members
from planner.mouldings.curves import points
from planner.mouldings.members import faults, parse_members, polygon, profile
from planner.trim import orders
from planner.trim.packages import package
from planner.trim.sections import WITHOUT_SECTION, Placed, profile_of, sections
from planner.trim.styles import STYLES

CEILINGS = (96.0, 108.0, 120.0, 144.0)


def every_element():
    for style in STYLES:
        for order in orders.ORDERS:
            for tier in range(1, 6):
                for element in package(style, order, tier, 120.0, top=5).elements:
                    yield style, order, element


def test_every_run_of_moulding_has_a_section_of_its_own_size_that_keeps_the_rules():
    for style, order, element in every_element():
        placed = profile_of(element, order, style)
        assert bool(placed) is (element.element not in WITHOUT_SECTION), (style, element)
        if not placed:
            continue
        assert placed[-1].top == pytest.approx(element.size, abs=1e-6), (style, element)
        boarded = any(name in ("architrave", "frieze", "taenia") for name, _ in element.parts)
        board = element.thickness if boarded else 0.0
        assert max(p.reach for p in placed) == pytest.approx(element.projection + board, abs=0.02), (style, element)
        for p in placed:
            assert not faults(p.profile), (style, order, element.form, faults(p.profile))
            assert polygon(p.profile).is_valid


def test_the_greek_revival_draws_conics():
    state = sections(package("greek revival", "doric", 5, 120.0, top=5), "doric", "greek revival")
    assert all(m.greek for placed in state.values() for p in placed for m in p.profile.members)


@pytest.fixture(scope="module")
def entablature():
    element = package("georgian", "doric", 5, 120.0, top=5).element("crown")
    return element, element_section(element, "doric", "georgian")


def texts(scene):
    found = []
    for shape in flat(scene.shapes):
        if isinstance(shape, Dimension):
            shape = parts(shape)[1]
        if isinstance(shape, Text) and shape.text:
            found.append(shape)
    return found


def no_text_overlaps(scene):
    boxes = []
    for text in texts(scene):
        corners = text_box(text)
        xs, ys = [x for x, _ in corners], [y for _, y in corners]
        boxes.append((text.text, box(min(xs), min(ys), max(xs), max(ys))))
    for i, (one, a) in enumerate(boxes):
        for other, b in boxes[i + 1 :]:
            assert a.intersection(b).area < 1e-6, (one, other)


def test_the_entablature_is_drawn_as_large_as_it_is_built(entablature):
    """Common practice for a 120 in Georgian room: entablature about 19 in; the canon says 18.95 (Ware)."""
    element, scene = entablature
    (cut,) = [s for s in flat(scene.shapes) if isinstance(s, Path) and s.layer == "cut" and s.fill == "wood"]
    ys = [y for _, y in points(cut.segments)]
    assert max(ys) - min(ys) == pytest.approx(element.size)
    assert max(ys) - min(ys) == pytest.approx(18.95, abs=0.0625)


def test_each_member_is_named_and_no_text_overlaps(entablature):
    element, scene = entablature
    written = [t.text for t in texts(scene)]
    for placed in profile_of(element, "doric", "georgian"):
        for member in placed.profile.members:
            assert any(t.startswith(f"{member.kind} ") for t in written), member
    no_text_overlaps(scene)


@pytest.mark.parametrize("style", STYLES)
def test_no_text_overlaps_in_any_section(style):
    for tier in (1, 3, 5):
        for element in package(style, "doric", tier, 120.0, top=5).elements:
            if element.element not in WITHOUT_SECTION:
                no_text_overlaps(element_section(element, "doric", style))


def test_dimensions_of_the_parts_close_on_the_whole(entablature):
    _, scene = entablature
    upright = [s for s in flat(scene.shapes) if isinstance(s, Dimension) and s.a[0] == s.b[0]]
    whole = max(upright, key=lambda d: d.value)
    rest = sorted((d for d in upright if d is not whole), key=lambda d: d.b[1])
    assert sum(d.value for d in rest) == pytest.approx(whole.value)
    assert all(low.a == high.b for low, high in pairwise(rest))


def test_a_residual_of_rounding_is_told():
    assert closing([0, 1, 2]) == '2"'
    for chain in ([0, 1.03, 2.06], [0, 1.04, 2.08, 3.12]):
        assert String(tuple(chain)).residual
        assert "parts" in closing(chain)


def test_what_lies_under_a_projection_is_in_shadow_as_deep_as_it_stands_out():
    """Light at 45 degrees: a corona that stands out by two throws a shadow two high on the face below."""
    face = face_points([Placed(profile(parse_members("fascia 6 x 1; fascia 2 x 3")))])
    bands = shades(face)
    assert bands == [(6.0, 8.0, "light"), (4.0, 6.0, "dark"), (0.0, 4.0, "light")]


def test_labels_spread_to_their_gap_and_stay_where_they_can():
    places = spread([0.0, 0.1, 0.2, 9.0], 1.0)
    assert all(b - a >= 1.0 - 1e-9 for a, b in pairwise(places))
    assert places[3] == 9.0
    assert sum(places[:3]) == pytest.approx(0.3)


@pytest.mark.parametrize("style", STYLES)
@pytest.mark.parametrize("ceiling", CEILINGS)
def test_the_ladder_draws_every_tier_at_one_scale_without_overlaps(style, ceiling):
    packages = [package(style, "doric", tier, ceiling, top=5) for tier in range(1, 6)]
    scene = ladder(packages, "doric", style)
    no_text_overlaps(scene)
    written = " ".join(t.text for t in texts(scene))
    cuts = [s for s in flat(scene.shapes) if isinstance(s, Path) and s.fill == "wood"]
    heights = sorted(
        round(max(y for _, y in points(c.segments)) - min(y for _, y in points(c.segments)), 3) for c in cuts
    )
    kinds = ("crown", "picture rail", "chair rail", "plate rail", "base", "casing", "window casing")
    drawn = [
        round(q.top - q.y, 3)
        for p in packages
        for k in kinds
        if p.element(k)
        for q in profile_of(p.element(k), "doric", style)
    ]
    assert heights == pytest.approx(sorted(drawn), abs=0.002)
    assert all(p.name in written for p in packages)


def test_a_doric_pedestal_drawn_for_120_in():
    """Pedestal 25.26 in, base 5.61, cap 2.81 (Ware, p. 38)."""
    base = Placed(order_members.members("doric", "pedestal base", 120 * 4 / 19 * 2 / 9))
    cap = Placed(order_members.members("doric", "pedestal cap", 120 * 4 / 19 / 9), 0.0, 120 * 4 / 19 * 8 / 9)
    scene = section(
        (base, cap), "Doric pedestal", (("base", base.top), ("die", cap.y - base.top), ("cap", cap.top - cap.y))
    )
    found = [s for s in flat(scene.shapes) if isinstance(s, Path) and s.fill == "wood"]
    spans = [(min(y for _, y in points(s.segments)), max(y for _, y in points(s.segments))) for s in found]
    assert spans[0] == pytest.approx((0.0, 5.61), abs=0.01)
    assert spans[1] == pytest.approx((25.26 - 2.81, 25.26), abs=0.01)


def test_what_has_no_section_says_so():
    wainscot = package("georgian", "doric", 5, 120.0, top=5).element("wainscot")
    with pytest.raises(ValueError, match="drawn with the wall"):
        element_section(wainscot, "doric", "georgian")
    with pytest.raises(ValueError, match="at least one"):
        ladder([], "doric")
