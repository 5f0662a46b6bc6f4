"""One room with something in every wall, for tests of what stands on walls."""

from planner.house.model import OUTSIDE, House, Opening, Room

PARLOR = Room("Parlor", "Ground", "parlor", 216.0, 168.0, 120.0)
HALL = Room("Hall", "Ground", "hall", 120.0, 120.0, 120.0)
OPENINGS = (
    Opening("D", "door", "Parlor", "Hall", "N", 40.0, 36.0, 84.0),
    Opening("W1", "window", "Parlor", OUTSIDE, "S", 36.0, 36.0, 90.0, 30.0),
    Opening("W2", "window", "Parlor", OUTSIDE, "S", 144.0, 36.0, 90.0, 30.0),
    Opening("F", "fireplace", "Parlor", OUTSIDE, "E", None, 42.0, 36.0),
    Opening("Gap", "open", "Parlor", "Hall", "W", 40.0, 60.0, 120.0),
)
HOUSE = House("Test", ("Hall",), (HALL, PARLOR), OPENINGS)

L_SHAPED = Room(
    "Ell",
    "Ground",
    "parlor",
    240.0,
    240.0,
    120.0,
    ((0.0, 0.0), (0.0, 240.0), (120.0, 240.0), (120.0, 120.0), (240.0, 120.0), (240.0, 0.0)),
)
"""A room with one outside corner, between its walls 3 and 4."""


def alone(room: Room, *openings: Opening) -> House:
    """A house of one room."""
    return House("Alone", (room.name,), (room,), openings)
