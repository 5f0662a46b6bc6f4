"""The packages of all tiers under every ceiling of a house, and how high a tier each room carries."""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import accumulate

from planner.checks.plan import fits
from planner.house.model import Existing, House, Room
from planner.intent.model import Intent
from planner.intent.trim_rules import TrimRule
from planner.library import Library
from planner.planning.kept import matched_ladders, new_share, staying_tiers
from planner.stock.choice import Choice, choose
from planner.stock.stock import Stock
from planner.trim.existing import with_existing
from planner.trim.packages import Package, Variant, ladder
from planner.trim.schedule import Cell, bare_rules, in_force, openings_by_room, takes_in, variation
from planner.trim.styles import least_ceiling, top_tier
from planner.trim.variants import room_ladder
from planner.units import INCHES_IN, Unit, format_length, section_unit
from planner.values import immutabledict

Ladders = Mapping[str, tuple[Package, ...]]
"""For each room the packages of all tiers, from the bottom."""

Carried = Mapping[str, tuple[int, str]]
"""For each room the highest tier that it carries, and why no higher one."""


@dataclass(frozen=True)
class Asked:
    """What an intent asks of a whole house, the house's own where the intent leaves it: period, order, grade, the
    number of tiers and the highest that the grade allows, and the canon by which crowns are sized.
    """

    style: str
    order: str
    grade: str
    tiers: int
    top: int
    canon: str


def asked_of(house: House, intent: Intent, library: Library) -> Asked:
    """What an intent asks of a house. Raises ValueError for a grade that the library lacks."""
    grade = intent.grade or house.grade
    top = top_tier(grade, intent.tiers, library)
    style = intent.style or house.style
    order = intent.order or usual_order(house, style, library)
    return Asked(style, order, grade, intent.tiers, top, intent.canon or house.canon)


def usual_order(house: House, style: str, library: Library) -> str:
    """The order of a house in a style where no intent chooses one: the house's own in its own style, else the style's;
    the plainest, which nothing then asks for, where the style derives from none."""
    own = house.order if style == house.style else ""
    return own or library.style(style).order or library.order_names[0]


def asked_in(room: Room, intent: Intent, asked: Asked, library: Library) -> Asked:
    """What is asked in one room: in a wing, in the period of that. A wing that names the room goes before one of its
    level, and of two the later."""
    wings = [wing for wing in intent.wings if room.name in wing.rooms] or [
        wing for wing in intent.wings if room.level in wing.levels and not wing.rooms
    ]
    if not wings:
        return asked
    style = wings[-1].style
    usual = asked.order if style == asked.style else library.style(style).order
    return replace(asked, style=style, order=wings[-1].order or usual or asked.order)


def package_ladders(
    house: House, intent: Intent, asked: Asked, stock: Stock | None, library: Library
) -> tuple[Ladders, Mapping[str, int], Choice | None]:
    """Every tier's package in every room of the house, the targets or what stock builds of them; and the tiers of the
    rooms whose trim stays.

    The targets are matched to the trim that stays. The choice from stock is made for all at once up to the highest tier
    in use; tiers above it stay targets.
    """
    targets = target_ladders(house, intent, asked, stock, library)
    staying = staying_tiers(house, intent, targets)
    distinct = dict.fromkeys(targets.values())
    matched = matched_ladders(house, staying, {rungs: rungs for rungs in distinct}, stock, library)
    if stock is None:
        return immutabledict({room: matched[rungs] for room, rungs in targets.items()}), staying, None
    pinned = [wish.tier for wish in intent.rooms.values() if wish.tier is not None]
    used = max([asked.top, *pinned, *staying.values()])
    wanted = dict.fromkeys(target for rungs in matched.values() for target in rungs[:used])
    flat = tuple(dict.fromkeys(one for target in wanted for one in (target, *target.own.values())))
    choice = choose(flat, stock, library)
    built = dict(zip(flat, choice.packages, strict=True))
    whole = {
        target: replace(built[target], own=immutabledict({name: built[own] for name, own in target.own.items()}))
        for target in wanted
    }
    ladders = {key: (*map(whole.__getitem__, rungs[:used]), *rungs[used:]) for key, rungs in matched.items()}
    return immutabledict({room: ladders[rungs] for room, rungs in targets.items()}), staying, choice


def sized(rules: Iterable[TrimRule], stock: Stock | None) -> tuple[TrimRule, ...]:
    """The rules, those that name a profile of the stock with its height and projection [in]; no other can be had."""
    profiles = {profile.code: profile for profile in stock.profiles} if stock else {}

    def with_size(rule: TrimRule) -> TrimRule:
        profile = profiles.get(rule.change.profile)
        if profile is not None:
            change = replace(rule.change, size=profile.height, projection=profile.projection)
        else:
            change = replace(rule.change, profile="")
        return replace(rule, change=change)

    return tuple(with_size(rule) if rule.change.profile else rule for rule in rules)


def rules_of(intent: Intent, stock: Stock | None, library: Library) -> tuple[TrimRule, ...]:
    """All trim rules of a plan: those that hold before any of the designer's, then the designer's."""
    return (*bare_rules(library), *sized(intent.trim, stock))


def idle_rules(
    house: House, intent: Intent, asked: Asked, stock: Stock | None, tiers: Mapping[str, int], library: Library
) -> tuple[int, ...]:
    """The numbers, from 1, of the trim rules without which every room, on the tier that it has, would be the same."""
    rules, before = rules_of(intent, stock, library), len(bare_rules(library))
    openings = openings_by_room(house) if intent.trim else {}
    idle, seen = set(range(before, len(rules))), set()
    for room in house.rooms if intent.trim else ():
        concerning = tuple(at for at, rule in enumerate(rules) if takes_in(rule.scope, room, library))
        named = _named((rules[at] for at in concerning), openings[room.name])
        stays = house.stays.get(room.name, ())
        here = asked_in(room, intent, asked, library)
        kind = (room.ceiling, here, tiers[room.name], concerning, named, stays)
        if kind in seen:
            continue
        seen.add(kind)
        for dropped in idle.intersection(concerning):
            looks = (
                _on_tier(here, room, named, stays, tiers[room.name], [rules[at] for at in some], library)
                for some in (concerning, [at for at in concerning if at != dropped])
            )
            if next(looks) != next(looks):
                idle.remove(dropped)
    return tuple(at + 1 - before for at in sorted(idle))


def _on_tier(
    asked: Asked,
    room: Room,
    openings: Iterable[str],
    stays: tuple[Existing, ...],
    tier: int,
    rules: Sequence[TrimRule],
    library: Library,
) -> tuple[object, ...]:
    """The elements of a room on a tier under rules, with what stays there, and those at each of its openings."""
    changes = variation(in_force(rules, room, openings, tier, library))
    variants = tuple(Variant(changes if at == tier else ()) for at in range(1, asked.tiers + 1))
    rungs = ladder(asked.style, asked.order, room.ceiling, library, top=asked.top, tiers=asked.tiers, variants=variants)
    package = with_existing(rungs[tier - 1], stays, library)
    return package.elements, *((name, own.elements) for name, own in package.own.items())


def _named(rules: Iterable[TrimRule], openings: Iterable[str]) -> tuple[str, ...]:
    """The openings that any of the rules names."""
    named = {opening for rule in rules for opening in rule.scope.openings}
    return tuple(opening for opening in openings if opening in named)


def target_ladders(house: House, intent: Intent, asked: Asked, stock: Stock | None, library: Library) -> Ladders:
    """The target packages of all tiers in every room: lower ceilings first, what many rooms have before what few have.

    Of the stock only the profiles count that trim rules name.
    """
    rules = rules_of(intent, stock, library)
    words = ceiling_words((room.ceiling for room in house.rooms), house.unit)
    openings = openings_by_room(house) if any(rule.scope.openings for rule in rules) else {}
    concerning = {
        room: tuple(at for at, rule in enumerate(rules) if takes_in(rule.scope, room, library)) for room in house.rooms
    }
    made: dict[object, tuple[Package, ...]] = {}
    found = {}
    for room in sorted(house.rooms, key=lambda room: (room.ceiling, len(concerning[room]))):
        mine = tuple(rules[at] for at in concerning[room])
        named = _named(mine, openings.get(room.name, ()))
        here = asked_in(room, intent, asked, library)
        kind = (room.ceiling, here, concerning[room], named)
        if kind not in made:
            made[kind] = room_ladder(
                here.style,
                here.order,
                room,
                named,
                mine,
                library,
                top=asked.top,
                tiers=asked.tiers,
                under=words[room.ceiling],
                canon=asked.canon,
                unit=house.unit,
            )
        found[room.name] = kind
    told = _told_together(made)
    return immutabledict({name: told[kind] for name, kind in found.items()})


def _told_together(made: Mapping[object, tuple[Package, ...]]) -> dict[object, tuple[Package, ...]]:
    """The ladders, each package with the rules of all that are the same as it."""
    rules: dict[Package, dict[Cell, tuple[str, ...]]] = {}
    for rungs in made.values():
        for package in rungs:
            said = rules.setdefault(package, {})
            for cell, words in package.rules.items():
                said[cell] = tuple(dict.fromkeys((*said.get(cell, ()), *words)))
    return {
        kind: tuple(
            replace(package, rules=immutabledict(rules[package])) if package.rules else package for package in rungs
        )
        for kind, rungs in made.items()
    }


def ceiling_words(ceilings: Iterable[float], unit: Unit) -> dict[float, str]:
    """How each ceiling height of a house [in] is written, so that no two read alike.

    >>> list(ceiling_words([108, 96, 96.02], "in").values()), list(ceiling_words([96, 96.001], "mm").values())
    (['8\\'-0" (96 in)', '8\\'-0" (96.02 in)', '9\\'-0"'], ['2438 mm (2438.4 mm)', '2438 mm (2438.4254 mm)'])
    """
    words, exact = {ceiling: format_length(ceiling, unit) for ceiling in sorted(set(ceilings))}, section_unit(unit)
    said = Counter(words.values())
    return {
        ceiling: text if said[text] == 1 else f"{text} ({ceiling / INCHES_IN[exact]:.10g} {exact})"
        for ceiling, text in words.items()
    }


@lru_cache(maxsize=64)
def carried(house: House, ladders: Ladders, library: Library) -> Carried:
    """The highest tier that each room carries, and why no higher one: its ceiling, or what stands on its walls.

    It is kept: no weight, pin or limit changes it.
    """
    kinds = {room.name: (room.ceiling, ladders[room.name][0].style) for room in house.rooms}
    tiers = len(ladders[house.rooms[0].name])
    by_ceiling = {
        kind: _carried_by_ceiling(*kind, tiers, library, house.unit) for kind in dict.fromkeys(kinds.values())
    }
    return immutabledict(
        {
            room.name: _carried_by_walls(house, room, ladders[room.name], *by_ceiling[kinds[room.name]], library)
            for room in house.rooms
        }
    )


def _carried_by_ceiling(ceiling: float, style: str, tiers: int, library: Library, unit: Unit) -> tuple[int, str]:
    needs = [least_ceiling(style, tier, tiers, library) for tier in range(1, tiers + 1)]
    highest = max((tier for tier, need in enumerate(needs, 1) if need <= ceiling), default=1)
    if highest == tiers:
        return tiers, ""
    need, has = format_length(needs[highest], unit), format_length(ceiling, unit)
    return highest, f"tier {highest + 1} needs a ceiling of {need}, and this one is {has}"


def _carried_by_walls(
    house: House, room: Room, rungs: tuple[Package, ...], highest: int, why: str, library: Library
) -> tuple[int, str]:
    for package in rungs[1:highest]:
        if errors := fits(house, room, package, library):
            return package.tier - 1, f"tier {package.tier} does not fit: {errors[0].message.rstrip('.')}"
    return highest, why


def tier_costs(room: Room, ladders: Ladders, existing: tuple[Existing, ...], library: Library) -> tuple[float, ...]:
    """Cost of each tier, to the hundredth: until there is a takeoff, trim share x length of the walls [ft]; what stays
    costs nothing, and no tier less than one below it."""
    feet = room.perimeter / 12
    shares = accumulate((new_share(package, existing, library) for package in ladders[room.name]), max)
    return tuple(round(share * feet, 2) for share in shares)
