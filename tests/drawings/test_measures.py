"""Dimensions of 200 random houses: every string closes, and is measured on what is drawn."""

import re

import pytest

from planner.drawings import measures
from planner.drawings.elevation import elevation
from planner.drawings.svg import svg
from planner.units import format_length
from planner.walls.layout import lay_out
from tests.drawings.rooms import ALL, LIBRARY, SOME, walls_of
from tests.drawings.test_dimensions import assert_closes
from tests.walls.rooms import HOUSE
from tests.walls.trim import trim


@ALL
def test_every_string_of_dimensions_closes(seeds):
    for wall in walls_of(seeds):
        for measured, whole in (
            (measures.along(wall), wall.length),
            (measures.heights(wall), wall.ceiling),
            (measures.openings(wall), wall.ceiling),
        ):
            assert measured.points[0] == 0 and measured.points[-1] == pytest.approx(whole)
            assert_closes(measured)


@SOME
def test_every_written_dimension_of_the_drawing_is_measured_on_it(seeds):
    """The labels on the drawing are those of the strings and of the wall's own length and height, and no others."""
    for wall in walls_of(seeds):
        along, heights, openings = measures.along(wall), measures.heights(wall), measures.openings(wall)
        strings = [heights]
        strings += [along] if len(along.points) > 2 else []
        strings += [openings] if wall.apertures else []
        wanted = [along.total, heights.total, *(value for measured in strings for value in measured.written)]
        written = re.findall(r'class="t-dimension"[^>]*>([^<]*)<', svg(elevation(wall, title="")))
        read = [w.replace("&quot;", '"').replace("&#x27;", "'") for w in written if "rounding" not in w]
        lengths = [re.sub(r"^[a-z ]+", "", w) for w in read]
        assert sorted(lengths) == sorted(format_length(value) for value in wanted)


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
