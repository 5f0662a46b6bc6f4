"""Rules on one wall with its trim. All lengths are inches."""

from collections.abc import Callable, Iterator

from planner.checks.check import Check, raised
from planner.library import Library
from planner.trim.packages import Package
from planner.walls.layout import WallLayout
from planner.walls.openings import Aperture, Surround, casing_of, reach_above
from planner.walls.parts import FRAME, PANELS, RUNS, Part
from planner.walls.solids import TOUCH, Solid, overlaps

EARS = frozenset({Part.EAR, Part.EAR_RETURN, Part.UPRIGHT, Part.UPPER_LEG})
"""What stands beside an opening's legs where a casing kicks out."""

TOO_CLOSE = "mouldings too close"
"""The rule on mouldings that nearly touch."""

BESIDE = RUNS - {Part.SHOE, Part.CROWN, Part.HEAD_BAND}
"""What runs along a wall beneath or above the trim of openings; the crown has its own rule."""

LEVEL = 1 / 16
"""A stool and a rail nearer than this [in] are at one height."""


def check_wall(layout: WallLayout, library: Library) -> Iterator[Check]:
    """Every check of one wall."""
    for rule in RULES:
        yield from rule(layout, library)


def head_and_crown(
    room: str, ceiling: float, wall: str, opening: Aperture, package: Package, library: Library
) -> Iterator[Check]:
    """A collision of what stands on an opening with the crown: of what crowns it alone, or of its head as well."""
    crown = package.element("crown")
    if crown is None or casing_of(opening.kind, package.at(opening.name)) is None:
        return
    top, bottom = reach_above(opening, package, library), ceiling - crown.size
    if top > bottom + TOUCH:
        head_clears = reach_above(opening, package, library, crowned=False) <= bottom + TOUCH
        name = "overdoor and cornice" if head_clears else "crown and head"
        yield raised(
            library, package.unit, name, room, opening.name, wall=wall, top=top, bottom=bottom, by=top - bottom
        )


def _heads(layout: WallLayout, library: Library) -> Iterator[Check]:
    """What stands on an opening stays below the crown, and far enough to read."""
    crown, least = layout.package.element("crown"), library.surrounds.apart.inches
    if crown is None:
        return
    bottom = layout.ceiling - crown.size
    for around in layout.surrounds:
        if not around.solids:
            continue
        a = around.aperture
        yield from head_and_crown(layout.room, layout.ceiling, layout.wall, a, layout.package, library)
        if 0 < bottom - around.top < least:
            names = {"wall": layout.wall, "what": f"the head of {a.name}", "against": "the crown"}
            yield raised(
                library, layout.unit, TOO_CLOSE, layout.room, a.name, **names, by=bottom - around.top, least=least
            )


def _corners(layout: WallLayout, library: Library) -> Iterator[Check]:
    """Casings, ears and overdoors have room beside the corner."""
    for around in layout.surrounds:
        a = around.aperture
        beyond = a.x0 < -TOUCH or a.x1 > layout.length + TOUCH or a.y1 > layout.ceiling + TOUCH
        if beyond or not a.is_open:
            sizes = {"length": layout.length, "ceiling": layout.ceiling}
            name = "opening without room for its trim"
            yield raised(library, layout.unit, name, layout.room, a.name, wall=layout.wall, **sizes)
            continue
        for room_left, reach in _sides(layout, around):
            yield from _corner(layout, a, room_left, reach, library)


def _corner(
    layout: WallLayout, a: Aperture, room_left: float, reach: dict[str, float], library: Library
) -> Iterator[Check]:
    """One side of an opening: `reach` is how far each kind of its trim stands out from the jamb [in]."""
    where = (layout.room, a.name)
    leg = reach.get("leg", 0.0)
    if leg > room_left + TOUCH:
        least = library.check("casing and corner").limits["least"]
        name = "casing ripped at the corner" if room_left >= least else "casing and corner"
        sizes = {"room_left": room_left, "casing": leg, "left": room_left, "by": leg - room_left}
        yield raised(library, layout.unit, name, *where, wall=layout.wall, **sizes)
    elif reach.get("ear", 0.0) > room_left + TOUCH:
        by = reach["ear"] - room_left
        yield raised(library, layout.unit, "crossette and corner", *where, wall=layout.wall, by=by)
    elif (rest := max(reach, key=lambda kind: reach[kind], default="")) and reach[rest] > room_left + TOUCH:
        names = {"wall": layout.wall, "what": f"the {rest}"}
        yield raised(library, layout.unit, "overdoor and corner", *where, **names, by=reach[rest] - room_left)


def _sides(layout: WallLayout, around: Surround) -> Iterator[tuple[float, dict[str, float]]]:
    """For the left and the right of an opening: the wall up to the corner, and how far its trim reaches [in]."""
    a = around.aperture
    for left in (True, False):
        reach: dict[str, float] = {}
        for s in around.solids:
            kind = "leg" if s.part is Part.LEG else "ear" if s.part in EARS else s.element
            reach[kind] = max(reach.get(kind, 0.0), a.x0 - s.x0 if left else s.x1 - a.x1)
        yield (a.x0 if left else layout.length - a.x1), reach


def _collisions(layout: WallLayout, library: Library) -> Iterator[Check]:
    """No two pieces of trim take the same place; what meets the crown is told by its own rule."""
    told = set()
    for one, other in overlaps(layout.solids):
        crown = Part.CROWN in (one.part, other.part)
        pair = (one.opening, other.opening) if one.opening and other.opening else ()
        key = frozenset(pair) or (one.opening or other.opening, _kind(one), _kind(other))
        if key in told or (crown and (one.opening or other.opening)):
            continue
        told.add(key)
        names = {"wall": layout.wall, "what": _what(one), "against": _what(other)}
        by = min(one.x1, other.x1) - max(one.x0, other.x0)
        if pair and pair[0] != pair[1]:
            second = other.opening
            yield raised(
                library, layout.unit, "casing and casing", layout.room, one.opening, **names, second=second, by=by
            )
        else:
            opening, x = one.opening or other.opening, max(one.x0, other.x0)
            yield raised(library, layout.unit, "trim collides", layout.room, opening, **names, by=by, x=x)


def _close_surrounds(layout: WallLayout, library: Library) -> Iterator[Check]:
    """Neighbouring openings leave plain wall between their trim, or none."""
    least = library.surrounds.apart.inches
    for one, other in zip(layout.surrounds, layout.surrounds[1:], strict=False):
        left = other.left - one.right
        if one.solids and other.solids and TOUCH < left < least:
            what, against = f"the trim of {one.aperture.name}", f"that of {other.aperture.name}"
            names = {"wall": layout.wall, "what": what, "against": against}
            yield raised(library, layout.unit, TOO_CLOSE, layout.room, one.aperture.name, **names, by=left, least=least)


def _close_runs(layout: WallLayout, library: Library) -> Iterator[Check]:
    """What runs along a wall under an apron or over a head leaves plain wall between them, or none.

    A picture rail does not run into the side of a head.
    """
    least = library.surrounds.apart.inches
    for around in layout.surrounds if layout.solids else ():
        name, told = around.aperture.name, set[str]()
        for run in (s for s in layout.solids if s.part in BESIDE and around.solids):
            gap = max(around.bottom - run.y1, run.y0 - around.top)
            over = min(run.x1, around.right) - max(run.x0, around.left)
            if over > TOUCH and TOUCH < gap < least and run.part not in told:
                told.add(run.part)
                edge = "foot" if around.bottom >= run.y1 else "head"
                names = {"wall": layout.wall, "what": f"the {edge} of {name}", "against": f"the {run.name}"}
                yield raised(library, layout.unit, TOO_CLOSE, layout.room, name, **names, by=gap, least=least)
            elif run.part is Part.PICTURE_RAIL and run.part not in told and _runs_into(run, around):
                told.add(run.part)
                sizes = {"top": around.top, "rail": run.y0}
                yield raised(
                    library, layout.unit, "picture rail and head", layout.room, name, wall=layout.wall, **sizes
                )


def _runs_into(run: Solid, around: Surround) -> bool:
    """Whether a run ends at the side of a head, which is no panel on a chimney breast that it is to stop at."""
    span = around.span(run.y0, run.y1)
    ends = span is not None and (abs(run.x1 - span[0]) <= TOUCH or abs(run.x0 - span[1]) <= TOUCH)
    return ends and around.aperture.kind != "fireplace"


def _stools(layout: WallLayout, library: Library) -> Iterator[Check]:
    """A stool near the chair rail is at its height."""
    rail, top = layout.package.element("chair rail"), layout.rail_top
    if rail is None or top is None or layout.package.element("plate rail") is not None:
        return
    for around in layout.surrounds:
        stool = next((s for s in around.solids if s.part is Part.STOOL), None)
        if stool is None or abs(stool.y1 - top) < LEVEL or around.bottom >= top:
            continue
        if stool.y1 > top - rail.size - stool.height:
            by = stool.y1 - top
            names = {"wall": layout.wall, "side": "above" if by > 0 else "below"}
            sizes = {"stool": stool.y1, "by": abs(by), "rail": top}
            yield raised(
                library, layout.unit, "chair rail and stool", layout.room, around.aperture.name, **names, **sizes
            )


def _panels(layout: WallLayout, library: Library) -> Iterator[Check]:
    """Panels are neither slits nor ribbons; one check for each shape on a wall."""
    rule, told = library.check("panel out of proportion"), set()
    for s in layout.solids:
        if not (s.part in PANELS or s.part is Part.WALL_PANEL):
            continue
        shape = (round(s.width, 1), round(s.height, 1))
        if not rule.limits["least"] <= s.width / s.height <= rule.limits["most"] and shape not in told:
            told.add(shape)
            yield raised(library, layout.unit, rule.name, layout.room, wall=layout.wall, width=s.width, height=s.height)


def _hearths(layout: WallLayout, library: Library) -> Iterator[Check]:
    """Wood keeps off the firebox."""
    for around in layout.surrounds:
        if around.aperture.kind == "fireplace" and around.solids:
            clear = library.surrounds.hearth.clear
            yield raised(library, layout.unit, "wood near the firebox", layout.room, around.aperture.name, clear=clear)


def _kind(solid: Solid) -> str:
    """What is told but once of an opening: the element, in a wainscot its frame, its panels, its boards."""
    if solid.element != "wainscot":
        return solid.element
    return "frame" if solid.part in FRAME else solid.part


def _what(solid: Solid) -> str:
    """A solid in words."""
    return f"the {solid.name} of {solid.opening}" if solid.opening else f"the {solid.name}"


RULES: tuple[Callable[[WallLayout, Library], Iterator[Check]], ...] = (
    _heads,
    _corners,
    _collisions,
    _close_surrounds,
    _close_runs,
    _stools,
    _panels,
    _hearths,
)
