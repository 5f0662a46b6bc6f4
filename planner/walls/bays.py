"""The bays of a wall between its openings, and the panels that all of them are divided into. All lengths are inches."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from planner.library.shop_rows import Panels
from planner.walls.openings import Surround
from planner.walls.solids import gaps

MOST_DIVISIONS = 64
"""Into how many panels a bay is divided at the most, so that any wall is bounded work."""


WIDEST = 2.5
"""How many times a stile the stile at the end of a bay may be, so that panels are equal; common practice."""

NOISE = 1e-6
"""What the same lengths may differ by when they are divided and summed up [in]."""


class Bay(NamedTuple):
    """A stretch of a wall, and the ends of the panels in it [in]; both the dado's and the field's stand on these."""

    x0: float
    x1: float
    panels: tuple[tuple[float, float], ...]


def bays(
    length: float, surrounds: Sequence[Surround], rule: Panels, taken: Sequence[tuple[float, float]] = ()
) -> tuple[Bay, ...]:
    """The bays between the openings of a wall, from left to right, their panels as nearly equal as may be.

    Parameters
    ----------
    length : of the wall. [in]
    surrounds : what stands round its openings.
    rule : sizes of stiles and panels.
    taken : what else is taken of it, by fixtures and stairs. [in]

    Returns
    -------
    A bay between every two neighbours of ends and openings. Where one width of panel serves all bays, with the rest in
    the stiles at a bay's ends (WIDEST), all have it; a bay that it does not serve has equal panels
    of its own, as near to it as may be. Each bay is the same from left and from right.

    References
    ----------
    Common practice; limits in library/openings_trim.toml.

    Examples
    --------
    >>> from planner.library import standard
    >>> [bay.panels for bay in bays(112.0, (), standard().surrounds.panels)]
    [((4.0, 36.0), (40.0, 72.0), (76.0, 108.0))]
    """
    stretches = gaps(0.0, length, [*((s.left, s.right) for s in surrounds), *taken])
    shared = _shared([x1 - x0 for x0, x1 in stretches], rule)
    return tuple(Bay(x0, x1, tuple(_panels(x0, x1, shared, rule))) for x0, x1 in stretches)


def within(x0: float, x1: float, rule: Panels) -> tuple[tuple[float, float], ...]:
    """Ends of equal panels over or under an opening, which fill a stretch with stiles only between them [in]."""
    width = x1 - x0
    if width < rule.least:
        return ()
    count = _count((width + rule.stile) / (rule.most + rule.stile))
    panel = (width + rule.stile) / count - rule.stile
    return tuple(_row(x0, panel, count, rule.stile)) if panel >= rule.least else ()


def _shared(widths: Sequence[float], rule: Panels) -> float:
    """The width of panel that serves the bays best [in]: little left over at their ends, near to what is preferred."""
    wide = [width for width in widths if width - 2 * rule.stile >= rule.usual]
    offered = {round(panel, 9) for width in dict.fromkeys(wide) for panel in _offers(width, rule)}

    def spread(panel: float) -> tuple[float, float, float]:
        """How unlike the panels of the bays would be, then how far from what is preferred, and the width itself."""
        divided = [_divided(width - 2 * rule.stile, panel, rule) for width in wide]
        unlike = sum(abs(own - panel) for own, _, _ in divided)
        return round(unlike, 6), round(abs(panel - rule.preferred) + max(rest for _, _, rest in divided), 6), panel

    return min(offered, key=spread, default=rule.preferred)


def _offers(width: float, rule: Panels) -> Iterator[float]:
    """Widths of usual panels that divide a bay evenly, its ends a stile wide, or as wide as they may be [in]."""
    for ends in (2 * rule.stile, 2 * WIDEST * rule.stile):
        clear = width - ends
        for count in range(1, MOST_DIVISIONS + 1):
            panel = (clear + rule.stile) / count - rule.stile
            if panel < rule.usual:
                break
            if panel <= rule.most:
                yield panel


def _panels(x0: float, x1: float, shared: float, rule: Panels) -> Iterator[tuple[float, float]]:
    """Ends of the panels of a bay [in]."""
    clear = x1 - x0 - 2 * rule.stile
    if clear >= rule.least:
        panel, count, rest = _divided(clear, shared, rule)
        yield from _row(x0 + rule.stile + rest / 2, panel, count, rule.stile)


def _divided(clear: float, shared: float, rule: Panels) -> tuple[float, int, float]:
    """Width and number of the panels of a bay so wide between the stiles at its ends, and what is left over [in]: of
    the shared width where the ends take the rest, else of its own."""
    count = int((clear + rule.stile + NOISE) // (shared + rule.stile))
    panel = shared
    if not count or clear - _filled(shared, count, rule) > 2 * (WIDEST - 1) * rule.stile + NOISE:
        panel, count = _own(clear, shared, rule)
    return panel, count, max(0.0, clear - _filled(panel, count, rule))


def _filled(panel: float, count: int, rule: Panels) -> float:
    """What so many panels take with the stiles between them [in]."""
    return count * (panel + rule.stile) - rule.stile


def _own(clear: float, shared: float, rule: Panels) -> tuple[float, int]:
    """Width and number of equal panels that fill a clear width, as near to a width as may be [in]."""
    fewest = _count((clear + rule.stile) / (rule.most + rule.stile))
    widths = [((clear + rule.stile) / n - rule.stile, n) for n in (fewest, fewest + 1)]
    usual = [(panel, n) for panel, n in widths if rule.usual <= panel] or widths[:1]
    return min(usual, key=lambda each: abs(each[0] - shared))


def _count(parts: float) -> int:
    """The least whole number that is no less."""
    return max(1, -int(-(parts - NOISE) // 1))


def _row(x: float, panel: float, count: int, stile: float) -> Iterator[tuple[float, float]]:
    for i in range(count):
        left = x + i * (panel + stile)
        yield left, left + panel
