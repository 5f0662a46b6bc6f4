"""Base, rail and casings stand on the face of a wainscot. Common practice."""

from dataclasses import replace

import pytest

from planner.trim.grounds import NOT_PLANTED, ground_of, grounded
from planner.trim.sections import sections
from tests.known import LIBRARY, STYLES, package

STATE = package("georgian", "doric", 5, 120.0, top=5)
PLANTED = ("base", "chair rail", "casing", "window casing", "plinth block", "overdoor", "stool")


def test_a_package_without_wainscot_stands_on_the_plaster():
    bare = grounded((e for e in STATE.elements if e.element != "wainscot"), LIBRARY)
    assert ground_of(bare) == 0 and {e.ground for e in bare} == {0.0}
    depths = {e.element: e.depth for e in STATE.elements}
    assert {e.element: e.projection for e in bare} == {e.element: depths[e.element] for e in bare}


def test_base_rail_and_casings_stand_three_quarters_out_on_a_framed_wainscot():
    by_name = {e.element: e for e in STATE.elements}
    assert {by_name[name].ground for name in PLANTED} == {0.75}
    assert by_name["base"].projection == 0.75 + LIBRARY.form("base", by_name["base"].form).projection
    assert {e.ground for e in STATE.elements if e.element in NOT_PLANTED} == {0.0}
    assert {by_name[name].ground for name in ("crown", "wall panels")} == {0.0}


@pytest.mark.parametrize(
    ("form", "ground"), [("beaded boards", 0.5), ("boards and battens", 0.5), ("flat panels", 0.75)]
)
def test_boards_make_a_ground_by_their_thickness(form, ground):
    made = LIBRARY.form("wainscot", form)
    elements = (
        replace(e, form=form, thickness=made.thickness) if e.element == "wainscot" else e for e in STATE.elements
    )
    assert {e.ground for e in grounded(elements, LIBRARY) if e.element in PLANTED} == {ground}


def test_what_was_measured_stays_on_the_wall_as_it_is():
    base = STATE.element("base")
    found = {e.element: e for e in grounded(STATE.elements, LIBRARY, {"base"})}
    assert (found["base"].ground, found["base"].depth) == (0.0, base.depth)
    assert found["casing"].ground == 0.75


def test_an_element_moved_onto_a_ground_and_back_is_the_same():
    for element in STATE.elements:
        assert element.on_ground(0.0).on_ground(element.ground) == element


@pytest.mark.parametrize("style", STYLES)
@pytest.mark.parametrize("ceiling", [96.0, 108.0, 120.0, 144.0])
def test_nothing_of_a_wainscot_overhangs_the_base_or_the_rail(style, ceiling):
    """The wainscot's face lies behind every member of base and rail."""
    for tier in range(1, 6):
        whole = package(style, "doric", tier, ceiling, top=5)
        ground = ground_of(whole.elements)
        for name in ("base", "chair rail", "plate rail"):
            for placed in sections(whole, LIBRARY).get(name, ()):
                assert placed.x == ground
                assert min(placed.x + m.projection for m in placed.profile.members) > ground
