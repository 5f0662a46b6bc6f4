"""The outlines of profiles, as exact curves.

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

from collections.abc import Sequence
from math import atan2, degrees

from shapely.geometry import Polygon

from planner.mouldings import curves
from planner.mouldings.curves import TOLERANCE, Arc, EllipseArc, Line, Placement, Point, Segment, polyline
from planner.mouldings.members import Member, Profile

HAIR = 1e-6
"""Lengths nearer than this [in] are taken for the same."""

HIDDEN_FOOT = frozenset({"base", "shoe", "pedestal base"})
"""Roles whose lower edge stands on something and takes no paint."""
STANDING = frozenset({"base", "base cap", "shoe"})
"""Roles that lean on the wall and turn their curve up: one that is a curve alone falls back to the wall."""
HIDDEN_HEAD = frozenset({"crown", "cornice", "shoe"})
"""Roles whose upper edge lies against something (a ceiling, or a shoe's board) and takes no paint."""


def outline(profile: Profile) -> tuple[Segment, ...]:
    """The section as a closed chain of exact curves, from the wall's foot (0, 0) along the bottom and up the face.

    The wall's face is x = 0. The chain runs against the clock: its first run lies along the foot and its last down
    the wall.
    """
    chain = face_of(profile, 0, len(profile.members))
    if not chain:
        return ()
    at = chain[-1].end
    return (*chain, *polyline([at, (0.0, at[1]), (0.0, 0.0)]))


def face_of(profile: Profile, first: int, last: int, under: bool = True) -> tuple[Segment, ...]:
    """The face of the members from `first` to before `last`, an open chain from the foot up, as they show in the whole.

    With `under` it begins at the head of the member below, or on the wall, and so has the underside of the first.
    """
    members = tuple(m for m in profile.members if m.height > 0)
    chain: list[Segment] = []
    at: Point = (0.0, 0.0)
    height = 0.0
    for i, (member, (foot, head)) in enumerate(zip(members, faces(members, profile.role in STANDING), strict=True)):
        if first <= i < last:
            chain += _step(member, at, (foot, height)) if under or i > first else ()
            chain += _face(member, foot, head, height, first=not height)
        height += member.height
        at = (head, height)
    return tuple(chain)


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
            or (profile.role in HIDDEN_HEAD and abs(s.start[1] - height) + abs(s.end[1] - height) < HAIR)
        ):
            hidden += curves.length([s])
    return curves.length(chain) - hidden


def polygon(profile: Profile, tolerance: float = TOLERANCE) -> Polygon:
    """The section as a shapely polygon, no farther than `tolerance` [in] off the curves."""
    return Polygon(curves.points(outline(profile), tolerance)[1:])


def _ends(member: Member, below: float | None, above: float | None, standing: bool) -> tuple[float, float]:
    curve, reach = member.curve, member.projection
    if curve == "half round":
        return (reach - member.height / 2,) * 2
    if curve in ("straight", "corona"):
        return reach, reach
    if curve == "beaded edge":
        spring = reach - (member.height - _quirk(member)) / 2
        return (spring, reach) if below is None else (reach, spring)
    falls_to = above if above is not None and above < reach - HAIR else None
    if below is None and above is None and standing:
        return reach, 0.0
    if below is None:
        return (0.0, reach) if falls_to is None else (reach, falls_to)
    if below < reach - HAIR:
        return below, reach
    if falls_to is not None:
        return reach, falls_to
    return (reach, 0.0) if above is None else (reach, reach)


def _foot(member: Member, below: Member) -> float:
    """Where the member above takes over from `below`; a curve takes over where its neighbour leaves off."""
    curve = member.curve
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
    if member.kind != "corona" or overhang <= HAIR:
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
    top, curve = height + member.height, member.curve
    if curve == "half round":
        return [Arc((foot, height + member.height / 2), member.height / 2, 270.0, 90.0)]
    if curve == "beaded edge":
        return _beaded(member, height, first)
    if curve in ("straight", "corona") or (abs(head - foot) < HAIR and curve != "hollow"):
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


def _bevel(w: float, h: float, greek: bool) -> list[Segment]:
    """A straight slope from (0, 0) to (w, h)."""
    return [Line((0.0, 0.0), (w, h))]


_SHAPES = {
    "bevel": _bevel,
    "convex": _convex,
    "concave": _concave,
    "recta": _recta,
    "reversa": _reversa,
    "hollow": _hollow,
}
