"""How a cornice is shared out between what lies below its corona, the corona and what lies above, after the order."""

from collections.abc import Mapping
from functools import lru_cache
from typing import get_args

from planner.library import Library
from planner.library.shop_rows import Group
from planner.mouldings.order_members import members
from planner.stock.arrays import Floats, Truths
from planner.values import immutabledict

GROUPS: tuple[str, ...] = tuple(name for name in get_args(Group) if name)
"""The groups of a cornice's members, from the bottom up."""
BELOW, ITSELF, ABOVE = GROUPS


@lru_cache(maxsize=64)
def order_shares(order: str, library: Library) -> immutabledict[str, float]:
    """What part of an order's cornice lies below its corona, is the corona with the fillet upon it, and lies above it;
    nothing where its cornice has none.

    Notes
    -----
    The parts sum to 1. A fillet belongs to the corona where it lies next above it.

    Examples
    --------
    >>> from planner.library import standard
    >>> [round(share * 36) for share in order_shares("doric", standard()).values()]
    [14, 10, 12]
    """
    found = members(order, "cornice", 1.0, library).members
    kinds = [m.kind for m in found]
    if "corona" not in kinds:
        return immutabledict()
    first = kinds.index("corona")
    end = first + 1 + (kinds[first + 1 : first + 2] == ["fillet"])
    heights = [m.height for m in found]
    parts = heights[:first], heights[first:end], heights[end:]
    return immutabledict({name: sum(part) / sum(heights) for name, part in zip(GROUPS, parts, strict=True)})


def missed(heights: Mapping[str, float], shares: Mapping[str, float]) -> float:
    """By what part of a cornice's height the group that misses its share most misses it, 0 to 1.

    `heights` are what each group measures [in].
    """
    whole = sum(heights[name] for name in shares)
    return max((abs(heights[name] / whole - share) for name, share in shares.items()), default=0.0) if whole else 0.0


def may_keep(
    low: Mapping[str, Floats], high: Mapping[str, Floats], shares: Mapping[str, float], tolerance: float
) -> Truths | bool:
    """Whether groups that measure from `low` to `high` [in], many side by side, may keep their shares."""
    kept: Truths | bool = True
    for name, share in shares.items():
        others = [other for other in shares if other != name]
        least = low[name] / (low[name] + sum(high[other] for other in others))
        most = high[name] / (high[name] + sum(low[other] for other in others))
        kept = kept & (least <= share + tolerance) & (most >= share - tolerance)
    return kept
