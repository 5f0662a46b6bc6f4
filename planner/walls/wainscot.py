"""What fills a wall between its mouldings: the wainscot below the rail, the panels above it. All lengths are inches."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import pairwise

from planner.library.shop_rows import Panels
from planner.trim.packages import Element
from planner.walls.bays import Bay, bays, within
from planner.walls.openings import Surround
from planner.walls.parts import BOARDS, PANELS, Part
from planner.walls.solids import TOUCH, Solid, gaps

INFILL: Mapping[str, Part] = {
    "flat panels": Part.FLAT_PANEL,
    "raised panels": Part.RAISED_PANEL,
    "beaded boards": Part.BEADED_BOARD,
    "boards and battens": Part.BOARD,
}
"""What fills a field, by its form; a form that is not here leaves it plain."""

RAISED_FIELD = "raised panels"
"""The form of wall panels that have a panel within their moulding; any other frames the plain wall."""

BATTENED = frozenset({Part.BOARD})
"""Boards whose joints are covered with battens."""

BEADED_BOARD = 3.0
"""About how wide a beaded board shows [in], common practice."""

MOULD = 1.5
"""How wide the moulding round a wall panel shows [in], common practice."""


def spans(surrounds: tuple[Surround, ...], y0: float, y1: float) -> list[tuple[float, float]]:
    """What openings and their trim take of a wall between two heights [in]."""
    return [span for s in surrounds if (span := s.span(y0, y1)) is not None]


def dado(
    length: float,
    surrounds: tuple[Surround, ...],
    element: Element,
    low: float,
    high: float,
    rule: Panels,
    taken: Sequence[tuple[float, float]] = (),
) -> Iterator[Solid]:
    """The wainscot of a wall between base and rail: bays between openings, and what goes on under windows.

    Parameters
    ----------
    length : of the wall. [in]
    surrounds : what stands round its openings.
    element : the wainscot.
    low, high : top of the base, underside of the rail. [in]
    rule : sizes of stiles, rails and panels.
    taken : what fixtures and stairs take of it. [in]
    """
    if high - low <= TOUCH:
        return
    least = rule.bottom_rail + rule.top_rail + rule.least_height
    found = [(bay, high, True) for bay in bays(length, surrounds, rule, taken)]
    blocked = [*((s.left, s.right) for s in surrounds if s.bottom < low + least), *taken]
    reach = 0.0
    for around in surrounds:
        left, right = max(around.left, reach), min(around.right, length)
        if around.bottom >= low + least and right > left:
            for x0, x1 in gaps(left, right, blocked):
                found.append((Bay(x0, x1, within(x0, x1, rule)), min(high, around.bottom), False))
            reach = right
    stops = [*spans(surrounds, low, high), *taken, *((bay.x0, bay.x1) for bay, _, _ in found)]
    spare = gaps(0.0, length, stops)
    reaching = [(_reaching(bay, spare) if framed else bay, top, framed) for bay, top, framed in sorted(found)]
    yield from _infilled(reaching, low, high, element, rule)


def _reaching(bay: Bay, spare: Sequence[tuple[float, float]]) -> Bay:
    """A bay with what is spare beside it [in]: ears and overdoors part panels farther out than a wainscot stops."""
    x0 = min([bay.x0, *(left for left, right in spare if abs(right - bay.x0) <= TOUCH)])
    x1 = max([bay.x1, *(right for left, right in spare if abs(left - bay.x1) <= TOUCH)])
    return bay._replace(x0=x0, x1=x1)


def over(
    length: float,
    surrounds: tuple[Surround, ...],
    element: Element,
    high: float,
    rule: Panels,
    upon: Iterable[tuple[float, float, float]],
) -> Iterator[Solid]:
    """The wainscot upon fixtures, up to the underside of the rail; `upon` gives their ends and tops [in]."""
    for left, right, top in upon:
        beyond = [(0.0, left), (right, length), *spans(surrounds, top, high)]
        found = [(bay, high, True) for bay in bays(length, (), rule, beyond)]
        yield from _infilled(found, top, high, element, rule)


def _infilled(
    found: Sequence[tuple[Bay, float, bool]], low: float, high: float, element: Element, rule: Panels
) -> Iterator[Solid]:
    """Bays from left to right, each with its upper edge [in] and whether it is framed, filled as a wainscot is."""
    infill = INFILL.get(element.form, Part.PLAIN_WAINSCOT)
    for bay, top, framed in found:
        if infill in PANELS:
            yield from _panelled(bay, low, (top, high), element.thickness, infill, rule, framed)
        else:
            form = element.form if infill in BOARDS else ""
            yield Solid(infill, "wainscot", bay.x0, bay.x1, low, top, element.thickness, form=form)
    if infill in BATTENED:
        yield from _battens([(bay.x0, bay.x1, top) for bay, top, _ in found], low, element.projection, rule)


def field(
    length: float,
    surrounds: tuple[Surround, ...],
    element: Element,
    low: float,
    high: float,
    rule: Panels,
    taken: Sequence[tuple[float, float]] = (),
    upon: Iterable[tuple[float, float, float]] = (),
) -> Iterator[Solid]:
    """Panels on the wall between two heights [in]: over the dado's between openings, and over those openings that leave
    room for one.

    `taken` is what fixtures and stairs take of it, `upon` the ends and tops of those that it stands upon [in].
    """
    rows = [(panel, low) for bay in bays(length, surrounds, rule, taken) for panel in bay.panels]
    reach = 0.0
    for around in surrounds:
        left, right = max(around.left, reach), min(around.right, length)
        reach = max(reach, right)
        foot = max(low, around.top + rule.stile) if around.top > low else low
        others = [*spans(tuple(s for s in surrounds if s is not around), foot, high), *taken]
        for x0, x1 in gaps(left, right, others) if right > left else ():
            rows += [(panel, foot) for panel in within(x0 + rule.stile, x1 - rule.stile, rule)]
    for left, right, top in upon:
        for x0, x1 in gaps(max(left, 0.0), min(right, length), spans(surrounds, top, high)):
            rows += [(panel, top + rule.stile) for panel in within(x0 + rule.stile, x1 - rule.stile, rule)]
    for (x0, x1), foot in sorted(rows):
        if high - foot >= rule.least_height:
            yield Solid(Part.WALL_PANEL, "wall panels", x0, x1, foot, high, element.projection)


def beads(solid: Solid) -> list[float]:
    """Where beaded boards meet along the wall [in], the ends of what they fill left out."""
    count = max(1, round(solid.width / BEADED_BOARD))
    return [solid.x0 + solid.width * i / count for i in range(1, count)]


def _panelled(
    bay: Bay, low: float, tops: tuple[float, float], stands: float, panel: Part, rule: Panels, framed: bool
) -> Iterator[Solid]:
    """A bay of stiles, rails and panels; plain where no panel would find room.

    `tops` are the upper edges of this bay and of its neighbours: under a window the panels run level with theirs, as
    long as a rail is left above them. A bay under a window stands between its neighbours' stiles.
    """
    top, beside = tops
    lower, upper = low + rule.bottom_rail, beside - rule.top_rail
    if top - upper < rule.least_rail:
        upper = top - rule.top_rail
    if not bay.panels or upper - lower < rule.least_height:
        yield Solid(Part.PLAIN_WAINSCOT, "wainscot", bay.x0, bay.x1, low, top, stands)
        return
    inner = (bay.panels[0][0], bay.panels[-1][1])
    if framed:
        yield Solid(Part.STILE, "wainscot", bay.x0, inner[0], low, top, stands)
        yield Solid(Part.STILE, "wainscot", inner[1], bay.x1, low, top, stands)
    yield Solid(Part.BOTTOM_RAIL, "wainscot", *inner, low, lower, stands)
    yield Solid(Part.TOP_RAIL, "wainscot", *inner, upper, top, stands)
    for x0, x1 in bay.panels:
        yield Solid(panel, "wainscot", x0, x1, lower, upper, stands - rule.sink)
    for (_, x0), (x1, _) in pairwise(bay.panels):
        yield Solid(Part.STILE, "wainscot", x0, x1, lower, upper, stands)


def _battens(boarded: Sequence[tuple[float, float, float]], low: float, stands: float, rule: Panels) -> Iterator[Solid]:
    """Battens evenly along each stretch of boards and at its ends, whatever windows stand over it.

    `boarded` are its bays from left to right: their ends and their upper edges; one over two bays is as high as the
    lower [in].
    """
    for stretch in _joined(boarded):
        x0, x1 = stretch[0][0], stretch[-1][1]
        count = max(1, round((x1 - x0 - rule.batten) / (rule.battens_apart + rule.batten)))
        pitch = (x1 - x0 - rule.batten) / count
        if pitch <= rule.batten:
            continue
        for i in range(count + 1):
            left = x0 + i * pitch
            right = left + rule.batten
            top = min(top for a, b, top in stretch if a < right - TOUCH and left + TOUCH < b)
            yield Solid(Part.BATTEN, "wainscot", left, right, low, top, stands, on="wainscot")


def _joined(boarded: Sequence[tuple[float, float, float]]) -> Iterator[list[tuple[float, float, float]]]:
    """Bays that touch each other, together."""
    together: list[tuple[float, float, float]] = []
    for bay in boarded:
        if together and bay[0] - together[-1][1] > TOUCH:
            yield together
            together = []
        together.append(bay)
    if together:
        yield together
