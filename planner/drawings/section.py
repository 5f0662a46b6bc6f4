"""Sections: what an element of trim is cut through, each member named, and the ladder of all tiers at one scale."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil

from shapely.geometry import LineString, Polygon

from planner.drawings.scene import Dimension, Group, Path, Scene, Shape, Text, line, rectangle, text_width
from planner.trim import mouldings
from planner.trim.curves import Arc, Line, Placement, Point, points, polyline
from planner.trim.packages import Element, Package
from planner.trim.sections import Placed, profile_of
from planner.units import format_length, format_size

LETTERS = 30
"""A section's type is its height or depth, whichever is more, over this."""
STEP = 0.05
"""How finely a curve is shaded [in]."""
LADDER = ("crown", "picture rail", "chair rail", "plate rail", "base")
"""Elements of a wall's section in a ladder, from the top down."""
AROUND = ("casing", "window casing")
"""Elements that go round an opening, drawn in a ladder in plan."""


@dataclass(frozen=True)
class Label:
    """What is said of a member, and the point that it is said of."""

    at: Point
    text: str


def element_section(element: Element, order: str, style: str = "") -> Scene:
    """The full section of one element of a package.

    Raises
    ------
    ValueError : the element is no run of moulding and has no section.
    """
    placed = profile_of(element, order, style)
    if not placed:
        raise ValueError(f"a {element.element} is no run of moulding; it is drawn with the wall")
    title = f"{element.element.capitalize()}: {element.form}"
    return section(placed, title, element.parts, opening=element.bottom is None)


def section(
    placed: Sequence[Placed], title: str, parts: Sequence[tuple[str, float]] = (), opening: bool = False
) -> Scene:
    """Profiles cut through on their wall: each member named with its height and reach, whole and parts dimensioned.

    Parameters
    ----------
    placed : profiles where they stand, from the bottom up.
    title : what is drawn.
    parts : names and heights [in] of the parts that make up the whole; left out, the profiles are the parts.
    opening : whether the foot is an opening's edge, so that the section is a plan set upright.

    Notes
    -----
    To the left the same trim stands in elevation, shaded as under light that falls at 45 degrees from above: what
    lies in a projection's shadow is dark, what faces the floor is half dark.
    """
    height, reach = max(p.top for p in placed), max(p.reach for p in placed)
    size = max(height, 1.3 * reach) / LETTERS
    wall, below, strip = 4 * size, 2 * size, 9 * size
    shapes: list[Shape] = [*wall_section(-wall, wall, -below, height + below, size)]
    shapes += [s for p in placed for s in cut(p)]
    shapes += _labels(placed, reach + 3 * size, height, size)
    left = -wall
    chain = [0.0]
    for _, part in parts or [("", p.top - p.y) for p in placed]:
        chain.append(chain[-1] + part)
    offset = 2 * size
    if len(chain) > 2:
        shapes += [Dimension((left, b), (left, a), -offset, size, format_size(b - a)) for a, b in pairwise(chain)]
        offset += 3 * size
    shapes.append(Dimension((left, height), (left, 0.0), -offset, size, closing(chain, height)))
    shapes.append(Dimension((0.0, height + below), (reach, height + below), 2 * size, size, format_size(reach)))
    edge = left - offset - 3.5 * size
    shapes += elevation_strip(placed, edge - strip, edge)
    for (name, _), low, high in zip(parts, chain, chain[1:], strict=False):
        if len(parts) > 1:
            shapes.append(Text(edge - strip - size, (low + high) / 2 - size / 3, name, size, "end"))
    foot = "opening's edge" if opening else "member, height × reach from the wall"
    shapes.append(Text(reach + 3 * size, -below - 1.2 * size, "member, height × reach from the wall", 0.8 * size))
    if opening:
        shapes.append(Text(-wall, -below - 1.2 * size, foot, 0.8 * size))
    shapes.append(Text(edge - strip, height + below + 5 * size, title, 1.4 * size, bold=True))
    return Scene(tuple(shapes), title, f"{title}, {format_size(height)} high, reaching {format_size(reach)}.")


def closing(chain: Sequence[float], whole: float) -> str:
    """What is written of a whole [in]; where its rounded parts do not sum to it, the residual is told.

    >>> closing([0, 1.03, 2.06], 2.06)
    '2 1/16" (parts −1/16")'
    """
    sixteenths = sum(round((b - a) * 16) for a, b in pairwise(chain)) - round(whole * 16)
    if not sixteenths or len(chain) < 3:
        return format_size(whole)
    sign = "+" if sixteenths > 0 else "−"
    return f"{format_size(whole)} (parts {sign}{format_size(abs(sixteenths) / 16)})"


def cut(placed: Placed) -> tuple[Path, ...]:
    """A profile cut through where it stands, with the bottom of the gaps between its dentils."""
    place = Placement(placed.x, placed.y)
    chain = place.segments(mouldings.outline(placed.profile))
    shapes = [Path(chain, "cut", True, "wood", name=placed.profile.code or placed.profile.role)]
    height = placed.y
    for member in placed.profile.members:
        if member.kind == "dentil band":
            x = placed.x + member.projection - mouldings.dentils(member)[2]
            shapes.append(line((x, height), (x, height + member.height), "fine"))
        height += member.height
    return tuple(shapes)


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
    for p in placed:
        height = p.y
        for member in p.profile.members:
            if member.kind == "dentil band":
                shapes += _dentil_gaps(member, height, left, right)
            height += member.height
    edges = sorted({round(y, 4) for p in placed for y in (p.y, *_member_tops(p))})
    shapes += [line((left, y), (right, y), "fine") for y in edges[1:-1]]
    ends = (placed[0].y, placed[-1].top)
    shapes += [line((x, ends[0]), (x, ends[1]), "fine") for x in (left, right)]
    return (*shapes, *(line((left, y), (right, y), "edge") for y in ends))


def face_points(placed: Sequence[Placed]) -> list[Point]:
    """The face of profiles that stand on one another, from the bottom up, along the bare wall between them."""
    found: list[Point] = []
    for p in placed:
        place = Placement(p.x, p.y)
        chain = [place.point(at) for m in mouldings.member_outlines(p.profile) for at in points(m)]
        if found and p.y - found[-1][1] > mouldings.CLOSE:
            found += [(0.0, found[-1][1]), (0.0, p.y)]
        found += chain
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
        if by - ay <= mouldings.CLOSE:
            continue
        cuts = [by, ay]
        if abs(ax - bx) <= mouldings.CLOSE and ay < ax - caster < by:
            cuts = [by, ax - caster, ay]
        elif abs(ax - bx) > mouldings.CLOSE:
            steps = max(1, ceil((by - ay) / STEP))
            cuts = [by + (ay - by) * i / steps for i in range(steps + 1)]
        for top, low in pairwise(cuts):
            middle = (top + low) / 2
            x = bx + (ax - bx) * (by - middle) / (by - ay)
            fill = _shade(x - middle < caster - mouldings.CLOSE, (bx - ax) / (by - ay))
            if bands and bands[-1][2] == fill and abs(bands[-1][0] - top) < mouldings.CLOSE:
                bands[-1] = (low, bands[-1][1], fill)
            else:
                bands.append((low, top, fill))
    return bands


def spread(wanted: Sequence[float], gap: float) -> list[float]:
    """Places nearest to those wanted (rising, in least squares) that keep `gap` between neighbours.

    >>> spread([0, 0, 5], 1)
    [-0.5, 0.5, 5.0]
    """
    pools: list[list[float]] = []
    for i, place in enumerate(wanted):
        pools.append([place - i * gap])
        while len(pools) > 1 and _mean(pools[-2]) >= _mean(pools[-1]):
            last = pools.pop()
            pools[-1] += last
    settled = [_mean(pool) for pool in pools for _ in pool]
    return [place + i * gap for i, place in enumerate(settled)]


def _labels(placed: Sequence[Placed], x: float, height: float, size: float) -> list[Shape]:
    labels = [label for p in placed for label in _named(p)]
    places = spread([label.at[1] for label in labels], 1.5 * size)
    shapes: list[Shape] = []
    for label, y in zip(labels, places, strict=True):
        bend = (x - 2 * size, label.at[1])
        shapes.append(Path(polyline([label.at, bend, (x - 0.5 * size, y)]), "fine"))
        shapes.append(Text(x, y - size / 3, label.text, size))
    return shapes


def _named(placed: Placed) -> list[Label]:
    """A label for each member of a profile, at the middle of its face."""
    place, found = Placement(placed.x, placed.y), []
    for member, chain in zip(placed.profile.members, mouldings.member_outlines(placed.profile), strict=True):
        face = points(chain)
        x, y = place.point(face[len(face) // 2] if len(face) > 2 else _middle(*face))
        radii = sorted({round(s.radius, 3) for s in chain if isinstance(s, Arc)})
        bend = f", r {format_size(radii[0])}" if radii else ""
        sizes = f"{format_size(member.height)} × {format_size(placed.x + member.projection)}"
        found.append(
            Label((x, y), f"{'greek ' * member.greek * (len(chain) > 1 or not radii)}{member.kind} {sizes}{bend}")
        )
    return found


def _middle(a: Point, b: Point) -> Point:
    return ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)


def _mean(values: Sequence[float]) -> float:
    return sum(values) / len(values)


def _member_tops(placed: Placed) -> list[float]:
    tops, height = [], placed.y
    for member in placed.profile.members:
        height += member.height
        tops.append(height)
    return tops


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


# The ladder


def ladder(packages: Sequence[Package], order: str, style: str = "", names: Sequence[str] = ()) -> Scene:
    """The sections of the tiers side by side at one scale, the plain wall between their mouldings broken out.

    Parameters
    ----------
    packages : one for each tier, in the order in which they are to stand.
    order, style : what their members are drawn from where no stock is chosen.
    names : what each column is called; left out, each package's own name.

    Raises
    ------
    ValueError : no packages.
    """
    if not packages:
        raise ValueError("a ladder needs at least one package")
    rows = [kind for kind in (*LADDER, *AROUND) if any(_drawn(p, kind, order, style) for p in packages)]
    sections = {(i, kind): _drawn(p, kind, order, style) for i, p in enumerate(packages) for kind in rows}
    size = 0.85
    reach = max((q.reach for placed in sections.values() for q in placed), default=1.0)
    heads = names or [p.name for p in packages]
    wall, strip, gap = 1.5, 3.0, 1.0
    labels = [_sizes(p, kind) for p in packages for kind in rows]
    width = (
        wall
        + max(
            reach + 1.5,
            strip,
            *(text_width(t, size) for pair in labels for t in pair),
            *(text_width(h, 1.2 * size) for h in heads),
        )
        + strip
        + gap
    )
    shapes: list[Shape] = []
    foot = 0.0
    for kind in reversed(rows):
        tall = max(placed[-1].top for (_, k), placed in sections.items() if k == kind and placed)
        hangs = kind == "crown"
        for i, package in enumerate(packages):
            placed = sections[i, kind]
            x = i * width + strip + wall
            shapes += wall_section(x - wall, wall, foot - 0.75, foot + tall + 0.75, 0.5)
            if not placed:
                continue
            y = foot + (tall - placed[-1].top if hangs else 0.0)
            figure = (*(s for p in placed for s in cut(p)), *elevation_strip(placed, -wall - strip, -wall - 0.4))
            shapes.append(Group(figure, Placement(x, y)))
            for n, words in enumerate(_sizes(package, kind)):
                shapes.append(Text(x + 0.4, foot - 1.9 - 1.2 * size * n, words, size))
        if kind == "crown":
            shapes.append(line((0.0, foot + tall), (len(packages) * width - gap, foot + tall), "profile"))
        if kind == "base":
            shapes.append(line((0.0, foot), (len(packages) * width - gap, foot), "profile"))
        foot += tall + 5.2
    for i, head in enumerate(heads):
        shapes.append(Text(i * width + strip, foot - 2.2, head, 1.2 * size, bold=True))
    title = "The tiers' sections at one scale"
    told = "; ".join(
        f"{h}: {', '.join(e.element + ' ' + format_size(e.size) for e in p.elements)}"
        for h, p in zip(heads, packages, strict=True)
    )
    return Scene(tuple(shapes), title, told)


def _drawn(package: Package, kind: str, order: str, style: str) -> tuple[Placed, ...]:
    element = package.element(kind)
    return profile_of(element, order, style) if element else ()


def _sizes(package: Package, kind: str) -> tuple[str, ...]:
    """What is written under an element of a ladder: its kind and size, then its form."""
    element = package.element(kind)
    if element is None:
        return ()
    at = f" at {format_length(element.top)}" if kind in ("chair rail", "plate rail", "picture rail") else ""
    return f"{kind} {format_size(element.size)}{at}", element.form
