"""House, intent, stock and library in, plan out."""

from collections.abc import Mapping

import numpy as np

from planner.hierarchy import reasons
from planner.hierarchy.graph import Integration, RoomGraph, integration, passage_graph, route, spaces, walks
from planner.hierarchy.importance import Standing, standings
from planner.hierarchy.problem import Assignment, TierProblem
from planner.hierarchy.rules import PassageRule, Rules, rules
from planner.hierarchy.tiers import assign
from planner.house.model import House
from planner.intent.model import MONEY, Intent
from planner.intent.soundness import sound
from planner.library import Library, standard
from planner.planning.answer import PassagePlan, Plan, RoomPlan, Route
from planner.planning.costs import Costs, costs_of
from planner.planning.kept import with_staying_tiers
from planner.planning.ladders import (
    Ladders,
    asked_of,
    carried,
    package_ladders,
)
from planner.stock.stock import Stock
from planner.trim.existing import with_existing
from planner.trim.packages import Package
from planner.trim.shared import shared_members
from planner.trim.steps import reads
from planner.units import listed

INTEGRATION_LIMIT = 500
"""Above this many rooms integration is computed only when asked for: it is all-pairs work."""


def plan(
    house: House,
    intent: Intent | None = None,
    stock: Stock | None = None,
    library: Library | None = None,
    *,
    integrated: bool | None = None,
) -> Plan:
    """The plan of a house under an intent: every room's tier and the reasons, every tier's trim package.

    Parameters
    ----------
    house : a valid house, every room reachable from its first entry.
    intent : the alternative; the house's own defaults where None.
    stock : what can be bought; where None, sizes are the targets rounded to 1/8 in, of a metric house to 1 mm.
    library : what the trade knows; the standard one where None.
    integrated : whether to compute integration; by default for houses of up to INTEGRATION_LIMIT rooms.

    Raises
    ------
    ValueError : unknown style, order, canon, grade or room of a set; rooms out of reach; all that `Intent` rules out.

    Examples
    --------
    >>> from planner import demo_house, read_house
    >>> planned = plan(read_house(demo_house())[0])
    >>> planned.optimal, planned.by_name["Entry Hall"].tier
    (True, 4)
    """
    intent, library = sound(intent or Intent()), library or standard()
    integrated = len(house.rooms) <= INTEGRATION_LIMIT if integrated is None else integrated
    asked = asked_of(house, intent, library)
    graph, depth, before = _walked(house, library)
    standing = standings(house, graph, depth, intent.importance, asked.top, library)
    ladders, staying, choice = package_ladders(house, intent, asked, stock, library)
    costs = costs_of(house, intent, ladders, stock, library)
    carries = carried(house, ladders, library)
    held = with_staying_tiers(rules(house, graph, depth, intent, asked.top, carries, library), staying)
    assignment = assign(problem := _problem(held, standing, costs, intent))
    depths = integration(graph) if integrated else dict.fromkeys(graph, Integration())
    rooms = _room_plans(house, problem, standing, depths, held, assignment, ladders, costs, library)
    return Plan(
        house=house,
        intent=intent,
        stock=stock,
        library=library,
        integrated=integrated,
        asked=asked,
        rooms=rooms,
        passages=_passage_plans(held, {room.room.name: room.package for room in rooms}, library),
        sets=_sets(graph, held),
        routes=_routes(house, before, library),
        conflicts=() if assignment else reasons.conflicts(held, problem.costs, problem.budget, costs.currency),
        choice=choice,
        ladders=ladders,
        rules=held,
        problem=problem,
        assignment=assignment,
    )


def _walked(house: House, library: Library) -> tuple[RoomGraph, dict[str, int], dict[str, str | None]]:
    """The graph of the rooms with `walks` from the entry. Raises ValueError where that is no room, or no way leads from
    it to another."""
    entry = next(iter(house.entries), "")
    if entry not in house.by_name:
        raise ValueError(f"the entry {entry!r} is none of the rooms; name one of them")
    graph = passage_graph(house, library)
    depth, before = walks(graph, entry)
    if lost := [repr(room.name) for room in house.rooms if room.name not in depth]:
        raise ValueError(
            f"no way leads from {entry!r} to {listed(lost)}; give each an opening into a room within reach"
        )
    return graph, depth, before


def _problem(
    held: Rules,
    standing: Mapping[str, Standing],
    costs: Costs,
    intent: Intent,
) -> TierProblem:
    """The assignment of tiers as the solver takes it; a budget in money binds nothing that is counted otherwise."""
    budget = intent.budget if bool(costs.in_money) == (intent.cost_in == MONEY) else None
    return held.problem(
        {room: s.target for room, s in standing.items()},
        {room: s.weight for room, s in standing.items()},
        np.array([costs.counted[room] for room in held.rooms]),
        budget,
    )


def _sets(graph: RoomGraph, held: Rules) -> tuple[tuple[str, ...], ...]:
    """Groups of rooms that share a tier: those asked for, and those that flow into each other."""
    members: dict[str, list[str]] = {}
    for room, space in spaces(graph).items():
        members.setdefault(space, []).append(room)
    flowing = [tuple(sorted(group)) for group in members.values() if len(group) > 1]
    return tuple(sorted({*held.sets, *flowing}))


def _routes(house: House, before: Mapping[str, str | None], library: Library) -> tuple[Route, ...]:
    """The walks from the entry to each bedroom, the rooms in the order of their names."""
    ends = sorted(room.name for room in house.rooms if library.use(room.use).bedroom)
    return tuple(Route(room, route(before, room)) for room in ends)


def _room_plans(
    house: House,
    problem: TierProblem,
    standing: Mapping[str, Standing],
    depths: Mapping[str, Integration],
    held: Rules,
    assignment: Assignment | None,
    ladders: Ladders,
    costs: Costs,
    library: Library,
) -> tuple[RoomPlan, ...]:
    """What the plan says of every room, in the house's order; nothing where there is no assignment."""
    if assignment is None:
        return ()
    chosen = dict(zip(held.rooms, map(int, assignment.tiers), strict=True))
    found = []
    for room in house.rooms:
        stands, deep, tier = standing[room.name], depths[room.name], chosen[room.name]
        found.append(
            RoomPlan(
                room=room,
                depth=stands.depth,
                mean_depth=deep.mean_depth,
                ra=deep.ra,
                rra=deep.rra,
                integration=deep.integration,
                factors=stands.factors,
                importance=stands.importance,
                target=stands.target,
                weight=stands.weight,
                lowest=held.lowest(room.name).lowest,
                highest=held.highest(room.name).highest,
                pinned=any(r.source == "pin" for r in held.ranges[room.name]),
                tier=tier,
                package=with_existing(ladders[room.name][tier - 1], house.stays.get(room.name, ()), library),
                cost=costs.by_index[room.name][tier - 1],
                tier_costs=costs.by_index[room.name],
                tier_money=costs.in_money.get(room.name, ()),
                reasons=reasons.reasons(room.name, tier, stands.target, chosen, held, problem.budget),
            )
        )
    return tuple(found)


def _passage_plans(held: Rules, packages: Mapping[str, Package], library: Library) -> tuple[PassagePlan, ...]:
    """What the plan says of every passage, nothing where no room has a package."""
    if not packages:
        return ()
    return tuple(_passage_plan(p, packages[p.near], packages[p.far], library) for p in held.passages)


def _passage_plan(passage: PassageRule, near: Package, far: Package, library: Library) -> PassagePlan:
    comfort = passage.comfort if passage.penalty else abs(far.tier - near.tier)
    stepped = passage.together and near.tier != far.tier
    return PassagePlan(
        start=passage.near,
        end=passage.far,
        kind=passage.kind,
        limit=passage.limit,
        comfort=passage.comfort,
        weight=passage.penalty,
        rise=passage.rise,
        difference=far.tier - near.tier,
        reads=reads(near, far, comfort, library, together=passage.together),
        leads_on=passage.leads_on,
        shared=shared_members(near, far, library) if stepped else (),
    )
