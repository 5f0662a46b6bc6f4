"""Rules on flights of stairs and the trim beside them. All lengths are inches."""

from collections.abc import Iterator

from planner.checks.check import Check, raised
from planner.library import Library
from planner.units import format_length
from planner.walls.layout import WallLayout
from planner.walls.solids import TOUCH
from planner.walls.stairs import landings, nosing, on_wall


def check_stairs(layout: WallLayout, library: Library) -> Iterator[Check]:
    """Every check of the flights against one wall."""
    if layout.stairs or layout.half_turn is not None:
        yield from _steps(layout, library)
        yield from _openings_below(layout, library)
        yield from _openings_at_landings(layout, library)


def _steps(layout: WallLayout, library: Library) -> Iterator[Check]:
    """Steps are such as people walk on with ease."""
    rule = library.stairs.steps

    def said(length: float) -> str:
        return format_length(length, layout.unit)

    for up in layout.stairs:
        flight, total = up.flight, up.flight.run + 2 * up.flight.rise
        faults = []
        if flight.rise > rule.highest_rise:
            faults.append(f"a rise of {said(flight.rise)} is above {said(rule.highest_rise)}")
        if flight.run < rule.least_run:
            faults.append(f"a run of {said(flight.run)} is under {said(rule.least_run)}")
        if not rule.least_sum <= total <= rule.most_sum:
            bounds = f"{said(rule.least_sum)} to {said(rule.most_sum)}"
            faults.append(f"two rises and a run are {said(total)}, not {bounds}")
        if faults:
            yield raised(
                library, layout.unit, "steps of a stair", layout.room, flight=flight.name, what="; ".join(faults)
            )


def _openings_below(layout: WallLayout, library: Library) -> Iterator[Check]:
    """What stands round a door under a flight stays below its string."""
    for up in layout.stairs:
        flight, way = up.flight, 1 if up.flight.up == "right" else -1
        for around in layout.surrounds:
            ends = sorted((x - flight.offset) * way for x in (around.left, around.right))
            if ends[1] <= 0 or ends[0] >= flight.length:
                continue
            under = nosing(flight, max(ends[0], 0.0)) - up.rules.depth(flight)
            if around.bottom < under < around.top - TOUCH:
                sizes = {"under": under, "top": around.top, "by": around.top - under}
                names = {"wall": layout.wall, "flight": flight.name}
                yield raised(
                    library, layout.unit, "stair over an opening", layout.room, around.aperture.name, **names, **sizes
                )


def _openings_at_landings(layout: WallLayout, library: Library) -> Iterator[Check]:
    """An opening is above a landing or below it."""
    for name, floor, (x0, x1) in _landings(layout):
        under = floor - library.stairs.landing.thick
        for around in layout.surrounds:
            beside = min(around.right, x1) - max(around.left, x0) > TOUCH
            if beside and around.bottom < floor - TOUCH and around.top > under + TOUCH:
                sizes = {"floor": floor, "bottom": around.bottom, "top": around.top}
                names = {"wall": layout.wall, "flight": name}
                yield raised(
                    library, layout.unit, "landing at an opening", layout.room, around.aperture.name, **names, **sizes
                )


def _landings(layout: WallLayout) -> Iterator[tuple[str, float, tuple[float, float]]]:
    """The landings before a wall: the flight that leads to each, its floor, and its ends along the wall [in]."""
    if (turn := layout.half_turn) is not None:
        yield turn.name, turn.floor, (0.0, layout.length)
    for up in layout.stairs:
        for landing in landings(up, layout.stairs, layout.length):
            near = up.flight.length if landing.upper else 0.0
            x0, x1 = sorted(on_wall(up.flight, (along, 0.0))[0] for along in (near, landing.far))
            yield up.flight.name, landing.floor, (x0, x1)
