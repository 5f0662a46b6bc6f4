"""Mouldings that run along a wall, or round an opening's head, by their profiles, as the viewer has them. In inches."""

from collections.abc import Callable, Iterator, Sequence
from itertools import groupby, pairwise
from math import radians, tan

from planner.drawings.before_eye import Edge, Facet, Spot, Standing, Step
from planner.drawings.faces import Face
from planner.drawings.profiles import between
from planner.drawings.relief import face_of, foot_of, level_ends
from planner.mouldings.curves import Point
from planner.walls.layout import WallLayout
from planner.walls.parts import CROWNING
from planner.walls.solids import TOUCH, Solid

HAIR = 1e-6

End = Callable[[float, float], float]
"""Where a moulding ends along the wall, by how far off the wall and how high it is [in]."""


def profile(s: Solid, layout: WallLayout) -> list[Point]:
    """What shows of a moulding's profile from its lower to its upper edge: off the wall, above the floor [in].

    A plain board where no profile is known.
    """
    foot, seen = foot_of(s, layout), face_of(layout, s)
    found = [(x, y + foot) for x, y in between(seen.coarse, s.y0 - foot, s.y1 - foot)] if seen.points else []
    while s.part in CROWNING and len(found) > 1 and found[1][1] - found[0][1] < HAIR:
        found.pop(0)  # what shows below it is drawn with the part below
    while len(found) > 1 and found[-1][1] - found[-2][1] < HAIR:
        found.pop()
    return found if len(found) > 1 else [(s.projection, s.y0), (s.projection, s.y1)]


def swept(s: Solid, layout: WallLayout, view: Standing) -> Step:
    """A moulding from end to end: mitred in corners, returned upon the wall at the ends of what crowns an opening."""
    chain = profile(s, layout)
    left, right = (_end(s, layout, chain, at_right) for at_right in (False, True))
    facets = list(_returns(chain, left, right, view)) if s.part in CROWNING else list(_caps(s, chain, layout, view))
    quads = [_quad(a, b, left, right) for a, b in pairwise(chain) if a != b]
    fills = _tones(s, layout, chain)
    order = sorted(
        (n for n, quad in enumerate(quads) if view.looks(*quad[:3])),
        key=lambda n: -abs((quads[n][0][1] + quads[n][2][1]) / 2 - view.eye[1]),
    )
    facets += [Facet(quads[n], fills[n]) for n in order]
    return Step(facets, list(_edges(s, chain, layout, left, right, view)))


def _quad(a: Point, b: Point, left: End, right: End) -> tuple[Spot, ...]:
    """The face between two points of a profile, one above the other, from end to end."""
    (p, y), (q, z) = a, b
    return (left(p, y), y, p), (right(p, y), y, p), (right(q, z), z, q), (left(q, z), z, q)


def _end(s: Solid, layout: WallLayout, chain: Sequence[Point], at_right: bool) -> End:
    """Where a moulding ends on one side."""
    inward = -1.0 if at_right else 1.0
    middle = (s.x0 + s.x1) / 2
    if s.part in CROWNING:
        reach, outer = max(p for p, _ in chain), s.x1 if at_right else s.x0
        return lambda p, _: outer + inward * min(reach - p, abs(middle - outer))
    corner, angle = layout.length if at_right else 0.0, layout.corners[at_right]
    x = s.x1 if at_right else s.x0
    if abs(x - corner) > TOUCH or angle is None or len(s.outline) == 4:
        return lambda _, y: level_ends(s, y)[at_right]
    lean = 0.0 if abs(angle - 180.0) < 1.0 else 1.0 / tan(radians(angle) / 2)
    return lambda p, _: x + inward * min(p * lean, abs(middle - x))


def _mitred(s: Solid, layout: WallLayout, at_right: bool) -> bool:
    """Whether a run ends in a corner of the room, where the next wall's goes on."""
    x, corner = (s.x1, layout.length) if at_right else (s.x0, 0.0)
    return abs(x - corner) <= TOUCH and layout.corners[at_right] is not None


def _caps(s: Solid, chain: Sequence[Point], layout: WallLayout, view: Standing) -> Iterator[Facet]:
    """The ends of a run that are cut square and look at the viewer."""
    for at_right in (False, True):
        x = s.x1 if at_right else s.x0
        if _mitred(s, layout, at_right) or (view.eye[0] - x) * (1 if at_right else -1) <= 0:
            continue
        around = ((x, chain[0][1], 0.0), *((x, y, p) for p, y in chain), (x, chain[-1][1], 0.0))
        yield Facet(around[::-1] if at_right else around, "mid")


def _returns(chain: Sequence[Point], left: End, right: End, view: Standing) -> Iterator[Facet]:
    """The profile returned upon the wall at both ends, as much of it as looks at the viewer."""
    faces = []
    for (p, y), (q, z) in pairwise(chain):
        if abs(z - y) > HAIR:
            faces.append(((right(p, y), y, p), (right(p, y), y, 0.0), (right(q, z), z, 0.0), (right(q, z), z, q)))
            faces.append(((left(p, y), y, 0.0), (left(p, y), y, p), (left(q, z), z, q), (left(q, z), z, 0.0)))
    faces.sort(key=lambda face: -abs((face[0][1] + face[2][1]) / 2 - view.eye[1]))
    return (Facet(face, "mid") for face in faces if view.looks(*face[:3]))


def _tones(s: Solid, layout: WallLayout, chain: Sequence[Point]) -> list[str]:
    """The tone of each face of a profile: lights and shades as in an elevation; what looks down is dark, up is bare."""
    foot, seen = foot_of(s, layout), face_of(layout, s)
    return [_tone(seen, a, b, foot) for a, b in pairwise(chain) if a != b]


def _tone(seen: Face, a: Point, b: Point, foot: float) -> str:
    if abs(b[1] - a[1]) <= HAIR:
        return "mid" if b[0] > a[0] else "paper"
    middle = (a[1] + b[1]) / 2 - foot
    return next((fill for low, high, fill in seen.bands if low <= middle <= high), "paper")


def _edges(
    s: Solid, chain: Sequence[Point], layout: WallLayout, left: End, right: End, view: Standing
) -> Iterator[Edge]:
    """The edges of a profile that are seen, those that would run together left out, and its mitres."""
    shown = unhidden(chain, view.eye)
    foot, seen = foot_of(s, layout), face_of(layout, s)
    sharp = {round(y + foot, 3) for y in seen.edges}
    middle = (s.x0 + s.x1) / 2
    last: Spot | None = None
    ends = (0, len(chain) - 1)
    for n in sorted(range(len(chain)), key=lambda n: (n not in ends, n)):
        p, y = chain[n]
        if not shown[n] or (n not in ends and round(y, 3) not in sharp):
            continue
        here = (middle, y, p)
        if n not in ends and not all(view.apart(here, (middle, z, q)) for q, z in (chain[0], chain[-1])):
            continue
        if n not in ends and last is not None and not view.apart(here, last):
            continue
        last = here if n not in ends else last
        yield Edge((left(p, y), y, p), (right(p, y), y, p), "edge" if n in ends else "fine")
    for at_right, end in enumerate((left, right)):
        if s.part in CROWNING or _mitred(s, layout, bool(at_right)):
            pairs = zip(pairwise(chain), pairwise(shown), strict=True)
            yield from (
                Edge((end(p, y), y, p), (end(q, z), z, q), "fine")
                for ((p, y), (q, z)), both in pairs
                if all(both) and (p, y) != (q, z)
            )


def unhidden(chain: Sequence[Point], eye: Spot) -> list[bool]:
    """Which points of a profile are seen past the others: none stands farther out on the way from the eye.

    >>> unhidden([(0.0, 0.0), (0.0, 3.0), (2.0, 3.0), (2.0, 4.0)], (0.0, 64.0, 100.0))
    [True, False, True, True]
    >>> unhidden([(0.0, 90.0), (2.0, 90.0), (2.0, 91.0), (0.0, 91.0)], (0.0, 64.0, 100.0))
    [True, True, True, False]
    """
    height, off = eye[1], eye[2]
    shown = [not _turned_away(chain, n, height) for n in range(len(chain))]
    for way in (1.0, -1.0):
        on_way = sorted(
            (n for n, (_, y) in enumerate(chain) if (y - height) * way > HAIR), key=lambda n: chain[n][1] * way
        )
        least = float("inf")
        for _, level in groupby(on_way, key=lambda n: chain[n][1]):
            runs = {n: (off - chain[n][0]) / abs(chain[n][1] - height) for n in level}
            for n, run in runs.items():
                shown[n] = shown[n] and run <= least + HAIR
            least = min(least, *runs.values())
    return shown


def _turned_away(chain: Sequence[Point], n: int, height: float) -> bool:
    """Whether a point is the inner end of a level face that looks down below the eye, or up above it."""
    p, y = chain[n]
    below = n + 1 < len(chain) and abs(chain[n + 1][1] - y) < HAIR and chain[n + 1][0] > p + HAIR
    above = n > 0 and abs(chain[n - 1][1] - y) < HAIR and chain[n - 1][0] > p + HAIR
    return (below and y < height) or (above and y > height)
