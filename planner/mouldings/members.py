"""The members of mouldings, and profiles as stacks of members. Lengths in inches."""

from collections.abc import Sequence
from dataclasses import dataclass

from planner.library import Library
from planner.library.trim_rows import Moulding
from planner.units import Unit, parse_length


@dataclass(frozen=True)
class Member:
    """One member of a profile, e.g. a fillet or a cyma recta: its height and how far it reaches from the wall [in].

    `moulding` is what it is, a row of the library; `greek` draws its curve as a conic instead of arcs of circles.
    """

    moulding: Moulding
    height: float
    projection: float
    greek: bool = False

    @property
    def kind(self) -> str:
        """The name of what it is, e.g. "cyma recta"."""
        return self.moulding.kind

    @property
    def curve(self) -> str:
        """The family of curves that its section is drawn by."""
        return self.moulding.curve

    @property
    def action(self) -> str:
        """What it does: supports, terminates, binds or separates."""
        return self.moulding.action


@dataclass(frozen=True)
class Profile:
    """A moulding that can be bought or made; its members run from the bottom up. Lengths in inches.

    `role` is what it is for (base, base cap, shoe, casing, backband, chair rail, crown, bed mould, bead, board, ...);
    `family` the design family it belongs to; `lengths` the stock lengths [in]; `price` per `unit`.
    """

    code: str
    role: str
    family: str
    height: float
    projection: float
    thickness: float
    members: tuple[Member, ...]
    lengths: tuple[float, ...] = ()
    price: float = 0.0
    unit: str = "ft"


def profile(members: Sequence[Member], role: str = "", code: str = "", family: str = "") -> Profile:
    """A profile as high and as deep as its members make it."""
    height, reach = sum(m.height for m in members), max((m.projection for m in members), default=0.0)
    return Profile(code, role, family, height, reach, reach, tuple(members))


def parse_members(text: str, library: Library, unit: Unit = "in") -> tuple[Member, ...]:
    """Members from a line such as ``fillet 1/4; cyma recta 1 1/4 x 1 1/8; fillet 1/4``, from the bottom up.

    Each is KIND HEIGHT x PROJECTION, with "greek" before the kind where wanted; the projection is the farthest reach
    from the wall. Where it is left out, a straight member reaches as far as the member below it, and a first fillet
    is as proud as it is high; a half round stands out from the member below by half its height, any other curve by
    its height.

    >>> from planner.library import standard
    >>> [m.projection for m in parse_members("fillet 1/4; cyma recta 1 1/4 x 1 1/8; fillet 1/4", standard())]
    [0.25, 1.125, 1.125]

    Raises
    ------
    ValueError : says which member is at fault and what would be right.
    """
    members: list[Member] = []
    for number, part in enumerate((p.strip() for p in text.split(";")), 1):
        if not part:
            continue
        try:
            members.append(_member(part, members[-1] if members else None, library, unit))
        except ValueError as fault:
            raise ValueError(f"member {number} ({part!r}): {fault}") from None
    if not members:
        raise ValueError("no members; write for example 'fillet 1/4; ovolo 1 x 3/4'")
    return tuple(members)


def dentils(member: Member) -> tuple[float, float, float]:
    """Width of a dentil, gap between two, and how deep the gap is cut [in].

    Two thirds of the height wide and one third apart, so that they stand one height from centre to centre (from
    memory of Ware's plates); cut as deep as wide, but never through.
    """
    width = member.height * 2 / 3
    return width, member.height / 3, min(width, member.projection * 0.8)


def _member(part: str, below: Member | None, library: Library, unit: Unit) -> Member:
    words = part.split()
    first = next((i for i, w in enumerate(words) if w[0].isdigit() or w[0] in ".-+¼½¾⅛⅜⅝⅞"), None)
    if not first:
        raise ValueError("write the kind, then its height, e.g. 'fillet 1/4'")
    greek = words[0].lower() == "greek" and first > 1
    moulding = library.moulding(" ".join(words[1 if greek else 0 : first]))
    sizes = [s.strip() for s in " ".join(words[first:]).replace("×", "x").replace("X", "x").split("x")]
    if len(sizes) > 2:
        raise ValueError("give height x projection, two sizes at most")
    lengths = [parse_length(s, unit) for s in sizes]
    if min(lengths) <= 0:
        raise ValueError("its sizes must be above zero")
    height = lengths[0]
    reach = lengths[1] if len(lengths) == 2 else _own_reach(moulding, height, below)
    return Member(moulding, height, reach, greek)


def _own_reach(kind: Moulding, height: float, below: Member | None) -> float:
    face = below.projection if below else 0.0
    if kind.curve == "half round":
        return face + height / 2
    if kind.curve not in ("straight", "corona", "beaded edge"):
        return face + height
    if below is None and kind.kind != "fillet":
        raise ValueError(f"a {kind.kind} at the bottom needs its projection too, e.g. '{kind.kind} 4 x 3/4'")
    return face or height


def bare_number(value: float) -> str:
    """A length as a bare number of inches, in sixty-fourths where it is one, else in decimals."""
    parts = round(value * 64)
    if abs(parts - value * 64) > 1e-6:
        return f"{value:.6g}"
    whole, rest = divmod(parts, 64)
    if not rest:
        return str(whole)
    below = 64
    while rest % 2 == 0:
        rest, below = rest // 2, below // 2
    return f"{whole} {rest}/{below}" if whole else f"{rest}/{below}"
