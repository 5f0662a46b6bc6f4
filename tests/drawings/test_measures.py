"""Dimensions of 200 random houses: every string closes, and is measured on what is drawn."""

import re
from collections import Counter

import pytest

from planner.drawings import measures
from planner.drawings.elevation import elevation
from planner.drawings.key import key_of
from planner.drawings.scene import Text
from planner.units import format_length, format_size, parse_length
from planner.walls.layout import lay_out
from planner.walls.parts import Part
from tests.drawings.rooms import ALL, LIBRARY, SOME, walls_of
from tests.drawings.test_dimensions import assert_closes
from tests.drawings.texts import texts as written
from tests.walls.rooms import HOUSE
from tests.walls.trim import trim


@ALL
def test_every_string_of_dimensions_closes(seeds):
    for wall in walls_of(seeds):
        for measured, whole in (
            (measures.along(wall), wall.length),
            (measures.heights(wall), wall.ceiling),
            (measures.openings(wall), wall.ceiling),
            (measures.tops(wall), wall.ceiling),
            (measures.over_casings(wall), wall.length),
            (measures.panelling(wall), wall.length),
            (measures.wall_panels(wall), wall.length),
        ):
            assert measured.points[0] == 0 and measured.points[-1] == pytest.approx(whole)
            assert_closes(measured)


@SOME
def test_every_written_dimension_of_the_drawing_is_measured_on_it(seeds):
    """What is written is the spans of the strings and the wall's own length and height, and no others; a span that has
    a letter instead is as wide as the key says."""
    for wall in walls_of(seeds):
        key = dict(line.split("  ", 1) for line in key_of([wall]).lines if "  " in line)
        drawn = [*measures.under(wall), measures.heights(wall), *measures.beside(wall), *measures.over(wall)]
        wanted = Counter(format_length(value, "in") for measured in drawn for value in measured.written)
        wanted += Counter([format_length(wall.length, "in"), format_length(wall.ceiling, "in")])
        texts = [t.text for t in written(elevation(wall, title="")) if t.layer == "dimension"]
        letters = [t for t in texts if t in key]
        read = Counter(
            re.sub(r"^[a-z ]+", "", t) for t in texts if t not in key and "rounding" not in t and "reach" not in t
        )
        assert not read - wanted
        missing = sorted((wanted - read).elements())
        assert missing == sorted(
            format_length(parse_length(re.search(r"([\d /]+\")", key[t])[1]), "in") for t in letters
        )


@SOME
def test_what_is_too_small_has_one_letter_on_its_wall_and_the_key_says_its_size(seeds):
    for wall in walls_of(seeds):
        key = key_of([wall])
        tagged = [
            t.text for t in elevation(wall).shapes if isinstance(t, Text) and t.bold and t.text in key.letters.values()
        ]
        assert sorted(tagged) == sorted(key.letters.values())
        said = " ".join(key.lines)
        for s in wall.solids:
            if s.element == "casing" and s.part is Part.LEG:
                assert f"casing {format_size(s.width, 'in')}, {format_size(s.projection, 'in')} off the wall" in said


def test_the_key_says_of_ears_their_kick_and_drop_and_of_a_cornice_how_far_it_reaches():
    package = trim(5)
    north = parlor(package)["N"]
    lines = key_of([north]).lines
    crown = max(p.reach for p in north.sections["crown"])
    assert f"crown: drop {format_size(package.element('crown').size, 'in')}, reach {format_size(crown, 'in')}" in lines
    ears = [s for s in north.solids if s.part in (Part.UPRIGHT, Part.UPPER_LEG)]
    head = max(s.y1 for s in north.solids if s.part is Part.HEAD)
    low = min(s.y0 for s in ears)
    assert any(f"drop {format_size(head - low, 'in')}" in line for line in lines if "kick" in line) is bool(ears)


def test_walls_of_a_room_share_their_letters():
    walls = list(parlor(trim(5)).values())
    whole = key_of(walls).letters
    assert all(words in whole for wall in walls for words in key_of([wall]).letters)
    assert len(set(whole.values())) == len(whole) and not {"I", "O"} & set(whole.values())


def parlor(package):
    return {w.wall: w for w in lay_out(HOUSE, "Parlor", package, LIBRARY)}


def test_what_runs_is_measured_where_it_stands():
    package = trim(5)
    standing = measures.standing(parlor(package)["S"])
    crown, base, rail = (package.element(e) for e in ("crown", "base", "chair rail"))
    assert standing == {
        "base": (0.0, base.size),
        "chair rail": (30.0 - rail.size, 30.0),
        "crown": (120 - crown.size, 120),
    }


def test_a_shoe_is_too_small_to_be_measured_and_a_plate_rail_keeps_its_height():
    assert "shoe" not in measures.standing(parlor(trim(2))["S"])
    plate = trim(5, style="craftsman").element("plate rail")
    assert measures.standing(parlor(trim(5, style="craftsman"))["S"])["plate rail"] == (plate.bottom, plate.top)


def test_jambs_sills_and_heads_are_on_their_strings():
    south = parlor(trim(5))["S"]
    assert measures.along(south).points == (0, 36, 72, 144, 180, 216)
    assert measures.openings(south).points == (0, 30, 90, 120)
    heights = measures.heights(south).points
    assert heights == (0, trim(5).element("base").size, *heights[2:4], 120 - trim(5).element("crown").size, 120)
    assert heights[3] == 30
