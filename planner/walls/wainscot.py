"""What fills a wall between its mouldings: the wainscot below the rail, the panels above it. All lengths are inches."""

from collections.abc import Iterator, Mapping

from planner.library.shop_rows import Panels
from planner.trim.packages import Element
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

PANEL_SINK = 0.375
"""How far a panel lies behind its stiles [in], common practice."""

BEADED_BOARD = 3.0
"""About how wide a beaded board shows [in], common practice."""

MOULD = 1.5
"""How wide the moulding round a wall panel shows [in], common practice."""

BATTENS_CLOSER = 0.75
"""How much closer battens stand than stiles, as a part of a panel's preferred width; common practice."""


def spans(surrounds: tuple[Surround, ...], y0: float, y1: float) -> list[tuple[float, float]]:
    """What openings and their trim take of a wall between two heights [in]."""
    return [span for s in surrounds if (span := s.span(y0, y1)) is not None]


def dado(
    length: float, surrounds: tuple[Surround, ...], element: Element, low: float, high: float, rule: Panels
) -> Iterator[Solid]:
    """The wainscot of a wall between base and rail: bays between openings and bays under windows.

    Parameters
    ----------
    length : of the wall. [in]
    surrounds : what stands round its openings.
    element : the wainscot.
    low, high : top of the base, underside of the rail. [in]
    rule : sizes of stiles, rails and panels.
    """
    least = rule.bottom_rail + rule.top_rail + rule.least_height
    blocked, under = [], []
    for around in surrounds:
        if around.bottom >= low + least:
            under.append((around.left, around.right, min(high, around.bottom)))
        elif (span := around.span(low, high)) is not None:
            blocked.append(span)
    for x0, x1 in gaps(0.0, length, blocked):
        reach = x0
        for left, right, top in under:
            left, right = max(left, reach), min(right, x1)
            if right - left <= TOUCH:
                continue
            yield from _bay(reach, left, low, high, element, rule, framed=True)
            yield from _bay(left, right, low, top, element, rule, framed=False)
            reach = right
        yield from _bay(reach, x1, low, high, element, rule, framed=True)


def field(
    length: float, surrounds: tuple[Surround, ...], element: Element, low: float, high: float, rule: Panels
) -> Iterator[Solid]:
    """Panels on the wall between two heights [in]: between openings, and over those that leave room for one."""
    bays = [(x0, x1, low, high) for x0, x1 in gaps(0.0, length, spans(surrounds, low, high))]
    reach = 0.0
    for around in surrounds:
        span = around.span(low, high)
        if span is None or around.top >= high:
            continue
        over = gaps(max(reach, span[0]), min(length, span[1]), spans(surrounds, around.top, high))
        bays += [(x0, x1, around.top, high) for x0, x1 in over]
        reach = max(reach, span[1])
    for x0, x1, bottom, top in bays:
        foot = bottom + (rule.stile if bottom != low else 0.0)
        width = panel_width(x1 - x0 - 2 * rule.stile, rule)
        if width is None or top - foot < rule.least_height:
            continue
        x = x0 + rule.stile
        while x < x1 - rule.stile - TOUCH:
            yield Solid(Part.WALL_PANEL, "wall panels", x, x + width, foot, top, element.projection)
            x += width + rule.stile


def panel_width(clear: float, rule: Panels) -> float | None:
    """Width of equal panels that fill a clear width with equal stiles between them.

    Parameters
    ----------
    clear : between the outer stiles. [in]
    rule : the limits, the width preferred, and the stile.

    Returns
    -------
    The width nearest to what is preferred among those within the limits, None where none is. [in]

    References
    ----------
    Common practice; limits in library/openings_trim.toml.

    Examples
    --------
    >>> from planner.library import standard
    >>> rule = standard().surrounds.panels
    >>> panel_width(68.0, rule), panel_width(20.0, rule), panel_width(6.0, rule)
    (20.0, 20.0, None)
    """
    stile = rule.stile
    if clear < rule.least:
        return None
    fewest, most = max(1, int((clear + stile) // (rule.most + stile))), int((clear + stile) // (rule.least + stile))
    widths = [(clear + stile) / n - stile for n in range(fewest, most + 1)]
    fitting = [w for w in widths if rule.least <= w <= rule.most]
    return min(fitting, key=lambda w: abs(w - rule.preferred), default=None)


def beads(solid: Solid) -> list[float]:
    """Where beaded boards meet along the wall [in], the ends of what they fill left out."""
    count = max(1, round(solid.width / BEADED_BOARD))
    return [solid.x0 + solid.width * i / count for i in range(1, count)]


def _bay(
    x0: float, x1: float, low: float, high: float, element: Element, rule: Panels, framed: bool
) -> Iterator[Solid]:
    """One bay; a framed bay has a stile at each end, a bay under a window stands between its neighbours' stiles."""
    if x1 - x0 <= TOUCH or high - low <= TOUCH:
        return
    infill = INFILL.get(element.form, Part.PLAIN_WAINSCOT)
    if infill in PANELS:
        yield from _panelled(x0, x1, low, high, element.thickness, infill, rule, framed)
    elif infill in BOARDS:
        yield Solid(infill, "wainscot", x0, x1, low, high, element.thickness, form=element.form)
        if infill in BATTENED:
            yield from _battens(x0, x1, low, high, element.projection, rule)
    else:
        yield Solid(infill, "wainscot", x0, x1, low, high, element.thickness)


def _panelled(
    x0: float, x1: float, low: float, high: float, stands: float, panel: Part, rule: Panels, framed: bool
) -> Iterator[Solid]:
    """A bay of stiles, rails and panels; plain where no panel would find room."""
    inner = (x0 + rule.stile, x1 - rule.stile) if framed else (x0, x1)
    width = panel_width(inner[1] - inner[0], rule)
    lower, upper = low + rule.bottom_rail, high - rule.top_rail
    if width is None or upper - lower < rule.least_height:
        yield Solid(Part.PLAIN_WAINSCOT, "wainscot", x0, x1, low, high, stands)
        return
    if framed:
        yield Solid(Part.STILE, "wainscot", x0, inner[0], low, high, stands)
        yield Solid(Part.STILE, "wainscot", inner[1], x1, low, high, stands)
    yield Solid(Part.BOTTOM_RAIL, "wainscot", *inner, low, lower, stands)
    yield Solid(Part.TOP_RAIL, "wainscot", *inner, upper, high, stands)
    x = inner[0]
    while x < inner[1] - TOUCH:
        yield Solid(panel, "wainscot", x, x + width, lower, upper, stands - PANEL_SINK)
        x += width
        if x < inner[1] - TOUCH:
            yield Solid(Part.STILE, "wainscot", x, x + rule.stile, lower, upper, stands)
            x += rule.stile


def _battens(x0: float, x1: float, low: float, high: float, stands: float, rule: Panels) -> Iterator[Solid]:
    """Battens at both ends and evenly between."""
    count = max(1, round((x1 - x0 - rule.batten) / (rule.preferred * BATTENS_CLOSER + rule.batten)))
    pitch = (x1 - x0 - rule.batten) / count
    if pitch <= rule.batten:
        return
    for i in range(count + 1):
        left = x0 + i * pitch
        yield Solid(Part.BATTEN, "wainscot", left, left + rule.batten, low, high, stands, on="wainscot")
