"""From the relaxation of cutting stock to bars in whole numbers: by diving, and by all patterns that may be of use."""

from collections.abc import Iterator, Sequence
from functools import partial
from typing import Any, NamedTuple

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csc_array

from planner.stock.arrays import Floats, Whole
from planner.takeoff.bars import NOISE, Held, Pattern, Problem
from planner.takeoff.columns import Columns, Relaxed

BRANCHES = 3
"""Of how many patterns that the relaxation cuts most of one is settled, at most."""

NEAR = 0.7
"""What is cut more often than this, and less than once, is settled together with all else that is."""

TRIES = ((0, False), (2, False), (0, True), (4, True))
"""How often a dive may settle otherwise than the likeliest, added up over its branches, and whether it lets prices
settle at every node: at first neither."""

MOST_USEFUL, STEPS = 10_000, 20
"""How many patterns are written down to tell all that may be of use, and how many bars half filled are looked at for
each."""

NODES = 1_000
"""How many nodes of its tree the solver may look at."""


class _Node(NamedTuple):
    """A part of the way: what is left to be cut and of shares that are held, the patterns that are settled, their cost,
    and turns that are left."""

    left: Whole
    owed: int
    settled: tuple[tuple[int, int], ...]
    cost: int
    turns: int


def dive(columns: Columns, most: int, nodes: int) -> list[Whole] | None:
    """Patterns that cut everything for no more than a cost; None where none are found in so many nodes of each try.

    Notes
    -----
    What the relaxation cuts as often as a whole number, or nearly once, is settled together, else one pattern, and what
    is left is relaxed anew: a way is given up as soon as its bound is above the cost. That all patterns are priced
    again at every node is what makes it find the optimum of nearly every instance.

    References
    ----------
    G. Belov and G. Scheithauer, A branch-and-cut-and-price algorithm for one-dimensional stock cutting (2006), on
    diving; W. D. Harvey and M. L. Ginsberg, Limited discrepancy search (1995), on turns.
    """
    asked = columns.asked
    for turns, patient in TRIES:
        stack = [_Node(np.array(asked.counts, dtype=np.int64), columns.owed, (), 0, turns)]
        for _ in range(nodes):
            if not stack:
                break
            node = stack.pop()
            if not node.left.any():
                return [columns.patterns[at] for at, times in node.settled for _ in range(times)]
            relaxed = columns.relax(node.left, partial(_tells, asked, most - node.cost, patient), node.owed)
            if node.cost + asked.rounded_up(relaxed.bound) <= most:
                stack += reversed(list(_children(columns, node, relaxed)))
    return None


def _tells(asked: Problem, most: int, patient: bool, reached: float, bound: float) -> bool:
    """Whether what a relaxation reached and its bound so far tell if it comes to no more than a cost; to be patient is
    to ask for more where it does."""
    return (not patient and reached <= most + NOISE * asked.step) or asked.rounded_up(bound) > most


def _children(columns: Columns, node: _Node, relaxed: Relaxed) -> Iterator[_Node]:
    """What may be settled next, the likeliest first."""
    order = np.argsort(-relaxed.often, kind="stable")
    whole = np.floor(relaxed.often + NOISE).astype(np.int64)
    group = np.flatnonzero(whole)
    if not len(group):
        near = order[relaxed.often[order] >= NEAR]
        given = np.cumsum(columns.patterns[relaxed.patterns[near]], axis=0)
        group = near[(given <= node.left).all(axis=1)]
    together = len(group) > 0
    if together:
        yield _settled(columns, node, relaxed.patterns[group], np.maximum(whole[group], 1), 0)
    for rank, at in enumerate(order[:BRANCHES].tolist(), start=together):
        if rank <= node.turns:
            yield _settled(columns, node, relaxed.patterns[[at]], np.ones(1, dtype=np.int64), rank)


def _settled(columns: Columns, node: _Node, patterns: Whole, times: Whole, rank: int) -> _Node:
    left = np.maximum(node.left - times @ columns.patterns[patterns], 0)
    added = tuple(zip(patterns.tolist(), times.tolist(), strict=True))
    owed = node.owed - int(times @ columns.shares[patterns])
    return _Node(left, owed, node.settled + added, node.cost + int(times @ columns.costs[patterns]), node.turns - rank)


def useful(
    asked: Problem, prices: Floats, slack: float, most: int = MOST_USEFUL, beside: Sequence[float] | None = None
) -> list[Whole] | None:
    """Every pattern whose bar costs no more than what it is worth and a slack: a choice of bars that costs no more than
    the bound at these prices and the slack has no other; None where they are more than `most`.

    Parameters
    ----------
    prices : what one of each size is worth, so that no pattern is worth more than its bar costs.
    beside : what each bar is worth beside what it gives, for its shares.
    """
    tails = _tails(asked, prices)
    found: list[Whole] = []
    steps = 0
    smaller = 0
    for bar, more in zip(asked.bars, beside or [0.0] * len(asked.bars), strict=True):
        stack: list[tuple[int, int, float, Pattern]] = [(0, bar.capacity, 0.0, ())]  # next size, room, worth, pattern
        while stack:
            at, room, worth, pattern = stack.pop()
            steps += 1
            if steps > STEPS * most or len(found) > most:
                return None
            if worth + tails[at, room] + more < bar.cost - slack - NOISE:
                continue
            if at == len(asked.sizes):
                if bar.capacity - room > smaller:
                    found.append(np.array(pattern, dtype=np.int64))
                continue
            size = asked.sizes[at]
            for times in range(min(asked.counts[at], room // size) + 1):
                stack.append((at + 1, room - times * size, worth + times * float(prices[at]), (*pattern, times)))
        smaller = bar.capacity
    return found


def _tails(asked: Problem, prices: Floats) -> Floats:
    """What each room is worth at most, filled with the sizes from each on; the last row is for none."""
    tails = np.zeros((len(asked.sizes) + 1, asked.largest + 1))
    for at in range(len(asked.sizes) - 1, -1, -1):
        size, price, row = asked.sizes[at], float(prices[at]), tails[at + 1]
        best = row.copy()
        for times in range(1, min(asked.counts[at], asked.largest // size) + 1):
            wide = times * size
            np.maximum(best[wide:], row[: len(row) - wide] + times * price, out=best[wide:])
        tails[at] = best
    return tails


def cheapest_of(
    asked: Problem, patterns: list[Whole], most: int, held: Held | None = None
) -> tuple[list[Whole] | None, bool]:
    """The cheapest patterns of some that cut everything for less than a cost, and come to the shares that are held;
    None where none are found; and whether it is certain that none are cheaper."""
    if not patterns:
        return None, True
    table = np.array(patterns, dtype=np.int64)
    costs = np.array([asked.cost_of(p.tolist()) for p in patterns]) // asked.step
    rows = [LinearConstraint(csc_array(table.T.astype(np.float64)), np.array(asked.counts), np.inf)]
    rows.append(LinearConstraint(csc_array(costs[None, :].astype(np.float64)), -np.inf, most // asked.step - 1))
    if held:
        shares = np.array([asked.shares_of(p.tolist(), held.shares) for p in patterns], dtype=np.float64)
        rows.append(LinearConstraint(csc_array(shares[None, :]), held.least, np.inf))
    limits: Any = {"node_limit": NODES, "mip_rel_gap": 0.0}
    solved: Any = milp(
        costs,
        constraints=rows,
        bounds=Bounds(0, np.inf),
        integrality=np.ones(len(costs), dtype=np.int64),
        options=limits,
    )
    if solved.x is None:
        return None, solved.status == 2
    times = np.rint(solved.x).astype(np.int64)
    return [table[at] for at in np.flatnonzero(times).tolist() for _ in range(times[at])], solved.status == 0
