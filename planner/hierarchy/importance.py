"""How important each room is, and the tier that its importance asks for."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import sqrt

from planner.hierarchy.graph import RoomGraph, guest_traffic
from planner.house.model import House
from planner.intent.model import FACTORS
from planner.library import Library
from planner.values import immutabledict


def room_factors(
    house: House, graph: RoomGraph, depth: Mapping[str, int], library: Library
) -> dict[str, dict[str, float]]:
    """The factors of each room's importance, each 0 to 1.

    `use`: how public the use is. `display`: how much ornament the use asks for, times the presence, as a narrow hall
    has no walls to show it on. `arrival`: 1 - step depth / the greatest. `passage`: the share of guests' walks that
    goes through it. `presence`: geometric mean of floor area and ceiling height, each against the house's largest.
    """
    deepest = max(depth.values()) or 1
    guests = [room.name for room in house.rooms if library.use(room.use).guest]
    traffic = guest_traffic(graph, house.entries[0], guests)
    largest = max(room.area for room in house.rooms)
    tallest = max(room.ceiling for room in house.rooms)
    presence = {room.name: sqrt(room.area / largest * room.ceiling / tallest) for room in house.rooms}
    return {
        room.name: {
            "use": library.use(room.use).public,
            "display": library.use(room.use).display * presence[room.name],
            "arrival": 1 - depth[room.name] / deepest,
            "passage": traffic[room.name],
            "presence": presence[room.name],
        }
        for room in house.rooms
    }


def shares(weights: Mapping[str, float]) -> dict[str, float]:
    """The weights of the factors, normalised to sum to 1.

    >>> shares({"use": 2, "arrival": 1, "passage": 1, "presence": 0})
    {'use': 0.5, 'display': 0.0, 'arrival': 0.25, 'passage': 0.25, 'presence': 0.0}
    """
    total = sum(weights.get(name, 0) for name in FACTORS)
    return {name: weights.get(name, 0) / total for name in FACTORS}


def importance(factors: Mapping[str, float], weights: Mapping[str, float]) -> float:
    """Weighted mean of a room's factors, 0 to 1."""
    return sum(share * factors[name] for name, share in shares(weights).items())


def targets(importances: Mapping[str, float], top: int) -> dict[str, float]:
    """The tier that each room's importance asks for, from 1 for the house's least to `top` for its greatest.

    >>> targets({"hall": 0.9, "parlor": 0.6, "closet": 0.1}, 5)
    {'hall': 5.0, 'parlor': 3.5, 'closet': 1.0}
    """
    least, greatest = min(importances.values()), max(importances.values())
    span = (greatest - least) or 1.0
    return {room: 1 + (top - 1) * (value - least) / span for room, value in importances.items()}


@dataclass(frozen=True)
class Standing:
    """How a room stands in the house: its step depth, its factors and importance (0 to 1), the tier that it asks for,
    and how much its distance from that tier counts."""

    depth: int
    factors: Mapping[str, float]
    importance: float
    target: float
    weight: float


def standings(
    house: House, graph: RoomGraph, depth: Mapping[str, int], weights: Mapping[str, float], top: int, library: Library
) -> dict[str, Standing]:
    """The standing of every room under the weights of an intent, `top` the highest tier of the house's grade."""
    factors = room_factors(house, graph, depth, library)
    values = {room: importance(parts, weights) for room, parts in factors.items()}
    wanted = targets(values, top)
    return {
        room: Standing(depth[room], immutabledict(factors[room]), value, wanted[room], room_weight(value))
        for room, value in values.items()
    }


def room_weight(value: float) -> float:
    """How much a room's distance from its target counts: the best rooms matter most."""
    return 0.5 + 1.5 * value
