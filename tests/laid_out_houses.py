"""Random houses with outlines: levels cut into rooms, with doors that open into rooms, windows and fireplaces."""

import random
from dataclasses import replace

from planner.house.model import OUTSIDE, House, Opening, Room
from tests.random_houses import KINDS, USES

Rectangle = tuple[float, float, float, float]
"""West, south, east and north end [in]."""

GRID, LEAST = 12, 36
"""Rooms stand on a grid and are no narrower than this [in]."""

PHRASES = ("Hall", "Bath", "Back Stair", "Principal Bedroom", "Butler's Pantry", "Closet", "Conservatory", "Den")


def laid_out_house(rooms: int, seed: int, levels: int = 1) -> House:
    """A house of about so many rooms on levels alike in extent; the same seed gives the same house."""
    rng = random.Random(seed)
    each = [rooms // levels + (i < rooms % levels) for i in range(levels)]
    side = max(20.0, (max(each) * 80) ** 0.5) * GRID
    made: list[Room] = []
    openings: list[Opening] = []
    for level, count in enumerate(each):
        cut = _cut((0, 0, round(side * 1.3 / GRID) * GRID, round(side / GRID) * GRID), count, rng)
        on_level = [_room(rect, f"Level {level}", len(made) + i, rng) for i, rect in enumerate(cut)]
        if made:
            openings.append(Opening(f"Stair {level}", "stair", made[0].name, on_level[0].name, width=36))
        made += on_level
        openings += _doors(on_level, cut, len(openings), rng)
    made[0] = replace(made[0], use="entry hall")
    front = Opening("Front", "door", made[0].name, OUTSIDE, wall="W", offset=12, width=36, height=80)
    return House("Random", (made[0].name,), tuple(made), (front, *openings))


def _cut(rect: Rectangle, count: int, rng: random.Random) -> list[Rectangle]:
    """A rectangle cut into about so many, each time across its longer side."""
    west, south, east, north = rect
    wide = east - west >= north - south
    low, high = (west, east) if wide else (south, north)
    if count < 2 or high - low < 2 * LEAST:
        return [rect]
    part = min(max(round(rng.uniform(0.3, 0.7) * count), 1), count - 1)
    at = low + round((high - low) * part / count / GRID) * GRID
    at = min(max(at, low + LEAST), high - LEAST)
    one, other = ((west, south, at, north), (at, south, east, north))
    if not wide:
        one, other = (west, south, east, at), (west, at, east, north)
    return [*_cut(one, part, rng), *_cut(other, count - part, rng)]


def _room(rect: Rectangle, level: str, number: int, rng: random.Random) -> Room:
    west, south, east, north = rect
    outline = ((west, south), (west, north), (east, north), (east, south))
    name = f"{rng.choice(PHRASES)} {number}"
    return Room(name, level, rng.choice(USES), east - west, north - south, 108, outline)


def _doors(rooms: list[Room], cut: list[Rectangle], first: int, rng: random.Random) -> list[Opening]:
    """An opening in most walls that two rooms share, a window or a fireplace in some others."""
    found: list[Opening] = []
    for i, (room, (west, south, east, north)) in enumerate(zip(rooms, cut, strict=True)):
        for other, (west2, south2, east2, north2) in list(zip(rooms, cut, strict=True))[i + 1 :]:
            walls = (
                ("E", east == west2, max(south, south2), min(north, north2), north),
                ("N", north == south2, max(west, west2), min(east, east2), west),
                ("W", west == east2, max(south, south2), min(north, north2), south),
                ("S", south == north2, max(west, west2), min(east, east2), east),
            )
            for wall, shared, low, high, left in walls:
                if shared and high - low >= 42:
                    wide = min(36, high - low - 6)
                    at = rng.uniform(low + 3, high - 3 - wide)
                    offset = left - at - wide if wall in "ES" else at - left
                    name, kind = f"O{first + len(found)}", rng.choice([kind for kind in KINDS if kind != "stair"])
                    found.append(Opening(name, kind, room.name, other.name, wall, offset, wide, 80))
        kind = rng.choice(("window", "fireplace"))
        found.append(Opening(f"O{first + len(found)}", kind, room.name, OUTSIDE, "S", 6, 36, 60))
    return found
