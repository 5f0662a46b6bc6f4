"""Which of several alternatives comes first by what matters to a team, and how far that may change before another does.

The weighted sum model, and the sensitivity of its winner to one weight at a time: E. Triantaphyllou and A. Sánchez, "A
sensitivity analysis approach for some deterministic multi-criteria decision making methods", Decision Sciences 28
(1997), 151-194. That values of different kinds are put on a scale from the worst to the best of those compared is
common practice.
"""

from collections.abc import Sequence
from math import inf

import numpy as np
from numpy.typing import ArrayLike, NDArray

Real = NDArray[np.float64]


def scores(values: ArrayLike, more_is_better: Sequence[bool]) -> Real:
    """How good each alternative is in each criterion, 1 for the best of those compared and 0 for the worst.

    Where all are alike, each has 1, so that the criterion parts none from another.

    Parameters
    ----------
    values : (a, c) what each of `a` alternatives has in each of `c` criteria, in any unit.
    more_is_better : (c,) of each criterion whether a larger value is the better one.

    Examples
    --------
    >>> scores([[160, 2], [150, 1], [170, 2]], [False, True])
    array([[0.5, 1. ],
           [1. , 0. ],
           [0. , 1. ]])
    """
    given = np.asarray(values, float)
    signed = np.where(np.asarray(more_is_better, bool), given, -given)
    low, high = signed.min(axis=0), signed.max(axis=0)
    spread = np.where(high > low, high - low, 1.0)
    return np.where(high > low, (signed - low) / spread, 1.0)


def totals(scores: ArrayLike, weights: ArrayLike) -> Real:
    """(a,) the sum of each alternative's scores (a, c) by weight (c,).

    >>> totals([[25, 20, 15, 30], [10, 30, 20, 30], [30, 10, 30, 10]], [0.20, 0.15, 0.40, 0.25]).round(2)
    array([21.5, 22. , 22. ])
    """
    found: Real = np.asarray(scores, float) @ np.asarray(weights, float)
    return found


def winners(totals: ArrayLike, tied: float = 1e-9) -> tuple[int, ...]:
    """Those with the highest total, by their places; more than one where they tie.

    >>> winners([0.5, 0.75, 0.75])
    (1, 2)
    """
    given = np.asarray(totals, float)
    return tuple(map(int, np.flatnonzero(given >= given.max() - tied)))


def stays_first(scores: ArrayLike, weights: ArrayLike, criterion: int, winner: int) -> tuple[float, float]:
    """Between which values of one weight, the others as they are, no alternative comes before `winner`.

    Parameters
    ----------
    scores : (a, c) scores of the alternatives.
    weights : (c,) weights, none below 0, with which `winner` comes first.
    criterion : which weight moves.
    winner : the place of an alternative that comes first.

    Returns
    -------
    The lowest and the highest value, from 0 to infinity: a weight w of the criterion k lets the winner i lead j by
    lead(i, j) + (w - w[k]) (s[i, k] - s[j, k]), which falls to 0 at the ends.

    Examples
    --------
    >>> stays_first([[1, 0], [0, 1]], [3, 2], 1, winner=0)
    (0.0, 3.0)
    >>> stays_first([[1, 0], [0, 1]], [3, 2], 0, winner=0)
    (2.0, inf)
    """
    given, weight = np.asarray(scores, float), np.asarray(weights, float)
    all_else = given @ np.where(np.arange(len(weight)) == criterion, 0.0, weight)
    lead, slope = all_else[winner] - all_else, given[winner, criterion] - given[:, criterion]
    least = max((-lead[j] / slope[j] for j in np.flatnonzero(slope > 0)), default=0.0)
    most = min((lead[j] / -slope[j] for j in np.flatnonzero(slope < 0)), default=inf)
    return float(max(least, 0.0)), float(most)
