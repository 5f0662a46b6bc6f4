"""The answer: what a plan says of every room, passage and package. Every view reads it."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from planner.checks.check import Check
from planner.checks.plan import check_plan
from planner.hierarchy import reasons
from planner.hierarchy.frontier import Frontier, frontier
from planner.hierarchy.graph import passage_graph, walks
from planner.hierarchy.problem import Assignment, TierProblem
from planner.hierarchy.reasons import WhatIf
from planner.hierarchy.rules import Rules
from planner.house.model import House, Room
from planner.house.placements import Placements, placements
from planner.intent.model import MONEY, Intent
from planner.library import Library
from planner.mouldings.assembly import Assembly, Placed
from planner.planning.costs import MOST_IN_MONEY, room_money
from planner.planning.ladders import Asked, Ladders, idle_rules
from planner.planning.proposals import Basis, Proposal, Proposed, proposals
from planner.stock.built_ups import target_of
from planner.stock.choice import Choice
from planner.stock.search import best
from planner.stock.stock import Stock
from planner.takeoff.cost import Cost, cost
from planner.takeoff.rates import figures_of
from planner.takeoff.takeoff import Takeoff, take_off
from planner.takeoff.work import work
from planner.trim.existing import Match, matches
from planner.trim.packages import Package
from planner.trim.sections import sections
from planner.trim.styles import tier_names
from planner.values import Kept, OnDemand, immutabledict
from planner.walls.both_faces import with_leaves
from planner.walls.layout import WallLayout, lay_out, rail_top, stood
from planner.walls.meetings import Meeting, meetings
from planner.walls.piece import Piece
from planner.walls.pieces import pieces
from planner.walls.story_poles import StoryPole, story_pole


@dataclass(frozen=True)
class RoomPlan:
    """What the plan says of one room.

    `depth` is in steps from the entry. `mean_depth`, `ra`, `rra` and `integration` (1/RA) are None where they were
    not computed or are not defined. `factors` and `importance` run 0 to 1, `target` from 1 to the top tier.
    `lowest` and `highest` are the range of tiers in force, `cost` and `tier_costs` the cost index of the tier and of
    each from 1; `tier_money` what each would cost by itself, in the house's currency, where the intent counts costs in
    money.
    """

    room: Room
    depth: int
    mean_depth: float | None
    ra: float | None
    rra: float | None
    integration: float | None
    factors: Mapping[str, float]
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
    tier_money: tuple[float, ...] = ()


@dataclass(frozen=True)
class PassagePlan:
    """What the plan says of one passage, walked from `start`, the room nearer the entry, to `end`.

    `limit` is the most that tiers may differ across it, None where none holds; `comfort` the difference that reads
    as natural; `weight` the penalty for each tier beyond it; `rise` the most that the tier may rise from start to
    end, None where both are equally deep; `leads_on` says that company is led to more display, so that a rise is meant;
    `difference` is tier of end minus tier of start; `reads` is "even", "clear", "faint" or "abrupt"; `shared` says
    which members the lower room repeats of the higher where both are seen at once.
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
    leads_on: bool = False
    shared: tuple[str, ...] = ()


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


@dataclass(frozen=True, eq=False)
class Plan(Kept):
    """The answer, complete and read-only. Every view reads it, and computes nothing of its own.

    A plan follows from house, intent, stock and library, so these tell two plans apart, in any process. Where no plan
    exists, `feasible` is False, `conflicts` says in words which few wishes cannot all hold, and `rooms`, `passages`
    and `packages` are empty. `choice` says what is bought for the packages, None without a stock.

    What takes long is computed when it is first asked for, and kept: `walls` and `pieces` by room, the `takeoff`, the
    `money`, `meetings` by opening, `sections` and `runners_up` by package, `checks`, `what_if`, the `frontier` and the
    `proposals`.
    """

    house: House
    intent: Intent
    stock: Stock | None
    library: Library
    integrated: bool
    asked: Asked
    rooms: tuple[RoomPlan, ...]
    passages: tuple[PassagePlan, ...]
    sets: tuple[tuple[str, ...], ...]
    routes: tuple[Route, ...]
    conflicts: tuple[str, ...]
    choice: Choice | None
    ladders: Ladders = field(repr=False)
    rules: Rules = field(repr=False)
    problem: TierProblem = field(repr=False)
    assignment: Assignment | None = field(repr=False)

    KEY = ("house", "intent", "stock", "library", "integrated")
    __hash__ = Kept.__hash__

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Plan):
            return NotImplemented
        return all(getattr(self, name) == getattr(other, name) for name in self.KEY)

    @property
    def style(self) -> str:
        """The period of the plan."""
        return self.asked.style

    @property
    def order(self) -> str:
        """The order of the plan."""
        return self.asked.order

    @property
    def canon(self) -> str:
        """What crowns are sized by: the order, or a canon for rooms."""
        return self.asked.canon

    @property
    def grade(self) -> str:
        """The grade of the house."""
        return self.asked.grade

    @property
    def top(self) -> int:
        """The highest tier that the grade allows."""
        return self.asked.top

    @property
    def richest(self) -> int:
        """The richest that this house has: the top of its grade, or a tier above it where a room is held there."""
        return max([self.top, *(room.tier for room in self.rooms)])

    @property
    def tier_names(self) -> tuple[str, ...]:
        """Names of the tiers, from the bottom."""
        return tier_names(self.asked.tiers, self.library)

    @property
    def objective(self) -> Objective:
        """What the assignment comes to, zero where there is none."""
        return Objective(self.assignment.fit, self.assignment.abrupt) if self.assignment else Objective(0.0, 0.0)

    @property
    def cost(self) -> float:
        """What all rooms cost by the cost index, zero where there is no assignment; see `money`."""
        return round(sum(room.cost for room in self.rooms), 2)

    @cached_property
    def currency(self) -> str:
        """The currency that the costs of tiers are counted in; "" where they are by the cost index."""
        return self.house.currency if any(room.tier_money for room in self.rooms) else ""

    @property
    def cost_name(self) -> str:
        """What the costs of tiers are called."""
        return f"Cost ({self.currency})" if self.currency else "Cost index"

    @cached_property
    def tier_money(self) -> Mapping[str, tuple[float, ...]]:
        """What each tier of each room would cost by itself, from 1, in the house's currency, by the room's name,
        whatever the tiers are counted in; nothing of a house of more than MOST_IN_MONEY rooms."""
        if len(self.house.rooms) > MOST_IN_MONEY:
            return immutabledict()
        return room_money(self.house, self.ladders, self.stock, self.library)

    def costed_as(self, other: "Plan") -> float:
        """What all rooms cost as another plan of the house counts costs, in its `currency`."""
        if not other.currency:
            return self.cost
        return round(sum(self.tier_money[room.room.name][room.tier - 1] for room in self.rooms), 2)

    @property
    def spent(self) -> float:
        """What all rooms cost as the assignment counts it, in `currency`, zero where there is none."""
        return self.assignment.cost if self.assignment else 0.0

    @property
    def optimal(self) -> bool:
        """Whether it is proved that no assignment does better."""
        return self.assignment is not None and self.assignment.optimal

    @cached_property
    def packages(self) -> tuple[Package, ...]:
        """The packages in use, the highest tier and ceiling first."""
        used = dict.fromkeys(room.package for room in self.rooms)
        return tuple(sorted(used, key=lambda p: (-p.tier, -p.ceiling, len(p.variant), p.label)))

    def ladder(self, ceiling: float) -> tuple[Package, ...]:
        """The packages of all tiers under a ceiling [in], from the bottom, as most of its rooms have them.

        Raises
        ------
        ValueError : no room has such a ceiling.
        """
        under = [self.ladders[room.name] for room in self.house.rooms if room.ceiling == ceiling]
        if not under:
            raise ValueError(f"no room has a ceiling of {ceiling} in")
        return min(dict.fromkeys(under), key=lambda rungs: (-under.count(rungs), len(rungs[-1].label)))

    @cached_property
    def notes(self) -> tuple[str, ...]:
        """What holds the house's top tier down, where no room has it; and that costs cannot be counted as was asked."""
        found = []
        if self.rooms and not any(room.tier >= self.top for room in self.rooms):
            best = max(self.rooms, key=lambda r: (r.target, r.room.name))
            found.append(f"No room has tier {self.top}. {best.room.name} comes nearest: {' '.join(best.reasons)}")
        if self.rooms and self.intent.cost_in == MONEY and not self.currency:
            found.append(
                f"Costs are counted by the cost index, and no budget is kept: of more than {MOST_IN_MONEY} rooms they"
                " are not counted in money."
            )
        return tuple(found)

    @property
    def feasible(self) -> bool:
        """Whether any assignment of tiers keeps every rule."""
        return not self.conflicts

    @cached_property
    def by_name(self) -> immutabledict[str, RoomPlan]:
        """Rooms of the plan by name."""
        return immutabledict({r.room.name: r for r in self.rooms})

    @cached_property
    def before(self) -> immutabledict[str, str | None]:
        """The room before each on the shortest walk from the entry, None for the entry."""
        return immutabledict(walks(passage_graph(self.house, self.library), self.house.entries[0])[1])

    @cached_property
    def package_of(self) -> immutabledict[str, Package]:
        """The package of each room by the room's name."""
        return immutabledict({r.room.name: r.package for r in self.rooms})

    @cached_property
    def placements(self) -> Placements:
        """Every opening where it stands on the walls of the rooms that it joins, by room."""
        return placements(self.house, self.library)

    @cached_property
    def walls(self) -> Mapping[str, tuple[WallLayout, ...]]:
        """The walls of each room with their trim, clockwise, by the room's name."""

        def walls(room: str) -> tuple[WallLayout, ...]:
            layouts = lay_out(self.house, room, self.package_of[room], self.library)
            return with_leaves(layouts, self.package_of, self.library)

        return OnDemand(self.package_of, walls)

    @cached_property
    def pieces(self) -> Mapping[str, tuple[Piece, ...]]:
        """Every piece of wood on the walls of each room, by the room's name."""
        return OnDemand(self.package_of, lambda room: pieces(self.walls[room], self.library))

    @cached_property
    def story_poles(self) -> Mapping[Package, StoryPole]:
        """The story pole of each package in use, the highest tier and ceiling first."""

        return OnDemand(self.packages, lambda package: story_pole(self.walls_with(package)))

    @cached_property
    def standing(self) -> Mapping[Package, Package]:
        """Each package, of whatever tier, and what its openings have of their own, as high as it stands on walls."""

        def as_built(package: Package) -> Package:
            walls = self.walls_with(package) if package.element("picture rail") else ()
            rail = rail_top(self.house, package, self.library)
            return stood(package, rail, {wall.picture_rail for wall in walls})

        return OnDemand(self._every_package, as_built)

    def rooms_with(self, package: Package) -> tuple[str, ...]:
        """The rooms that have a package, by their names."""
        return tuple(room.room.name for room in self.rooms if room.package == package)

    def walls_with(self, package: Package) -> tuple[WallLayout, ...]:
        """The walls of all rooms that have a package."""
        return tuple(wall for room in self.rooms_with(package) for wall in self.walls[room])

    @cached_property
    def takeoff(self) -> Takeoff | None:
        """Every piece that is cut, the bars that it is cut from, and what is ordered; None where no plan exists, or
        where more is to be cut than is ever taken off."""
        if not self.rooms:
            return None
        return take_off(self.house, self.walls, self.pieces, self.stock, self.library)

    @cached_property
    def money(self) -> Cost | None:
        """What the plan costs in the house's currency, with a range; None where there is no takeoff."""
        if self.takeoff is None:
            return None
        tiers = {room.room.name: room.tier for room in self.rooms}
        figures = figures_of(self.house, self.library)
        return cost(work(self.takeoff, self.library), figures, tiers, self.house.currency)

    @property
    def is_costed(self) -> bool:
        """Whether `money` is there already; else whoever asks for it first waits for the takeoff."""
        return "money" in self.__dict__

    @cached_property
    def meetings(self) -> immutabledict[str, Meeting]:
        """How the trim of two rooms meets in each passage with a place on a wall, by the passage's name."""
        return immutabledict(meetings(self.house, self.package_of, self.library))

    def meetings_of(self, room: str) -> Mapping[str, Meeting]:
        """As `meetings`, of the passages of one room alone: no walls are laid out for it but its own and those of the
        rooms next to it."""
        passages = self.house.openings_of.get(room, ())
        near = dict.fromkeys(name for one in passages for name in (one.room, one.other))
        packages = {name: self.package_of[name] for name in near if name in self.package_of}
        found = meetings(self.house, packages, self.library)
        return immutabledict({one.name: found[one.name] for one in passages if one.name in found})

    @cached_property
    def matches(self) -> tuple[Match, ...]:
        """How near the trim that stays comes to the same elements of other rooms on its tier."""
        return matches(self.package_of, self.house.stays, self.library)

    @cached_property
    def idle(self) -> tuple[int, ...]:
        """The trim rules that change nothing in any room, by their numbers from 1."""
        tiers = {room.room.name: room.tier for room in self.rooms}
        return idle_rules(self.house, self.intent, self.asked, self.stock, tiers, self.library)

    @cached_property
    def checks(self) -> tuple[Check, ...]:
        """What does not fit or does not read, and the cautions, the gravest first."""
        return self.checks_of(self.package_of)

    def checks_of(self, rooms: Collection[str]) -> tuple[Check, ...]:
        """As `checks`, but no other rooms' packages and walls are looked at; the house, its passages and the trim rules
        are, as a whole.

        Raises
        ------
        KeyError : the plan has no such room.
        """
        if not self.feasible:
            return ()
        codes = self.stock.numbers if self.stock else ()
        rules, idle = self.intent.trim, self.idle
        return check_plan(
            self.house, self.package_of, self.passages, self.walls, self.library, rules, idle, codes, rooms
        )

    @cached_property
    def sections(self) -> Mapping[Package, immutabledict[str, tuple[Placed, ...]]]:
        """The profiles that each element is drawn with as it stands, by package, of whatever tier, and element."""
        return OnDemand(self._every_package, lambda package: sections(self.standing[package], self.library))

    @cached_property
    def _every_package(self) -> tuple[Package, ...]:
        ladders = dict.fromkeys(package for rungs in dict.fromkeys(self.ladders.values()) for package in rungs)
        every = ladders | dict.fromkeys(self.packages)
        return tuple(dict.fromkeys(one for package in every for one in (package, *package.own.values())))

    @cached_property
    def runners_up(self) -> Mapping[Package, immutabledict[str, Assembly | None]]:
        """The next best that stock builds of each element that is bought on its own, by package and element; None where
        it builds nothing else."""
        return OnDemand(self.packages, self._runners_up)

    def what_if(self, room: str) -> tuple[WhatIf, ...]:
        """What each tier of one room, from 1 up, would change: objective, cost, and the rooms that move with it.

        Raises
        ------
        KeyError : the house has no such room.
        """
        return self._ways[room]

    @cached_property
    def _ways(self) -> Mapping[str, tuple[WhatIf, ...]]:
        def ways(room: str) -> tuple[WhatIf, ...]:
            if self.assignment is None:
                return ()
            return reasons.what_if(room, self.rules, self.problem, self.assignment)

        return OnDemand(self.house.by_name, ways)

    @cached_property
    def frontier(self) -> Frontier | None:
        """The frontier of cost against objective, under all rules of the plan but its budget, the plan itself among its
        points; None where no plan exists."""
        return frontier(self.problem, [self.assignment]) if self.assignment else None

    @property
    def proposals(self) -> tuple[Proposal, ...]:
        """Other plans that the planner proposes beside this one; none where no plan exists."""
        return self._proposed.found

    @property
    def not_proposed(self) -> tuple[str, ...]:
        """By their titles those that may be worth a look too and were not found, since it would take too long."""
        return self._proposed.not_found

    @cached_property
    def _proposed(self) -> Proposed:
        if self.assignment is None or self.frontier is None:
            return Proposed()
        return proposals(
            Basis(
                house=self.house,
                intent=self.intent,
                library=self.library,
                rules=self.rules,
                problem=self.problem,
                chosen=self.assignment,
                frontier=self.frontier,
                bedrooms=tuple(route.room for route in self.routes),
                currency=self.currency,
            )
        )

    def _runners_up(self, package: Package) -> immutabledict[str, Assembly | None]:
        found: dict[str, Assembly | None] = {}
        for element in package.elements:
            target = target_of(package, element, self.library)
            if self.stock is None or element.assembly is None or target is None:
                continue
            others = [a for a in best(target, self.stock, self.library, 2) if a.profiles != element.assembly.profiles]
            found[element.element] = others[0] if others else None
        return immutabledict(found)
