"""What stands before a wall as bodies before the viewer: fixtures and flights of stairs. Lengths in inches."""

from collections.abc import Iterator

from planner.drawings.before_eye import Standing, Step
from planner.drawings.bodies import solid_body
from planner.drawings.fixtures import face_lines, seen_corners
from planner.drawings.stairs import landing_corners, newel_corners, open_side
from planner.mouldings.curves import Line, Point
from planner.walls.fixtures import beside_flight
from planner.walls.layout import WallLayout
from planner.walls.solids import within
from planner.walls.stairs import landings


def furnished(layout: WallLayout, view: Standing, wide: float) -> Iterator[Step]:
    """Flights against a wall, and its fixtures without the ends of those in its corners.

    `wide` is the width of the flights [in].
    """
    obstacles = sorted(
        (one for one in layout.obstacles if not one.turned), key=lambda one: -abs((one.x0 + one.x1) / 2 - view.eye[0])
    )
    for one in obstacles:
        if (up := beside_flight(one, layout.stairs)) is not None:
            yield from _before(seen_corners(one, up), 0.0, one.stands, layout, view)
    if (turn := layout.half_turn) is not None:
        under, floor, end = turn.under, turn.floor, layout.length
        yield from _before(((0.0, floor), (0.0, under), (end, under), (end, floor)), 0.0, wide, layout, view)
    for flight in layout.stairs:
        for landing in landings(flight, layout.stairs, layout.length):
            yield from _before(landing_corners(flight, landing), 0.0, wide, layout, view)
        yield from _before(open_side(flight), 0.0, wide, layout, view)
        yield from _before(newel_corners(flight), wide - flight.rules.newel.side, wide, layout, view)
    for one in obstacles:
        if beside_flight(one, layout.stairs) is None:
            lines = tuple(s for s in face_lines(one) if isinstance(s, Line))
            yield from _before(seen_corners(one, None), 0.0, one.stands, layout, view, lines)


def _before(
    corners: tuple[Point, ...],
    hind: float,
    off: float,
    layout: WallLayout,
    view: Standing,
    lines: tuple[Line, ...] = (),
) -> Iterator[Step]:
    """A body before the wall, as much of it as is no higher and no wider than the wall."""
    seen = within(corners, layout.length, layout.ceiling)
    if seen:
        yield from solid_body(seen, hind, off, view, lines)
