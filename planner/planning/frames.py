"""A plan as data frames, for charts, editors and spreadsheets.

Lengths are inches in the columns that charts and arithmetic read; each such column that a person reads has a twin
named `..._text` in the house's unit. An infeasible plan gives the same columns and no rows.
"""

from collections.abc import Sequence
from itertools import pairwise
from math import nan
from typing import Any

import pandas as pd

from planner.hierarchy.problem import TIE, Assignment
from planner.house.model import OUTSIDE, WALL_OPENINGS, House, Opening
from planner.intent.model import FACTORS
from planner.planning.answer import Plan, RoomPlan
from planner.planning.proposals import Proposal, moved
from planner.stock.stock import price_text
from planner.takeoff.cost import CENTS, PARTS
from planner.trim.packages import Package
from planner.units import METRIC, format_length, format_size
from planner.walls.parts import BEHIND

SQUARE_INCHES_PER_SQUARE_FOOT = 144.0

STANDS = "as it stands"
"""What a plan without a title is called."""


def _columns(*names: str) -> list[str]:
    return " ".join(names).split()


ROOMS = _columns(
    "room level use entry unit length width ceiling length_text width_text ceiling_text area outline depth integration",
    "importance target weight lowest highest pinned tier tier_name tiers package trim_share members cost reasons",
)
PASSAGES = _columns("start end kind limit comfort rise difference reads shared step")
STEP_DOWN = _columns("alternative house room level entry enters bedroom depth before tier tier_name tiers")
STEPS = _columns("alternative start end step walked")
ELEMENTS = _columns(
    "package tier tier_name tiers ceiling ceiling_text element form target size size_text",
    "projection projection_text bottom bottom_text members profiles source",
)
FACTOR_COLUMNS = _columns("room factor value weight contribution importance target tier top")
COMPARE = _columns("room level alternative tier tier_name tiers differs")
PIECES = _columns(
    "wall opening piece count length length_text width_text depth_text cuts note part side element profile behind"
)
MEETINGS = _columns("opening other kind head_text words")
BUILT = _columns(
    "element form built_up profiles height_text projection_text price price_text",
    "runner_up runner_up_price runner_up_price_text",
)
PROPOSALS = _columns("kind title trade cost cost_change objective objective_change fit abrupt rooms moves")
FRONTIER = _columns("cost objective fit abrupt stands knee kind title gap")
COST = _columns("room level tier tier_name element", *PARTS, "cost")
RATES = _columns("rate says unit value low high amount confirmed cheaper dearer source")
TIER_MONEY = _columns("room level tier tier_name cost more less")
COSTS = _columns("alternative currency cost low high index assumptions rates")
OPENINGS = _columns("opening kind level room other main x1 y1 x2 y2")


def rooms(plan: Plan) -> pd.DataFrame:
    """One row a room, columns ROOMS; `area` is in square feet, `outline` the room's corners on the plan [in]."""
    return pd.DataFrame([_room(plan, planned) for planned in plan.rooms], columns=ROOMS)


def passages(plan: Plan) -> pd.DataFrame:
    """One row a passage, columns PASSAGES; `step` is what a walker notices (see `step`)."""
    rows = [
        {name: getattr(p, name) for name in PASSAGES[:-1]}
        | {"step": step(p.reads, p.rise is not None and p.difference > 0 and not p.leads_on)}
        for p in plan.passages
    ]
    return pd.DataFrame(rows, columns=PASSAGES)


def step_down(plans: Sequence[Plan]) -> pd.DataFrame:
    """One row for each alternative and room on its step-down from the entry, columns STEP_DOWN.

    `entry` is true where guests come in, `enters` where the household does too; `before` is the room before it on the
    shortest walk from the entry, "" where there is none.
    """
    rows = [
        {"alternative": title, "house": plan.house.name, "room": p.room.name, "level": p.room.level}
        | {"entry": p.room.name in plan.house.entries[:1], "enters": p.room.name in plan.house.entries}
        | {"bedroom": p.room.name in ends, "depth": p.depth, "before": plan.before[p.room.name] or ""}
        | _tier(plan, p.tier)
        for title, plan in zip(alternative_titles(plans), plans, strict=True)
        for ends in [{route.room for route in plan.routes}]
        for p in plan.rooms
    ]
    return pd.DataFrame(rows, columns=STEP_DOWN)


def steps(plans: Sequence[Plan]) -> pd.DataFrame:
    """One row for each alternative and passage, columns STEPS; `walked` where a walk to a bedroom goes through it."""
    every = [
        passages(plan).assign(alternative=title, walked=[frozenset((p.start, p.end)) in walked for p in plan.passages])
        for title, plan in zip(alternative_titles(plans), plans, strict=True)
        if plan.passages
        for walked in [{frozenset(pair) for route in plan.routes for pair in pairwise(route.rooms)}]
    ]
    return pd.concat(every, ignore_index=True)[STEPS] if every else pd.DataFrame(columns=STEPS)


def openings(plan: Plan) -> pd.DataFrame:
    """One row for each opening whose wall is known, columns OPENINGS.

    `x1`, `y1` and `x2`, `y2` are its left and right jambs on the plan [in], seen from inside `room`; `main` is true
    where guests come in by it.
    """
    house = plan.house
    rows = [
        {"opening": p.opening.name, "kind": p.opening.kind, "level": house.by_name[name].level}
        | {"room": name, "other": p.other, "main": _is_main(house, p.opening)}
        | dict(zip(("x1", "y1", "x2", "y2"), (c for jamb in p.jambs for c in jamb), strict=True))
        for name, placed in plan.placements.items()
        for p in placed
        if p.side == "near" and house.by_name[name].outline
    ]
    return pd.DataFrame(rows, columns=OPENINGS)


def _is_main(house: House, opening: Opening) -> bool:
    outside = opening.other == OUTSIDE and opening.kind not in WALL_OPENINGS
    return outside and opening.room in house.entries[:1]


def step(reads: str, rises: bool) -> str:
    """What a walker away from the entry notices of a step, the gravest first: a key of planner.look.theme.STEPS.

    >>> step("abrupt", rises=True), step("clear", rises=True), step("faint", rises=False)
    ('abrupt', 'rises', 'faint')
    """
    return reads if reads == "abrupt" or not rises else "rises"


def elements(plan: Plan) -> pd.DataFrame:
    """One row for each element of each package, columns ELEMENTS."""
    rows = [
        {
            "package": package.label,
            "ceiling": package.ceiling,
            "ceiling_text": format_length(package.ceiling, package.unit),
        }
        | _tier(plan, package.tier)
        | {name: getattr(e, name) for name in ("element", "form", "target", "size", "projection", "bottom", "members")}
        | {
            "size_text": format_size(e.size, package.unit),
            "projection_text": format_size(e.projection, package.unit),
            "source": e.source,
        }
        | {
            "bottom_text": "" if e.bottom is None else format_length(e.bottom, package.unit),
            "profiles": ", ".join(e.profiles),
        }
        for package in plan.packages
        for e in plan.standing[package].elements
    ]
    return pd.DataFrame(rows, columns=ELEMENTS)


def pieces(plan: Plan, room: str) -> pd.DataFrame:
    """One row for each piece of wood on a room's walls, columns PIECES; `opening` is blank for what runs along them.

    `behind` says that it is a board behind the face.
    """
    unit = plan.house.unit
    rows = [
        {"wall": piece.place.wall, "opening": piece.place.opening, "piece": piece.name, "count": piece.count}
        | {"length": piece.length, "length_text": format_length(piece.length, unit)}
        | {"width_text": format_size(piece.width, unit), "depth_text": format_size(piece.depth, unit)}
        | {"cuts": " and ".join(cut.words for cut in piece.ends), "note": piece.note, "part": str(piece.part)}
        | {"side": str(piece.side), "element": piece.element, "profile": ", ".join(piece.profile)}
        | {"behind": piece.part in BEHIND}
        for piece in plan.pieces[room]
    ]
    return pd.DataFrame(rows, columns=PIECES)


def meetings(plan: Plan, room: str) -> pd.DataFrame:
    """One row for each passage of a room with a place on a wall: how the trim of both rooms meets, columns MEETINGS."""
    meetings = plan.meetings_of(room)
    rows = [
        {"opening": o.name, "other": o.other if o.room == room else o.room, "kind": o.kind}
        | {"head_text": format_length(met.head, plan.house.unit), "words": " ".join(met.words)}
        for o in plan.house.openings
        if room in (o.room, o.other) and (met := meetings.get(o.name)) is not None
    ]
    return pd.DataFrame(rows, columns=MEETINGS)


def built(plan: Plan, package: Package) -> pd.DataFrame:
    """One row for each element of a package that stock builds: its pieces, price, and the runner-up, columns BUILT."""
    rows = []
    for e in package.elements:
        if e.assembly is None or e.element not in plan.runners_up[package]:
            continue
        second = plan.runners_up[package][e.element]
        rows.append(
            {"element": e.element, "form": e.form, "built_up": e.assembly.built_up}
            | {"profiles": ", ".join(e.profiles), "height_text": format_size(e.assembly.height, package.unit)}
            | {"projection_text": format_size(e.assembly.projection, package.unit), "price": e.assembly.price_per_foot}
            | {"price_text": price_text(e.assembly, package.unit)}
            | {"runner_up": ", ".join(second.profiles) if second else ""}
            | {"runner_up_price": second.price_per_foot if second else None}
            | {"runner_up_price_text": price_text(second, package.unit) if second else ""}
        )
    return pd.DataFrame(rows, columns=BUILT)


def factors(plan: Plan) -> pd.DataFrame:
    """One row for each room and factor of its importance, columns FACTOR_COLUMNS.

    `value` is the factor, 0 to 1; `weight` its share of all weights; `contribution` their product, which sums to the
    room's importance.
    """
    total = sum(plan.intent.importance.get(name, 0.0) for name in FACTORS)
    shares = {name: plan.intent.importance.get(name, 0.0) / total if total else 0.0 for name in FACTORS}
    rows = [
        {"room": p.room.name, "factor": name, "value": p.factors[name], "weight": shares[name]}
        | {"contribution": shares[name] * p.factors[name], "importance": p.importance}
        | {"target": p.target, "tier": p.tier, "top": plan.top}
        for p in plan.rooms
        for name in FACTORS
    ]
    return pd.DataFrame(rows, columns=FACTOR_COLUMNS)


def compare(plans: Sequence[Plan]) -> pd.DataFrame:
    """One row for each room and alternative, columns COMPARE; `differs` where the alternatives disagree on the room."""
    titles = alternative_titles(plans)
    tiers: dict[str, set[int]] = {}
    for plan in plans:
        for planned in plan.rooms:
            tiers.setdefault(planned.room.name, set()).add(planned.tier)
    rows = [
        {"room": p.room.name, "level": p.room.level, "alternative": title}
        | _tier(plan, p.tier)
        | {"differs": len(tiers[p.room.name]) > 1}
        for title, plan in zip(titles, plans, strict=True)
        for p in plan.rooms
    ]
    return pd.DataFrame(rows, columns=COMPARE)


def proposals(plan: Plan) -> pd.DataFrame:
    """One row for each plan that is proposed beside this one, columns PROPOSALS; changes are against this plan.

    `rooms` is how many move, `moves` says which and by how much.
    """
    rows = [
        {name: getattr(p, name) for name in ("kind", "title", "trade", "cost", "fit", "abrupt")}
        | {"cost_change": round(p.cost - plan.spent, 2), "objective": p.total}
        | {"objective_change": p.total - plan.objective.total, "rooms": len(p.moves), "moves": moved(p.moves)}
        for p in plan.proposals
    ]
    return pd.DataFrame(rows, columns=PROPOSALS)


def frontier(plan: Plan) -> pd.DataFrame:
    """One row for each point of the frontier of cost against objective, the cheapest first, columns FRONTIER.

    `stands` marks the plan itself, `knee` the knees; `kind` and `title` are those of the proposal that is the point, if
    one is. Where the frontier is not listed whole, the best within the budgets that are proposed are points of it too.
    `gap` is the same in all rows: the most by which what is not listed can be better by the objective than the listed
    point that costs no more, 0 where all points are listed.
    """
    found = plan.frontier
    if found is None:
        return pd.DataFrame(columns=FRONTIER)
    knees = {found.points[at].cost for at in found.knees}
    proposed = {p.cost: p for p in reversed(plan.proposals) if p.kind in ("knee", "budget", "best")}
    points = {point.cost: point for point in found.points}
    proposed |= {p.cost: p for p in reversed(plan.proposals) if p.cost in points and _ties(p, points[p.cost])}
    rows = []
    for cost in sorted(points.keys() | proposed.keys()):
        point, proposal = points.get(cost) or proposed[cost], proposed.get(cost)
        rows.append(
            {"cost": cost, "objective": point.total, "fit": point.fit, "abrupt": point.abrupt}
            | {"stands": cost == plan.spent, "knee": cost in knees, "gap": found.gap}
            | {"kind": proposal.kind if proposal else "", "title": proposal.title if proposal else ""}
            | ({"kind": "", "title": STANDS} if cost == plan.spent else {})
        )
    return pd.DataFrame(rows, columns=FRONTIER)


def _ties(proposal: Proposal, point: Assignment) -> bool:
    return abs(proposal.total - point.total) <= TIE


def cost(plan: Plan, by: Sequence[str] = COST[:5]) -> pd.DataFrame:
    """What the plan costs, in the house's currency: one row for each room and element, columns COST, the dearest first.

    `by` are those of the first five columns by which rows are summed up, in this order, e.g. `["tier", "tier_name"]`.
    Every frame adds up to `plan.money.total` to the cent; one of a plan without a takeoff has no rows.
    """
    columns = [*by, *COST[5:]]
    if plan.money is None:
        return pd.DataFrame(columns=columns)
    level, names = {r.room.name: r.room.level for r in plan.rooms}, plan.tier_names
    cents = pd.DataFrame(
        [
            (cell.room, level[cell.room], tier, names[tier - 1], cell.element, cell.part, amount)
            for cell, amount in plan.money.cells.items()
            for tier in [plan.money.tiers[cell.room]]
        ],
        columns=[*COST[:5], "part", "cents"],
    )
    found = cents.pivot_table("cents", list(by), "part", "sum", fill_value=0, sort=False).reindex(columns=PARTS)
    found = found.fillna(0).astype(int)
    found["cost"] = found.sum(axis=1)
    found = found.sort_values("cost", ascending=False, kind="stable")
    return (found / CENTS).reset_index().rename_axis(columns=None)[columns]


def tier_money(plan: Plan) -> pd.DataFrame:
    """One row for each room, columns TIER_MONEY, that first of which one tier more costs most: what it costs by itself,
    in the house's currency, by how much one tier more would cost more and one less would cost less, None where there is
    none. A plan whose rooms are not counted in money has no rows."""
    rows = []
    for r in plan.rooms if plan.tier_money else ():
        money, at = plan.tier_money[r.room.name], r.tier - 1
        more = round(money[at + 1] - money[at], 2) if at + 1 < len(money) else None
        less = round(money[at] - money[at - 1], 2) if at else None
        row = {"room": r.room.name, "level": r.room.level, "tier": r.tier, "tier_name": plan.tier_names[at]}
        rows.append(row | {"cost": money[at], "more": more, "less": less})
    frame = pd.DataFrame(rows, columns=TIER_MONEY)
    return frame.sort_values("more", ascending=False, kind="stable", ignore_index=True)


def rates(plan: Plan) -> pd.DataFrame:
    """One row for each rate that counts in the plan's cost, columns RATES, that first which moves the total most.

    Figures are in the unit that the row names, in a metric house a metric one; `amount` is how much of it there is, of
    wage, pace, markup and tax none. `cheaper` and `dearer` are by how much the total changes where this rate alone is
    at its low and at its high.
    """
    if plan.money is None:
        return pd.DataFrame(columns=RATES)
    metric = plan.house.unit in METRIC
    rows = [
        {"rate": name, "says": f.rate.says_in(metric), "unit": (unit := f.rate.unit_in(metric))}
        | {end: getattr(f, end) / f.rate.units[unit] for end in ("value", "low", "high")}
        | {"amount": amount * f.rate.units[unit] if (amount := plan.money.amounts.get(name)) is not None else nan}
        | {"confirmed": f.confirmed, "source": f.source}
        | dict(zip(("cheaper", "dearer"), (round(swing, 2) for swing in plan.money.swings[name]), strict=True))
        for name, f in plan.money.figures.items()
    ]
    frame = pd.DataFrame(rows, columns=RATES)
    width = (frame["dearer"] - frame["cheaper"]).sort_values(ascending=False, kind="stable")
    return frame.loc[width.index].reset_index(drop=True)


def costs(plans: Sequence[Plan]) -> pd.DataFrame:
    """One row for each alternative that is taken off, columns COSTS: its cost with the 10th and the 90th percentile, in
    the house's currency, its cost index, and how many of how many rates are assumptions."""
    rows = [
        {"alternative": title, "currency": plan.money.currency, "cost": plan.money.total, "low": plan.money.low}
        | {"high": plan.money.high, "index": plan.cost}
        | {"assumptions": len(plan.money.assumptions), "rates": len(plan.money.figures)}
        for title, plan in zip(alternative_titles(plans), plans, strict=True)
        if plan.money is not None
    ]
    return pd.DataFrame(rows, columns=COSTS)


def alternative_titles(plans: Sequence[Plan]) -> list[str]:
    """A title for each plan, numbered where two would be the same."""
    titles = [plan.intent.title or plan.intent.name or STANDS for plan in plans]
    seen: dict[str, int] = {}
    for title in titles:
        seen[title] = seen.get(title, 0) + 1
    counts: dict[str, int] = {}
    numbered = []
    for title in titles:
        counts[title] = counts.get(title, 0) + 1
        numbered.append(f"{title} ({counts[title]})" if seen[title] > 1 else title)
    return numbered


def _room(plan: Plan, planned: RoomPlan) -> dict[str, Any]:
    room, package = planned.room, planned.package
    lengths = {name: getattr(room, name) for name in ("length", "width", "ceiling")}
    same = ("depth", "integration", "importance", "target", "weight", "lowest", "highest", "pinned", "cost")
    return (
        {"room": room.name, "level": room.level, "use": room.use, "entry": room.name in plan.house.entries[:1]}
        | {"unit": plan.house.unit}
        | lengths
        | {f"{name}_text": format_length(value, plan.house.unit) for name, value in lengths.items()}
        | {"area": room.area / SQUARE_INCHES_PER_SQUARE_FOOT, "outline": room.corners if room.outline else ()}
        | {name: getattr(planned, name) for name in same}
        | _tier(plan, planned.tier)
        | {"package": package.label, "trim_share": package.trim_share, "members": package.members}
        | {"reasons": "\n".join(planned.reasons)}
    )


def _tier(plan: Plan, tier: int) -> dict[str, Any]:
    return {"tier": tier, "tier_name": plan.tier_names[tier - 1], "tiers": len(plan.tier_names)}
