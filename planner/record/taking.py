"""Clients' answers taken into an alternative: as a pinned tier, as a range of tiers, or as trim rules."""

from planner.house.model import WHOLE_ROOM
from planner.intent import edits
from planner.intent.model import Intent
from planner.planning.answer import Plan, RoomPlan
from planner.record.answers import choices, tiers_left, with_wishes
from planner.record.entries import PIN, RANGE, RULE, Answer, ElementWish, Way

RICHNESS = {"keep": "kept as it is", "more": "richer", "less": "plainer"}
"""What an answer asks of a room, in words."""


def ways_to_take(said: Answer) -> tuple[Way, ...]:
    """The ways in which an answer can be taken: tiers as a pin or a range, single wishes as trim rules.

    >>> ways_to_take(Answer(who="Ada", alternative="formal", room="Library", answer="more"))
    ('pin', 'range')
    """
    return (*((PIN, RANGE) if said.answer else ()), *((RULE,) if said.wishes else ()))


def possible_wishes(planned: Plan, room: str) -> tuple[ElementWish, ...]:
    """The single wishes for a room that would change it and can be had: without an element on its walls, or with one
    that its next richer tier has. What stays in the room stays.

    Raises
    ------
    KeyError : the plan has no such room.
    """
    found, kept = planned.by_name[room], {row.element for row in planned.house.stays.get(room, ())}
    richer = planned.ladders[room][found.tier : found.tier + 1]
    without = (ElementWish(each.element, False) for each in found.package.elements)
    wanted = (e.element for package in richer for e in package.elements if found.package.element(e.element) is None)
    wishes = (*without, *(ElementWish(element, True) for element in wanted)) if WHOLE_ROOM not in kept else ()
    return tuple(w for w in wishes if w.element not in kept and planned.library.element(w.element).place != "opening")


def take_answer(intent: Intent, planned: Plan, said: Answer, way: Way) -> Intent:
    """The alternative with a client's answer taken in.

    Parameters
    ----------
    intent : the alternative.
    planned : its plan, by which richer and plainer go.
    said : the answer.
    way : "pin" holds the room at the nearest tier that the answer asks for and that can be had, "range" leaves it all
        of them, "rule" makes a trim rule for the room of each single wish. What is wanted has the form that it has in
        the room, else that of the nearest tier that has it, else the first that there is.

    Raises
    ------
    ValueError : in words: there is no such room, the answer says nothing of the kind, or it cannot be had.

    Examples
    --------
    >>> from planner import Answer, demo_house, edits, plan, read_house
    >>> planned = plan(read_house(demo_house())[0])
    >>> said = Answer(who="Ada", alternative="", room="Library", answer="more")
    >>> planned.by_name["Library"].tier, take_answer(planned.intent, planned, said, "range").rooms["Library"].lowest
    (3, 4)
    """
    room = planned.by_name.get(said.room)
    if room is None:
        raise ValueError(f"there is no room {said.room} in the plan")
    if way not in ways_to_take(said):
        raise ValueError(f"what was said of {said.room} cannot be taken as a {way}")
    if way == RULE:
        return with_wishes(intent, planned, room, said.wishes)
    return _with_tiers(intent, planned, room, said, way)


def _with_tiers(intent: Intent, planned: Plan, room: RoomPlan, said: Answer, way: Way) -> Intent:
    name, (lowest, highest) = room.room.name, tiers_left(room, said.answer)
    had = {other.tier for other in planned.what_if(name) if other.moves is not None} | {room.tier}
    near = [tier for tier in sorted(had, key=lambda t: abs(t - room.tier)) if lowest <= tier <= highest]
    if said.answer not in choices(room) or not near:
        raise ValueError(f"{name} cannot be {RICHNESS[said.answer]} beside what else is asked for")
    return edits.pin(intent, name, near[0]) if way == PIN else edits.set_range(intent, name, lowest, highest)
