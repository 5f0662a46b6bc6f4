"""Where openings stand on the walls of both rooms."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.house.model import OUTSIDE, House, Opening, Room
from planner.house.placements import collide, placements, sized
from tests.known import LIBRARY


def rectangle(name, x, y, length, width, level="Ground", ceiling=108.0):
    outline = ((x, y), (x, y + width), (x + length, y + width), (x + length, y))
    return Room(name, level, "parlor", length, width, ceiling, outline)


def house(rooms, *openings):
    return House("Test", (rooms[0].name,), tuple(rooms), tuple(openings))


WEST, EAST = rectangle("West", 0, 0, 120, 144), rectangle("East", 120, 48, 180, 144)
BARE = [replace(WEST, outline=()), replace(EAST, outline=())]


def only(placed, side):
    return next(p for p in placed if p.side == side)


def test_one_blank_opening_is_centred():
    found = placements(house([WEST], Opening("W", "window", "West", OUTSIDE, "N", None, 36, 80, 24)), LIBRARY)["West"]
    assert [(p.left, p.right, p.wall.name, p.head, p.sill) for p in found] == [(42, 78, "N", 80, 24)]


def test_several_blank_openings_are_spaced_evenly_in_the_order_of_their_names():
    windows = [Opening(f"W{n}", "window", "West", OUTSIDE, "N", None, 20, 80, 24) for n in (10, 2, 1)]
    found = placements(house([WEST], *windows), LIBRARY)["West"]
    assert [(p.opening.name, p.left) for p in found] == [("W1", 15), ("W2", 50), ("W10", 85)]


def test_jambs_come_through_at_one_place_on_the_plan():
    door = Opening("D", "door", "West", "East", "E", 20, 30, 80)
    h = house([WEST, EAST], door)
    near, far = placements(h, LIBRARY)["West"][0], placements(h, LIBRARY)["East"][0]
    # West's east wall is walked from north (144) to south, so its left jamb is at 144 - 20.
    assert near.jambs == ((120, 124), (120, 94))
    assert far.wall.name == "W" and far.side == "far" and not far.assumed
    assert far.jambs == ((120, 94), (120, 124))
    assert far.left == 94 - 48
    assert (near.other, far.other) == ("East", "West")


def test_a_blank_door_is_centred_on_the_stretch_that_both_rooms_share():
    h = house([WEST, EAST], Opening("D", "door", "West", "East", "E", None, 30, 80))
    # They share the wall from y = 48 to y = 144.
    assert only(placements(h, LIBRARY)["West"], "near").jambs == ((120, 111), (120, 81))


def test_a_blank_wall_is_the_one_that_both_rooms_share():
    h = house([WEST, EAST], Opening("D", "door", "East", "West", "", None, 30, 80))
    near = only(placements(h, LIBRARY)["East"], "near")
    assert (near.wall.name, near.jambs) == ("W", ((120, 81), (120, 111)))


def test_walls_with_a_thickness_face_each_other_and_far_ones_do_not():
    door = Opening("D", "door", "West", "East", "E", 20, 30, 80)
    thick = placements(house([WEST, rectangle("East", 126, 48, 180, 144)], door), LIBRARY)["East"][0]
    assert thick.jambs == ((126, 94), (126, 124)) and not thick.assumed
    apart = placements(house([WEST, rectangle("East", 160, 48, 180, 144)], door), LIBRARY)["East"][0]
    assert apart.assumed and apart.wall.name == "W"


def test_without_outlines_the_far_wall_is_the_facing_one_and_the_place_assumed():
    door = Opening("D", "door", "West", "East", "E", 20, 30, 80)
    other = Opening("W", "window", "East", OUTSIDE, "W", None, 36, 80, 24)
    found = placements(house(BARE, door, other), LIBRARY)
    far = only(found["East"], "far")
    assert far.wall.name == "W" and far.assumed
    gap = (144 - 30 - 36) / 3
    assert [(p.opening.name, p.left) for p in found["East"]] == [("D", gap), ("W", gap + 30 + gap)]


def test_a_stair_has_no_far_wall_on_another_level():
    up = rectangle("Up", 0, 0, 120, 144, "Upper")
    h = house([WEST, up], Opening("S", "stair", "West", "Up", "N", None, 36, 80))
    assert placements(h, LIBRARY)["Up"] == ()
    assert len(placements(h, LIBRARY)["West"]) == 1


def test_an_opening_on_no_known_wall_is_left_out():
    h = house(BARE, Opening("D", "door", "West", "East"), Opening("E", "door", "West", "East", "7"))
    assert placements(h, LIBRARY) == {"West": (), "East": ()}


def test_a_blank_opening_gives_way_to_one_with_an_offset():
    door = Opening("D", "door", "West", OUTSIDE, "N", 45, 30, 80)
    window = Opening("W", "window", "West", OUTSIDE, "N", None, 20, 80, 24)
    found = placements(house([WEST], door, window), LIBRARY)["West"]
    # The free stretches, 0 to 45 and 75 to 120, are alike; the left one is taken.
    assert [(p.opening.name, p.left) for p in found] == [("W", 12.5), ("D", 45)]
    assert not collide(*found)


def test_a_transom_over_a_door_does_not_collide_with_it():
    door = Opening("D", "door", "West", OUTSIDE, "N", 45, 30, 80)
    transom = Opening("T", "window", "West", OUTSIDE, "N", 45, 30, 96, 82)
    assert not collide(*placements(house([WEST], door, transom), LIBRARY)["West"])
    assert collide(*placements(house([WEST], door, replace(transom, sill=70.0)), LIBRARY)["West"])


def test_common_sizes_fill_what_is_not_known_and_stay_under_the_ceiling():
    door = sized(Opening("D", "door", "West"), 108, LIBRARY)
    assert (door.width, door.height, door.sill) == (30, 80, None)
    assert sized(Opening("D", "door", "West"), 74, LIBRARY).height == 74
    assert sized(Opening("O", "open", "West"), 108, LIBRARY).height == 108
    window = sized(Opening("W", "window", "West", width=24.0), 108, LIBRARY)
    assert window.width == 24 and 0 < window.sill < window.height


@given(st.permutations(range(6)), st.sampled_from(["door", "window", "fireplace"]))
def test_the_order_of_the_openings_changes_nothing(order, kind):
    openings = [Opening(f"D{n}", "door", "West", "East", "E", None, 14, 80) for n in range(3)]
    openings += [Opening(f"X{n}", kind, "East", OUTSIDE, "W", None, 14, 80) for n in range(3)]
    base, shuffled = house([WEST, EAST], *openings), house([WEST, EAST], *(openings[n] for n in order))
    assert placements(base, LIBRARY) == placements(shuffled, LIBRARY)


@given(st.floats(0, math.tau), st.floats(0, 90), st.booleans())
def test_both_sides_are_one_opening_whichever_way_the_plan_is_turned(angle, offset, reverse):
    """Turning the whole plan leaves every place along its wall, and both pairs of jambs at one place."""

    def turned(room):
        c, s = math.cos(angle), math.sin(angle)
        points = tuple((c * x - s * y, s * x + c * y) for x, y in room.outline)
        return replace(room, outline=points[::-1] if reverse else points)

    west, east = turned(WEST), turned(EAST)
    wall = next(
        w for w in west.walls if any(math.dist(w.left, p) < 1e-6 for p in [turned(WEST).outline[1 if reverse else 2]])
    )
    door = Opening("D", "door", "West", "East", wall.name, offset, 30, 80)
    far = placements(house([west, east], door), LIBRARY)["East"]
    assert len(far) == 1 and not far[0].assumed
    left, right = only(placements(house([west, east], door), LIBRARY)["West"], "near").jambs
    assert far[0].jambs[0] == pytest.approx(right, abs=1e-6)
    assert far[0].jambs[1] == pytest.approx(left, abs=1e-6)
