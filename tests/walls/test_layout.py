"""Walls laid out: what runs stops where it must, the rail has one height, a room is laid out once. Common practice."""

import pickle
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner import demo_house, plan, read_house
from planner.house.model import OUTSIDE, House, Opening, Room
from planner.library import standard
from planner.trim.sections import WITHOUT_SECTION
from planner.walls.layout import apertures, corners, lay_out, rail_of, rail_top, stretch
from planner.walls.parts import FRAME, PANELS, RUNS, Part
from tests.known import STYLES
from tests.walls.houses import random_house
from tests.walls.rooms import HALL, HOUSE, L_SHAPED, PARLOR, alone
from tests.walls.trim import altered, trim, without

LIBRARY = standard()
STATE = trim(5)


def walls(package=STATE, house=HOUSE):
    return {w.wall: w for w in lay_out(house, "Parlor", package, LIBRARY)}


def of(wall, *parts):
    return [s for s in wall.solids if s.part in parts]


def test_base_and_rail_stop_at_doors_and_fireplaces():
    for name in ("N", "E"):
        wall = walls()[name]
        around = wall.surrounds[0]
        for s in of(wall, Part.BASE, Part.CHAIR_RAIL, *FRAME, *PANELS):
            assert s.x1 <= around.left + 8 or s.x0 >= around.right - 8
        base = of(wall, Part.BASE)
        assert len(base) == 2
        feet = [s for s in around.solids if s.y0 == 0]
        assert base[0].x1 == pytest.approx(min(s.x0 for s in feet))
        assert base[1].x0 == pytest.approx(max(s.x1 for s in feet))


def test_base_runs_on_under_windows_and_a_crown_over_them():
    wall = walls()["S"]
    assert [(s.x0, s.x1, s.y0, s.y1) for s in of(wall, Part.BASE)] == [(0, 216, 0, STATE.element("base").size)]
    assert all((s.x0, s.x1) == (0, 216) for s in of(wall, Part.CROWN))


def test_a_crown_in_its_parts_hangs_from_the_ceiling():
    crown, parts = STATE.element("crown"), of(walls()["S"], Part.CROWN)
    assert [s.form for s in parts] == [part for part, _ in crown.parts] == ["architrave", "frieze", "cornice"]
    assert parts[0].y0 == 120 - crown.size and parts[-1].y1 == pytest.approx(120)
    assert [s.height for s in parts] == pytest.approx([height for _, height in crown.parts])
    assert [s.projection for s in parts] == [crown.thickness, crown.thickness, crown.projection]
    (whole,) = of(walls(altered(STATE, "crown", parts=()))["S"], Part.CROWN)
    assert (whole.form, whole.height, whole.projection) == (crown.form, crown.size, crown.projection)


def test_bare_wall_within_a_crown_is_left_bare():
    package = trim(3, 96.0)
    crown = package.element("crown")
    assert [part for part, _ in crown.parts] == ["bead", "wall", "crown"]
    house = alone(Room("Parlor", "Ground", "parlor", 216.0, 168.0, 96.0))
    bead, crown_mould = of(walls(package, house)["N"], Part.CROWN)
    assert crown_mould.y0 - bead.y1 == pytest.approx(dict(crown.parts)["wall"])


def test_an_open_gap_up_to_the_ceiling_stops_the_crown_and_one_below_it_does_not():
    for s in of(walls()["W"], Part.CROWN, Part.BASE, Part.CHAIR_RAIL):
        assert s.x1 <= 40 or s.x0 >= 100
    bottom = 120 - STATE.element("crown").size
    for head, whole in ((bottom, True), (bottom + 1 / 16, False)):
        openings = tuple(replace(o, height=head) if o.name == "Gap" else o for o in HOUSE.openings)
        crown = of(walls(house=replace(HOUSE, openings=openings))["W"], Part.CROWN)
        assert ((crown[0].x0, crown[0].x1) == (0, 168)) is whole


def test_a_cased_opening_does_not_stop_the_crown_however_high():
    openings = tuple(replace(o, height=118.0) if o.name == "D" else o for o in HOUSE.openings)
    assert {(s.x0, s.x1) for s in of(walls(house=replace(HOUSE, openings=openings))["N"], Part.CROWN)} == {(0, 216)}


def test_a_shoe_stands_before_every_run_of_base():
    package = trim(2)
    base, shoe = package.element("base"), package.element("shoe")
    for wall in walls(package).values():
        runs, shoes = of(wall, Part.BASE), of(wall, Part.SHOE)
        assert [(s.x0, s.x1) for s in shoes] == [(s.x0, s.x1) for s in runs]
        assert {(s.y0, s.y1, s.projection, s.on) for s in shoes} == {
            (0, shoe.size, base.projection + shoe.projection, "base")
        }


def test_a_wainscot_fills_from_base_to_rail():
    wall = walls()["S"]
    filled = of(wall, *FRAME, *PANELS)
    (rail,) = {(s.y0, s.y1) for s in of(wall, Part.CHAIR_RAIL)}
    assert min(s.y0 for s in filled) == STATE.element("base").size
    assert max(s.y1 for s in filled) == rail[0]
    bare = without(STATE, "base", "chair rail")
    filled = of(walls(bare)["S"], *FRAME, *PANELS)
    assert min(s.y0 for s in filled) == 0
    assert max(s.y1 for s in filled) == STATE.element("wainscot").size


def test_wall_panels_move_with_the_rail():
    wall = walls()["N"]
    panels = STATE.element("wall panels")
    moved = wall.rail_top - STATE.element("chair rail").top
    found = of(wall, Part.WALL_PANEL)
    assert moved != 0
    assert min(s.y0 for s in found) == panels.bottom + moved
    assert max(s.y1 for s in found) == panels.top


def test_a_picture_rail_runs_at_its_own_height():
    package = trim(3, style="victorian")
    rail = package.element("picture rail")
    found = of(walls(package)["S"], Part.PICTURE_RAIL)
    assert {(s.y0, s.y1) for s in found} == {(rail.bottom, rail.bottom + rail.size)}


def test_nothing_stands_beyond_the_wall_but_surrounds_are_whole():
    house = alone(PARLOR, Opening("W", "window", "Parlor", OUTSIDE, "S", 1.0, 36.0, 90.0, 30.0))
    wall = walls(house=house)["S"]
    assert min(s.x0 for s in wall.solids) == 0
    assert wall.surrounds[0].left < 0


def test_the_rail_lines_up_with_the_stools_within_reach():
    wall = walls()["S"]
    assert wall.rail_top == 30.0
    assert {s.y1 for s in of(wall, Part.CHAIR_RAIL)} == {30.0}
    # In a wainscoted room the cap is the stool: it runs on from corner to corner under the windows.
    assert of(wall, Part.STOOL) == of(wall, Part.APRON) == []
    assert [(s.x0, s.x1) for s in of(wall, Part.CHAIR_RAIL)] == [(0.0, wall.length)]
    plain = walls(without(STATE, "wainscot"))["S"]
    assert {s.y1 for s in of(plain, Part.STOOL)} == {30.0} and len(of(plain, Part.APRON)) == 2


def windows(*sills, room="Parlor"):
    return tuple(
        Opening(f"{room}{i}", "window", room, OUTSIDE, "S", None, 36.0, 90.0, sill) for i, sill in enumerate(sills)
    )


@pytest.mark.parametrize(
    ("sills", "top"),
    [
        ((), None),
        ((28.0,), 28.0),
        ((32.0,), 32.0),
        ((27.9,), None),
        ((32.1,), None),
        ((29.0, 31.0, 31.0), 31.0),
        ((28.0, 30.5), "nearer"),
    ],
)
def test_the_rail_takes_the_height_of_most_stools_within_28_to_32(sills, top):
    """Common practice: 28 to 32 in, aligned with the window stool where it can be."""
    own = STATE.element("chair rail").top
    wanted = {None: own, "nearer": min(sills, key=lambda s: abs(s - own), default=0)}.get(top, top)
    assert rail_top(alone(PARLOR, *windows(*sills)), STATE, LIBRARY) == wanted


def test_of_two_heights_as_near_and_as_many_the_lower_is_taken():
    rail = STATE.element("chair rail").size
    package = altered(STATE, "chair rail", bottom=30.0 - rail)
    assert rail_top(alone(PARLOR, *windows(31.0, 29.0)), package, LIBRARY) == 29.0


def test_what_is_no_window_does_not_draw_the_rail():
    hearth = Opening("F", "fireplace", "Parlor", OUTSIDE, "S", None, 36.0, 40.0, 31.0)
    assert rail_top(alone(PARLOR, hearth), STATE, LIBRARY) == STATE.element("chair rail").top


def test_only_windows_under_the_same_ceiling_draw_the_rail():
    low = Room("Low", "Ground", "parlor", 216.0, 168.0, 96.0)
    house = House("Two", ("Parlor",), (PARLOR, low), windows(31.0, room="Low"))
    assert rail_top(house, STATE, LIBRARY) == STATE.element("chair rail").top
    assert rail_top(house, trim(4, 96.0), LIBRARY) == 31.0


def test_a_plate_rail_keeps_its_own_height_and_outranks_a_chair_rail():
    craftsman = trim(5, style="craftsman")
    plate = craftsman.element("plate rail")
    assert rail_of(craftsman) is plate
    assert rail_top(HOUSE, craftsman, LIBRARY) == plate.top
    assert rail_of(STATE) is STATE.element("chair rail")
    both = replace(STATE, elements=(*STATE.elements, plate))
    assert rail_of(both) is plate and rail_top(HOUSE, both, LIBRARY) == plate.top
    assert rail_top(HOUSE, without(STATE, "chair rail"), LIBRARY) is None


@settings(deadline=None)
@given(st.integers(0, 400), st.sampled_from([96.0, 108.0, 120.0]), st.integers(2, 5))
def test_one_rail_height_for_a_tier_and_ceiling_and_within_28_to_32(seed, ceiling, tier):
    house, package = random_house(seed), trim(tier, ceiling)
    rooms = [room for room in house.rooms if room.ceiling == ceiling]
    found = {w.rail_top for room in rooms for w in lay_out(house, room, package, LIBRARY)}
    assert len(found) <= 1
    assert all(top is None or 28 <= top <= 32 for top in found)
    assert rail_top(house, package, LIBRARY) in found or not rooms


def test_a_wall_without_openings_is_the_same_from_both_ends():
    for wall in walls(house=alone(PARLOR)).values():
        boxes = {(s.part, round(s.x0, 6), round(s.x1, 6), s.y0) for s in wall.solids}
        assert boxes == {(p, round(wall.length - b, 6), round(wall.length - a, 6), y) for p, a, b, y in boxes}


def test_corners_are_measured_inside_the_room():
    assert corners(PARLOR) == (90, 90, 90, 90)
    assert sorted(corners(L_SHAPED)) == [90, 90, 90, 90, 90, 270]
    bay = replace(PARLOR, outline=((0.0, 0.0), (0.0, 100.0), (50.0, 150.0), (100.0, 100.0), (100.0, 0.0)))
    assert sorted(corners(bay)) == pytest.approx([90, 90, 90, 135, 135])
    straight = replace(PARLOR, outline=((0.0, 0.0), (0.0, 50.0), (0.0, 100.0), (100.0, 100.0), (100.0, 0.0)))
    assert sorted(corners(straight)) == pytest.approx([90, 90, 90, 90, 180])


def test_each_wall_knows_the_corners_at_both_its_ends():
    layouts = lay_out(alone(L_SHAPED), L_SHAPED, STATE, LIBRARY)
    assert [w.wall for w in layouts] == ["1", "2", "3", "4", "5", "6"]
    assert [w.corners for w in layouts] == [(90, 90), (90, 90), (90, 270), (270, 90), (90, 90), (90, 90)]
    assert [w.inside for w in layouts[2:4]] == [(True, False), (False, True)]
    assert replace(layouts[0], corners=(180.0, 179.0)).inside == (False, True)


def test_a_stretch_of_wall_is_cut_off_where_it_does_not_end_in_a_corner():
    wall = walls()["S"]
    part = stretch(wall, 20.0, 400.0)
    assert (part.length, part.corners, part.inside) == (196.0, (None, 90), (False, True))
    assert [a.x0 for a in part.apertures] == [a.x0 - 20 for a in wall.apertures]
    assert [s.x0 for s in of(part, Part.STOOL)] == pytest.approx([s.x0 - 20 for s in of(wall, Part.STOOL)])
    assert all(0 <= s.x0 < s.x1 <= 196 for s in part.solids)
    assert stretch(wall, -50.0, 500.0).solids == wall.solids
    half = stretch(wall, 50.0, 60.0)
    assert [(a.x0, a.x1) for a in half.apertures] == [(0, 10)]
    assert stretch(wall, 0.0, 36.0).apertures == ()


def test_a_wall_carries_the_profiles_of_its_package():
    for wall in walls().values():
        assert set(wall.sections) == {e.element for e in STATE.elements} - WITHOUT_SECTION
        assert wall.sections["base"][-1].top == pytest.approx(STATE.element("base").size)


def test_a_room_is_laid_out_once_for_a_package_and_anew_for_another():
    laid_out = lay_out(HOUSE, "Parlor", STATE, LIBRARY)
    assert lay_out(HOUSE, PARLOR, STATE, LIBRARY) is laid_out
    assert lay_out(HOUSE, "Parlor", trim(4), LIBRARY) is not laid_out
    other = replace(LIBRARY, surrounds=LIBRARY.surrounds, checks=())
    assert lay_out(HOUSE, "Parlor", STATE, other) == laid_out
    assert lay_out(HOUSE, "Parlor", STATE, other) is not laid_out


def test_layouts_are_values():
    laid_out = lay_out(HOUSE, "Parlor", STATE, LIBRARY)
    assert pickle.loads(pickle.dumps(laid_out)) == laid_out
    assert hash(pickle.loads(pickle.dumps(laid_out))) == hash(laid_out)
    assert len(set(laid_out)) == 4


def test_openings_are_found_by_room_and_wall_from_left_to_right():
    found = apertures(HOUSE, PARLOR, LIBRARY)
    assert {wall: [a.name for a in openings] for wall, openings in found.items()} == {
        "N": ["D"],
        "S": ["W1", "W2"],
        "E": ["F"],
        "W": ["Gap"],
    }
    assert apertures(alone(HALL), HALL, LIBRARY) == {}


OF_ELEMENT = {
    **dict.fromkeys((Part.LEG, Part.HEAD), ("casing", "backband")),
    **dict.fromkeys((Part.UPPER_LEG, Part.EAR_RETURN, Part.UPRIGHT), ("casing", "backband")),
    **dict.fromkeys((Part.EAR, Part.BLOCK, Part.ROSETTE), ("crossette",)),
    Part.OVERDOOR: ("overdoor",),
    Part.WINDOW_HEAD: ("window head",),
    Part.CORNER_BLOCK: ("overdoor", "window head", "mantel"),
    **dict.fromkeys((*FRAME, *PANELS, Part.BOARD, Part.BEADED_BOARD, Part.BATTEN), ("wainscot",)),
    Part.WALL_PANEL: ("wall panels",),
    **dict.fromkeys(
        (Part.PLINTH, Part.PILASTER, Part.CAPITAL, Part.MANTEL, Part.BRACKET, Part.MANTEL_SHELF), ("mantel",)
    ),
    **dict.fromkeys((Part.OVERMANTEL_FRAME, Part.OVERMANTEL_PANEL), ("overmantel",)),
    Part.SKIRT: ("base",),
    Part.RAKING_RAIL: ("chair rail", "plate rail"),
    **{part: (str(part),) for part in (*RUNS, Part.STOOL, Part.APRON, Part.PLINTH_BLOCK)},
}
"""The elements of a package that each part on a wall belongs to."""


@pytest.mark.parametrize("style", STYLES)
def test_every_part_on_the_walls_belongs_to_its_element(style):
    """The whole demo house in every period and on every tier of a great house."""
    house, _ = read_house(demo_house())
    planned = plan(replace(house, style=style, grade="great house"))
    for walls in planned.walls.values():
        for walled in walls:
            for solid in walled.solids:
                assert solid.element in OF_ELEMENT[solid.part], (walled.room, walled.wall, solid)
                assert solid.projection > 0
