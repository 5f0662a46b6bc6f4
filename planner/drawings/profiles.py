"""How profiles are drawn where they stand: cut through, or seen from the front and shaded so that projection tells."""

from collections.abc import Sequence
from itertools import pairwise
from math import ceil

from shapely.geometry import LineString, Polygon

from planner.drawings.scene import Path, line, rectangle
from planner.mouldings import members as mouldings
from planner.mouldings import outlines
from planner.mouldings.assembly import Placed
from planner.mouldings.curves import Line, Placement, Point, points

STEP = 0.05
"""How finely a curve is shaded [in]."""


def cut(placed: Placed) -> tuple[Path, ...]:
    """A profile cut through where it stands, with the bottom of the gaps between its dentils."""
    place = Placement(placed.x, placed.y)
    name = placed.profile.code or placed.part or placed.profile.role
    shapes = [Path(place.segments(t.outline), "cut", True, "wood", name=name) for t in placed.timber]
    height = placed.y
    for member in placed.profile.members:
        if member.kind == "dentil band":
            x = placed.x + member.projection - mouldings.dentils(member)[2]
            shapes.append(line((x, height), (x, height + member.height), "fine"))
        height += member.height
    return tuple(shapes)


def ground(placed: Sequence[Placed]) -> tuple[Path, ...]:
    """What profiles are planted on where they stand off the wall, as high as they are; nothing on the plaster."""
    off = min((p.x for p in placed), default=0.0)
    if off <= outlines.HAIR:
        return ()
    foot, top = min(p.y for p in placed), max(p.top for p in placed)
    return (rectangle(0.0, foot, off, top - foot, "edge", "light"),)


def wall_section(x: float, thickness: float, bottom: float, top: float, spacing: float) -> tuple[Path, ...]:
    """A wall cut through, hatched at 45 degrees, its face at x + thickness."""
    box = Polygon([(x, bottom), (x + thickness, bottom), (x + thickness, top), (x, top)])
    hatch = []
    for i in range(ceil((top - bottom + thickness) / spacing)):
        start = bottom - thickness + i * spacing
        run = LineString([(x, start), (x + thickness, start + thickness)]).intersection(box)
        if run.length > spacing / 10:
            hatch.append(Line(*run.coords))
    face = line((x + thickness, bottom), (x + thickness, top), "cut")
    return (rectangle(x, bottom, thickness, top - bottom, fill="wall", line=False), Path(tuple(hatch), "fine"), face)


def elevation_strip(placed: Sequence[Placed], left: float, right: float) -> tuple[Path, ...]:
    """Trim seen from the front between two plumb lines, shaded so that its projection tells."""
    face = face_points(placed)
    shapes = [rectangle(left, a, right - left, b - a, "shade", fill, line=False) for a, b, fill in shades(face)]
    edges = set()
    for p, low, high in in_front(placed):
        height = p.y
        for member in p.profile.members:
            if member.kind == "dentil band":
                shapes += _dentil_gaps(member, height, left, right)
            height += member.height
            edges |= {round(y, 4) for y in (low, height) if low <= y <= high}
    shapes += [line((left, y), (right, y), "fine") for y in sorted(edges)]
    ends = (min(p.y for p in placed), max(p.top for p in placed))
    shapes += [line((x, ends[0]), (x, ends[1]), "fine") for x in (left, right)]
    return (*shapes, *(line((left, y), (right, y), "edge") for y in ends))


def in_front(placed: Sequence[Placed]) -> list[tuple[Placed, float, float]]:
    """Which profile is seen from the front, and from what height to what height [in], from the bottom up."""
    levels = sorted({y for p in placed for y in (p.y, p.top)})
    found: list[tuple[Placed, float, float]] = []
    for low, high in pairwise(levels):
        if high - low <= outlines.HAIR:
            continue
        there = [p for p in placed if p.y <= low + outlines.HAIR and p.top >= high - outlines.HAIR]
        if not there:
            continue
        front = max(there, key=lambda p: max(x for x, _ in between(_face(p), low, high)))
        if found and found[-1][0] is front and found[-1][2] == low:
            low = found.pop()[1]
        found.append((front, low, high))
    return found


def face_points(placed: Sequence[Placed]) -> list[Point]:
    """What is seen of profiles from the front, from the bottom up, along the bare wall between them."""
    found: list[Point] = []
    for front, low, high in in_front(placed):
        if found and low - found[-1][1] > outlines.HAIR:
            found += [(0.0, found[-1][1]), (0.0, low)]
        found += between(_face(front), low, high)
    return found


def shades(face: Sequence[Point]) -> list[tuple[float, float, str]]:
    """Bands of one shade on a face seen from the front: bottom, top and fill of each, from the top down.

    Light falls at 45 degrees, so that a point lies in shadow where something above it stands out farther than it is
    higher.
    """
    bands: list[tuple[float, float, str]] = []
    caster = -float("inf")
    for (bx, by), (ax, ay) in pairwise(reversed(face)):
        caster = max(caster, bx - by)
        if by - ay <= outlines.HAIR:
            continue
        cuts = [by, ay]
        if abs(ax - bx) <= outlines.HAIR and ay < ax - caster < by:
            cuts = [by, ax - caster, ay]
        elif abs(ax - bx) > outlines.HAIR:
            steps = max(1, ceil((by - ay) / STEP))
            cuts = [by + (ay - by) * i / steps for i in range(steps + 1)]
        for top, low in pairwise(cuts):
            middle = (top + low) / 2
            x = bx + (ax - bx) * (by - middle) / (by - ay)
            fill = _shade(x - middle < caster - outlines.HAIR, (bx - ax) / (by - ay))
            if bands and bands[-1][2] == fill and abs(bands[-1][0] - top) < outlines.HAIR:
                bands[-1] = (low, bands[-1][1], fill)
            else:
                bands.append((low, top, fill))
    return bands


def _face(placed: Placed) -> list[Point]:
    place = Placement(placed.x, placed.y)
    return [place.point(at) for m in outlines.member_outlines(placed.profile) for at in points(m)]


def between(face: Sequence[Point], low: float, high: float) -> list[Point]:
    """The part of a face that rises all the way, between two heights."""
    found = []
    for (ax, ay), (bx, by) in pairwise(face):
        if by < low - outlines.HAIR or ay > high + outlines.HAIR:
            continue
        if by - ay <= outlines.HAIR:
            found += [(ax, ay), (bx, by)]
            continue
        slope = (bx - ax) / (by - ay)
        found += [(ax + slope * (y - ay), y) for y in (max(ay, low), min(by, high))]
    return found


def _dentil_gaps(member: mouldings.Member, bottom: float, left: float, right: float) -> list[Path]:
    width, gap, _ = mouldings.dentils(member)
    count = int((right - left - gap) / (width + gap))
    start = left + ((right - left) - count * (width + gap) - gap) / 2
    return [rectangle(start + i * (width + gap), bottom, gap, member.height, "fine", "dark") for i in range(count + 1)]


def _shade(in_shadow: bool, slope: float) -> str:
    """The fill of a face; `slope` is how fast it comes forward on the way up."""
    if in_shadow:
        return "dark"
    return "mid" if slope > 0.2 else "paper" if slope < -0.2 else "light"
