"""What stands before a wall, as outlines that hide the trim behind them, each with a name clear of lines. In inches."""

from collections.abc import Iterator

from planner.drawings.joinery import Upright
from planner.drawings.scene import Box, Path, Ring, Shape, Text, polygon, rectangle, text_width, wrapped
from planner.mouldings.curves import Line, Point, Segment
from planner.walls.fixtures import Obstacle, beside_flight
from planner.walls.layout import WallLayout
from planner.walls.solids import TOUCH, within
from planner.walls.stairs import Beside, nosing

SLAB = 1.5
"""How thick a top shows [in]; common practice."""

DOOR, SHELF, FIN = 20.0, 12.0, 2.5
"""About how wide a cupboard's door is, how far apart shelves and fins are drawn [in]; common practice."""

AIR = 1.0
"""Plain paper kept round a name [in]."""


def fixtures_before(layout: WallLayout) -> Iterator[Path]:
    """The fixtures of a wall and the ends of those in its corners."""
    for one in layout.obstacles:
        corners = within(seen_corners(one, beside_flight(one, layout.stairs)), layout.length, layout.ceiling)
        if corners:
            yield polygon(corners, "shade", "paper", line=False)
            yield Path((*face_lines(one), Ring(corners)), "fine", name=one.fixture.name)


def fixture_names(layout: WallLayout, size: float) -> Iterator[Shape]:
    """The names of the fixtures on a wall, where they find room clear of lines; `size` is the height of type [in]."""
    taken: list[Upright] = [*layout.obstacles, *layout.apertures, *layout.solids]
    for one in layout.obstacles:
        if not one.turned and beside_flight(one, layout.stairs) is None:
            yield from _name(one, layout, taken, size)


def stopped_in_corner(layout: WallLayout, at_right: bool, height: float) -> bool:
    """Whether a fixture in a corner of the wall stops what would come out of it at a height on the next one [in]."""
    corner = layout.length if at_right else 0.0
    return any(
        o.kind.stops and abs((o.x1 if at_right else o.x0) - corner) <= TOUCH and o.y0 <= height < o.y1
        for o in layout.obstacles
    )


def seen_corners(one: Obstacle, up: Beside | None) -> tuple[Point, ...]:
    """The corners of a fixture [in]; one beside a flight keeps its heights above the nosings."""
    if up is None:
        return (one.x0, one.y0), (one.x1, one.y0), (one.x1, one.y1), (one.x0, one.y1)
    way = 1 if up.flight.up == "right" else -1
    left, right = (nosing(up.flight, (x - up.flight.offset) * way) for x in (one.x0, one.x1))
    return (one.x0, left + one.y0), (one.x1, right + one.y0), (one.x1, right + one.y1), (one.x0, left + one.y1)


def face_lines(one: Obstacle) -> list[Segment]:
    """What is drawn on the face of a fixture; of one in the corner its end is seen, with no more than a top."""
    wide, high = one.x1 - one.x0, one.y1 - one.y0
    if one.kind.face == "top" and high > 2 * SLAB:
        return [Line((one.x0, one.y1 - SLAB), (one.x1, one.y1 - SLAB))]
    if one.turned:
        return []
    if one.kind.face == "shelves":
        count = max(1, round(high / SHELF))
        return [Line((one.x0, y), (one.x1, y)) for y in (one.y0 + high * i / count for i in range(1, count))]
    if one.kind.face in ("doors", "fins"):
        count = max(1, round(wide / (DOOR if one.kind.face == "doors" else FIN)))
        return [Line((x, one.y0), (x, one.y1)) for x in (one.x0 + wide * i / count for i in range(1, count))]
    return []


def _name(one: Obstacle, layout: WallLayout, taken: list[Upright], size: float) -> Iterator[Shape]:
    """The name of a fixture on a patch of paper in its middle, else above or under it; none where there is no room."""
    wide, high, middle = one.x1 - one.x0, one.y1 - one.y0, (one.x0 + one.x1) / 2
    words = wrapped(one.fixture.name, wide - 2 * AIR, size)
    across, tall = max(text_width(said, size) for said in words), 1.3 * size * len(words)
    if across + 2 * AIR <= wide and tall + 2 * AIR <= high:
        low = (one.y0 + one.y1 - tall) / 2
        yield rectangle(middle - across / 2 - AIR, low, across + 2 * AIR, tall, "fine", "paper", line=False)
        yield from _lines(words, middle, low + tall, size)
        return
    across, tall = text_width(one.fixture.name, size), 1.3 * size
    for low in (one.y1 + AIR, one.y0 - AIR - tall):
        patch = Box(middle - across / 2 - AIR, low, middle + across / 2 + AIR, low + tall)
        on_wall = patch.x0 >= 0 and patch.x1 <= layout.length and low >= 0 and patch.y1 <= layout.ceiling
        if on_wall and not any(_overlap(patch, other) for other in taken):
            taken.append(patch)
            yield from _lines([one.fixture.name], middle, patch.y1, size)
            return


def _lines(words: list[str], x: float, top: float, size: float) -> Iterator[Text]:
    for n, said in enumerate(words):
        yield Text(x, top - (n + 1) * 1.3 * size + 0.3 * size, said, size, "middle")


def _overlap(a: Upright, b: Upright) -> bool:
    return a.x0 < b.x1 and b.x0 < a.x1 and a.y0 < b.y1 and b.y0 < a.y1
