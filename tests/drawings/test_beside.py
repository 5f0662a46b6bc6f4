"""A room's best wall, three times at one scale: as planned, a little plainer, a little richer."""

import pytest

from planner import Intent, beside, demo_house, edits, plan, read_house, read_stock, svg
from planner.drawings.beside import LEAST, best_wall
from planner.drawings.elevation import wall
from planner.drawings.perspective import walls_seen
from planner.drawings.scale import Scale
from planner.drawings.svg import MARGIN
from planner.record.one_step import one_step

HOUSE = read_house(demo_house())[0]
PLANNED = plan(HOUSE, stock=read_stock(demo_house(), HOUSE.unit))
NAMES = [room.room.name for room in PLANNED.rooms]


@pytest.mark.parametrize("page", [390.0, 700.0, 1200.0])
def test_all_are_of_one_size_and_scale_and_fit_the_page(page):
    for name in NAMES:
        found = beside(PLANNED, name, page)
        scenes = [side.scene for side in found.sides if side.scene is not None]
        assert len({scene.bounds() for scene in scenes}) == 1
        assert len({scene.scale for scene in scenes}) == 1
        box, scale = scenes[0].bounds(), scenes[0].scale
        assert scale is not None
        wide = (box.x1 - box.x0) * scale + 2 * MARGIN
        assert wide * (len(scenes) if found.abreast else 1) <= page + 1e-6
        assert found.abreast == (page / len(scenes) >= LEAST)


@pytest.mark.parametrize("name", NAMES)
def test_each_is_drawn_from_the_wall_of_its_own_plan(name):
    """The same shapes as the elevation of that wall in the plan that the step leads to."""
    found = beside(PLANNED, name)
    plans = {"planned": PLANNED, **{way: one_step(PLANNED, name, way).planned for way in ("plainer", "richer")}}
    for side in found.sides:
        made = plans[side.which]
        assert (side.scene is None) == (made is None)
        if made is None or side.scene is None:
            assert side.says == one_step(PLANNED, name, side.which).why
            continue
        layout = next(one for one in made.walls[name] if one.wall == found.wall)
        assert side.scene.shapes == tuple(wall(layout, Scale(96.0 / side.scene.scale, layout.unit)))


def test_they_stand_from_plain_to_rich_and_say_what_differs():
    sides = beside(PLANNED, "Upper Hall").sides
    assert [side.which for side in sides] == ["plainer", "planned", "richer"]
    assert sides[0].says.startswith("Plainer: ")
    assert sides[1].says == "As planned"
    assert sides[2].says.startswith("Richer: ")
    assert len({svg(side.scene) for side in sides}) == 3


def test_the_best_wall_is_the_one_with_the_chimneypiece():
    for name in ("Drawing Room", "Dining Room", "Library", "Principal Bedroom", "Guest Bedroom"):
        layouts = PLANNED.walls[name]
        best = best_wall(layouts, ())
        assert any(a.kind == "fireplace" for a in best.apertures)


def test_without_a_chimneypiece_it_is_one_seen_from_the_door_with_most_trim():
    for name in ("Kitchen", "Upper Hall", "Stair Hall", "Mud Room"):
        layouts, seen = PLANNED.walls[name], walls_seen(PLANNED, name)
        best = best_wall(layouts, seen)
        assert best.wall in seen
        most = max(sum(s.width * s.height for s in one.solids) for one in layouts if one.wall in seen)
        assert sum(s.width * s.height for s in best.solids) == most


def test_a_step_that_shows_nothing_in_the_room_says_so():
    held = plan(HOUSE, edits.pin(Intent(), "Library", 3))
    sides = beside(held, "Library").sides
    assert [side.scene is None for side in sides] == [True, False, True]
    assert sides[0].says == sides[2].says == "Your designer holds this room as it is."


def test_an_unknown_room_is_refused():
    with pytest.raises(KeyError):
        beside(PLANNED, "Ballroom")
