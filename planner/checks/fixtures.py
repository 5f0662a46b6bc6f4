"""Rules on the trim of a wall and the fixtures before it. All lengths are inches."""

from collections.abc import Callable, Iterator

from planner.checks.check import Check, raised
from planner.house.fixtures import FLUSH, HANDRAIL
from planner.library import Library
from planner.trim.packages import Element
from planner.walls.fixtures import Obstacle, beside_flight
from planner.walls.layout import WallLayout, rail_of
from planner.walls.solids import TOUCH
from planner.walls.stairs import Beside


def check_fixtures(layout: WallLayout, library: Library) -> Iterator[Check]:
    """Every check of what stands before one wall."""
    if layout.obstacles:
        for rule in RULES:
            yield from rule(layout, library)


def running(layout: WallLayout) -> Iterator[tuple[Element, float, float]]:
    """What runs along a wall above its base, with its lower and upper edge above the floor [in]."""
    rail = rail_of(layout.package)
    if rail is not None and layout.rail_top is not None:
        yield rail, layout.rail_top - rail.size, layout.rail_top
    picture = layout.package.element("picture rail")
    if picture is not None and picture.bottom is not None:
        yield picture, picture.bottom, picture.bottom + picture.size


def _standing(layout: WallLayout) -> Iterator[Obstacle]:
    """The fixtures on the wall itself; the end of one in the corner is told where it stands."""
    return (one for one in layout.obstacles if not one.turned)


def _across(layout: WallLayout, library: Library) -> Iterator[Check]:
    """No rail runs across a fixture; one that ends clear of it is told, as it might have passed."""
    for one in _standing(layout):
        for element, low, high in running(layout) if one.kind.kind != HANDRAIL else ():
            names = {"wall": layout.wall, "element": element.element, "fixture": one.fixture.name}
            sizes = {"low": low, "high": high, "bottom": one.y0, "top": one.y1}
            if not one.touches(low, high):
                continue
            match one.kind.manner(element.element):
                case "passes":
                    yield raised(library, layout.unit, "rail across a fixture", layout.room, **names, **sizes)
                case "returns" if one.y0 < low:
                    name = "rail broken by a fixture"
                    yield raised(library, layout.unit, name, layout.room, **names, **sizes, clear=one.kind.clear)


def _under_the_crown(layout: WallLayout, library: Library) -> Iterator[Check]:
    """What goes up into the crown goes up to the ceiling; what stays below it leaves wall enough to read."""
    crown, least = layout.package.element("crown"), library.surrounds.apart.inches
    if crown is None:
        return
    bottom = layout.ceiling - crown.size
    for one in _standing(layout):
        names, depth = {"wall": layout.wall, "fixture": one.fixture.name}, {"depth": one.fixture.depth}
        if bottom + TOUCH < one.y1 < layout.ceiling - TOUCH:
            sizes = {"top": one.y1, "bottom": bottom, "by": one.y1 - bottom, "reach": crown.projection} | depth
            yield raised(library, layout.unit, "crown on a cabinet", layout.room, **names, **sizes)
        elif 0 < bottom - one.y1 < least:
            names = {"wall": layout.wall, "what": one.fixture.name, "against": "the crown"}
            yield raised(
                library, layout.unit, "mouldings too close", layout.room, **names, by=bottom - one.y1, least=least
            )


def _registers(layout: WallLayout, library: Library) -> Iterator[Check]:
    """What lies in the wall lies clear of the base."""
    base = layout.package.element("base")
    if base is None:
        return
    for one in _standing(layout):
        if one.fixture.depth <= FLUSH and one.manner("base", 0.0, base.size) != "passes":
            names = {"wall": layout.wall, "fixture": one.fixture.name}
            sizes = {"bottom": one.y0, "top": one.y1, "base": base.size}
            yield raised(library, layout.unit, "base and register", layout.room, **names, **sizes)


def _backsplashes(layout: WallLayout, library: Library) -> Iterator[Check]:
    """Between a backsplash and the rail over it there is wall enough, or none."""
    rule = library.check("rail and backsplash")
    least = rule.limits["least"]
    for one in _standing(layout):
        top = one.y1 + one.kind.backsplash
        for element, low, _ in running(layout) if one.kind.backsplash else ():
            between = low - top
            if low >= one.y1 - TOUCH and between < least and abs(between) > TOUCH:
                names = {"wall": layout.wall, "element": element.element, "fixture": one.fixture.name}
                sizes = {"low": low, "top": top, "by": max(0.0, between), "least": least}
                yield raised(library, layout.unit, rule.name, layout.room, **names, **sizes)


def _casings(layout: WallLayout, library: Library) -> Iterator[Check]:
    """No fixture takes the place of what stands round an opening; one told for each pair."""
    for one in layout.obstacles:
        for around in layout.surrounds if beside_flight(one, layout.stairs) is None else ():
            hit = [s for s in around.solids if s.y0 < one.y1 - TOUCH and one.y0 < s.y1 - TOUCH]
            over = {s.name: min(s.x1, one.x1) - max(s.x0, one.x0) for s in hit}
            what = max(over, key=lambda name: over[name], default="")
            if what and over[what] > TOUCH:
                names = {"wall": layout.wall, "fixture": one.fixture.name, "what": f"the {what}"}
                yield raised(
                    library,
                    layout.unit,
                    "fixture and casing",
                    layout.room,
                    around.aperture.name,
                    **names,
                    by=over[what],
                )


def _handrails(layout: WallLayout, library: Library) -> Iterator[Check]:
    """A hand goes between a handrail and what is nailed to the wall behind it; beside a flight the rail is in reach."""
    rule = library.stairs.handrail
    for one in _standing(layout) if any(o.kind.kind == HANDRAIL for o in layout.obstacles) else ():
        if one.kind.kind != HANDRAIL:
            continue
        names, up = {"wall": layout.wall, "fixture": one.fixture.name}, beside_flight(one, layout.stairs)
        behind = max(_behind(one, layout, up), key=lambda found: found[1], default=("the wall", 0.0))
        clear = one.fixture.depth - rule.thick - behind[1]
        if clear < rule.clear - TOUCH:
            sizes = {"clear": max(0.0, clear), "least": rule.clear, "by": rule.clear - clear}
            yield raised(library, layout.unit, "handrail clearance", layout.room, **names, **sizes, what=behind[0])
        if up is not None and not rule.lowest <= one.y1 <= rule.highest:
            sizes = {"top": one.y1, "lowest": rule.lowest, "highest": rule.highest}
            yield raised(library, layout.unit, "handrail height", layout.room, **names, **sizes)


def _behind(one: Obstacle, layout: WallLayout, up: Beside | None) -> Iterator[tuple[str, float]]:
    """What lies behind a handrail, and how far it stands off the wall [in]."""
    raking = up.rail if up is not None else None
    for element, low, high in running(layout):
        if up is not None:
            if raking is None or element is not up.capped:
                continue
            high = raking.above
            low = high - raking.plumb
        if one.touches(low, high):
            yield f"the {element.element}", element.projection
    wainscot = layout.package.element("wainscot")
    top = layout.rail_top if raking is None else raking.above
    if wainscot is not None and top is not None and one.y0 < top:
        yield "the wainscot", wainscot.projection


RULES: tuple[Callable[[WallLayout, Library], Iterator[Check]], ...] = (
    _across,
    _under_the_crown,
    _registers,
    _backsplashes,
    _casings,
    _handrails,
)
