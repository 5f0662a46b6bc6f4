"""The sections of all tiers side by side at one scale. Lengths in inches."""

from collections.abc import Iterable, Mapping, Sequence

from planner.drawings.profiles import cut, elevation_strip, ground, wall_section
from planner.drawings.scale import Scale, cleared, largest, scales, stated
from planner.drawings.scene import Group, Scene, Shape, Text, line, text_width, unbroken, words_of, wrapped
from planner.drawings.svg import MARGIN
from planner.mouldings.assembly import Placed
from planner.mouldings.curves import Placement
from planner.trim.packages import Package
from planner.units import Unit

LADDER = ("crown", "picture rail", "chair rail", "plate rail", "base")
"""Elements of a wall's section, from the top down."""
AROUND = ("mantel", "overdoor", "casing", "window casing")
"""Elements that go round an opening: what is on it, and what goes round it, drawn in plan."""
RAILS = ("chair rail", "plate rail", "picture rail")
"""Elements whose height on the wall is told."""

PLAIN = 0.75
"""Plain wall over and under a moulding [in]."""

WALL, STRIP, GAP = 1.5, 3.0, 1.0
"""Thickness of the wall, width of the trim in elevation, plain paper between two tiers [in]."""

LINE = 1.25
"""From one line of text to the next, in heights of the type."""

WORDS = 11
"""So many heights of the type wide is what is written under a section, before it is broken into lines."""

Sections = Mapping[str, Sequence[Placed]]
"""The profiles of each element of a package, by element."""


def ladder(
    packages: Sequence[Package],
    sections: Mapping[Package, Sections],
    names: Sequence[str] = (),
    scale: Scale | None = None,
) -> Scene:
    """The sections of the tiers side by side at one scale, the plain wall between their mouldings broken out.

    Parameters
    ----------
    packages : one for each tier, in the order in which they are to stand.
    sections : the profiles of each.
    names : what each column is called; left out, each package's own name.
    scale : that it is laid out for; left out, the largest for ladders at which it fits a page of 1190 px.

    Raises
    ------
    ValueError : no packages.

    Examples
    --------
    >>> from planner import demo_house, plan, read_house
    >>> planned = plan(read_house(demo_house())[0])
    >>> ladder(planned.packages, planned.sections).title
    "The tiers' sections at one scale"
    """
    if not packages:
        raise ValueError("a ladder needs at least one package")
    if scale is None:
        scale = ladder_scale([packages], sections)
    kinds, heads = _kinds(packages, sections), names or [p.label for p in packages]
    width, size = _column(packages, sections, heads, scale), scale.type("note")
    end = len(packages) * width - GAP
    shapes: list[Shape] = []
    foot = 0.0
    for n, kind in enumerate(reversed(kinds)):
        written = max(len(_sizes(p, kind, width - GAP, scale)) for p in packages)
        foot += (LINE * written + 1.2) * size if n else 0.0
        tall = max(_top(sections[p][kind]) for p in packages if kind in sections[p])
        for i, package in enumerate(packages):
            x = i * width + STRIP + WALL
            shapes += _cell(package, kind, sections[package].get(kind, ()), x, foot, tall, width - GAP, scale)
        if kind in ("crown", "base"):
            y = foot + tall if kind == "crown" else foot
            shapes.append(line((0.0, y), (end, y), "profile"))
        foot += tall + PLAIN * 2
    head, foot = scale.type("title"), foot + 3.7 * size
    for i, words in enumerate(heads):
        lines = wrapped(words, width - GAP, head, bold=True)
        for n, said in enumerate(lines, 1 - len(lines)):
            y = foot - (PLAIN + size * 2) + (0.5 - n * LINE) * head
            shapes.append(Text(i * width, y, said, head, bold=True))
    told = "; ".join(
        f"{head}: {', '.join(e.element + ' ' + scale.size(e.size) for e in package.elements)}"
        for head, package in zip(heads, packages, strict=True)
    )
    return stated(shapes, "The tiers' sections at one scale", told, scale)


def ladder_scale(
    ladders: Iterable[Sequence[Package]], sections: Mapping[Package, Sections], page: float = 1190.0
) -> Scale:
    """The one scale of some ladders: the largest for ladders at which all of them fit a page so wide [px]."""
    each = tuple(ladders)
    unit: Unit = next((package.unit for packages in each for package in packages), "in")

    def width(scale: Scale) -> float:
        heads = ((packages, [p.label for p in packages]) for packages in each)
        columns = (len(packages) * _column(packages, sections, named, scale) for packages, named in heads)
        return max(columns, default=0.0) * scale.pixels + 2 * MARGIN

    return largest(scales("ladders", unit), width, page)


def _kinds(packages: Sequence[Package], sections: Mapping[Package, Sections]) -> list[str]:
    """The elements that any tier has, from the top down."""
    return [kind for kind in (*LADDER, *AROUND) if any(kind in sections[p] for p in packages)]


def _column(
    packages: Sequence[Package], sections: Mapping[Package, Sections], heads: Sequence[str], scale: Scale
) -> float:
    """Width of a tier's column [in]: room for what reaches farthest, and for the longest words."""
    kinds, size = _kinds(packages, sections), scale.type("note")
    reach = max((q.reach for p in packages for kind in kinds for q in sections[p].get(kind, ())), default=1.0)
    told = (said for p in packages for kind in kinds for said in _sizes(p, kind, WORDS * size, scale))
    words = max((text_width(said, size) for said in told), default=0.0)
    head = max(text_width(word, scale.type("title"), bold=True) for head in heads for word in words_of(head))
    return max(WALL + STRIP + reach + 0.5, words, head) + GAP


def _cell(
    package: Package,
    kind: str,
    placed: Sequence[Placed],
    x: float,
    foot: float,
    tall: float,
    width: float,
    scale: Scale,
) -> list[Shape]:
    """One element of one tier, cut through at x; what stands at the ceiling hangs from the top of its row [in]."""
    shapes: list[Shape] = [*wall_section(x - WALL, WALL, foot - PLAIN, foot + tall + PLAIN, 0.5)]
    if not placed:
        return shapes
    y = foot + (tall - _top(placed) if kind == "crown" else 0.0)
    seen = cleared(elevation_strip(placed, -WALL - STRIP, -WALL - 0.4), scale.close)
    shapes.append(Group((*ground(placed), *(s for p in placed for s in cut(p)), *seen), Placement(x, y)))
    size = scale.type("note")
    for n, words in enumerate(_sizes(package, kind, width, scale)):
        shapes.append(Text(x - WALL - STRIP, foot - PLAIN - (1.2 + LINE * n) * size, words, size))
    return shapes


def _top(placed: Sequence[Placed]) -> float:
    return max(p.top for p in placed)


def _sizes(package: Package, kind: str, width: float, scale: Scale) -> list[str]:
    """What is written under an element in lines no wider than asked [in]: its kind and size, then its form."""
    element, size = package.element(kind), scale.type("note")
    if element is None:
        return []
    at = f" {unbroken(f'at {scale.length(element.top)}')}" if kind in RAILS and element.top is not None else ""
    room = max(width, WORDS * size)
    return [
        *wrapped(f"{kind} {unbroken(scale.size(element.size))}{at}", room, size),
        *wrapped(element.form, room, size),
    ]
