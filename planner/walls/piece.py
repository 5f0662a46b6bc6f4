"""One piece of wood: what it is, where it goes, and what it is cut from. All lengths are inches."""

from collections.abc import Set
from dataclasses import dataclass
from typing import NamedTuple

from planner.trim.packages import Element, Package
from planner.trim.panelling import MOULD, PANEL
from planner.walls.cuts import Cut
from planner.walls.layout import WallLayout
from planner.walls.openings import casing_of
from planner.walls.parts import CROWNING, FLAT, PANELS, Part, Side, called
from planner.walls.solids import Solid


class Place(NamedTuple):
    """Where a piece goes: from where to where along a wall, seen from inside the room, and above the floor [in].

    `opening` is empty for what runs along the wall.
    """

    room: str
    wall: str
    x0: float
    x1: float
    y0: float
    y1: float
    opening: str = ""


@dataclass(frozen=True)
class Piece:
    """One piece of wood.

    Parameters
    ----------
    part, side : what it is, and on which side of its opening or of the run that it returns.
    element : the element of the package that it belongs to.
    length : from long point to long point. [in]
    width : of the stock that it is cut from. [in]
    depth : how far its face stands off what it is fixed to: of a board its thickness. [in]
    ends : its two ends, from the left or from the floor.
    place : where it goes.
    profile : codes of the stock that it is cut from, several where it is built up; empty where none was chosen.
    form : what its form calls it, where it has a name of its own there.
    note : what else is to be known.
    count : how many of it there are, evenly along its place.
    """

    part: Part
    side: Side
    element: str
    length: float
    width: float
    depth: float
    ends: tuple[Cut, Cut]
    place: Place
    profile: tuple[str, ...] = ()
    form: str = ""
    note: str = ""
    count: int = 1

    @property
    def name(self) -> str:
        """What a person reads for it."""
        return called(self.part, self.side, self.form, self.element)


def piece_of(
    layout: WallLayout,
    solid: Solid,
    length: float,
    width: float,
    ends: tuple[Cut, Cut],
    profile: tuple[str, ...] = (),
    note: str = "",
) -> Piece:
    """A solid as a piece of wood."""
    place, depth = place_of(layout, solid), depth_of(layout, solid)
    return Piece(solid.part, solid.side, solid.element, length, width, depth, ends, place, profile, solid.form, note)


def place_of(layout: WallLayout, solid: Solid) -> Place:
    """Where a solid is."""
    return Place(layout.room, layout.wall, solid.x0, solid.x1, solid.y0, solid.y1, solid.opening)


def depth_of(layout: WallLayout, solid: Solid) -> float:
    """How far the face of a solid stands off what it is fixed to [in]; what goes into a groove is as thick as its
    section has it."""
    package = layout.package.at(solid.opening)
    if solid.part in FLAT:
        return solid.height
    if solid.part in (*PANELS, Part.PANEL_MOULD):
        named = PANEL if solid.part in PANELS else MOULD
        cut = (p.profile for p in layout.sections_at(solid.opening).get(solid.element, ()) if p.part == named)
        return max((profile.projection for profile in cut), default=solid.projection)
    if solid.on and (under := package.element(solid.on)) is not None:
        return solid.projection - (under.projection if solid.on == "base" else under.ground + under.thickness)
    element = package.element(solid.element) or casing_of("", package)
    return solid.projection - (element.ground if element is not None else 0.0)


def codes(package: Package, solid: Solid, kind: str = "") -> tuple[str, ...]:
    """Codes of the stock that a solid is cut from, none where none was chosen; `kind` is that of its opening."""
    element = package.element(solid.element)
    if solid.element in ("casing", "backband", "crossette"):
        casing = casing_of(kind, package)
        if solid.element != "backband":
            return _codes(casing, {p for p in _parts(casing) if p != "backband"})
        return _codes(casing, {"backband"}) or _codes(element if element is not None else casing)
    if (solid.part is Part.CROWN or solid.part in CROWNING) and len(_parts(element)) > 1:
        return _codes(element, {solid.form})
    if solid.part is Part.BASE and package.element("shoe") is not None:
        return _codes(element, {p for p in _parts(element) if p != "shoe"})
    return _codes(element)


def _parts(element: Element | None) -> frozenset[str]:
    """The parts that an element's stock makes up."""
    assembly = element.assembly if element is not None else None
    return frozenset(p.part for p in assembly.pieces) if assembly is not None else frozenset()


def _codes(element: Element | None, parts: Set[str] | None = None) -> tuple[str, ...]:
    """Codes of the stock of an element, or of some of its parts, each once."""
    assembly = element.assembly if element is not None else None
    if assembly is None:
        return ()
    return tuple(dict.fromkeys(p.profile.code for p in assembly.pieces if parts is None or p.part in parts))
