"""Random houses for tests: rows of rooms on one grid, with all that can stand in a wall, well placed and badly."""

from random import Random

from planner.house.model import OUTSIDE, House, Opening, Room

USES = ("entry hall", "parlor", "dining room", "library", "kitchen", "bedroom", "closet", "bath", "stair hall")
CEILINGS = (90.0, 96.0, 102.0, 108.0, 114.0, 120.0, 132.0, 144.0)
PASSAGES = ("door", "door", "door", "double door", "pocket door", "cased opening", "open")


def random_house(seed: int) -> House:
    """A house of 2 to 9 rooms in a row from west to east; some have a notched corner."""
    rng = Random(seed)
    count, depth = rng.randint(2, 9), rng.choice([120.0, 156.0, 192.0, 228.0])
    rooms, openings, x = [], [], 0.0
    for i in range(count):
        width = rng.choice([48.0, 60.0, 96.0, 132.0, 168.0, 204.0, 252.0])
        rooms.append(_room(rng, f"Room {i}", x, width, depth))
        x += width
    for i, room in enumerate(rooms):
        if i:
            openings.append(_passage(rng, i, rooms[i - 1], room))
        openings += _outside(rng, room)
    year = rng.choice([None, 1890, 1931, 1999])
    return House(f"House {seed}", (rooms[0].name,), tuple(rooms), tuple(openings), year_built=year)


def _room(rng: Random, name: str, x: float, width: float, depth: float) -> Room:
    outline = ((x, 0.0), (x, depth), (x + width, depth), (x + width, 0.0))
    if rng.random() < 0.2 and width >= 96 and depth >= 156:
        notch = rng.choice([18.0, 30.0, 42.0])
        outline = (
            (x, 0.0), (x, depth), (x + width - notch, depth), (x + width - notch, depth - notch),
            (x + width, depth - notch), (x + width, 0.0),
        )  # fmt: skip
    notes = rng.choice(
        ["", "", "", "radiator 34 in high under the window", "fire door to the stair", "widen the opening"]
    )
    return Room(name, "Ground", rng.choice(USES), width, depth, rng.choice(CEILINGS), outline, notes)


def _passage(rng: Random, i: int, west: Room, east: Room) -> Opening:
    wall = next(w for w in east.walls if w.left[0] == w.right[0] == min(x for x, _ in east.corners))
    kind = rng.choice(PASSAGES)
    width = rng.choice([28.0, 32.0, 36.0]) if kind == "door" else rng.choice([48.0, 60.0, 72.0])
    lowest = min(west.ceiling, east.ceiling)
    height = lowest if kind == "open" and rng.random() < 0.5 else min(rng.choice([80.0, 84.0, 90.0]), lowest)
    # The east room's west wall runs from its south end, the left one, to the north; a notch shortens the west room's.
    reach = min(wall.length, max(w.length for w in west.walls if w.left[0] == w.right[0] == wall.left[0]))
    offset = rng.choice([None, float(rng.randint(0, int(max(0.0, reach - width))))])
    return Opening(f"D{i}", kind, east.name, west.name, wall.name, offset, width, height)


def _outside(rng: Random, room: Room) -> list[Opening]:
    found = []
    for n, wall in enumerate(w for w in room.walls if w.left[1] == w.right[1]):
        for m in range(rng.randint(0, 3)):
            kind = rng.choice(["window", "window", "window", "fireplace"])
            width = rng.choice([20.0, 28.0, 32.0, 36.0, 42.0, 60.0])
            if width > wall.length:
                continue
            offset = rng.choice([None, float(rng.randint(0, int(wall.length - width)))])
            sill = rng.choice([0.0, 12.0, 18.0, 24.0, 28.0, 30.0, 31.5, 36.0, 44.0]) if kind == "window" else None
            height = 34.0 if kind == "fireplace" else min(sill + rng.choice([36.0, 48.0, 60.0, 72.0]), room.ceiling)
            name = f"{'W' if kind == 'window' else 'F'}-{room.name[5:]}-{n}{m}"
            found.append(Opening(name, kind, room.name, OUTSIDE, wall.name, offset, width, height, sill))
    return found
