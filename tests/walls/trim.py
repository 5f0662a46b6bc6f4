"""Packages for tests of walls, and changes to them."""

from collections.abc import Mapping
from dataclasses import replace

from planner.trim.packages import Package
from planner.trim.sections import Placed, sections
from tests.known import LIBRARY, package


def trim(tier: int = 5, ceiling: float = 120.0, style: str = "georgian") -> Package:
    """A package of a ladder of five tiers, Doric."""
    return package(style, "doric", tier, ceiling, top=5)


def altered(package_: Package, element: str, **changes) -> Package:
    """The package with one element changed."""
    elements = tuple(replace(e, **changes) if e.element == element else e for e in package_.elements)
    return replace(package_, elements=elements)


def without(package_: Package, *elements: str) -> Package:
    """The package without some elements."""
    return replace(package_, elements=tuple(e for e in package_.elements if e.element not in elements))


def with_style(package_: Package, style: str) -> Package:
    """The same elements in another period."""
    return replace(package_, style=style)


def profiles(package_: Package) -> Mapping[str, tuple[Placed, ...]]:
    """The profiles of each element of a package that has a section."""
    return sections(package_, LIBRARY)
