"""The job note: one page in plain language, for whoever carries a hammer. A value, which is typeset or told as text."""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from textwrap import fill
from typing import NamedTuple

from planner.checks.check import Check
from planner.deliverables import letters
from planner.deliverables.papers import Stamp
from planner.intent.model import FACTORS
from planner.planning.answer import Plan
from planner.takeoff.cost import Cost
from planner.takeoff.takeoff import Takeoff
from planner.units import counted, in_one_line, listed

LONGEST_NAME = 60
"""A name on the note has no more characters than this."""

STAYS = " Trim that stays is matched, and nothing of it is bought."

COLUMNS = 88
"""The width of the note as text [characters]."""


class Item(NamedTuple):
    """One thing that is said, under a few words that are read first; blank where there are none."""

    lead: str
    says: str


class Section(NamedTuple):
    """A part of the note: its heading, its items, and whether they are steps, one after another."""

    heading: str
    items: tuple[Item, ...]
    steps: bool = False


class Note(NamedTuple):
    """The job note."""

    title: str
    stamp: str
    sections: tuple[Section, ...]


def job_note(plan: Plan, stamp: Stamp, most: int) -> Note:
    """The note of a plan that exists.

    Parameters
    ----------
    plan : what is told.
    stamp : that the note carries.
    most : how many rooms, rules and remarks are told one by one; the rest are counted.
    """
    sections = (
        Section("What was decided", tuple(_decided(plan, most))),
        Section("Why", tuple(_why(plan, most))),
        Section("In which order a room is trimmed", tuple(_steps(plan)), steps=True),
        Section("What to watch", tuple(_watch(plan, most))),
        Section("Take care", tuple(_cares(plan, most))),
        Section("What a licensed professional decides", tuple(_matters(plan))),
    )
    return Note(f"{_short(plan.house.name)}: job note", stamp.words, tuple(s for s in sections if s.items))


def note_text(note: Note) -> str:
    """The note as plain text.

    >>> print(note_text(Note("Larkmead: job note", "Larkmead", (Section("Why", (Item("Hall", "its use"),)),))))
    LARKMEAD: JOB NOTE
    Larkmead
    <BLANKLINE>
    WHY
    - Hall: its use
    <BLANKLINE>
    """
    lines = [note.title.upper(), note.stamp]
    for section in note.sections:
        lines += ["", section.heading.upper()]
        for number, item in enumerate(section.items, 1):
            mark = f"{number}. " if section.steps else "- "
            lines.append(fill(said(item), COLUMNS, initial_indent=mark, subsequent_indent=" " * len(mark)))
    return "\n".join([*lines, ""])


def said(item: Item) -> str:
    """An item in one line."""
    return f"{item.lead}: {item.says}" if item.lead else item.says


def _decided(plan: Plan, most: int) -> Iterator[Item]:
    rooms: dict[int, list[str]] = defaultdict(list)
    for room in plan.rooms:
        rooms[room.tier].append(_short(room.room.name))
    order = f", by the {plan.order.capitalize()} order" if plan.library.style(plan.style).from_order else ""
    yield Item(
        "",
        f"{_capital(_short(plan.style))} trim{order}, as a {plan.grade} has it, in {counted(len(rooms), 'tier')}; sizes"
        f" and forms are in the workbook, room by room.{STAYS if plan.house.existing else ''}",
    )
    for tier in sorted(rooms, reverse=True):
        yield Item(plan.tier_names[tier - 1], _first(rooms[tier], most, "room"))
    for rule in plan.intent.trim[:most]:
        yield Item("The designer asks", in_one_line(rule.words(plan.house.unit), 3 * LONGEST_NAME))
    if len(plan.intent.trim) > most:
        yield Item("The designer asks", f"{counted(len(plan.intent.trim) - most, 'thing')} more; see the sheet Sources")
    if plan.intent.budget is not None:
        unit = plan.currency or "cost index"
        yield Item("Budget", f"{unit} {plan.intent.budget:,.0f}; as it is counted, the plan comes to {plan.spent:,.0f}")
    yield from _bought(plan)


def _bought(plan: Plan) -> Iterator[Item]:
    taken, cost = plan.takeoff, plan.money
    if taken is None or cost is None:
        yield Item("To buy", "more than is taken off at once; deliver the house by parts")
        return
    if not taken.sticks:
        yield Item("To buy", "nothing")
        return
    open_ = sum(not lot.proved for lot in taken.lots)
    least = (
        "no cheaper set of bars exists" if not open_ else f"{counted(open_, 'profile')} might be had a little cheaper"
    )
    yield Item(
        "To buy",
        f"{len(taken.bars):,} bars and pieces of {counted(len(taken.lots), 'profile')}, for {len(taken.sticks):,}"
        f" pieces to cut; {taken.waste:.1%} is sawn off or left over, and {least}. Nothing is added for mishaps.",
    )
    yield Item(
        "Cost",
        f"{cost.currency} {cost.total:,.0f}, likely from {cost.low:,.0f} to {cost.high:,.0f} (four times in five);"
        f" {len(cost.assumptions)} of {counted(len(cost.figures), 'rate')} are assumptions."
        + (cost.foreign and f" {cost.foreign}")
        + _without_price(taken, cost),
    )


def _without_price(taken: Takeoff, cost: Cost) -> str:
    """What of the order has no price, and where it is counted."""
    bare = sum(line.count for line in taken.unpriced)
    if not bare:
        return ""
    out = f" {bare:,} bars and pieces have no price in the stock: the order's total leaves them out,"
    return f"{out} the cost has {cost.by_rates:,.0f} for them by rates."


def _why(plan: Plan, most: int) -> Iterator[Item]:
    weights = sorted(FACTORS, key=lambda name: -plan.intent.importance.get(name, 0.0))
    counted_in = [name for name in weights if plan.intent.importance.get(name, 0.0)]
    proof = "No other plan serves these wishes better; that is proved." if plan.optimal else ""
    yield Item(
        "",
        f"Each room is weighed by {listed(counted_in)}, the weightiest first. The best rooms get the most, and from the"
        f" entry to the bedrooms trim steps down a little at a time, so that the house reads as one. {proof}".strip(),
    )
    told = sorted(plan.rooms, key=lambda room: (not room.pinned, -room.importance))
    for room in told[: max(most // 2, 1)]:
        yield Item(_short(room.room.name), in_one_line(" ".join(room.reasons), 4 * LONGEST_NAME))


def _steps(plan: Plan) -> Iterator[Item]:
    there = {piece.element for pieces in plan.pieces.values() for piece in pieces}
    for step in plan.library.job.steps:
        if not step.elements or there.intersection(step.elements):
            yield Item(step.name, f"{step.says}.")


def _watch(plan: Plan, most: int) -> Iterator[Item]:
    grave = [check for check in plan.checks if check.severity != "caution"]
    for check in grave[:most]:
        where = _short(check.room or "The house") + (" (cannot be built so)" if check.severity == "error" else "")
        yield Item(
            where, f"{in_one_line(check.message, 4 * LONGEST_NAME)}; {in_one_line(check.remedy, 4 * LONGEST_NAME)}."
        )
    if len(grave) > most:
        yield Item("", f"{len(grave) - most} more are in the sheet Checks.")
    if boxes := letters.told(letters.without_shape(plan)):
        yield Item("Letters", boxes)
    notes = [*plan.notes, *(plan.takeoff.notes if plan.takeoff else ())]
    for note in notes[: max(most // 2, 1)]:
        yield Item("", in_one_line(note, 4 * LONGEST_NAME))
    yield Item("", "The plan is drawn from measures that somebody took: where the house differs, the house is right.")


def _cares(plan: Plan, most: int) -> Iterator[Item]:
    for care in plan.library.job.cares:
        yield Item("", care.says)
    raised = _by_rule(check for check in plan.checks if check.severity == "caution")
    for rule, checks in list(raised.items())[:most]:
        rooms = [_short(name) for name in dict.fromkeys(check.room for check in checks) if name]
        where = f" ({_first(rooms, max(most // 2, 1), 'room')})" if rooms else ""
        yield Item(f"{rule.capitalize()}{where}", f"{in_one_line(checks[0].remedy, 4 * LONGEST_NAME)}.")
    if len(raised) > most:
        yield Item("", f"{counted(len(raised) - most, 'caution')} more: see the sheet Checks.")


def _matters(plan: Plan) -> Iterator[Item]:
    raised = {check.rule for check in plan.checks}
    by_whom: dict[str, list[str]] = {}
    for matter in plan.library.job.matters:
        if not matter.rules or raised.intersection(matter.rules):
            by_whom.setdefault(matter.who, []).append(matter.matter)
    for who, matters in by_whom.items():
        yield Item(_capital(who), f"{'; '.join(matters)}.")


def _by_rule(checks: Iterable[Check]) -> dict[str, list[Check]]:
    found: dict[str, list[Check]] = {}
    for check in checks:
        found.setdefault(check.rule, []).append(check)
    return found


def _first(names: list[str], most: int, thing: str) -> str:
    """The first of some names, and how many more there are.

    >>> _first(["Hall", "Den"], 2, "room"), _first(["Hall", "Den", "Bath"], 1, "room")
    ('Hall and Den', 'Hall and 2 rooms more')
    """
    if len(names) <= most:
        return listed(names)
    return f"{', '.join(names[:most])} and {counted(len(names) - most, thing)} more"


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


def _short(name: str) -> str:
    return in_one_line(name, LONGEST_NAME)
