"""Elements seen from the front and cut through, once for a package."""

import pytest

from planner.drawings.faces import BARE, cut_through, faces
from planner.drawings.scene import bounds
from planner.values import immutabledict
from tests.walls.trim import profiles, trim

STATE = trim(5)
SECTIONS = profiles(STATE)


def test_a_face_runs_from_foot_to_top_and_knows_its_edges():
    seen = faces(SECTIONS)
    assert set(seen) == set(SECTIONS)
    for name, face in seen.items():
        size = STATE.element(name).size
        assert face.edges[0] == 0 and face.edges[-1] == pytest.approx(size, abs=1e-3)
        assert face.points[0][1] == pytest.approx(0) and face.points[-1][1] == pytest.approx(size)
        assert face.bands[0][1] == pytest.approx(size) and face.bands[-1][0] == pytest.approx(0)
    assert faces(SECTIONS) is seen


def test_how_far_a_face_stands_out_between_two_heights():
    base = faces(SECTIONS)["base"]
    projection = STATE.element("base").projection
    assert base.reach(0.0, 99.0) == pytest.approx(projection, abs=0.01)
    assert 0 < base.reach(STATE.element("base").size - 0.01, 99.0) < projection
    assert base.reach(50.0, 99.0) == BARE.reach(0.0, 99.0) == 0.0


def test_an_element_is_cut_by_its_profiles_or_as_a_plain_rectangle():
    crown = STATE.element("crown")
    left, low, right, high = bounds(cut_through(crown, SECTIONS))
    assert (left, low, high) == pytest.approx((0, 0, crown.size))
    assert right == pytest.approx(crown.projection, abs=0.02)
    (plain,) = cut_through(crown, immutabledict())
    assert plain.box == (0, 0, crown.projection, crown.size)
    assert (plain.fill, plain.name) == ("wood", "crown")
