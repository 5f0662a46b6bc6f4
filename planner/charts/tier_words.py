"""What a picture of the tiers says in words: its title, and a description for those who do not see it."""

from collections import Counter
from collections.abc import Mapping, Sequence

from planner.charts.names import short
from planner.charts.rooms import RoomRow, moved_rooms, tier_words
from planner.units import counted

MOST_DESCRIBED = 60
"""Rooms that a description names; of a larger house it counts them."""


def finding(rooms: Sequence[RoomRow], moved: Mapping[str, int] | None, level: str | None) -> str:
    """The rooms' tiers in a sentence: what has moved, else how many rooms are in the highest tier and in the lowest.

    Parameters
    ----------
    rooms : at least one.
    moved : the tiers that rooms had before the last change.
    level : the level that all of them are on, where others are left out.
    """
    where = f"{short(level)}: " if level else ""
    changed = moved_rooms(rooms, moved)
    return where + (_moves(rooms, changed) if changed else _spread(rooms))


def _moves(rooms: Sequence[RoomRow], before: Mapping[str, int]) -> str:
    those = [r for r in rooms if r["room"] in before]
    up = sum(r["tier"] > before[r["room"]] for r in those)
    if len(those) == 1:
        name, tier = those[0]["room"], those[0]["tier"]
        return f"{short(name)} moved {'up' if up else 'down'} from {before[name]} to {tier}"
    if up in (0, len(those)):
        return f"{len(those)} rooms moved {'up' if up else 'down'}"
    return f"{len(those)} rooms moved: {up} up, {len(those) - up} down"


def _spread(rooms: Sequence[RoomRow]) -> str:
    names, count = {r["tier"]: r["tier_name"] for r in rooms}, Counter(r["tier"] for r in rooms)
    high, low = max(count), min(count)
    if len(rooms) == 1:
        return f"The one room is {names[high]}"
    if high == low:
        return f"All {len(rooms):,} rooms are {names[high]}"
    are = "is" if count[high] == 1 else "are"
    return f"{count[high]:,} of {len(rooms):,} rooms {are} {names[high]}, {count[low]:,} {names[low]}"


def description(rooms: Sequence[RoomRow], moved: Mapping[str, int] | None) -> str:
    """The rooms of each tier from the highest down, by name or, where they are many, by number; then what has moved."""
    names = {r["tier"]: r["tier_name"] for r in rooms}
    parts = []
    for tier in sorted(names, reverse=True):
        those = [short(r["room"]) for r in rooms if r["tier"] == tier]
        told = ", ".join(those) if len(rooms) <= MOST_DESCRIBED else counted(len(those), "room")
        parts.append(f"{tier} {names[tier]}: {told}")
    before = moved_rooms(rooms, moved)
    parts += [f"{short(r['room'])} is {tier_words(r, before[r['room']])}" for r in rooms if r["room"] in before]
    return ". ".join(parts)
