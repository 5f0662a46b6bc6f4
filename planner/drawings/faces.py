"""How an element of trim is seen from the front and cut through, whatever wall it stands on. Lengths in inches."""

from dataclasses import dataclass
from functools import cached_property, lru_cache

from shapely.geometry import LineString

from planner.drawings.profiles import cut, face_points, shades
from planner.drawings.scene import Path, rectangle
from planner.mouldings.assembly import Placed
from planner.mouldings.curves import Point
from planner.trim.packages import Element
from planner.values import immutabledict


@dataclass(frozen=True)
class Face:
    """How an element is seen: its profiles, their face from the foot up, and the heights where an edge shows [in]."""

    placed: tuple[Placed, ...]
    points: tuple[Point, ...]
    edges: tuple[float, ...]
    bands: tuple[tuple[float, float, str], ...]

    @cached_property
    def cut(self) -> tuple[Path, ...]:
        """The element cut through, its foot on the wall at (0, 0)."""
        return tuple(shape for p in self.placed for shape in cut(p))

    @cached_property
    def coarse(self) -> tuple[Point, ...]:
        """Its face with as few points as keep within COARSE of it [in]."""
        if len(self.points) < 3:
            return self.points
        return tuple((x, y) for x, y in LineString(self.points).simplify(COARSE, preserve_topology=False).coords)

    def reach(self, low: float, high: float) -> float:
        """How far it stands out at most between two heights [in]."""
        return max((x for x, y in self.points if low - 1e-6 <= y <= high + 1e-6), default=0.0)


BARE = Face((), (), (), ())

COARSE = 1 / 32
"""How far a face may be off where it is drawn small [in]."""


@lru_cache(maxsize=256)
def faces(sections: immutabledict[str, tuple[Placed, ...]]) -> immutabledict[str, Face]:
    """How each element of a package is seen, from the profiles of each; kept, as every wall of a package asks."""
    return immutabledict({element: _face(placed) for element, placed in sections.items()})


def cut_through(element: Element, sections: immutabledict[str, tuple[Placed, ...]]) -> tuple[Path, ...]:
    """An element cut through, its foot on the wall at (0, 0); a plain rectangle where no profile is known."""
    seen = faces(sections).get(element.element)
    if seen is None:
        return (rectangle(0.0, 0.0, element.projection, element.size, "cut", "wood", name=element.element),)
    return seen.cut


def _face(placed: tuple[Placed, ...]) -> Face:
    points = face_points(placed)
    edges = set()
    for p in placed:
        y = p.y
        for member in p.profile.members:
            edges.add(round(y, 4))
            y += member.height
        edges.add(round(y, 4))
    return Face(placed, tuple(points), tuple(sorted(edges)), tuple(shades(points)))
