"""What a profile is made of: how much of its section is wood, and what is hollow behind it. Lengths in inches.

A profile is drawn from the wall to its face. What stands within the thickness of its stuff is solid. What reaches
farther is made of boards: a corona or another straight face is boxed, a face and a soffit; a moulding is sprung, a
board of its thickness leaned against wall and ceiling. Behind both the section is hollow, for blocking or backing.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import hypot
from typing import Literal

from planner.library.joinery_rows import Backing
from planner.mouldings import curves
from planner.mouldings.curves import Line, Point, Segment, polyline
from planner.mouldings.members import Member, Profile
from planner.mouldings.outlines import HAIR, face_of, faces, outline

HOLLOW = frozenset(
    {"crown", "cove", "bed mould", "cymatium", "corona", "overdoor", "window head", "mantel", "overmantel"}
)
"""Roles of what may be boxed or sprung; any other is run solid, its back flat on what it is fixed to."""

SHELVES = ("mantel", "overmantel")
"""Roles whose straight parts are boards that go back to the wall."""

FLAT = ("fascia", "plain edge")
"""Members that are boards by themselves."""


@dataclass(frozen=True)
class Timber:
    """One piece of wood of a section: its outline, how it is made, and the corners of what is hollow behind it.

    Its outline runs against the clock; `hollow` is empty where nothing is. Its back stands `back` off the
    profile's [in]: the board below runs up behind it.
    """

    made: Literal["solid", "boxed", "sprung"]
    outline: tuple[Segment, ...]
    hollow: tuple[Point, ...] = ()
    back: float = 0.0

    @property
    def stuff(self) -> tuple[float, float]:
        """Thickness and width [in] of the least board that it can be run of, one side of it along a straight edge."""
        edges = [s for s in self.outline if isinstance(s, Line)]
        boxes = (self._box(hypot(s.end[0] - s.start[0], s.end[1] - s.start[1]), s) for s in edges)
        return min(boxes, key=lambda box: box[0] * box[1])

    def _box(self, long: float, edge: Line) -> tuple[float, float]:
        """The two sides of the box round it along an edge so long, the shorter first [in]."""
        ux, uy = (edge.end[0] - edge.start[0]) / long, (edge.end[1] - edge.start[1]) / long
        along = [x * ux + y * uy for x, y in curves.points(self.outline)]
        across = [x * uy - y * ux for x, y in curves.points(self.outline)]
        thick, wide = sorted((max(along) - min(along), max(across) - min(across)))
        return thick, wide


@lru_cache(maxsize=4096)
def timber(profile: Profile, backing: Backing) -> tuple[Timber, ...]:
    """The pieces of wood that a profile is made of, from the bottom up.

    Parameters
    ----------
    profile : as it is drawn; what is bought as one moulding is one piece, but for a corona's face and soffit.
    backing : how what reaches far is made; a row of library/joinery.toml.
    """
    if profile.role not in HOLLOW or profile.projection <= profile.thickness + backing.solid:
        return (Timber("solid", outline(profile)),)
    found: list[Timber] = []
    behind = 0.0
    for first, last in _groups(profile.members, backing.shelf):
        piece = _piece(profile, first, last, behind, backing)
        found.append(piece)
        if profile.members[first].kind == "corona":
            behind = 0.0
        elif piece.made == "solid" and profile.members[first].kind in FLAT:
            behind = profile.members[first].projection
    return tuple(found)


def wood(profile: Profile, backing: Backing) -> float:
    """Area of the wood in a profile's section [sq in], exact."""
    return sum(curves.area(piece.outline) for piece in timber(profile, backing))


def _groups(members: Sequence[Member], shelf: float) -> list[tuple[int, int]]:
    """Runs of members worked on one piece: boards, coronas and dentil bands stand alone, mouldings together, and a
    fillet with the board under it that reaches farther than `shelf` [in]."""
    found: list[tuple[int, int]] = []
    alone = True
    for i, member in enumerate(members):
        under = members[i - 1] if i else member
        on_shelf = member.kind == "fillet" and under.kind in FLAT and under.projection > shelf
        single = member.kind in (*FLAT, "corona", "dentil band")
        if single or (alone and not on_shelf):
            found.append((i, i + 1))
        else:
            found[-1] = (found[-1][0], i + 1)
        alone = single or on_shelf
    return found


def _piece(profile: Profile, first: int, last: int, behind: float, backing: Backing) -> Timber:
    """The piece that some members are worked on; a board that stands `behind` off the wall runs up behind it [in]."""
    group = profile.members[first:last]
    ends = faces(profile.members, standing=False)[first:last]
    low = sum(m.height for m in profile.members[:first])
    high = low + sum(m.height for m in group)
    planted = group[0].kind != "corona" and group[0].kind not in FLAT
    back = behind if planted and min(min(e) for e in ends) >= behind - HAIR else 0.0
    reach, thick = max(m.projection for m in group) - back, profile.thickness
    flat = backing.shelf if profile.role in SHELVES else backing.flat
    if reach <= thick + backing.solid or (high - low <= flat and _is_straight(group)):
        throated = group[0].kind == "corona"
        outline = _closed(face_of(profile, first, last, under=throated), (back, high), (back, low))
        return Timber("solid", outline, back=back)
    if _is_straight(group):
        return _boxed(profile, first, last, (back, low, high), backing)
    return _sprung(face_of(profile, first, last, under=False), (back, low, high), thick, backing)


def _is_straight(group: Sequence[Member]) -> bool:
    return all(m.curve in ("straight", "corona") for m in group)


def _boxed(profile: Profile, first: int, last: int, box: tuple[float, float, float], backing: Backing) -> Timber:
    """A face and a soffit let over what is below; of a dentil band the face alone. `box`: back, foot and head [in]."""
    back, low, high = box
    face = face_of(profile, first, last, under=False)
    front = min(p for s in face for p in (s.start[0], s.end[0])) - profile.thickness
    below = faces(profile.members)[first - 1][1] if first else back
    inner = max(below - backing.lap, back)
    if profile.members[first].kind == "dentil band" or inner >= front:
        outline = _closed(face, (front, high), (front, low))
        return Timber("boxed", outline, ((back, low), (front, low), (front, high), (back, high)), back)
    over = low + backing.soffit
    under = [s for s in face_of(profile, first, last) if s not in face]
    edge = under[0].start if under else (back, low)
    soffit = (Line((inner, low), edge), *under) if inner < edge[0] - HAIR else tuple(under)
    chain = (*soffit, *face)
    wood = _closed(chain, (front, high), (front, over), (inner, over), (inner, low))
    return Timber("boxed", wood, ((back, over), (front, over), (front, high), (back, high)), back)


def _sprung(face: tuple[Segment, ...], box: tuple[float, float, float], thick: float, backing: Backing) -> Timber:
    """A board leaned from foot to head, its back along the line between them; `box`: back, foot and head [in]."""
    back, low, high = box
    start, end = face[0].start, face[-1].end
    run, rise = end[0] - start[0], end[1] - start[1]
    if run <= HAIR:
        return Timber("solid", _closed(face, (back, high), (back, low)), back=back)
    long = hypot(run, rise)
    outward = (rise / long, -run / long)
    stands = [(x - start[0]) * outward[0] + (y - start[1]) * outward[1] for x, y in curves.points(face)]
    plane = min(max(stands) - thick, min(stands) - backing.web)

    def at_height(y: float) -> float:
        return start[0] + (plane - (y - start[1]) * outward[1]) / outward[0]

    top, foot = at_height(high), at_height(low)
    if top <= back + HAIR:
        return Timber("solid", _closed(face, (back, high), (back, low)), back=back)
    if foot >= back:
        corners = ((back, low), (foot, low), (top, high), (back, high))
        return Timber("sprung", _closed(face, (top, high), (foot, low)), corners, back)
    crosses = high - (top - back) * rise / run
    wood = _closed(face, (top, high), (back, crosses), (back, low))
    return Timber("sprung", wood, ((back, crosses), (top, high), (back, high)), back)


def _closed(face: Sequence[Segment], *corners: Point) -> tuple[Segment, ...]:
    """A face closed by way of corners behind it."""
    sides = [s for s in polyline([face[-1].end, *corners, face[0].start]) if s.start != s.end]
    return (*face, *sides)
