"""A door has one leaf, that of the higher of its two rooms, on both faces: common practice."""

from planner.library import standard
from planner.walls.both_faces import with_leaves
from planner.walls.layout import lay_out
from tests.walls.rooms import HOUSE, alone
from tests.walls.trim import trim

LIBRARY = standard()
HIGH, LOW = trim(5, style="craftsman"), trim(3, style="craftsman")


def leaves(room, packages):
    walls = with_leaves(lay_out(HOUSE, room, packages[room], LIBRARY), packages, LIBRARY)
    return {s.aperture.name: s.filling for wall in walls for s in wall.surrounds if s.aperture.kind == "door"}


def test_the_lower_room_sees_the_higher_rooms_leaf():
    """Craftsman: lights over long panels in the best room, plain long panels in the hall."""
    packages = {"Parlor": HIGH, "Hall": LOW}
    of_parlor, of_hall = leaves("Parlor", packages)["D"], leaves("Hall", packages)["D"]
    for panes in (of_parlor, of_hall):
        assert [sum(p.kind == kind for p in panes) for kind in ("panel", "light")] == [2, 3]


def test_walls_on_which_nothing_changes_are_the_same_walls():
    packages = {"Parlor": HIGH, "Hall": LOW}
    walls = lay_out(HOUSE, "Parlor", HIGH, LIBRARY)
    assert all(a is b for a, b in zip(with_leaves(walls, packages, LIBRARY), walls, strict=True))
    beyond = lay_out(alone(HOUSE.by_name["Parlor"], *HOUSE.openings), "Parlor", LOW, LIBRARY)
    assert with_leaves(beyond, {"Parlor": LOW}, LIBRARY) == beyond
