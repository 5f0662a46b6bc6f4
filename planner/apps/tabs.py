"""The tabs of the designer's page, and what is shown under those that only look at the plan."""

from collections.abc import MutableMapping

import marimo as mo

from planner.apps import address, pages, views
from planner.apps.changes import Changes
from planner.apps.panels import checks, importance, one_room, packages, walls
from planner.apps.typed import Typed
from planner.planning.answer import Plan

TABS = (
    "Rooms",
    "Weights",
    "Schedule",
    "Packages",
    "One room",
    "Walls",
    "Walk",
    "Checks",
    "House",
)


def choice(asked: MutableMapping[str, str], typed: Typed) -> mo.ui.tabs:
    """The tabs, the one open that was open last, else the one that the page's address asks for."""
    last = typed.text("tab") or address.asked_among(asked, address.TAB, TABS)
    told = address.keeping(asked, address.TAB, typed.into("tab"))
    return mo.ui.tabs(dict.fromkeys(TABS, ""), value=last or TABS[0], on_change=told)


def shown(
    tab: str, planned: Plan, room: str, changes: Changes, dark: bool, width: int
) -> tuple[object, mo.Html | None]:
    """What a tab shows of a plan, after the controls in it, which live as long as they are held."""
    if not planned.feasible:
        return None, None
    match tab:
        case "Weights":
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
        case "Walk":
            return None, views.walked(planned, room, dark, width)
        case "Checks":
            return None, checks.view(planned)
    return None, None
