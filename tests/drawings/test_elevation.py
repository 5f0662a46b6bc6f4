"""Elevations of the walls of 200 random houses: nothing beyond the wall, no silent overlap, dimensions that close."""

import re
from itertools import combinations, pairwise
from random import Random
from types import SimpleNamespace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon as Shape
from shapely import STRtree, box

from planner.checks.checks import check_room
from planner.drawings import elevation as drawn
from planner.drawings.dimensions import staggered, string
from planner.drawings.dxf import document
from planner.drawings.scene import Group, Path, Text, bounds, flat, text_box
from planner.drawings.svg import svg
from planner.house.model import House, Opening, Room
from planner.trim.packages import package
from planner.trim.styles import STYLES
from planner.units import format_length, parse_length
from planner.walls.layout import lay_out, stretch
from tests.walls.houses import random_house

BLOCKS = [range(first, first + 20) for first in range(0, 200, 20)]
ALL = pytest.mark.parametrize("seeds", BLOCKS, ids=lambda seeds: f"{seeds[0]}-{seeds[-1]}")
SOME = pytest.mark.parametrize("seeds", [block[::10] for block in BLOCKS], ids=lambda seeds: f"{seeds[0]}")
LAP = 1 / 16


def laid_out(seed: int):
    """The rooms of a random house with random tiers: house, room, package, style and walls of each."""
    house, rng = random_house(seed), Random(seed)
    style = rng.choice(STYLES)
    for room in house.rooms:
        trim = package(style, "doric", rng.randint(1, 5), room.ceiling, top=5)
        yield house, room, trim, style, lay_out(house, room, trim, style)


def rooms_of(seeds):
    for seed in seeds:
        yield from laid_out(seed)


@ALL
def test_no_trim_is_drawn_outside_the_wall(seeds):
    for *_, walls in rooms_of(seeds):
        for wall in walls:
            for s in wall.solids:
                for x, y in s.corners:
                    assert -1e-6 <= x <= wall.length + 1e-6, (wall.room, wall.wall, s)
                    assert -1e-6 <= y <= wall.ceiling + 1e-6, (wall.room, wall.wall, s)


@ALL
def test_no_two_solids_overlap_that_no_check_reports(seeds):
    """Overlaps are found by shapely from the corners alone; each must be told by an error that names where."""
    for house, room, trim, style, walls in rooms_of(seeds):
        errors = [c for c in check_room(house, room, trim, walls, style) if c.severity == "error"]
        for wall in walls:
            shapes = [Shape(s.corners) for s in wall.solids]
            for i, j in STRtree(shapes).query(shapes, predicate="intersects").T:
                one, other = wall.solids[i], wall.solids[j]
                if i >= j or one.on != other.on:
                    continue
                shared = shapes[i].intersection(shapes[j]).buffer(-LAP / 2)
                if shared.is_empty:
                    continue
                names = {one.opening, other.opening} - {""}
                told = [
                    c
                    for c in errors
                    if f"wall {wall.wall}:" in c.message
                    and (not names or c.opening in names or any(n in c.message for n in names))
                ]
                assert told, (wall.room, wall.wall, one, other)


@ALL
def test_every_string_of_dimensions_closes(seeds):
    for *_, walls in rooms_of(seeds):
        for wall in walls:
            for measured, whole in (
                (drawn.along(wall), wall.length),
                (drawn.heights(wall), wall.ceiling),
                (drawn.openings(wall), wall.ceiling),
            ):
                assert measured.points[0] == 0 and measured.points[-1] == pytest.approx(whole)
                assert_closes(measured)


def assert_closes(measured):
    """What is written, read back as a carpenter reads it, sums to the written total or to it less the residual."""
    read = sum(parse_length(format_length(value)) for value in measured.written)
    total = parse_length(format_length(measured.total))
    assert read + measured.residual / 16 == pytest.approx(total)


@settings(deadline=None)
@given(st.lists(st.floats(0, 400, allow_nan=False), min_size=2, max_size=12))
def test_a_string_shows_its_residual_instead_of_fudging(places):
    measured = string([*places, 0.0, 401.0])
    assert_closes(measured)
    for written, (a, b) in zip(measured.written, pairwise(measured.points), strict=True):
        assert abs(written - (b - a)) <= 1 / 32 + 1e-9
    assert abs(measured.residual) <= len(measured.written)


def test_a_residual_is_written_on_the_drawing():
    """Three spans of 10 1/32 in are each written 10 1/16 in the string and come to 30 3/32, written 30 1/8."""
    measured = string([0, 10 + 1 / 32, 20 + 2 / 32, 30 + 3 / 32])
    assert measured.residual == -1
    labels, _ = staggered(measured, 0.0)
    assert 'rounding −1/16"' in [label.text for label in labels]


@SOME
def test_no_two_labels_overlap(seeds):
    for *_, walls in rooms_of(seeds):
        for wall in walls:
            texts = [s for s in flat(drawn.elevation(wall).shapes) if isinstance(s, Text) and s.text]
            boxes = [Shape(text_box(t)) for t in texts]
            for (t, a), (u, b) in combinations(zip(texts, boxes, strict=True), 2):
                assert a.intersection(b).area < 0.05 * min(a.area, b.area), (wall.room, wall.wall, t.text, u.text)


@SOME
def test_every_written_dimension_of_the_drawing_is_measured_on_it(seeds):
    """The labels on the drawing are those of the strings and of the wall's own length and height, and no others."""
    for *_, walls in rooms_of(seeds):
        for wall in walls:
            wanted = [drawn.along(wall).total, drawn.heights(wall).total]
            strings = [drawn.heights(wall)]
            strings += [drawn.along(wall)] if len(drawn.along(wall).points) > 2 else []
            strings += [drawn.openings(wall)] if wall.apertures else []
            wanted += [value for measured in strings for value in measured.written]
            document = svg(drawn.elevation(wall, title=""))
            written = re.findall(r'class="t-dimension"[^>]*>([^<]*)<', document)
            read = [w.replace("&quot;", '"').replace("&#x27;", "'") for w in written if "rounding" not in w]
            lengths = [re.sub(r"^[a-z ]+", "", w) for w in read]
            assert sorted(lengths) == sorted(format_length(value) for value in wanted)


def test_a_stretch_of_wall_keeps_within_itself():
    for *_, walls in laid_out(11):
        for wall in walls:
            part = stretch(wall, wall.length * 0.2, wall.length * 0.7)
            assert part.length == pytest.approx(wall.length / 2)
            ground = box(0, 0, part.length, part.ceiling).buffer(1e-6)
            assert all(ground.covers(Shape(s.corners)) for s in part.solids)


def strip_of(names, length=168.0):
    """A strip along rooms with these names in a row, a door between each and the next."""
    rooms, doors = [], []
    for i, name in enumerate(names):
        x = i * length
        outline = ((x, 0.0), (x, length), (x + length, length), (x + length, 0.0))
        rooms.append(Room(name, "Ground", "parlor", length, length, 120.0, outline))
        if i:
            doors.append(Opening(f"D{i}", "door", name, names[i - 1], "W", None, 32.0, 80.0))
    house = House("Row", (names[0],), tuple(rooms), tuple(doors))
    tiers = range(5, 5 - len(names), -1)
    by_name = {
        name: SimpleNamespace(tier=tier, package=package("georgian", "doric", tier, 120.0, top=5))
        for name, tier in zip(names, tiers, strict=True)
    }
    return drawn.strip(SimpleNamespace(house=house, style="georgian", order="doric", by_name=by_name), names)


def test_a_strip_names_every_room_and_its_tier_whatever_its_name():
    names = ["Entry", "The Long Gallery toward the Garden and the River", "x" * 120]
    scene = strip_of(names)
    written = [s for s in flat(scene.shapes) if isinstance(s, Text)]
    words = " ".join(t.text for t in written)
    assert all(word in words for name in names for word in name.split())
    assert all(f"tier {tier}" in words for tier in (5, 4, 3))
    captions = [Shape(text_box(t)) for t in written]
    assert all(a.intersection(b).area < 1e-6 for a, b in combinations(captions, 2))


def test_a_strip_sets_walls_side_by_side_on_one_floor_at_one_scale():
    groups = [s for s in strip_of(["A", "B", "C"]).shapes if isinstance(s, Group)]
    assert len(groups) == 3
    assert {(g.placement.y, g.placement.scale, g.placement.mirror) for g in groups} == {(0.0, 1.0, False)}
    ends = [bounds([g]) for g in groups]
    assert all(a[2] <= b[0] + 1e-6 for a, b in pairwise(ends))


def test_sections_at_the_ends_reach_as_far_as_the_package_says():
    """The crown is cut at both ends as deep as its profile; nothing of it stands outside the wall."""
    *_, walls = next(laid_out(7))
    for wall in (w for w in walls if all(w.inside)):
        cuts = [s for s in flat(drawn.elevation(wall).shapes) if isinstance(s, Path) and s.fill == "wood"]
        left, low, right, high = bounds(cuts)
        assert left == pytest.approx(0) and right == pytest.approx(wall.length)
        assert low >= -1e-6 and high <= wall.ceiling + 1e-6


def test_a_drawing_goes_out_as_dxf_that_its_audit_passes():
    for *_, walls in laid_out(5):
        audit = document(drawn.room_sheet(walls)).audit()
        assert not audit.errors
