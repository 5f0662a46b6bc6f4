"""What of a package is met in the rooms that have it: all that paper says of packages leaves out the rest."""

from planner.planning.answer import Plan
from planner.trim.packages import Element, Package


def is_met(plan: Plan, package: Package, element: Element) -> bool:
    """Whether an element of a package has a place in its rooms: without a fireplace there is none for a mantel."""
    at = plan.library.element(element.element).openings
    return not at or any(a.kind in at for wall in plan.walls_with(package) for a in wall.apertures)
