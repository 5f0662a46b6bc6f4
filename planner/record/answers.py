"""What clients may answer, what holds of their answers, and what comes of them as wishes."""

from collections.abc import Iterable
from dataclasses import replace

from planner.intent.model import Intent, Wish
from planner.intent.renamed import moment
from planner.planning.answer import Plan, RoomPlan
from planner.record.entries import KEEP, LESS, MORE, Answer


def latest(answers: Iterable[Answer], alternative: str) -> dict[str, Answer]:
    """The last answer for each room of an alternative; among equal times the later in order."""
    return {a.room: a for a in sorted(answers, key=lambda a: moment(a.time)) if a.alternative == alternative}


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
    changes nothing. Later answers for a room outrank earlier ones.
    """
    rooms = dict(intent.rooms)
    for said in answers:
        room = plan.by_name.get(said.room)
        if room is None:
            continue
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
