"""The packages of all tiers under every ceiling of a house, and how high a tier each room carries."""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache

from planner.checks.plan import fits
from planner.house.model import House, Room
from planner.intent.model import Intent
from planner.library import Library
from planner.stock.choice import Choice, choose
from planner.stock.stock import Stock
from planner.trim.packages import Package, ladder
from planner.trim.styles import least_ceiling, top_tier
from planner.units import format_length
from planner.values import immutabledict

MM_IN_INCH = 25.4

Ladders = Mapping[float, tuple[Package, ...]]
"""For each ceiling height [in] the packages of all tiers, from the bottom."""

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


def package_ladders(
    house: House, intent: Intent, asked: Asked, stock: Stock | None, library: Library
) -> tuple[Ladders, Choice | None]:
    """Every tier's package under every ceiling of the house: the targets, or what stock builds of them.

    The choice from stock is made for all at once up to the highest tier in use; tiers above it stay targets.
    """
    targets = {
        ceiling: ladder(
            asked.style,
            asked.order,
            ceiling,
            library,
            top=asked.top,
            tiers=asked.tiers,
            under=words,
            canon=asked.canon,
        )
        for ceiling, words in ceiling_words(room.ceiling for room in house.rooms).items()
    }
    if stock is None:
        return immutabledict(targets), None
    used = max([asked.top, *(wish.tier for wish in intent.rooms.values() if wish.tier is not None)])
    choice = choose(tuple(target for rungs in targets.values() for target in rungs[:used]), stock, library)
    built = iter(choice.packages)
    return immutabledict(
        {ceiling: (*(next(built) for _ in rungs[:used]), *rungs[used:]) for ceiling, rungs in targets.items()}
    ), choice


def ceiling_words(ceilings: Iterable[float]) -> dict[float, str]:
    """How each ceiling height of a house [in] is written, so that no two read alike.

    >>> list(ceiling_words([108, 2438 / 25.4, 2439 / 25.4]).values())
    ['8\\'-0" (2438 mm)', '8\\'-0" (2439 mm)', '9\\'-0"']
    """
    words = {ceiling: format_length(ceiling) for ceiling in sorted(set(ceilings))}
    said = Counter(words.values())
    return {
        ceiling: text if said[text] == 1 else f"{text} ({ceiling * MM_IN_INCH:.10g} mm)"
        for ceiling, text in words.items()
    }


@lru_cache(maxsize=64)
def carried(house: House, ladders: Ladders, style: str, library: Library) -> Carried:
    """The highest tier that each room carries, and why no higher one: its ceiling, or what stands on its walls.

    It is kept: no weight, pin or limit changes it.
    """
    by_ceiling = {
        ceiling: _carried_by_ceiling(ceiling, style, len(rungs), library) for ceiling, rungs in ladders.items()
    }
    return immutabledict(
        {
            room.name: _carried_by_walls(house, room, ladders[room.ceiling], *by_ceiling[room.ceiling], library)
            for room in house.rooms
        }
    )


def _carried_by_ceiling(ceiling: float, style: str, tiers: int, library: Library) -> tuple[int, str]:
    needs = [least_ceiling(style, tier, tiers, library) for tier in range(1, tiers + 1)]
    highest = max((tier for tier, need in enumerate(needs, 1) if need <= ceiling), default=1)
    if highest == tiers:
        return tiers, ""
    need, has = format_length(needs[highest]), format_length(ceiling)
    return highest, f"tier {highest + 1} needs a ceiling of {need}, and this one is {has}"


def _carried_by_walls(
    house: House, room: Room, rungs: tuple[Package, ...], highest: int, why: str, library: Library
) -> tuple[int, str]:
    for package in rungs[1:highest]:
        if errors := fits(house, room, package, library):
            return package.tier - 1, f"tier {package.tier} does not fit: {errors[0].message.rstrip('.')}"
    return highest, why


def tier_costs(room: Room, ladders: Ladders) -> tuple[float, ...]:
    """Cost of each tier, to the hundredth: until there is a takeoff, trim share x length of the walls [ft]."""
    feet = room.perimeter / 12
    return tuple(round(package.trim_share * feet, 2) for package in ladders[room.ceiling])
