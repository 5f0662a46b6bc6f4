"""Sizes as they are built, and stretches of a wall's height. Lengths in inches."""

from collections.abc import Iterable
from math import floor

from planner.units import METRIC, Unit

STEP = 1 / 8
"""Sizes that are built are multiples of this [in], in a metric house of a millimetre."""

HAIR = 1e-9
"""By how much of a step a multiple of one may be missed in reckoning."""


def steps_to_the_inch(unit: Unit) -> float:
    """How many of the steps in which sizes are built go into an inch, in a house of that unit."""
    return 25.4 if unit in METRIC else 1 / STEP


def built_size(target: float, unit: Unit = "in") -> float:
    """The target [in] to the nearest 1/8 in, of a metric house to the nearest millimetre, halves up.

    >>> built_size(4.7368), round(built_size(4.7368, "mm") * 25.4, 9)
    (4.75, 120.0)
    """
    return floor(target * steps_to_the_inch(unit) + 0.5) / steps_to_the_inch(unit)


def built_within(room: float, unit: Unit = "in") -> float:
    """The largest size [in] that is built within so much room [in].

    >>> built_within(4.7368), round(built_within(4.7368, "mm") * 25.4, 9)
    (4.625, 120.0)
    """
    return floor(room * steps_to_the_inch(unit) + HAIR) / steps_to_the_inch(unit)


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
