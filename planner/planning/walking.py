"""A walk through the whole house, as it is shown to somebody who has never been there."""

from planner.planning.answer import Plan


def walk(plan: Plan) -> tuple[str, ...]:
    """Every room once, in the order of a walk from the front door.

    On from each room come those that are reached through it by the shortest walk from the entry, the most important
    first, and after each of these what is reached through it. Rooms that nothing leads to come last, as the house has
    them.

    >>> from planner import demo_house, plan, read_house
    >>> walk(plan(read_house(demo_house())[0]))[:3]
    ('Entry Hall', 'Drawing Room', 'Library')
    """
    beyond: dict[str | None, list[str]] = {}
    for room in sorted(plan.rooms, key=lambda room: -room.importance):
        beyond.setdefault(plan.before.get(room.room.name), []).append(room.room.name)
    entry = plan.house.entries[0]
    found, ahead = dict[str, None](), [*reversed(beyond.get(None, [])), entry]
    while ahead:
        here = ahead.pop()
        if here not in found:
            found[here] = None
            ahead += reversed(beyond.get(here, []))
    return tuple(found | dict.fromkeys(room.room.name for room in plan.rooms))
