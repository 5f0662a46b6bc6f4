"""Sizes as they are built, and stretches of a wall's height. Lengths in inches."""

from collections.abc import Iterable
from math import floor

STEP = 1 / 8
"""Sizes that are built are multiples of this [in]."""


def built_size(target: float) -> float:
    """The target to the nearest 1/8 in, halves up.

    >>> built_size(4.7368)
    4.75
    """
    return floor(target / STEP + 0.5) * STEP


def covered(spans: Iterable[tuple[float, float]]) -> float:
    """Length that spans cover together, what overlaps counted once.

    >>> covered([(0, 5), (0, 1), (28, 30)])
    7.0
    """
    covered = reach = 0.0
    for bottom, top in sorted(spans):
        covered += max(0.0, top - max(bottom, reach))
        reach = max(reach, top)
    return covered
