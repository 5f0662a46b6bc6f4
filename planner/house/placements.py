"""Where openings stand on the walls of the rooms that they join. All lengths are inches."""

import re
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Literal, NamedTuple

from planner.house.model import House, Opening, Point, Room, Wall
from planner.library import Library
from planner.values import immutabledict

THICKEST_WALL = 24.0
"""Two outlines whose walls face each other no farther apart than this [in] have one wall between them."""

SIXTEENTH = 1 / 16
"""Lengths nearer than this [in] are the same on site."""

CROWD = 500
"""On a wall with more openings than this, those without an offset are spaced evenly whatever else stands there."""


@dataclass(frozen=True)
class PlacedOpening:
    """An opening where it stands on one wall of a room, seen from inside that room.

    Parameters
    ----------
    opening, wall : what stands where.
    left : from the wall's left end to the left jamb. [in]
    width : between the jambs. [in]
    height : the head above the floor. [in]
    sill : the sill above the floor, 0 where there is none. [in]
    side : "near" on the wall of `opening.room`, "far" on that of `opening.other`.
    assumed : whether the place is only a likely one, because no plan tells where the opening comes out.
    """

    opening: Opening
    wall: Wall
    left: float
    width: float
    height: float
    sill: float
    side: Literal["near", "far"]
    assumed: bool = False

    @property
    def right(self) -> float:
        """From the wall's left end to the right jamb [in]."""
        return self.left + self.width

    @property
    def head(self) -> float:
        """The head above the floor [in]."""
        return self.height

    @property
    def other(self) -> str:
        """The room beyond, "outside" or ""."""
        return self.opening.other if self.side == "near" else self.opening.room

    @property
    def jambs(self) -> tuple[Point, Point]:
        """The left and the right jamb on the plan [in]."""
        return _along(self.wall, self.left), _along(self.wall, self.right)


class Stretch(NamedTuple):
    """The part of a wall that has another room's wall behind it, from `start` to `end` along the first [in].

    `reach` is where the far wall's left end comes, along the first.
    """

    wall: Wall
    start: float
    end: float
    reach: float


class Size(NamedTuple):
    """Width of an opening, its head and its sill above the floor, None where it has no sill [in]."""

    width: float
    height: float
    sill: float | None


def sized(opening: Opening, ceiling: float, library: Library) -> Opening:
    """The opening with the common size of its kind wherever its own is not known; see `size`."""
    return replace(opening, **size(opening, ceiling, library)._asdict())


def size(opening: Opening, ceiling: float, library: Library) -> Size:
    """The size of an opening, the common one of its kind wherever its own is not known.

    Parameters
    ----------
    ceiling : of the room, the lower one where it joins two. [in]
    """
    common = library.opening_kinds[opening.kind]
    height = opening.height if opening.height is not None else min(common.height or ceiling, ceiling)
    width = opening.width if opening.width is not None else common.width
    sill = opening.sill if opening.sill is not None or common.sill is None else min(common.sill, height / 2)
    return Size(width, float(height), sill)


def lowest_ceiling(house: House, opening: Opening) -> float:
    """The ceiling over an opening [in]; of two rooms on one level, the lower."""
    room, other = house.by_name[opening.room], house.by_name.get(opening.other)
    return min(room.ceiling, other.ceiling) if other and other.level == room.level else room.ceiling


def behind(wall: Wall, room: Room) -> tuple[Stretch, ...]:
    """The walls of `room` that lie at the back of `wall`, the longest stretch first; both on one grid."""
    (x, y), length = wall.left, wall.length
    if not length:
        return ()
    ux, uy = (wall.right[0] - x) / length, (wall.right[1] - y) / length
    found = []
    for other in room.walls:
        (lx, ly), (rx, ry) = other.left, other.right
        if not other.length or ux * (rx - lx) + uy * (ry - ly) > -0.999 * other.length:
            continue
        depth = -uy * (lx - x) + ux * (ly - y)
        start, reach = ux * (rx - x) + uy * (ry - y), ux * (lx - x) + uy * (ly - y)
        if -SIXTEENTH <= depth <= THICKEST_WALL and min(length, reach) - max(0.0, start) > SIXTEENTH:
            found.append(Stretch(other, max(0.0, start), min(length, reach), reach))
    return tuple(sorted(found, key=lambda s: (s.start - s.end, s.start)))


def near_wall(house: House, opening: Opening) -> Wall | None:
    """The wall of `opening.room` in which it stands.

    Where none is named, it is the wall of which the two rooms share the longest stretch; None where their plan does
    not tell.
    """
    room, other = house.by_name[opening.room], house.by_name.get(opening.other)
    if opening.wall:
        return room.wall(opening.wall)
    if not other or not _on_one_grid(room, other):
        return None
    shared = [(stretches[0], wall) for wall in room.walls if (stretches := behind(wall, other))]
    return max(shared, key=lambda found: found[0].end - found[0].start)[1] if shared else None


Placements = Mapping[str, tuple[PlacedOpening, ...]]
"""For each room by name its openings, wall by wall, each from left to right."""


@lru_cache(maxsize=16)
def placements(house: House, library: Library) -> Placements:
    """Every opening on the walls of both rooms that it joins; those without a size have the common one of their kind.

    Returns
    -------
    By room, its openings wall by wall, each from left to right. Openings on no known wall are left out.

    Notes
    -----
    An opening with an offset stands at it. One without is centred, and several without on one wall are spaced
    evenly, in the order of their names: on the stretch that the two rooms share where both have outlines, else on
    the whole wall. Where that would run into another opening they move to the longest free stretch.

    On the far room's wall an opening stands where its jambs come through, where both rooms have outlines that meet
    there. Elsewhere the place is assumed: the far room's wall that faces the near one, spaced evenly with the other
    openings on it. A stair has no far wall on another level.
    """
    placed: dict[tuple[str, str], list[PlacedOpening]] = defaultdict(list)
    waiting: dict[tuple[str, str], list[tuple[PlacedOpening, Stretch | None]]] = defaultdict(list)

    def put(room: Room, one: PlacedOpening) -> None:
        placed[room.name, one.wall.name].append(one)
        if one.side == "far" or not (far := _far_room(house, one.opening)):
            return
        if through := _through(one, room, far):
            left = through.reach - one.right
            placed[far.name, through.wall.name].append(replace(one, wall=through.wall, left=left, side="far"))

    for opening in sorted(house.openings, key=lambda o: _natural(o.name)):
        room = house.by_name.get(opening.room)
        wall = near_wall(house, opening) if room else None
        if room is None or wall is None:
            continue
        width, height, sill = size(opening, lowest_ceiling(house, opening), library)
        one = PlacedOpening(opening, wall, opening.offset or 0.0, width, height, sill or 0.0, "near")
        far = _far_room(house, opening)
        stretches = behind(wall, far) if far and _on_one_grid(room, far) else ()
        if opening.offset is not None:
            put(room, one)
        else:
            waiting[room.name, wall.name].append((one, stretches[0] if stretches else None))
        if far and not stretches:
            facing = _facing_wall(wall, far, one.width)
            waiting[far.name, facing.name].append((replace(one, wall=facing, side="far", assumed=True), None))

    for room_name, wall_name in sorted(waiting):
        room = house.by_name[room_name]
        for one in _spaced(waiting[room_name, wall_name], placed[room_name, wall_name]):
            put(room, one)

    return immutabledict(
        {
            room.name: tuple(
                one
                for wall in room.walls
                for one in sorted(placed.get((room.name, wall.name), ()), key=lambda p: (p.left, p.opening.name))
            )
            for room in house.rooms
        }
    )


def _far_room(house: House, opening: Opening) -> Room | None:
    """The room in whose wall the opening comes out."""
    room, other = house.by_name[opening.room], house.by_name.get(opening.other)
    return other if other and other is not room and other.level == room.level else None


def _on_one_grid(room: Room, other: Room) -> bool:
    return bool(room.outline and other.outline and room.level == other.level)


def _through(near: PlacedOpening, room: Room, far: Room) -> Stretch | None:
    """The stretch of the far room's wall at which most of the opening comes through."""
    if not _on_one_grid(room, far):
        return None
    stretches = behind(near.wall, far)
    return max(stretches, key=lambda s: min(s.end, near.right) - max(s.start, near.left), default=None)


def _facing_wall(wall: Wall, far: Room, width: float) -> Wall:
    """The far room's wall that likely is the back of `wall`: it faces it, and holds the opening if any wall does."""
    dx, dy = wall.right[0] - wall.left[0], wall.right[1] - wall.left[1]

    def facing(other: Wall) -> float:
        ox, oy = other.right[0] - other.left[0], other.right[1] - other.left[1]
        return (dx * ox + dy * oy) / (wall.length * other.length) if wall.length and other.length else 1.0

    return min(far.walls, key=lambda w: (w.length < width, round(facing(w), 3), -w.length))


def _spaced(
    waiting: Iterable[tuple[PlacedOpening, Stretch | None]], taken: Iterable[PlacedOpening]
) -> list[PlacedOpening]:
    """The openings of one wall that have no offset yet, each at its place; the narrowest stretches come first."""
    groups: dict[tuple[float, float], list[PlacedOpening]] = defaultdict(list)
    for one, stretch in waiting:
        whole = (0.0, one.wall.length)
        shared = (stretch.start, stretch.end) if stretch is not None else whole
        groups[shared if shared[1] - shared[0] >= one.width else whole].append(one)
    done: list[PlacedOpening] = []
    for (start, end), group in sorted(groups.items(), key=lambda item: item[0][1] - item[0][0]):
        standing = [*taken, *done]
        gap = (end - start - sum(one.width for one in group)) / (len(group) + 1)
        lefts, left = [], start + gap
        for one in group:
            lefts.append(left)
            left += one.width + gap
        even = [replace(one, left=left) for one, left in zip(group, lefts, strict=True)]
        if len(standing) + len(even) <= CROWD and any(collide(a, b) for a in even for b in standing):
            for one in even:
                done.append(_in_free_stretch(one, start, end, [*taken, *done]))
        else:
            done += even
    return done


def collide(a: PlacedOpening, b: PlacedOpening) -> bool:
    """Whether two openings on one wall take the same place; one wholly above the other does not."""
    beside = a.right <= b.left + SIXTEENTH or b.right <= a.left + SIXTEENTH
    above = a.sill >= b.height or b.sill >= a.height
    return not (beside or above)


def _in_free_stretch(one: PlacedOpening, start: float, end: float, standing: list[PlacedOpening]) -> PlacedOpening:
    """The opening in the middle of the longest stretch that is free; where it was, if none holds it."""
    edges = [start]
    for other in sorted(standing, key=lambda p: p.left):
        edges += [other.left, max(edges[-1], other.right)]
    edges.append(end)
    free = [(a, b) for a, b in zip(edges[::2], edges[1::2], strict=True) if b - a >= one.width]
    if not free:
        return one
    a, b = max(free, key=lambda s: (s[1] - s[0], -s[0]))
    return replace(one, left=(a + b - one.width) / 2)


def _along(wall: Wall, distance: float) -> Point:
    part = distance / wall.length if wall.length else 0.0
    (x0, y0), (x1, y1) = wall.left, wall.right
    return x0 + part * (x1 - x0), y0 + part * (y1 - y0)


def _natural(name: str) -> list[tuple[int, str]]:
    """A key that sorts W2 before W10."""
    return [(int(part), "") if part.isdecimal() else (0, part) for part in re.split(r"(\d{1,9})", name) if part]
