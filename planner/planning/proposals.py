"""Plans that the planner proposes beside one that stands: few, truly different, each with what it trades for what.

All keep the rules in force: ranges, pins, sets and limits. Those that try other budgets leave the budget aside, all
others keep it.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, partial
from math import ceil, floor
from typing import Literal, NamedTuple, TypeAlias

import numpy as np

from planner.hierarchy import extremes
from planner.hierarchy.branching import Unproved
from planner.hierarchy.frontier import NODES, Frontier
from planner.hierarchy.problem import Assignment, TierProblem, Truths, Whole
from planner.hierarchy.reasons import with_pins
from planner.hierarchy.rules import Rules
from planner.hierarchy.tiers import assign
from planner.house.model import House
from planner.intent.model import Intent, Wish
from planner.library import Library
from planner.values import Kept, immutabledict

Kind: TypeAlias = Literal["cheapest", "knee", "budget", "best", "contrast", "gentlest", "near"]

BUDGETS = 4
"""Budgets divide what could be saved into so many parts."""

NEAR = 3
"""Plans nearly as good that are proposed."""

APART = 10
"""One room in so many of those that can move, and two at least, differ between plans nearly as good."""

LARGE = 1_000
"""Of a house with more rooms than this fewer plans are looked for, as each takes seconds."""

ROUNDS = 5
"""Plans that are tried with more pins each, before all rooms are pinned that can move."""

TOLD = 3
"""Rooms that move alike and are named; the others are counted."""

COUNTS = ("no tier", "one tier", "two tiers", "three tiers", "four tiers", "five tiers", "six tiers")


@dataclass(frozen=True)
class Proposal(Kept):
    """A plan proposed beside one that stands.

    `intent` gives it when it is planned for the same house, stock and library: what is best within a budget by that
    budget alone, any other by pins of the rooms that move, and of those that would move otherwise. `trade` says what it
    trades for what. `cost`, `fit` and `abrupt` are as those of a plan, `moves` the tiers of each room that moves,
    before and after.

    >>> from planner import demo_house, plan, read_house
    >>> house, warnings = read_house(demo_house())
    >>> first = plan(house).proposals[0]
    >>> first.title, plan(house, first.intent).cost == first.cost
    ('The cheapest that still steps down', True)
    """

    kind: Kind
    title: str
    trade: str
    intent: Intent
    cost: float
    fit: float
    abrupt: float
    moves: Mapping[str, tuple[int, int]]

    __hash__ = Kept.__hash__

    @property
    def total(self) -> float:
        """Fit plus abrupt."""
        return self.fit + self.abrupt


@dataclass(frozen=True, eq=False)
class Basis:
    """A plan that stands, as far as proposals go out from it; `bedrooms` are where walks from the entry end, `currency`
    is what costs are counted in, "" where that is the cost index."""

    house: House
    intent: Intent
    library: Library
    rules: Rules
    problem: TierProblem
    chosen: Assignment
    frontier: Frontier
    bedrooms: tuple[str, ...]
    currency: str = ""

    @property
    def is_large(self) -> bool:
        """Whether a plan takes so long that few are looked for."""
        return len(self.rules.rooms) > LARGE

    @cached_property
    def movable(self) -> tuple[int, ...]:
        """Rooms that have more than one tier to choose from."""
        return tuple(map(int, np.flatnonzero(self.problem.lowest < self.problem.highest)))

    @cached_property
    def public(self) -> Truths:
        """(n,) whether guests use a room."""
        uses = (self.house.by_name[room].use for room in self.rules.rooms)
        return np.array([self.library.use(use).guest for use in uses])

    @cached_property
    def stepping_down(self) -> TierProblem:
        """The problem of plans that still step down: no step is more abrupt than in the plan that stands, and the
        guests' entry and the room that asks for most stand a tier or more above every bedroom."""
        at = self.rules.index
        best = int(np.argmax(self.problem.targets))
        above = dict.fromkeys((at[self.house.entries[0]], best))
        return extremes.stepping_down(self.problem, self.chosen.tiers, [*above], [at[room] for room in self.bedrooms])


class _Found(NamedTuple):
    """An assignment to propose, None where there is none and Unproved where that took too long to find out; `budget` is
    what gives it, "pins" where pins do; `says` what is true of it alone."""

    kind: Kind
    title: str
    assignment: Assignment | Unproved | None
    says: str
    budget: float | Literal["pins"] | None = "pins"


class Proposed(NamedTuple):
    """What is proposed beside a plan, and by their titles what may be worth a look and was not found: its search was
    stopped at NODES nodes."""

    found: tuple[Proposal, ...] = ()
    not_found: tuple[str, ...] = ()


def proposals(basis: Basis) -> Proposed:
    """What is proposed beside a plan, those that differ neither from it nor from one another left out.

    In this order: the cheapest that still steps down (see `Basis.stepping_down`); the knees of the frontier; the best
    within budgets that divide what could be saved; the best fit, where a budget stands in its way; the most contrast
    (the average tier of rooms that guests use, less that of the others); of plans that still step down, the one whose
    steps come to the fewest tiers; and the best that differ in so many rooms. For a house of more than LARGE rooms all
    but the cheapest, the first knee and the best fit are left out.
    """
    seen, made, not_found = {_key(basis.chosen)}, list[Proposal](), list[str]()
    for found in _found(basis):
        if isinstance(found.assignment, Unproved):
            not_found.append(found.title)
        elif found.assignment is not None and _key(found.assignment) not in seen:
            seen.add(_key(found.assignment))
            made.append(_proposal(basis, found, found.assignment))
    return Proposed(tuple(made), tuple(not_found))


def _key(assignment: Assignment) -> tuple[int, ...]:
    return tuple(map(int, assignment.tiers))


def _found(basis: Basis) -> Iterator[_Found]:
    rooms = basis.rules.rooms
    best = rooms[int(np.argmax(basis.problem.targets))]
    top = " and ".join(dict.fromkeys((basis.house.entries[0], best)))
    above = f", and {top} stand above every bedroom" if basis.bedrooms else ""
    cheapest = _attempt(lambda: extremes.cheapest(basis.stepping_down, nodes=NODES))
    least = f"no plan costs less in which no step is more abrupt than now{above}"
    yield _Found("cheapest", "The cheapest that still steps down", cheapest, least)
    yield from _by_budget(basis)
    if basis.is_large:
        return
    wide = _attempt(lambda: extremes.most_contrast(basis.problem, basis.public, nodes=NODES))
    yield _Found("contrast", "Most contrast between public and private", wide, _contrast(basis, wide))
    gentle = _attempt(lambda: extremes.gentlest(basis.stepping_down, nodes=NODES))
    yield _Found("gentlest", "The gentlest steps", gentle, _steps(basis, gentle))
    yield from _near(basis)


def _attempt(search: Callable[[], Assignment | None]) -> Assignment | Unproved | None:
    try:
        return search()
    except Unproved as stopped:
        return stopped


def _by_budget(basis: Basis) -> Iterator[_Found]:
    """The knees, the best within several budgets, and the best of all."""

    def within(budget: float | None) -> Assignment | Unproved | None:
        limited = replace(basis.problem, budget=budget, shared=basis.problem.program)
        return _attempt(lambda: assign(limited, nodes=NODES))

    points, now = basis.frontier.points, basis.chosen.cost
    bends = "below its cost plans get worse faster, above it they get better more slowly"
    main = basis.frontier.knees[0] if basis.frontier.knees else 0
    for at in basis.frontier.knees[:1] if basis.is_large else basis.frontier.knees:
        which = "the" if at == main else "less" if at < main else "more"
        title = f"Most for {which} money"
        yield _Found("knee", title, within(points[at].cost), bends, points[at].cost)
    for budget in () if basis.is_large else budgets(points[0].cost, now):
        said = f"nothing within {_plain(budget)} comes nearer to what the rooms ask for"
        yield _Found("budget", f"The best within {_plain(budget)}", within(budget), said, budget)
    if points[-1].cost > now:
        said = "nothing comes nearer to what the rooms ask for"
        yield _Found("best", "The best fit, whatever it costs", within(None), said, None)


def budgets(least: float, now: float) -> tuple[float, ...]:
    """Budgets that divide what could be saved into equal parts, the dearest first; whole numbers where there is room.

    >>> budgets(142.79, 160.0), budgets(1.0, 1.0)
    ((155.0, 151.0, 147.0), ())
    """
    part = (now - least) / BUDGETS
    scale = 1 if part >= 2 else 100
    found = (floor((now - part * i) * scale + 1e-9) / scale for i in range(1, BUDGETS))
    return tuple(dict.fromkeys(budget for budget in found if least <= budget < now))


def _near(basis: Basis) -> Iterator[_Found]:
    apart = max(2, ceil(len(basis.movable) / APART))
    differ = f"at least {apart} rooms differ from the plan as it stands, and from others that are nearly as good"
    try:
        for near in extremes.nearest(basis.problem, basis.chosen.tiers, NEAR, apart, nodes=NODES):
            yield _Found("near", f"Nearly as good, {_briefly(_moves(basis, near))}", near, differ)
    except Unproved as stopped:
        yield _Found("near", "Others nearly as good", stopped, differ)


def _moves(basis: Basis, found: Assignment) -> dict[str, tuple[int, int]]:
    """Tiers before and after of the rooms that move, those that ask for most first."""
    moved = np.flatnonzero(found.tiers != basis.chosen.tiers)
    order = sorted(map(int, moved), key=lambda i: (-basis.problem.targets[i], basis.rules.rooms[i]))
    return {basis.rules.rooms[i]: (int(basis.chosen.tiers[i]), int(found.tiers[i])) for i in order}


def _proposal(basis: Basis, found: _Found, assignment: Assignment) -> Proposal:
    moves = _moves(basis, assignment)
    if found.budget == "pins":
        intent = _pinned(basis, assignment.tiers, moves)
    else:
        intent = replace(basis.intent, budget=found.budget)
    costs, away = (
        _costs(basis.chosen.cost, assignment.cost, basis.currency),
        _away(basis.chosen.total, assignment.total),
    )
    return Proposal(
        kind=found.kind,
        title=found.title,
        trade=f"{costs}; {moved(moves)}; {away}; {found.says}.",
        intent=replace(intent, name="", title=found.title),
        cost=assignment.cost,
        fit=assignment.fit,
        abrupt=assignment.abrupt,
        moves=immutabledict(moves),
    )


def _pinned(basis: Basis, tiers: Whole, moves: Mapping[str, tuple[int, int]]) -> Intent:
    """The intent with the rooms that move pinned, and with them those that would move otherwise.

    Beside trim that stays all rooms are pinned that can move, since the rules there yield by what is pinned. A room in
    which some stays has a range of one tier instead, since a pin would say what its trim amounts to.
    """
    stays = basis.house.stays
    wishes = {
        room: Wish(lowest=tier, highest=tier)
        if room in stays
        else replace(basis.intent.rooms.get(room, Wish()), tier=tier)
        for room, tier in _pins(basis, tiers, moves).items()
    }
    return replace(basis.intent, rooms={**basis.intent.rooms, **wishes})


def _pins(basis: Basis, tiers: Whole, moves: Mapping[str, tuple[int, int]]) -> dict[str, int]:
    every = {basis.rules.rooms[at]: int(tiers[at]) for at in basis.movable}
    pins = {room: after for room, (_, after) in moves.items()}
    for _ in range(ROUNDS):
        if basis.house.stays or len(pins) == len(every):
            break
        given = basis.problem.with_ranges(*with_pins(basis.rules, pins).bounds())
        alone = _attempt(partial(assign, given, nodes=NODES))
        if not isinstance(alone, Assignment):
            break
        if (alone.tiers == tiers).all():
            return pins
        pins |= {room: every[room] for room in every if alone.tiers[basis.rules.index[room]] != every[room]}
    return every


def moved(moves: Mapping[str, tuple[int, int]]) -> str:
    """What moves, in words.

    >>> moved({"Hall": (3, 2), "Library": (4, 3), "Kitchen": (2, 4)})
    'Hall and Library each fall one tier; Kitchen rises two tiers'
    """
    alike: dict[int, list[str]] = {}
    for room, (before, after) in moves.items():
        alike.setdefault(after - before, []).append(room)
    return "; ".join(_move(rooms, steps) for steps, rooms in alike.items())


def _move(rooms: Sequence[str], steps: int) -> str:
    way = "rise" if steps > 0 else "fall"
    if len(rooms) == 1:
        return f"{rooms[0]} {way}s {COUNTS[abs(steps)]}"
    told = [*rooms] if len(rooms) <= TOLD + 1 else [*rooms[:TOLD], f"{len(rooms) - TOLD} more rooms"]
    return f"{', '.join(told[:-1])} and {told[-1]} each {way} {COUNTS[abs(steps)]}"


def _briefly(moves: Mapping[str, tuple[int, int]]) -> str:
    """The first two rooms that move and how many more, in a few words."""
    rooms = [f"{room} {'richer' if after > before else 'plainer'}" for room, (before, after) in moves.items()]
    more = [f"{len(rooms) - 2} more"] if len(rooms) > 2 else []
    return ", ".join([*rooms[:2], *more])


def _costs(now: float, then: float, currency: str) -> str:
    if then == now:
        return "Costs the same"
    way, of = "less" if then < now else "more", f"{currency} " if currency else ""
    by = ", each room by itself" if currency else " by cost index"
    return f"Costs {of}{_figure(abs(then - now))} {way}, {of}{_figure(then)} instead of {of}{_figure(now)}{by}"


def _away(now: float, then: float) -> str:
    return f"rooms are {then:.2f} away from what they ask for in all, instead of {now:.2f}"


def _contrast(basis: Basis, wide: Assignment | Unproved | None) -> str:
    if not isinstance(wide, Assignment):
        return ""
    then, now = (extremes.contrast(one.tiers, basis.public) for one in (wide, basis.chosen))
    return f"rooms that guests use stand {then:.2f} tiers above the others on average, instead of {now:.2f}"


def _steps(basis: Basis, gentle: Assignment | Unproved | None) -> str:
    if not isinstance(gentle, Assignment):
        return ""
    then, now = (extremes.stepped(basis.problem, one.tiers) for one in (gentle, basis.chosen))
    return f"steps between rooms that are seen, closets and the like aside, come to {then} tiers in all, not {now}"


def _figure(cost: float) -> str:
    """A cost as it reads in a sentence."""
    return f"{cost:,.0f}" if cost >= 1_000 else f"{cost:,.2f}"


def _plain(budget: float) -> str:
    """A budget, which is a whole number where it can be."""
    return f"{budget:,.0f}" if budget == round(budget) else f"{budget:,.2f}"
