"""A wall of a room as a trim carpenter reads it: to scale, with shadows, sections at the ends and dimensions.

Lengths in inches; the wall's left end, seen from inside the room, is x = 0, the floor is y = 0.
"""

from collections.abc import Iterator
from itertools import groupby

from planner.drawings.dimensions import TYPE
from planner.drawings.faces import BARE, cut_through, faces
from planner.drawings.joinery import box, closed, opening_lines, opening_shade
from planner.drawings.measures import CUT, dimensioned, standing
from planner.drawings.relief import edges, level, seen_corners, shaded
from planner.drawings.scene import Group, Path, Scene, Shape, Text, line, rectangle, text_width, wrapped
from planner.mouldings.curves import Line, Placement, Segment
from planner.units import format_length, format_size
from planner.walls.layout import WallLayout

HEAVY = 3.0
"""What stands out this far [in] has a heavy outline."""


def elevation(layout: WallLayout, dimensions: bool = True, title: str | None = None) -> Scene:
    """One wall, seen from inside the room.

    Parameters
    ----------
    layout : the wall with its trim.
    dimensions : whether it is dimensioned: jambs along the floor, trim at the left, sills and heads at the right.
    title : what is written under it; room, wall, tier and ceiling where none is given.
    """
    shapes = list(wall(layout))
    low = -CUT
    if dimensions:
        measured, low = dimensioned(layout)
        shapes += measured
    words = title if title is not None else heading(layout)
    if words:
        shapes.append(Text(layout.length / 2, low - 2.6 * TYPE, words, 1.3 * TYPE, "middle", bold=True))
    return Scene(tuple(shapes), heading(layout), description(layout))


def heading(layout: WallLayout) -> str:
    """Room, wall, and the package with its ceiling, in a line."""
    return f"{layout.room}, wall {layout.wall} · {layout.package.label}"


def description(layout: WallLayout) -> str:
    """What an elevation shows, in words."""
    trim = ", ".join(f"{e.element} {format_size(e.size)}" for e in layout.package.elements)
    there = ", ".join(f"{a.kind} {a.name}" for a in layout.apertures) or "no opening"
    return f"Wall {layout.wall} of {layout.room}, {format_length(layout.length)} long: {there}. Trim: {trim}."


def wall(layout: WallLayout, names: bool = True) -> Iterator[Shape]:
    """The wall without dimensions: fills and shadows, then lines, then what is cut; `names` is for its openings."""
    yield rectangle(0, 0, layout.length, layout.ceiling, "shade", "paper", line=False)
    for around in layout.surrounds:
        yield from opening_shade(around)
    for n, (_, solids) in enumerate(groupby(sorted(layout.solids, key=level), key=level)):
        yield from shaded(tuple(solids), layout, covers=n > 0)
    yield from _lines(layout)
    if names:
        yield from _names(layout)
    yield from _cut(layout)


def _lines(layout: WallLayout) -> Iterator[Path]:
    """Openings and trim as lines, those of one weight in one path."""
    lines: dict[str, list[Segment]] = {"fine": [], "edge": [], "profile": []}
    for around in layout.surrounds:
        aperture = around.aperture
        lines["fine"] += opening_lines(around)
        lines["edge"] += box((aperture.x0, aperture.y0), (aperture.x1, aperture.y1))
    for s in layout.solids:
        corners = seen_corners(s, layout)
        weight = "profile" if s.projection >= HEAVY else "fine" if s.element == "wainscot" else "edge"
        lines[weight] += closed(corners)
        lines["fine"] += edges(s, layout, corners)
    yield from (Path(tuple(segments), layer) for layer, segments in lines.items() if segments)


def _names(layout: WallLayout) -> Iterator[Shape]:
    """The name of each opening, on a patch of paper in its middle where it finds room, clear of the others."""
    taken: list[tuple[float, float, float, float]] = []
    for a in layout.apertures:
        width, height = a.x1 - a.x0, a.y1 - a.y0
        words = wrapped(a.name, 0.8 * width, 0.8 * TYPE)
        size = min(0.8 * TYPE, 0.9 * width / max(text_width(said, 1.0) for said in words))
        tall = 1.3 * size * len(words)
        if size < TYPE / 2 or height < tall + 2 * size:
            continue
        x, y, half = (a.x0 + a.x1) / 2, a.y0 + height * 0.5, max(text_width(said, size) for said in words) / 2
        low, high = y - tall / 2 - 0.3 * size, y + tall / 2 + 0.3 * size
        if any(x - half < x1 and x0 < x + half and low < y1 and y0 < high for x0, x1, y0, y1 in taken):
            continue
        taken.append((x - half, x + half, low, high))
        yield rectangle(x - half - size / 4, low, 2 * half + size / 2, high - low, "fine", "paper", line=False)
        for n, said in enumerate(words):
            yield Text(x, y + tall / 2 - (n + 1) * 1.3 * size + 0.3 * size, said, size, "middle")


def _cut(layout: WallLayout) -> Iterator[Shape]:
    """Floor, ceiling and the next walls where they are cut, with the profiles of what runs along them."""
    length, top = layout.length, layout.ceiling
    left, right = (CUT if inside else 0.0 for inside in layout.inside)
    for y in (-CUT, top):
        yield rectangle(-left, y, length + left + right, CUT, "shade", "wall", line=False)
    for x, wide in ((-left, left), (length, right)):
        if wide:
            yield rectangle(x, 0.0, wide, top, "shade", "wall", line=False)
    for x, inside in zip((0.0, length), layout.inside, strict=True):
        yield line((x, 0.0), (x, top), "cut" if inside else "edge")
    yield Path((Line((0.0, 0.0), (length, 0.0)), Line((0.0, top), (length, top))), "cut")
    for drawn, bottom in _sections(layout):
        for at_right, inside in enumerate(layout.inside):
            if inside:
                yield Group(drawn, Placement(length if at_right else 0.0, bottom, mirror=bool(at_right)))


def _sections(layout: WallLayout) -> Iterator[tuple[tuple[Path, ...], float]]:
    """What is cut of each element that runs along the walls, and the height of its foot [in]."""
    package = layout.package
    base, shoe, wainscot = (package.element(e) for e in ("base", "shoe", "wainscot"))
    if wainscot is not None:
        yield cut_through(wainscot, layout.sections), 0.0
    for name, (bottom, _) in standing(layout).items():
        element = package.element(name)
        if element is not None:
            yield cut_through(element, layout.sections), bottom
    if base is not None and shoe is not None:
        place = Placement(faces(layout.sections).get("base", BARE).reach(0.0, shoe.size) or base.projection)
        drawn = cut_through(shoe, layout.sections)
        yield tuple(Path(place.segments(p.segments), p.layer, p.closed, p.fill, p.line, p.name) for p in drawn), 0.0
