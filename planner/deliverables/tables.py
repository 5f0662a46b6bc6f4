"""What the apps show as tables, to be taken away: each a frame whose headings are for people, with units.

Lengths are numbers, in inches where the house is measured in feet and inches, in millimetres where it is metric.
"""

from collections.abc import Iterable, Mapping, Sequence

import pandas as pd

from planner.files.problems import Problem
from planner.hierarchy.reasons import WhatIf
from planner.house.model import House
from planner.intent.model import FACTORS
from planner.planning import frames
from planner.planning.answer import PassagePlan, Plan
from planner.stock.stock import FEET_IN
from planner.units import INCHES_IN, PER, Unit, running_unit, section_unit

DECIMALS = {"in": 4, "mm": 1}
"""To how many places a length is written: finer than anything is cut."""

PLACES = 4
"""To how many places all other figures are written."""

RATE_PLACES = 6
"""To how many places rates are written: an hour to the thousandth of a second."""

SQUARE_METRES_PER_SQUARE_FOOT = 0.3048**2

ROOMS = {"Room": "room", "Level": "level", "Use": "use", "Tier": "tier", "Tier's name": "tier_name", "Pinned": "pinned"}
ROOMS |= {"Lowest": "lowest", "Highest": "highest", "Target": "target", "Importance": "importance", "Length": "length"}
ROOMS |= {"Width": "width", "Ceiling": "ceiling", "Floor": "area", "Package": "package", "Cost index": "cost"}
ROOMS |= {"Shares its tier with": "group", "Steps from the entry": "depth", "Why": "reasons"}

ELEMENTS = {"Package": "package", "Tier": "tier", "Tier's name": "tier_name", "Ceiling": "ceiling"}
ELEMENTS |= {"Element": "element", "Form": "form", "Size": "size", "Projection": "projection"}
ELEMENTS |= {"Above the floor": "bottom", "Built from": "profiles", "Source": "source"}

FARTHER = "Farther from what rooms ask for [tiers]"
"""By how many tiers in all a plan with another tier of a room misses what rooms ask for more than the plan does."""

COSTS = "Costs"
"""The heading that says what costs are counted in, once that is known."""

PASSAGES = ["To", "Through", "Tiers between", "At most", "The step", "Both rooms have"]
STEP_WORDS = {"even": "none, on one level", "clear": "reads", "faint": "too small to see", "abrupt": "jumps"}
"""How the step across a passage reads, in the words of the tables."""

PIECES = {"Wall": "wall", "Opening": "opening", "Piece": "piece", "Count": "count", "Length": "length"}
PIECES |= {"Width": "width", "Depth": "depth", "Cuts": "cuts", "Profile": "profile", "Note": "note"}

PROPOSALS = {"Plan": "title", COSTS: "cost", "Change of cost": "cost_change", "Away": "objective"}
PROPOSALS |= {"Change away": "objective_change", "Rooms that move": "rooms", "Moves": "moves", "Trades": "trade"}

FRONTIER = {COSTS: "cost", "Away": "objective", "As it stands": "stands", "Knee": "knee", "Plan": "title"}

COST_BY = {
    "Room": {"Room": "room", "Level": "level", "Tier": "tier", "Tier's name": "tier_name"},
    "Tier": {"Tier": "tier", "Tier's name": "tier_name"},
    "Element": {"Element": "element"},
}
"""The ways in which cost is summed up: columns of frames.COST under their headings."""

COST_PARTS = {"Material": "material", "Labour": "labour", "Finish": "finish", "Markup": "markup", "Tax": "tax"}
COST_PARTS |= {"Cost": "cost"}

LENGTHS = {"length", "width", "depth", "ceiling", "size", "projection", "bottom"}


def rooms(plan: Plan) -> pd.DataFrame:
    """Every room with its tier, what is wished of it and why it has it."""
    groups = {name: group for group in plan.sets for name in group}
    frame = frames.rooms(plan)
    frame["group"] = ["; ".join(o for o in groups.get(room, ()) if o != room) for room in frame["room"]]
    if section_unit(plan.house.unit) == "mm":
        frame["area"] *= SQUARE_METRES_PER_SQUARE_FOOT
    area = "sq ft" if section_unit(plan.house.unit) == "in" else "sq m"
    return _headed(frame, ROOMS, plan.house, lengths=LENGTHS - {"depth"}).rename(columns={"Floor": f"Floor [{area}]"})


def importance(plan: Plan) -> pd.DataFrame:
    """Every room with its factors, and how much each weighs."""
    rows = [
        {"Room": p.room.name}
        | {f"{name} (weight {plan.intent.importance.get(name, 0.0):g})": p.factors[name] for name in FACTORS}
        | {"Importance": p.importance, "Target": p.target, "Tier": p.tier, "Steps from the entry": p.depth}
        for p in plan.rooms
    ]
    return pd.DataFrame(rows).round(PLACES)


def schedule(plan: Plan) -> pd.DataFrame:
    """What each tier has under each ceiling of the house, element by element, and the rules that say so."""
    found = []
    for ceiling in sorted({room.ceiling for room in plan.house.rooms}, reverse=True):
        for package in plan.ladder(ceiling)[::-1]:
            departs = {cell.element: package.rules.get(cell, ()) for cell, _ in package.variant if not cell.opening}
            for name in plan.library.element_kinds:
                e = plan.standing[package].element(name)
                if e is None and name not in departs:
                    continue
                found.append(
                    {"ceiling": ceiling, "tier": package.tier, "name": plan.tier_names[package.tier - 1]}
                    | {"element": name, "form": e.form if e else "none", "size": e.size if e else None}
                    | {"projection": e.projection if e else None, "top": e.top if e else None}
                    | {"locked": e.locked if e else "", "rules": "; ".join(departs.get(name, ()))}
                )
    columns = {"Ceiling": "ceiling", "Tier": "tier", "Tier's name": "name", "Element": "element", "Form": "form"}
    columns |= {"Size": "size", "Projection": "projection", "Top above the floor": "top"}
    columns |= {"Locked to": "locked", "Departs by": "rules"}
    frame = pd.DataFrame(found, columns=list(columns.values()))
    return _headed(frame, columns, plan.house, lengths=LENGTHS | {"top"})


def departures(plan: Plan) -> pd.DataFrame:
    """Every trim rule in words."""
    rows = [(number, rule.words(plan.house.unit)) for number, rule in enumerate(plan.intent.trim, 1)]
    return pd.DataFrame(rows, columns=["Rule", "Says"])


def packages(plan: Plan) -> pd.DataFrame:
    """Every element of every package, with the rooms that have the package."""
    frame = _headed(frames.elements(plan), ELEMENTS, plan.house)
    having: dict[str, list[str]] = {}
    for room in plan.rooms:
        having.setdefault(room.package.label, []).append(room.room.name)
    frame["Rooms"] = [", ".join(having.get(label, ())) for label in frame["Package"]]
    return frame


def built(plan: Plan) -> pd.DataFrame:
    """What stock builds each element of each package from, with its price and the runner-up."""
    sold_by = running_unit(plan.house.unit)
    money = f"[{plan.house.currency} {PER[sold_by]}]"
    names = {"Element": "element", "Form": "form", "Put together as": "built_up", "Profiles": "profiles"}
    names |= {f"Price {money}": "price", "Runner-up": "runner_up", f"Its price {money}": "runner_up_price"}
    found = [
        _headed(_priced(frames.built(plan, package), sold_by), names, plan.house).assign(Package=package.label)
        for package in plan.packages
    ]
    frame = pd.concat(found, ignore_index=True) if found else pd.DataFrame(columns=[*names, "Package"])
    return frame[["Package", *names]]


def _priced(frame: pd.DataFrame, sold_by: str) -> pd.DataFrame:
    """The table with prices of what mouldings are sold by; a block's is the price of one."""
    for name in ("price", "runner_up_price"):
        by_the_run = ~frame[f"{name}_text"].str.endswith("each")
        frame[name] = frame[name].where(~by_the_run, frame[name] * FEET_IN[sold_by])
    return frame


def other_tiers(plan: Plan, room: str) -> pd.DataFrame:
    """What would change if a room had another tier."""
    rows = [
        (way.tier, plan.tier_names[way.tier - 1], way.objective, way.cost, _moves(way)) for way in plan.what_if(room)
    ]
    return pd.DataFrame(rows, columns=["Tier", "Tier's name", FARTHER, plan.cost_name, "Moves with it"]).round(PLACES)


def _moves(way: WhatIf) -> str:
    if way.moves is None:
        return "no plan"
    return "; ".join(f"{name} {before} → {after}" for name, (before, after) in way.moves.items())


def passages(plan: Plan, room: str) -> pd.DataFrame:
    """The passages of a room, and how the step across each reads."""
    rows = [
        [*_across(p, room), abs(p.difference), p.limit, STEP_WORDS[p.reads], "; ".join(p.shared)]
        for p in plan.passages
        if room in (p.start, p.end)
    ]
    return pd.DataFrame(rows, columns=PASSAGES)


def _across(passage: PassagePlan, room: str) -> tuple[str, str]:
    """The room on the other side of a passage, and of which kind it is."""
    return passage.end if passage.start == room else passage.start, passage.kind


def meetings(plan: Plan, room: str) -> pd.DataFrame:
    """How the trim of a room meets that of its neighbours."""
    frame, meetings = frames.meetings(plan, room), plan.meetings_of(room)
    frame["head"] = [meetings[opening].head for opening in frame["opening"]]
    columns = {"Opening": "opening", "To": "other", "Through": "kind", "Head at": "head", "How": "words"}
    return _headed(frame, columns, plan.house, lengths={"head"})


def pieces(plan: Plan, room: str) -> pd.DataFrame:
    """Every piece of wood on the walls of a room, those behind the face last."""
    frame = frames.pieces(plan, room)
    for size in ("width", "depth"):
        frame[size] = [getattr(piece, size) for piece in plan.pieces[room]]
    frame = frame.sort_values("behind", kind="stable")
    return _headed(frame, PIECES | {"Behind the face": "behind"}, plan.house)


def checks(plan: Plan) -> pd.DataFrame:
    """Everything to see to."""
    names = {"Kind": "severity", "Room": "room", "Opening": "opening", "What": "message", "Remedy": "remedy"}
    names |= {"Rule": "rule", "Source": "source"}
    rows = [[getattr(check, name) for name in names.values()] for check in plan.checks]
    return pd.DataFrame(rows, columns=list(names))


def remarks(problems: Iterable[Problem]) -> pd.DataFrame:
    """Faults and doubts by file, row and column, each with what would be right."""
    columns = ["File", "Row", "Column", "What is wrong", "What would be right", "Kind"]
    rows = [(p.file, p.row, p.column, p.message, p.remedy, p.severity) for p in problems]
    return pd.DataFrame(rows, columns=columns)


def proposals(plan: Plan) -> pd.DataFrame:
    """The plans that are proposed beside one, with what each trades for what; `Away` is from what all rooms ask for."""
    return _headed(frames.proposals(plan), PROPOSALS, plan.house).rename(columns={COSTS: plan.cost_name})


def frontier(plan: Plan) -> pd.DataFrame:
    """The plans that none beats in both cost and how far rooms are away from what they ask for."""
    return _headed(frames.frontier(plan), FRONTIER, plan.house).rename(columns={COSTS: plan.cost_name})


def compared(plans: Sequence[Plan]) -> pd.DataFrame:
    """The tier of every room in each of several alternatives."""
    frame, titles = frames.compare(plans), frames.alternative_titles(plans)
    tiers = frame.pivot_table("tier", ["room", "level", "differs"], "alternative", sort=False)[titles].astype(int)
    names = {"room": "Room", "level": "Level", "differs": "They differ"}
    return tiers.reset_index().rename(columns=names).rename_axis(columns=None)


def cost_by(plan: Plan, by: Mapping[str, str]) -> pd.DataFrame:
    """What the plan costs, summed up by some columns of frames.COST, each under its heading: e.g. COST_BY["Tier"]."""
    money = {f"{heading} [{plan.house.currency}]": name for heading, name in COST_PARTS.items()}
    frame = frames.cost(plan, list(by.values())).rename(columns={name: heading for heading, name in by.items()})
    return frame.rename(columns={name: heading for heading, name in money.items()})


def rates(plan: Plan) -> pd.DataFrame:
    """Every rate that counts in the plan's cost, with its range and by how much that moves the total."""
    names = {"Rate": "rate", "Confirmed": "confirmed", "Says": "says", "Unit": "unit"}
    names |= {"Value": "value", "Low": "low", "High": "high", "Times": "amount"}
    money = plan.house.currency
    names |= {f"At its low [{money}]": "cheaper", f"At its high [{money}]": "dearer", "Source": "source"}
    found = frames.rates(plan).replace({"confirmed": {True: "yes", False: "no"}}).round(RATE_PLACES)
    return found.rename(columns={name: heading for heading, name in names.items()})[list(names)]


def _headed(
    frame: pd.DataFrame, columns: Mapping[str, str], house: House, lengths: Iterable[str] = frozenset(LENGTHS)
) -> pd.DataFrame:
    """Some columns of a frame under headings; lengths [in] in the unit of the house, which the heading names."""
    unit, lengths = section_unit(house.unit), set(lengths)
    made = {}
    for heading, name in columns.items():
        if name in lengths:
            made[f"{heading} [{unit}]"] = frame[name].map(lambda inches: _in(unit, inches))
        else:
            made[heading] = frame[name]
    return pd.DataFrame(made).round(PLACES)


def _in(unit: Unit, inches: float | None) -> float | None:
    return None if inches is None else round(inches / INCHES_IN[unit], DECIMALS[unit])
