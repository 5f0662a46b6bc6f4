"""The walls along a route side by side at one scale, as the step-down is walked. Lengths in inches."""

from collections.abc import Iterator, Mapping, Sequence

from planner.drawings.elevation import wall
from planner.drawings.measures import CUT
from planner.drawings.scale import Scale, largest, scales, stated
from planner.drawings.scene import Group, Scene, Shape, Text, bounds, text_width, wrapped
from planner.drawings.svg import MARGIN
from planner.mouldings.curves import Placement
from planner.walls.layout import WallLayout, stretch
from planner.walls.openings import Aperture

GAP = 2 * CUT
"""Plain paper between two stretches of wall [in]."""

REACH = 54.0
"""How much of a wall is shown on either side of the passage [in]."""

BESIDE = 24.0
"""How much at least beyond the jambs of a wide one [in]."""


def strip(walls: Mapping[str, Sequence[WallLayout]], route: Sequence[str], page: float = 1190.0) -> Scene:
    """The walls along a route side by side at one scale, as the step-down is walked.

    Of each room the wall is shown that leads on to the next, about the passage; of the last its longest.

    Parameters
    ----------
    walls : the walls of each room of a plan.
    route : names of the rooms, from the entry on.
    page : how wide a page it is for; what finds no room beside the others goes below them. [px]

    Examples
    --------
    >>> from planner import demo_house, plan, read_house
    >>> planned = plan(read_house(demo_house())[0])
    >>> strip(planned.walls, planned.routes[0].rooms).title
    'From Entry Hall to Guest Bedroom, as it is walked'
    """
    stretches = [_shown(walls[name], onward) for name, onward in zip(route, [*route[1:], ""], strict=True)]
    total = sum(w.length for w in stretches) + GAP * (len(stretches) - 1)
    scale = largest(scales("walls", stretches[0].unit), lambda scale: total * scale.pixels + 2 * MARGIN, page)
    across = (page - 2 * MARGIN) / scale.pixels
    title = f"From {route[0]} to {route[-1]}, as it is walked"
    size = scale.type("title")
    heads = wrapped(title, max(min(across, total), 12 * size), size, bold=True)
    shapes: list[Shape] = [Text(0.0, -(n + 1) * 1.3 * size, said, size, bold=True) for n, said in enumerate(heads)]
    y = -(len(heads) + 0.5) * 1.3 * size
    for row in _rows(stretches, across):
        found = _row(row, y - CUT - max(w.ceiling for w in row), scale)
        shapes += found
        y = bounds(found)[1] - 2 * scale.type("label")
    words = "; ".join(f"{w.room}: {w.package.label}" for w in stretches)
    return stated(shapes, title, words, scale)


def _rows(stretches: Sequence[WallLayout], across: float) -> list[list[WallLayout]]:
    """Stretches of wall in rows no wider than asked, where none alone is wider [in]."""
    rows: list[list[WallLayout]] = [[]]
    for shown in stretches:
        if rows[-1] and sum(w.length + GAP for w in rows[-1]) + shown.length > across:
            rows.append([])
        rows[-1].append(shown)
    return rows


def _row(stretches: Sequence[WallLayout], floor: float, scale: Scale) -> list[Shape]:
    """Stretches of wall side by side on one floor [in], with what is written under each."""
    shapes: list[Shape] = []
    x = 0.0
    for layout in stretches:
        shapes.append(Group(tuple(wall(layout, scale)), Placement(x, floor), f"{layout.room}: {layout.package.label}"))
        shapes += _captions(layout, x, floor, scale.type("label"))
        x += layout.length + GAP
    return shapes


def _shown(walls: Sequence[WallLayout], onward: str) -> WallLayout:
    """The stretch of wall that a strip shows of a room: about the passage onward, else where most is to be seen.

    Of several, one that cuts no opening in two.
    """
    seen = [(wall, a) for wall in walls for a in wall.apertures]
    leading = [(wall, a) for wall, a in seen if onward and a.other == onward]
    windows = [(wall, a) for wall, a in seen if a.kind == "window"]
    stretches = [_about(wall, a) for wall, a in leading or windows or seen]
    if not stretches:
        longest = max(walls, key=lambda w: w.length)
        return stretch(longest, 0.0, 2 * REACH)
    shown, _ = min(stretches, key=lambda found: (found[1], -len(found[0].apertures), -found[0].length))
    return shown


def _about(wall: WallLayout, a: Aperture) -> tuple[WallLayout, int]:
    """The stretch of wall about an opening, and how many openings it cuts in two."""
    reach = max(REACH, (a.x1 - a.x0) / 2 + BESIDE)
    x0 = max(0.0, min((a.x0 + a.x1) / 2 - reach, wall.length - 2 * reach))
    x1 = x0 + 2 * reach
    return stretch(wall, x0, x1), sum(s.left < x0 < s.right or s.left < x1 < s.right for s in wall.surrounds)


def _captions(layout: WallLayout, x: float, floor: float, size: float) -> Iterator[Text]:
    """Room, tier and package under a stretch of wall, long ones in several lines."""
    said = [(layout.room, True), (f"tier {layout.package.tier}", False), (layout.package.label, False)]
    lines = [(line, bold) for words, bold in said for line in _broken(words, layout.length, size, bold)]
    for n, (line, bold) in enumerate(lines):
        y = floor - CUT - (n + 1) * 1.35 * size
        yield Text(x + layout.length / 2, y, line, size, "middle", bold=bold)


def _broken(words: str, width: float, size: float, bold: bool) -> Iterator[str]:
    """Lines no wider than asked [in], a word that is wider in pieces."""
    most = int(width / text_width("x", size, bold))
    for line in wrapped(words, width, size, bold):
        yield from (line[i : i + most] for i in range(0, len(line), most))
