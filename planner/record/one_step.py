"""A room one step richer or plainer, or with a single wish, everything else as the plan was asked for: its plan, or why
it cannot be had.

A step is what a client asks for who would have a little more or a little less: any tier beyond the room's own that the
range in force leaves it. Nothing here speaks of tiers, for clients know none.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Literal

from planner.hierarchy.reasons import shortest_chain, with_pin
from planner.hierarchy.rules import Range
from planner.intent.model import Wish
from planner.planning.answer import Plan, RoomPlan
from planner.planning.pipeline import plan
from planner.record.answers import can_be_had, choices, tiers_left, with_wishes
from planner.record.entries import LESS, MORE, ElementWish
from planner.trim.styles import least_ceiling
from planner.units import format_length
from planner.values import immutabledict

Toward = Literal["plainer", "richer"]
"""The ways to go from what is planned."""

ASKED_BY: Mapping[Toward, str] = {"plainer": LESS, "richer": MORE}
"""The answer that asks for a step."""


@dataclass(frozen=True)
class OneStep:
    """A room one step away from what is planned.

    `planned` is the plan with it, None where it cannot be had; then `why` says so in a sentence. `moves` are the tiers
    of the other rooms that change with it, before and after, and `cost` what it adds by the cost index.
    """

    room: str
    toward: Toward
    planned: Plan | None
    why: str = ""
    moves: Mapping[str, tuple[int, int]] = immutabledict()
    cost: float = 0.0


def one_step(planned: Plan, room: str, toward: Toward) -> OneStep:
    """A room one step richer or plainer than it is planned; kept.

    Parameters
    ----------
    planned : a feasible plan.
    room : the room's name.
    toward : "richer" or "plainer".

    Raises
    ------
    KeyError : the plan has no such room.

    Examples
    --------
    >>> from planner import demo_house, plan, read_house
    >>> planned = plan(read_house(demo_house())[0])
    >>> one_step(planned, "Library", "plainer").why
    'A library is given no plainer trim than this.'
    """
    return _one_step(planned, room, toward)


@lru_cache(maxsize=64)
def _one_step(planned: Plan, room: str, toward: Toward) -> OneStep:
    here, answer = planned.by_name[room], ASKED_BY[toward]
    low, high = tiers_left(here, answer)
    if answer not in choices(here):
        held = planned.rules.highest(room) if toward == "richer" else planned.rules.lowest(room)
        return OneStep(room, toward, None, _held(planned, here, held, toward))
    if answer not in can_be_had(planned, here):
        return OneStep(room, toward, None, _refused(planned, room, low if toward == "richer" else high))
    asked = replace(planned.intent.rooms.get(room, Wish()), lowest=low, highest=high)
    intent = replace(planned.intent, rooms={**planned.intent.rooms, room: asked})
    after = plan(planned.house, intent, planned.stock, planned.library, integrated=planned.integrated)
    moves = {
        one.room.name: (one.tier, now.tier)
        for one, now in zip(planned.rooms, after.rooms, strict=True)
        if one.tier != now.tier and one.room.name != room
    }
    return OneStep(room, toward, after, moves=immutabledict(moves), cost=round(after.cost - planned.cost, 2))


BEYOND_BUDGET = "The budget does not reach for it."


@dataclass(frozen=True)
class OneWish:
    """A single wish in a room: `planned` is the plan with it, None where it cannot be had; then `why` says so in a
    sentence.
    """

    planned: Plan | None
    why: str = ""


@lru_cache(maxsize=256)
def one_wish(planned: Plan, room: str, wish: ElementWish) -> OneWish:
    """A plan with one single wish for a room, and nothing else that a client has said; kept.

    Raises
    ------
    KeyError : the plan has no such room.
    ValueError : there is nothing of the kind to be had in it.

    Examples
    --------
    >>> from planner import demo_house, plan, read_house
    >>> planned = plan(read_house(demo_house())[0])
    >>> with_it = one_wish(planned, "Library", ElementWish("crown", False)).planned
    >>> with_it.by_name["Library"].package.element("crown") is None
    True
    """
    intent = with_wishes(planned.intent, planned, planned.by_name[room], [wish])

    def within(budget: float | None) -> Plan:
        asked = replace(intent, budget=budget)
        return plan(planned.house, asked, planned.stock, planned.library, integrated=planned.integrated)

    after = within(intent.budget)
    if after.feasible:
        return OneWish(after)
    short = intent.budget is not None and within(None).feasible
    return OneWish(None, BEYOND_BUDGET if short else "It cannot be had beside what your designer holds.")


def _held(planned: Plan, here: RoomPlan, held: Range, toward: Toward) -> str:
    """Why the range in force leaves a room no step that way."""
    end = f"{toward.removesuffix('er')}est"
    match held.source:
        case "pin" | "range":
            return "Your designer holds this room as it is."
        case "stays":
            return "Its trim is there already and stays."
        case "use":
            article = "An" if here.room.use[:1].lower() in "aeiou" else "A"
            return f"{article} {here.room.use} is given no {toward} trim than this."
        case "grade":
            return f"It has the {end} trim that this house goes to."
        case "room":
            return _too_much(planned, here)
        case _:
            return f"It has the {end} trim there is."


def _too_much(planned: Plan, here: RoomPlan) -> str:
    """Why a room carries no richer trim."""
    need = least_ceiling(here.package.style, here.tier + 1, len(planned.tier_names), planned.library)
    if need > here.room.ceiling:
        asked, has = (format_length(height, planned.house.unit) for height in (need, here.room.ceiling))
        return f"Richer trim asks for a ceiling of {asked}, and this one is {has}."
    return "Richer trim does not fit beside what stands on its walls."


def _refused(planned: Plan, room: str, tier: int) -> str:
    """Why a room cannot have a tier that its own range leaves it."""
    if planned.intent.budget is not None and shortest_chain(with_pin(planned.rules, room, tier)) is None:
        return BEYOND_BUDGET
    return "It would be too far from the rooms beside it, and these cannot follow."
