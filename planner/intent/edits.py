"""Editing an intent: every edit is a function from one Intent to the next; a History remembers the way back."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Any, Generic, TypeVar

from planner.files.toml_settings import LARGEST_NUMBER
from planner.intent.model import FEWEST_TIERS, INDEX, MONEY, MOST_TIERS, Intent, Wing, Wish
from planner.intent.soundness import sound
from planner.intent.trim_rules import LENGTHS, Aspect, Change, Scope, TrimRule, on_tiers, unfit
from planner.library import Library, standard
from planner.library.model import NO_FORM
from planner.units import Unit, listed, parse_length, section_unit

T = TypeVar("T")

REMEMBERED = 200
"""How many steps back a History keeps."""


@dataclass(frozen=True)
class History(Generic[T]):
    """A value with the values before it and those that were undone, nearest to the present at the end of each.

    >>> h = History.of("a").do("b").do("c").undo()
    >>> h.present, h.undo().present, h.redo().present
    ('b', 'a', 'c')
    >>> h.do("d").future
    ()
    """

    past: tuple[T, ...]
    present: T
    future: tuple[T, ...] = ()

    @classmethod
    def of(cls, present: T) -> "History[T]":
        """A history that begins now."""
        return cls((), present)

    def do(self, value: T) -> "History[T]":
        """Move on to `value`; what was undone is forgotten. A value equal to the present changes nothing."""
        if value == self.present:
            return self
        return History((*self.past, self.present)[-REMEMBERED:], value)

    def undo(self) -> "History[T]":
        """One step back, or the same history at its beginning."""
        if not self.past:
            return self
        return History(self.past[:-1], self.past[-1], (*self.future, self.present))

    def redo(self) -> "History[T]":
        """One step forward again, or the same history where nothing was undone."""
        if not self.future:
            return self
        return History((*self.past, self.present), self.future[-1], self.future[:-1])

    def map(self, change: Callable[[T], T]) -> "History[T]":
        """The same history with every value changed alike."""
        return History(tuple(map(change, self.past)), change(self.present), tuple(map(change, self.future)))


def pin(intent: Intent, room: str, tier: int | None) -> Intent:
    """Hold the room at a tier, or let go of it with None; its range is kept for then."""
    return _with_wish(intent, room, replace(_wish(intent, room), tier=_tier(intent, tier)))


def set_range(intent: Intent, room: str, lowest: int | None, highest: int | None) -> Intent:
    """Allow the room the tiers from lowest to highest; None leaves that end to the use and the grade."""
    lowest, highest = _tier(intent, lowest), _tier(intent, highest)
    if lowest is not None and highest is not None and lowest > highest:
        raise ValueError(f"{room}: the lowest tier, {lowest}, is above the highest, {highest}")
    return _with_wish(intent, room, replace(_wish(intent, room), lowest=lowest, highest=highest))


def offer(intent: Intent, elements: Iterable[str], library: Library | None = None) -> Intent:
    """Let clients wish for some elements of trim, or to do without them, in single rooms, and for no others."""
    asked = set(elements)
    if unknown := asked - set((library or standard()).element_kinds):
        raise ValueError(f"there is no element {listed(sorted(unknown))}")
    return replace(intent, offered=tuple(name for name in (library or standard()).element_kinds if name in asked))


def add_set(intent: Intent, rooms: Iterable[str]) -> Intent:
    """Make the rooms share a tier. Sets that have a room in common become one."""
    joined = dict.fromkeys(rooms)
    apart = []
    for group in intent.sets:
        if joined.keys() & set(group):
            joined = dict.fromkeys((*group, *joined))
        else:
            apart.append(group)
    return sound(replace(intent, sets=(*apart, tuple(joined))))


def leave_set(intent: Intent, room: str) -> Intent:
    """Take the room out of its set; a set of one is none."""
    left = (tuple(name for name in group if name != room) for group in intent.sets)
    return replace(intent, sets=tuple(group for group in left if len(group) > 1))


def set_weight(intent: Intent, factor: str, weight: float) -> Intent:
    """Weigh one of the FACTORS of importance; one of them weighs more than nothing."""
    return sound(replace(intent, importance={**intent.importance, factor: float(weight)}))


def set_limit(intent: Intent, kind: str, most: int | None) -> Intent:
    """Let tiers differ by at most `most` across passages of a kind; None returns to the default of the kind."""
    limits = {k: v for k, v in intent.limits.items() if k != kind}
    if most is None:
        return replace(intent, limits=limits)
    return sound(replace(intent, limits={**limits, kind: int(most)}))


def set_style(intent: Intent, style: str | None) -> Intent:
    """Choose the period; None leaves it to the house."""
    return replace(intent, style=style or None)


def set_room_style(intent: Intent, room: str, style: str | None) -> Intent:
    """Choose the period of one room; None leaves it to its wing, if it is in one, and to the house."""
    others = (replace(wing, rooms=tuple(name for name in wing.rooms if name != room)) for wing in intent.wings)
    kept = [wing for wing in others if wing.rooms or wing.levels]
    same = [wing for wing in kept if style and wing == Wing(style, rooms=wing.rooms)]
    wings = tuple(replace(w, rooms=(*w.rooms, room)) if w in same[-1:] else w for w in kept)
    return replace(intent, wings=wings if same or not style else (*wings, Wing(style, rooms=(room,))))


def style_of_room(intent: Intent, room: str) -> str | None:
    """The period chosen for one room by its name, None where none is."""
    return next((wing.style for wing in reversed(intent.wings) if room in wing.rooms), None)


def set_order(intent: Intent, order: str | None) -> Intent:
    """Choose the order; None leaves it to the house, or to the period where the intent has one of its own."""
    return replace(intent, order=order or None)


def set_canon(intent: Intent, canon: str | None) -> Intent:
    """Choose what crowns are sized by, the order or a canon for rooms; None leaves it to the house."""
    return replace(intent, canon=canon or None)


def set_grade(intent: Intent, grade: str | None, library: Library | None = None) -> Intent:
    """Choose the grade, which tops the ladder; None leaves it to the house."""
    if grade:
        (library or standard()).grade(grade)
    return replace(intent, grade=grade or None)


def set_tiers(intent: Intent, tiers: int, library: Library | None = None) -> Intent:
    """Choose how many tiers there are. Pins and ranges stay with their tier's name; see `kept_tier`."""
    if not FEWEST_TIERS <= tiers <= MOST_TIERS:
        raise ValueError(f"there are {FEWEST_TIERS} to {MOST_TIERS} tiers, not {tiers}")
    known = library or standard()

    def kept(tier: int | None) -> int | None:
        return None if tier is None else kept_tier(tier, intent.tiers, tiers, known)

    rooms = {r: Wish(kept(w.tier), kept(w.lowest), kept(w.highest)) for r, w in intent.rooms.items()}
    trim = tuple(on_tiers(rule, lambda tier: kept_tier(tier, intent.tiers, tiers, known)) for rule in intent.trim)
    return replace(intent, tiers=tiers, rooms=rooms, trim=trim)


def rule_of(intent: Intent, element: str, scope: Scope) -> Change:
    """What the rules of an element with just this scope say; nothing where there is none."""
    said = Change()
    for rule in intent.trim:
        if (rule.element, rule.scope) == (element, scope):
            said = rule.change.upon(said)
    return said


def set_rule(
    intent: Intent,
    element: str,
    scope: Scope,
    change: Change,
    library: Library | None = None,
    unit: Unit = "in",
) -> Intent:
    """Say what becomes of an element in a scope, instead of what was said there; a blank change says nothing more.

    `unit` is the house's, which a refusal says lengths in.
    """
    for tier in scope.tiers or ():
        _tier(intent, tier)
    for _, message, remedy in unfit(TrimRule(element, scope, change), library or standard(), unit):
        raise ValueError(f"{message}; {remedy}")
    same = [at for at, rule in enumerate(intent.trim) if (rule.element, rule.scope) == (element, scope)]
    place = same[-1] if same else len(intent.trim)
    before = (rule for at, rule in enumerate(intent.trim[:place]) if at not in same)
    said = (TrimRule(element, scope, change),) if change != Change() else ()
    return replace(intent, trim=(*before, *said, *intent.trim[place + 1 :]))


def set_form(intent: Intent, element: str, scope: Scope, form: str, library: Library | None = None) -> Intent:
    """Choose the form of an element in a scope, "none" to leave it out; blank as it is."""
    before = rule_of(intent, element, scope)
    change = Change(NO_FORM) if form == NO_FORM else replace(before, form=form)
    return set_rule(intent, element, scope, change, library)


def set_aspect(
    intent: Intent,
    element: str,
    scope: Scope,
    aspect: Aspect,
    written: str,
    library: Library | None = None,
    unit: Unit = "in",
) -> Intent:
    """Say a length or a profile of an element in a scope, as people write it; blank as it is.

    `unit` is the house's: a bare number is inches, or millimetres where it is metric.
    """
    before = rule_of(intent, element, scope)
    kept = Change() if before.form == NO_FORM else before
    value = (parse_length(written, section_unit(unit)) if written.strip() else None) if aspect in LENGTHS else written
    if aspect == "profile" and written:
        kept = replace(kept, size=None, projection=None)
    said: dict[str, Any] = {aspect: value}
    return set_rule(intent, element, scope, replace(kept, **said), library, unit)


def drop_rule(intent: Intent, number: int) -> Intent:
    """Drop a rule by its number, from 1."""
    if not 1 <= number <= len(intent.trim):
        raise ValueError(f"there are {len(intent.trim)} rules, and none is number {number}")
    return replace(intent, trim=(*intent.trim[: number - 1], *intent.trim[number:]))


def kept_tier(tier: int, before: int, after: int, library: Library) -> int:
    """A tier of a ladder of `before` tiers on one of `after`: that of its name, else the nearest, the lower of two.

    >>> [kept_tier(t, 5, 7, standard()) for t in (1, 2, 3, 4, 5)], kept_tier(5, 7, 5, standard())
    ([1, 2, 4, 6, 7], 4)
    """
    name, names = library.ladder.names[str(before)][tier - 1], library.ladder.names[str(after)]
    if name in names:
        return names.index(name) + 1
    height = (tier - 1) / (before - 1)
    return min(range(1, after + 1), key=lambda t: (round(abs((t - 1) / (after - 1) - height), 9), t))


def moved_wishes(before: Intent, after: Intent, library: Library | None = None) -> str:
    """What is to be told where the ladder has changed: rooms whose tier's name it lacks, and what they have now.

    "" where there are none.
    """
    ladders = (library or standard()).ladder.names
    old, new = ladders[str(before.tiers)], ladders[str(after.tiers)]
    told = []
    for room, wish in before.rooms.items() if before.tiers != after.tiers else ():
        now = after.rooms.get(room, Wish())
        ends = ((wish.tier, now.tier), (wish.lowest, now.lowest), (wish.highest, now.highest))
        pairs = dict.fromkeys((old[a - 1], new[b - 1]) for a, b in ends if a is not None and b is not None)
        told += [f"{room}: {a} is {b} now" for a, b in pairs if a not in new]
    return f"A ladder of {after.tiers} tiers has other names. {'; '.join(told)}." if told else ""


def set_budget(intent: Intent, budget: float | None) -> Intent:
    """Limit the cost, in what it is counted in; None lifts the limit."""
    if budget is not None and not 0 < budget <= LARGEST_NUMBER:
        raise ValueError(f"a budget must be more than zero and at most {LARGEST_NUMBER:g}, not {budget:g}")
    return replace(intent, budget=budget)


def set_cost_in(intent: Intent, cost_in: str | None) -> Intent:
    """Count costs in another of COST_IN; a budget, which was in the old one, is lifted."""
    same = (cost_in or INDEX) == (intent.cost_in or INDEX)
    return sound(replace(intent, cost_in=cost_in, budget=intent.budget if same else None))


def set_money_budget(intent: Intent, budget: float | None) -> Intent:
    """Limit the cost in the house's money; None lifts the limit."""
    return set_budget(set_cost_in(intent, MONEY), budget)


def read_budget(written: str) -> float | None:
    """A budget as people write one; blank is none.

    >>> read_budget(" 42,000 "), read_budget("")
    (42000.0, None)
    """
    plain = written.replace(",", "").replace(" ", "")
    try:
        return float(plain) if plain else None
    except ValueError:
        raise ValueError(f"{written!r} is no budget; write a number such as 42000, or leave it blank") from None


def loosenings(intent: Intent) -> Iterator[tuple[str, Intent]]:
    """Every single wish that could be dropped, in words, with the intent that is left."""
    for room, wish in intent.rooms.items():
        if wish.tier is not None:
            yield f"let go of the pin on {room}", pin(intent, room, None)
        if wish.lowest is not None:
            yield f"let {room} be lower than tier {wish.lowest}", set_range(intent, room, None, wish.highest)
        if wish.highest is not None:
            yield f"let {room} be higher than tier {wish.highest}", set_range(intent, room, wish.lowest, None)
    for group in intent.sets:
        others = tuple(each for each in intent.sets if each != group)
        yield f"let {', '.join(group)} have tiers of their own", replace(intent, sets=others)
    for kind, most in intent.limits.items():
        yield f"return to the usual limit across a {kind} instead of {most}", set_limit(intent, kind, None)
    if intent.budget is not None:
        yield f"lift the budget of {intent.budget:,.0f}", set_budget(intent, None)


def _wish(intent: Intent, room: str) -> Wish:
    return intent.rooms.get(room, Wish())


def _with_wish(intent: Intent, room: str, wish: Wish) -> Intent:
    """The intent with that wish; a wish for nothing is left out."""
    rooms = {name: old for name, old in intent.rooms.items() if name != room}
    return replace(intent, rooms=rooms if wish == Wish() else {**rooms, room: wish})


def _tier(intent: Intent, tier: int | None) -> int | None:
    if tier is not None and not 1 <= tier <= intent.tiers:
        raise ValueError(f"tiers run from 1 to {intent.tiers}, not {tier}")
    return tier
