"""What stands on a wall seen from the room: light from the upper left at 45 degrees, edges where profiles have them."""

from dataclasses import replace

import pytest

from planner.drawings import relief
from planner.drawings.faces import faces
from planner.drawings.scene import Box, Path, bounds
from planner.mouldings.curves import Line
from planner.walls.layout import lay_out
from planner.walls.parts import Part
from planner.walls.solids import Solid
from tests.known import LIBRARY
from tests.walls.rooms import HOUSE
from tests.walls.trim import altered, trim, without

STATE = trim(5)


def wall(name="N", package=STATE):
    return next(w for w in lay_out(HOUSE, "Parlor", package, LIBRARY) if w.wall == name)


def of(layout, *parts):
    return [s for s in layout.solids if s.part in parts]


def paths(layout, *solids, covers=True):
    return {p.fill: p for p in relief.shaded(solids, layout, covers)}


def test_a_rail_throws_its_shadow_straight_down_as_far_as_it_stands_out():
    layout = wall("S")
    (rail,) = of(layout, Part.CHAIR_RAIL)[:1]
    assert relief._shadow(rail, layout) == (rail.x0, rail.y0 - rail.projection, rail.x1, rail.y0)


def test_a_stool_throws_its_shadow_to_the_right_and_down():
    layout = wall("S", without(trim(), "wainscot"))
    stool = of(layout, Part.STOOL)[0]
    x0, low, x1, high = bounds([Path((relief._shadow(stool, layout),))])
    assert (x0, x1) == (stool.x0, stool.x1 + stool.projection)
    assert (low, high) == (stool.y0 - stool.projection, stool.y1)


def test_a_shadow_stays_on_the_wall():
    layout = wall("S")
    wide = Solid(Part.HEAD, "casing", 200.0, 216.0, 0.5, 2.0, 3.0, outline=((200, 2), (200, 0.5), (216, 0.5), (216, 2)))
    assert bounds([Path((relief._shadow(wide, layout),))]) == (203, 0, 216, 0)
    beam = Solid(Part.STOOL, "stool", 200.0, 215.0, 1.0, 2.0, 3.0)
    shadow = bounds([Path((relief._shadow(beam, layout),))])
    assert (shadow.x1, shadow.y0) == (216, 0)


@pytest.mark.parametrize("part", [Part.BASE, Part.STILE, Part.RAISED_PANEL])
def test_what_is_all_but_flush_or_on_the_floor_throws_none(part):
    solid = Solid(part, "base" if part is Part.BASE else "wainscot", 10.0, 20.0, 5.0, 20.0, 1.0)
    assert relief._shadow(solid, wall()) is None


def test_shades_lie_where_the_profile_has_them():
    layout = wall("S")
    crown = of(layout, Part.CROWN)
    shaded = paths(layout, *crown)
    assert {"dark", "mid"} <= set(shaded)
    low, high = 120 - STATE.element("crown").size, 120.0
    for path in (shaded["dark"], shaded["light"]):
        x0, y0, x1, y1 = bounds([path])
        assert (x0, x1) == (0, 216) and low - 1e-6 <= y0 < y1 <= high + 1e-6
    assert all(not p.line and p.layer == "shade" for p in shaded.values())
    assert len(shaded["paper"].segments) == len(crown)
    (base,) = of(layout, Part.BASE)
    assert "paper" in {fill for *_, fill in faces(layout.sections)["base"].bands}
    assert len(paths(layout, base)["paper"].segments) == 1


def test_paper_is_laid_under_what_a_shadow_may_cover():
    layout = wall("S")
    stile = of(layout, Part.STILE)[0]
    assert set(paths(layout, stile)) == {"paper"}
    assert paths(layout, stile, covers=False) == {}


def test_what_stands_farther_out_is_drawn_later_and_a_block_over_its_casing():
    layout = wall()
    levels = {s.part: relief.level(s) for s in layout.solids}
    assert levels[Part.STILE] == 0 and levels[Part.CHAIR_RAIL] == 2
    assert levels[Part.PLINTH_BLOCK] == levels[Part.LEG] + 1
    assert levels[Part.CROWN] == max(levels.values())


def test_an_overdoor_is_seen_with_its_profile_at_both_ends():
    layout = wall()
    frieze, cornice = of(layout, Part.OVERDOOR)
    corners = relief.seen_outline(cornice, layout).corners
    xs = [x for x, _ in corners]
    assert len(corners) > 8
    assert (min(xs), max(xs)) == pytest.approx((cornice.x0, cornice.x1))
    middle = (cornice.x0 + cornice.x1) / 2
    assert sorted(round(2 * middle - x, 6) for x in xs) == sorted(round(x, 6) for x in xs)
    assert all(frieze.y1 - 1e-2 <= y <= cornice.y1 + 1e-2 for _, y in corners)
    bare = replace(layout, sections=type(layout.sections)({}))
    assert relief.seen_outline(cornice, bare).corners == cornice.corners


def edges(solid, layout):
    return relief.edges(solid, layout, relief.seen_outline(solid, layout).corners)


def test_a_run_shows_the_edges_of_its_profile():
    layout = wall("S")
    base = of(layout, Part.BASE)[0]
    inner = [y for y in faces(layout.sections)["base"].edges if 0 < y < base.y1]
    assert [s.start[1] for s in edges(base, layout)] == pytest.approx(inner)
    assert {(s.start[0], s.end[0]) for s in edges(base, layout)} == {(0, 216)}


def test_the_parts_of_a_crown_show_the_edges_of_the_whole():
    layout = wall("S")
    foot = 120 - STATE.element("crown").size
    shown = {round(s.start[1], 3) for part in of(layout, Part.CROWN) for s in edges(part, layout)}
    parts = {round(s.y0, 3) for s in of(layout, Part.CROWN)} | {120.0}
    wanted = {round(foot + y, 3) for y in faces(layout.sections)["crown"].edges}
    assert shown == wanted - parts


def test_a_turned_block_shows_three_rings_on_its_middle():
    block = Solid(Part.CORNER_BLOCK, "overdoor", 10.0, 16.0, 84.0, 90.0, 1.5, decorated=True)
    rings = edges(block, wall("S"))
    assert [len(ring.corners) for ring in rings] == 3 * [relief.SIDES]
    assert bounds([Path(tuple(rings[:1]))]) == pytest.approx((13 - 2.4, 87 - 2.4, 13 + 2.4, 87 + 2.4))
    assert edges(block._replace(decorated=False), wall("S")) == []


def test_a_casing_shows_its_members_along_its_length_mitred_with_it():
    layout = wall("S", without(trim(5), "crossette"))
    left, right = of(layout, Part.LEG)[:2]
    head = of(layout, Part.HEAD)[0]
    lines = edges(left, layout)
    assert len(lines) >= 2
    assert all(a.start[0] == a.end[0] and left.x0 < a.start[0] < left.x1 for a in lines)
    mirror = left.x0 + right.x1
    assert sorted(round(mirror - s.start[0], 6) for s in lines) == sorted(
        round(s.start[0], 6) for s in edges(right, layout)
    )
    tops = sorted(round(max(s.start[1], s.end[1]), 6) for s in lines)
    assert tops == sorted(round(s.start[1], 6) for s in edges(head, layout))


def test_a_flat_cut_off_at_a_corner_shows_no_edges_and_a_backband_does():
    layout = wall("S")
    ragged = ((0.0, 10.0), (4.0, 11.0), (4.0, 50.0), (0.5, 60.0))
    flat = Solid(Part.LEG, "casing", 0.0, 4.0, 10.0, 60.0, 1.0, outline=ragged, opening="W1")
    assert edges(flat, layout) == []
    band = faces(wall("S", trim(3)).sections)["backband"]
    assert band.edges
    assert edges(flat._replace(element="backband"), wall("S", trim(3))) is not None


def test_panels_are_lined_by_what_they_are():
    layout = wall()
    panel = of(layout, Part.RAISED_PANEL)[0]
    assert [type(line) for line in edges(panel, layout)] == [Box, Box, *4 * [Line]]
    assert edges(panel._replace(part=Part.FLAT_PANEL), layout) == edges(panel, layout)[:1]
    field = of(layout, Part.WALL_PANEL)[0]
    _, inner = edges(field, layout)
    assert inner == (field.x0 + 1.5, field.y0 + 1.5, field.x1 - 1.5, field.y1 - 1.5)
    stile = of(layout, Part.STILE)[0]
    assert edges(stile, layout) == []


def test_beaded_boards_show_where_they_meet_and_plain_ones_do_not():
    for form, count in (("beaded boards", 3), ("boards and battens", 0)):
        layout = wall("S", altered(STATE, "wainscot", form=form))
        boards = of(layout, Part.BEADED_BOARD, Part.BOARD)[0]
        assert (len(edges(boards, layout)) >= count) and bool(edges(boards, layout)) is bool(count)


def test_only_a_decorated_block_is_drawn_so():
    for style, lines in (("victorian", 2), ("georgian", 0)):
        layout = wall("N", trim(5, style=style))
        assert len(edges(of(layout, Part.PLINTH_BLOCK)[0], layout)) == lines


def test_a_windows_casing_shows_its_own_edges():
    layout = wall("S")
    leg = next(s for s in layout.solids if s.part is Part.LEG)
    seen = faces(layout.sections)
    width = leg.x1 - leg.x0
    wanted = [y for y in seen["window casing"].edges if 1e-3 < y < width - 1e-3]
    assert sorted(leg.x1 - s.start[0] for s in edges(leg, layout)) == pytest.approx(sorted(wanted))
