"""One piece of wood: what it is, where it goes, and what it is cut from. All lengths are inches."""

from collections.abc import Set
from dataclasses import dataclass
from typing import NamedTuple

from planner.mouldings.assembly import Placed
from planner.trim.packages import Element
from planner.trim.panelling import MOULD, PANEL
from planner.trim.sections import PANELLED
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
    stock : what it is cut from, where it stands, several where it is built up; empty where none was chosen.
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
    stock: tuple[Placed, ...] = ()
    form: str = ""
    note: str = ""
    count: int = 1

    @property
    def profile(self) -> tuple[str, ...]:
        """Codes of the stock that it is cut from, each once."""
        return tuple(dict.fromkeys(p.profile.code for p in self.stock))

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
    stock: tuple[Placed, ...] = (),
    note: str = "",
) -> Piece:
    """A solid as a piece of wood."""
    place, depth = place_of(layout, solid), depth_of(layout, solid)
    return Piece(solid.part, solid.side, solid.element, length, width, depth, ends, place, stock, solid.form, note)


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


def stock_of(layout: WallLayout, solid: Solid, kind: str = "") -> tuple[Placed, ...]:
    """The stock that a solid is cut from, where it stands off the bare wall, none where none was chosen; `kind` is that
    of its opening."""
    package = layout.package.at(solid.opening)
    element = package.element(solid.element)
    if solid.element in ("casing", "backband", "crossette"):
        casing = casing_of(kind, package)
        if solid.element != "backband":
            return _stock(layout, solid, casing, _parts(casing) - {"backband"})
        return _stock(layout, solid, casing, {"backband"}) or _stock(layout, solid, element or casing)
    if (solid.part is Part.CROWN or solid.part in CROWNING) and len(_parts(element)) > 1:
        return _stock(layout, solid, element, {solid.form})
    if solid.part is Part.BASE and package.element("shoe") is not None:
        return _stock(layout, solid, element, _parts(element) - {"shoe"})
    return _stock(layout, solid, element)


def _parts(element: Element | None) -> frozenset[str]:
    """The parts that an element's stock makes up."""
    assembly = element.assembly if element is not None else None
    return frozenset(p.part for p in assembly.pieces) if assembly is not None else frozenset()


def _stock(
    layout: WallLayout, solid: Solid, element: Element | None, parts: Set[str] | None = None
) -> tuple[Placed, ...]:
    """The stock of an element, or of some of its parts."""
    if element is None or element.assembly is None:
        return ()
    whole = element.assembly.pieces
    if element.element not in PANELLED:
        whole = layout.sections_at(solid.opening).get(element.element, whole)
    return tuple(p for p in whole if parts is None or p.part in parts)
