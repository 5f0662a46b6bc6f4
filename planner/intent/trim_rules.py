"""The designer's trim rules: what becomes of one element, and where.

A style says what every tier has. A rule turns one element up, down, on or off, from a whole ladder to a single door.
Lengths are inches.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, fields, replace
from typing import Literal

from planner.library import Library
from planner.library.model import NO_FORM
from planner.units import Unit, format_length, listed


@dataclass(frozen=True)
class Scope:
    """Where a rule holds: everywhere, or where all that is named agrees.

    `tiers` are the lowest and the highest, both included; of `levels`, `uses`, `rooms` and `openings` any one.
    """

    tiers: tuple[int, int] | None = None
    levels: tuple[str, ...] = ()
    uses: tuple[str, ...] = ()
    rooms: tuple[str, ...] = ()
    openings: tuple[str, ...] = ()

    @property
    def narrowness(self) -> int:
        """The narrower the scope the greater: an opening before a room, a use, a level, a tier, and the whole house.

        What names more kinds of places is narrower than what names the same with fewer.

        >>> Scope(rooms=("Library",)).narrowness > Scope(uses=("study",), tiers=(2, 3)).narrowness
        True
        """
        found = 0
        for kind in reversed(KINDS):
            found = 2 * found + bool(getattr(self, kind))
        return found


KINDS = tuple(field.name for field in fields(Scope))
"""What a rule's place may be named by, the widest first."""


@dataclass(frozen=True)
class Change:
    """What becomes of an element; what is blank or None stays as the style has it.

    Parameters
    ----------
    form : how it is composed; "none" where it is left out.
    size : height on the wall, or width round an opening. [in]
    height : of its upper edge above the floor. [in]
    projection : from the wall. [in]
    profile : code of the stock profile that it is, in one piece.
    """

    form: str = ""
    size: float | None = None
    height: float | None = None
    projection: float | None = None
    profile: str = ""

    def upon(self, wider: "Change") -> "Change":
        """Both changes, this one where they disagree. What is left out has nothing else said of it."""
        if self.form == NO_FORM:
            return self
        if wider.form == NO_FORM and not self.form:
            return wider
        if wider.form == NO_FORM:
            return self
        said = {name: getattr(self, name) or getattr(wider, name) for name in ASPECTS}
        if self.profile or (self.size is not None and wider.profile):  # a profile and its sizes go together
            said |= {name: getattr(self, name) for name in ("size", "projection", "profile")}
        return Change(**said)

    def words(self, unit: Unit) -> str:
        """How an element differs, in a house of that unit, e.g. 'flat panels, 2\\'-8" up'."""
        if self.profile:
            return ", ".join(filter(None, [self.form, self.profile]))
        said = [self.form] if self.form else []
        said += [format_length(self.size, unit)] if self.size is not None else []
        said += [f"{format_length(self.height, unit)} up"] if self.height is not None else []
        said += [f"{format_length(self.projection, unit)} deep"] if self.projection is not None else []
        return ", ".join(said)


LENGTHS = ("size", "height", "projection")
"""Which of them are lengths."""

LEAST = 1 / 16
"""The least length that a rule may say [in]."""

SET_BY_PLACE = ("wainscot", "wall panels")
"""Elements that fill what is between others: they have a height or none, and no size of their own."""

RAISED = ("dado", "plate", "frieze")
"""Places of elements whose upper edge can be said."""

Aspect = Literal["form", "size", "height", "projection", "profile"]
ASPECTS: tuple[Aspect, ...] = ("form", "size", "height", "projection", "profile")
"""What a change may say."""


@dataclass(frozen=True)
class TrimRule:
    """One rule: an element, where, and what becomes of it. A `usual` one is the trade's own and not the designer's.

    >>> ears_off = TrimRule("crossette", Scope(levels=("Upper",)), Change("none"))
    >>> ears_off.words("in")
    'crossette on Upper: none'
    """

    element: str
    scope: Scope
    change: Change
    usual: bool = False

    @property
    def narrowness(self) -> int:
        """That of its scope; a usual rule is no narrower for the tiers that it names."""
        return (replace(self.scope, tiers=None) if self.usual else self.scope).narrowness

    def words(self, unit: Unit) -> str:
        """The rule in words, in a house of that unit.

        >>> TrimRule("chair rail", Scope(tiers=(2, 5)), Change("moulded rail", size=3)).words("mm")
        'chair rail in tiers 2 to 5: moulded rail, 76 mm'
        """
        return f"{self.element} {where(self.scope)}: {self.change.words(unit)}"


def unfit(rule: TrimRule, library: Library, unit: Unit) -> Iterator[tuple[str, str, str]]:
    """What a rule in a house of that unit cannot say of its element: which part of it, why, and what would be right."""
    element, change = rule.element, rule.change
    place = library.element(element).place
    for key in LENGTHS:
        length = getattr(change, key)
        if length is not None and length < LEAST:
            yield key, f"{format_length(length, unit)} is no {key}", f"write {format_length(LEAST, unit)} or more"
    if change.form == NO_FORM and change != Change(NO_FORM):
        yield "form", "what is left out has no size, height, projection or profile", "write the form alone"
    if rule.scope.openings and place != "opening":
        yield "openings", f"the {element} goes round no opening", "name rooms instead, or leave it out"
    if change.size is not None and element in SET_BY_PLACE:
        remedy = "write a height, that of its upper edge" if place == "dado" else "leave the size out"
        yield "size", f"the {element} fills what is between others", remedy
    if change.height is not None and place not in RAISED:
        yield "height", f"the {element} has no place of its own to be raised to", "leave the height out"


def on_tiers(rule: TrimRule, move: Callable[[int], int]) -> TrimRule:
    """The rule with each tier that it names moved."""
    if rule.scope.tiers is None:
        return rule
    low, high = map(move, rule.scope.tiers)
    return replace(rule, scope=replace(rule.scope, tiers=(low, high)))


def where(scope: Scope) -> str:
    """A scope in words.

    >>> where(Scope()), where(Scope(tiers=(3, 3), levels=("Upper",)))
    ('everywhere', 'in tier 3, on Upper')
    """
    said = []
    if scope.tiers:
        low, high = scope.tiers
        said.append(f"in tier {low}" if low == high else f"in tiers {low} to {high}")
    for names, word in ((scope.levels, "on"), (scope.uses, "in every"), (scope.rooms, "in"), (scope.openings, "at")):
        if names:
            said.append(f"{word} {listed(names)}")
    return ", ".join(said) or "everywhere"
