"""The angles at which the walls of a room meet. In degrees."""

from math import atan2, degrees

from planner.house.model import Room


def corners(room: Room) -> tuple[float, ...]:
    """The angle at the left end of each wall of a room, clockwise, measured inside the room [degrees].

    >>> corners(Room("Bay", "Ground", "parlor", 96.0, 96.0, 108.0))
    (90.0, 90.0, 90.0, 90.0)
    """
    walls = room.walls
    found = []
    for before, wall in zip(walls[-1:] + walls[:-1], walls, strict=True):
        (ax, ay), (bx, by), (cx, cy) = before.left, wall.left, wall.right
        cross = (bx - ax) * (cy - by) - (by - ay) * (cx - bx)
        along = (bx - ax) * (cx - bx) + (by - ay) * (cy - by)
        found.append(180.0 + degrees(atan2(cross, along)))
    return tuple(found)
