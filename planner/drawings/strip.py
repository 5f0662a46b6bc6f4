"""The walls along a route side by side at one scale, as the step-down is walked. Lengths in inches."""

from collections.abc import Iterator, Mapping, Sequence

from planner.drawings.dimensions import TYPE
from planner.drawings.elevation import wall
from planner.drawings.measures import CUT
from planner.drawings.scene import Group, Scene, Shape, Text, text_width, wrapped
from planner.mouldings.curves import Placement
from planner.walls.layout import WallLayout, stretch
from planner.walls.openings import Aperture

REACH = 54.0
"""How much of a wall is shown on either side of the passage [in]."""

BESIDE = 24.0
"""How much at least beyond the jambs of a wide one [in]."""


def strip(walls: Mapping[str, Sequence[WallLayout]], route: Sequence[str]) -> Scene:
    """The walls along a route side by side at one scale, as the step-down is walked.

    Of each room the wall is shown that leads on to the next, about the passage; of the last its longest.

    Parameters
    ----------
    walls : the walls of each room of a plan.
    route : names of the rooms, from the entry on.

    Examples
    --------
    >>> from planner import demo_house, plan, read_house
    >>> planned = plan(read_house(demo_house())[0])
    >>> strip(planned.walls, planned.routes[0].rooms).title
    'From Entry Hall to Guest Bedroom, as it is walked'
    """
    stretches = [_shown(walls[name], onward) for name, onward in zip(route, [*route[1:], ""], strict=True)]
    gap = 2 * CUT
    total = sum(w.length for w in stretches) + gap * (len(stretches) - 1)
    size = max(1.6 * TYPE, total / 85)
    shapes: list[Shape] = []
    x = 0.0
    for layout in stretches:
        named = f"{layout.room}: {layout.package.label}"
        shapes.append(Group(tuple(wall(layout, names=False)), Placement(x, 0.0), named))
        shapes += _captions(layout, x, size)
        x += layout.length + gap
    ceiling = max(w.ceiling for w in stretches)
    title = f"From {route[0]} to {route[-1]}, as it is walked"
    words = [f"{w.room}: {w.package.label}" for w in stretches]
    shapes.append(Text(0.0, ceiling + CUT + size, title, 1.2 * size, bold=True))
    return Scene(tuple(shapes), title, "; ".join(words))


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


def _captions(layout: WallLayout, x: float, size: float) -> Iterator[Text]:
    """Room, tier and package under a stretch of wall; long names in several lines."""
    lines = wrapped(layout.room, layout.length, size)
    lines += [f"tier {layout.package.tier}", layout.package.label]
    for n, said in enumerate(lines):
        fits = min(size, layout.length / max(1.0, text_width(said, 1.0)))
        y = -CUT - (n + 1) * 1.35 * size
        yield Text(x + layout.length / 2, y, said, fits, "middle", bold=n < len(lines) - 2)
