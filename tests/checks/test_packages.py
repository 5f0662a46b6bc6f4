"""Rules on a package fire on one that breaks them and keep silent on one that does not. Common practice."""

from dataclasses import replace

import pytest

from planner.checks.packages import check_package
from planner.house.model import Room
from planner.library import standard
from tests.walls.trim import altered, trim, with_style, without

LIBRARY = standard()
ROOM = Room("Parlor", "Ground", "parlor", 216.0, 168.0, 120.0)
STATE = trim(5)


def told(rule, package=STATE, room=ROOM):
    return [c for c in check_package(room, package, LIBRARY) if c.rule == rule]


def test_a_state_room_well_made_has_but_a_caution():
    assert {c.rule for c in check_package(ROOM, STATE, LIBRARY)} == {"receptacles in the base"}


BASE = "base thicker than what it dies into"


def test_a_base_dies_into_something_as_thick():
    plinth = STATE.element("plinth block").projection
    assert told(BASE, altered(STATE, "base", projection=plinth + 1 / 16)) == []
    (check,) = told(BASE, altered(STATE, "base", projection=plinth + 1 / 8))
    assert "the plinth block that it dies into" in check.message


def test_a_base_without_blocks_dies_into_casing_or_backband():
    package = trim(3)
    casing, band = package.element("casing"), package.element("backband")
    thicker = max(casing.projection, band.projection)
    assert told(BASE, altered(package, "base", projection=thicker + 1 / 16)) == []
    (check,) = told(BASE, altered(package, "base", projection=thicker + 1 / 8))
    assert "the casing that it dies into" in check.message
    assert told(BASE, without(altered(package, "base", projection=9.0), "casing")) == []


HARDLY = "base as thick as what it dies into"


def test_what_a_base_dies_into_stands_an_eighth_proud_of_it():
    """Common practice; what is thicker than the block is told as that, and not twice."""
    block = STATE.element("plinth block").projection
    assert told(HARDLY, altered(STATE, "base", projection=block - 1 / 8)) == []
    assert "the plinth block that it dies into" in told(HARDLY, altered(STATE, "base", projection=block))[0].message
    assert told(HARDLY, altered(STATE, "base", projection=block + 1 / 8)) == []
    bare = without(altered(STATE, "base", projection=STATE.element("casing").projection), "plinth block")
    assert "the casing that it dies into" in told(HARDLY, bare)[0].message


BLOCK = "block no thicker than the casing"


def test_blocks_stand_an_eighth_proud_of_the_casing():
    """F. E. Kidder, Building Construction and Superintendence, section 168: corner blocks 1/8 thicker."""
    casing = STATE.element("casing").projection
    assert told(BLOCK, altered(STATE, "plinth block", projection=casing + 1 / 8)) == []
    (check,) = told(BLOCK, altered(STATE, "plinth block", projection=casing + 1 / 16))
    assert check.message.startswith("the plinth block stands")
    corners = trim(3, style="victorian")
    assert told(BLOCK, corners) == []
    (check,) = told(BLOCK, altered(corners, "overdoor", projection=corners.element("casing").projection))
    assert check.message.startswith("the corner block stands")
    assert told(BLOCK, altered(STATE, "overdoor", projection=1.0)) == []  # a frieze and cornice is no block


RAIL = "rail proud of the casing"


def test_a_rail_stops_on_a_casing_as_thick_or_is_returned():
    """Common practice; a shoe stands before the base."""
    casing = STATE.element("casing").projection
    assert told(RAIL, altered(STATE, "chair rail", projection=casing)) == []
    proud = altered(STATE, "chair rail", projection=casing + 1 / 8)
    assert "the chair rail stands" in told(RAIL, proud)[0].message
    assert told(RAIL, altered(STATE, "chair rail", projection=casing + 1 / 8, returned=True)) == []
    shoe = trim(1)
    assert shoe.element("shoe").returned and told(RAIL, shoe) == []
    assert "the shoe stands" in told(RAIL, altered(shoe, "shoe", returned=False))[0].message


def test_a_casing_is_at_least_four_inches_wide_from_eight_feet_up():
    narrow = altered(STATE, "casing", size=3.9)
    assert 'the door casing is 3 7/8" wide under a ceiling of 10\'-0"' in told("narrow casing", narrow)[0].message
    assert told("narrow casing", altered(STATE, "casing", size=4.0)) == []
    assert "window casing" in told("narrow casing", altered(STATE, "window casing", size=3.9))[0].message
    assert told("narrow casing", narrow, replace(ROOM, ceiling=96.0))
    assert told("narrow casing", narrow, replace(ROOM, ceiling=95.9)) == []


PLINTH = "plinth against its period"


@pytest.mark.parametrize(
    ("style", "low", "high"), [("georgian", 1.0, 1.0), ("federal", 1.02, 1.4), ("victorian", 1.15, 2.5)]
)
def test_plinth_blocks_are_as_high_as_their_period_has_them(style, low, high):
    """Georgian as high as the base, Federal somewhat taller, Victorian tall; cut to the eighth."""
    package = trim(5, style=style)
    base = package.element("base").size
    assert told(PLINTH, package) == []
    for size, fits in (
        (low * base - 1 / 8, True),
        (low * base - 3 / 16, False),
        (high * base + 1 / 8, True),
        (high * base + 3 / 16, False),
    ):
        assert (told(PLINTH, altered(package, "plinth block", size=size)) == []) is fits, size
    assert style.title() in told(PLINTH, altered(package, "plinth block", size=1.0))[0].message


def test_a_period_without_plinth_blocks_has_no_rule_for_them():
    library = replace(LIBRARY, styles=tuple(s if s.name != "georgian" else with_no_plinth(s) for s in LIBRARY.styles))
    odd = altered(STATE, "plinth block", size=30.0)
    assert [c.rule for c in check_package(ROOM, odd, library) if c.rule == PLINTH] == []
    assert told(PLINTH, without(STATE, "plinth block")) == told(PLINTH, without(odd, "base")) == []


def with_no_plinth(style):
    return type(style)(**{name: getattr(style, name) for name in style.__struct_fields__} | {"plinth": None})


SUBORDINATE = "subordinate larger than the room's"


def test_an_overdoor_is_smaller_than_the_rooms_crown():
    """W. Chambers: smaller in the whole and in each member than the cornice that finishes the room."""
    crown, overdoor = STATE.element("crown"), STATE.element("overdoor")
    assert told(SUBORDINATE) == []
    assert told(SUBORDINATE, altered(STATE, "overdoor", size=crown.size - 1 / 8)) == []
    (whole,) = told(SUBORDINATE, altered(STATE, "overdoor", size=crown.size))
    assert "the whole of the overdoor" in whole.message
    cornice = dict(crown.parts)["cornice"]
    parts = tuple((part, cornice if part == "cornice" else size) for part, size in overdoor.parts)
    (member,) = told(SUBORDINATE, altered(STATE, "overdoor", parts=parts))
    assert "the cornice of the overdoor" in member.message
    capped = altered(STATE, "overdoor", size=99.0, parts=(("cap", 99.0),))
    assert told(SUBORDINATE, capped) == told(SUBORDINATE, without(STATE, "crown")) == []


def test_no_full_entablature_under_ten_feet():
    low = replace(ROOM, ceiling=119.9)
    assert told("heavy entablature") == []
    assert "1'-7\" under a ceiling of 9'-11 7/8\"" in told("heavy entablature", STATE, low)[0].message
    assert told("heavy entablature", altered(STATE, "crown", form="plain crown"), low) == []


def test_no_crown_presses_on_the_room():
    """Ware: 3 parts in 19 of the height; 0.17 of 100 in is 17 in."""
    room = replace(ROOM, ceiling=100.0)
    assert told("crown heavy for the ceiling", altered(STATE, "crown", size=17.0), room) == []
    assert told("crown heavy for the ceiling", altered(STATE, "crown", size=17.1), room)


def test_a_base_of_six_inches_reaches_the_boxes():
    assert told("receptacles in the base", altered(STATE, "base", size=6.0))
    assert told("receptacles in the base", altered(STATE, "base", size=5.875)) == []


def test_a_bare_package_breaks_no_rule():
    assert list(check_package(ROOM, replace(STATE, elements=()), LIBRARY)) == []


def test_a_package_is_held_against_its_own_period():
    """What is right in a Victorian house is told in a Georgian one."""
    assert told(PLINTH, with_style(trim(5, style="victorian"), "georgian"))
