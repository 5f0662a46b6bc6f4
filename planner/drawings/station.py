"""Where the viewer of a room stands and looks, and how much is in the picture. Lengths in inches."""

from collections.abc import Sequence
from math import cos, hypot, inf, radians
from typing import NamedTuple

from planner.drawings.camera import Camera
from planner.drawings.scene import Box
from planner.house.model import Room, Wall
from planner.mouldings.curves import Point
from planner.walls.layout import WallLayout
from planner.walls.openings import Aperture

EYE = 64.0
"""Height of the eye above the floor [in]: 5'-4", of a person who stands; common practice (5 to 5 1/2 ft)."""

STOOPED = 0.8
"""The eye is no higher than this part of the ceiling's height."""

WIDEST = 1.0
"""Slope of the farthest sight line to either side of the axis: 45 degrees, the widest that an interior is drawn with
(F. D. K. Ching, Architectural Graphics, the cone of vision, from memory)."""

MOST = 2.25
"""So many times as wide as what is seen of the facing wall the picture is at most; common practice."""

OBLIQUE = cos(radians(45.0))
"""A wall ahead that is turned farther from the line of sight is not faced."""

WITHIN = 1.15
"""The picture begins so many times as far from the eye as the wall with the door does, so that trim that stands off the
walls runs out of the picture and does not end in it."""

STEP = 6.0
"""By this much the viewer steps back from the door until the room is in the picture [in]."""

TRIES = 100
"""So many steps back at most."""


class Station(NamedTuple):
    """Where a room is seen from.

    Parameters
    ----------
    camera : the eye, its picture plane in the facing wall.
    section : how far ahead the room is cut: the edges of the picture are those of the room there. [in]
    window : the edges of the picture, from the line of sight and above the floor's line. [in]
    door : the opening that the viewer stands in, None where no door is known.
    facing : the name of the wall that is parallel to the picture, "" where none is.
    back : how far the eye stands back from the opening. [in]
    """

    camera: Camera
    section: float
    window: Box
    door: Aperture | None
    facing: str
    back: float


def station(room: Room, layouts: Sequence[WallLayout], before: Sequence[str]) -> Station:
    """Where the viewer of a room stands: in the middle of its main door, or straight back from it.

    Parameters
    ----------
    room, layouts : the room, and its walls in the same order.
    before : whence it is entered, the rooms (or "outside") in the order in which a door to them counts.

    Notes
    -----
    The main door is the widest way in from the first of `before` that has one. The viewer looks square to the wall
    that is met straight ahead, and where the room is shallow for its width stands back, as if the wall with the door
    were not there, until both sides of the picture lie within 45 degrees of the line of sight. A room without a door
    is seen from the middle of its shortest wall.
    """
    by, door = main_door(layouts, before)
    wall = room.walls[by]
    x = (door.x0 + door.x1) / 2 if door is not None else wall.length / 2
    stands, inward = _along(wall, x), _inward(wall)
    facing, ahead, depth = _faced(room, by, stands, inward)
    camera, section, (left, right), back = _back_enough(room, stands, ahead, depth)
    k, eye = camera.distance / section, camera.height
    low, high = eye - eye * k, eye + (room.ceiling - eye) * k
    return Station(camera, section, Box(left * k, low, right * k, high), door, facing, back)


def main_door(layouts: Sequence[WallLayout], before: Sequence[str]) -> tuple[int, Aperture | None]:
    """The number of the wall with the main door, and the door; the shortest wall and None where there is no door."""
    ways = [(n, a) for n, wall in enumerate(layouts) for a in wall.apertures if a.kind not in ("window", "fireplace")]
    for other in before:
        leading = [(n, a) for n, a in ways if a.other == other and a.is_open]
        if leading:
            return max(leading, key=lambda way: (way[1].x1 - way[1].x0, -way[0], -way[1].x0))
    return min(range(len(layouts)), key=lambda n: layouts[n].length or inf), None


def _faced(room: Room, by: int, stands: Point, inward: Point) -> tuple[str, Point, float]:
    """The wall that is met by whoever enters, the way to look, and how far it is [in]."""
    hits = [
        (ahead, wall)
        for n, wall in enumerate(room.walls)
        if n != by and (ahead := _ahead(wall, stands, inward)) is not None
    ]
    if not hits:
        return "", inward, max(room.length, room.width)
    far, wall = min(hits, key=lambda hit: hit[0])
    nx, ny = _inward(wall)
    if -(nx * inward[0] + ny * inward[1]) < OBLIQUE:
        return "", inward, far
    across = (stands[0] - wall.left[0]) * nx + (stands[1] - wall.left[1]) * ny
    return wall.name, (-nx, -ny), across


def _back_enough(room: Room, stands: Point, ahead: Point, depth: float) -> tuple[Camera, float, Point, float]:
    """The eye so far back that the room fits the picture, and how far ahead the room is cut, what is cut there to the
    left and right of the line of sight, and how far back the eye is [in]."""
    reach = max(hypot(x - stands[0], y - stands[1]) for x, y in room.corners)
    step = max(STEP, 2 * reach / TRIES)
    for n in range(TRIES + 1):
        back = n * step
        distance = depth + back
        section = min(max(WITHIN * back, distance / MOST), back + depth / 2)
        eye = stands[0] - ahead[0] * back, stands[1] - ahead[1] * back
        camera = Camera(eye, min(EYE, STOOPED * room.ceiling), ahead, distance, max(back, 1.0))
        ends = _section(room, camera, section)
        if ends is not None and max(-ends[0], ends[1]) <= WIDEST * section:
            return camera, section, ends, back
    wide = WIDEST * section
    left, right = ends or (-wide, wide)
    return camera, section, (max(left, -wide), min(right, wide)), back


def _section(room: Room, camera: Camera, depth: float) -> Point | None:
    """From where to where the room is cut so far ahead about the line of sight [in], None where it is not."""
    places = [camera.place(corner, 0.0) for corner in room.corners]
    crossed = sorted(
        ax + (bx - ax) * (depth - ay) / (by - ay)
        for (ax, ay, _), (bx, by, _) in zip(places, places[1:] + places[:1], strict=True)
        if (ay < depth) != (by < depth)
    )
    spans = zip(crossed[::2], crossed[1::2], strict=True)
    return next(((a, b) for a, b in spans if a < 0.0 < b), None)


def _ahead(wall: Wall, eye: Point, way: Point) -> float | None:
    """How far ahead a wall is met that is seen from inside [in], None where it is not."""
    nx, ny = _inward(wall)
    toward = -(way[0] * nx + way[1] * ny)
    off = (eye[0] - wall.left[0]) * nx + (eye[1] - wall.left[1]) * ny
    if toward < 1e-9 or off <= 1e-9:
        return None
    far = off / toward
    at = ((eye[0] + way[0] * far - wall.left[0]), (eye[1] + way[1] * far - wall.left[1]))
    along = (at[0] * (wall.right[0] - wall.left[0]) + at[1] * (wall.right[1] - wall.left[1])) / wall.length
    return far if 0.0 <= along <= wall.length else None


def _inward(wall: Wall) -> Point:
    """Unit vector on the plan from a wall into its room."""
    if not wall.length:
        return 0.0, 0.0
    return (wall.right[1] - wall.left[1]) / wall.length, (wall.left[0] - wall.right[0]) / wall.length


def _along(wall: Wall, x: float) -> Point:
    """A place along a wall on the plan [in]."""
    t = x / wall.length if wall.length else 0.0
    return wall.left[0] + (wall.right[0] - wall.left[0]) * t, wall.left[1] + (wall.right[1] - wall.left[1]) * t
