"""Rules on one wall fire where it breaks them, at their limits, and say where in feet and inches. Common practice."""

from dataclasses import replace

import pytest

from planner.checks.walls import check_wall
from planner.house.model import OUTSIDE, Opening
from planner.walls.parts import Part
from planner.walls.solids import Solid
from tests.checks.parlor import LIBRARY, door, found, house, told, walls, window
from tests.walls.trim import altered, trim, without

STATE = trim(5)
RAILED = without(STATE, "wainscot")
"""The same room with a chair rail on plaster."""

CASING = STATE.element("window casing").size
REVEAL = LIBRARY.surrounds.reveal.inches
BOTTOM = 120.0 - STATE.element("crown").size
"""Underside of the crown above the floor [in]."""


def head_at(top, opening=window):
    """An opening whose trim goes up to a height [in], without its overdoor."""
    return opening(head=top - REVEAL - (CASING if opening is window else STATE.element("casing").size))


def test_a_room_well_laid_out_has_neither_error_nor_warning():
    assert {c.severity for c in found(house())} <= {"caution"}


@pytest.mark.parametrize(("over", "rule_told"), [(0.0, False), (1 / 64, False), (1 / 32, True)])
def test_a_head_stays_below_the_crown(over, rule_told):
    rules = {c.rule for c in found(house(head_at(BOTTOM + over)))} & {"crown and head", "overdoor and cornice"}
    assert rules == ({"crown and head"} if rule_told else set())


def test_a_head_that_collides_says_where_in_feet_and_inches():
    (check,) = told("crown and head", house(window(head=100.0)))
    assert (check.severity, check.room, check.opening) == ("error", "Parlor", "Window")
    assert "8'-8 3/4\"" in check.message and "8'-5\"" in check.message and '3 3/4"' in check.message


def test_an_overdoor_that_alone_collides_is_left_off():
    overdoor = sum(height for _, height in STATE.element("overdoor").parts)
    fits = BOTTOM - REVEAL - STATE.element("casing").size - overdoor
    assert told("overdoor and cornice", house(door(head=fits))) == []
    assert told("overdoor and cornice", house(door(head=fits + 1)))
    assert told("overdoor and cornice", house(head_at(BOTTOM, door)))
    both = found(house(head_at(BOTTOM + 1, door)))
    assert {c.rule for c in both} >= {"crown and head"} and "overdoor and cornice" not in {c.rule for c in both}


@pytest.mark.parametrize(("left", "rule_told"), [(0.0, False), (0.5, True), (1.49, True), (1.5, False)])
def test_a_head_keeps_an_inch_and_a_half_from_the_crown(left, rule_told):
    checks = [c for c in told("mouldings too close", house(head_at(BOTTOM - left))) if "crown" in c.message]
    assert bool(checks) is rule_told


def test_without_a_crown_no_head_is_too_high():
    bare = without(STATE, "crown")
    assert not {c.rule for c in found(house(window(head=118.0)), bare)} & {"crown and head", "mouldings too close"}


# Corners


def outermost(room_left):
    """A window whose casing has so much wall beside it [in]."""
    return house(window(offset=room_left))


LEG = CASING + REVEAL


@pytest.mark.parametrize(
    ("room_left", "rule"),
    [
        (LEG, None),
        (LEG - 1 / 64, None),
        (LEG - 1 / 32, "casing ripped at the corner"),
        (2.0, "casing ripped at the corner"),
        (1.99, "casing and corner"),
        (0.0, "casing and corner"),
    ],
)
def test_a_casing_is_ripped_to_the_corner_down_to_two_inches(room_left, rule):
    legs = {"casing ripped at the corner", "casing and corner"}
    assert {c.rule for c in found(outermost(room_left))} & legs == ({rule} if rule else set())


def test_both_corners_of_a_wall_are_looked_at():
    right = house(window(offset=216.0 - 36.0 - 3.5))
    (check,) = told("casing ripped at the corner", right)
    assert 'stands 3 1/2" from the corner' in check.message


def test_ears_and_overdoors_have_room_beside_the_corner():
    casing, kick = STATE.element("casing").size, STATE.element("crossette").size
    ear = REVEAL + casing + kick
    at = {offset: {c.rule for c in found(house(door(offset=offset)))} for offset in (ear, ear - 0.1, 9.0, 20.0)}
    assert "crossette and corner" in at[ear - 0.1]
    assert "crossette and corner" not in at[ear] and "overdoor and corner" in at[ear]
    assert "overdoor and corner" in at[9.0]
    assert not at[20.0] & {"crossette and corner", "overdoor and corner"}


def test_the_upper_leg_of_a_let_in_block_is_an_ear():
    federal = trim(5, style="federal")
    casing = federal.element("casing").size
    assert told("crossette and corner", house(door(offset=REVEAL + casing + 0.5)), federal)


def test_what_else_reaches_past_the_corner_is_named():
    low = without(STATE, "wainscot", "crossette", "window head")
    (stool,) = told("overdoor and corner", house(window(offset=LEG + 0.25)), low)
    assert 'the stool of Window reaches 1/2" past the corner' in stool.message
    (crowned,) = told("overdoor and corner", house(door(offset=9.0)))
    assert "the overdoor of Door" in crowned.message
    hearth = Opening("F", "fireplace", "Parlor", "", "E", 15.0, 42.0, 36.0)
    (shelf,) = told("overdoor and corner", house(hearth))
    assert "the mantel of F" in shelf.message


def test_a_chimneypiece_has_legs_too():
    hearth = Opening("F", "fireplace", "Parlor", "", "E", 12.0, 42.0, 36.0)
    assert told("casing ripped at the corner", house(hearth))


RULE = "opening without room for its trim"


@pytest.mark.parametrize(
    ("opening", "rule_told"),
    [
        (window(offset=180.0), False),
        (window(offset=180.1), True),
        (window(offset=-0.01), False),
        (window(offset=-0.1), True),
        (window(head=120.0), False),
        (window(head=120.1), True),
        (window(head=30.0), True),
    ],
)
def test_an_opening_lies_in_its_wall_and_has_a_size(opening, rule_told):
    assert bool(told(RULE, house(opening))) is rule_told


def test_of_an_opening_without_room_nothing_else_is_said_at_the_corner():
    rules = {c.rule for c in found(house(window(head=30.0, sill=30.0)))}
    assert RULE in rules and not rules & {"window far from two to one", "casing and corner"}


# Collisions


def test_casings_of_two_openings_that_overlap_are_told_once_with_both_names():
    bare = without(STATE, "wainscot", "crossette")
    (check,) = told("casing and casing", house(window(offset=60.0, name="A"), window(offset=98.0, name="B")), bare)
    assert check.opening == "A"
    assert "the trim of A and of B overlap by" in check.message
    assert "the stool of A and the stool of B" in check.message


def low_window(sill=10.0):
    return window(sill=sill, head=sill + 70.0)


def test_trim_that_takes_the_place_of_other_trim_is_told():
    """A chair rail laid across a casing: nothing in a layout of ours does that, so the solid is put there."""
    layout = next(w for w in walls(house()) if w.wall == "S")
    rail = Solid(Part.CHAIR_RAIL, "chair rail", 84.0, 88.0, 40.0, 43.0, 1.25)
    clash = replace(layout, solids=(*layout.solids, rail))
    (check,) = [c for c in check_wall(clash, LIBRARY) if c.rule == "trim collides"]
    assert (check.severity, check.opening) == ("error", "Window")
    assert "the chair rail and the left leg of Window take the same place" in check.message
    assert "at 7'-1 " in check.message
    assert not [c for c in check_wall(layout, LIBRARY) if c.rule == "trim collides"]


def test_each_pair_of_kinds_is_told_once_of_an_opening():
    layout = next(w for w in walls(house()) if w.wall == "S")
    stiles = tuple(
        Solid(part, "wainscot", 84.0, 90.0, y, y + 5, 0.75)
        for part, y in ((Part.STILE, 40.0), (Part.TOP_RAIL, 50.0), (Part.FLAT_PANEL, 60.0), (Part.FLAT_PANEL, 70.0))
    )
    clash = replace(layout, solids=(*(s for s in layout.solids if s.opening), *stiles))
    said = [c.message for c in check_wall(clash, LIBRARY) if c.rule == "trim collides"]
    assert len(said) == 2
    assert sum("stile" in m or "top rail" in m for m in said) == 1 and sum("flat panel" in m for m in said) == 1


def test_trim_that_runs_into_other_running_trim_is_told_without_an_opening():
    layout = next(w for w in walls(house()) if w.wall == "E")
    base = next(s for s in layout.solids if s.part is Part.BASE)
    clash = replace(layout, solids=(*layout.solids, base._replace(part=Part.PICTURE_RAIL, element="picture rail")))
    (check,) = [c for c in check_wall(clash, LIBRARY) if c.rule == "trim collides"]
    assert check.opening == "" and "the base and the picture rail" in check.message


def test_what_meets_the_crown_is_told_by_its_own_rule_alone():
    rules = {c.rule for c in found(house(window(head=110.0)))}
    assert "crown and head" in rules and "trim collides" not in rules
    layout = next(w for w in walls(house()) if w.wall == "E")
    crown = next(s for s in layout.solids if s.part is Part.CROWN)
    clash = replace(layout, solids=(*layout.solids, crown._replace(part=Part.PICTURE_RAIL, element="picture rail")))
    assert "trim collides" in {c.rule for c in check_wall(clash, LIBRARY)}


@pytest.mark.parametrize(("left", "rule_told"), [(0.0, False), (0.5, True), (1.4, True), (1.5, False)])
def test_neighbours_leave_an_inch_and_a_half_or_none(left, rule_told):
    trim_width = LEG + LIBRARY.surrounds.stool.horn
    second = 40.0 + 36.0 + 2 * trim_width + left
    windows = house(window(offset=40.0, name="A"), window(offset=second, name="B"))
    checks = told("mouldings too close", windows, without(STATE, "wainscot", "crossette", "window head"))
    assert bool(checks) is rule_told
    assert all(c.opening == "A" and "the trim of A and that of B" in c.message for c in checks)


@pytest.mark.parametrize(("left", "rule_told"), [(1.375, True), (1.49, True), (1.5, False), (4.0, False)])
def test_an_apron_keeps_an_inch_and_a_half_from_the_rail_below_it(left, rule_told):
    """An inch and three eighths is what the eye closes; the rail is set where the apron ends."""
    family = trim(3)
    stool, apron, rail = (family.element(e).size for e in ("stool", "apron", "chair rail"))
    sill = 40.0
    low = altered(family, "chair rail", bottom=sill - stool - apron - left - rail, placed=True)
    checks = told("mouldings too close", house(window(sill=sill)), low)
    assert bool(checks) is rule_told
    assert all("the foot of Window and the chair rail" in c.message for c in checks)


def test_a_picture_rail_that_finds_no_room_above_the_heads_is_told():
    victorian = trim(3, style="victorian")
    crown, rail = victorian.element("crown"), victorian.element("picture rail")
    casing = victorian.element("window head").size
    highest = 120.0 - crown.size - rail.size - 1.5
    fits = house(window(head=highest - casing - 0.5))
    assert told("picture rail and head", fits, victorian) == []
    (check,) = told("picture rail and head", house(window(head=highest - casing + 0.5)), victorian)
    assert "runs into the side of the trim of Window" in check.message


def test_an_opening_without_trim_is_no_neighbour():
    gap = Opening("Gap", "open", "Parlor", OUTSIDE, "S", 40.0, 36.0, 80.0)
    beside = 40.0 + 36.0 + LEG + LIBRARY.surrounds.stool.horn + 1.0
    assert told("mouldings too close", house(gap, window(offset=beside))) == []


# Stools, panels, hearths


def test_a_stool_near_the_rail_is_at_its_height():
    level = (window(sill=30.0, name="A"), window(offset=150.0, sill=30.0, name="C"))
    (check,) = told("chair rail and stool", house(*level, window(offset=20.0, sill=28.5, name="B")), RAILED)
    assert check.opening == "B"
    assert 'lies at 2\'-4 1/2", 1 1/2" below the top of the chair rail at 2\'-6"' in check.message
    (check,) = told("chair rail and stool", house(*level, window(offset=20.0, sill=32.5, name="B")), RAILED)
    assert '2 1/2" above the top' in check.message


@pytest.mark.parametrize(("by", "rule_told"), [(0.0, False), (0.05, False), (1 / 16, True)])
def test_a_sixteenth_between_stool_and_rail_is_seen(by, rule_told):
    others = (window(sill=30.0, name="A"), window(offset=150.0, sill=30.0, name="C"))
    checks = told("chair rail and stool", house(*others, window(offset=20.0, sill=30.0 + by, name="B")), RAILED)
    assert bool(checks) is rule_told


def test_a_stool_well_below_or_above_the_rail_is_its_own_line():
    rail, stool = STATE.element("chair rail").size, STATE.element("stool").size
    for sill, rule_told in ((30 - rail - stool, False), (30 - rail - stool + 0.1, True)):
        near = house(window(sill=30.0, name="A"), window(offset=20.0, sill=sill, name="B"))
        assert bool(told("chair rail and stool", near, RAILED)) is rule_told
    apron = STATE.element("apron").size
    for sill, rule_told in ((30 + stool + apron, False), (30 + stool + apron - 0.1, True)):
        near = house(window(sill=30.0, name="A"), window(offset=20.0, sill=sill, name="B"))
        assert bool(told("chair rail and stool", near, RAILED)) is rule_told


def test_a_plate_rail_has_nothing_to_do_with_stools():
    both = altered(trim(5, style="craftsman"), "plate rail", bottom=27.0)
    package = replace(both, elements=(*both.elements, STATE.element("chair rail")))
    sills = house(window(sill=30.0, name="A"), window(offset=20.0, sill=28.5, name="B"))
    assert told("chair rail and stool", sills, package) == []


@pytest.mark.parametrize(
    ("width", "height", "rule_told"),
    [(12.0, 100.0, False), (11.9, 100.0, True), (45.0, 10.0, False), (45.1, 10.0, True)],
)
@pytest.mark.parametrize("part", [Part.FLAT_PANEL, Part.RAISED_PANEL, Part.WALL_PANEL])
def test_panels_are_neither_slits_nor_ribbons(part, width, height, rule_told):
    panel = Solid(part, "wainscot", 20.0, 20.0 + width, 6.0, 6.0 + height, 0.75)
    wall = replace(walls(house())[0], surrounds=(), solids=(panel, panel._replace(x0=80.0, x1=80.0 + width)))
    checks = [c for c in check_wall(wall, LIBRARY) if c.rule == "panel out of proportion"]
    assert len(checks) == int(rule_told)


def test_each_shape_of_panel_is_told_once_on_a_wall():
    slit = Solid(Part.FLAT_PANEL, "wainscot", 20.0, 21.0, 6.0, 106.0, 0.75)
    wider = slit._replace(x0=40.0, x1=42.0)
    wall = replace(walls(house())[0], surrounds=(), solids=(slit, slit._replace(x0=30.0, x1=31.0), wider))
    assert len([c for c in check_wall(wall, LIBRARY) if c.rule == "panel out of proportion"]) == 2


def test_wood_keeps_off_the_firebox():
    """IRC R1001.11, from memory: 6 in."""
    hearth = Opening("F", "fireplace", "Parlor", "", "E", None, 42.0, 36.0)
    (check,) = told("wood near the firebox", house(hearth))
    assert check.opening == "F" and '8" from the firebox' in check.message
    assert told("wood near the firebox", house(hearth), without(STATE, "casing")) == []
