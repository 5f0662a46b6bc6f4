"""What is drawn at full size, for knives and mock-ups: profiles and sections in thin lines, marks at which sheets are
joined, and a rule by which a print is checked. Lengths in inches."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from planner.drawings import boards
from planner.drawings.profiles import cut
from planner.drawings.scale import Scale
from planner.drawings.scene import Box, Path, Shape, Text, bounds, circle, flat, line, rectangle
from planner.drawings.section import ends_of
from planner.library import Library
from planner.mouldings.assembly import Placed
from planner.mouldings.curves import Line, Point, Segment
from planner.mouldings.members import Profile
from planner.trim.joinery import joinery
from planner.trim.packages import Element, Package
from planner.units import INCHES_IN, METRIC, Unit

BEYOND = 0.3
"""How far the wall, the floor and the ceiling are drawn beyond a section [in]."""

HAIR = 1e-9
"""What is narrower than this is nothing [in]."""

CROSS, RING = 0.25, 0.08
"""Half the length of a register mark's lines, and the radius of its ring [in]."""

SQUARE = {"in": 1.0, "mm": 25 * INCHES_IN["mm"]}
"""The side of the square that is measured on a print [in]."""

RULE = {"in": (6, 1.0, 8), "mm": (15, 10 * INCHES_IN["mm"], 2)}
"""The rule beside it: its steps, how long each is [in], and into how many parts each is divided."""


def profile_outline(profile: Profile) -> list[Shape]:
    """A profile cut through, its back on the wall and its foot at (0, 0)."""
    return _thin(cut(Placed(profile)))


def section_outlines(package: Package, element: Element, placed: Sequence[Placed], library: Library) -> list[Shape]:
    """An element of a package cut through with the boards behind it, the wall, and the floor or the ceiling."""
    shapes: list[Shape] = [*boards.drawn(joinery(package, element, library)), *_thin(s for p in placed for s in cut(p))]
    box, ends = bounds(shapes), ends_of(element, library)
    foot, head = (0.0, element.size) if ends.floor or ends.ceiling else (box.y0, box.y1)
    shapes.append(line((0.0, foot - BEYOND * (not ends.floor)), (0.0, head + BEYOND * (not ends.ceiling)), "fine"))
    for there, y in ((ends.floor, foot), (ends.ceiling, head)):
        if there:
            shapes.append(line((box.x0, y), (box.x1 + BEYOND, y), "fine"))
    return shapes


def is_plain(shapes: Iterable[Shape], shown: Box) -> bool:
    """Whether nothing of a drawing begins, ends or bends within a box: level or upright lines run through it alone."""
    return all(_runs_through(s, shown) for path in flat(shapes) if isinstance(path, Path) for s in path.sides)


def _runs_through(segment: Segment, box: Box) -> bool:
    """Whether a segment is a straight line from one side of a box to the other, or lies outside of it."""
    x0, y0, x1, y1 = bounds((Path((segment,)),))
    if x1 <= box.x0 or x0 >= box.x1 or y1 <= box.y0 or y0 >= box.y1:
        return True
    level, upright = abs(y1 - y0) < HAIR, abs(x1 - x0) < HAIR
    return isinstance(segment, Line) and (
        (level and x0 <= box.x0 and x1 >= box.x1) or (upright and y0 <= box.y0 and y1 >= box.y1)
    )


def register_marks(points: Iterable[Point]) -> Iterator[Shape]:
    """A cross in a ring at each point, by which two sheets that both show it are laid upon each other."""
    for x, y in points:
        yield Path((Line((x - CROSS, y), (x + CROSS, y)), Line((x, y - CROSS), (x, y + CROSS))), "dimension")
        yield circle((x, y), RING, "dimension")


def check_rule(unit: Unit, scale: Scale) -> list[Shape]:
    """A square and a rule of known length, their lower left corner at (0, 0), to be measured on a print."""
    small = "mm" if unit in METRIC else "in"
    side, (steps, long, parts) = SQUARE[small], RULE[small]
    size, left = scale.type("small"), SQUARE[small] + 0.4
    shapes: list[Shape] = [rectangle(0.0, 0.0, side, side)]
    ticks = []
    for n in range(steps * parts + 1):
        x, tall = left + n * long / parts, 0.22 if n % parts == 0 else 0.12
        ticks.append(Line((x, 0.0), (x, tall)))
    shapes.append(Path((Line((left, 0.0), (left + steps * long, 0.0)), *ticks), "edge"))
    for n in range(0, steps + 1, 1 if small == "in" else 5):
        figure = f"{n * (10 if small == 'mm' else 1)}"
        shapes.append(Text(left + n * long, 0.3, figure, size, "middle"))
    shapes.append(Text(left + steps * long + 0.15, 0.0, small, size))
    return shapes


def _thin(paths: Iterable[Path]) -> list[Shape]:
    """Paths in the line of an edge, so that a knife is ground to its middle."""
    return [replace(path, layer="edge") for path in paths]
