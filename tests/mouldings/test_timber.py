"""What a profile is made of: solid, boxed or sprung. Worked by hand; common practice."""

from dataclasses import replace

import pytest
from shapely.geometry import Polygon
from shapely.ops import unary_union

from planner import demo_house, read_stock
from planner.mouldings import curves
from planner.mouldings.members import profile
from planner.mouldings.outlines import area, polygon
from planner.mouldings.timber import HOLLOW, timber, wood
from tests.known import LIBRARY, parse_members

BACKING = LIBRARY.joinery.backing
STOCK = [p for p in read_stock(demo_house()).profiles if p.role in HOLLOW]


def made(text, role="crown", thickness=0.75):
    return replace(profile(parse_members(text), role), thickness=thickness)


def test_what_stands_within_the_thickness_of_its_stuff_is_solid():
    assert [t.made for t in timber(made("fascia 4 x 3/4"), BACKING)] == ["solid"]
    assert wood(made("fascia 4 x 3/4"), BACKING) == 3.0


def test_a_base_is_solid_however_far_it_reaches():
    assert wood(made("fascia 4 x 3", role="base"), BACKING) == 12.0


def test_a_beam_is_a_face_and_a_soffit():
    """6 high, reaching 5, of 3/4 stuff with a soffit of 1/2: 6 x 3/4 and 4 1/4 x 1/2."""
    (beam,) = timber(made("fascia 6 x 5"), BACKING)
    assert beam.made == "boxed"
    assert curves.area(beam.outline) == pytest.approx(6 * 0.75 + 4.25 * 0.5)
    assert beam.hollow == ((0.0, 0.5), (4.25, 0.5), (4.25, 6.0), (0.0, 6.0))


def test_a_shelf_is_a_board_on_its_flat():
    assert [t.made for t in timber(made("fascia 1 x 5"), BACKING)] == ["solid"]


def test_a_bed_mould_above_a_frieze_stands_on_the_frieze_that_runs_up_behind_it():
    frieze, bed = timber(made("fascia 7 x 3/4; fillet 1/4 x 1; cyma reversa 1 x 1 7/8"), BACKING)
    assert (frieze.back, bed.back) == (0.0, 0.75)
    assert curves.area(frieze.outline) == 7 * 0.75
    assert min(x for x, _ in curves.points(bed.outline)) == pytest.approx(0.75)


@pytest.mark.parametrize("moulding", STOCK, ids=lambda p: p.code)
def test_a_profile_of_the_stock_is_cut_from_its_outline_and_no_piece_overlaps_another(moulding):
    pieces = [Polygon(curves.points(t.outline)) for t in timber(moulding, BACKING)]
    whole = polygon(moulding).buffer(1e-3)
    assert all(piece.is_valid and whole.covers(piece) for piece in pieces)
    assert unary_union(pieces).area == pytest.approx(sum(p.area for p in pieces), abs=1e-3)
    assert wood(moulding, BACKING) <= area(moulding) + 1e-9


@pytest.mark.parametrize("moulding", [p for p in STOCK if p.role == "crown"], ids=lambda p: p.code)
def test_a_crown_is_no_thicker_than_its_stuff_or_what_its_hollows_need(moulding):
    (piece,) = timber(moulding, BACKING)
    assert piece.made == "sprung" and len(piece.hollow) == 3
    assert wood(moulding, BACKING) < 0.6 * area(moulding)
