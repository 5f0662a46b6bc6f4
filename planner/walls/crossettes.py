"""Casings round an opening, with and without ears, as the pieces of wood that make them. All lengths are inches.

Two ways to kick a casing out at its head: mitre the moulding round an ear, or let a block in behind the leg. Both cover
the same outline.
"""

from dataclasses import dataclass

from planner.library import table

Point = tuple[float, float]
MITRE, SQUARE = 45.0, 0.0


@dataclass(frozen=True)
class Piece:
    """One piece of wood, as it is seen on the wall.

    Parameters
    ----------
    name : what it is and on which side, e.g. "left leg".
    element : "casing", "backband" or "ear".
    outline : its corners on the wall, counter-clockwise; a moulding's begin outer, inner, inner, outer. [in]
    length : from long point to long point. [in]
    width : of the stock that it is cut from. [in]
    cuts : angles of its two ends, from the floor up or from left to right; 0 is square. [degrees]
    note : what the outline does not show.
    """

    name: str
    element: str
    outline: tuple[Point, ...]
    length: float
    width: float
    cuts: tuple[float, float]
    note: str = ""


@dataclass(frozen=True)
class Frame:
    """The casing that is asked for: an aperture and what goes round it. All in inches.

    Parameters
    ----------
    x0, x1 : inner edges of the legs.
    y0 : where the legs stand: on the floor, a plinth block or a stool.
    y1 : lower edge of the head.
    width : of the casing on the wall, any backband included.
    band : width of the moulding that is mitred, the backband or the whole casing.
    kick : how far the ears stand out, 0 for none.
    drop : from the top of the head down to the underside of the ears.

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


def kick(asked: float) -> float:
    """How far ears stand out [in]: what is asked, brought into what practice holds (library/openings_trim.toml)."""
    rule = table("openings_trim")["crossette"]
    return min(max(asked, rule["kick_least"]), rule["kick_most"])


def drop(opening_width: float, mitred: float) -> float:
    """How far ears reach down from the top of the head.

    Parameters
    ----------
    opening_width : of the opening. [in]
    mitred : width of the moulding that is mitred round the ear. [in]

    Returns
    -------
    The drop: a third of the opening's width, at least 12 in, and so much that something straight is left between the
    mitres. [in]

    References
    ----------
    Common practice: about 12 in, more on a larger opening.

    Examples
    --------
    >>> drop(32, 1.25), drop(60, 1.25), drop(32, 6.0)
    (12.0, 20.0, 14.0)
    """
    rule = table("openings_trim")["crossette"]
    return max(rule["drop_least"], rule["drop_of_width"] * opening_width, 2 * mitred + rule["upright_least"])


def plain(frame: Frame) -> tuple[Piece, ...]:
    """Legs and head mitred at 45 degrees, and the backband round them where there is one."""
    pieces = _mitred(frame, 0.0, frame.flat, "casing") if frame.flat else ()
    return pieces + _mitred(frame, frame.flat, frame.width, "backband" if frame.band else "casing")


def butted(frame: Frame) -> tuple[Piece, ...]:
    """Square legs under a square head that runs over them."""
    x0, x1, w = frame.x0, frame.x1, frame.width
    leg = _box(x0 - w, x0, frame.y0, frame.y1)
    left = Piece("left leg", "casing", leg, frame.y1 - frame.y0, w, (SQUARE, SQUARE))
    head = _over(_box(x0 - w, x1 + w, frame.y1, frame.top))
    return (*_both(left, frame), Piece("head", "casing", head, x1 - x0 + 2 * w, w, (SQUARE, SQUARE)))


def blocked_corners(frame: Frame) -> tuple[Piece, ...]:
    """Square legs and head between two corner blocks as wide as the casing."""
    x0, x1, w = frame.x0, frame.x1, frame.width
    leg = _box(x0 - w, x0, frame.y0, frame.y1)
    block = _box(x0 - w, x0, frame.y1, frame.top)
    return (
        *_both(Piece("left leg", "casing", leg, frame.y1 - frame.y0, w, (SQUARE, SQUARE)), frame),
        *_both(Piece("left corner block", "corner block", block, w, w, (SQUARE, SQUARE)), frame),
        Piece("head", "casing", _over(_box(x0, x1, frame.y1, frame.top)), x1 - x0, w, (SQUARE, SQUARE)),
    )


def eared(frame: Frame) -> tuple[Piece, ...]:
    """A crossette whose moulding is mitred round an ear.

    The ear is a flat strip as wide as the kick. A backband passes outside it, the casing's flat running straight up
    inside; a casing in one piece is itself mitred round it, and the ear then stands beside the opening.
    """
    m, k = frame.mitred, frame.kick
    inner, outer = frame.x0 - frame.flat, frame.x0 - frame.width
    low, high = frame.underside, frame.top
    element = "backband" if frame.band else "casing"
    leg = ((outer, frame.y0), (inner, frame.y0), (inner, low + m), (outer, low))
    under = ((outer, low), (inner, low + m), (inner - k, low + m), (outer - k, low))
    upright = ((outer - k, low), (inner - k, low + m), (inner - k, high - m), (outer - k, high))
    ear = _box(inner - k, inner, low + m, high - m)
    right_inner, right_outer = frame.x1 + frame.flat, frame.x1 + frame.width
    head = _over(((inner - k, high - m), (right_inner + k, high - m), (right_outer + k, high), (outer - k, high)))
    return (
        *(_mitred(frame, 0.0, frame.flat, "casing") if frame.flat else ()),
        *_both(Piece("left ear", "ear", ear, frame.drop - 2 * m, k, (SQUARE, SQUARE)), frame),
        *_both(Piece("left leg", element, leg, low + m - frame.y0, m, (SQUARE, MITRE)), frame),
        *_both(
            Piece("left return under the ear", element, under, k + m, m, (MITRE, MITRE), "both mitres parallel"), frame
        ),
        *_both(Piece("left upright of the ear", element, upright, frame.drop, m, (MITRE, MITRE)), frame),
        Piece("head", element, head, frame.x1 - frame.x0 + 2 * (frame.width + k), m, (MITRE, MITRE)),
    )


def kicked(frame: Frame) -> tuple[Piece, ...]:
    """A crossette made by a block let in behind the upper part of the leg, which it kicks out.

    The leg is cut square at the ear's underside; its upper part moves out by the kick, the block fills the step beside
    the opening and laps behind the leg in a rebate.
    """
    w, k, x0, x1 = frame.width, frame.kick, frame.x0, frame.x1
    low, lap = frame.underside, table("openings_trim")["crossette"]["lap"]
    leg = _box(x0 - w, x0, frame.y0, low)
    upper = ((x0 - w - k, low), (x0 - k, low), (x0 - k, frame.y1), (x0 - w - k, frame.top))
    block = _box(x0 - k, x0, low, frame.y1)
    head = _over(((x0 - k, frame.y1), (x1 + k, frame.y1), (x1 + w + k, frame.top), (x0 - w - k, frame.top)))
    pieces = [
        Piece("left leg", "casing", leg, low - frame.y0, w, (SQUARE, SQUARE)),
        Piece("left upper leg", "casing", upper, frame.drop, w, (SQUARE, MITRE), "return its profile at the foot"),
    ]
    if frame.drop > w:
        note = f"let in behind the leg by {lap:g} in, rebated"
        pieces.append(Piece("left block", "ear", block, frame.drop - w, k + lap, (SQUARE, SQUARE), note))
    return (
        *(side for piece in pieces for side in _both(piece, frame)),
        Piece("head", "casing", head, x1 - x0 + 2 * (w + k), w, (MITRE, MITRE)),
    )


def _mitred(frame: Frame, inner: float, outer: float, element: str) -> tuple[Piece, ...]:
    """Legs and head between two offsets from the aperture's edge [in], mitred at the corners."""
    x0, x1, y0, y1 = frame.x0, frame.x1, frame.y0, frame.y1
    leg = ((x0 - outer, y0), (x0 - inner, y0), (x0 - inner, y1 + inner), (x0 - outer, y1 + outer))
    top, bottom = y1 + outer, y1 + inner
    head = _over(((x0 - inner, bottom), (x1 + inner, bottom), (x1 + outer, top), (x0 - outer, top)))
    what = " backband" if element == "backband" else ""
    width = outer - inner
    left = Piece(f"left leg{what}", element, leg, y1 + outer - y0, width, (SQUARE, MITRE))
    return (
        *_both(left, frame),
        Piece(f"head{what}", element, head, x1 - x0 + 2 * outer, width, (MITRE, MITRE)),
    )


def _both(piece: Piece, frame: Frame) -> tuple[Piece, Piece]:
    """A piece of the left side and its mirror image on the right."""
    axis = frame.x0 + frame.x1
    mirrored = tuple((axis - x, y) for x, y in reversed(piece.outline))
    cuts = piece.cuts[::-1] if "return" in piece.name else piece.cuts
    name = piece.name.replace("left", "right", 1)
    return piece, Piece(name, piece.element, mirrored, piece.length, piece.width, cuts, piece.note)


def _over(outline: tuple[Point, ...]) -> tuple[Point, ...]:
    """The corners of a head, counter-clockwise from lower left, turned to begin with the outer one on the left."""
    return outline[3:] + outline[:3]


def _box(x0: float, x1: float, y0: float, y1: float) -> tuple[Point, ...]:
    """Corners of a rectangle [in], counter-clockwise."""
    return ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
