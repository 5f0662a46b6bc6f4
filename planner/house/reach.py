"""Which rooms can be walked to, and where an opening could be missing to those that cannot."""

from collections.abc import Iterator, Mapping, Sequence

from shapely import Polygon, STRtree

from planner.files.problems import Problem, first_of
from planner.house.faults import OPENINGS
from planner.house.model import WALL_OPENINGS, House, Room
from planner.house.placements import behind
from planner.units import quoted

Neighbours = Mapping[str, set[str]]
"""The rooms that each room has an opening to, by name."""

NEAR_ENOUGH = 0.0005
"""Rooms whose distances differ by less than this [in] are equally far."""


def check_reachable(house: House) -> list[Problem]:
    """Rooms that nobody can walk to from the first entry, each group with the nearest opening that could be missing.

    The nearest is the room within reach that lies closest on the same level, the one that shares the longest wall
    where several touch; without outlines the room of that level with the most ways into it; else a stair to another
    level.
    """
    neighbours: dict[str, set[str]] = {room.name: set() for room in house.rooms}
    for opening in house.openings:
        if opening.kind not in WALL_OPENINGS and {opening.room, opening.other} <= neighbours.keys():
            neighbours[opening.room].add(opening.other)
            neighbours[opening.other].add(opening.room)
    if not house.entries or house.entries[0] not in neighbours:
        return []
    return list(first_of(_out_of_reach(house, neighbours)))


def _out_of_reach(house: House, neighbours: Neighbours) -> Iterator[Problem]:
    reached = _within_reach(house.entries[0], neighbours)
    if len(reached) == len(neighbours):
        return
    there = _Reached([room for room in house.rooms if room.name in reached], neighbours)
    place = {room.name: at for at, room in enumerate(house.rooms)}
    seen = set(reached)
    for room in house.rooms:
        if room.name in seen:
            continue
        group = sorted(_within_reach(room.name, neighbours), key=place.__getitem__)
        seen.update(group)
        listed = ", ".join(map(quoted, group[:12])) + (f" and {len(group) - 12} more" * (len(group) > 12))
        message = f"no opening leads from {quoted(house.entries[0])} to {listed}"
        remedy = there.missing_opening([house.by_name[name] for name in group])
        yield Problem(OPENINGS, None, "other", message, remedy)


def _within_reach(start: str, neighbours: Neighbours) -> set[str]:
    found, ahead = {start}, [start]
    while ahead:
        new = neighbours[ahead.pop()] - found
        found |= new
        ahead += new
    return found


class _Reached:
    """The rooms within reach, so that the nearest of them to others is found without looking at all."""

    def __init__(self, rooms: Sequence[Room], neighbours: Neighbours) -> None:
        self.rooms, self.ways = rooms, {room.name: len(neighbours[room.name]) for room in rooms}
        self.drawn: dict[str, list[Room]] = {}
        self.best: dict[str, Room] = {}
        for room in rooms:
            if room.outline:
                self.drawn.setdefault(room.level, []).append(room)
            best = self.best.setdefault(room.level, room)
            self.best[room.level] = min(best, room, key=self._fewer_ways)
        self.trees = {level: STRtree([Polygon(r.corners) for r in found]) for level, found in self.drawn.items()}

    def missing_opening(self, here: Sequence[Room]) -> str:
        """What could be missing to a group of rooms out of reach."""
        touching = self._nearest(here)
        level = [room for room in here if room.level in self.best]
        if touching:
            a, b = min(touching, key=lambda pair: (-_shared_wall(*pair), pair[0].name, pair[1].name))
        elif level:
            a = min(level, key=lambda room: (-self.ways[self.best[room.level].name], room.name))
            b = self.best[a.level]
        else:
            halls = [room for room in self.rooms if "hall" in room.use] or self.rooms
            a = next((room for room in here if "hall" in room.use or "stair" in room.use), here[0])
            return f"perhaps a stair from {quoted(halls[0].name)} to {quoted(a.name)} is missing"
        return f"perhaps a door between {quoted(b.name)} and {quoted(a.name)} is missing"

    def _nearest(self, here: Sequence[Room]) -> list[tuple[Room, Room]]:
        """The pairs of a room of a group and one within reach, both drawn on one level, that lie nearest together."""
        shapes = [(room, Polygon(room.corners)) for room in here if room.outline and room.level in self.trees]
        apart = [float(self.trees[room.level].query_nearest(s, return_distance=True)[1][0]) for room, s in shapes]
        return [
            (room, self.drawn[room.level][at])
            for (room, shape), distance in zip(shapes, apart, strict=True)
            if distance <= min(apart) + NEAR_ENOUGH
            for at in self.trees[room.level].query(shape, "dwithin", min(apart) + NEAR_ENOUGH)
        ]

    def _fewer_ways(self, room: Room) -> tuple[int, str]:
        return -self.ways[room.name], room.name


def _shared_wall(a: Room, b: Room) -> float:
    """The longest stretch of wall that two rooms share [in]."""
    return max((s.end - s.start for wall in a.walls for s in behind(wall, b)), default=0.0)
