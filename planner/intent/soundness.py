"""What an alternative may not say, whoever made it: from that no house has a plan."""

from collections.abc import Iterator
from math import inf, isfinite

from planner.intent.model import COST_IN, FACTORS, Intent
from planner.intent.trim_rules import LEAST, LENGTHS
from planner.units import listed


def sound(intent: Intent) -> Intent:
    """The alternative as it is, where a plan can be made from it.

    Raises
    ------
    ValueError : in words, what it may not say: a weight or a limit below zero, no weight above zero, a factor that
        there is not, a set of fewer than two rooms, a budget that is no number, costs that are counted in nothing that
        they may be, a trim rule with a length below the least.
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
    if intent.budget is not None and not isfinite(intent.budget):
        yield f"a budget must be a number, or left out, not {intent.budget}"
    if intent.cost_in is not None and intent.cost_in not in COST_IN:
        yield f"costs are counted in one of {listed(COST_IN)}, not in {intent.cost_in!r}"
    for rule in intent.trim:
        for name in LENGTHS:
            length = getattr(rule.change, name)
            if length is not None and not LEAST <= length < inf:
                yield f"the {name} of {rule.element} must be 1/16 in or more, not {length}"
