"""A wall of a room as a trim carpenter reads it: to scale, with shadows, sections at the ends and dimensions.

Lengths in inches; the wall's left end, seen from inside the room, is x = 0, the floor is y = 0.
"""

from collections.abc import Iterator
from itertools import groupby

from planner.drawings.faces import BARE, cut_through, faces
from planner.drawings.fixtures import fixture_names, fixtures_before, stopped_in_corner
from planner.drawings.joinery import opening_lines, opening_shade
from planner.drawings.key import Key, key_of, tags, written
from planner.drawings.measures import ALL, CUT, ON_FLOOR, Told, above_floor, dimensioned, named
from planner.drawings.relief import edges, level, seen_outline, shaded
from planner.drawings.scale import Scale, paper, stated
from planner.drawings.scene import (
    Box,
    Group,
    Path,
    Polygon,
    Scene,
    Shape,
    Text,
    around,
    bounds,
    line,
    rectangle,
    wrapped,
)
from planner.drawings.stairs import flight_names, flights_before
from planner.mouldings.curves import Line, Placement, Segment
from planner.units import format_length, format_size
from planner.walls.layout import WallLayout

HEAVY = 3.0
"""What stands out this far [in] has a heavy outline."""


def elevation(
    layout: WallLayout, dimensions: bool = True, title: str | None = None, scale: Scale | None = None
) -> Scene:
    """One wall, seen from inside the room.

    Parameters
    ----------
    layout : the wall with its trim.
    dimensions : whether it is dimensioned, with a key to what is too small to be.
    title : what is written under it; room, wall, tier and ceiling where none is given.
    scale : that it is laid out for; that of walls on paper where none is given.
    """
    scale = scale or paper(layout.unit)
    key = key_of((layout,)) if dimensions else None
    shapes, box = figure(layout, scale, key, title)
    if key is not None:
        said = written(key, box.x0, box.y0 - scale.type("small"), box.x1 - box.x0, scale)
        shapes, box = [*shapes, *said], around(box, bounds(said)) if said else box
    return stated(shapes, heading(layout), description(layout), scale, box)


def figure(
    layout: WallLayout, scale: Scale, key: Key | None = None, title: str | None = None, told: Told = ALL
) -> tuple[list[Shape], Box]:
    """One wall with what is written round it, and the box that all takes [in].

    It is dimensioned where there is a key for what is too small to be; `told` says which heights stand beside it.
    """
    names = [*flight_names(layout, scale.type("small")), *fixture_names(layout, scale.type("small"))]
    marks = tags(layout, key, scale, names) if key is not None else ()
    measured, box = written_round(layout, scale, key, title, told)
    return [*wall(layout, scale), *names, *marks, *measured], box


def written_round(
    layout: WallLayout, scale: Scale, key: Key | None = None, title: str | None = None, told: Told = ALL
) -> tuple[list[Shape], Box]:
    """What is written round a wall, and the box that it takes with the wall [in]; the rest is as in `figure`."""
    if key is not None:
        measured, low = dimensioned(layout, key, scale, told)
    else:
        measured, low = named(layout, -CUT - 0.4 * scale.type("note"), scale.type("note"))
    words = title if title is not None else heading(layout)
    size = scale.type("label")
    for n, said in enumerate(wrapped(words, max(layout.length, 20 * size), size)):
        measured.append(Text(layout.length / 2, low - (1.2 + 1.25 * n) * size, said, size, "middle", bold=True))
    whole = Box(-CUT, -CUT, layout.length + CUT, layout.ceiling + CUT)
    return measured, around(whole, bounds(measured)) if measured else whole


def heading(layout: WallLayout) -> str:
    """Room, wall, and the package with its ceiling, in a line."""
    return f"{layout.room}, wall {layout.wall} · {layout.package.label}"


def description(layout: WallLayout) -> str:
    """What an elevation shows, in words."""
    trim = ", ".join(f"{e.element} {format_size(e.size, layout.unit)}" for e in layout.package.elements)
    there = ", ".join(f"{a.kind} {a.name}" for a in layout.apertures) or "no opening"
    return (
        f"Wall {layout.wall} of {layout.room}, {format_length(layout.length, layout.unit)} long: {there}. Trim: {trim}."
    )


def wall(layout: WallLayout, scale: Scale | None = None) -> Iterator[Shape]:
    """The wall without a word: fills and shadows, then lines, then what is cut; of fine edges those that read apart."""
    scale = scale or paper(layout.unit)
    yield rectangle(0, 0, layout.length, layout.ceiling, "shade", "paper", line=False)
    for surround in layout.surrounds:
        yield from opening_shade(surround)
    for n, (_, solids) in enumerate(groupby(sorted(layout.solids, key=level), key=level)):
        yield from shaded(tuple(solids), layout, covers=n > 0)
    yield from _lines(layout, scale.close)
    yield from flights_before(layout)
    yield from fixtures_before(layout)
    yield from _cut(layout)


def _lines(layout: WallLayout, close: float) -> Iterator[Path]:
    """Openings and trim as lines, those of one weight in one path; edges closer than `close` [in] left out."""
    lines: dict[str, list[Segment | Polygon]] = {"fine": [], "edge": [], "profile": []}
    for surround in layout.surrounds:
        aperture = surround.aperture
        lines["fine"] += opening_lines(surround)
        lines["edge"].append(Box(aperture.x0, aperture.y0, aperture.x1, aperture.y1))
    for s in layout.solids:
        outline = seen_outline(s, layout)
        weight = "profile" if s.projection >= HEAVY else "fine" if s.element == "wainscot" else "edge"
        lines[weight].append(outline)
        lines["fine"] += edges(s, layout, outline.corners, close)
    yield from (Path(tuple(segments), layer) for layer, segments in lines.items() if segments)


def _cut(layout: WallLayout) -> Iterator[Shape]:
    """Floor, ceiling and the next walls where they are cut, with the profiles of what runs along them."""
    length, top = layout.length, layout.ceiling
    left, right = (CUT if inside else 0.0 for inside in layout.inside)
    walls = [Box(-left, y, length + right, y + CUT) for y in (-CUT, top)]
    walls += [Box(x, 0.0, x + wide, top) for x, wide in ((-left, left), (length, right)) if wide]
    yield Path(tuple(walls), "shade", fill="wall", line=False)
    for x, inside in zip((0.0, length), layout.inside, strict=True):
        yield line((x, 0.0), (x, top), "cut" if inside else "edge")
    yield Path((Line((0.0, 0.0), (length, 0.0)), Line((0.0, top), (length, top))), "cut")
    floors = (layout.floor_at(at_right=False), layout.floor_at(at_right=True))
    for name, drawn, off, bottom in _sections(layout):
        for at_right, inside in enumerate(layout.inside):
            foot = bottom + floors[at_right] if name in ON_FLOOR else bottom
            if inside and not stopped_in_corner(layout, bool(at_right), foot):
                yield Group(drawn, Placement(length - off if at_right else off, foot, mirror=bool(at_right)))


def _sections(layout: WallLayout) -> Iterator[tuple[str, tuple[Path, ...], float, float]]:
    """What is cut of each element that runs along the walls, how far off the wall it stands, and its foot [in]."""
    package = layout.package
    base, shoe, wainscot = (package.element(e) for e in ("base", "shoe", "wainscot"))
    if wainscot is not None:
        yield "wainscot", cut_through(wainscot, layout.sections), 0.0, 0.0
    for name, (bottom, _) in above_floor(layout).items():
        element = package.element(name)
        if element is not None:
            yield name, cut_through(element, layout.sections), 0.0, bottom
    if base is not None and shoe is not None:
        off = faces(layout.sections).get("base", BARE).reach(0.0, shoe.size) or base.projection
        yield "shoe", cut_through(shoe, layout.sections), off, 0.0
