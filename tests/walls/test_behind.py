"""The boards behind: as long as what they lie behind, as many blocks as there are studs, nothing of what comes along.

Common practice: studs on 16 in centres, grounds behind base and rails, furring as thick as the wainscot's frame.
"""

from math import ceil

import pytest

from planner.house.model import OUTSIDE, Opening
from planner.library import standard
from planner.trim.joinery import joinery
from planner.walls.behind import bought
from planner.walls.layout import lay_out
from planner.walls.parts import BEHIND, RUNS, Part, Side
from planner.walls.pieces import pieces
from tests.known import STYLES, package
from tests.walls.rooms import HOUSE, PARLOR, alone
from tests.walls.trim import trim

LIBRARY = standard()
STATE = trim(5)
PLASTERED = trim(3, 144.0)
DOOR = Opening("D", "door", "Parlor", OUTSIDE, "N", 60.0, 32.0, 80.0)
WINDOW = Opening("W", "window", "Parlor", OUTSIDE, "N", 60.0, 36.0, 80.0, 24.0)


def cut_list(package_, *openings, wall="N"):
    house = alone(PARLOR, *openings)
    return [p for p in pieces(lay_out(house, "Parlor", package_, LIBRARY), LIBRARY) if p.place.wall == wall]


def behind(found, element, *parts):
    return [p for p in found if p.part in (parts or BEHIND) and p.element == element]


@pytest.mark.parametrize("style", STYLES)
def test_every_board_that_is_bought_is_listed_behind_its_element_with_its_own_width_and_thickness(style):
    """On the plain walls of a room: what the joinery of a package tells is what the cut list has, no more, no less."""
    for tier, ceiling in ((1, 96.0), (3, 108.0), (4, 120.0), (5, 144.0)):
        whole = package(style, "doric", tier, ceiling, top=5)
        found = cut_list(whole)
        for name in ("base", "chair rail", "plate rail", "picture rail", "crown", "wainscot"):
            boards = bought(whole, name, LIBRARY)
            told = sorted((b.name, *sorted((b.depth, b.height))) for b in boards)
            listed = sorted((str(p.part), p.depth, p.width) for p in behind(found, name))
            assert [t[0] for t in listed] == [t[0] for t in told], (whole.label, name)
            for one, other in zip(listed, told, strict=True):
                assert one[1:] == pytest.approx(other[1:])


@pytest.mark.parametrize("style", STYLES)
def test_each_board_that_is_bought_has_a_part_of_its_name(style):
    for tier in range(1, 6):
        whole = package(style, "doric", tier, 120.0, top=5)
        for element in whole.elements:
            for board in joinery(whole, element, LIBRARY):
                assert bool(board.comes_with) != (board.name in BEHIND), (element.element, board)


def test_a_ground_is_as_long_as_its_base_and_stops_where_that_stops():
    found = cut_list(PLASTERED, DOOR)
    runs = [(p.place.x0, p.place.x1) for p in found if p.part is Part.BASE]
    for part in (Part.GROUND, Part.LOWER_GROUND):
        grounds = behind(found, "base", part)
        assert [(p.place.x0, p.place.x1) for p in grounds] == runs and len(runs) == 2
        assert [p.length for p in grounds] == [x1 - x0 for x0, x1 in runs]
        assert {(p.width, p.depth) for p in grounds} == {(1.25, 0.75)}
    top = PLASTERED.element("base").size - 1.75
    assert {(p.place.y0, p.place.y1) for p in behind(found, "base", Part.GROUND)} == {(top - 1.25, top)}


def test_blocks_are_counted_by_the_studs_that_they_stand_at():
    """216 in of wall: 14 spaces of 16 in at most, so 14 blocks between studs and 15 on them."""
    blocks = behind(cut_list(STATE), "crown", Part.BLOCKING)
    between = [p for p in blocks if p.place.y0 < 120 - STATE.element("crown").size + 1]
    assert [(p.count, p.length, p.width, p.depth) for p in between] == [(14, 14.5, 3.0, 1.5)]
    on_studs = [p for p in blocks if p not in between]
    assert on_studs and {(p.count, p.length) for p in on_studs} == {(15, 3.5)}
    assert {p.count for p in cut_list(STATE) if p.part in RUNS} == {1}


def test_a_short_run_has_blocks_no_longer_than_itself():
    found = cut_list(STATE, Opening("O", "open", "Parlor", OUTSIDE, "N", 8.0, 200.0, 120.0))
    short = [p for p in behind(found, "crown", Part.BLOCKING) if p.place.x1 - p.place.x0 == 8.0]
    assert short and all(p.length <= 8.0 and p.count == ceil(8 / 16) + (p.length == 3.5) for p in short)


def test_jambs_are_extended_and_casings_furred_out_in_a_wainscoted_room_alone():
    found = cut_list(STATE, DOOR)
    left, right, head = behind(found, "casing", Part.JAMB_EXTENSION)
    assert [(p.side, p.length) for p in (left, right)] == [(Side.LEFT, 80.0), (Side.RIGHT, 80.0)]
    assert head.length == 32 + 2 * 0.75
    assert {(p.width, p.depth) for p in (left, right, head)} == {(0.75, 0.75)}
    legs = [p for p in behind(found, "casing", Part.FURRING) if p.side is not Side.NONE]
    rail = lay_out(alone(PARLOR, DOOR), "Parlor", STATE, LIBRARY)[0].rail_top
    tops = sorted(p.place.y1 for p in found if p.part in (Part.LEG, Part.UPPER_LEG))
    assert sum(p.length for p in legs) == pytest.approx(2 * (tops[-1] - rail))
    assert all(p.place.y0 >= rail and p.width == 1.5 for p in legs)
    bare = cut_list(PLASTERED, DOOR)
    assert not behind(bare, "casing")


def test_no_jamb_is_extended_round_a_hearth():
    hearth = Opening("F", "fireplace", "Parlor", OUTSIDE, "N", 80.0, 40.0, 32.0)
    found = cut_list(STATE, hearth)
    assert not [p for p in found if p.place.opening == "F" and p.part is Part.JAMB_EXTENSION]
    assert behind(found, "mantel", Part.BACKING)


def test_a_chimneypiece_is_furred_out_to_the_wainscots_face_up_to_its_shelf():
    """Casing, frieze and shelf of a hearth stand on the wainscot's face as a doorway's casing does."""
    hearth = Opening("H", "fireplace", "Parlor", "", "N", 80.0, 36.0, 36.0)
    mantel, ground = STATE.element("mantel"), STATE.element("wainscot").thickness
    assert mantel.ground == ground > 0
    found = cut_list(STATE, hearth)
    (board,) = behind(found, "mantel", Part.FURRING)
    shelf = max(p.place.y1 for p in found if p.part is Part.MANTEL_SHELF)
    assert (board.depth, board.width) == (ground, mantel.size)
    assert (board.place.y0, board.place.y1) == pytest.approx((shelf - mantel.size, shelf))
    strips = behind(found, "casing")
    assert {p.part for p in strips} == {Part.FURRING} and len(strips) == 3
    assert {p.depth for p in strips} == {ground}
    assert behind(cut_list(PLASTERED, hearth), "mantel", Part.FURRING) == []


def test_grounds_of_a_wainscot_go_on_under_a_window_at_its_own_height():
    whole = behind(cut_list(STATE), "wainscot")
    assert {(p.place.x0, p.place.x1) for p in whole} == {(0, 216)}
    head = lay_out(alone(PARLOR), "Parlor", STATE, LIBRARY)[0].rail_top
    assert sorted(p.place.y1 for p in whole) == [3.0, head - 3.0]
    found = behind(cut_list(STATE, WINDOW), "wainscot")
    stool = STATE.element("stool").size
    under = [p for p in found if p.place.x0 < 78 < p.place.x1]
    assert sorted(p.place.y1 for p in under) == [3.0, 24 - stool - 3.0]
    assert sum(p.length for p in found if p.part is Part.LOWER_GROUND) == 216


def test_what_stays_on_the_walls_of_the_house_is_listed_once_for_each_room():
    """Two rooms of one package have their own boards: nothing is shared between walls."""
    rooms = [pieces(lay_out(HOUSE, "Parlor", STATE, LIBRARY), LIBRARY) for _ in range(2)]
    assert rooms[0] == rooms[1] and all(p.place.room == "Parlor" for p in rooms[0])
