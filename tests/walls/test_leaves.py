"""What hangs in an opening, worked by hand from library/leaves.toml; common practice unless a test says whose."""

import pytest

from planner.library import standard
from planner.walls import leaves
from planner.walls.openings import Aperture, surround
from tests.walls.trim import altered, trim, without

LIBRARY = standard()
DOOR = Aperture("D", "door", 10.0, 46.0, 0.0, 80.0)
WINDOW = Aperture("W", "window", 10.0, 46.0, 30.0, 90.0)


def panes(kind, name, width=36.0, height=80.0):
    return [p for p in leaves.leaf(0.0, width, 0.0, height, name, LIBRARY) if p.kind == kind]


def filling(opening, package=None):
    return surround(opening, package or trim(5), LIBRARY).filling


@pytest.mark.parametrize(
    ("name", "panels", "lights"),
    [
        ("six panels", 6, 0),
        ("five panels", 5, 0),
        ("four panels", 4, 0),
        ("two panels", 2, 0),
        ("long panels", 3, 0),
        ("lights over long panels", 2, 3),
        ("fifteen lights", 0, 15),
        ("", 0, 0),
    ],
)
def test_each_kind_of_leaf_has_its_panels_and_lights(name, panels, lights):
    assert (len(panes("panel", name)), len(panes("light", name)), len(panes("leaf", name))) == (panels, lights, 1)


@pytest.mark.parametrize("name", [leaf.name for leaf in LIBRARY.leaves])
@pytest.mark.parametrize(("width", "height"), [(18.0, 60.0), (26.0, 80.0), (36.0, 84.0), (48.0, 108.0)])
def test_panels_fill_a_leaf_between_equal_stiles_and_do_not_overlap(name, width, height):
    found = panes("panel", name, width, height) + panes("light", name, width, height)
    assert all(p.x0 < p.x1 and p.y0 < p.y1 for p in found)
    stile = min(4.5, width / 6)
    assert min(p.x0 for p in found) == pytest.approx(stile)
    assert max(p.x1 for p in found) == pytest.approx(width - stile)
    assert height - max(p.y1 for p in found) == pytest.approx(min(stile, height / 16))
    for i, a in enumerate(found):
        for b in found[i + 1 :]:
            assert min(a.x1, b.x1) <= max(a.x0, b.x0) or min(a.y1, b.y1) <= max(a.y0, b.y0)


def test_two_upright_panels_have_no_lock_rail():
    """R. G. Hatfield, The American House-Carpenter, art. 301."""
    left, right = panes("panel", "two panels")
    assert (left.y0, left.y1) == (right.y0, right.y1) == (9.0, 75.5)
    assert (left.x0, left.x1, right.x0, right.x1) == (4.5, 15.75, 20.25, 31.5)


def test_a_narrow_leaf_has_one_panel_in_a_row():
    assert len(panes("panel", "six panels", 26.0)) == 3 and len(panes("panel", "six panels", 26.1)) == 6


@pytest.mark.parametrize("kind", ["double door", "pocket door"])
def test_a_pair_of_leaves_meets_in_the_middle(kind):
    found = [p for p in filling(DOOR._replace(kind=kind, x1=70.0)) if p.kind == "leaf"]
    assert [(p.x0, p.x1) for p in found] == [(10.0, 40.0), (40.0, 70.0)]


def test_six_over_six_and_two_over_one():
    upper, lower = (LIBRARY.lights_of(lights) for lights in ("6/6", "2/1"))
    found = list(leaves.sashes(0.0, 36.0, 30.0, 90.0, upper))
    assert [(p.y0, p.y1) for p in found if p.kind == "sash"] == [(60.0, 90.0), (30.0, 60.0)]
    lights = [p for p in found if p.kind == "light"]
    assert len(lights) == 12
    assert {round(p.x1 - p.x0, 6) for p in lights} == {10.833333}  # 36 less two stiles of 1 3/4, in three
    assert {round(p.y1 - p.y0, 6) for p in lights} == {13.25}
    assert len([p for p in leaves.sashes(0.0, 36.0, 30.0, 90.0, lower) if p.kind == "light"]) == 3


@pytest.mark.parametrize(
    ("words", "known"), [("6/6", True), ("8", True), ("6/6/6", False), ("7/1", False), ("", False)]
)
def test_lights_are_read_as_upper_over_lower(words, known):
    assert (LIBRARY.lights_of(words) is not None) is known


@pytest.mark.parametrize(
    ("style", "leaf", "sash"),
    [
        ("georgian", "six panels", "6/6"),
        ("federal", "six panels", "6/6"),
        ("colonial revival", "six panels", "6/1"),
        ("greek revival", "two panels", "6/6"),
        ("victorian", "four panels", "2/2"),
        ("craftsman", "lights over long panels", "4/1"),
    ],
)
def test_each_period_has_its_own_in_its_best_room(style, leaf, sash):
    room = trim(5, style=style)
    assert (room.element("door leaf").form, room.element("sash").form) == (leaf, sash)
    assert filling(DOOR, room) == filling(DOOR._replace(leaf=leaf), room)
    assert filling(WINDOW, room) == filling(WINDOW._replace(lights=sash), room)


def test_what_a_house_says_of_its_own_openings_wins():
    assert len(filling(DOOR._replace(leaf="two panels"))) == 3
    assert len([p for p in filling(WINDOW._replace(lights="12/12")) if p.kind == "light"]) == 24
    ruled = altered(trim(5), "door leaf", form="four panels")
    assert len(filling(DOOR, ruled)) == 5 and len(filling(DOOR._replace(leaf="two panels"), ruled)) == 3


def test_a_window_wider_than_high_is_one_sash_unless_the_house_says_how_many():
    wide = WINDOW._replace(y1=60.0)
    assert [p.kind for p in filling(wide)].count("sash") == 1
    assert [p.kind for p in filling(wide._replace(lights="6/6"))].count("sash") == 2


def test_a_leaf_that_the_designer_leaves_out_is_flush_and_other_openings_have_nothing_in_them():
    assert [p.kind for p in filling(DOOR, without(trim(5), "door leaf"))] == ["leaf"]
    for kind in ("open", "cased opening", "stair", "fireplace"):
        assert filling(DOOR._replace(kind=kind)) == ()


def test_every_form_of_leaf_and_sash_can_be_drawn():
    assert set(LIBRARY.form_names("door leaf")) == {leaf.name for leaf in LIBRARY.leaves}
    assert all(LIBRARY.lights_of(form) for form in LIBRARY.form_names("sash"))
