"""The strip of a route: walls side by side on one floor, every room named."""

from itertools import combinations, pairwise

from shapely import Polygon as Shape

from planner.drawings.scene import Group, Text, bounds, flat, text_box
from planner.drawings.strip import BESIDE, REACH, _shown, strip
from planner.house.model import OUTSIDE, House, Opening, Room
from planner.library import standard
from planner.walls.layout import lay_out
from tests.walls.trim import trim

LIBRARY = standard()


def row(names, length=168.0, *more):
    """Rooms with these names in a row, a door between each and the next, a tier lower each."""
    rooms, doors = [], []
    for i, name in enumerate(names):
        x = i * length
        outline = ((x, 0.0), (x, length), (x + length, length), (x + length, 0.0))
        rooms.append(Room(name, "Ground", "parlor", length, length, 120.0, outline))
        if i:
            doors.append(Opening(f"D{i}", "door", name, names[i - 1], "W", None, 32.0, 80.0))
    house = House("Row", (names[0],), tuple(rooms), (*doors, *more))
    tiers = range(5, 5 - len(names), -1)
    return {name: lay_out(house, name, trim(tier), LIBRARY) for name, tier in zip(names, tiers, strict=True)}


def strip_of(names, *more):
    return strip(row(names, 168.0, *more), names)


def groups(scene):
    return [s for s in scene.shapes if isinstance(s, Group)]


def test_a_strip_names_every_room_and_its_tier_whatever_its_name():
    names = ["Entry", "The Long Gallery toward the Garden and the River", "x" * 120]
    scene = strip_of(names)
    written = [s for s in flat(scene.shapes) if isinstance(s, Text)]
    words = " ".join(t.text for t in written)
    assert all(word in words for name in names for word in name.split())
    assert all(f"tier {tier}" in words for tier in (5, 4, 3))
    captions = [Shape(text_box(t).corners) for t in written]
    assert all(a.intersection(b).area < 1e-6 for a, b in combinations(captions, 2))


def test_a_strip_sets_walls_side_by_side_on_one_floor_at_one_scale():
    found = groups(strip_of(["A", "B", "C"]))
    assert len(found) == 3
    assert len({(g.placement.y, g.placement.scale, g.placement.mirror) for g in found}) == 1
    assert (found[0].placement.scale, found[0].placement.mirror) == (1.0, False)
    ends = [bounds([g]) for g in found]
    assert all(a[2] <= b[0] + 1e-6 for a, b in pairwise(ends))


def test_on_a_narrow_page_walls_stand_below_one_another():
    names = ["A", "B", "C"]
    scene = strip(row(names), names, page=342)
    ends = [bounds([g]) for g in groups(scene)]
    assert len(ends) == 3 and all(a[1] > b[3] for a, b in pairwise(ends))
    left, _, right, _ = scene.bounds()
    assert (right - left) * scene.scale <= 342


def test_a_strip_says_which_rooms_and_packages_it_shows():
    scene = strip_of(["A", "B"])
    assert scene.title == "From A to B, as it is walked"
    assert scene.description == f"A: {trim(5).label}; B: {trim(4).label}"


def widths(scene):
    """How much wall is shown of each room [in]: the first path of a wall is its paper."""
    papers = [g.shapes[0].box for g in groups(scene)]
    return [paper.x1 - paper.x0 for paper in papers]


WINDOWS = (
    Opening("WA", "window", "A", OUTSIDE, "S", 20.0, 36.0, 90.0, 30.0),
    Opening("WB", "window", "B", OUTSIDE, "S", 20.0, 36.0, 90.0, 30.0),
)


def shown(walls, room, onward=""):
    return [a.name for a in _shown(walls[room], onward).apertures]


def test_the_wall_about_the_passage_onward_is_shown():
    walls = row(["A", "B", "C"], 168.0, *WINDOWS)
    assert shown(walls, "A", "B") == ["D1"]
    assert shown(walls, "B", "C") == ["D2"]
    assert widths(strip(walls, ["A", "B", "C"])) == [2 * REACH] * 3


def test_of_the_last_room_a_window_is_shown_rather_than_where_one_came_in():
    walls = row(["A", "B"], 168.0, *WINDOWS)
    assert shown(walls, "B") == ["WB"]
    assert shown(row(["A", "B"]), "B") == ["D1"]


def test_a_wide_passage_is_shown_with_what_stands_beside_it():
    arch = Opening("Arch", "cased opening", "A", OUTSIDE, "N", None, 120.0, 90.0)
    (alone,) = row(["A"], 240.0, arch).values()
    assert _shown(alone, "").length == 120 + 2 * BESIDE


def test_of_several_the_stretch_is_shown_that_cuts_no_opening_in_two():
    """The first window's stretch would end in the second; the one on the next wall cuts nothing."""
    near = Opening("W1", "window", "A", OUTSIDE, "S", 10.0, 36.0, 90.0, 30.0)
    cut = Opening("W2", "window", "A", OUTSIDE, "S", 100.0, 36.0, 90.0, 30.0)
    free = Opening("W3", "window", "A", OUTSIDE, "N", None, 36.0, 90.0, 30.0)
    assert shown(row(["A"], 240.0, near, cut, free), "A") == ["W3"]


def test_a_room_without_openings_shows_its_longest_wall():
    room = Room("Long", "Ground", "parlor", 240.0, 60.0, 120.0)
    house = House("One", ("Long",), (room,), ())
    scene = strip({"Long": lay_out(house, "Long", trim(3), LIBRARY)}, ["Long"])
    assert widths(scene) == [2 * REACH]
