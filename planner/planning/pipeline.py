"""House, intent and stock in, plan out."""

from collections.abc import Mapping
from dataclasses import replace
from functools import lru_cache

import networkx as nx
import numpy as np

from planner.checks.plan import fits
from planner.hierarchy import reasons
from planner.hierarchy.graph import Integration, integration, passage_graph, route, spaces, walks
from planner.hierarchy.importance import Standing, standings, use_of
from planner.hierarchy.reasons import WhatIf
from planner.hierarchy.rules import PassageRule, Rules, rules
from planner.hierarchy.tiers import assign
from planner.house.model import House, Room
from planner.intent.model import Intent
from planner.library import standard
from planner.planning.answer import Objective, PassagePlan, Plan, RoomPlan, Route
from planner.stock.choice import Choice, choose
from planner.stock.stock import Stock
from planner.trim.packages import Package, least_ceiling, package, tier_names, top_tier
from planner.trim.steps import reads
from planner.units import format_length

INTEGRATION_LIMIT = 500
"""Above this many rooms integration is computed only when asked for: it is all-pairs work."""

BEDROOMS = ("bedroom", "principal bedroom", "guest bedroom", "nursery")
"""Uses that end the routes along which the step-down is read."""

Ladders = Mapping[float, tuple[Package, ...]]
"""For each ceiling height [in] the packages of all tiers, from the bottom."""


def plan(
    house: House, intent: Intent | None = None, stock: Stock | None = None, *, integrated: bool | None = None
) -> Plan:
    """The plan of a house under an intent: every room's tier and the reasons, every tier's trim package.

    Parameters
    ----------
    house : a valid house, every room reachable from its first entry.
    intent : the alternative; the house's own defaults where None.
    stock : what can be bought; where None, sizes are the targets rounded to 1/8 in.
    integrated : whether to compute integration; by default for houses of up to INTEGRATION_LIMIT rooms.

    Raises
    ------
    ValueError : for an unknown style, order or grade.
    """
    intent = intent or Intent()
    style, order, grade = intent.style or house.style, intent.order or house.order, intent.grade or house.grade
    tiers, top = intent.tiers, top_tier(grade, intent.tiers)

    graph = passage_graph(house)
    depth, before = walks(graph, house.entries[0])
    standing = standings(house, graph, depth, intent.importance, top)
    ladders, choice = _ladders(house, intent, style, order, top, stock)

    held = rules(house, graph, depth, intent, top, carried(house, ladders, style))
    tier_costs = {room.name: _tier_costs(room, ladders) for room in house.rooms}
    costs = np.array([tier_costs[room] for room in held.rooms])
    problem = held.problem(
        {room: s.target for room, s in standing.items()},
        {room: s.weight for room, s in standing.items()},
        costs,
        intent.budget,
    )
    assignment = assign(problem)

    frame = Plan(
        house=house,
        intent=intent,
        style=style,
        order=order,
        grade=grade,
        tier_names=tier_names(tiers),
        top=top,
        rooms=(),
        passages=(),
        packages=(),
        objective=Objective(0.0, 0.0),
        cost=0.0,
        optimal=False,
        sets=_sets(graph, held),
        routes=_routes(house, before),
        choice=choice,
        graph=graph,
        rules=held,
        problem=problem,
        assignment=assignment,
    )
    if assignment is None:
        return replace(frame, conflicts=reasons.conflicts(held, costs, intent.budget))

    chosen = dict(zip(held.rooms, map(int, assignment.tiers), strict=True))
    if integrated is None:
        integrated = len(house.rooms) <= INTEGRATION_LIMIT
    depths = integration(graph) if integrated else dict.fromkeys(graph, Integration())
    rooms = tuple(
        _room_plan(
            room,
            standing[room.name],
            depths[room.name],
            held,
            chosen,
            ladders[room.ceiling],
            tier_costs[room.name],
            intent.budget,
        )
        for room in house.rooms
    )
    packages = {room.name: ladders[room.ceiling][chosen[room.name] - 1] for room in house.rooms}
    return replace(
        frame,
        rooms=rooms,
        passages=tuple(_passage_plan(passage, packages) for passage in held.passages),
        packages=tuple(sorted(set(packages.values()), key=lambda p: (-p.tier, -p.ceiling))),
        objective=Objective(assignment.fit, assignment.abrupt),
        cost=assignment.cost,
        optimal=assignment.optimal,
        notes=_top_note(rooms, top),
    )


def what_if(planned: Plan, room: str) -> tuple[WhatIf, ...]:
    """What each tier of one room would change in the plan: objective, cost, and the rooms that would move with it."""
    if planned.assignment is None:
        return ()
    return reasons.what_if(room, planned.rules, planned.problem, planned.assignment)


def carried(house: House, ladders: Ladders, style: str) -> Mapping[str, tuple[int, str]]:
    """The highest tier that each room carries, and why no higher one: its ceiling, or what stands on its walls."""
    return _carried(house, tuple(ladders.items()), style)


@lru_cache(maxsize=64)
def _carried(
    house: House, ladders: tuple[tuple[float, tuple[Package, ...]], ...], style: str
) -> Mapping[str, tuple[int, str]]:
    """As `carried`, kept: no weight, pin or limit changes it."""
    by_height = dict(ladders)
    by_ceiling = {ceiling: _carried_by_ceiling(ceiling, style, len(ladder)) for ceiling, ladder in ladders}
    return {room.name: _carried_by_walls(house, room, by_height[room.ceiling], by_ceiling) for room in house.rooms}


def _carried_by_ceiling(ceiling: float, style: str, tiers: int) -> tuple[int, str]:
    needs = [least_ceiling(style, tier, tiers) for tier in range(1, tiers + 1)]
    highest = max((tier for tier, need in enumerate(needs, 1) if need <= ceiling), default=1)
    if highest == tiers:
        return tiers, ""
    need, has = format_length(needs[highest]), format_length(ceiling)
    return highest, f"tier {highest + 1} needs a ceiling of {need}, and this one is {has}"


def _carried_by_walls(
    house: House, room: Room, ladder: tuple[Package, ...], by_ceiling: Mapping[float, tuple[int, str]]
) -> tuple[int, str]:
    highest, why = by_ceiling[room.ceiling]
    for package_ in ladder[1:highest]:
        if errors := fits(house, room, package_, standard()):
            return package_.tier - 1, f"tier {package_.tier} does not fit: {errors[0].message.rstrip('.')}"
    return highest, why


def _ladders(
    house: House, intent: Intent, style: str, order: str, top: int, stock: Stock | None
) -> tuple[Ladders, Choice | None]:
    """Every tier's package under every ceiling of the house: the targets, or what stock builds of them.

    The choice from stock is made for all at once up to the highest tier in use; tiers above it stay targets.
    """
    tiers = range(1, intent.tiers + 1)
    targets = {
        ceiling: tuple(package(style, order, tier, ceiling, top=top, tiers=intent.tiers) for tier in tiers)
        for ceiling in sorted({room.ceiling for room in house.rooms})
    }
    if stock is None:
        return targets, None
    used = max([top, *(wish.tier for wish in intent.rooms.values() if wish.tier is not None)])
    choice = choose(tuple(target for ladder in targets.values() for target in ladder[:used]), stock)
    built = iter(choice.packages)
    return {
        ceiling: (*(next(built) for _ in ladder[:used]), *ladder[used:]) for ceiling, ladder in targets.items()
    }, choice


def _tier_costs(room: Room, ladders: Ladders) -> tuple[float, ...]:
    """Cost of each tier, to the hundredth: until there is a takeoff, trim share x length of the walls [ft]."""
    feet = room.perimeter / 12
    return tuple(round(package_.trim_share * feet, 2) for package_ in ladders[room.ceiling])


def _sets(graph: nx.Graph, held: Rules) -> tuple[tuple[str, ...], ...]:
    """Groups of rooms that share a tier: those asked for, and those that flow into each other."""
    members: dict[str, list[str]] = {}
    for room, space in spaces(graph).items():
        members.setdefault(space, []).append(room)
    flowing = [tuple(sorted(group)) for group in members.values() if len(group) > 1]
    return tuple(sorted({*held.sets, *flowing}))


def _routes(house: House, before: Mapping[str, str | None]) -> tuple[Route, ...]:
    """The walks from the entry to each bedroom, the rooms in the order of their names."""
    ends = sorted(room.name for room in house.rooms if use_of(room.use).name in BEDROOMS)
    return tuple(Route(room, route(before, room)) for room in ends)


def _room_plan(
    room: Room,
    standing: Standing,
    depths: Integration,
    held: Rules,
    chosen: Mapping[str, int],
    ladder: tuple[Package, ...],
    costs: tuple[float, ...],
    budget: float | None,
) -> RoomPlan:
    tier = chosen[room.name]
    return RoomPlan(
        room=room,
        depth=standing.depth,
        mean_depth=depths.mean_depth,
        ra=depths.ra,
        rra=depths.rra,
        integration=depths.integration,
        factors=standing.factors,
        importance=standing.importance,
        target=standing.target,
        weight=standing.weight,
        lowest=held.lowest(room.name).lowest,
        highest=held.highest(room.name).highest,
        pinned=any(r.source == "pin" for r in held.ranges[room.name]),
        tier=tier,
        package=ladder[tier - 1],
        cost=costs[tier - 1],
        tier_costs=costs,
        reasons=reasons.reasons(room.name, tier, standing.target, chosen, held, budget),
    )


def _passage_plan(passage: PassageRule, packages: Mapping[str, Package]) -> PassagePlan:
    near, far = packages[passage.near], packages[passage.far]
    return PassagePlan(
        start=passage.near,
        end=passage.far,
        kind=passage.kind,
        limit=passage.limit,
        comfort=passage.comfort,
        weight=passage.penalty,
        rise=passage.rise,
        difference=far.tier - near.tier,
        reads=reads(near, far, passage.comfort if passage.penalty else abs(far.tier - near.tier)),
    )


def _top_note(rooms: tuple[RoomPlan, ...], top: int) -> tuple[str, ...]:
    """What holds the house's top tier down, where no room has it."""
    if any(room.tier >= top for room in rooms):
        return ()
    best = max(rooms, key=lambda r: (r.target, r.room.name))
    return (f"No room has tier {top}. {best.room.name} comes nearest: {' '.join(best.reasons)}",)
