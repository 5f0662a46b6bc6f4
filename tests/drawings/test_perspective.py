"""A room from its door: its facing wall as in its elevation, one vanishing point, nothing hidden, nothing outside."""

from math import hypot, isfinite
from random import Random
from time import process_time

import pytest

from planner import demo_house, perspective, plan, read_house, svg
from planner.drawings import perspective as module
from planner.drawings.before_eye import Standing
from planner.drawings.camera import line_within
from planner.drawings.dxf import document
from planner.drawings.perspective import seen_from_door, walls_seen, whence
from planner.drawings.scene import Box, Path, Ring
from planner.drawings.station import EYE, station
from planner.drawings.swept import profile, swept, unhidden
from planner.house.model import OUTSIDE, Fixture, Flight, House, Opening, Room
from planner.library import standard
from planner.mouldings.curves import Line
from planner.walls.layout import lay_out
from planner.walls.parts import RUNS
from tests.drawings.rooms import SOME, rooms_of
from tests.known import package

LIBRARY = standard()
PLANNED = plan(read_house(demo_house())[0])
EVERYWHERE = Box(-1e6, -1e6, 1e6, 1e6)
NAMES = [room.room.name for room in PLANNED.rooms]


def at(room: str):
    return station(PLANNED.house.by_name[room], PLANNED.walls[room], whence(PLANNED, room))


def lines(scene):
    """Every straight line drawn, the outlines of filled shapes that have a line included."""
    for shape in scene.shapes:
        if shape.line:
            yield from shape.sides


def places(scene):
    for shape in scene.shapes:
        for side in shape.sides:
            yield from (side.start, side.end)


def drawn(outline, *openings, tier=4, page=700.0, name="Here"):
    room = Room(name, "Ground", "parlor", 240.0, 144.0, 120.0, tuple((float(x), float(y)) for x, y in outline))
    house = House("One", (name,), (room,), openings)
    walls = lay_out(house, room, package("georgian", "doric", tier, 120.0, top=5), LIBRARY)
    return seen_from_door(room, walls, (OUTSIDE,), 36.0, page)


@pytest.mark.parametrize("name", NAMES)
def test_all_that_is_drawn_of_a_room_lies_in_the_picture(name):
    scene = perspective(PLANNED, name)
    x0, y0, x1, y1 = scene.bounds()
    assert len(scene.shapes) > 5
    for x, y in places(scene):
        assert isfinite(x)
        assert isfinite(y)
        assert x0 - 1e-6 <= x <= x1 + 1e-6
        assert y0 - 1e-6 <= y <= y1 + 1e-6


@pytest.mark.parametrize("page", [390.0, 700.0])
def test_a_picture_fits_its_page(page):
    for name in NAMES:
        scene = perspective(PLANNED, name, page)
        box = scene.bounds()
        assert (box.x1 - box.x0) * scale_of(scene) + 24 <= page + 1e-6
        assert (box.y1 - box.y0) * scale_of(scene) + 24 <= 0.9 * page + 1e-6


def scale_of(scene):
    assert scene.scale is not None
    return scene.scale


@pytest.mark.parametrize("name", ["Drawing Room", "Dining Room", "Principal Bedroom", "Guest Bedroom", "Library"])
def test_the_openings_of_the_facing_wall_stand_as_in_its_elevation(name):
    """To 1e-9, moved along by one length: the picture plane lies in the wall."""
    found = at(name)
    layout = next(wall for wall in PLANNED.walls[name] if wall.wall == found.facing)
    view = Standing(PLANNED.house.by_name[name].wall(found.facing), found.camera, 0.1)
    left = found.camera.drawn(view.place((0.0, 0.0, 0.0)))[0]
    segments = list(lines(perspective(PLANNED, name)))
    assert layout.apertures
    for a in layout.apertures:
        for x, y in ((a.x0, a.y0), (a.x1, a.y0), (a.x0, a.y1), (a.x1, a.y1)):
            near = min(hypot(px - left - x, py - y) for line in segments for px, py in line)
            assert near < 1e-9


@pytest.mark.parametrize("name", ["Drawing Room", "Library", "Kitchen", "Entry Hall"])
def test_mouldings_along_the_side_walls_run_to_one_point(name):
    """Straight ahead at the height of the eye, to 1e-9; and each lies at its own height and distance off the wall."""
    found, runs = at(name), 0
    for wall, layout in zip(PLANNED.house.by_name[name].walls, PLANNED.walls[name], strict=True):
        view = Standing(wall, found.camera, 0.1)
        (_, near, _), (_, far, _) = ends(view)
        if abs(near - far) < 1.0:
            continue
        for solid in layout.solids:
            if solid.part not in RUNS:
                continue
            heights = {round(y, 6) for _, y in profile(solid, layout)}
            for a, b, _ in swept(solid, layout, view).edges:
                if a[1] == b[1] and a[2] == b[2]:
                    assert round(a[1], 6) in heights
                    kept = line_within((view.place(a), view.place(b)), found.camera, EVERYWHERE)
                    if kept is None:
                        continue
                    (ax, ay), (bx, by) = kept
                    assert abs((bx - ax) * (EYE - ay) + (by - ay) * ax) / hypot(bx - ax, by - ay) < 1e-9
                    runs += 1
    assert runs > 4


def ends(view: Standing):
    return view.place((0.0, 0.0, 0.0)), view.place((view.wall.length, 0.0, 0.0))


def test_mouldings_are_mitred_where_they_meet_in_a_corner():
    """In a corner of 90 degrees each member ends as far from it as it stands off the wall, on either wall."""
    name = "Drawing Room"
    camera, room = at(name).camera, PLANNED.house.by_name[name]
    met = []
    for i, right in ((3, True), (0, False)):
        view, layout = Standing(room.walls[i], camera, 0.01), PLANNED.walls[name][i]
        crown = max((s for s in layout.solids if s.part == "crown"), key=lambda s: s.y1)
        corner = layout.length if right else 0.0
        ends_ = [e.b if right else e.a for e in swept(crown, layout, view).edges if e.a[1:] == e.b[1:]]
        assert len(ends_) > 3
        for x, _, off in ends_:
            assert abs(corner - x) == pytest.approx(off)
        met.append({(round(y, 6), round(off, 6)): view.place((x, y, off)) for x, y, off in ends_})
    common = met[0].keys() & met[1].keys()
    assert len(common) > 3
    for member in common:
        assert met[0][member] == pytest.approx(met[1][member], abs=1e-9)


def test_a_window_behind_a_corner_is_not_drawn_and_one_ahead_is():
    """An L: the leg to the right lies out of sight behind the corner where it begins."""
    ell = ((0, 0), (0, 240), (400, 240), (400, 200), (96, 200), (96, 0))
    front = Opening("D", "door", "Here", OUTSIDE, "6", 32.0, 32.0, 80.0)
    hidden = Opening("W", "window", "Here", OUTSIDE, "3", 4.0, 30.0, 84.0, 30.0)
    ahead = Opening("W", "window", "Here", OUTSIDE, "2", 30.0, 30.0, 84.0, 30.0)
    bare = len(list(lines(drawn(ell, front))))
    assert len(list(lines(drawn(ell, front, hidden)))) == bare
    assert len(list(lines(drawn(ell, front, ahead)))) > bare


def test_the_farthest_wall_is_drawn_first():
    for name in ("Drawing Room", "Library", "Kitchen"):
        assert walls_seen(PLANNED, name)[0] == at(name).facing


def test_mouldings_are_seen_past_a_corner_on_a_wall_that_turns_its_back(monkeypatch):
    """In the L of the stair hall, where the crown goes round the corner; in a rectangle there is no such wall."""
    before = {name: svg(perspective(PLANNED, name)) for name in ("Stair Hall", "Drawing Room")}
    monkeypatch.setattr(module, "runs_behind", lambda *_: iter(()))
    assert svg(perspective(PLANNED, "Stair Hall")) != before["Stair Hall"]
    assert svg(perspective(PLANNED, "Drawing Room")) == before["Drawing Room"]


def test_what_stands_behind_a_wall_is_not_drawn_upon_it():
    name = "Stair Hall"
    found, room = at(name), PLANNED.house.by_name[name]
    fronts, behind = module._walls(room, PLANNED.walls[name], found, 0.1)
    numbers = {wall.name: n for n, wall in enumerate(room.walls)}
    assert behind
    for bent in behind:
        n, count = numbers[bent.layout.wall], len(room.walls)
        beside = [one for one in fronts if numbers[one.layout.wall] in ((n - 1) % count, (n + 1) % count)]
        assert beside
        for span in (span for one in beside for span in one.spans):
            low, high = span.left * found.camera.distance, span.right * found.camera.distance
            assert all(window.x1 <= low + 1e-6 or window.x0 >= high - 1e-6 for window in bent.windows)


def test_the_wall_with_the_door_is_not_drawn():
    square = ((0, 0), (0, 144), (240, 144), (240, 0))
    front = Opening("D", "door", "Here", OUTSIDE, "W", 56.0, 32.0, 80.0)
    beside = Opening("W", "window", "Here", OUTSIDE, "W", 100.0, 30.0, 84.0, 40.0)
    assert svg(drawn(square, front)) == svg(drawn(square, front, beside))


def test_a_profile_hides_what_lies_above_its_overhang_below_the_eye():
    """A shelf at 30 in that stands out 4 in hides its own underside from an eye at 64 in."""
    chain = [(0.0, 20.0), (0.0, 29.0), (4.0, 29.0), (4.0, 30.0), (0.0, 30.0)]
    assert unhidden(chain, (0.0, 64.0, 100.0)) == [True, False, True, True, True]


def test_equal_plans_are_drawn_alike():
    again = plan(read_house(demo_house())[0])
    for name in ("Drawing Room", "Family Room", "Back Stair"):
        assert svg(perspective(PLANNED, name)) == svg(perspective(again, name))


def test_an_unknown_room_is_refused():
    with pytest.raises(KeyError):
        perspective(PLANNED, "Ballroom")


def test_the_title_says_whence_the_room_is_seen():
    assert perspective(PLANNED, "Entry Hall").title == "Entry Hall, as it is seen from outside"
    assert perspective(PLANNED, "Library").title == "Library, as it is seen from Drawing Room"


@SOME
def test_rooms_of_random_houses_are_drawn_within_their_pictures(seeds):
    for _, room, _, walls in rooms_of(seeds):
        scene = seen_from_door(room, walls, (*{a.other for w in walls for a in w.apertures},), 36.0, 390.0)
        x0, y0, x1, y1 = scene.bounds()
        assert x1 - x0 > 1
        for x, y in places(scene):
            assert x0 - 1e-6 <= x <= x1 + 1e-6
            assert y0 - 1e-6 <= y <= y1 + 1e-6


def test_two_hundred_walls_are_drawn_in_bounded_time():
    """A room like a saw, seen along its teeth."""
    saw = [(0, 0), (0, 400)]
    saw += [(20 * n + 20 * (n % 2), 400 - 60 * (n % 2)) for n in range(1, 99)]
    outline = [*saw, (2100, 400), (2100, 0), *((2100 - 20 * n, 60 * (n % 2)) for n in range(1, 99))]
    start = process_time()
    scene = drawn(outline, Opening("D", "door", "Here", OUTSIDE, "1", 150.0, 32.0, 80.0))
    assert process_time() - start < 2.0
    assert 10 < len(scene.shapes) < 20_000


def outline(kind: str, rng: Random) -> list[tuple[float, float]]:
    """A room of a kind that makes trouble."""
    match kind:
        case "points anywhere":
            return [(rng.uniform(0, 300), rng.uniform(0, 300)) for _ in range(rng.choice([3, 5, 9, 30]))]
        case "corners twice":
            return [(0, 0), (0, 0), (0, 144), (0, 144), (96, 144), (96, 144.0000001), (240, 144), (240, 0), (120, 0)]
        case "tiny":
            return [(0, 0), (0, rng.uniform(0.01, 3)), (rng.uniform(0.01, 3), 2), (2, 0)]
        case "huge":
            return [(0, 0), (0, 1e5), (1e5, 1e5), (1e5, 0)]
        case _:
            return [(0, 0), (0, 300), (rng.uniform(1, 20), 300), (rng.uniform(1, 20), 0)]


@pytest.mark.parametrize("kind", ["points anywhere", "corners twice", "tiny", "huge", "thin"])
@pytest.mark.parametrize("seed", range(8))
def test_a_room_that_makes_trouble_is_drawn_within_its_picture_in_bounded_time(kind, seed):
    rng = Random(seed)
    corners = tuple((float(x), float(y)) for x, y in outline(kind, rng))
    room = Room("R", "Ground", "parlor", 240.0, 144.0, rng.choice([1.0, 30.0, 96.0, 120.0, 600.0]), corners)
    numbers = [str(rng.randint(1, len(corners))) for _ in range(5)]
    kinds = ("door", "window", "fireplace", "open", "cased opening")
    doors = tuple(
        Opening(f"O{n}", what, "R", OUTSIDE, number, rng.uniform(-10, 120), 40.0, 80.0)
        for n, (what, number) in enumerate(zip(kinds, numbers, strict=True))
    )
    stands = (Fixture("F", "counter", "R", numbers[0], rng.uniform(0, 100), 60.0, 0.0, 36.0, 25.0),)
    up = (Flight("S", "R", numbers[1], rng.uniform(0, 200), "left", 12, 7.5, 10.0),)
    house = House("One", ("R",), (room,), doors, fixtures=stands, flights=up)
    walls = lay_out(house, room, package("georgian", "doric", rng.randint(1, 5), 120.0, top=5), LIBRARY)
    start = process_time()
    scene = seen_from_door(room, walls, (OUTSIDE,), 36.0, 390.0)
    assert process_time() - start < 1.0
    x0, y0, x1, y1 = scene.bounds()
    assert x0 < x1
    assert y0 < y1
    hair = 1e-6 * max(1.0, x1 - x0, y1 - y0)
    for x, y in places(scene):
        assert x0 - hair <= x <= x1 + hair
        assert y0 - hair <= y <= y1 + hair


def test_the_eye_stays_below_a_low_ceiling():
    assert seen_from_low(60.0).camera.height == pytest.approx(48.0)
    assert seen_from_low(96.0).camera.height == EYE


def seen_from_low(ceiling: float):
    room = Room("Here", "Ground", "parlor", 240.0, 144.0, ceiling)
    house = House("One", ("Here",), (room,), ())
    walls = lay_out(house, room, package("georgian", "doric", 2, 120.0, top=5), LIBRARY)
    return station(room, walls, ())


def test_a_picture_is_written_as_dxf():
    doc = document(perspective(PLANNED, "Library"))
    assert len(doc.modelspace()) > 100
    assert not doc.audit().errors


def test_everything_is_filled_or_drawn_in_known_tones():
    for shape in perspective(PLANNED, "Kitchen").shapes:
        assert isinstance(shape, Path)
        assert shape.fill or shape.line
        assert all(isinstance(s, Line | Ring | Box) for s in shape.segments)
