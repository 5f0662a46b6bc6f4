"""The rules that an assignment keeps: ranges, limits across passages, no rise, sets. Each says why it holds."""

import itertools
from collections import deque
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from math import ceil, floor
from typing import Literal

import numpy as np

from planner.hierarchy.graph import RoomGraph, spaces
from planner.hierarchy.problem import Real, TierProblem, Whole
from planner.house.model import House
from planner.intent.model import DEFAULT_TIERS, Intent, Wish
from planner.library import Library
from planner.library.model import known_name
from planner.library.rows import PassageKind, Use
from planner.values import Kept, immutabledict

_CLIQUE = 12  # sets up to this size are tied pair by pair, larger ones in a chain

Source = Literal["ladder", "use", "grade", "room", "range", "pin", "stays"]

FIXED = ("pin", "stays")
"""Sources of ranges that leave a room one tier, whatever its use and the house's grade are."""


@dataclass(frozen=True)
class Range:
    """Why a room's tier is not below `lowest` or not above `highest`."""

    lowest: int
    highest: int
    source: Source
    why: str

    @property
    def yields(self) -> bool:
        """Whether its lowest tier gives way where the other rules hold the room below it: a use is no wish."""
        return self.source == "use"


@dataclass(frozen=True)
class Arc:
    """tier[end] - tier[start] <= bound."""

    start: str
    end: str
    bound: int
    why: str


@dataclass(frozen=True)
class PassageRule:
    """What holds across one passage; `near` is the room nearer the entry. See planner.planning.answer.PassagePlan."""

    near: str
    far: str
    kind: str
    limit: int | None
    comfort: int
    penalty: float
    rise: int | None
    leads_on: bool = False
    together: bool = False


@dataclass(frozen=True)
class Rules(Kept):
    """All rules on a house under an intent; `rooms` are in the order of their names."""

    rooms: tuple[str, ...]
    tiers: int
    ranges: Mapping[str, tuple[Range, ...]]
    arcs: tuple[Arc, ...]
    passages: tuple[PassageRule, ...]
    sets: tuple[tuple[str, ...], ...]

    __hash__ = Kept.__hash__

    def __post_init__(self) -> None:
        object.__setattr__(self, "ranges", immutabledict(self.ranges))

    def lowest(self, room: str) -> Range:
        """The range that holds a room up, what yields cut to what the room can reach; where several do, the one that
        a person asked for."""
        reach = self.reach[room]
        held = [
            replace(r, lowest=reach, why=f"{r.why}, but here it cannot be above {reach}")
            if r.yields and r.lowest > reach
            else r
            for r in reversed(self.ranges[room])
        ]
        return max(held, key=lambda r: r.lowest)

    def highest(self, room: str) -> Range:
        """The range that holds a room down; where several do, the one that a person asked for."""
        return min(reversed(self.ranges[room]), key=lambda r: r.highest)

    @cached_property
    def reach(self) -> immutabledict[str, int]:
        """The highest tier that each room can have under the ranges from above and the arcs."""
        reach = {room: self.highest(room).highest for room in self.rooms}
        lowered = deque(self.rooms)
        while lowered:
            room = lowered.popleft()
            for arc in self.by_start[room]:
                if reach[room] + arc.bound < reach[arc.end]:
                    reach[arc.end] = max(1, reach[room] + arc.bound)
                    lowered.append(arc.end)
        return immutabledict(reach)

    @cached_property
    def index(self) -> immutabledict[str, int]:
        """Place of each room in `rooms`."""
        return immutabledict({room: i for i, room in enumerate(self.rooms)})

    @cached_property
    def by_end(self) -> immutabledict[str, tuple[Arc, ...]]:
        """Arcs by the room whose tier they hold down."""
        return self._by("end")

    @cached_property
    def by_start(self) -> immutabledict[str, tuple[Arc, ...]]:
        """Arcs by the room whose tier they hold up."""
        return self._by("start")

    def _by(self, side: Literal["start", "end"]) -> immutabledict[str, tuple[Arc, ...]]:
        arcs: dict[str, list[Arc]] = {room: [] for room in self.rooms}
        for arc in self.arcs:
            arcs[getattr(arc, side)].append(arc)
        return immutabledict({room: tuple(found) for room, found in arcs.items()})

    def bounds(self) -> tuple[Whole, Whole]:
        """The lowest and the highest tier of each room, each (n,)."""
        return (
            np.array([self.lowest(room).lowest for room in self.rooms]),
            np.array([self.highest(room).highest for room in self.rooms]),
        )

    def problem(
        self, targets: Mapping[str, float], weights: Mapping[str, float], costs: Real, budget: float | None
    ) -> TierProblem:
        """The rules with targets, weights and costs (n, K), ready to be solved."""
        at = self.index
        lowest, highest = self.bounds()
        priced = [p for p in self.passages if p.penalty > 0]
        arcs = np.array([(at[a.start], at[a.end], a.bound) for a in self.arcs], dtype=int).reshape(-1, 3)
        steps = np.array([(at[p.near], at[p.far], p.comfort) for p in priced], dtype=int).reshape(-1, 3)
        return TierProblem(
            targets=np.array([targets[room] for room in self.rooms]),
            weights=np.array([weights[room] for room in self.rooms]),
            lowest=lowest,
            highest=highest,
            costs=costs,
            arcs=arcs,
            steps=steps,
            penalty=np.array([p.penalty for p in priced], dtype=float),
            budget=budget,
        )


def scaled_range(lowest: int, highest: int, tiers: int) -> tuple[int, int]:
    """A range of the usual five tiers on a ladder of another length.

    >>> scaled_range(1, 3, 5), scaled_range(2, 4, 3), scaled_range(1, 1, 7)
    ((1, 3), (1, 3), (1, 1))
    """
    stretch = (tiers - 1) / (DEFAULT_TIERS - 1)
    return 1 + floor((lowest - 1) * stretch), 1 + ceil((highest - 1) * stretch)


def rules(
    house: House,
    graph: RoomGraph,
    depth: Mapping[str, int],
    intent: Intent,
    top: int,
    carried: Mapping[str, tuple[int, str]],
    library: Library,
) -> Rules:
    """The rules that hold on a house.

    Parameters
    ----------
    top : the highest tier of the house's grade.
    carried : for each room the highest tier that it can carry, and why no higher one.

    Raises
    ------
    ValueError : a set names a room that the house lacks, with the nearest names.
    """
    space = spaces(graph)
    seen_spaces = {space[room.name] for room in house.rooms if library.use(room.use).seen}
    ranges = {
        room.name: _ranges(
            room.use,
            library.use(room.use),
            intent.rooms.get(room.name, Wish()),
            intent.tiers,
            top,
            carried[room.name],
            shares_seen_space=space[room.name] in seen_spaces,
        )
        for room in house.rooms
    }
    passages = tuple(
        _passage(
            house,
            near,
            far,
            library.passage(edge["kind"]),
            depth,
            intent,
            library,
            seen={space[near], space[far]} <= seen_spaces,
        )
        for a, b, edge in graph.edges(data=True)
        for near, far in [sorted((a, b), key=lambda room: (depth[room], room))]
    )
    sets = tuple(
        sorted(tuple(sorted({known_name(room, house.by_name, "room") for room in group})) for group in intent.sets)
    )
    arcs = [arc for passage in passages for arc in passage_arcs(passage)]
    arcs += [arc for group in sets for arc in _set_arcs(group)]
    return Rules(tuple(sorted(ranges)), intent.tiers, ranges, tuple(arcs), passages, sets)


def _ranges(
    use_name: str, use: Use, wish: Wish, tiers: int, top: int, carried: tuple[int, str], *, shares_seen_space: bool
) -> tuple[Range, ...]:
    held, why_held = carried
    found = [Range(1, tiers, "ladder", f"the ladder has {tiers} tiers")]
    if held < tiers:
        found.append(Range(1, held, "room", why_held))
    if wish.tier is not None:
        found.append(Range(wish.tier, wish.tier, "pin", f"pinned to tier {wish.tier}"))
    else:
        found.append(Range(1, top, "grade", f"the house's grade ends at tier {top}"))
        if use.seen or not shares_seen_space:
            low, high = scaled_range(use.lowest, use.highest, tiers)
            low = min(low, top, held)
            found.append(Range(low, high, "use", f"{_article(use_name)} suits tiers {_span(low, high)}"))
    if wish.lowest is not None or wish.highest is not None:
        low, high = wish.lowest or 1, wish.highest or tiers
        found.append(Range(low, high, "range", f"asked to be in tiers {_span(low, high)}"))
    return tuple(found)


def _article(noun: str) -> str:
    return f"{'an' if noun[:1].lower() in 'aeiou' else 'a'} {noun}"


def _span(low: int, high: int) -> str:
    return str(low) if low == high else f"{low} to {high}"


def _passage(
    house: House,
    near: str,
    far: str,
    kind: PassageKind,
    depth: Mapping[str, int],
    intent: Intent,
    library: Library,
    *,
    seen: bool,
) -> PassageRule:
    flows = kind.depth == 0
    limit = 0 if flows else min(intent.limits.get(kind.kind, kind.limit), intent.tiers - 1)
    uses = [library.use(house.by_name[room].use) for room in (near, far)]
    rise = limit if leads_on(*uses) else int(uses[1].public > uses[0].public)
    return PassageRule(
        near=near,
        far=far,
        kind=kind.kind,
        limit=limit if seen or flows else None,
        comfort=kind.comfort,
        penalty=kind.penalty if seen else 0.0,
        rise=rise if depth[near] < depth[far] else None,
        leads_on=leads_on(*uses),
        together=seen and kind.together,
    )


def leads_on(near: Use, far: Use) -> bool:
    """Whether company is led on, from one room to the next, to more display: there the walk may rise.

    Drawing rooms upstairs were richer than the hall and the stair that led to them: tests/practice/documented.
    """
    return far.guest and far.display > near.display


def passage_arcs(passage: PassageRule) -> list[Arc]:
    """What a passage asks of the tiers of its two rooms."""
    near, far, found = passage.near, passage.far, []
    if passage.limit is not None:
        if passage.kind == "open":
            why = f"{near} and {far} flow into each other, so they share a tier"
        else:
            why = f"across the {passage.kind} between {near} and {far} tiers differ by at most {passage.limit}"
        found = [Arc(near, far, passage.limit, why), Arc(far, near, passage.limit, why)]
    if passage.rise is not None:
        allowed = "does not rise" if passage.rise == 0 else f"rises by at most {passage.rise}"
        found.append(Arc(near, far, passage.rise, f"going in from {near} to {far} the tier {allowed}"))
    return found


def _set_arcs(group: tuple[str, ...]) -> list[Arc]:
    why = f"{', '.join(group[:-1])} and {group[-1]} are a set that shares a tier"
    if len(group) <= _CLIQUE:
        return [Arc(a, b, 0, why) for a in group for b in group if a != b]
    chain = list(itertools.pairwise(group))
    return [Arc(a, b, 0, why) for pair in chain for a, b in (pair, pair[::-1])]
