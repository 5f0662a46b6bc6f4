"""The ladder of each period: which elements a rung has, in what form and by what rule they are sized.

Everything here is read from the tables of planner/library. Lengths in inches.
"""

from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache
from math import floor

from planner.intent.model import FEWEST_TIERS, MOST_TIERS
from planner.library import names, table

STYLES: tuple[str, ...] = names("styles")
"""Names of the styles, as users write them."""

RUNGS: tuple[str, ...] = tuple(table("tiers")["rungs"])
"""The five rungs that every style describes, from the bottom."""


@dataclass(frozen=True)
class Kind:
    """An element of the ladder, a row of elements.toml; `most` is infinite where practice sets no bound [in]."""

    name: str
    display: str
    place: str
    seen: bool
    share: bool
    least: float
    source: str
    most: float = float("inf")
    within: str = ""


@dataclass(frozen=True)
class Part:
    """A part of a form: a fixed height [in], a share of what is left, or like a part of the order."""

    part: str
    inches: float = 0.0
    share: float = 0.0
    like: str = ""


@dataclass(frozen=True)
class Form:
    """A form of an element, a row of library/forms.toml: members that show, projection and thickness [in]."""

    element: str
    name: str
    members: int
    thickness: float
    parts: tuple[Part, ...]
    projection: float = 0.0
    projects_by: float = 0.0
    overhang: bool = False


@dataclass(frozen=True)
class Row:
    """How one element stands on some rungs of a style.

    Its canon is `factor` times the measure or the element named by `of`; a `plain` row keeps that size on its rung,
    any other is scaled by the style's ratio. `least` is a floor and `least_ceiling` what the form needs [in]. A
    `finer` row holds only for the upper of two tiers that share a rung.
    """

    element: str
    form: Form
    rungs: tuple[str, ...]
    of: str
    factor: float = 1.0
    least: float = 0.0
    least_ceiling: float = 0.0
    plain: bool = False
    finer: bool = False
    source: str = "common practice"


@dataclass(frozen=True)
class Style:
    """A period. `order` is its default order, None where its trim does not derive from one.

    `ratio` is the step in size from one rung to the next below, `entablature` the entablature as a part of the
    column, `least_ceilings` the ceiling that each rung needs [in].
    """

    name: str
    display: str
    order: str | None
    entablature: float
    ratio: float
    least_ceilings: tuple[float, ...]
    rows: tuple[Row, ...]
    source: str


@cache
def kinds() -> dict[str, Kind]:
    """The elements of the ladder by name, in the order in which they are shown."""
    return {row["name"]: Kind(**row) for row in table("elements")["element"]}


@cache
def forms() -> dict[tuple[str, str], Form]:
    """The forms by element and name."""
    rows = (row | {"parts": tuple(Part(**part) for part in row["parts"])} for row in table("forms")["form"])
    return {(row["element"], row["name"]): Form(**row) for row in rows}


@cache
def style(name: str) -> Style:
    """The style of that name.

    Raises
    ------
    ValueError : where there is none, with the nearest names.
    """
    known_name(name, STYLES, "style")
    data = table(f"styles/{name}")
    needs = {row["rung"]: row["ceiling"] for row in data["least_ceiling"]}
    return Style(
        name=name,
        display=data["display"],
        order=data["order"] if data["from_order"] else None,
        entablature=data.get("entablature", table("orders")["entablature"]["of_column"]),
        ratio=data["ratio"],
        least_ceilings=tuple(needs.get(rung, 0.0) for rung in RUNGS),
        rows=tuple(_row(row) for row in data["row"]),
        source=data["source"],
    )


def known_name(name: str, known: tuple[str, ...], what: str) -> str:
    """The name itself where it is known.

    Raises
    ------
    ValueError : where it is not, with the nearest names.

    >>> known_name("Doric", ("tuscan", "doric"), "order")
    Traceback (most recent call last):
    ValueError: unknown order 'Doric'; did you mean 'doric'?
    """
    if name in known:
        return name
    near = get_close_matches(str(name).strip().lower(), known, n=3) or known
    raise ValueError(f"unknown {what} {name!r}; did you mean {' or '.join(map(repr, near))}?")


def check_tiers(tiers: int) -> None:
    """Raise ValueError where a ladder cannot have that many tiers."""
    if tiers not in range(FEWEST_TIERS, MOST_TIERS + 1):
        raise ValueError(f"a ladder has {FEWEST_TIERS} to {MOST_TIERS} tiers, not {tiers}")


def check_tier(tier: int, tiers: int) -> None:
    """Raise ValueError where a ladder of that many tiers has no such tier."""
    check_tiers(tiers)
    if tier not in range(1, tiers + 1):
        raise ValueError(f"a ladder of {tiers} tiers has tiers 1 to {tiers}, not {tier}")


def rung(tier: int, tiers: int) -> int:
    """The rung, 1 to 5, on which a tier of a ladder stands, halves rounded up.

    >>> [rung(t, 3) for t in (1, 2, 3)], [rung(t, 7) for t in range(1, 8)]
    ([1, 3, 5], [1, 2, 2, 3, 4, 4, 5])
    """
    check_tier(tier, tiers)
    return floor(_position(tier, tiers) + 0.5)


def steps_below(tier: int, top: int, tiers: int) -> float:
    """How many rungs a tier stands below the top tier of the house's grade; 0 for the top and what is above it."""
    check_tier(tier, tiers)
    return max(0.0, _position(top, tiers) - _position(tier, tiers))


def is_finer(tier: int, tiers: int) -> bool:
    """Whether a tier is the upper of two that share a rung."""
    return tier > 1 and rung(tier - 1, tiers) == rung(tier, tiers)


@cache
def composition(style_name: str, tier: int, tiers: int) -> tuple[tuple[Row, ...], ...]:
    """The elements of a tier: for each the rows that may hold, the first whose form the ceiling carries is built."""
    name, finer = RUNGS[rung(tier, tiers) - 1], is_finer(tier, tiers)
    grouped: dict[str, list[Row]] = {}
    for row in sorted(style(style_name).rows, key=lambda row: not row.finer):
        if name in row.rungs and (finer or not row.finer):
            grouped.setdefault(row.element, []).append(row)
    # What is sized by another element comes after it.
    return tuple(tuple(rows) for rows in sorted(grouped.values(), key=lambda rows: rows[0].of in kinds()))


def _row(data: dict) -> Row:
    """A row of a style's table."""
    form = forms()[data["element"], data["form"]]
    return Row(**(data | {"form": form, "rungs": tuple(data["rungs"])}))


def _position(tier: int, tiers: int) -> float:
    """Where a tier stands on the ladder of five rungs, before rounding."""
    return 1 + (tier - 1) * (len(RUNGS) - 1) / (tiers - 1)
