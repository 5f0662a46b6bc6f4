"""What an alternative may not say, whoever made it: from that no house has a plan."""

from collections.abc import Iterator
from math import inf, isnan

from planner.intent.model import FACTORS, Intent


def sound(intent: Intent) -> Intent:
    """The alternative as it is, where a plan can be made from it.

    Raises
    ------
    ValueError : in words, what it may not say: a weight or a limit below zero, no weight above zero, a factor that
        there is not, a set of fewer than two rooms, a budget that is no number.
    """
    fault = next(_faults(intent), None)
    if fault is not None:
        raise ValueError(fault)
    return intent


def _faults(intent: Intent) -> Iterator[str]:
    """What is wrong, and what would be right."""
    for factor, weight in intent.importance.items():
        if factor not in FACTORS:
            yield f"no factor {factor!r}; there are {', '.join(FACTORS)}"
        if not 0 <= weight < inf:
            yield f"the weight of {factor} must be zero or more, not {weight}"
    if not any(intent.importance.values()):
        yield "all weights are zero; give at least one factor a weight above zero"
    for kind, most in intent.limits.items():
        if most < 0:
            yield f"the limit of a {kind} must be zero or more, not {most}"
    if any(len(set(rooms)) < 2 for rooms in intent.sets):
        yield "a set needs two rooms or more"
    if intent.budget is not None and isnan(intent.budget):
        yield "a budget must be a number"
