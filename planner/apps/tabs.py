"""The tabs of the designer's page, and what is shown under those that only look at the plan."""

from collections.abc import Mapping, MutableMapping

import marimo as mo

from planner.apps import address, houses, notes, pages, screen, tables, views
from planner.apps.changes import Changes
from planner.apps.panels import answers, checks, cost, importance, one_room, packages, proposals, schedule, walls
from planner.apps.typed import Typed
from planner.deliverables import tables as made
from planner.house.model import House
from planner.planning.answer import Plan
from planner.record.keeping import read_record

TABS = (
    "Rooms",
    "Weights",
    "Schedule",
    "Packages",
    "One room",
    "Walls",
    "Walk",
    "Checks",
    "Proposals",
    "Cost",
    "Answers",
    "House",
)


OWN = ("Rooms", "Weights", "Answers", "House")
"""The tabs that show something where there is no plan."""

NO_PLAN = (
    "No plan keeps all of the wishes, so there is none to show here. What stands in the way is told in the place of "
    "the floor plan; let go of one of them."
)


def choice(house: House, asked: MutableMapping[str, str], typed: Typed, width: int) -> mo.ui.tabs | mo.ui.dropdown:
    """The tabs, the one open that was open last, else the one that the page's address asks for; of a house that is only
    begun, the one in which it is drawn, which stays open when it is saved. A narrow screen has a list of them instead.
    """
    last = typed.text("tab") or address.asked_among(asked, address.TAB, TABS)
    if not last and is_begun(house):
        last = typed["tab"] = TABS[-1]
    last = last or TABS[0]
    told = address.keeping(asked, address.TAB, typed.into("tab"))
    return screen.tabs(TABS, last, told, width)


def is_begun(house: House) -> bool:
    """Whether a house is only begun: one room, and no way into it."""
    return len(house.rooms) == 1 and not house.openings


def shown(
    tab: str, planned: Plan, room: str, changes: Changes, till: cost.Till, dark: bool, width: int
) -> tuple[object, mo.Html | None]:
    """What a tab shows of a plan, after the controls in it, which live as long as they are held; below it the ways to
    take its tables, but for the schedule, which is shown by itself. Where there is no plan, a tab says so.
    """
    if not planned.feasible:
        return None, None if tab in OWN else pages.show(pages.element("p", NO_PLAN, class_="pl-hint"))
    held, view = _view(tab, planned, room, changes, till, dark, width)
    take = None if tab == schedule.TAB else taken(tab, planned, room, changes)
    if take is None:
        return held, view
    return (held, take), mo.vstack([view, take]) if view is not None else take


def taken(tab: str, planned: Plan | None, room: str, changes: Changes) -> pages.Held | None:
    """The ways to take the tables of a tab; None where there are none, or no plan yet."""
    if planned is None or not planned.feasible or not (found := to_take(tab, planned, room, changes)):
        return None
    return tables.ways(found, lambda title, ending: tables.named(planned, title, ending=ending))


def to_take(tab: str, planned: Plan, room: str, changes: Changes) -> Mapping[str, tables.Make]:
    """The tables of a tab, by their titles."""
    match tab:
        case "Rooms":
            return {"Rooms by tier": lambda: made.rooms(planned)}
        case "Weights":
            return {"Importance": lambda: made.importance(planned)}
        case "Schedule":
            rules = {"What departs from the style": lambda: made.departures(planned)}
            return {"Schedule": lambda: made.schedule(planned)} | (rules if planned.intent.trim else {})
        case "Packages":
            stock = {"Built from": lambda: made.built(planned)} if planned.stock else {}
            return {"Packages": lambda: made.packages(planned)} | stock
        case "One room":
            return {
                f"{room}: other tiers": lambda: made.other_tiers(planned, room),
                f"{room}: passages": lambda: made.passages(planned, room),
                f"{room}: importance": lambda: made.importance(planned).loc[lambda frame: frame["Room"] == room],
            }
        case "Walls":
            return {
                f"{room}: meetings": lambda: made.meetings(planned, room),
                f"{room}: pieces": lambda: made.pieces(planned, room),
            }
        case "Checks":
            return {
                "Checks": lambda: made.checks(planned),
                "Remarks on the files": lambda: made.remarks(houses.opened(changes.desk.folder).remarks),
            }
        case "Proposals":
            return {"Proposals": lambda: made.proposals(planned), "Frontier": lambda: made.frontier(planned)}
        case cost.TAB:
            return cost.to_take(planned)
        case "Answers":
            return {"Answers": lambda: answers.as_table(read_record(changes.desk.folder), changes.desk.intent.name)}
    return {}


def _view(
    tab: str, planned: Plan, room: str, changes: Changes, till: cost.Till, dark: bool, width: int
) -> tuple[object, mo.Html | None]:
    match tab:
        case "Weights":
            return None, importance.view(planned, dark, width)
        case "Packages":
            sheets = pages.folds(packages.sheets(planned, dark, changes.desk.folder))
            return sheets, mo.vstack([packages.view(planned, dark, width), sheets])
        case "One room":
            pins = one_room.pins(planned, room, changes)
            return pins, one_room.view(planned, room, pins, width == screen.NARROW_CHART)
        case "Walls":
            downloads = walls.downloads(planned, room)
            noted = pages.show(notes.room(changes.desk.folder, planned.house, room))
            return downloads, mo.vstack([walls.view(planned, room, downloads, dark, width), noted])
        case "Walk":
            return None, views.walked(planned, room, dark, width)
        case "Checks":
            return None, checks.view(planned, width == screen.NARROW_CHART)
        case "Proposals":
            return proposals.shown(planned, changes, dark, width)
        case cost.TAB:
            return cost.shown(planned, changes, till, dark, width)
    return None, None
