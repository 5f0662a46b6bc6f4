"""What clients may answer, what holds of their answers, and what comes of them as wishes."""

from collections.abc import Iterable
from dataclasses import replace

from planner.intent import edits
from planner.intent.model import Intent, Wish
from planner.intent.renamed import moment
from planner.intent.trim_rules import Scope
from planner.library.model import NO_FORM
from planner.planning.answer import Plan, RoomPlan
from planner.record.entries import KEEP, LESS, MORE, Answer, ElementWish


def latest(answers: Iterable[Answer], alternative: str) -> dict[str, Answer]:
    """The last answer for each room of an alternative, where it was not taken back; among equal times the later in
    order."""
    last = {a.room: a for a in sorted(answers, key=lambda a: moment(a.time)) if a.alternative == alternative}
    return {room: said for room, said in last.items() if not said.takes_back}


def choices(room: RoomPlan) -> tuple[str, ...]:
    """The answers open for a room: a step up or down only where the range in force leaves one."""
    return (KEEP, *((MORE,) if room.tier < room.highest else ()), *((LESS,) if room.tier > room.lowest else ()))


def can_be_had(plan: Plan, room: RoomPlan) -> tuple[str, ...]:
    """Those of a room's choices for which there is a plan, everything else as the plan was asked for."""
    ways = {way.tier for way in plan.what_if(room.room.name) if way.moves is not None} | {room.tier}
    tiers = {said: tiers_left(room, said) for said in choices(room)}
    return tuple(said for said, (low, high) in tiers.items() if ways & set(range(low, high + 1)))


def propose(intent: Intent, plan: Plan, answers: Iterable[Answer]) -> Intent:
    """The intent with a reviewer's answers to `plan`, the plan of that intent, taken as wishes.

    Keep holds the room where it is, more asks for a tier above it or higher, less for one below it or lower. None
    reaches outside the range in force; an answer that is not open for its room, or for a room that is no more,
    changes nothing. Later answers for a room outrank earlier ones. A single wish holds where the intent offers its
    element.
    """
    rooms = dict(intent.rooms)
    for said in answers:
        room = plan.by_name.get(said.room)
        if room is None:
            continue
        offered = [wish for wish in said.wishes if wish.element in intent.offered]
        intent = with_wishes(intent, plan, room, offered)
        if said.answer in choices(room):
            lowest, highest = tiers_left(room, said.answer)
            rooms[said.room] = replace(rooms.get(said.room, Wish()), lowest=lowest, highest=highest)
    return replace(intent, rooms=rooms)


def tiers_left(room: RoomPlan, answer: str) -> tuple[int, int]:
    """The tiers that an answer leaves to a room, lowest and highest."""
    if answer == MORE:
        return room.tier + 1, room.highest
    if answer == LESS:
        return room.lowest, room.tier - 1
    return room.tier, room.tier


def with_wishes(intent: Intent, planned: Plan, room: RoomPlan, wishes: Iterable[ElementWish]) -> Intent:
    """The intent with a trim rule for a room for each single wish. What is wanted has the form that it has in the room,
    else that of the nearest tier that has it, else the first that there is.

    Raises ValueError where there is none.
    """
    scope = Scope(rooms=(room.room.name,))
    for wish in wishes:
        form = _form(planned, room, wish.element) if wish.wanted else NO_FORM
        intent = edits.set_form(intent, wish.element, scope, form, planned.library)
    return intent


def _form(planned: Plan, room: RoomPlan, element: str) -> str:
    """The form that an element has in a room or would have there. Raises ValueError where there is none."""
    planned.library.element(element)
    ladder = planned.ladders[room.room.name]
    packages = [room.package, *sorted(ladder, key=lambda p: (abs(p.tier - room.tier), -p.tier))]
    had = (found.form for package in packages if (found := package.element(element)))
    forms = (form for form in planned.library.form_names(element) if form != NO_FORM)
    form = next(had, None) or next(forms, None)
    if form is None:
        raise ValueError(f"there is no {element} to be had in {room.room.name}")
    return form
