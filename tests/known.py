"""The standard library, and what tests ask of it often with the library filled in."""

from planner.library import standard
from planner.mouldings import members, order_members
from planner.mouldings.members import Member, Profile
from planner.trim import packages, steps, styles
from planner.trim.packages import Package

LIBRARY = standard()
STYLES, ORDERS, GRADES = LIBRARY.style_names, LIBRARY.order_names, LIBRARY.grade_names
CANON = LIBRARY.orders


def member(kind: str, height: float, projection: float, greek: bool = False) -> Member:
    """A member by the name of its kind."""
    return Member(LIBRARY.moulding(kind), height, projection, greek)


def parse_members(text: str, unit: str = "in") -> tuple[Member, ...]:
    """As planner.mouldings.members.parse_members."""
    return members.parse_members(text, LIBRARY, unit)


def order_profile(order: str, part: str, size: float, ground: float | None = None) -> Profile:
    """As planner.mouldings.order_members.members."""
    return order_members.members(order, part, size, LIBRARY, ground)


def package(style: str, order: str, tier: int, ceiling: float, *, top: int, tiers: int = 5) -> Package:
    """As planner.trim.packages.package."""
    return packages.package(style, order, tier, ceiling, LIBRARY, top=top, tiers=tiers)


def top_tier(grade: str, tiers: int = 5) -> int:
    """As planner.trim.styles.top_tier."""
    return styles.top_tier(grade, tiers, LIBRARY)


def reads(near: Package, far: Package, comfort: int) -> str:
    """As planner.trim.steps.reads."""
    return steps.reads(near, far, comfort, LIBRARY)


def seen_changes(near: Package, far: Package) -> dict[str, tuple[bool, float]]:
    """As planner.trim.steps.seen_changes."""
    return steps.seen_changes(near, far, LIBRARY)
