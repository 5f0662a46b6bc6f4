"""The ladder of a period: which rows hold on a tier, and where tiers stand among the five rungs."""

from functools import lru_cache
from math import floor

from msgspec import structs

from planner.intent.model import FEWEST_TIERS, MOST_TIERS
from planner.library import Library
from planner.library.trim_rows import StyleRow

RUNGS = 5
"""How many rungs a style describes; a ladder of other length is laid over them."""


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


def is_coarser(tier: int, tiers: int) -> bool:
    """Whether a tier is the lower of two that share a rung."""
    return tier < tiers and is_finer(tier + 1, tiers)


@lru_cache(maxsize=1024)
def composition(style: str, tier: int, tiers: int, library: Library) -> tuple[tuple[StyleRow, ...], ...]:
    """The elements of a tier: for each the rows that may hold, the first whose form the ceiling carries is built."""
    name = library.ladder.rungs[rung(tier, tiers) - 1]
    finer, coarser = is_finer(tier, tiers), is_coarser(tier, tiers)
    grouped: dict[str, list[StyleRow]] = {}
    for row in sorted(library.style(style).rows, key=lambda row: not (row.finer or row.coarser)):
        if name in row.rungs and (finer or not row.finer) and (coarser or not row.coarser):
            grouped.setdefault(row.element, []).append(row)
    # What is sized by another element comes after it.
    return tuple(tuple(rows) for rows in sorted(grouped.values(), key=lambda rows: rows[0].of in library.element_kinds))


def row_of(style: str, element: str, form: str, tier: int, tiers: int, library: Library) -> StyleRow:
    """The row by which a form of an element is sized where a tier of a style does not have it.

    The style's own row of that form, of the rung nearest to the tier; else another style's, and where none has the
    form the style's own row of another form, or another style's. Where no form is named, that of the row.
    """
    names, here = library.ladder.rungs, rung(tier, tiers)

    def away(row: StyleRow) -> tuple[int, bool]:
        return min(abs(names.index(name) + 1 - here) for name in row.rungs), row.finer

    own = [row for row in library.style(style).rows if row.element == element]
    all_rows = [row for other in library.styles for row in other.rows if row.element == element]
    of_form = [[row for row in rows if row.form == form] for rows in (own, all_rows)] if form else []
    best = min(next(filter(None, (*of_form, own, all_rows))), key=away)
    return structs.replace(best, form=form or best.form, least_ceiling=0.0)


def least_ceiling(style: str, tier: int, tiers: int, library: Library) -> float:
    """The lowest ceiling that carries a tier of a style [in], 0 where any does.

    >>> from planner.library import standard
    >>> least_ceiling("georgian", 5, 5, standard())
    108.0
    """
    name = library.ladder.rungs[rung(tier, tiers) - 1]
    return next((need.ceiling for need in library.style(style).least_ceilings if need.rung == name), 0.0)


def tier_names(tiers: int, library: Library) -> tuple[str, ...]:
    """Names of the tiers of a ladder, from the bottom.

    >>> from planner.library import standard
    >>> tier_names(3, standard())
    ('Service', 'Family', 'State')
    """
    check_tiers(tiers)
    return library.ladder.names[str(tiers)]


def top_tier(grade: str, tiers: int, library: Library) -> int:
    """The highest tier that suits a house of a grade.

    >>> from planner.library import standard
    >>> [top_tier(grade, 5, standard()) for grade in ("cottage", "house", "great house")]
    [3, 4, 5]
    """
    check_tiers(tiers)
    return -(-tiers * library.grade(grade).fifths // 5)


def _position(tier: int, tiers: int) -> float:
    """Where a tier stands on the ladder of five rungs, before rounding."""
    return 1 + (tier - 1) * (RUNGS - 1) / (tiers - 1)
