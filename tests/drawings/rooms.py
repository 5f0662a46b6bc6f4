"""The walls of random houses in random tiers and periods, for tests of drawings."""

from random import Random

import pytest

from planner.library import standard
from planner.walls.layout import lay_out
from tests.known import package
from tests.walls.houses import random_house

LIBRARY = standard()
BLOCKS = [range(first, first + 20) for first in range(0, 200, 20)]
ALL = pytest.mark.parametrize("seeds", BLOCKS, ids=lambda seeds: f"{seeds[0]}-{seeds[-1]}")
SOME = pytest.mark.parametrize("seeds", [block[::10] for block in BLOCKS], ids=lambda seeds: f"{seeds[0]}")


def laid_out(seed: int):
    """The rooms of a random house with random tiers: house, room, package and walls of each."""
    house, rng = random_house(seed), Random(seed)
    style = rng.choice(LIBRARY.style_names)
    for room in house.rooms:
        trim = package(style, "doric", rng.randint(1, 5), room.ceiling, top=5)
        yield house, room, trim, lay_out(house, room, trim, LIBRARY)


def rooms_of(seeds):
    for seed in seeds:
        yield from laid_out(seed)


def walls_of(seeds):
    for *_, walls in rooms_of(seeds):
        yield from walls
