"""Which rooms the last change has moved to another tier."""

from collections.abc import Mapping
from dataclasses import replace

from planner.planning.answer import Plan

MOST_NAMED = 4
"""Rooms that are named in a line; the plan marks all."""


class Moves:
    """Remembers the plan before the one that is shown, until the next change of what is planned."""

    def __init__(self) -> None:
        self._shown: Plan | None = None
        self._before: Mapping[str, int] = {}
        self._stuck = False  # no plan could keep the wishes that came last

    @property
    def highest(self) -> int | None:
        """The highest tier that a room has in the plan that is shown; None before there is one."""
        return max(tiers(self._shown).values()) if self._shown is not None else None

    def since(self, planned: Plan) -> dict[str, int]:
        """The tier that each room had before the change that led to this plan, for those that it moved.

        A new title is no change; where there is no plan, what was shown before stays what the next is compared with,
        be the next the same again.
        """
        if planned.feasible:
            if self._shown is not None and (self._stuck or not _alike(self._shown, planned)):
                self._before = tiers(self._shown)
            self._shown = planned
        self._stuck = not planned.feasible
        now = tiers(planned)
        return {room: tier for room, tier in self._before.items() if now.get(room, tier) != tier}


def tiers(planned: Plan) -> dict[str, int]:
    """The tier of each room."""
    return {room.room.name: room.tier for room in planned.rooms}


def told(planned: Plan, moved: Mapping[str, int]) -> str:
    """Which rooms have moved, in a line; "" where none has."""
    if not moved:
        return ""
    now = tiers(planned)
    named = [f"{room} {tier} → {now[room]}" for room, tier in list(moved.items())[:MOST_NAMED]]
    more = f" and {len(moved) - len(named)} more" if len(moved) > len(named) else ""
    return f"Moved: {', '.join(named)}{more}."


def _alike(one: Plan, other: Plan) -> bool:
    """Whether two plans are of the same house and wishes, whatever these are called."""
    wishes = [replace(plan.intent, name="", title="") for plan in (one, other)]
    return one.house == other.house and one.stock == other.stock and wishes[0] == wishes[1]
