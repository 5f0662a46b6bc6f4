"""Why a room has its tier, what another tier would change, and which wishes cannot all hold."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np

from planner.hierarchy.problem import Assignment, Real, TierProblem
from planner.hierarchy.rules import FIXED, Arc, Range, Rules
from planner.hierarchy.tiers import assign
from planner.values import immutabledict


def reasons(
    room: str, tier: int, target: float, tiers: Mapping[str, int], rules: Rules, budget: float | None = None
) -> tuple[str, ...]:
    """What decided a room's tier: its target, and the rules that kept it from the tier nearest to it."""
    wanted = nearest_tier(target, rules.tiers)
    lines = [f"Its importance asks for {target:.2f}, nearest tier {wanted}."]
    pin = next((r for r in rules.ranges[room] if r.source in FIXED), None)
    if pin:
        lines.append(f"It is {pin.why}, which outranks its use and the house's grade.")
    if tier == wanted:
        return (*lines, "Nothing holds it from there.") if not pin else tuple(lines)
    if tier < wanted:
        held = [r.why for r in (rules.highest(room),) if r.highest == tier and r.source not in FIXED]
        held += [arc.why for arc in rules.by_end[room] if tiers[arc.start] + arc.bound == tier]
        direction = "down"
    else:
        held = [r.why for r in (rules.lowest(room),) if r.lowest == tier and r.source not in FIXED]
        held += [arc.why for arc in rules.by_start[room] if tiers[arc.end] - arc.bound == tier]
        direction = "up"
    held = list(dict.fromkeys(held))
    if held:
        lines.append(f"Held {direction} to {tier}: {'; '.join(held)}.")
    elif not pin:
        why = "make steps more abrupt" + ("" if budget is None else ", or cost more than the budget leaves")
        lines.append(f"Drawn {direction} to {tier} by its neighbours: another tier would {why}.")
    return tuple(lines)


def nearest_tier(target: float, tiers: int) -> int:
    """The tier nearest to a target, the lower of two.

    >>> nearest_tier(3.5, 5), nearest_tier(3.51, 5)
    (3, 4)
    """
    return min(range(1, tiers + 1), key=lambda tier: (abs(tier - target), tier))


@dataclass(frozen=True)
class WhatIf:
    """What it would take to give one room another tier.

    `objective` and `cost` are changes against the plan, `moves` the tiers of the other rooms that would move, or None
    with the `conflicts` in words where no plan has the room in that tier.
    """

    tier: int
    objective: float | None
    cost: float | None
    moves: Mapping[str, tuple[int, int]] | None
    conflicts: tuple[str, ...] = ()


def what_if(
    room: str, rules: Rules, problem: TierProblem, chosen: Assignment, currency: str = ""
) -> tuple[WhatIf, ...]:
    """What each tier of one room would change, from tier 1 up. A tier tried outranks use and grade, like a pin; costs
    are told in the `currency`, if any."""
    return tuple(_what_if(room, tier, rules, problem, chosen, currency) for tier in range(1, rules.tiers + 1))


def _what_if(room: str, tier: int, rules: Rules, problem: TierProblem, chosen: Assignment, currency: str) -> WhatIf:
    at = rules.index[room]
    tried = with_pin(rules, room, tier)
    other = assign(problem.with_ranges(*tried.bounds()))
    if other is None:
        return WhatIf(tier, None, None, None, conflicts(tried, problem.costs, problem.budget, currency))
    moved = np.flatnonzero(other.tiers != chosen.tiers)
    moves = {rules.rooms[i]: (int(chosen.tiers[i]), int(other.tiers[i])) for i in moved if i != at}
    return WhatIf(tier, other.total - chosen.total, round(other.cost - chosen.cost, 2), immutabledict(moves))


def with_pin(rules: Rules, room: str, tier: int) -> Rules:
    """The same rules with one room pinned; the pin outranks its use and the house's grade, and replaces any other."""
    return with_pins(rules, {room: tier})


def with_pins(rules: Rules, pins: Mapping[str, int]) -> Rules:
    """The same rules with rooms pinned, each to its tier as `with_pin` does."""
    pinned = {
        room: (
            *(r for r in rules.ranges[room] if r.source in ("ladder", "room")),
            Range(tier, tier, "pin", f"pinned to tier {tier}"),
        )
        for room, tier in pins.items()
    }
    return replace(rules, ranges={**rules.ranges, **pinned})


def conflicts(
    rules: Rules, costs: Real | None = None, budget: float | None = None, currency: str = ""
) -> tuple[str, ...]:
    """A smallest set of rules that cannot all hold, in words; empty where they can. Costs are told in the `currency`,
    where they are not by an index.

    A conflict is a chain: a range holds one room down, arcs carry that from room to room, and a range holds the last
    room up above what arrives. The chain with the fewest rules is found by growing all chains one arc at a time.
    """
    chain = shortest_chain(rules)
    if chain:
        return _told(chain)
    return _beyond_budget(rules, costs, budget, currency) if budget is not None and costs is not None else ()


class Chain(NamedTuple):
    """Rules that cannot all hold: a room with the range that holds it down, the arcs that carry that on, and the last
    room with the range that holds it up above what arrives."""

    down: tuple[str, Range]
    arcs: tuple[Arc, ...]
    up: tuple[str, Range]


def shortest_chain(rules: Rules) -> Chain | None:
    """The chain of fewest rules that cannot all hold, None where all can."""
    for room in rules.rooms:
        low, high = rules.lowest(room), rules.highest(room)
        if low.lowest > high.highest:
            return Chain((room, high), (), (room, low))
    reach = {room: rules.highest(room).highest for room in rules.rooms}
    came: list[dict[str, Arc]] = []
    for _ in rules.rooms:
        further, by = dict(reach), {}
        for arc in rules.arcs:
            if reach[arc.start] + arc.bound < further[arc.end]:
                further[arc.end], by[arc.end] = reach[arc.start] + arc.bound, arc
        if not by:
            return None
        came.append(by)
        reach = further
        for room in sorted(by):
            if reach[room] < rules.lowest(room).lowest:
                return _chain_to(rules, room, came)
    return None


def _chain_to(rules: Rules, room: str, came: list[dict[str, Arc]]) -> Chain:
    """The chain that ends in a room, `came` the arcs that lowered each room, round by round."""
    arcs, here = [], room
    for by in reversed(came):
        if here in by:
            arcs.append(by[here])
            here = by[here].start
    return Chain((here, rules.highest(here)), tuple(reversed(arcs)), (room, rules.lowest(room)))


def _told(chain: Chain) -> tuple[str, ...]:
    words = (_says(*chain.down), *(_sentence(arc.why) for arc in chain.arcs), _says(*chain.up))
    return tuple(dict.fromkeys(words))


def _says(room: str, held: Range) -> str:
    return f"{room}: {held.why}."


def _sentence(text: str) -> str:
    return f"{text[0].upper()}{text[1:]}."


def _beyond_budget(rules: Rules, costs: Real, budget: float, currency: str) -> tuple[str, ...]:
    plainest = _least_cost(rules, costs)
    if plainest <= budget:
        return ()
    asked = [
        (room, held)
        for room in rules.rooms
        for held in rules.ranges[room]
        if held.source in (*FIXED, "range") and held.lowest > 1
    ]
    needed = list(asked)
    for wish in asked:
        fewer = [w for w in needed if w is not wish]
        if _least_cost(_only(rules, fewer), costs) > budget:
            needed = fewer
    money, least = (f"{currency} {cost:,.2f}".strip() for cost in (budget, plainest))
    return (
        f"The budget is {money}, and the plainest plan that keeps every rule costs {least}.",
        *(_says(room, held) for room, held in needed),
    )


def _only(rules: Rules, asked: Sequence[tuple[str, Range]]) -> Rules:
    """The rules without the pins and ranges that hold rooms up, except those in `asked`."""
    kept = {(room, id(held)) for room, held in asked}
    return replace(
        rules,
        ranges={
            room: tuple(
                held
                for held in ranges
                if held.source not in (*FIXED, "range") or held.lowest == 1 or (room, id(held)) in kept
            )
            for room, ranges in rules.ranges.items()
        },
    )


def _least_cost(rules: Rules, costs: Real) -> float:
    """Cost of the lowest tiers that keep every range and arc; trim never costs less at a higher tier."""
    tiers = {room: rules.lowest(room).lowest for room in rules.rooms}
    raised = set(rules.rooms)
    while raised:
        room = raised.pop()
        for arc in rules.by_end[room]:
            if tiers[arc.start] < tiers[room] - arc.bound:
                tiers[arc.start] = tiers[room] - arc.bound
                raised.add(arc.start)
    return round(float(sum(costs[i, tiers[room] - 1] for i, room in enumerate(rules.rooms))), 2)
