"""The section that the JSON tells is as high and as deep as its element, boards and panels included."""

import pytest

from planner import demo_house, read_stock
from planner.stock.choice import choose
from planner.trim.sections import WALL
from planner.trim.shown import shown
from tests.known import LIBRARY, STYLES, package

TOLERANCE = 1 / 64
CEILINGS = (96.0, 108.0, 120.0, 144.0)


def ladder(style, ceiling):
    return [package(style, "doric", tier, ceiling, top=5) for tier in range(1, 6)]


def assert_sums(whole):
    for element in whole.elements:
        members = shown(whole, element, LIBRARY)
        assert sum(m.height for m in members) == pytest.approx(element.size, abs=TOLERANCE), (whole.label, element)
        assert all(m.height > 0 for m in members)
        assert max(m.projection for m in members) <= element.projection + 0.02, (whole.label, element)


@pytest.mark.parametrize("style", STYLES)
@pytest.mark.parametrize("ceiling", CEILINGS)
def test_heights_sum_to_the_size_and_nothing_reaches_farther_than_the_element(style, ceiling):
    for whole in ladder(style, ceiling):
        assert_sums(whole)


@pytest.mark.parametrize("style", ["georgian", "craftsman"])
def test_the_same_holds_of_what_stock_builds_and_its_codes_are_told(style):
    stock = read_stock(demo_house())
    for whole in choose(tuple(ladder(style, 108.0)), stock, LIBRARY).packages:
        assert_sums(whole)
        for element in whole.elements:
            told = {m.profile for m in shown(whole, element, LIBRARY)} - {""}
            assert told <= set(element.profiles)
            if element.assembly is not None:
                assert told


def test_a_wainscot_tells_its_rails_its_moulds_and_its_panel():
    """A raised panel: 7 1/2 of base and 3 of rail below it, 3 of rail and 3 1/8 of chair rail above, 28 in in all."""
    state = package("georgian", "doric", 5, 120.0, top=5)
    members = shown(state, state.element("wainscot"), LIBRARY)
    names = [m.member for m in members]
    assert names[0] == "bottom rail" and names[-1] == "top rail"
    assert (members[0].height, members[-1].height) == (10.5, 6.125)
    assert names.count("bevel") == 2 and "panel" in names
    assert {m.projection for m in members if m.member == "panel"} == {0.625}


def test_plain_wall_between_two_mouldings_is_told_as_wall():
    family = package("georgian", "doric", 3, 96.0, top=5)
    crown = family.element("crown")
    assert crown.form == "crown above a bead"
    (wall,) = [m for m in shown(family, crown, LIBRARY) if m.member == WALL]
    assert wall.height == pytest.approx(dict(crown.parts)[WALL]) and wall.projection == 0


def test_a_casing_is_told_from_the_opening_outwards():
    state = package("georgian", "doric", 5, 120.0, top=5)
    kinds = [m.member for m in shown(state, state.element("casing"), LIBRARY)]
    assert kinds == ["fascia", "fascia", "fascia", "cyma reversa", "fillet"]
