"""Elevations of the walls of 200 random houses: nothing beyond the wall, no silent overlap, labels kept clear."""

from dataclasses import replace
from itertools import combinations

import pytest
from shapely import Polygon as Shape
from shapely import STRtree, box

from planner.checks.plan import check_room
from planner.drawings.elevation import description, elevation, heading, wall
from planner.drawings.scene import Group, Path, Text, bounds, flat, text_box
from planner.house.model import OUTSIDE, Opening
from planner.units import format_size
from planner.walls.layout import lay_out, stretch
from tests.drawings.rooms import ALL, LIBRARY, SOME, laid_out, rooms_of, walls_of
from tests.drawings.texts import texts as written
from tests.walls.rooms import HOUSE, L_SHAPED, PARLOR, alone
from tests.walls.trim import trim

LAP = 1 / 16


@ALL
def test_no_trim_is_drawn_outside_the_wall(seeds):
    for walled in walls_of(seeds):
        for s in walled.solids:
            for x, y in s.corners:
                assert -1e-6 <= x <= walled.length + 1e-6, (walled.room, walled.wall, s)
                assert -1e-6 <= y <= walled.ceiling + 1e-6, (walled.room, walled.wall, s)


def least_side(shape):
    """The lesser side of the box about a shape: nothing wider than that lies within it."""
    left, bottom, right, top = shape.bounds
    return min(right - left, top - bottom)


@ALL
def test_no_two_solids_overlap_that_no_check_reports(seeds):
    """Overlaps are found by shapely from the corners alone; each must be told by an error that names where."""
    for house, room, trim_, walls in rooms_of(seeds):
        errors = [c for c in check_room(house, room.name, trim_, walls, LIBRARY) if c.severity == "error"]
        for walled in walls:
            shapes = [Shape(s.corners) for s in walled.solids]
            for i, j in STRtree(shapes).query(shapes, predicate="intersects").T:
                one, other = walled.solids[i], walled.solids[j]
                if i >= j or one.on != other.on:
                    continue
                if least_side(shared := shapes[i].intersection(shapes[j])) <= LAP or shared.buffer(-LAP / 2).is_empty:
                    continue
                names = {one.opening, other.opening} - {""}
                told = [
                    c
                    for c in errors
                    if f"wall {walled.wall}:" in c.message
                    and (not names or c.opening in names or any(n in c.message for n in names))
                ]
                assert told, (walled.room, walled.wall, one, other)


@SOME
def test_no_two_labels_overlap(seeds):
    for walled in walls_of(seeds):
        texts = written(elevation(walled))
        boxes = [Shape(text_box(t).corners) for t in texts]
        for (t, a), (u, b) in combinations(zip(texts, boxes, strict=True), 2):
            assert a.intersection(b).area < 0.05 * min(a.area, b.area), (walled.room, walled.wall, t.text, u.text)


def test_a_stretch_of_wall_keeps_within_itself():
    for *_, walls in laid_out(11):
        for walled in walls:
            part = stretch(walled, walled.length * 0.2, walled.length * 0.7)
            assert part.length == pytest.approx(walled.length / 2)
            ground = box(0, 0, part.length, part.ceiling).buffer(1e-6)
            assert all(ground.covers(Shape(s.corners)) for s in part.solids)


def test_sections_at_the_ends_reach_as_far_as_the_package_says():
    """The crown is cut at both ends as deep as its profile; nothing of it stands outside the wall."""
    *_, walls = next(laid_out(7))
    for walled in (w for w in walls if all(w.inside)):
        cuts = cut_wood(walled)
        left, low, right, high = bounds(cuts)
        assert left == pytest.approx(0) and right == pytest.approx(walled.length)
        assert low >= -1e-6 and high <= walled.ceiling + 1e-6


def cut_wood(walled):
    return [s for s in flat(elevation(walled).shapes) if isinstance(s, Path) and s.fill == "wood"]


def parlor(package=None, house=HOUSE):
    return {w.wall: w for w in lay_out(house, "Parlor", package or trim(5), LIBRARY)}


def test_the_base_crown_rail_and_wainscot_are_cut_at_both_ends_where_they_stand():
    package = trim(5)
    base, crown, wainscot = (package.element(e) for e in ("base", "crown", "wainscot"))
    boxes = [p.box for p in cut_wood(parlor()["S"])]
    heights = {(round(box.y0, 3), round(box.y1, 3)) for box in boxes}
    rail = package.element("chair rail")
    rule = LIBRARY.surrounds.panels
    assert (0.0, base.size) in heights and (0.0, base.size + rule.bottom_rail) in heights
    assert (30.0 - rail.size - rule.top_rail, 30.0) in heights
    assert min(low for low, _ in heights if low > 60) == 120 - crown.size and max(high for _, high in heights) == 120
    depth = {box.x1 - box.x0 for box in boxes if round(box.y1, 3) == base.size + rule.bottom_rail}
    assert depth == {wainscot.thickness}
    assert 0.0 in {box.x0 for box in boxes}


def test_a_shoe_is_cut_in_front_of_its_base():
    walled = parlor(trim(2))["S"]
    base, shoe = trim(2).element("base"), trim(2).element("shoe")
    boxes = (p.box for p in cut_wood(walled))
    reach = max(box.x1 for box in boxes if box.y1 <= shoe.size + 1e-6 and box.x0 < 99)
    assert reach == pytest.approx(base.projection + shoe.projection, abs=0.13)


def test_nothing_is_cut_at_an_outside_corner():
    before = {w.wall: w for w in lay_out(alone(L_SHAPED), "Ell", trim(3), LIBRARY)}["3"]
    assert before.inside == (True, False)
    assert max(p.box.x1 for p in cut_wood(before)) < before.length / 2


def test_heading_and_description_say_what_is_shown():
    south = parlor()["S"]
    assert heading(south) == f"Parlor, wall S · {trim(5).label}"
    said = description(south)
    assert "18'-0\" long" in said and "window W1, window W2" in said
    assert f"base {format_size(trim(5).element('base').size, 'in')}" in said
    assert "no opening" in description(parlor(house=alone(PARLOR))["S"])


def test_a_title_can_be_left_out_and_so_can_dimensions():
    south = parlor()["S"]
    bare = [s.text for s in flat(elevation(south, dimensions=False, title="").shapes) if isinstance(s, Text)]
    assert bare[:2] == ["W1", "W2"] and not [t for t in bare if "'-" in t]
    titled = [s.text for s in flat(elevation(south, title="Ours").shapes) if isinstance(s, Text)]
    assert "Ours" in titled and heading(south) not in titled


def test_openings_are_named_under_the_floor_and_never_across_themselves():
    assert [s for s in wall(parlor()["S"]) if isinstance(s, Text)] == []
    long = Opening("Long name " * 30, "window", "Parlor", OUTSIDE, "S", 60.0, 12.0, 40.0, 30.0)
    for walled in (parlor()["S"], parlor(house=alone(PARLOR, long))["S"]):
        names = " ".join(a.name for a in walled.apertures).split()
        written = [
            s for s in flat(elevation(walled).shapes) if isinstance(s, Text) and set(s.text.split()) <= set(names)
        ]
        assert sorted(" ".join(t.text for t in written).split()) == sorted(names)
        assert all(y < 0 for t in written for _, y in text_box(t).corners)


def test_what_stands_out_three_inches_has_a_heavy_outline():
    layers = {g.layer for g in wall(parlor()["N"]) if isinstance(g, Path)}
    assert {"fine", "edge", "profile"} <= layers
    flat_wall = parlor(trim(1))["N"]
    assert "profile" not in {g.layer for g in wall(flat_wall) if isinstance(g, Path)}


def test_the_elevation_of_a_wall_without_trim_is_bare():
    walled = replace(parlor(house=alone(PARLOR))["S"], solids=(), sections={}, package=replace(trim(5), elements=()))
    assert not [s for s in flat(wall(walled)) if isinstance(s, Path) and s.fill == "wood"]
    assert not [s for s in wall(walled) if isinstance(s, Group) and s.shapes]
