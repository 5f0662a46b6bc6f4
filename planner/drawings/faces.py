"""How an element of trim is seen from the front and cut through, whatever wall it stands on. Lengths in inches."""

from dataclasses import dataclass
from functools import lru_cache

from planner.drawings.profiles import cut, face_points, shades
from planner.drawings.scene import Path, rectangle
from planner.mouldings.curves import Point
from planner.trim.packages import Element
from planner.trim.sections import Placed, profile_of


@dataclass(frozen=True)
class Face:
    """How an element is seen: its profiles, their face from the foot up, and the heights where an edge shows [in]."""

    placed: tuple[Placed, ...]
    points: tuple[Point, ...]
    edges: tuple[float, ...]
    bands: tuple[tuple[float, float, str], ...]

    def reach(self, low: float, high: float) -> float:
        """How far it stands out at most between two heights [in]."""
        return max((x for x, y in self.points if low - 1e-6 <= y <= high + 1e-6), default=0.0)


BARE = Face((), (), (), ())


@lru_cache(maxsize=2048)
def face(element: Element | None, order: str, style: str) -> Face:
    """How an element is seen, whatever wall it stands on."""
    placed = profile_of(element, order, style) if element is not None else ()
    if not placed:
        return BARE
    points = face_points(placed)
    edges = set()
    for p in placed:
        y = p.y
        for member in p.profile.members:
            edges.add(round(y, 4))
            y += member.height
        edges.add(round(y, 4))
    return Face(placed, tuple(points), tuple(sorted(edges)), tuple(shades(points)))


@lru_cache(maxsize=2048)
def cut_through(element: Element, order: str, style: str) -> tuple[Path, ...]:
    """An element cut through, its foot on the wall at (0, 0); a plain rectangle where no profile is known."""
    seen = face(element, order, style)
    if seen is BARE:
        return (rectangle(0.0, 0.0, element.projection, element.size, "cut", "wood", name=element.element),)
    return tuple(shape for p in seen.placed for shape in cut(p))
