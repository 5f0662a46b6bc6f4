"""The house as a graph: a node a room, an edge a passage; depth, guests' walks and integration on it.

Rooms joined by an `open` passage are one space: walking between them adds no step.
"""

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from math import log2
from typing import Any, TypeAlias

import networkx as nx
import numpy as np
from scipy.sparse.csgraph import dijkstra

from planner.house.model import OUTSIDE, House
from planner.library import Library

RoomGraph: TypeAlias = "nx.Graph[str]"
"""Rooms, or spaces, by name; an edge of rooms has its `kind` of passage and its `depth` in steps."""


def passage_graph(house: House, library: Library) -> RoomGraph:
    """Rooms and the passages between them; several passages between one pair keep the widest kind.

    Nodes and edges come in the order of their names, whatever the order of the tables.
    """
    rank = {kind: number for number, kind in enumerate(library.passage_kinds)}
    widest: dict[tuple[str, str], str] = {}
    for opening in house.openings:
        if opening.kind not in rank or opening.other in ("", OUTSIDE, opening.room):
            continue
        near, far = sorted((opening.room, opening.other))
        if (near, far) not in widest or rank[opening.kind] < rank[widest[near, far]]:
            widest[near, far] = opening.kind
    graph: RoomGraph = nx.Graph()
    graph.add_nodes_from(sorted(house.by_name))
    graph.add_edges_from(
        (a, b, {"kind": kind, "depth": library.passage_kinds[kind].depth}) for (a, b), kind in sorted(widest.items())
    )
    return graph


def spaces(graph: RoomGraph) -> dict[str, str]:
    """The space of each room, named by its first room: rooms joined by `open` passages share one.

    >>> g = nx.Graph()
    >>> g.add_edge("kitchen", "family room", kind="open", depth=0)
    >>> g.add_edge("hall", "kitchen", kind="door", depth=1)
    >>> spaces(g)["kitchen"], spaces(g)["hall"]
    ('family room', 'hall')
    """
    flow: RoomGraph = nx.Graph()
    flow.add_nodes_from(graph)
    flow.add_edges_from((a, b) for a, b, edge in graph.edges(data=True) if edge["depth"] == 0)
    return {room: first for part in nx.connected_components(flow) for first in [min(part)] for room in part}


def space_graph(graph: RoomGraph, space: Mapping[str, str]) -> RoomGraph:
    """The graph of spaces, an edge one step."""
    merged: RoomGraph = nx.Graph()
    merged.add_nodes_from(sorted(set(space.values())))
    merged.add_edges_from((space[a], space[b]) for a, b in graph.edges() if space[a] != space[b])
    return merged


def walks(graph: RoomGraph, entry: str) -> tuple[dict[str, int], dict[str, str | None]]:
    """Step depth of every reachable room from the entry, and the room before it on the shortest walk.

    Among equally deep ways the one through fewer rooms is taken, then the one whose previous room comes first by name.

    >>> g = nx.Graph()
    >>> g.add_edge("hall", "kitchen", kind="door", depth=1)
    >>> g.add_edge("kitchen", "family room", kind="open", depth=0)
    >>> walks(g, "hall")
    ({'hall': 0, 'kitchen': 1, 'family room': 1}, {'hall': None, 'kitchen': 'hall', 'family room': 'kitchen'})
    """
    step = len(graph) + 1

    def length(_a: str, _b: str, edge: dict[str, Any]) -> int:
        return int(edge["depth"]) * step + 1

    lengths = nx.single_source_dijkstra_path_length(graph, entry, weight=length)
    far = {room: int(distance) for room, distance in lengths.items()}
    before: dict[str, str | None] = {
        room: min(
            (near for near, edge in graph[room].items() if far[near] + edge["depth"] * step + 1 == distance),
            default=None,
        )
        for room, distance in far.items()
    }
    return {room: distance // step for room, distance in far.items()}, before


def route(before: Mapping[str, str | None], room: str) -> tuple[str, ...]:
    """The rooms walked from the entry to `room`, both included."""
    walked = [room]
    while (previous := before[walked[-1]]) is not None:
        walked.append(previous)
    return tuple(reversed(walked))


def guest_traffic(graph: RoomGraph, entry: str, guest_rooms: Collection[str]) -> dict[str, float]:
    """The share of guests' walks that passes through each room on its way to another, 0 to 1.

    Walks are the shortest ones, by space, from the entry to each room that guests use; where there are several of
    one length each counts for its part. Every walk starts in the entry, so its share is 1; elsewhere this is the
    betweenness of networkx's `betweenness_centrality_subset`, over the number of walks.

    References
    ----------
    U. Brandes, A faster algorithm for betweenness centrality, Journal of Mathematical Sociology 25 (2001).
    """
    space = spaces(graph)
    plan = space_graph(graph, space)
    start = space[entry]
    goals = {space[room] for room in guest_rooms} - {start}
    depth, ways, order = {start: 0}, {start: 1}, [start]
    before: dict[str, list[str]] = {start: []}
    for here in order:
        for there in plan[here]:
            if there not in depth:
                depth[there], ways[there], before[there] = depth[here] + 1, 0, []
                order.append(there)
            if depth[there] == depth[here] + 1:
                ways[there] += ways[here]
                before[there].append(here)
    goals &= depth.keys()
    through = dict.fromkeys(order, 0.0)
    for there in reversed(order):
        carried = (through[there] + (there in goals)) / ways[there]
        for here in before[there]:
            through[here] += ways[here] * carried
    total = max(1, len(goals))
    return {room: 1.0 if space[room] == start else through.get(space[room], 0.0) / total for room in graph}


@dataclass(frozen=True)
class Integration:
    """How deep a room lies from all others: mean depth, relative asymmetry, and it against a standard plan.

    `integration` is 1/RA; a value is None where it is not defined.
    """

    mean_depth: float | None = None
    ra: float | None = None
    rra: float | None = None
    integration: float | None = None


def diamond_value(k: int) -> float:
    """D(k), the relative asymmetry of the root of a diamond-shaped plan of k spaces.

    Notes
    -----
    D(k) = 2 {k [log2((k + 2)/3) - 1] + 1} / [(k - 1)(k - 2)]

    References
    ----------
    B. Hillier and J. Hanson, The Social Logic of Space (1984).
    """
    return 2 * (k * (log2((k + 2) / 3) - 1) + 1) / ((k - 1) * (k - 2))


def relative_asymmetry(mean_depth: float, k: int) -> float:
    """RA of a space of mean depth `mean_depth` among k spaces: 0 for the root of a bush, 1 for the end of a sequence.

    Notes
    -----
    RA = 2 (MD - 1)/(k - 2)

    References
    ----------
    B. Hillier and J. Hanson, The Social Logic of Space (1984).

    >>> relative_asymmetry(1.0, 5), relative_asymmetry(2.5, 5)
    (0.0, 1.0)
    """
    return 2 * (mean_depth - 1) / (k - 2)


def integration(graph: RoomGraph) -> dict[str, Integration]:
    """Integration of every room by space, over all pairs; the work grows with the square of the house."""
    space = spaces(graph)
    plan = space_graph(graph, space)
    names, k = list(plan), len(plan)
    if k < 3:
        return {room: Integration() for room in graph}
    matrix = nx.to_scipy_sparse_array(plan, nodelist=names)
    depths = dijkstra(matrix, directed=False, unweighted=True)
    means = {name: float(mean) for name, mean in zip(names, depths.sum(axis=1) / (k - 1), strict=True)}
    return {room: _integration(means[space[room]], k) for room in graph}


def _integration(mean_depth: float, k: int) -> Integration:
    if not np.isfinite(mean_depth):
        return Integration()
    ra = relative_asymmetry(mean_depth, k)
    rra = ra / diamond_value(k) if k > 4 else None
    return Integration(mean_depth, ra, rra, 1 / ra if ra > 1e-12 else None)
