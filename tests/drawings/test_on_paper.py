"""What is drawn for paper alone: figures to scale, details, story poles, and what is at full size."""

import re
import xml.etree.ElementTree as ET
from itertools import pairwise

import pytest

from planner.drawings.detail import chimneypiece_detail, head_detail, told
from planner.drawings.elevation import figure, written_round
from planner.drawings.full_size import CROSS, check_rule, is_plain, profile_outline, register_marks, section_outlines
from planner.drawings.key import key_of
from planner.drawings.measures import ALL, Told, in_lines
from planner.drawings.pole import pole_shapes
from planner.drawings.printed import printed
from planner.drawings.scale import Scale, scale_bar
from planner.drawings.scene import Box, Path, Text, bounds, circle, line, rectangle
from planner.walls.parts import Part
from tests.drawn import demo

HALF_INCH = Scale(24, "in", 0.85)


def texts(shapes):
    return [shape.text for shape in shapes if isinstance(shape, Text)]


def test_a_figure_is_as_large_as_its_scale_says_in_ink_on_nothing():
    svg = ET.fromstring(printed([rectangle(0, 0, 48, 24, fill="paper")], Box(0, 0, 48, 24), HALF_INCH))
    assert (svg.get("width"), svg.get("height"), svg.get("viewBox")) == ("192", "96", "0 0 192 96")
    assert "M0.00 96.00H192.00V0.00H0.00Z" in svg[1].get("d")
    assert not [e for e in svg if e.tag.endswith("rect")]


def test_lines_on_paper_are_thinned_once_at_most():
    def width(ratio, layer):
        return float(
            re.search(rf"\.l-{layer}{{[^}}]*stroke-width:([\d.]+)px", printed([], Box(0, 0, 1, 1), Scale(ratio, "in")))[
                1
            ]
        )

    assert width(1, "cut") == pytest.approx(width(4, "cut"))
    assert width(8, "cut") == pytest.approx(width(1, "cut") / 2**0.5, abs=0.01)
    assert width(96, "cut") == width(8, "cut")
    assert width(24, "cut") > width(24, "profile") > width(24, "edge") > width(24, "dimension")


def test_what_a_neighbour_tells_is_not_told_again():
    wall = demo().walls["Entry Hall"][3]
    key = key_of([wall])
    boxes = [written_round(wall, HALF_INCH, key, "", each)[1] for each in (ALL, Told(False), Told(False, False))]
    widths = [box.x1 - box.x0 for box in boxes]
    assert widths[0] > widths[1] > widths[2] >= wall.length
    assert 'base 7 1/2"' in texts(written_round(wall, HALF_INCH, key, "", ALL)[0])
    assert 'base 7 1/2"' not in texts(written_round(wall, HALF_INCH, key, "", Told(False))[0])


def test_what_is_written_round_a_wall_takes_what_its_figure_takes():
    wall = demo().walls["Drawing Room"][0]
    key = key_of([wall])
    assert written_round(wall, HALF_INCH, key)[1] == figure(wall, HALF_INCH, key)[1]


def test_sills_heads_and_tops_stand_in_one_string_where_they_are_few():
    wall = demo().walls["Entry Hall"][0]
    apart, joined = (written_round(wall, HALF_INCH, key_of([wall]), "", Told(joined=each))[1] for each in (False, True))
    assert joined.x1 < apart.x1


def test_long_names_are_broken_inside_words_and_end():
    found = in_lines("W" * 300, 10.0, 1.0)
    assert len(found) == 4
    assert found[-1].endswith("…")
    assert in_lines("Entry Hall", 10.0, 1.0) == ["Entry Hall"]


def surround(room, kind):
    walls = demo().walls[room]
    return next((wall, s) for wall in walls for s in wall.surrounds if s.aperture.kind == kind)


def test_the_detail_of_ears_measures_their_kick_and_their_drop():
    wall, around = surround("Entry Hall", "cased opening")
    detail = head_detail(wall, around)
    ear = next(s for s in around.solids if s.part is Part.UPRIGHT)
    top = max(s.y1 for s in around.solids if s.part is Part.HEAD)
    assert detail.up.points[0] == pytest.approx(ear.y0)
    assert detail.up.points[-1] == pytest.approx(top)
    assert around.aperture.x0 in detail.across.points
    assert detail.across.points[0] == pytest.approx(min(s.x0 for s in around.solids if s.part is Part.UPRIGHT))
    assert detail.shown.y0 < ear.y0 < top < detail.shown.y1
    assert any("kick 1 1/8" in words for words in told(wall, around))


def test_the_detail_of_a_chimneypiece_shows_it_whole():
    wall, around = surround("Drawing Room", "fireplace")
    detail = chimneypiece_detail(wall, around)
    assert detail.shown.x0 < around.left < around.right < detail.shown.x1
    assert (detail.shown.y0, detail.up.points[0]) == (0.0, 0.0)
    assert detail.up.points[-1] == pytest.approx(around.top)


def test_a_story_pole_has_a_line_and_words_for_every_mark():
    pole = demo().story_poles[demo().packages[0]]
    shapes = pole_shapes(pole.marks, pole.ceiling, Scale(16, "in"))
    words = texts(shapes)
    for mark in pole.marks:
        assert mark.name in words
    lines = {s.segments[0].start[1] for s in shapes if isinstance(s, Path) and s.layer == "edge"}
    assert {mark.height for mark in pole.marks if mark.height < pole.ceiling} <= lines
    low = sorted(s.y for s in shapes if isinstance(s, Text) and s.anchor == "start")
    size = Scale(16, "in").type("note")
    assert min(b - a for a, b in pairwise(low)) > size


def test_a_profile_at_full_size_is_its_outline():
    profile = next(p.profile for p in demo().sections[demo().packages[0]]["chair rail"])
    box = bounds(profile_outline(profile))
    assert (box.x1 - box.x0, box.y1 - box.y0) == pytest.approx((profile.projection, profile.height))


def test_a_section_at_full_size_has_the_wall_behind_it_and_the_ceiling_over_it():
    package = demo().packages[0]
    crown = package.element("crown")
    shapes = section_outlines(package, crown, demo().sections[package]["crown"], demo().library)
    level = [s for s in shapes if s.layer == "fine" and s.box.y0 == s.box.y1 == crown.size]
    plumb = [s for s in shapes if s.layer == "fine" and s.box.x0 == s.box.x1 == 0.0]
    assert len(level) == len(plumb) == 1
    assert plumb[0].box.y1 == crown.size


@pytest.mark.parametrize(("unit", "side", "long"), [("in", 1.0, 6.0), ("mm", 25 / 25.4, 150 / 25.4)])
def test_the_rule_is_as_long_as_its_figures_say(unit, side, long):
    shapes = check_rule(unit, Scale(1, unit))
    square, rule = (s for s in shapes if isinstance(s, Path))
    assert (square.box.x1, square.box.y1) == pytest.approx((side, side))
    assert rule.box.x1 - rule.box.x0 == pytest.approx(long)
    numbers = [float(text) for text in texts(shapes) if text.isdigit()]
    assert max(numbers) == (6 if unit == "in" else 150)


def test_register_marks_stand_where_they_are_asked_for():
    cross, ring = register_marks([(3.0, 4.0)])
    assert cross.box == (3 - CROSS, 4 - CROSS, 3 + CROSS, 4 + CROSS)
    assert ring.box.x0 + ring.box.x1 == pytest.approx(6.0)


def test_what_is_plain_has_nothing_but_straight_edges_through_it():
    long = (rectangle(0.0, 0.0, 40.0, 1.0), circle((1.0, 0.5), 0.2))
    assert is_plain(long, Box(10.0, -1.0, 20.0, 3.0)) and is_plain(long, Box(41.0, 0.0, 50.0, 2.0))
    assert not is_plain(long, Box(0.5, -1.0, 10.0, 3.0)), "a curve in it"
    assert not is_plain(long, Box(30.0, -1.0, 45.0, 3.0)), "an end in it"
    assert not is_plain([line((0.0, 1.0), (15.0, 1.0))], Box(10.0, -1.0, 20.0, 3.0)), "an end of a line alone"
    assert not is_plain([line((0.0, 0.0), (40.0, 2.0))], Box(10.0, -1.0, 20.0, 3.0)), "not level"


@pytest.mark.parametrize("unit", ["in", "mm"])
@pytest.mark.parametrize("shapes_of", [lambda s: scale_bar(s, 0.0, 0.0)[0], lambda s: check_rule(s.unit, s)])
def test_the_unit_beside_a_bar_is_not_cut_off(unit, shapes_of):
    """An m is 0.83 em wide in the type of papers (measured in its regular cut)."""
    shapes = shapes_of(Scale(1, unit, 0.85))
    named = next(s for s in shapes if isinstance(s, Text) and s.text.isalpha())
    wide = {"m": 0.83, "i": 0.25, "n": 0.55, "f": 0.3, "t": 0.35}
    assert bounds(shapes).x1 >= named.x + named.size * sum(wide[letter] for letter in named.text)
