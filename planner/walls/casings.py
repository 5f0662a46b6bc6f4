"""Casings round an opening, as the pieces of wood that make them. All lengths are inches.

What they share with casings that have ears (planner.walls.crossettes) is the frame that is asked for.
"""

from dataclasses import dataclass

from planner.library.shop_rows import ButtedHead
from planner.walls.parts import Part, Side
from planner.walls.solids import Point, Solid, polygon

PROUD = 0.25
"""How far corner blocks stand before the casing [in]: blocks of 1 1/8 on casings of 7/8 (L. H. Gibson, 1889)."""

INWARD = 0.125
"""The most that a corner block reaches past its casing toward the opening [in]: half of what it is wider, for one 1/4
in wider (F. E. Kidder, Building Construction and Superintendence, section 168)."""


@dataclass(frozen=True)
class Frame:
    """The casing that is asked for: an aperture and what goes round it. All in inches.

    Parameters
    ----------
    x0, x1 : inner edges of the legs.
    y0 : where the legs stand: on the floor, a plinth block or a stool.
    y1 : lower edge of the head.
    width : of the casing on the wall, any backband included.
    band : width of the backband, 0 for none.
    kick : how far the ears stand out, 0 for none.
    drop : from the top of the head down to the underside of the ears.
    face, band_face : how far the casing and its backband stand off the wall.
    opening : the opening that it goes round.

    Raises
    ------
    ValueError : where no such casing can be made, with what would be right.
    """

    x0: float
    x1: float
    y0: float
    y1: float
    width: float
    band: float = 0.0
    kick: float = 0.0
    drop: float = 0.0
    face: float = 0.0
    band_face: float = 0.0
    opening: str = ""

    def __post_init__(self) -> None:
        if not self.x0 < self.x1 or not self.y0 < self.y1:
            raise ValueError(f"an opening is wider and higher than 0 in, not {self.x1 - self.x0} x {self.y1 - self.y0}")
        if self.width <= 0:
            raise ValueError(f"a casing is wider than 0 in, not {self.width}")
        if not 0 <= self.band <= self.width:
            raise ValueError(f"a backband of {self.band} in does not fit a casing of {self.width} in")
        if self.kick < 0:
            raise ValueError(f"ears kick out by 0 in or more, not {self.kick}")
        if self.kick and not 2 * self.mitred < self.drop < self.top - self.y0:
            raise ValueError(
                f"ears drop more than {2 * self.mitred} in, twice what is mitred, and less than the casing's "
                f"{self.top - self.y0} in, not {self.drop}"
            )
        if self.kick and self.drop < self.width:
            raise ValueError(f"ears drop at least the head's own {self.width} in, not {self.drop}")

    @property
    def mitred(self) -> float:
        """Width of the moulding that is mitred [in]: the backband, or the whole casing where it has none."""
        return self.band or self.width

    @property
    def flat(self) -> float:
        """Width of the casing inside its backband [in]."""
        return self.width - self.mitred

    @property
    def top(self) -> float:
        """Upper edge of the head above the floor [in]."""
        return self.y1 + self.width

    @property
    def underside(self) -> float:
        """Underside of the ears above the floor [in]."""
        return self.top - self.drop

    @property
    def outermost(self) -> str:
        """The element that is mitred: the backband, or the casing where it has none."""
        return "backband" if self.band else "casing"

    def stands(self, element: str) -> float:
        """How far an element of it stands off the wall [in]."""
        return self.band_face if element == "backband" else self.face


def plain(frame: Frame) -> tuple[Solid, ...]:
    """Legs and head mitred at 45 degrees, and the backband round them where there is one."""
    inside = mitred(frame, 0.0, frame.flat, "casing") if frame.flat else ()
    return inside + mitred(frame, frame.flat, frame.width, frame.outermost)


def butted(frame: Frame, rule: ButtedHead) -> tuple[Solid, ...]:
    """Square legs under a square head that runs over them, higher, thicker and a little longer than they."""
    x0, x1, w = frame.x0, frame.x1, frame.width
    over = head(frame, "casing", box(x0 - w - rule.past, x1 + w + rule.past, frame.y1, frame.top + rule.higher))
    return (
        *pair(frame, Part.LEG, "casing", box(x0 - w, x0, frame.y0, frame.y1)),
        over._replace(projection=frame.face + rule.thicker),
    )


def past_casing(width: float, block: float) -> tuple[float, float]:
    """How far a corner block reaches past a casing toward the opening and away from it [in], from both widths [in]."""
    wider = max(block - width, 0.0)
    inward = min(wider / 2, INWARD)
    return inward, wider - inward


def blocked_corners(
    frame: Frame, block: float, element: str = "overdoor", decorated: bool = False
) -> tuple[Solid, ...]:
    """Square legs and head that butt against two square corner blocks, so wide [in], no narrower than the casing.

    The blocks belong to an element: an overdoor, or what windows have for one; they may be turned or carved.
    """
    x0, x1, w = frame.x0, frame.x1, frame.width
    inward, outward = past_casing(w, block)
    inward = min(inward, (x1 - x0) / 4, (frame.y1 - frame.y0) / 2)
    inner, low = x0 + inward, frame.y1 - inward
    corner = box(x0 - w - outward, inner, low, frame.top + outward)
    blocks = pair(frame, Part.CORNER_BLOCK, element, corner)
    return (
        *pair(frame, Part.LEG, "casing", box(x0 - w, x0, frame.y0, low)),
        *(solid._replace(projection=frame.face + PROUD, decorated=decorated) for solid in blocks),
        head(frame, "casing", box(inner, x1 - inward, frame.y1, frame.top)),
    )


def mitred(frame: Frame, inner: float, outer: float, element: str) -> tuple[Solid, ...]:
    """Legs and head between two offsets from the aperture's edge [in], mitred at the corners."""
    x0, x1, y0, y1 = frame.x0, frame.x1, frame.y0, frame.y1
    leg = ((x0 - outer, y0), (x0 - inner, y0), (x0 - inner, y1 + inner), (x0 - outer, y1 + outer))
    top, bottom = y1 + outer, y1 + inner
    over = ((x0 - inner, bottom), (x1 + inner, bottom), (x1 + outer, top), (x0 - outer, top))
    return (*pair(frame, Part.LEG, element, leg), head(frame, element, over))


def pair(
    frame: Frame, part: Part, element: str, outline: tuple[Point, ...], behind: float = 0.0
) -> tuple[Solid, Solid]:
    """A piece on the left of an opening, from its corners [in], and its mirror image on the right."""
    axis, stands = frame.x0 + frame.x1, frame.stands(element)
    mirrored = tuple([(axis - x, y) for x, y in reversed(outline)])
    return (
        polygon(part, element, outline, stands, Side.LEFT, frame.opening, behind),
        polygon(part, element, mirrored, stands, Side.RIGHT, frame.opening, behind),
    )


def head(frame: Frame, element: str, outline: tuple[Point, ...]) -> Solid:
    """The head, from its corners counter-clockwise from lower left; it keeps them from the outer one on the left."""
    corners = outline[3:] + outline[:3]
    return polygon(Part.HEAD, element, corners, frame.stands(element), opening=frame.opening)


def box(x0: float, x1: float, y0: float, y1: float) -> tuple[Point, ...]:
    """Corners of a rectangle [in], counter-clockwise."""
    return ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
