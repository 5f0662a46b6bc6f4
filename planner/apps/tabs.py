"""The tabs of the designer's page, and what is shown under those that only look at the plan."""

import marimo as mo

from planner.apps import pages
from planner.apps.changes import Changes
from planner.apps.panels import checks, importance, one_room, packages, walls
from planner.house.model import House
from planner.planning.answer import Plan

TABS = (
    "Rooms",
    "Weights and limits",
    "Importance",
    "Schedule",
    "Packages",
    "One room",
    "Walls",
    "Checks",
    "House",
)


def first(house: House) -> str:
    """The tab that a page opens on: of a house that is only begun, the one in which it is drawn."""
    return TABS[-1] if len(house.rooms) == 1 and not house.openings else TABS[0]


def shown(
    tab: str, planned: Plan, room: str, changes: Changes, dark: bool, width: int
) -> tuple[object, mo.Html | None]:
    """What a tab shows of a plan, after the controls in it, which live as long as they are held."""
    if not planned.feasible:
        return None, None
    match tab:
        case "Importance":
            return None, importance.view(planned, dark, width)
        case "Packages":
            sheets = pages.folds(packages.sheets(planned, dark))
            return sheets, mo.vstack([packages.view(planned, dark, width), sheets])
        case "One room":
            pins = one_room.pins(planned, room, changes)
            return pins, one_room.view(planned, room, pins)
        case "Walls":
            downloads = walls.downloads(planned, room)
            return downloads, walls.view(planned, room, downloads, dark, width)
        case "Checks":
            return None, checks.view(planned)
    return None, None
