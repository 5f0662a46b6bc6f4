"""The classical vocabulary of mouldings as exact curves, and profiles as stacks of members.

How a profile is read
---------------------
Members run from the bottom up (for a casing: from the opening outwards). A member's projection is its farthest reach
from the wall, not its own run.

* A straight member (fillet, fascia, corona ...) stands plumb at its projection. A half round (bead, astragal, torus)
  is a semicircle whose crown is at its projection.
* A curve that runs between two faces (ovolo, cavetto, cymas, conge, scotia) has its projection at one end. Where the
  face below lies farther in, it rises outwards from that face; where the face below lies as far out or farther, it
  falls back from its projection to the face above, or to the wall where nothing is above. A first member rises from
  the wall, unless the member above lies farther in; one alone falls back to it in what stands on a floor (STANDING).

Roman curves are arcs of circles, Greek ones quarter ellipses (R. G. Hatfield, art. 310-311). Where a Roman ovolo or
cavetto is not as high as it is deep, it is the one arc through both its ends that keeps its tangent along its longer
side. A Roman cyma is two equal arcs with the tangents that Ware gives its ends; where arcs alone would bulge out of
its box (a recta higher than deep, a reversa deeper than high) they are quarter circles joined by a straight flank.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache
from itertools import pairwise
from math import atan2, degrees

from shapely.geometry import Polygon

from planner.library import table
from planner.mouldings import curves
from planner.mouldings.curves import TOLERANCE, Arc, EllipseArc, Line, Placement, Point, Segment, polyline
from planner.units import parse_length

ACTIONS = ("supports", "terminates", "binds", "separates")
CLOSE = 1e-6
"""Lengths nearer than this [in] are taken for the same."""
SHOP = 1 / 32 + CLOSE
"""What a sum of members may miss a height by [in]: half the shop's sixteenth."""

HIDDEN_FOOT = frozenset({"base", "shoe", "pedestal base"})
"""Roles whose lower edge stands on something and takes no paint."""
STANDING = frozenset({"base", "base cap", "shoe"})
"""Roles that lean on the wall and turn their curve up: one that is a curve alone falls back to the wall."""
HIDDEN_HEAD = frozenset({"crown", "cornice", "shoe"})
"""Roles whose upper edge lies against something (a ceiling, or a shoe's board) and takes no paint."""


@dataclass(frozen=True)
class Member:
    """One member of a profile, e.g. a fillet or a cyma recta: its height and how far it reaches from the wall [in].

    `greek` draws its curve as a conic instead of arcs of circles.
    """

    kind: str
    height: float
    projection: float
    greek: bool = False


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


@dataclass(frozen=True)
class Kind:
    """A row of library/mouldings.toml: what a member of this kind does, and the family its curve belongs to."""

    kind: str
    action: str
    curve: str
    source: str
    also: tuple[str, ...] = ()


@cache
def kinds() -> dict[str, Kind]:
    """Every kind of member by name."""
    return {r["kind"]: Kind(**{**r, "also": tuple(r.get("also", ()))}) for r in table("mouldings")["moulding"]}


@cache
def kind_named(name: str) -> Kind:
    """The kind of that name, or of that other name of the trade.

    Raises
    ------
    ValueError : no such kind; the message gives the nearest.
    """
    wanted = " ".join(name.lower().split())
    if wanted in kinds():
        return kinds()[wanted]
    if wanted in _synonyms():
        return _synonyms()[wanted]
    near = get_close_matches(wanted, [*kinds(), *_synonyms()], 3, 0.6)
    hint = f"did you mean {' or '.join(near)}?" if near else f"known are {', '.join(kinds())}"
    raise ValueError(f"no moulding is called {name.strip()!r}; {hint}")


def action(member: Member) -> str:
    """What a member does: supports, terminates, binds or separates."""
    return kind_named(member.kind).action


def profile(members: Sequence[Member], role: str = "", code: str = "", family: str = "") -> Profile:
    """A profile as high and as deep as its members make it."""
    height, reach = sum(m.height for m in members), max((m.projection for m in members), default=0.0)
    return Profile(code, role, family, height, reach, reach, tuple(members))


def parse_members(text: str, unit: str = "in") -> tuple[Member, ...]:
    """Members from a line such as ``fillet 1/4; cyma recta 1 1/4 x 1 1/8; fillet 1/4``, from the bottom up.

    Each is KIND HEIGHT x PROJECTION, with "greek" before the kind where wanted; the projection is the farthest reach
    from the wall. Where it is left out, a straight member reaches as far as the member below it, and a first fillet
    is as proud as it is high; a half round stands out from the member below by half its height, any other curve by
    its height.

    >>> [m.projection for m in parse_members("fillet 1/4; cyma recta 1 1/4 x 1 1/8; fillet 1/4")]
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
            members.append(_member(part, members[-1] if members else None, unit))
        except ValueError as fault:
            raise ValueError(f"member {number} ({part!r}): {fault}") from None
    if not members:
        raise ValueError("no members; write for example 'fillet 1/4; ovolo 1 x 3/4'")
    return tuple(members)


def format_members(members: Sequence[Member]) -> str:
    """Members as parse_members reads them, every projection written out.

    >>> format_members(parse_members("fillet 1/4; greek ovolo 1 x 3/4"))
    'fillet 1/4 x 1/4; greek ovolo 1 x 3/4'
    """
    return "; ".join(f"{'greek ' * m.greek}{m.kind} {_number(m.height)} x {_number(m.projection)}" for m in members)


def dentils(member: Member) -> tuple[float, float, float]:
    """Width of a dentil, gap between two, and how deep the gap is cut [in].

    Two thirds of the height wide and one third apart, so that they stand one height from centre to centre (from
    memory of Ware's plates); cut as deep as wide, but never through.
    """
    width = member.height * 2 / 3
    return width, member.height / 3, min(width, member.projection * 0.8)


# Outlines


def outline(profile: Profile) -> tuple[Segment, ...]:
    """The section as a closed chain of exact curves, from the wall's foot (0, 0) along the bottom and up the face.

    The wall's face is x = 0. The chain runs against the clock: its first run lies along the foot and its last down
    the wall.
    """
    members = tuple(m for m in profile.members if m.height > 0)
    if not members:
        return ()
    chain: list[Segment] = []
    at: Point = (0.0, 0.0)
    height = 0.0
    for member, (foot, head) in zip(members, faces(members, profile.role in STANDING), strict=True):
        chain += _step(member, at, (foot, height))
        chain += _face(member, foot, head, height, first=not height)
        height += member.height
        at = (head, height)
    return (*chain, *polyline([at, (0.0, height), (0.0, 0.0)]))


def member_outlines(profile: Profile) -> tuple[tuple[Segment, ...], ...]:
    """The face of each member alone, an open chain from its foot to its head."""
    members, found, height = profile.members, [], 0.0
    for member, (foot, head) in zip(members, faces(members, profile.role in STANDING), strict=True):
        found.append(tuple(_face(member, foot, head, height, first=not height)))
        height += member.height
    return tuple(found)


def faces(members: Sequence[Member], standing: bool = False) -> tuple[tuple[float, float], ...]:
    """Where each member's face begins at its foot and ends at its head, out from the wall [in].

    `standing` says that the profile's role is one of STANDING.
    """
    found: list[tuple[float, float]] = []
    for i, member in enumerate(members):
        below = found[-1][1] if found else None
        above = _foot(members[i + 1], member) if i + 1 < len(members) else None
        found.append(_ends(member, below, above, standing))
    return tuple(found)


def area(profile: Profile) -> float:
    """Area of the section [sq in], exact."""
    return curves.area(outline(profile))


def girth(profile: Profile) -> float:
    """Length of the section's edge that shows and takes paint [in], exact.

    The back never shows; neither does the foot of what stands on the floor nor the head of what lies on a ceiling.
    """
    chain, height = outline(profile), sum(m.height for m in profile.members)
    hidden = 0.0
    for s in chain:
        if isinstance(s, Line) and (
            (s.start[0] == s.end[0] == 0.0)
            or (profile.role in HIDDEN_FOOT and s.start[1] == s.end[1] == 0.0)
            or (profile.role in HIDDEN_HEAD and abs(s.start[1] - height) + abs(s.end[1] - height) < CLOSE)
        ):
            hidden += curves.length([s])
    return curves.length(chain) - hidden


def polygon(profile: Profile, tolerance: float = TOLERANCE) -> Polygon:
    """The section as a shapely polygon, no farther than `tolerance` [in] off the curves."""
    return Polygon(curves.points(outline(profile), tolerance)[1:])


# Faults


def faults(profile: Profile) -> tuple[str, ...]:
    """Everything wrong with a profile, each in words with the rule's source; empty where nothing is."""
    if not profile.members:
        return ("the profile has no members; list them from the bottom up, e.g. 'fillet 1/4; ovolo 1 x 3/4'",)
    broken = [f for i, m in enumerate(profile.members) for f in _size_faults(i, m)]
    if broken:
        return tuple(broken)
    return (*_sum_faults(profile), *_run_faults(profile.members), *_rule_faults(profile))


def _size_faults(index: int, m: Member) -> list[str]:
    found = []
    try:
        kind = kind_named(m.kind)
    except ValueError as fault:
        return [f"member {index + 1}: {fault}"]
    for what, value in (("height", m.height), ("projection", m.projection)):
        if not 0 < value < float("inf"):
            found.append(f"member {index + 1}, {m.kind}: its {what} is {value:g} in; it must be above zero")
    if not found and kind.curve == "half round" and m.projection < m.height / 2 - CLOSE:
        found.append(
            f"member {index + 1}, {m.kind}: a semicircle {_number(m.height)} high reaches at least "
            f"{_number(m.height / 2)} out, not {_number(m.projection)} (Hatfield, art. 311)"
        )
    return found


def _sum_faults(p: Profile) -> list[str]:
    total, reach = sum(m.height for m in p.members), max(m.projection for m in p.members)
    found = []
    if abs(total - p.height) > SHOP:
        found.append(f"the members sum to {_number(total)} in, but the height is given as {_number(p.height)} in")
    if abs(reach - p.projection) > SHOP:
        found.append(
            f"the members reach {_number(reach)} in, but the projection is given as {_number(p.projection)} in"
        )
    return found


def _run_faults(members: Sequence[Member]) -> list[str]:
    found = []
    for i, (m, (foot, head)) in enumerate(zip(members, faces(members), strict=True)):
        curve = kind_named(m.kind).curve
        if curve in ("convex", "concave", "recta", "reversa") and abs(head - foot) < CLOSE:
            found.append(
                f"member {i + 1}, {m.kind}: the faces beside it lie equally far out, so it has nowhere to run; "
                "change its projection or a neighbour's"
            )
        if curve == "hollow" and min(foot, head) - (m.height - abs(head - foot)) / 2 < -CLOSE:
            found.append(
                f"member {i + 1}, {m.kind}: its hollow would cut through to the wall; move the members beside it out"
            )
    return found


def _rule_faults(p: Profile) -> list[str]:
    members, found = p.members, []
    rising = [head > foot for foot, head in faces(members, p.role in STANDING)]
    for i, m in enumerate(members):
        load = [a for a in members[i + 1 :] if a.projection > m.projection + _allowance(members, i, a)]
        if action(m) == "terminates" and rising[i] and load:
            found.append(
                f"the {m.kind} (member {i + 1}) is weak at its top and terminates a profile, but carries a "
                f"{load[0].kind} that projects beyond it; an ovolo or a cyma reversa supports (Hatfield, art. 310)"
            )
    for i, (low, high) in enumerate(pairwise(members)):
        if not {action(low), action(high)} & {"binds"} and "dentil band" not in (low.kind, high.kind):
            found.append(
                f"the {low.kind} (member {i + 1}) and the {high.kind} above it meet with no fillet to part them "
                "(the fillet binds: Hatfield, art. 310)"
            )
    return found + _cornice_faults(p)


def _allowance(members: Sequence[Member], index: int, above: Member) -> float:
    """How far a member may pass a terminating one: its own fillet, next above it, by the fillet's height."""
    own = index + 1 < len(members) and members[index + 1] is above and above.kind == "fillet"
    return above.height + CLOSE if own else CLOSE


def _cornice_faults(p: Profile) -> list[str]:
    coronas = [i for i, m in enumerate(p.members) if m.kind == "corona"]
    if p.role not in ("cornice", "entablature") or not coronas:
        return []
    at = coronas[-1]
    bed = [m for m in p.members[:at] if action(m) == "supports" and m.projection < p.members[at].projection]
    if bed:
        return []
    return [
        f"the corona (member {at + 1}) has no bed mould below it to support it; "
        "an ovolo, a cyma reversa or dentils belong there (Hatfield, art. 310)"
    ]


# Reading and writing members


def _member(part: str, below: Member | None, unit: str) -> Member:
    words = part.split()
    first = next((i for i, w in enumerate(words) if w[0].isdigit() or w[0] in ".-+¼½¾⅛⅜⅝⅞"), None)
    if not first:
        raise ValueError("write the kind, then its height, e.g. 'fillet 1/4'")
    greek = words[0].lower() == "greek" and first > 1
    kind = kind_named(" ".join(words[1 if greek else 0 : first]))
    sizes = [s.strip() for s in " ".join(words[first:]).replace("×", "x").replace("X", "x").split("x")]
    if len(sizes) > 2:
        raise ValueError("give height x projection, two sizes at most")
    lengths = [parse_length(s, unit) for s in sizes]
    if min(lengths) <= 0:
        raise ValueError("its sizes must be above zero")
    height = lengths[0]
    reach = lengths[1] if len(lengths) == 2 else _own_reach(kind, height, below)
    return Member(kind.kind, height, reach, greek)


def _own_reach(kind: Kind, height: float, below: Member | None) -> float:
    face = below.projection if below else 0.0
    if kind.curve == "half round":
        return face + height / 2
    if kind.curve not in ("straight", "corona", "beaded edge"):
        return face + height
    if below is None and kind.kind != "fillet":
        raise ValueError(f"a {kind.kind} at the bottom needs its projection too, e.g. '{kind.kind} 4 x 3/4'")
    return face or height


def _number(value: float) -> str:
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


@cache
def _synonyms() -> dict[str, Kind]:
    return {name: kind for kind in kinds().values() for name in kind.also}


# The curves themselves


def _ends(member: Member, below: float | None, above: float | None, standing: bool) -> tuple[float, float]:
    curve, reach = kind_named(member.kind).curve, member.projection
    if curve == "half round":
        return (reach - member.height / 2,) * 2
    if curve in ("straight", "corona"):
        return reach, reach
    if curve == "beaded edge":
        spring = reach - (member.height - _quirk(member)) / 2
        return (spring, reach) if below is None else (reach, spring)
    falls_to = above if above is not None and above < reach - CLOSE else None
    if below is None and above is None and standing:
        return reach, 0.0
    if below is None:
        return (0.0, reach) if falls_to is None else (reach, falls_to)
    if below < reach - CLOSE:
        return below, reach
    if falls_to is not None:
        return reach, falls_to
    return (reach, 0.0) if above is None else (reach, reach)


def _foot(member: Member, below: Member) -> float:
    """Where the member above takes over from `below`; a curve takes over where its neighbour leaves off."""
    curve = kind_named(member.kind).curve
    if curve == "half round":
        return member.projection - member.height / 2
    return (
        member.projection
        if curve in ("straight", "corona", "beaded edge")
        else min(member.projection, below.projection)
    )


def _step(member: Member, at: Point, to: Point) -> list[Segment]:
    """The level run from one member's head to the next one's foot, with the drip under a corona."""
    overhang = to[0] - at[0]
    if member.kind != "corona" or overhang <= CLOSE:
        return list(polyline([at, to]))
    radius = drip(member, overhang)
    middle = to[0] - 3 * radius
    groove = Arc((middle, to[1]), radius, 180.0, 0.0, ccw=False)
    return [Line(at, groove.start), groove, Line(groove.end, to)]


def drip(corona: Member, overhang: float) -> float:
    """Radius of the half-round throat cut under a corona [in]; it lies two radii behind the face."""
    return min(corona.height, overhang) / 8


def _face(member: Member, foot: float, head: float, height: float, first: bool) -> list[Segment]:
    """The member's own face, from its foot to its head."""
    top, curve = height + member.height, kind_named(member.kind).curve
    if curve == "half round":
        return [Arc((foot, height + member.height / 2), member.height / 2, 270.0, 90.0)]
    if curve == "beaded edge":
        return _beaded(member, height, first)
    if curve in ("straight", "corona") or (abs(head - foot) < CLOSE and curve != "hollow"):
        return [Line((foot, height), (head, top))]
    run = abs(head - foot)
    chain = _SHAPES[curve](run, member.height, member.greek)
    if head >= foot:
        return list(Placement(foot, height).segments(chain))
    return list(curves.reverse(Placement(head, top, rotation=180.0, mirror=True).segments(chain)))


def _beaded(member: Member, height: float, first: bool) -> list[Segment]:
    """A bead flush with the face, with a quirk between it and the rest."""
    radius = (member.height - _quirk(member)) / 2
    back, low = member.projection - radius, height if first else height + _quirk(member)
    bead = Arc((back, low + radius), radius, 270.0, 90.0)
    if first:
        return [
            bead,
            *polyline([bead.end, (back, height + member.height), (member.projection, height + member.height)]),
        ]
    return [*polyline([(member.projection, height), (back, height), (back, low)]), bead]


def _quirk(member: Member) -> float:
    """Height of the quirk of a beaded edge [in]: a fifth of the whole."""
    return member.height / 5


def _convex(w: float, h: float, greek: bool) -> list[Segment]:
    """Ovolo from (0, 0) out and up to (w, h)."""
    if greek:
        return [EllipseArc((0.0, h), w, h, 270.0, 360.0)]
    if h >= w:
        r = (w * w + h * h) / (2 * w)
        return [Arc((w - r, h), r, 360.0 - degrees(atan2(h, r - w)), 360.0)]
    r = (w * w + h * h) / (2 * h)
    return [Arc((0.0, r), r, 270.0, 270.0 + degrees(atan2(w, r - h)))]


def _concave(w: float, h: float, greek: bool) -> list[Segment]:
    """Cavetto from (0, 0) up and out to (w, h): the ovolo turned half round."""
    return list(curves.reverse(Placement(w, h, rotation=180.0).segments(_convex(w, h, greek))))


def _recta(w: float, h: float, greek: bool) -> list[Segment]:
    """Cyma recta from (0, 0) to (w, h): convex below, concave above, level at both ends."""
    half = h / 2 if greek else min(w, h) / 2
    low, high = _convex(w / 2, half, greek), Placement(w / 2, h - half).segments(_concave(w / 2, half, greek))
    return [*low, *polyline([(w / 2, half), (w / 2, h - half)]), *high]


def _reversa(w: float, h: float, greek: bool) -> list[Segment]:
    """Cyma reversa from (0, 0) to (w, h): concave below, convex above, plumb at both ends."""
    half = w / 2 if greek else min(w, h) / 2
    low, high = _concave(half, h / 2, greek), Placement(w - half, h / 2).segments(_convex(half, h / 2, greek))
    return [*low, *polyline([(half, h / 2), (w - half, h / 2)]), *high]


def _hollow(w: float, h: float, greek: bool) -> list[Segment]:
    """Scotia from its inner lip (0, 0) to its outer one (w, h): two quarters that meet plumb at the deepest point."""
    if w >= h:
        return _concave(w, h, greek)
    deep = (h - w) / 2
    if greek:
        low, high = h / 3, 2 * h / 3
        return [
            EllipseArc((0.0, low), deep, low, 270.0, 180.0, ccw=False),
            EllipseArc((w, low), deep + w, high, 180.0, 90.0, ccw=False),
        ]
    return [
        Arc((0.0, deep), deep, 270.0, 180.0, ccw=False),
        Arc((w, deep), deep + w, 180.0, 90.0, ccw=False),
    ]


_SHAPES = {"convex": _convex, "concave": _concave, "recta": _recta, "reversa": _reversa, "hollow": _hollow}
