"""All walls of a room on one page: none over another, all at one scale, in rows no wider than asked."""

from itertools import combinations, pairwise

import pytest

from planner.drawings import page
from planner.drawings.dxf import document
from planner.drawings.elevation import figure
from planner.drawings.key import key_of
from planner.drawings.page import room_sheet, sheets_for
from planner.drawings.scale import paper, scales
from planner.drawings.scene import Group, Text, bounds
from tests.drawings.rooms import laid_out


def groups(scene):
    return [s for s in scene.shapes if isinstance(s, Group)]


def sheets():
    return [(walls, room_sheet(walls)) for *_, walls in laid_out(7)]


def test_every_wall_is_there_at_one_scale_and_clear_of_the_others():
    for walls, scene in sheets():
        assert [g.name for g in groups(scene)] == [f"{w.room}, wall {w.wall} · {w.package.label}" for w in walls]
        assert {g.placement.scale for g in groups(scene)} == {1.0}
        boxes = [bounds([g]) for g in groups(scene)]
        for (a0, b0, a1, b1), (c0, d0, c1, d1) in combinations(boxes, 2):
            assert a1 <= c0 + 1e-6 or c1 <= a0 + 1e-6 or b1 <= d0 + 1e-6 or d1 <= b0 + 1e-6
        assert scene.title == f"{walls[0].room}: {len(walls)} walls"


def test_rows_are_as_wide_as_asked_where_a_wall_is_no_wider():
    (walls, _), *_ = sheets()
    widths = [b[2] - b[0] for b in (room_sheet([w]).bounds() for w in walls)]
    for across in (1.0, 760.0, 1e6):
        left, _, right, _ = room_sheet(walls, across).bounds()
        assert right - left <= max(across, *widths) + 1e-6


def test_walls_stand_in_one_row_where_it_is_wide_enough_and_one_below_the_other_where_it_is_not():
    (walls, _), *_ = sheets()
    ends = {across: [bounds([g]) for g in groups(room_sheet(walls, across))] for across in (1.0, 1e6)}
    assert all(a[2] < b[0] for a, b in pairwise(ends[1e6]))
    assert all(a[1] > b[3] for a, b in pairwise(ends[1.0]))
    assert {round(b[0], 6) for b in ends[1.0]} == {0.0}


@pytest.mark.parametrize(("width", "scale"), [(1e6, paper("in")), (300.0, scales("walls", "in")[-1])])
def test_each_wall_is_drawn_once_and_not_at_a_scale_at_which_it_cannot_fit(monkeypatch, width, scale):
    (walls, _), *_ = sheets()
    drawn = []

    def counted(wall, scale, key, *title):
        drawn.append((wall.wall, scale))
        return figure(wall, scale, key, *title)

    monkeypatch.setattr(page, "figure", counted)
    found = sheets_for(walls, width)
    assert drawn == [(wall.wall, scale) for wall in walls]
    assert {sheet.scale for sheet in found} == {scale.pixels}


def test_a_page_goes_out_as_dxf_that_its_audit_passes():
    for *_, walls in laid_out(5):
        assert not document(room_sheet(walls)).audit().errors


def test_walls_on_sheets_of_their_own_are_as_on_one_with_the_letters_that_each_needs():
    for walls, _ in sheets():
        parts = sheets_for(walls, 780.0)
        (scale,) = (scale for scale in scales("walls", "in") if scale.pixels == parts[0].scale)
        whole = room_sheet(walls, 1e6, scale)
        assert [g.name for part in parts for g in groups(part)] == [g.name for g in groups(whole)]
        assert [g.shapes for part in parts for g in groups(part)] == [g.shapes for g in groups(whole)]
        key, letters = key_of(walls), [set(key_of(walls).of(wall).lines) for wall in walls]
        assert set().union(*letters) == set(key.lines) and any(some < set(key.lines) for some in letters)
        for part, lines in zip(parts, letters, strict=True):
            written = " ".join(s.text for s in part.shapes if isinstance(s, Text))
            assert all(line.split()[0] in written.split() for line in lines)
