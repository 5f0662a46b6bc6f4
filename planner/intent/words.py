"""What differs between two intents, in words."""

from collections.abc import Iterator

from planner.intent.model import Intent, Wish
from planner.units import Unit, listed

FREE = "as it comes"
"""What is wished of a room of which nothing is wished."""

PLAIN = ("style", "order", "grade", "tiers", "cost_in", "budget", "title")
"""What is said of a whole alternative in one word or number."""


def difference(before: Intent, after: Intent, unit: Unit) -> str:
    """What changes from one intent to the next, in words, in a house of that unit; blank where nothing does.

    >>> difference(Intent(), Intent(rooms={"Library": Wish(tier=4)}, tiers=6), "in")
    'tiers 6 instead of 5; Library tier 4'
    """
    return "; ".join(_differences(before, after, unit))


def _differences(before: Intent, after: Intent, unit: Unit) -> Iterator[str]:
    for name in PLAIN:
        old, new = getattr(before, name), getattr(after, name)
        if old != new:
            yield f"{name.replace('_', ' ')} {_said(new)} instead of {_said(old)}"
    for kind, words in (("importance", "weight of {}"), ("limits", "limit across a {}")):
        old, new = getattr(before, kind), getattr(after, kind)
        for name in dict.fromkeys((*old, *new)):
            if old.get(name) != new.get(name):
                yield f"{words.format(name)} {_said(new.get(name))} instead of {_said(old.get(name))}"
    for room in dict.fromkeys((*before.rooms, *after.rooms)):
        if before.rooms.get(room) != after.rooms.get(room):
            yield f"{room} {wished(after.rooms.get(room, Wish()))}"
    for group in dict.fromkeys((*before.sets, *after.sets)):
        if (group in before.sets) != (group in after.sets):
            yield f"{', '.join(group)} {'share a tier' if group in after.sets else 'no longer share a tier'}"
    for wing in after.wings:
        if wing not in before.wings:
            yield f"{', '.join((*wing.rooms, *wing.levels))} {wing.style}"
    if after.wings != before.wings and not set(after.wings) - set(before.wings):
        yield "fewer rooms in a period of their own"
    if before.offered != after.offered:
        yield f"clients may speak of {listed(after.offered) or 'no single element'}"
    yield from (rule.words(unit) for rule in after.trim if rule not in before.trim)
    told = {(rule.element, rule.scope) for rule in after.trim}
    yield from (f"no longer {rule.words(unit)}" for rule in before.trim if (rule.element, rule.scope) not in told)


def wished(wish: Wish) -> str:
    """A wish in words.

    >>> wished(Wish(lowest=2, highest=3)), wished(Wish())
    ('from tier 2, to tier 3', 'as it comes')
    """
    said = [f"tier {wish.tier}"] if wish.tier is not None else []
    said += [f"from tier {wish.lowest}"] if wish.lowest is not None else []
    said += [f"to tier {wish.highest}"] if wish.highest is not None else []
    return ", ".join(said) or FREE


def _said(value: object) -> str:
    return "as usual" if value is None else f"{value:g}" if isinstance(value, float) else str(value)
