"""All walls of a room on one page. Lengths in inches."""

from collections.abc import Sequence

from planner.drawings.dimensions import TYPE
from planner.drawings.elevation import description, elevation
from planner.drawings.scene import Group, Scene, Shape
from planner.mouldings.curves import Placement
from planner.walls.layout import WallLayout

GAP = 5 * TYPE
"""Plain paper between two walls [in]."""


def room_sheet(layouts: Sequence[WallLayout], across: float = 760.0) -> Scene:
    """All walls of a room at one scale.

    Parameters
    ----------
    layouts : the walls, clockwise.
    across : about how wide the rows of walls are. [in]

    Examples
    --------
    >>> from planner import demo_house, plan, read_house
    >>> planned = plan(read_house(demo_house())[0])
    >>> room_sheet(planned.walls["Library"]).title
    'Library: 4 walls'
    """
    scenes = [(scene, scene.bounds()) for scene in map(elevation, layouts)]
    rows: list[list[tuple[Scene, tuple[float, float, float, float]]]] = [[]]
    width = 0.0
    for scene, ends in scenes:
        if rows[-1] and width + ends[2] - ends[0] > across:
            rows.append([])
            width = 0.0
        rows[-1].append((scene, ends))
        width += ends[2] - ends[0] + GAP
    shapes: list[Shape] = []
    y = 0.0
    for row in rows:
        top, x = max(ends[3] for _, ends in row), 0.0
        for scene, ends in row:
            shapes.append(Group(scene.shapes, Placement(x - ends[0], y - top), scene.title))
            x += ends[2] - ends[0] + GAP
        y -= top - min(ends[1] for _, ends in row) + GAP
    name = layouts[0].room
    return Scene(tuple(shapes), f"{name}: {len(layouts)} walls", " ".join(description(w) for w in layouts))
