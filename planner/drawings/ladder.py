"""The sections of all tiers side by side at one scale. Lengths in inches."""

from collections.abc import Mapping, Sequence

from planner.drawings.profiles import cut, elevation_strip, ground, wall_section
from planner.drawings.scene import Group, Scene, Shape, Text, line, text_width
from planner.mouldings.assembly import Placed
from planner.mouldings.curves import Placement
from planner.trim.packages import Package
from planner.units import format_length, format_size

LADDER = ("crown", "picture rail", "chair rail", "plate rail", "base")
"""Elements of a wall's section, from the top down."""
AROUND = ("casing", "window casing")
"""Elements that go round an opening, drawn in plan."""
RAILS = ("chair rail", "plate rail", "picture rail")
"""Elements whose height on the wall is told."""

SIZE = 0.85
"""Height of type [in]."""
WALL, STRIP, GAP = 1.5, 3.0, 1.0
"""Thickness of the wall, width of the trim in elevation, plain paper between two tiers [in]."""
BELOW = 5.2
"""What is written under a row and left bare [in]."""

Sections = Mapping[str, Sequence[Placed]]
"""The profiles of each element of a package, by element."""


def ladder(packages: Sequence[Package], sections: Mapping[Package, Sections], names: Sequence[str] = ()) -> Scene:
    """The sections of the tiers side by side at one scale, the plain wall between their mouldings broken out.

    Parameters
    ----------
    packages : one for each tier, in the order in which they are to stand.
    sections : the profiles of each.
    names : what each column is called; left out, each package's own name.

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
    kinds = [kind for kind in (*LADDER, *AROUND) if any(kind in sections[p] for p in packages)]
    heads = names or [p.label for p in packages]
    width = _column(packages, sections, kinds, heads)
    end = len(packages) * width - GAP
    shapes: list[Shape] = []
    foot = 0.0
    for kind in reversed(kinds):
        tall = max(_top(sections[p][kind]) for p in packages if kind in sections[p])
        for i, package in enumerate(packages):
            x = i * width + STRIP + WALL
            shapes += _cell(package, kind, sections[package].get(kind, ()), x, foot, tall)
        if kind in ("crown", "base"):
            y = foot + tall if kind == "crown" else foot
            shapes.append(line((0.0, y), (end, y), "profile"))
        foot += tall + BELOW
    for i, head in enumerate(heads):
        shapes.append(Text(i * width + STRIP, foot - 2.2, head, 1.2 * SIZE, bold=True))
    told = "; ".join(
        f"{head}: {', '.join(e.element + ' ' + format_size(e.size) for e in package.elements)}"
        for head, package in zip(heads, packages, strict=True)
    )
    return Scene(tuple(shapes), "The tiers' sections at one scale", told)


def _column(
    packages: Sequence[Package], sections: Mapping[Package, Sections], kinds: Sequence[str], heads: Sequence[str]
) -> float:
    """Width of a tier's column [in]: room for what reaches farthest, and for the longest words."""
    reach = max((q.reach for p in packages for kind in kinds for q in sections[p].get(kind, ())), default=1.0)
    words = [text_width(said, SIZE) for p in packages for kind in kinds for said in _sizes(p, kind)]
    words += [text_width(head, 1.2 * SIZE) for head in heads]
    return WALL + max(reach + 1.5, STRIP, *words) + STRIP + GAP


def _cell(package: Package, kind: str, placed: Sequence[Placed], x: float, foot: float, tall: float) -> list[Shape]:
    """One element of one tier, cut through at x; what stands at the ceiling hangs from the top of its row [in]."""
    shapes: list[Shape] = [*wall_section(x - WALL, WALL, foot - 0.75, foot + tall + 0.75, 0.5)]
    if not placed:
        return shapes
    y = foot + (tall - _top(placed) if kind == "crown" else 0.0)
    figure = (
        *ground(placed),
        *(s for p in placed for s in cut(p)),
        *elevation_strip(placed, -WALL - STRIP, -WALL - 0.4),
    )
    shapes.append(Group(figure, Placement(x, y)))
    for n, words in enumerate(_sizes(package, kind)):
        shapes.append(Text(x + 0.4, foot - 1.9 - 1.2 * SIZE * n, words, SIZE))
    return shapes


def _top(placed: Sequence[Placed]) -> float:
    return max(p.top for p in placed)


def _sizes(package: Package, kind: str) -> tuple[str, ...]:
    """What is written under an element: its kind and size, then its form."""
    element = package.element(kind)
    if element is None:
        return ()
    at = f" at {format_length(element.top)}" if kind in RAILS and element.top is not None else ""
    return f"{kind} {format_size(element.size)}{at}", element.form
