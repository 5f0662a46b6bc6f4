"""Sections: what an element of trim is cut through, each member named, and the ladder of all tiers at one scale."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from planner.drawings.dimensions import String, spread
from planner.drawings.profiles import cut, elevation_strip, in_front, wall_section
from planner.drawings.scene import Dimension, Group, Path, Scene, Shape, Text, line, text_width
from planner.library import standard
from planner.mouldings import outlines
from planner.mouldings.curves import Arc, EllipseArc, Placement, Point, points, polyline
from planner.mouldings.members import Profile
from planner.mouldings.outlines import HAIR
from planner.trim.packages import Element, Package
from planner.trim.sections import Placed, parts_of, profile_of
from planner.units import format_length, format_size

LETTERS = 30
"""A section's type is its height or depth, whichever is more, over this."""
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
    return section(placed, title, parts_of(element, standard()), opening=element.bottom is None)


def package_sections(package: Package, order: str, style: str = "") -> tuple[Scene, ...]:
    """The full section of every element of a package that has one, in the package's order."""
    return tuple(element_section(e, order, style) for e in package.elements if profile_of(e, order, style))


def profile_section(profile: Profile) -> Scene:
    """A profile by itself with its dimensions, as a mill needs it to make one."""
    title = f"{profile.code}: {profile.role}, {format_size(profile.height)} by {format_size(profile.projection)}"
    return section((Placed(profile, 0.0, 0.0),), title)


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
    chain = [0.0]
    for _, part in parts or [("", high - low) for _, low, high in in_front(placed)]:
        chain.append(chain[-1] + part)
    if abs(chain[-1] - height) > HAIR:
        chain = [0.0, height]
    drawn, offset = _heights(chain, -wall, size)
    shapes += drawn
    left = -wall
    shapes.append(Dimension((0.0, height + below), (reach, height + below), 2 * size, size, format_size(reach)))
    edge = left - offset - 3.5 * size
    shapes += elevation_strip(placed, edge - strip, edge)
    for (name, _), (low, high) in zip(parts, pairwise(chain), strict=False):
        if len(parts) > 1:
            shapes.append(Text(edge - strip - size, (low + high) / 2 - size / 3, name, size, "end"))
    foot = "opening's edge" if opening else "member, height × reach from the wall"
    shapes.append(Text(reach + 3 * size, -below - 1.2 * size, "member, height × reach from the wall", 0.8 * size))
    if opening:
        shapes.append(Text(-wall, -below - 1.2 * size, foot, 0.8 * size))
    shapes.append(Text(edge - strip, height + below + 5 * size, title, 1.4 * size, bold=True))
    return Scene(tuple(shapes), title, f"{title}, {format_size(height)} high, reaching {format_size(reach)}.")


def closing(chain: Sequence[float]) -> str:
    """What is written of a whole chain of parts [in]; where its rounded parts do not sum to it, the rest is told.

    >>> closing([0, 1.03, 2.06])
    '2 1/16" (parts −1/16")'
    """
    string = String(tuple(chain))
    if not string.residual or len(chain) < 3:
        return format_size(string.total)
    sign = "−" if string.residual > 0 else "+"
    return f"{format_size(string.total)} (parts {sign}{format_size(abs(string.residual) / 16)})"


def _heights(chain: Sequence[float], x: float, size: float) -> tuple[list[Shape], float]:
    """Dimensions of the parts and, to their left, of the whole; and how far they stand off [in].

    A span too short for its figure has it beside the line.
    """
    shapes: list[Shape] = []
    offset, beside = 2 * size, 0.0
    if len(chain) > 2:
        for low, high in pairwise(chain):
            figure = format_size(high - low)
            if fits := text_width(figure, size) < high - low:
                shapes.append(Dimension((x, high), (x, low), -offset, size, figure))
            else:
                shapes.append(Dimension((x, high), (x, low), -offset, size, ""))
                shapes.append(
                    Text(x - offset - 0.6 * size, (low + high - size * 0.7) / 2, figure, size, "end", 0, "dimension")
                )
            beside = max(beside, 0.0 if fits else text_width(figure, size))
        offset += max(3 * size, beside + 1.2 * size)
    shapes.append(Dimension((x, chain[-1]), (x, chain[0]), -offset, size, closing(chain)))
    return shapes, offset


def _labels(placed: Sequence[Placed], x: float, height: float, size: float) -> list[Shape]:
    labels = sorted((label for p in placed for label in _named(p)), key=lambda label: label.at[1])
    places = spread([label.at[1] for label in labels], 1.5 * size)
    shapes: list[Shape] = []
    for label, y in zip(labels, places, strict=True):
        bend = (x - 2 * size, label.at[1])
        shapes.append(Path(polyline([label.at, bend, (x - 0.5 * size, y)]), "fine"))
        shapes.append(Text(x, y - size / 3, label.text, size))
    return shapes


def _named(placed: Placed) -> list[Label]:
    """A label for each member of a profile, at the middle of its face; the top one of stock gives its code."""
    place, found = Placement(placed.x, placed.y), []
    for member, chain in zip(placed.profile.members, outlines.member_outlines(placed.profile), strict=True):
        face = points(chain)
        x, y = place.point(face[len(face) // 2] if len(face) > 2 else _middle(*face))
        radii = sorted({round(s.radius, 3) for s in chain if isinstance(s, Arc)})
        bend = f", r {format_size(radii[0])}" if radii else ""
        manner = "greek " if any(isinstance(s, EllipseArc) for s in chain) else ""
        sizes = f"{format_size(member.height)} × {format_size(placed.x + member.projection)}"
        found.append(Label((x, y), f"{manner}{member.kind} {sizes}{bend}"))
    if found and placed.profile.lengths:
        found[-1] = replace(found[-1], text=f"{found[-1].text}  ({placed.profile.code})")
    return found


def _middle(a: Point, b: Point) -> Point:
    return ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)


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
    heads = names or [p.label for p in packages]
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
        tall = max(_top(placed) for (_, k), placed in sections.items() if k == kind and placed)
        hangs = kind == "crown"
        for i, package in enumerate(packages):
            placed = sections[i, kind]
            x = i * width + strip + wall
            shapes += wall_section(x - wall, wall, foot - 0.75, foot + tall + 0.75, 0.5)
            if not placed:
                continue
            y = foot + (tall - _top(placed) if hangs else 0.0)
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


def _top(placed: Sequence[Placed]) -> float:
    return max(p.top for p in placed)


def _sizes(package: Package, kind: str) -> tuple[str, ...]:
    """What is written under an element of a ladder: its kind and size, then its form."""
    element = package.element(kind)
    if element is None:
        return ()
    at = f" at {format_length(element.top)}" if kind in ("chair rail", "plate rail", "picture rail") else ""
    return f"{kind} {format_size(element.size)}{at}", element.form
