"""One element of one tier cut through, for a table in which all stand at one scale. Lengths in inches."""

from collections.abc import Sequence

from planner.drawings.profiles import cut, ground, wall_section
from planner.drawings.scale import Scale
from planner.drawings.scene import Group, Scene
from planner.mouldings.assembly import Placed
from planner.mouldings.curves import Placement

WALL = 0.75
"""Thickness of the wall that it stands on [in]."""


def cell(element: str, form: str, placed: Sequence[Placed], scale: Scale) -> Scene:
    """An element cut through where it stands on its wall.

    Parameters
    ----------
    element, form : what it is.
    placed : its profiles; at least one.
    scale : that it is drawn at, as every other of its table.
    """
    tall, reach = max(p.top for p in placed), max(p.reach for p in placed)
    wall = wall_section(-WALL, WALL, -0.25, tall + 0.25, 0.5)
    figure = Group((*ground(placed), *(shape for p in placed for shape in cut(p))), Placement(0.0, 0.0))
    title = f"{element}: {form}, {scale.size(tall)} high, {scale.size(reach)} deep"
    return Scene((*wall, figure), title, scale=scale.pixels, unit=scale.unit)
