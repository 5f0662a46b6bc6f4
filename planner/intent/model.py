"""An intent: one alternative that a designer, a client or a team wants to try on a house."""

from collections.abc import Mapping
from dataclasses import dataclass

from planner.intent.trim_rules import TrimRule
from planner.values import Kept, immutabledict

FACTORS = ("use", "display", "arrival", "passage", "presence")
"""The factors of a room's importance, in the order in which they are shown."""

DEFAULT_WEIGHTS: Mapping[str, float] = immutabledict(
    {"use": 0.35, "display": 0.40, "arrival": 0.10, "passage": 0.10, "presence": 0.05}
)

INDEX, MONEY = COST_IN = ("index", "money")
"""What the costs of tiers may be counted in; the first where nothing is said."""

DEFAULT_TIERS = 5
FEWEST_TIERS, MOST_TIERS = 3, 7


@dataclass(frozen=True)
class Wish:
    """What an intent asks of one room: a pinned tier, or the lowest and highest tier allowed."""

    tier: int | None = None
    lowest: int | None = None
    highest: int | None = None


@dataclass(frozen=True)
class Wing:
    """A part of the house in a period of its own: some rooms, or whole levels; the order is the period's where None."""

    style: str
    order: str | None = None
    levels: tuple[str, ...] = ()
    rooms: tuple[str, ...] = ()


@dataclass(frozen=True)
class Intent(Kept):
    """One alternative. Whatever is None or empty is left to the house or to the defaults.

    `importance` weighs the FACTORS (any non-negative numbers, normalised when used); `limits` the most that
    tiers may differ across a passage, by kind; `cost_in` is one of COST_IN, what the costs of tiers are counted in and
    `budget` with them: the cost index, or the house's money; `sets` are rooms that share a tier; `trim` are the
    designer's trim rules, in the order in which they are written; `wings` parts of the house in another period;
    `offered` the elements of trim that clients may wish to have or to do without in single rooms, which changes no
    plan.

    No plan is made from fewer than FEWEST_TIERS or more than MOST_TIERS, a factor that there is not, weights or limits
    below zero, weights that are all zero, a set of fewer than two rooms, a budget that is no number, costs in something
    else, or a length of a trim rule below 1/16 in. A wish for a room that the house has not counts for nothing.
    """

    name: str = ""
    title: str = ""
    author: str = ""
    style: str | None = None
    order: str | None = None
    canon: str | None = None
    grade: str | None = None
    tiers: int = DEFAULT_TIERS
    budget: float | None = None
    cost_in: str | None = None
    importance: Mapping[str, float] = DEFAULT_WEIGHTS
    limits: Mapping[str, int] = immutabledict()
    rooms: Mapping[str, Wish] = immutabledict()
    sets: tuple[tuple[str, ...], ...] = ()
    trim: tuple[TrimRule, ...] = ()
    wings: tuple[Wing, ...] = ()
    offered: tuple[str, ...] = ()

    __hash__ = Kept.__hash__

    def __post_init__(self) -> None:
        for name in ("importance", "limits", "rooms"):
            object.__setattr__(self, name, immutabledict(getattr(self, name)))
        object.__setattr__(self, "sets", tuple(map(tuple, self.sets)))
        object.__setattr__(self, "trim", tuple(self.trim))
        object.__setattr__(self, "wings", tuple(self.wings))
        object.__setattr__(self, "offered", tuple(self.offered))
