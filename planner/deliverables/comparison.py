"""Alternatives of one house beside one another, as tables for people: a column for each, under its title.

All plans are feasible ones of one house. `differs` says of each row whether they disagree in it.
"""

from collections import Counter, defaultdict
from collections.abc import Callable, Mapping, Sequence
from typing import NamedTuple

import pandas as pd

from planner.planning import frames
from planner.planning.answer import Plan
from planner.record.entries import FOR
from planner.record.keeping import Record
from planner.record.voices import voices, votes
from planner.trim.packages import Package
from planner.units import INCHES_IN, format_length, format_size, running_unit
from planner.walls.parts import BEHIND

DIFFERS = "differs"

NONE = "–"
"""What stands where an alternative has nothing."""


def _beside(
    keys: Sequence[str], plans: Sequence[Plan], rows: Mapping[tuple[object, ...], Mapping[int, object]]
) -> pd.DataFrame:
    """Rows by their keys, with what each alternative has in it, by its place."""
    titles = frames.alternative_titles(plans)
    found = [
        [*key, *(cells.get(at, NONE) for at in range(len(plans))), len({cells.get(at) for at in range(len(plans))}) > 1]
        for key, cells in rows.items()
    ]
    return pd.DataFrame(found, columns=[*keys, *titles, DIFFERS])


def sizes(plans: Sequence[Plan]) -> pd.DataFrame:
    """What each tier has under each ceiling, element by element: form and size, in the unit of the house."""
    unit, library = plans[0].house.unit, plans[0].library
    rows: dict[tuple[object, ...], dict[int, object]] = {}
    for ceiling in sorted({room.ceiling for room in plans[0].house.rooms}, reverse=True):
        ladders = [_by_name(plan, plan.ladder(ceiling)) for plan in plans]
        for name in dict.fromkeys(name for ladder in ladders for name in reversed(ladder)):
            for element in library.element_kinds:
                cells: dict[int, object] = {}
                for at, ladder in enumerate(ladders):
                    found = ladder[name].element(element) if name in ladder else None
                    if found is not None:
                        cells[at] = f"{found.form} {format_size(found.size, unit)}"
                if cells:
                    rows[format_length(ceiling, unit), name, library.element(element).display] = cells
    return _beside(["Ceiling", "Tier", "Element"], plans, rows)


def _by_name(plan: Plan, ladder: Sequence[Package]) -> dict[str, Package]:
    return {plan.tier_names[package.tier - 1]: plan.standing[package] for package in ladder}


def quantities(plans: Sequence[Plan]) -> pd.DataFrame:
    """How much there is of each element on all walls: the lengths of its pieces, the boards behind left aside, in feet
    or metres. What is there already and stays is counted too; nothing is added for cuts."""
    unit, library = running_unit(plans[0].house.unit), plans[0].library
    totals = [_run(plan) for plan in plans]
    rows: dict[tuple[object, ...], dict[int, object]] = {
        (kind.display,): {
            at: round(total[name] / INCHES_IN[unit]) for at, total in enumerate(totals) if total.get(name)
        }
        for name, kind in library.element_kinds.items()
        if any(total.get(name) for total in totals)
    }
    return _beside([f"Element, in {unit}"], plans, rows)


def _run(plan: Plan) -> Mapping[str, float]:
    """The length of all pieces of each element that are seen [in]."""
    found: defaultdict[str, float] = defaultdict(float)
    for room in plan.rooms:
        for piece in plan.pieces[room.room.name]:
            if piece.part not in BEHIND:
                found[piece.element] += piece.length * piece.count
    return found


def to_mend(plans: Sequence[Plan]) -> pd.DataFrame:
    """How often each check tells of something, what is to be mended before cautions."""
    rows: dict[tuple[object, ...], dict[int, object]] = {}
    for at, plan in enumerate(plans):
        for (severity, rule), number in Counter((check.severity, check.rule) for check in plan.checks).items():
            rows.setdefault((severity, rule), {})[at] = number
    ranked = sorted(rows.items(), key=lambda row: (row[0][0] == "caution", str(row[0][1])))
    return _beside(["Kind", "What"], plans, dict(ranked))


def said_of(plans: Sequence[Plan], record: Record) -> pd.DataFrame:
    """What clients say of each room of the alternatives, by name, where they say anything."""
    words = {"keep": "keep it", "more": "richer", "less": "plainer", "": ""}
    rows: dict[tuple[object, ...], dict[int, object]] = {}
    for at, plan in enumerate(plans):
        for room, found in voices(record, plan.intent.name).items():
            said = []
            for voice in found.voices:
                answer = voice.answer
                asked = [words[answer.answer], *(wish.words for wish in answer.wishes), answer.remark]
                said.append(f"{answer.who or 'somebody'}: {', '.join(filter(None, asked))} ({voice.outcome})")
            rows.setdefault((room,), {})[at] = "\n".join(said)
    return _beside(["Room"], plans, rows)


class Criterion(NamedTuple):
    """Something that may matter to a team: in words, whether more of it is better, and how much a plan has of it."""

    words: str
    more: bool
    value: Callable[[Plan, Record], float]


def _contrast(plan: Plan, _: Record) -> float:
    """The average tier of rooms that guests use, less that of the others."""
    guests = [room.tier for room in plan.rooms if plan.library.use(room.room.use).guest]
    others = [room.tier for room in plan.rooms if not plan.library.use(room.room.use).guest]
    return sum(guests) / len(guests) - sum(others) / len(others) if guests and others else 0.0


def _liked(plan: Plan, record: Record) -> float:
    """The share of clients' answers that would keep a room as it is; half where nobody has answered."""
    said = [v.answer.answer for room in voices(record, plan.intent.name).values() for v in room.voices]
    given = [answer for answer in said if answer]
    return given.count("keep") / len(given) if given else 0.5


def _voted(plan: Plan, record: Record) -> float:
    """Votes for an alternative, less those against it."""
    return float(sum(1 if vote.vote == FOR else -1 for vote in votes(record, plan.intent.name)))


CRITERIA = (
    Criterion("Rooms have what they ask for [tiers amiss]", False, lambda plan, _: plan.objective.fit),
    Criterion("Few steps jump", False, lambda plan, _: float(sum(p.reads == "abrupt" for p in plan.passages))),
    Criterion("Little cost [index]", False, lambda plan, _: plan.cost),
    Criterion("Public rooms stand out from private ones [tiers]", True, _contrast),
    Criterion("Little to mend", False, lambda plan, _: float(sum(c.severity != "caution" for c in plan.checks))),
    Criterion("Clients would keep it [share of answers]", True, _liked),
    Criterion("Votes of the team, for less against", True, _voted),
)
"""What may matter to a team, the figure of a plan in each."""


def criteria(plans: Sequence[Plan], record: Record) -> pd.DataFrame:
    """What each alternative has in each criterion."""
    rows: dict[tuple[object, ...], dict[int, object]] = {
        (one.words,): {at: round(one.value(plan, record), 2) for at, plan in enumerate(plans)} for one in CRITERIA
    }
    return _beside(["What may matter"], plans, rows)


def costs(plans: Sequence[Plan]) -> pd.DataFrame:
    """What each alternative costs in money, with its range, part by part and tier by tier, and its cost index beside
    it; of one that is too large to be taken off the index alone."""
    currency = plans[0].house.currency
    rows: dict[tuple[object, ...], dict[int, object]] = {}
    for at, plan in enumerate(plans):
        cost = plan.money
        if cost is not None:
            told: dict[str, object] = {"Cost": round(cost.total)}
            told |= {"10th to 90th percentile": f"{cost.low:,.0f} to {cost.high:,.0f}"}
            told |= {f"of which {part}": round(money) for part, money in cost.parts._asdict().items()}
            told |= {f"in rooms of tier {tier}": round(money) for tier, money in cost.by_tier.items()}
            for words, cell in told.items():
                rows.setdefault((words,), {})[at] = cell
        rows.setdefault(("Cost index, no money",), {})[at] = round(plan.cost)
    index = rows.pop(("Cost index, no money",))
    return _beside([f"In {currency}"], plans, rows | {("Cost index, no money",): index})


def money(plans: Sequence[Plan]) -> tuple[pd.DataFrame, pd.DataFrame]:
    """Cost against how far rooms are from what they ask for: the frontier of the first alternative, columns
    `frames.FRONTIER`, and of each other its title, cost and objective, by what it asks for itself."""
    rows = zip(frames.alternative_titles(plans), plans, strict=True)
    others = [
        {"title": title, "cost": plan.costed_as(plans[0]), "objective": plan.objective.total} for title, plan in rows
    ][1:]
    return frames.frontier(plans[0]), pd.DataFrame(others, columns=["title", "cost", "objective"])
