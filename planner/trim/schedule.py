"""From a designer's trim rules to what each of them makes of the elements of a room and of its openings."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from planner.house.model import House, Room
from planner.intent.trim_rules import ASPECTS, Change, Scope, TrimRule
from planner.library import Library
from planner.library.model import NO_FORM
from planner.values import immutabledict


@dataclass(frozen=True, order=True)
class Cell:
    """What a rule changes: an element, at an opening of its own or, where that is blank, in the whole room."""

    opening: str
    element: str

    @property
    def words(self) -> str:
        """The cell in words."""
        return f"{self.element} at {self.opening}" if self.opening else self.element


Numbered = tuple[int, TrimRule]
"""A rule with its number, from 1 in the order in which the rules are written."""

Variation = tuple[tuple[Cell, Change], ...]
"""What departs from the style in a room of a tier, in the order of the cells."""


@dataclass(frozen=True)
class Force:
    """What is in force in a cell: the change that all rules together make, and which rule says each aspect of it."""

    change: Change
    by: Mapping[str, int]

    @property
    def rules(self) -> tuple[int, ...]:
        """The numbers of the rules, from 1 in the order in which they are written."""
        return tuple(sorted(set(self.by.values())))


@lru_cache(maxsize=32)
def bare_rules(library: Library) -> tuple[TrimRule, ...]:
    """What holds before any rule of the designer's: on the lowest tier rooms that nobody trims have only what their
    openings need, a rule for each element that stands on the wall or on the floor."""
    uses = tuple(use.name for use in library.uses if use.bare)
    scope = Scope(tiers=(1, 1), uses=uses)
    standing = (kind.name for kind in library.elements if kind.place != "opening")
    return tuple(TrimRule(name, scope, Change(NO_FORM), usual=True) for name in standing) if uses else ()


def takes_in(scope: Scope, room: Room, library: Library) -> bool:
    """Whether a scope takes in a room on some tier; which of the room's openings it takes in is another matter."""
    return (
        (not scope.levels or room.level in scope.levels)
        and (not scope.uses or library.use(room.use).name in scope.uses)
        and (not scope.rooms or room.name in scope.rooms)
    )


def in_force(
    rules: Sequence[TrimRule], room: Room, openings: Iterable[str], tier: int, library: Library
) -> immutabledict[Cell, Force]:
    """What the rules make of the elements of a room.

    Parameters
    ----------
    rules : in the order in which they are written.
    room : the room.
    openings : names of the openings in its walls.
    tier : the room's.
    library : which reads the uses of rooms.

    Notes
    -----
    The widest rule is applied first; of two as narrow, the one that stands first. Each says only what it names: a
    narrower rule of the size leaves a wider one's form in force. An opening's own cell begins with what holds in the
    whole room, and is there only where a rule names the opening.
    """
    mine = [numbered for numbered in ranked(rules) if takes_in(numbered[1].scope, room, library)]
    return forces(mine, openings, tier)


def ranked(rules: Iterable[TrimRule]) -> list[Numbered]:
    """Rules with their numbers, the widest first, and of two as narrow the one that stands first."""
    return sorted(enumerate(rules, 1), key=lambda numbered: numbered[1].narrowness)


def forces(rules: Iterable[Numbered], openings: Iterable[str], tier: int) -> immutabledict[Cell, Force]:
    """What ranked rules, all of which take in a room, make of its elements on a tier and at its openings."""
    wide, own = dict[str, list[Numbered]](), dict[Cell, list[Numbered]]()
    openings = tuple(openings)
    for number, rule in rules:
        if not _on_tier(rule.scope, tier):
            continue
        if not rule.scope.openings:
            wide.setdefault(rule.element, []).append((number, rule))
        for opening in rule.scope.openings:
            if opening in openings:
                own.setdefault(Cell(opening, rule.element), []).append((number, rule))
    said = {Cell("", element): numbered for element, numbered in wide.items()}
    said |= {cell: wide.get(cell.element, []) + numbered for cell, numbered in own.items()}
    return immutabledict({cell: _force(said[cell]) for cell in sorted(said)})


def _on_tier(scope: Scope, tier: int) -> bool:
    return scope.tiers is None or scope.tiers[0] <= tier <= scope.tiers[1]


def variation(force: Mapping[Cell, Force]) -> Variation:
    """The changes alone, whoever asked for them."""
    return tuple((cell, each.change) for cell, each in force.items())


def of_room(changes: Variation) -> dict[str, Change]:
    """What changes in the whole room, by element."""
    return {cell.element: change for cell, change in changes if not cell.opening}


def at_opening(changes: Variation, opening: str) -> dict[str, Change]:
    """What holds at an opening, by element: its own, and what holds in the whole room."""
    return of_room(changes) | {cell.element: change for cell, change in changes if cell.opening == opening}


def own_openings(changes: Variation) -> tuple[str, ...]:
    """The openings that have anything of their own."""
    return tuple(dict.fromkeys(cell.opening for cell, _ in changes if cell.opening))


def openings_by_room(house: House) -> dict[str, tuple[str, ...]]:
    """Names of the openings in the walls of each room, on either face."""
    found: dict[str, tuple[str, ...]] = {room.name: () for room in house.rooms}
    for opening in house.openings:
        for room in dict.fromkeys((opening.room, opening.other)):
            if room in found:
                found[room] += (opening.name,)
    return found


def _force(rules: Iterable[Numbered]) -> Force:
    """What rules of one element make of it, the widest first."""
    change, by = Change(), dict[str, int]()
    for number, rule in rules:
        before, change = change, rule.change.upon(change)
        by = {aspect: by[aspect] for aspect in by if getattr(change, aspect) == getattr(before, aspect)}
        by |= {a: number for a in ASPECTS if getattr(rule.change, a) and getattr(change, a) == getattr(rule.change, a)}
    return Force(change, immutabledict(by))
