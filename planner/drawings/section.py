"""Sections: what an element of trim is cut through, each member named. Lengths in inches."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from planner.drawings import boards
from planner.drawings.dimensions import String, spread
from planner.drawings.profiles import cut, elevation_strip, in_front, wall_section
from planner.drawings.scale import Scale, largest, scales, stated
from planner.drawings.scene import Dimension, Group, Path, Scene, Shape, Text, bounds, text_width
from planner.library import Library
from planner.mouldings import outlines
from planner.mouldings.assembly import Placed
from planner.mouldings.curves import Arc, EllipseArc, Placement, Point, points, polyline
from planner.mouldings.members import Profile
from planner.mouldings.outlines import HAIR
from planner.trim.joinery import Board, joinery
from planner.trim.packages import Element, Package
from planner.trim.sections import parts_of
from planner.units import Unit, format_size, grain

PAGE = 720.0
"""How wide a section is at most, where a scale is chosen for it [px]."""

WORDS, HIGH = 34.0, 0.95
"""What the words beside a section take, in heights of type, and how high it may be for its width."""


EDGED = ("casing", "window casing")
"""Elements that begin at the edge of an opening, so that their section is a plan set upright."""

STANDING = ("plinth block",)
"""Elements that stand on the floor though they go round an opening."""


@dataclass(frozen=True)
class Ends:
    """Whether a section stands on the floor, and whether it hangs under the ceiling."""

    floor: bool = False
    ceiling: bool = False


@dataclass(frozen=True)
class Label:
    """What is said of a member, and the point that it is said of."""

    at: Point
    text: str


def element_section(
    element: Element,
    placed: Sequence[Placed],
    parts: Sequence[tuple[str, float]] = (),
    behind: Sequence[Board] = (),
    ends: Ends = Ends(),
    scale: Scale | None = None,
    unit: Unit = "in",
    level: Sequence[Path] = (),
) -> Scene:
    """The full section of one element of a package.

    Parameters
    ----------
    element : of a package.
    placed : the profiles that it is drawn with.
    parts : names and heights of the parts that its section shows; left out, the profiles are the parts. [in]
    behind : the boards behind it.
    ends : whether its foot stands on the floor and its head under the ceiling.
    scale, unit, level : as in `section`.

    Raises
    ------
    ValueError : the element is cut from another and has no section.
    """
    if not placed:
        raise ValueError(f"a {element.element} is no run of moulding; it is drawn with the wall")
    title, opening = title_of(element), element.element in EDGED
    return section(placed, title, parts, opening=opening, behind=behind, ends=ends, scale=scale, unit=unit, level=level)


def title_of(element: Element) -> str:
    """What stands over the section of an element."""
    return f"{element.element.capitalize()}: {element.form}"


def section_shapes(
    package: Package, element: Element, placed: Sequence[Placed], library: Library, scale: Scale
) -> list[Shape]:
    """The full section of one element of a package, without its title and scale.

    Parameters
    ----------
    package, element : whose section it is.
    placed : the profiles that it is drawn with.
    library : says which forms an order draws whole, without parts.
    scale : that it is laid out for.
    """
    level = boards.in_plan(element, library) if element.element == "wainscot" else ()
    parts, behind = parts_of(element, library), joinery(package, element, library)
    return _drawn(placed, parts, element.element in EDGED, behind, ends_of(element, library), scale, level)[0]


def ends_of(element: Element, library: Library) -> Ends:
    """Whether the section of an element stands on the floor, and whether it hangs under the ceiling."""
    return Ends(element.element in STANDING or element.bottom == 0, library.element(element.element).place == "ceiling")


def package_sections(package: Package, sections: Mapping[str, Sequence[Placed]], library: Library) -> tuple[Scene, ...]:
    """The full section of every element of a package that has one, in the package's order, all at one scale.

    Parameters
    ----------
    package : whose sections they are.
    sections : the profiles of each element, by element.
    library : says which forms an order draws whole, without parts.

    Examples
    --------
    >>> from planner import demo_house, plan, read_house
    >>> planned = plan(read_house(demo_house())[0])
    >>> package = planned.packages[0]
    >>> package_sections(package, planned.sections[package], planned.library)[0].title
    'Base: plinth, board and cap'
    """
    drawn = [e for e in package.elements if e.element in sections]
    scale = section_scale((sections[e.element] for e in drawn), package.unit)
    return tuple(
        element_section(
            e,
            sections[e.element],
            parts_of(e, library),
            joinery(package, e, library),
            ends_of(e, library),
            scale,
            package.unit,
            boards.in_plan(e, library) if e.element == "wainscot" else (),
        )
        for e in drawn
    )


def profile_section(profile: Profile, scale: Scale | None = None, unit: Unit = "in") -> Scene:
    """A profile by itself with its dimensions, as a mill needs it to make one.

    Parameters
    ----------
    profile : what is to be made.
    scale, unit : as in `section`.

    Examples
    --------
    >>> from planner import demo_house, read_stock
    >>> profile_section(read_stock(demo_house()).profiles[0]).title
    'QB-BC100: base cap, 1" by 7/8"'
    """
    height, reach = format_size(profile.height, unit), format_size(profile.projection, unit)
    title = f"{profile.code}: {profile.role}, {height} by {reach}"
    return section((Placed(profile, 0.0, 0.0),), title, scale=scale, unit=unit)


def section_scale(drawn: Iterable[Sequence[Placed]], unit: Unit, page: float = PAGE) -> Scale:
    """The one scale of some sections in a house of that unit: the largest at which each fits a page so wide [px]."""
    each = [(max(p.reach for p in placed), max(p.top for p in placed)) for placed in drawn if placed]
    reach, height = max((r for r, _ in each), default=1.0), max((h for _, h in each), default=1.0)

    def width(scale: Scale) -> float:
        return max((reach + WORDS * scale.type("note")) * scale.pixels, height * scale.pixels / HIGH)

    return largest(scales("sections", unit), width, page)


def section(
    placed: Sequence[Placed],
    title: str,
    parts: Sequence[tuple[str, float]] = (),
    opening: bool = False,
    behind: Sequence[Board] = (),
    ends: Ends = Ends(),
    scale: Scale | None = None,
    unit: Unit = "in",
    level: Sequence[Path] = (),
) -> Scene:
    """Profiles cut through on their wall: each member named with its height and reach, whole and parts dimensioned.

    Parameters
    ----------
    placed : profiles where they stand, from the bottom up.
    title : what is drawn.
    parts : names and heights [in] of the parts that make up the whole; left out, the profiles are the parts.
    opening : whether the foot is an opening's edge, so that the section is a plan set upright.
    behind : boards behind the profiles, drawn lightly and named once.
    ends : whether the foot stands on the floor, and the head under the ceiling.
    scale : that it is laid out for; left out, the largest at which it fits its page.
    unit : of the house, where no scale says it.
    level : the same cut level, drawn beneath.

    Notes
    -----
    To the left the same trim stands in elevation, shaded as under light that falls at 45 degrees from above: what
    lies in a projection's shadow is dark, what faces the floor is half dark.
    """
    scale = scale or section_scale([placed], unit)
    shapes, (left, top) = _drawn(placed, parts, opening, behind, ends, scale, level)
    size = scale.type("note")
    shapes.append(Text(left, top + 5 * size, title, 1.4 * size, bold=True))
    height, reach = max(p.top for p in placed), max(p.reach for p in placed)
    told = f"{title}, {scale.size(height)} high, reaching {scale.size(reach)}."
    return stated(shapes, title, told, scale)


def _drawn(
    placed: Sequence[Placed],
    parts: Sequence[tuple[str, float]],
    opening: bool,
    behind: Sequence[Board],
    ends: Ends,
    scale: Scale,
    level: Sequence[Path],
) -> tuple[list[Shape], Point]:
    """A section with all that is written round it, and its upper left corner; the rest is as in `section`."""
    height, reach = max(p.top for p in placed), max(p.reach for p in placed)
    size = scale.type("note")
    wall, below = _wall_depth(behind, size), 2 * size
    foot, head = _wall_ends(placed, behind, ends, below)
    shapes: list[Shape] = [*wall_section(-wall, wall, foot, head, size)]
    shapes += boards.floor(-wall, reach + 2 * size, below) if ends.floor else ()
    shapes += boards.ceiling(-wall, reach + 2 * size, height, below) if ends.ceiling else ()
    shapes += boards.drawn(behind)
    shapes += [s for p in placed for s in cut(p)]
    labels = _labels(placed, behind, reach + 3 * size, scale)
    written = [label.y for label in labels if isinstance(label, Text)]
    low, top = min([-below, foot, *(y - size for y in written)]), max([height + below, *written])
    shapes += labels
    shapes.append(Dimension((0.0, top), (reach, top), 2 * size, size, scale.size(reach)))
    front, left = _front(placed, parts, -wall, scale)
    shapes += front
    words = "member, height × reach from the wall"
    shapes.append(Text(reach + 3 * size, low - 1.2 * size, words, size))
    if level:
        shapes += _beneath(level, -wall, low - 3 * size, size)
    if opening:
        shapes.append(Text(-wall, -below - 1.2 * size, "opening's edge", size))
    return shapes, (left, top)


def _beneath(level: Sequence[Path], x: float, y: float, size: float) -> list[Shape]:
    """What is cut level, its upper edge at y and its left end at x [in], and what it is."""
    taken = bounds(level)
    group = Group(tuple(level), Placement(x, y - taken.y1))
    return [group, Text(x, y - taken.y1 + taken.y0 - 1.4 * size, "in plan", size)]


def _front(
    placed: Sequence[Placed], parts: Sequence[tuple[str, float]], x: float, scale: Scale
) -> tuple[list[Shape], float]:
    """The heights of the parts to the left of x, the trim in elevation beside them, and how far left that reaches."""
    size, height, chain = scale.type("note"), max(p.top for p in placed), [0.0]
    for _, part in parts or [("", high - low) for _, low, high in in_front(placed)]:
        chain.append(chain[-1] + part)
    if abs(chain[-1] - height) > HAIR:
        chain = [0.0, height]
    shapes, offset = _heights(chain, x, scale)
    edge = x - offset - 3.5 * size
    left = edge - 9 * size
    shapes += elevation_strip(placed, left, edge)
    for (name, _), (low, high) in zip(parts, pairwise(chain), strict=False):
        if len(parts) > 1:
            shapes.append(Text(left - size, (low + high) / 2 - size / 3, name, size, "end"))
    return shapes, left


def closing(chain: Sequence[float], unit: Unit) -> str:
    """What is written of a whole chain of parts [in]; where its rounded parts do not sum to it, the rest is told.

    >>> closing([0, 1.03, 2.06], "in")
    '2 1/16" (parts −1/16")'
    """
    string = String(tuple(chain), unit)
    total = format_size(string.total, unit)
    if not string.residual or len(chain) < 3:
        return total
    sign = "−" if string.residual > 0 else "+"
    return f"{total} (parts {sign}{format_size(abs(string.residual) * grain(unit), unit)})"


def _heights(chain: Sequence[float], x: float, scale: Scale) -> tuple[list[Shape], float]:
    """Dimensions of the parts and, to their left, of the whole; and how far they stand off [in].

    A span too short for its figure has it beside the line.
    """
    shapes: list[Shape] = []
    size = scale.type("note")
    offset, beside = 2 * size, 0.0
    if len(chain) > 2:
        for low, high in pairwise(chain):
            figure = scale.size(high - low)
            if fits := text_width(figure, size) + size < high - low:
                shapes.append(Dimension((x, high), (x, low), -offset, size, figure))
            else:
                shapes.append(Dimension((x, high), (x, low), -offset, size, ""))
                shapes.append(
                    Text(x - offset - 0.6 * size, (low + high - size * 0.7) / 2, figure, size, "end", 0, "dimension")
                )
            beside = max(beside, 0.0 if fits else text_width(figure, size))
        offset += max(3 * size, beside + 1.2 * size)
    shapes.append(Dimension((x, chain[-1]), (x, chain[0]), -offset, size, closing(chain, scale.unit)))
    return shapes, offset


def _wall_depth(behind: Sequence[Board], size: float) -> float:
    """How deep the wall is cut [in]: to beyond all boards, or to the back of a sill, which is open to the weather."""
    back = min((b.x for b in behind), default=0.0)
    return -back if any(b.name == "sill" for b in behind) else max(4 * size, size - back)


def _wall_ends(placed: Sequence[Placed], behind: Sequence[Board], ends: Ends, below: float) -> tuple[float, float]:
    """From where to where the wall is cut [in]: from the floor, or the stud of an opening, to the ceiling or a sill."""
    height = max(p.top for p in placed)
    jamb, sill = ([b.y for b in behind if b.name == name] for name in ("stud", "sill"))
    if sill:
        return min(sill) - below, 0.0
    foot = min(jamb) if jamb else 0.0 if ends.floor else -below
    return foot, height if ends.ceiling else height + below


def _labels(placed: Sequence[Placed], behind: Sequence[Board], x: float, scale: Scale) -> list[Shape]:
    """What members and boards are called, in a column at x, each with a line to it."""
    size, said = scale.type("note"), [label for p in placed for label in _named(p, scale)]
    labels = sorted([*said, *(Label(*each) for each in boards.named(behind, scale))], key=lambda label: label.at[1])
    places = spread([label.at[1] for label in labels], 1.5 * size)
    shapes: list[Shape] = []
    for label, y in zip(labels, places, strict=True):
        bend = (x - 2 * size, label.at[1])
        shapes.append(Path(polyline([label.at, bend, (x - 0.5 * size, y)]), "fine"))
        shapes.append(Text(x, y - size / 3, label.text, size))
    return shapes


def _named(placed: Placed, scale: Scale) -> list[Label]:
    """A label for each member of a profile, at the middle of its face; the top one of stock gives its code."""
    place, found = Placement(placed.x, placed.y), []
    if placed.profile.role == "board" and placed.part and not placed.profile.lengths:
        height, depth = scale.size(placed.profile.height), scale.size(placed.profile.projection)
        middle = place.point((placed.profile.projection, placed.profile.height / 2))
        return [Label(middle, f"{placed.part} {height} × {depth} thick")]
    for member, chain in zip(placed.profile.members, outlines.member_outlines(placed.profile), strict=True):
        face = points(chain)
        x, y = place.point(face[len(face) // 2] if len(face) > 2 else _middle(*face))
        radii = sorted({round(s.radius, 3) for s in chain if isinstance(s, Arc)})
        bend = f", r {scale.size(radii[0])}" if radii else ""
        manner = "greek " if any(isinstance(s, EllipseArc) for s in chain) else ""
        sizes = f"{scale.size(member.height)} × {scale.size(placed.x + member.projection)}"
        found.append(Label((x, y), f"{manner}{member.kind} {sizes}{bend}"))
    if found and placed.profile.lengths:
        found[-1] = replace(found[-1], text=f"{found[-1].text}  ({placed.profile.code})")
    return found


def _middle(a: Point, b: Point) -> Point:
    return ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
