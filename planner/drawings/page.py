"""All walls of a room on one page. Lengths in inches."""

from collections.abc import Callable, Mapping, Sequence

from planner.drawings.elevation import description, figure, heading
from planner.drawings.key import Key, key_of, plain_key, written
from planner.drawings.scale import Scale, largest, paper, scales, stated
from planner.drawings.scene import Box, Group, Scene, Shape, around, bounds
from planner.drawings.svg import MARGIN
from planner.mouldings.curves import Placement
from planner.units import counted
from planner.values import OnDemand
from planner.walls.layout import WallLayout

Figure = tuple[list[Shape], Box]
"""What is drawn of a wall, and what it takes."""

GAP = 2
"""Plain paper between two walls, in heights of the type."""


QUARTERS = {"N": "north", "E": "east", "S": "south", "W": "west"}
"""The walls of a rectangular room, in words."""


def room_sheet(layouts: Sequence[WallLayout], across: float = 760.0, scale: Scale | None = None) -> Scene:
    """All walls of a room at one scale, with one key to what is too small to be dimensioned.

    Parameters
    ----------
    layouts : the walls, clockwise.
    across : about how wide the rows of walls are; a wall that is wider has a row of its own. [in]
    scale : that the sheet is laid out for; that of walls on paper where none is given.

    Examples
    --------
    >>> from planner import demo_house, plan, read_house
    >>> planned = plan(read_house(demo_house())[0])
    >>> room_sheet(planned.walls["Library"]).title
    'Library: 4 walls'
    """
    key, scale = key_of(layouts), scale or paper(layouts[0].unit)
    return _in_rows(layouts, [figure(wall, scale, key) for wall in layouts], key, across, scale)


def plain_sheet(layouts: Sequence[WallLayout], across: float, names: Mapping[str, str]) -> Scene:
    """All walls of a room at the scale of walls on paper for those who know no trade: with their measures, in rows
    about so wide [in], what runs along them by plain `names`, and nothing by letters.
    """

    def head(wall: WallLayout) -> str:
        side = QUARTERS.get(wall.wall)
        return f"{wall.room}, {side} wall" if side else f"{wall.room}, wall {wall.wall}"

    key, scale = plain_key(layouts, names), paper(layouts[0].unit)
    return _in_rows(layouts, [figure(wall, scale, key, head(wall)) for wall in layouts], key, across, scale, head)


def sheets_for(layouts: Sequence[WallLayout], page: float) -> list[Scene]:
    """Each wall of a room on a sheet of its own for a page so wide [px], all at the largest scale at which each fits.

    Where none does, at the smallest, and the page is scrolled. What is on several walls has one letter on all of them.
    """
    scale, figures, key = _fitted(layouts, page)
    across = (page - 2 * MARGIN) / scale.pixels
    return [
        _in_rows([wall], [drawn], key.of(wall), across, scale) for wall, drawn in zip(layouts, figures, strict=True)
    ]


def _fitted(layouts: Sequence[WallLayout], page: float) -> tuple[Scale, list[Figure], Key]:
    """The scale at which walls fit a page so wide [px], the walls at it, and their key."""
    key, longest = key_of(layouts), max(wall.length for wall in layouts)
    offered = scales("walls", layouts[0].unit)
    figures = OnDemand(offered, lambda scale: [figure(wall, scale, key) for wall in layouts])

    def width(scale: Scale) -> float:
        bare = longest * scale.pixels
        return bare if bare > page else max(box.x1 - box.x0 for _, box in figures[scale]) * scale.pixels + 2 * MARGIN

    scale = largest(offered, width, page)
    return scale, figures[scale], key


def _in_rows(
    layouts: Sequence[WallLayout],
    figures: Sequence[Figure],
    key: Key,
    across: float,
    scale: Scale,
    head: Callable[[WallLayout], str] = heading,
) -> Scene:
    """Walls as they are drawn at a scale, with their boxes, in rows about so wide [in], and the key under them."""
    size = scale.type("note")
    rows: list[list[tuple[list[Shape], Box, str]]] = [[]]
    width = 0.0
    for (shapes, ends), title in zip(figures, map(head, layouts), strict=True):
        if rows[-1] and width + ends.x1 - ends.x0 > across:
            rows.append([])
            width = 0.0
        rows[-1].append((shapes, ends, title))
        width += ends.x1 - ends.x0 + GAP * size
    found: list[Shape] = []
    y, right = 0.0, 0.0
    for row in rows:
        top, x = max(ends.y1 for _, ends, _ in row), 0.0
        for shapes, ends, title in row:
            found.append(Group(tuple(shapes), Placement(x - ends.x0, y - top), title))
            x += ends.x1 - ends.x0 + GAP * size
        y -= top - min(ends.y0 for _, ends, _ in row) + GAP * size
        right = max(right, x - GAP * size)
    said = written(key, 0.0, y, right, scale)
    box = around(Box(0.0, y, right, 0.0), bounds(said)) if said else Box(0.0, y + GAP * size, right, 0.0)
    name = layouts[0].room
    told = " ".join(map(description, layouts))
    return stated([*found, *said], f"{name}: {counted(len(layouts), 'wall')}", told, scale, box)
