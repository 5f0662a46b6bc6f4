"""Frames for casings, and what their pieces must cover."""

import pytest
from hypothesis import assume
from hypothesis import strategies as st
from shapely import Polygon, box, unary_union

from planner.walls.casings import Frame

CLOSE = 1 / 32
"""No joint may gape or lap by more than this [in]."""


def sixteenths(low: float, high: float):
    return st.integers(round(low * 16), round(high * 16)).map(lambda n: n / 16)


@st.composite
def frames(draw) -> Frame:
    width = draw(sixteenths(3, 8))
    band = draw(st.sampled_from([0.0, 0.75, 1.0, 1.25, 1.5, 2.0]))
    height, clear = draw(sixteenths(60, 110)), draw(sixteenths(18, 120))
    x0, y0 = draw(sixteenths(0, 40)), draw(sixteenths(0, 12))
    kick, drop = draw(sixteenths(0.5, 2)), draw(sixteenths(6, 24))
    assume(drop > 2 * (band or width) and drop >= width)
    return Frame(x0, x0 + clear, y0, height, width, band, kick, drop)


def outline(f: Frame) -> Polygon:
    """What must be covered, from boxes alone."""
    top, out = f.y1 + f.width, f.width + f.kick
    legs_and_head = box(f.x0 - f.width, f.y0, f.x1 + f.width, top)
    ears = box(f.x0 - out, top - f.drop, f.x1 + out, top) if f.kick else Polygon()
    return unary_union([legs_and_head, ears]).difference(box(f.x0, f.y0 - 1, f.x1, f.y1))


def assert_closes(solids, wanted) -> None:
    shapes = [Polygon(s.corners) for s in solids]
    assert all(shape.is_valid and shape.exterior.is_ccw and shape.area > 0 for shape in shapes)
    covered = unary_union(shapes)
    assert sum(shape.area for shape in shapes) == pytest.approx(wanted.area, rel=1e-9)
    # What is left over vanishes when it shrinks by half of what a joint may gape.
    assert covered.symmetric_difference(wanted).buffer(-CLOSE / 2).is_empty
    assert covered.hausdorff_distance(wanted) < CLOSE
