"""Random houses: a random tree of rooms off an entry, a few loops, uses and passages of every kind."""

import random

from hypothesis import strategies as st

from planner.house.model import House, Opening, Room
from planner.intent.model import Intent, Wish

USES = (
    "parlor",
    "dining room",
    "library",
    "kitchen",
    "hall",
    "stair hall",
    "bedroom",
    "bath",
    "closet",
    "laundry",
    "family room",
)
KINDS = ("door", "door", "door", "double door", "pocket door", "cased opening", "stair", "open")


def random_house(rooms: int, seed: int, loops: float = 0.4) -> House:
    """A connected house of `rooms` rooms; the same seed gives the same house."""
    rng = random.Random(seed)
    names = [f"Room {i}" for i in range(rooms)]
    made = [
        Room(
            name,
            level="Ground",
            use="entry hall" if i == 0 else rng.choice(USES),
            length=rng.randrange(60, 300, 6),
            width=rng.randrange(60, 240, 6),
            ceiling=rng.choice((96, 108, 120)),
        )
        for i, name in enumerate(names)
    ]
    pairs = [(names[rng.randrange(max(0, i - 12), i)], names[i]) for i in range(1, rooms)]
    pairs += [tuple(rng.sample(names, 2)) for _ in range(int(loops * rooms))] if rooms > 1 else []
    openings = [Opening(f"D{i}", rng.choice(KINDS), a, b, wall="N") for i, (a, b) in enumerate(pairs)]
    return House("Random", ("Room 0",), tuple(made), tuple(openings))


@st.composite
def houses_and_intents(draw: st.DrawFn) -> tuple[House, Intent]:
    """A random house of up to 9 rooms, with and without pins, ranges, sets, limits and a budget."""
    house = random_house(draw(st.integers(1, 9)), draw(st.integers(0, 10**6)))
    tiers = draw(st.integers(3, 4)) if len(house.rooms) > 6 else draw(st.integers(3, 5))
    names = st.sampled_from(sorted(house.by_name))
    wishes = {name: Wish(tier=draw(st.integers(1, tiers))) for name in draw(st.lists(names, max_size=2))}
    for name in draw(st.lists(names, max_size=2)):
        low = draw(st.integers(1, tiers))
        wishes.setdefault(name, Wish(lowest=low, highest=draw(st.integers(low, tiers))))
    group = st.lists(names, min_size=2, max_size=3, unique=True).map(tuple)
    sets = draw(st.lists(group, max_size=1)) if len(house.rooms) > 1 else ()
    return house, Intent(
        tiers=tiers,
        grade=draw(st.sampled_from(["cottage", "house", "great house"])),
        rooms=wishes,
        sets=tuple(sets),
        limits=draw(st.dictionaries(st.sampled_from(["door", "cased opening"]), st.integers(0, 3))),
        budget=draw(st.none() | st.integers(0, 400)),
    )
