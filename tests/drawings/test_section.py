"""Sections: measured on what is drawn, not on what is written."""

from dataclasses import replace
from itertools import pairwise

import pytest

from planner.drawings.dimensions import String
from planner.drawings.profiles import face_points, shades
from planner.drawings.scene import Dimension, Path, flat
from planner.drawings.section import closing, element_section, package_sections, profile_section, section
from planner.library import standard
from planner.mouldings.curves import points
from planner.mouldings.members import profile
from planner.mouldings.outlines import polygon
from planner.mouldings.soundness import faults
from planner.trim.sections import WITHOUT_SECTION, Placed, parts_of
from tests.drawings.texts import assert_no_text_overlaps, texts
from tests.known import order_profile, package, parse_members
from tests.walls.trim import profiles, trim

LIBRARY = standard()
STYLES = LIBRARY.style_names


def every_element():
    for style in STYLES:
        for order in LIBRARY.order_names:
            for tier in range(1, 6):
                package_ = package(style, order, tier, 120.0, top=5)
                drawn = profiles(package_)
                for element in package_.elements:
                    yield style, order, element, drawn.get(element.element, ())


def test_every_run_of_moulding_has_a_section_of_its_own_size_that_keeps_the_rules():
    for style, order, element, placed in every_element():
        assert bool(placed) is (element.element not in WITHOUT_SECTION), (style, element)
        if not placed:
            continue
        assert placed[-1].top == pytest.approx(element.size, abs=1e-6), (style, element)
        assert max(p.reach for p in placed) == pytest.approx(element.projection, abs=0.02), (style, element)
        for p in placed:
            assert not faults(p.profile), (style, order, element.form, faults(p.profile))
            assert polygon(p.profile).is_valid


def test_the_greek_revival_draws_conics():
    state = profiles(trim(5, style="greek revival"))
    assert all(m.greek for placed in state.values() for p in placed for m in p.profile.members)


@pytest.fixture(scope="module")
def entablature():
    package_ = trim(5)
    element = package_.element("crown")
    return element, element_section(element, profiles(package_)["crown"], parts_of(element, LIBRARY))


def test_the_entablature_is_drawn_as_large_as_it_is_built(entablature):
    """Common practice for a 120 in Georgian room: entablature about 19 in; the canon says 18.95 (Ware)."""
    element, scene = entablature
    cut = [s for s in flat(scene.shapes) if isinstance(s, Path) and s.layer == "cut" and s.fill == "wood"]
    ys = [y for s in cut for _, y in points(s.segments)]
    assert max(ys) - min(ys) == pytest.approx(element.size)
    assert max(ys) - min(ys) == pytest.approx(18.95, abs=0.0625)


def test_each_member_is_named_and_no_text_overlaps(entablature):
    _, scene = entablature
    written = [t.text for t in texts(scene)]
    for placed in profiles(trim(5))["crown"]:
        for member in placed.profile.members:
            assert any(t.startswith(f"{member.kind} ") for t in written), member
    assert_no_text_overlaps(scene)


@pytest.mark.parametrize("style", STYLES)
def test_no_text_overlaps_in_any_section(style):
    for tier in (1, 3, 5):
        package_ = trim(tier, style=style)
        scenes = package_sections(package_, profiles(package_), LIBRARY)
        assert len(scenes) == len(profiles(package_))
        for scene in scenes:
            assert_no_text_overlaps(scene)


def test_dimensions_of_the_parts_close_on_the_whole(entablature):
    _, scene = entablature
    upright = [s for s in flat(scene.shapes) if isinstance(s, Dimension) and s.a[0] == s.b[0]]
    whole = max(upright, key=lambda d: d.value)
    rest = sorted((d for d in upright if d is not whole), key=lambda d: d.b[1])
    assert sum(d.value for d in rest) == pytest.approx(whole.value)
    assert all(low.a == high.b for low, high in pairwise(rest))


def test_a_residual_of_rounding_is_told():
    assert closing([0, 1, 2], "in") == '2"'
    for chain in ([0, 1.03, 2.06], [0, 1.04, 2.08, 3.12]):
        assert String(tuple(chain), "in").residual
        assert "parts" in closing(chain, "in")


def test_what_lies_under_a_projection_is_in_shadow_as_deep_as_it_stands_out():
    """Light at 45 degrees: a corona that stands out by two throws a shadow two high on the face below."""
    face = face_points([Placed(profile(parse_members("fascia 6 x 1; fascia 2 x 3")))])
    bands = shades(face)
    assert bands == [(6.0, 8.0, "light"), (4.0, 6.0, "dark"), (0.0, 4.0, "light")]


def test_a_doric_pedestal_drawn_for_120_in():
    """Pedestal 25.26 in, base 5.61, cap 2.81 (Ware, p. 38)."""
    base = Placed(order_profile("doric", "pedestal base", 120 * 4 / 19 * 2 / 9))
    cap = Placed(order_profile("doric", "pedestal cap", 120 * 4 / 19 / 9), 0.0, 120 * 4 / 19 * 8 / 9)
    scene = section(
        (base, cap), "Doric pedestal", (("base", base.top), ("die", cap.y - base.top), ("cap", cap.top - cap.y))
    )
    found = [s for s in flat(scene.shapes) if isinstance(s, Path) and s.fill == "wood"]
    spans = [(min(y for _, y in points(s.segments)), max(y for _, y in points(s.segments))) for s in found]
    assert spans[0] == pytest.approx((0.0, 5.61), abs=0.01)
    assert spans[1] == pytest.approx((25.26 - 2.81, 25.26), abs=0.01)


def test_what_has_no_section_says_so():
    with pytest.raises(ValueError, match="drawn with the wall"):
        element_section(trim(5).element("crossette"), ())


def test_sections_are_told_by_element_and_form_in_the_order_of_the_package():
    package_ = trim(5)
    titles = [scene.title for scene in package_sections(package_, profiles(package_), LIBRARY)]
    assert titles[0] == "Base: plinth, board and cap"
    drawn = [e for e in package_.elements if e.element in profiles(package_)]
    assert titles == [f"{e.element.capitalize()}: {e.form}" for e in drawn]


def test_what_goes_round_an_opening_is_told_from_the_openings_edge():
    package_ = trim(5)
    for element, around in (("casing", True), ("base", False)):
        scene = element_section(package_.element(element), profiles(package_)[element])
        assert ("opening's edge" in {t.text for t in texts(scene)}) is around


def test_a_profile_alone_is_told_with_its_code_and_size():
    own = replace(profile(parse_members("fascia 6 x 1; fillet 1/2 x 1 1/4"), "base"), code="XX-1")
    scene = profile_section(own)
    assert scene.title == 'XX-1: base, 6 1/2" by 1 1/4"'
    assert '6 1/2" high, reaching 1 1/4"' in scene.description
