"""Sections are as high and as deep as the elements that they are of."""

from dataclasses import replace

import pytest

from planner.mouldings.outlines import polygon
from planner.trim.sections import PANELLED, WALL, WITHOUT_SECTION, parts_of, sections
from tests.known import LIBRARY, ORDERS, STYLES, package


def drawn(style, order="doric", ceiling=120.0):
    """Every element of a ladder of five with its profiles, and the package that it is of."""
    for tier in range(1, 6):
        whole = package(style, order, tier, ceiling, top=5)
        found = sections(whole, LIBRARY)
        for element in whole.elements:
            yield whole, element, found.get(element.element, ())


@pytest.mark.parametrize("style", STYLES)
def test_a_section_is_as_high_as_its_element_and_reaches_as_far(style):
    for whole, element, placed in drawn(style):
        if not placed:
            assert element.element in WITHOUT_SECTION
            continue
        assert max(p.top for p in placed) == pytest.approx(element.size), (whole.label, element)
        assert min(p.y for p in placed) == 0
        assert all(polygon(p.profile).is_valid for p in placed)
        if element.element in PANELLED:
            continue
        assert all(p.x == element.ground for p in placed)
        boarded = any(name in ("architrave", "frieze", "taenia") for name, _ in element.parts)
        if element.form != "pedestal cap" and not boarded:
            reach = max(p.profile.projection for p in placed)
            assert reach == pytest.approx(element.depth, rel=0.35), (whole.label, element)


def test_bare_wall_between_two_mouldings_is_not_drawn():
    crowns = [
        (element, placed)
        for _, element, placed in drawn("georgian", ceiling=96.0)
        if any(name == WALL for name, _ in element.parts)
    ]
    assert crowns
    for element, placed in crowns:
        bead, crown = placed
        parts = dict(element.parts)
        assert bead.top == pytest.approx(parts["bead"])
        assert crown.y == pytest.approx(parts["bead"] + parts[WALL])
        assert crown.top == pytest.approx(element.size)


def test_a_boarded_entablature_stands_on_its_board_and_a_cornice_alone_on_the_wall():
    state = package("georgian", "doric", 5, 120, top=5)
    members = [m for p in sections(state, LIBRARY)["crown"] for m in p.profile.members]
    thickness = state.element("crown").thickness
    assert members[0].kind == "fascia" and members[0].projection == thickness
    alone = package("georgian", "doric", 3, 120, top=5)
    assert alone.element("crown").form == "four-part cornice"
    first = sections(alone, LIBRARY)["crown"][0].profile.members[0]
    assert first.projection < thickness


@pytest.mark.parametrize("order", ORDERS)
def test_a_taenia_is_as_proud_of_its_board_as_it_is_high(order):
    principal = package("georgian", order, 4, 120, top=4)
    crown = principal.element("crown")
    assert crown.form == "cornice, frieze and taenia"
    taenia = sections(principal, LIBRARY)["crown"][0].profile.members[0]
    assert taenia.kind == "fillet" and taenia.height == pytest.approx(dict(crown.parts)["taenia"])
    assert taenia.projection == pytest.approx(crown.thickness + taenia.height)


def test_curves_are_conics_where_the_style_has_them_so():
    for style in STYLES:
        greek = LIBRARY.style(style).curves == "greek"
        members = [m for _, _, placed in drawn(style) for p in placed for m in p.profile.members]
        assert members and all(m.greek == greek for m in members)


def test_a_half_round_reaches_half_its_height_at_least():
    for style in STYLES:
        for _, _, placed in drawn(style):
            rounds = [m for p in placed for m in p.profile.members if m.curve == "half round"]
            assert all(m.projection >= m.height / 2 - 1e-9 for m in rounds)


def test_a_form_drawn_whole_from_the_order_names_no_parts():
    rail = package("georgian", "doric", 5, 120, top=5).element("chair rail")
    assert rail.form == "pedestal cap" and rail.parts and parts_of(rail, LIBRARY) == ()
    moulded = package("georgian", "doric", 3, 120, top=5).element("chair rail")
    assert parts_of(moulded, LIBRARY) == moulded.parts
    assert sections(replace(package("georgian", "doric", 3, 120, top=5), elements=()), LIBRARY) == {}
