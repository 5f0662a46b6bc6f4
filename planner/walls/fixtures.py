"""What stands on a wall besides openings, and what of the trim it takes the place of. All lengths are inches."""

from collections.abc import Iterable, Mapping
from functools import lru_cache
from typing import NamedTuple

from planner.house.fixtures import HANDRAIL
from planner.house.model import Fixture, House, Room
from planner.library import Library
from planner.library.fixture_rows import FixtureKind, Manner
from planner.walls.corners import corners
from planner.walls.solids import TOUCH
from planner.walls.stairs import Beside

SQUARE_CORNER = 1.0
"""A corner within this of 90 [degrees] is one in which a fixture fits; common practice."""


class Obstacle(NamedTuple):
    """A fixture where it stands on a wall, seen from inside the room.

    Parameters
    ----------
    fixture, kind : what it is, and what trim does at such.
    x0, x1 : its sides from the wall's left end. [in]
    stands : how far it stands off this wall. [in]
    turned : whether it stands against the next wall, in the corner, so that this wall has its end.
    """

    fixture: Fixture
    kind: FixtureKind
    x0: float
    x1: float
    stands: float
    turned: bool = False

    @property
    def y0(self) -> float:
        """Its lower edge above the floor [in]."""
        return self.fixture.bottom

    @property
    def y1(self) -> float:
        """Its upper edge above the floor [in]."""
        return self.fixture.top

    def touches(self, y0: float, y1: float) -> bool:
        """Whether it stands at the height of what lies between two heights [in]."""
        return self.y0 < y1 - TOUCH and y0 < self.y1 - TOUCH

    def manner(self, element: str, y0: float, y1: float) -> Manner:
        """What an element between two heights [in] does at it."""
        return self.kind.manner(element) if self.touches(y0, y1) else "passes"

    def span(self, element: str, y0: float, y1: float) -> tuple[float, float] | None:
        """From where to where it takes the place of an element between two heights [in], None where that runs on."""
        manner = self.manner(element, y0, y1)
        clear = self.kind.clear if manner == "returns" else 0.0
        return None if manner == "passes" else (self.x0 - clear, self.x1 + clear)


def beside_flight(one: Obstacle, stairs: Iterable[Beside]) -> Beside | None:
    """The flight beside which a handrail runs, None for a level one and for any other fixture."""
    for up in stairs if one.kind.kind == HANDRAIL and not one.turned else ():
        left, right = sorted((up.flight.offset, up.flight.end))
        if one.x0 < right and left < one.x1:
            return up
    return None


def obstacles(house: House, room: Room, library: Library) -> Mapping[str, tuple[Obstacle, ...]]:
    """The fixtures on each wall of a room, from left to right, with the ends of those in its corners."""
    standing = house.fixtures_of.get(room.name)
    return _obstacles(standing, room, library) if standing else {}


@lru_cache(maxsize=1024)
def _obstacles(fixtures: tuple[Fixture, ...], room: Room, library: Library) -> Mapping[str, tuple[Obstacle, ...]]:
    walls, angles = room.walls, corners(room)
    found: dict[str, list[Obstacle]] = {}
    for fixture in fixtures:
        wall = room.wall(fixture.wall)
        if wall is None:
            continue
        kind, at, depth = library.fixture_kinds[fixture.kind], walls.index(wall), fixture.depth
        found.setdefault(wall.name, []).append(Obstacle(fixture, kind, fixture.offset, fixture.right, depth))
        after, before = walls[(at + 1) % len(walls)], walls[at - 1]
        if wall.length - fixture.right <= TOUCH and _square(angles[(at + 1) % len(walls)]):
            end = Obstacle(fixture, kind, 0.0, min(depth, after.length), fixture.width, turned=True)
            found.setdefault(after.name, []).append(end)
        if fixture.offset <= TOUCH and _square(angles[at]):
            x0 = max(0.0, before.length - depth)
            found.setdefault(before.name, []).append(
                Obstacle(fixture, kind, x0, before.length, fixture.width, turned=True)
            )
    return {name: tuple(sorted(on_it, key=lambda o: (o.x0, o.fixture.name))) for name, on_it in found.items()}


def taken(standing: Iterable[Obstacle], element: str, y0: float, y1: float) -> list[tuple[float, float]]:
    """What fixtures take of an element that would run between two heights [in]."""
    return [span for o in standing if (span := o.span(element, y0, y1)) is not None]


def lifted(standing: Iterable[Obstacle], element: str, y0: float, y1: float) -> list[tuple[float, float, float]]:
    """Where an element between two heights stands upon fixtures: from where to where, and their upper edges [in]."""
    return [(o.x0, o.x1, max(o.y1, y0)) for o in standing if o.manner(element, y0, y1) == "lifts" and o.y1 < y1]


def shifted(one: Obstacle, by: float, length: float) -> Obstacle | None:
    """An obstacle moved along a wall of a length [in], as much of it as stands there; None where nothing does."""
    x0, x1 = max(one.x0 + by, 0.0), min(one.x1 + by, length)
    return one._replace(x0=x0, x1=x1) if x1 - x0 > TOUCH else None


def _square(angle: float) -> bool:
    return abs(angle - 90.0) <= SQUARE_CORNER
