"""Mouldings in space: their profile as the section has it, mitred or returned, and only what looks at the viewer."""

import pytest

from planner.drawings.before_eye import Standing
from planner.drawings.camera import Camera
from planner.drawings.relief import face_of, foot_of
from planner.drawings.swept import profile, swept, unhidden
from planner.house.model import OUTSIDE, House, Opening, Room
from planner.library import standard
from planner.walls.layout import lay_out
from planner.walls.parts import CROWNING, RUNS, Part
from tests.known import package

LIBRARY = standard()
ROOM = Room("Room", "Ground", "parlor", 240.0, 180.0, 120.0)
EYE = Camera((120.0, 20.0), 64.0, (0.0, 1.0), 160.0, 1.0)


def facing(*openings: Opening, tier: int = 5, style: str = "georgian"):
    """The north wall of a room, seen from the south."""
    house = House("One", ("Room",), (ROOM,), openings)
    layout = lay_out(house, ROOM, package(style, "doric", tier, 120.0, top=5), LIBRARY)[0]
    return layout, Standing(ROOM.walls[0], EYE, 0.01)


@pytest.mark.parametrize("style", LIBRARY.style_names)
def test_a_profile_is_that_of_the_section_between_the_edges_of_the_piece(style):
    layout, _ = facing(style=style, tier=4)
    runs = [s for s in layout.solids if s.part in RUNS]
    assert runs
    for s in runs:
        chain, seen = profile(s, layout), face_of(layout, s)
        assert s.y0 - 1e-6 <= chain[0][1] <= chain[-1][1] <= s.y1 + 1e-6
        assert max(p for p, _ in chain) <= max((p for p, _ in seen.points), default=s.projection) + 1e-6
        foot = foot_of(s, layout)
        for p, y in chain:
            near = [x for x, at in seen.points if abs(at - (y - foot)) < 0.2]
            assert not near or min(near) - 0.1 <= p <= max(near) + 0.1


def facing_way(corners, view: Standing) -> bool:
    """Whether any three corners that follow one another and are not in line look at the viewer."""
    return any(view.looks(*(corners[(n + i) % len(corners)] for i in range(3))) for n in range(len(corners)))


def test_every_face_looks_at_the_viewer():
    door = Opening("D", "door", "Room", OUTSIDE, "N", 20.0, 36.0, 80.0)
    layout, view = facing(door)
    mouldings = [s for s in layout.solids if s.part in RUNS or s.part in CROWNING]
    assert {s.part for s in mouldings} >= {Part.BASE, Part.CROWN, Part.OVERDOOR}
    for s in mouldings:
        for facet in swept(s, layout, view).facets:
            assert facing_way(facet.corners, view)


def test_what_crowns_an_opening_returns_upon_the_wall():
    """Its plumb ends lead back to the wall on the side nearer to the line of sight; on the other they are hidden."""
    door = Opening("D", "door", "Room", OUTSIDE, "N", 20.0, 36.0, 80.0)
    layout, view = facing(door)
    cornice = max((s for s in layout.solids if s.part is Part.OVERDOOR), key=lambda s: s.projection)
    returns = [f.corners for f in swept(cornice, layout, view).facets if f.corners[0][2] != f.corners[1][2]]
    assert len(returns) > 2
    assert all(0.0 in (corners[0][2], corners[1][2]) for corners in returns)
    plumb = [corners[0][0] for corners in returns if corners[0][0] == corners[2][0]]
    assert plumb
    assert min(plumb) > (cornice.x0 + cornice.x1) / 2


def test_the_parts_of_what_crowns_an_opening_begin_and_end_plumb():
    """The level face between two parts is drawn with neither twice: no spur stands out past the narrower part."""
    door = Opening("D", "door", "Room", OUTSIDE, "N", 20.0, 36.0, 80.0)
    layout, _ = facing(door)
    parts = [s for s in layout.solids if s.part is Part.OVERDOOR]
    assert len(parts) > 1
    for s in parts:
        heights = [y for _, y in profile(s, layout)]
        assert heights[0] < heights[1]
        assert heights[-2] < heights[-1]


def test_a_run_that_ends_at_an_opening_shows_its_end_to_who_stands_beyond():
    """An open passage has no casing; the base to its left is seen from the right."""
    gap = Opening("G", "open", "Room", OUTSIDE, "N", 20.0, 90.0, 100.0)
    layout, view = facing(gap, tier=3)
    left, right = sorted((s for s in layout.solids if s.part is Part.BASE), key=lambda s: s.x0)
    caps = [[f for f in swept(s, layout, view).facets if len({c[0] for c in f.corners}) == 1] for s in (left, right)]
    assert [c[0][0] for c in [caps[0][0].corners]] == [pytest.approx(left.x1)]
    assert len(caps[1]) == (1 if right.x0 > view.eye[0] else 0)


def test_a_shelf_below_the_eye_hides_its_underside_and_shows_its_top():
    chain = [(0.0, 20.0), (0.0, 29.0), (4.0, 29.0), (4.0, 30.0), (0.0, 30.0)]
    assert unhidden(chain, (0.0, 64.0, 100.0)) == [True, False, True, True, True]


def test_a_shelf_above_the_eye_shows_its_underside_and_hides_its_top():
    chain = [(0.0, 80.0), (0.0, 89.0), (4.0, 89.0), (4.0, 90.0), (0.0, 90.0), (0.0, 100.0)]
    assert unhidden(chain, (0.0, 64.0, 100.0)) == [True, True, True, True, False, True]
