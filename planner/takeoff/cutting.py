"""The cheapest bars from which everything is cut: exact where that can be proved, else with what it may be off by.

The work is bounded by numbers of nodes, rounds and patterns, never by time, so that equal input is cut alike anywhere.
"""

from collections.abc import Iterable
from dataclasses import replace
from functools import lru_cache, partial
from itertools import islice

import numpy as np

from planner.stock.arrays import Whole
from planner.takeoff.bars import NOISE, Answer, Held, Problem, answer, problem, shares
from planner.takeoff.columns import Columns, Relaxed
from planner.takeoff.filling import filled, first_fit
from planner.takeoff.whole import cheapest_of, dive, useful

MOST_SIZES = 400
"""So many different sizes are cut exactly; more are put into groups."""

FEW = 100
"""Where there are no more patterns than this, all are written down."""

NODES = 120
"""How many nodes each try of a dive has."""

TARGETS = 2
"""How many costs above the bound are dived for."""

CENTS, MOST_SHARED = 4, 1_000
"""Where costs are in proportion but for rounding: how far above the bound is dived for at first, and how many patterns
are written down."""


def cut(asked: Problem) -> Answer:
    """The cheapest bars from which everything is cut, with how often each pattern is cut, and a bound.

    Notes
    -----
    What is quick comes first: first fit decreasing, and bars filled one after another, against the bound that all sizes
    together give. Where these leave a gap, the relaxation over all patterns (planner.takeoff.columns) gives the bound,
    and a dive the patterns; where that leaves one, all patterns that can be part of anything cheaper are told, and the
    cheapest are found among them, which closes it unless they are too many. No answer costs more than first fit
    decreasing.

    Examples
    --------
    >>> from planner.takeoff.bars import Bar
    >>> found = cut(problem([60, 60, 60, 40, 40, 40], [Bar(100, 10), Bar(120, 11)]))
    >>> found.cost, found.bound, found.proved
    (30, 30, True)
    """
    if not asked.sizes:
        return answer(asked, [], 0)
    alike = replace(asked, bars=tuple(bar._replace(cost=bar.cost // asked.step) for bar in asked.bars))
    found = _cut(alike, shares(asked.bars))
    return Answer(found.patterns, found.cost * asked.step, found.bound * asked.step)


@lru_cache(maxsize=512)
def _cut(asked: Problem, shared: tuple[int, ...] = ()) -> Answer:
    """As `cut`, by what bars cost among themselves, and the shares that they are in proportion to but for rounding;
    kept, as layers of one built-up are cut alike, and most of a house stays as it is when something in it changes."""
    best = _quick(asked)
    if best.proved:
        return best
    none = np.zeros(len(asked.sizes))
    if (every := useful(asked, none, float(asked.bars[-1].cost), FEW)) is not None:
        return _among(asked, best, every)
    if shared and len(asked.sizes) <= MOST_SIZES:
        return _shared(asked, best, shared)
    return _exact(asked, best) if len(asked.sizes) <= MOST_SIZES else _grouped(asked, best)


def _quick(asked: Problem) -> Answer:
    """The best of what is quick, with the bound that all sizes together give."""
    bound = asked.rounded_up(max(asked.total * min(b.cost / b.capacity for b in asked.bars), _of_large(asked)))
    found: Answer | None = None
    for bar in asked.bars[::-1]:
        if bar.capacity < asked.sizes[0]:
            break
        for patterns in (first_fit(asked, bar.capacity), filled(asked, asked.counts, bar.capacity)):
            found = _better(answer(asked, patterns, bound), found)
            if found.proved:
                return found
    assert found is not None  # the largest bar gives the largest size
    return found


def _of_large(asked: Problem) -> int:
    """What bars for the sizes cost of which none gives two."""
    large = [(s, n) for s, n in zip(asked.sizes, asked.counts, strict=True) if 2 * s > asked.largest]
    return sum(n * asked.bar_for(size).cost for size, n in large)


def _better(found: Answer, other: Answer | None) -> Answer:
    """The cheaper of two answers to one problem, with the higher of their bounds."""
    if other is None:
        return found
    cheaper = found if found.cost < other.cost else other
    return Answer(cheaper.patterns, cheaper.cost, min(max(found.bound, other.bound), cheaper.cost))


def _exact(asked: Problem, best: Answer) -> Answer:
    columns = Columns(asked)
    counts = np.array(asked.counts, dtype=np.int64)
    for bar in asked.bars:
        if bar.capacity >= asked.sizes[0]:
            columns.add(list(filled(asked, asked.counts, bar.capacity)))
    relaxed = columns.relax(counts, partial(_settles, asked, best.bound))
    bound = asked.rounded_up(relaxed.bound)
    best = _better(answer(asked, _rounded(columns, relaxed), bound), best)
    for target in range(best.bound, best.cost, asked.step)[:TARGETS]:
        if (found := dive(columns, target, NODES)) is not None:
            best = _better(answer(asked, found, bound), best)
            break
    return best if best.proved else _closed(asked, best, columns)


def _shared(asked: Problem, best: Answer, shared: tuple[int, ...]) -> Answer:
    """The best of an answer and what is found by shares, where costs are in proportion to these but for rounding.

    Rounded up, a bound on shares gains what one on cents cannot: the fewest shares are found first, then what is
    cheapest among all that has no fewer.
    """
    counts = np.array(asked.counts, dtype=np.int64)
    fewest = _cut(replace(asked, bars=tuple(b._replace(cost=n) for b, n in zip(asked.bars, shared, strict=True))))
    patterns = [np.array(p, dtype=np.int64) for p, times in fewest.patterns.items() for _ in range(times)]
    held = Held(shared, fewest.bound)
    columns = Columns(asked, held)
    columns.add(patterns)
    relaxed = columns.relax(counts)
    best = _better(answer(asked, patterns, asked.rounded_up(relaxed.bound)), best)
    for target in (best.bound + CENTS, (best.bound + best.cost) // 2):
        if target < best.cost and (found := dive(columns, target, NODES)) is not None:
            best = _better(answer(asked, found, best.bound), best)
    if best.proved:
        return best
    beside = [relaxed.share * n for n in shared]
    near = useful(asked, relaxed.prices, best.cost - asked.step - relaxed.bound, MOST_SHARED, beside)
    return best if near is None else _among(asked, best, near, held)


def _settles(asked: Problem, least: int, reached: float, bound: float) -> bool:
    """Whether what a relaxation reached is as little as its bound, or the least known before, rounds up to, so that no
    more can be told by it."""
    return max(asked.rounded_up(bound), least) >= reached - NOISE * asked.step


def _closed(asked: Problem, best: Answer, columns: Columns) -> Answer:
    """The same with its gap closed, unless the patterns that may be part of anything cheaper are too many."""
    relaxed = columns.relax(np.array(asked.counts, dtype=np.int64))
    reached = float(relaxed.prices @ np.array(asked.counts))
    patterns = useful(asked, relaxed.prices, best.cost - asked.step - reached)
    return best if patterns is None else _among(asked, best, patterns)


def _among(asked: Problem, best: Answer, patterns: list[Whole], held: Held | None = None) -> Answer:
    """The cheapest of an answer and what some patterns give, of which alone anything cheaper can consist."""
    found, sure = cheapest_of(asked, patterns, best.cost, held)
    if found is not None:
        best = _better(answer(asked, found, best.bound), best)
    return Answer(best.patterns, best.cost, best.cost) if sure else best


def _rounded(columns: Columns, relaxed: Relaxed) -> Iterable[Whole]:
    """What the relaxation cuts, rounded down, and bars filled one after another for what is left."""
    asked = columns.asked
    times = np.floor(relaxed.often + NOISE).astype(np.int64)
    whole = [
        columns.patterns[at] for at, n in zip(relaxed.patterns.tolist(), times.tolist(), strict=True) for _ in range(n)
    ]
    left = np.maximum(np.array(asked.counts) - times @ columns.patterns[relaxed.patterns], 0)
    return [*whole, *filled(asked, left, asked.largest)]


def _grouped(asked: Problem, best: Answer) -> Answer:
    """As `_exact`, of so many sizes that they are put into groups of as many pieces each: cut as if all of a group were
    as large as its largest, and bounded as if all were as small as its smallest.

    References
    ----------
    W. Fernandez de la Vega and G. S. Lueker, Bin packing can be solved within 1 + epsilon in linear time (1981).
    """
    pieces = np.repeat(np.array(asked.sizes), np.array(asked.counts))
    groups = np.array_split(pieces, MOST_SIZES)
    smaller = problem([int(group[-1]) for group in groups for _ in group], asked.bars)
    columns = Columns(smaller)
    bound = asked.rounded_up(columns.relax(np.array(smaller.counts, dtype=np.int64)).bound)
    best = _better(Answer(best.patterns, best.cost, min(bound, best.cost)), best)
    larger = problem([int(group[0]) for group in groups for _ in group], asked.bars)
    columns = Columns(larger)
    rough = _rounded(columns, columns.relax(np.array(larger.counts, dtype=np.int64)))
    return _better(answer(asked, _regrouped(asked, larger, rough), bound), best)


def _regrouped(asked: Problem, larger: Problem, patterns: Iterable[Whole]) -> Iterable[Whole]:
    """Patterns of groups as patterns of the sizes that are in them, the largest first."""
    pieces = np.repeat(np.arange(len(asked.sizes)), np.array(asked.counts))
    queues = [iter(part.tolist()) for part in np.split(pieces, np.cumsum(larger.counts)[:-1])]
    for pattern in patterns:
        found = np.zeros(len(asked.sizes), dtype=np.int64)
        for group, times in enumerate(pattern.tolist()):
            for at in islice(queues[group], times):
                found[at] += 1
        yield found
