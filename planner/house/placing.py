"""Where a room or an opening that is being drawn comes to stand: on a grid, against its neighbours. Lengths in inches.

Nothing here knows a screen. A plan is seen from above, north is +y; a box is a room's extent.
"""

import re
from collections.abc import Iterable, Sequence
from typing import NamedTuple

from planner.house.model import Point, Room, Wall
from planner.house.placements import SIXTEENTH, PlacedOpening, behind
from planner.units import METRIC, Unit

GRIDS = {False: 6.0, True: 100 / 25.4}
"""The step of the grid [in], imperial and metric: 6 in and 100 mm."""


SHELF, APART = 720.0, 24.0
"""Rooms whose place nobody knows are drawn in rows at least so long, and so far apart [in]."""


class Box(NamedTuple):
    """The extent of a room on the plan [in]."""

    west: float
    south: float
    east: float
    north: float

    def moved(self, dx: float, dy: float) -> "Box":
        """The box elsewhere."""
        return Box(self.west + dx, self.south + dy, self.east + dx, self.north + dy)

    def overlaps(self, other: "Box") -> bool:
        """Whether the two have floor in common, and not an edge alone."""
        return (
            min(self.east, other.east) - max(self.west, other.west) > SIXTEENTH
            and min(self.north, other.north) - max(self.south, other.south) > SIXTEENTH
        )

    def touches(self, other: "Box", within: float) -> bool:
        """Whether the two are no farther apart than this."""
        return (
            max(self.west, other.west) - min(self.east, other.east) <= within
            and max(self.south, other.south) - min(self.north, other.north) <= within
        )

    @property
    def corners(self) -> tuple[Point, ...]:
        """Its corners, as outlines are written: from the south-west one north."""
        return ((self.west, self.south), (self.west, self.north), (self.east, self.north), (self.east, self.south))


def grid(unit: Unit) -> float:
    """The step of the grid of a house [in].

    >>> grid("ft"), round(grid("cm") * 25.4)
    (6.0, 100)
    """
    return GRIDS[unit in METRIC]


def on_grid(length: float, unit: Unit) -> float:
    """A length rounded to the grid of a house [in].

    >>> on_grid(145.0, "in"), round(on_grid(145.0, "mm") * 25.4)
    (144.0, 3700)
    """
    step = grid(unit)
    return tidy(round(length / step) * step, unit)


def tidy(length: float, unit: Unit) -> float:
    """A length that was drawn, to the nearest sixteenth of an inch or millimetre, so that it is written plainly [in].

    >>> tidy(144.01, "in"), tidy(37 * (100 / 25.4), "mm") == 3700 / 25.4
    (144.0, True)
    """
    return round(length * 25.4) / 25.4 if unit in METRIC else round(length * 16) / 16


def box(corners: Iterable[Point]) -> Box:
    """The extent of an outline."""
    xs, ys = zip(*corners, strict=True)
    return Box(min(xs), min(ys), max(xs), max(ys))


def snapped(corners: Sequence[Point], others: Sequence[Sequence[Point]], unit: Unit, reach: float) -> tuple[Point, ...]:
    """An outline drawn to its neighbours, else to the grid.

    Parameters
    ----------
    corners : where it was let go.
    others : the outlines on the same level.
    reach : edges nearer than this snap to one another. [in]

    Examples
    --------
    >>> room, beside = ((4, 1), (4, 97), (100, 97), (100, 1)), ((-144, 3), (-144, 99), (0, 99), (0, 3))
    >>> snapped(room, [beside], "in", reach=6)
    ((0.0, 3.0), (0.0, 99.0), (96.0, 99.0), (96.0, 3.0))
    """
    near = [other for other in others if box(corners).touches(box(other), reach)]
    by = []
    for axis in (0, 1):
        lines = {corner[axis] for other in near for corner in other}
        own = {corner[axis] for corner in corners}
        shift = _nearest((line - edge for line in lines for edge in own), reach)
        by.append(on_grid(min(own), unit) - min(own) if shift is None else shift)
    return tuple((tidy(x + by[0], unit), tidy(y + by[1], unit)) for x, y in corners)


def resized(before: Box, handle: str, by: Point, others: Sequence[Sequence[Point]], unit: Unit, reach: float) -> Box:
    """A rectangle of which one side or corner was dragged; each edge snaps to the neighbours' edges, else to the grid.

    Parameters
    ----------
    handle : the letters of the edges that follow, e.g. "e" or "nw".
    by : how far it was dragged, east and north. [in]
    reach : edges nearer than this snap to one another. [in]
    """
    edges = list(before)
    for letter, at, axis in (("w", 0, 0), ("s", 1, 1), ("e", 2, 0), ("n", 3, 1)):
        if letter not in handle:
            continue
        wanted = edges[at] + by[axis]
        lines = (corner[axis] for other in others for corner in other)
        shift = _nearest((line - wanted for line in lines), reach)
        edge = on_grid(wanted, unit) if shift is None else wanted + shift
        opposite, step = edges[(at + 2) % 4], 2 * grid(unit)
        edges[at] = min(edge, opposite - step) if at < 2 else max(edge, opposite + step)
    return Box(*(tidy(edge, unit) for edge in edges))


def free_place(length: float, width: float, beside: Sequence[Box], clear: Box | None = None) -> Box:
    """Where a new room goes: wall to wall with another, over none of them, so that the plan stays compact.

    Parameters
    ----------
    length, width : from west to east and from south to north. [in]
    beside : the rooms on its level, that beside which it had best stand first; a room alone stands at the origin.
    clear : what is kept free as long as there is another place.
    """
    if not beside:
        return Box(0.0, 0.0, length, width)
    whole = box(corner for one in beside for corner in one.corners)
    for kept in ([clear], []) if clear else ([],):
        for one in beside:
            taken = (*beside, *kept)
            free = [p for p in _round(one, length, width) if not any(p.overlaps(other) for other in taken)]
            if free:
                return min(free, key=lambda place: _spread(place, whole))
    return Box(whole.east, whole.south, whole.east + length, whole.south + width)


def shelved(sizes: Sequence[tuple[float, float]], beside: Sequence[Box]) -> list[Box]:
    """Where rooms are drawn whose place nobody knows: in rows from west to east, south of the others, apart from all.

    Parameters
    ----------
    sizes : from west to east and from south to north. [in]
    beside : the rooms whose place is known; without any the first room stands at the origin.
    """
    west = min((b.west for b in beside), default=0.0)
    most = max((b.east for b in beside), default=west + SHELF)
    x, y, deepest = west, min((b.south - APART for b in beside), default=None), 0.0
    places = []
    for length, width in sizes:
        if x > west and x + length > max(most, west + SHELF):
            x, y, deepest = west, (y or 0.0) - deepest - APART, 0.0
        y = width if y is None else y
        places.append(Box(x, y - width, x + length, y))
        x, deepest = x + length + APART, max(deepest, width)
    return places


def _round(one: Box, length: float, width: float) -> list[Box]:
    """The places of a room against the four sides of another, in line with one of its corners."""
    places = [(one.east, one.south), (one.east, one.north - width)]
    places += [(one.west, one.north), (one.east - length, one.north)]
    places += [(one.west - length, one.south), (one.west - length, one.north - width)]
    places += [(one.west, one.south - width), (one.east - length, one.south - width)]
    return [Box(x, y, x + length, y + width) for x, y in places]


def _spread(one: Box, whole: Box) -> tuple[float, float]:
    """How far a plan spreads once one more room stands there: its longer side [in], then its floor [sq in]."""
    wide = max(one.east, whole.east) - min(one.west, whole.west)
    deep = max(one.north, whole.north) - min(one.south, whole.south)
    return max(wide, deep), wide * deep


def _nearest(shifts: Iterable[float], reach: float) -> float | None:
    """The least shift within reach, if there is one."""
    return min((shift for shift in shifts if abs(shift) < reach), key=abs, default=None)


# Openings


class Standing(NamedTuple):
    """Where an opening comes to stand: the room behind the wall there, None where there is none, and the distance from
    the wall's left end, seen from inside, to the left jamb [in]."""

    beyond: Room | None
    offset: float


class NoPlace(ValueError):
    """An opening for which there is no place; the words say why."""


def room_beyond(wall: Wall, along: float, others: Iterable[Room]) -> tuple[Room | None, float, float]:
    """The room at the back of a wall at a distance from its left end, and the stretch of wall that the two share; the
    whole wall where there is none [in]."""
    for other in others:
        for stretch in behind(wall, other):
            if stretch.start <= along <= stretch.end:
                return other, stretch.start, stretch.end
    return None, 0.0, wall.length


def standing(
    wall: Wall, along: float, width: float, others: Iterable[Room], taken: Iterable[PlacedOpening], unit: Unit
) -> Standing:
    """Where an opening stands that is put on a wall: in the middle of what two rooms share if it was put near there,
    else about where it was put, clear of what stands there already.

    Parameters
    ----------
    along : from the wall's left end, seen from inside, to where it was put. [in]
    width : of the opening. [in]
    others : the other rooms of the level.
    taken : the openings that stand on the wall.

    Raises
    ------
    NoPlace : the wall, or what is free of it, is too short.
    """
    beyond, start, end = room_beyond(wall, along, others)
    if end - start < width:
        raise NoPlace("too short")
    step, middle = grid(unit), (start + end - width) / 2
    wanted = along - width / 2
    wanted = middle if abs(wanted - middle) <= step else on_grid(wanted, unit)
    free = _free(start, end, width, taken)
    if not free:
        raise NoPlace("taken")
    return Standing(beyond, min((min(max(wanted, a), b) for a, b in free), key=lambda at: abs(at - wanted)))


def _free(start: float, end: float, width: float, taken: Iterable[PlacedOpening]) -> list[tuple[float, float]]:
    """Between which distances the left jamb can stand [in]."""
    edges = [start]
    for one in sorted(taken, key=lambda p: p.left):
        edges += [one.left, max(edges[-1], one.right)]
    edges.append(end)
    return [(a, b - width) for a, b in zip(edges[::2], edges[1::2], strict=True) if b - a >= width - SIXTEENTH]


# Names


def free_code(letter: str, taken: Iterable[str]) -> str:
    """The next code of a letter and a number.

    >>> free_code("D", ["Front door", "D2", "W7"])
    'D3'
    """
    numbers = [int(found[1]) for name in taken if (found := re.fullmatch(rf"{letter}(\d{{1,6}})", name))]
    return f"{letter}{max(numbers, default=0) + 1}"
