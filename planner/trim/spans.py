"""Stretches of a wall's height. Lengths in inches."""

from collections.abc import Iterable


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
