"""Where a run that is longer than the longest stock is spliced. All lengths are inches."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from math import ceil, inf

Span = tuple[float, float]

ON_CASINGS, OFF_STUDS, ANYWHERE = "on a casing", "between studs", "where it can be"
"""Where joints come that can come nowhere better, from the least evil to the greatest."""


@dataclass(frozen=True)
class Shunned:
    """What joints keep off where they can: the stretches of wall over openings, and where what lies beside a run is
    spliced [in]."""

    over: tuple[Span, ...] = ()
    beside: Collection[float] = ()

    def count(self, x: float) -> int:
        """In how many ways a joint is not where it would show least."""
        return int(any(a <= x <= b for a, b in self.over)) + int(x in self.beside)


@dataclass(frozen=True)
class Run:
    """A run to be spliced.

    Parameters
    ----------
    x0, x1 : its ends along the wall. [in]
    longest : what a piece of it may measure along the wall at most. [in]
    before, after : by how much its pieces at either end are longer than along the wall. [in]
    lap : by how much a joint makes both its pieces longer. [in]
    """

    x0: float
    x1: float
    longest: float
    before: float = 0.0
    after: float = 0.0
    lap: float = 0.0

    def fits(self, a: float, b: float) -> bool:
        """Whether a piece from one place to another can be had."""
        first, last = a <= self.x0, b >= self.x1
        extra = (self.before if first else self.lap) + (self.after if last else self.lap)
        return b - a + extra <= self.longest + 1e-9


def joints(
    run: Run, studs: float, corner: float, casings: Sequence[Span] = (), shunned: Shunned = Shunned()
) -> tuple[tuple[float, ...], str]:
    """Where a run is spliced, from left to right, and where its joints had to come if not where they should.

    Parameters
    ----------
    run : what is spliced.
    studs : from centre to centre, the first so far from the wall's left end. [in]
    corner : what joints keep clear of, from either end of the run. [in]
    casings : from where to where casings stand in its way. [in]
    shunned : what joints keep off where they can.

    Notes
    -----
    The fewest joints, over studs, off casings and clear of corners; of these those that keep off most of what is
    shunned, and then the longest pieces from the left on. Where no such joints are near enough to each other they come
    on casings, then between studs, then anywhere.

    Examples
    --------
    >>> joints(Run(0.0, 264.0, 190.0), 16.0, 24.0)
    ((176.0,), '')
    >>> joints(Run(0.0, 264.0, 190.0), 16.0, 24.0, shunned=Shunned(beside={176.0}))
    ((160.0,), '')
    """
    if run.fits(run.x0, run.x1):
        return (), ""
    low, high = run.x0 + corner, run.x1 - corner
    over_studs = [k * studs for k in range(ceil(low / studs), int(high // studs) + 1)]
    clear = [x for x in over_studs if not any(a <= x <= b for a, b in casings)]
    inches = [float(k) for k in range(ceil(low), int(high) + 1)]
    for places, told in ((clear, ""), (over_studs, ON_CASINGS), (inches, OFF_STUDS)):
        if (found := _fewest(run, places, shunned)) is not None:
            return found, told
    return _evenly(run), ANYWHERE


def _fewest(run: Run, places: Sequence[float], shunned: Shunned) -> tuple[float, ...] | None:
    """The fewest joints at some of the places, None where they are too far apart; by dynamic programming from the right
    end, over no more places than a piece reaches."""
    stops = [run.x0, *places, run.x1]
    costs: list[tuple[int, int]] = [(0, 0)] * len(stops)
    after = [len(stops)] * len(stops)
    none = (len(stops), 0)
    for at in range(len(stops) - 2, -1, -1):
        costs[at] = none
        for to in range(at + 1, len(stops)):
            if not run.fits(stops[at], stops[to]):
                if stops[to] - stops[at] > run.longest:
                    break
                continue
            joint = (1, shunned.count(stops[to])) if to < len(stops) - 1 else (0, 0)
            cost = (costs[to][0] + joint[0], costs[to][1] + joint[1])
            if cost <= costs[at] and costs[to] != none:
                costs[at], after[at] = cost, to
    if costs[0] == none:
        return None
    found, at = [], after[0]
    while at < len(stops) - 1:
        found.append(stops[at])
        at = after[at]
    return tuple(found)


def _evenly(run: Run) -> tuple[float, ...]:
    """Joints at equal distances, as few as can be."""
    whole, least = run.x1 - run.x0, run.longest - 2 * run.lap - run.before - run.after
    count = ceil(whole / least) if least > 0 else inf
    if count > whole:
        return ()
    return tuple(run.x0 + whole * k / count for k in range(1, int(count)))
