"""The frontier of cost against objective: the assignments that no other beats in one without losing in the other.

The corners of its convex hull are linear programs, each of which weighs the cost as the chord between two points does
(Aneja and Nair, "Bicriteria transportation problem", Management Science 25, 1979). What else lies between two
neighbours is found as the best within a budget. Solves are bounded, so those that are left go to the widest gap, that
what is found may stand for the whole (Hamacher, Pedersen and Ruzika, "Finding representative systems for discrete
bicriterion optimization problems", Operations Research Letters 35, 2007).

All budgets are tried, so the budget of a problem is left aside.
"""

from collections import deque
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import hypot
from typing import NamedTuple

from planner.hierarchy.branching import Search, Unproved, best_within, spend
from planner.hierarchy.problem import TIE, Assignment, TierProblem
from planner.hierarchy.tiers import assign

MOST, FEWEST, COLUMNS = 60, 8, 100_000
"""Solves of a frontier beyond its two ends: at most MOST; of large problems only as many as have COLUMNS together, but
FEWEST in any case."""

NODES = 2_000
"""The most nodes of one solve; a gap that needs more is left open."""

WIDE = 16
"""A gap wider than this part of the whole is halved, a narrower one is walked from its dear end."""

KNEE = 0.05
"""How far a knee lies from its chord at least, where the whole frontier is a square of side 1."""


@dataclass(frozen=True)
class Frontier:
    """Points of the frontier from the cheapest up, each with a better objective than the one before it.

    `knees` are the places of its knees among the points, the knee of the whole first. `gap` is the most by which an
    assignment that is not listed can be better than the listed one that costs no more, by the objective; 0 where the
    list is whole.
    """

    points: tuple[Assignment, ...]
    knees: tuple[int, ...]
    gap: float

    @property
    def whole(self) -> bool:
        """Whether the points are all that there are."""
        return self.gap == 0


class _Gap(NamedTuple):
    """Two points, the cheaper at the left, between which others may lie that cost `low` hundredths or more."""

    left: Assignment
    right: Assignment
    low: int

    @property
    def high(self) -> int:
        """The most that a point between can cost, in hundredths."""
        return _hundredths(self.right) - 1

    @property
    def height(self) -> float:
        """How much better the dearer point is."""
        return self.left.total - self.right.total

    @property
    def empty(self) -> bool:
        """Whether nothing can lie between."""
        return self.low > self.high or self.height <= TIE


def frontier(
    problem: TierProblem, known: Iterable[Assignment] = (), *, solves: int | None = None, nodes: int = NODES
) -> Frontier | None:
    """The frontier of cost against objective, None where no assignment keeps every rule.

    Parameters
    ----------
    known : assignments that are on it; they are among its points.
    solves : how many solves beyond the two ends; by default as the module says.
    nodes : the most nodes of one solve.
    """
    free = replace(problem, budget=None, shared=problem.program)
    best = assign(free)
    cheapest = best_within(free, (spend(free),), by_room=False)
    if best is None or cheapest is None:
        return None
    if solves is None:
        solves = max(FEWEST, min(MOST, COLUMNS // len(free.program.objective)))
    corners, solves = _corners(free, cheapest, best, solves)
    points = _nondominated([*known, *corners])
    between, gap = _between(free, points, solves, nodes)
    points = _nondominated([*points, *between])
    return Frontier(tuple(points), _knees(points), gap)


def _corners(problem: TierProblem, cheapest: Assignment, best: Assignment, solves: int) -> tuple[list[Assignment], int]:
    """The corners of the convex hull, and how many solves are left; where there are too few, the first are found of all
    parts alike."""
    found, chords = [cheapest, best], deque([(cheapest, best)])
    search, cost = Search(problem, (), None), spend(problem) / 100
    while chords and solves:
        left, right = chords.popleft()
        if right.cost <= left.cost or left.total - right.total <= TIE:
            continue
        solves -= 1
        slope = (left.total - right.total) / (right.cost - left.cost)
        tiers = search.least(problem.program.objective + slope * cost)
        assert tiers is not None, "the ends keep every rule"
        corner = problem.evaluate(tiers, optimal=True)
        if corner.total + slope * corner.cost < left.total + slope * left.cost - TIE:
            found.append(corner)
            chords.extend(((left, corner), (corner, right)))
    return found, solves


def _between(
    problem: TierProblem, points: Sequence[Assignment], solves: int, nodes: int
) -> tuple[list[Assignment], float]:
    """What lies between points, the largest gap first, and the height of the largest that is left open."""
    gaps = [_Gap(a, b, _hundredths(a) + 1) for a, b in pairwise(points)]
    wide = (_hundredths(points[-1]) - _hundredths(points[0])) // WIDE
    gaps, found, left_open = [gap for gap in gaps if not gap.empty], [], 0.0
    while gaps and solves:
        gap = gaps.pop(max(range(len(gaps)), key=lambda at: (gaps[at].height, -gaps[at].low)))
        most = (gap.low + gap.high) // 2 if gap.high - gap.low > wide else gap.high
        solves -= 1
        try:
            point = best_within(replace(problem, budget=most / 100), nodes=nodes, by_room=False)
        except Unproved:
            left_open = max(left_open, gap.height)
            continue
        assert point is not None, "the cheaper end is within the budget"
        if _hundredths(point) > _hundredths(gap.left):
            found.append(point)
        else:
            point = gap.left
        parts = _Gap(gap.left, point, gap.low), _Gap(point, gap.right, most + 1)
        gaps.extend(part for part in parts if not part.empty)
    return found, max([left_open, *(gap.height for gap in gaps)])


def _nondominated(points: Iterable[Assignment]) -> list[Assignment]:
    """Those that no other beats, from the cheapest up; of equal ones the first."""
    kept: list[Assignment] = []
    for point in sorted(points, key=lambda p: (p.cost, p.total)):
        if not kept or point.total < kept[-1].total - TIE:
            kept.append(point)
    return kept


def _knees(points: Sequence[Assignment]) -> tuple[int, ...]:
    """The places of the knees.

    Notes
    -----
    A knee is the point that lies farthest below the chord between the ends (Das, "On characterizing the 'knee' of the
    Pareto curve based on Normal-Boundary Intersection", Structural Optimization 18, 1999), here with either axis scaled
    to run from 0 to 1. The same is then asked of the two parts into which it divides the frontier. Such a point is a
    corner of the hull, so the knees do not depend on what else is listed.
    """
    knee = _knee(points, 0, len(points) - 1)
    if knee is None:
        return ()
    found = (knee, _knee(points, 0, knee), _knee(points, knee, len(points) - 1))
    return tuple(at for at in found if at is not None)


def _knee(points: Sequence[Assignment], first: int, last: int) -> int | None:
    """The point farthest below the chord between two, the cheaper of two as far; None where none is as far as KNEE."""
    wide = points[-1].cost - points[0].cost
    high = points[0].total - points[-1].total
    places = [((p.cost - points[0].cost) / wide, (p.total - points[-1].total) / high) for p in points] if wide else []

    def below(at: int) -> float:
        (x0, y0), (x1, y1), (x, y) = places[first], places[last], places[at]
        return ((x1 - x0) * (y0 - y) - (x - x0) * (y0 - y1)) / hypot(x1 - x0, y1 - y0)

    inner = range(first + 1, last)
    knee = max(inner, key=lambda at: (round(below(at), 9), -at), default=None)
    return knee if knee is not None and below(knee) >= KNEE else None


def _hundredths(point: Assignment) -> int:
    return round(point.cost * 100)
