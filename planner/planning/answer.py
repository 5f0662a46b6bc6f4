"""The answer: what a plan says of every room, passage and package. Every view reads it."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

import networkx as nx

from planner.checks.check import Check
from planner.checks.plan import check_plan
from planner.hierarchy.rules import Rules
from planner.hierarchy.tiers import Assignment, TierProblem
from planner.house.model import House, Room
from planner.intent.model import Intent
from planner.library import standard
from planner.stock.choice import Choice
from planner.trim.packages import Package
from planner.trim.sections import Placed, sections
from planner.values import OnDemand
from planner.walls.layout import WallLayout, lay_out


@dataclass(frozen=True)
class RoomPlan:
    """What the plan says of one room.

    `depth` is in steps from the entry. `mean_depth`, `ra`, `rra` and `integration` (1/RA) are None where they were
    not computed or are not defined. `factors` and `importance` run 0 to 1, `target` from 1 to the top tier.
    `lowest` and `highest` are the range of tiers in force, `tier_costs` one cost for each tier from 1.
    """

    room: Room
    depth: int
    mean_depth: float | None
    ra: float | None
    rra: float | None
    integration: float | None
    factors: dict[str, float]
    importance: float
    target: float
    weight: float
    lowest: int
    highest: int
    pinned: bool
    tier: int
    package: Package
    cost: float
    tier_costs: tuple[float, ...]
    reasons: tuple[str, ...]


@dataclass(frozen=True)
class PassagePlan:
    """What the plan says of one passage, walked from `start`, the room nearer the entry, to `end`.

    `limit` is the most that tiers may differ across it, None where none holds; `comfort` the difference that reads
    as natural; `weight` the penalty for each tier beyond it; `rise` the most that the tier may rise from start to
    end, None where both are equally deep; `difference` is tier of end minus tier of start; `reads` is "even",
    "clear", "faint" or "abrupt".
    """

    start: str
    end: str
    kind: str
    limit: int | None
    comfort: int
    weight: float
    rise: int | None
    difference: int
    reads: str


@dataclass(frozen=True)
class Objective:
    """What the assignment minimises: `fit` to the targets plus what is `abrupt` across passages."""

    fit: float
    abrupt: float

    @property
    def total(self) -> float:
        """Fit plus abrupt."""
        return self.fit + self.abrupt


@dataclass(frozen=True)
class Route:
    """The rooms walked from the entry to `room`, both included, by the shortest way."""

    room: str
    rooms: tuple[str, ...]


@dataclass(frozen=True)
class Plan:
    """The answer, complete and immutable. Every view reads it.

    Where no plan exists, `feasible` is False, `conflicts` says in words which few wishes cannot all hold, and
    `rooms`, `passages` and `packages` are empty. `choice` says what is bought for the packages, None without a stock.
    """

    house: House
    intent: Intent
    style: str
    order: str
    grade: str
    tier_names: tuple[str, ...]
    top: int
    rooms: tuple[RoomPlan, ...]
    passages: tuple[PassagePlan, ...]
    packages: tuple[Package, ...]
    objective: Objective
    cost: float
    optimal: bool
    sets: tuple[tuple[str, ...], ...]
    routes: tuple[Route, ...]
    notes: tuple[str, ...] = ()
    conflicts: tuple[str, ...] = ()
    choice: Choice | None = None
    graph: nx.Graph = field(default_factory=nx.Graph, repr=False, compare=False)
    rules: Rules | None = field(default=None, repr=False, compare=False)
    problem: TierProblem | None = field(default=None, repr=False, compare=False)
    assignment: Assignment | None = field(default=None, repr=False, compare=False)

    @property
    def feasible(self) -> bool:
        """Whether any assignment of tiers keeps every rule."""
        return not self.conflicts

    @cached_property
    def checks(self) -> tuple[Check, ...]:
        """What does not fit or does not read, and the cautions, the gravest first."""
        packages = {room.room.name: room.package for room in self.rooms}
        return check_plan(self.house, packages, self.passages, self.walls, standard()) if self.feasible else ()

    @cached_property
    def walls(self) -> Mapping[str, tuple[WallLayout, ...]]:
        """The walls of each room with its trim, laid out when first asked for."""
        packages = {room.room.name: room.package for room in self.rooms}
        return OnDemand(packages, lambda name: lay_out(self.house, name, packages[name], standard()))

    @cached_property
    def sections(self) -> Mapping[Package, Mapping[str, tuple[Placed, ...]]]:
        """The profiles of each element of each package, drawn up when first asked for."""
        return OnDemand(self.packages, lambda package: sections(package, package.order, package.style))

    @cached_property
    def by_name(self) -> dict[str, RoomPlan]:
        """Rooms of the plan by name."""
        return {r.room.name: r for r in self.rooms}
