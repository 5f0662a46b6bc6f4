"""The head of the designer's page: what is planned and how good it is, and what has to be told before all else."""

from collections.abc import Iterator, Sequence

import marimo as mo

from planner.apps import pages
from planner.apps.changes import Changes
from planner.apps.desk import Desk, ways_out
from planner.apps.houses import Opened
from planner.files.problems import Problem
from planner.intent.model import Intent
from planner.planning.answer import Plan
from planner.units import counted

FIVE_LINES = (
    "The plan shows every room's tier: 1 is the plainest, the highest number the most formal.",
    "Beside it, each walk from the entry to a bedroom shows how the tiers step down.",
    "Under Rooms, pin a room or give it a range; under Weights and limits, say what counts.",
    "Click a room on the plan, then One room: why it has its tier, and what another would take.",
    "Every change replans the house and is kept as a draft; Save as new makes an alternative of it.",
)


def work(opened: Opened) -> str:
    """What is being done while a plan is made."""
    rooms = len(opened.house.rooms) if opened.house else 0
    return f"Planning {rooms} rooms" + (" and choosing their mouldings from stock" if opened.stock else "")


def headline(planned: Plan, desk: Desk, news: str) -> mo.Html:
    """House, alternative, what has just happened, and the figures that sum the plan up."""
    intent = desk.intent
    state = "saved" if desk.is_saved else "not saved; kept as a draft"
    words = f"{intent.title or intent.name or 'as the house stands'} · {state} · "
    words += f"{planned.style}, {planned.order}, {planned.grade}"
    said = [pages.element("p", pages.element("b", news), role="status")] if news else []
    head = pages.element(
        "div", pages.element("h1", planned.house.name), pages.element("p", words), *said, class_="pl-title"
    )
    return pages.show(head, *([pages.figures(_figures(planned))] if planned.feasible else []))


def _figures(planned: Plan) -> Iterator[tuple[str, object, str]]:
    reads = [passage.reads for passage in planned.passages]
    tiers = [room.tier for room in planned.rooms]
    best, budget = max(tiers), planned.intent.budget
    cautions = sum(check.severity == "caution" for check in planned.checks)
    yield "Rooms", len(tiers), f"on {counted(len(planned.house.levels), 'level')}"
    yield "Best tier", best, f"{planned.tier_names[best - 1]}, in {tiers.count(best)} of the rooms"
    yield (
        "Away from the ideal",
        f"{planned.objective.total:.2f}",
        "proved least" if planned.optimal else "not proved least",
    )
    yield "Abrupt steps", reads.count("abrupt"), f"of {len(reads)} passages; {reads.count('faint')} too faint"
    yield "To see to", len(planned.checks) - cautions, f"and {cautions} cautions"
    yield (
        "Cost index",
        f"{planned.cost:,.0f}",
        f"of {budget:,.0f}" if budget else "share of wall × feet of wall",
    )


def help_lines(unfolded: bool) -> mo.Html:
    """Five lines for whoever is here for the first time."""
    summary = pages.element("summary", "First time here? Five lines")
    attributes = {"open": ""} if unfolded else {}
    return pages.show(pages.element("details", summary, pages.listed(FIVE_LINES, "ol"), class_="pl-help", **attributes))


def notes(opened: Opened, desk: Desk, faults: Sequence[Problem], put_away: mo.ui.button) -> mo.Html | None:
    """What there is to say of the alternative, the stock, the house's tables and the draft that was found."""
    found: list[mo.Html] = []
    if faults:
        words = "The alternative asked for has faults, so the house's own defaults are shown."
        found.append(pages.show(pages.note("alarm", words, pages.problems(faults))))
    if opened.stock_faults:
        words = "The stock has faults, so sizes are the targets of the orders, rounded to 1/8 in."
        found.append(pages.show(pages.note("alarm", words, pages.problems(opened.stock_faults))))
    if opened.remarks:
        found.append(pages.show(pages.note("quiet", pages.problems(opened.remarks))))
    if desk.fault:
        words = f"There is a draft that cannot be read, so what is saved is shown. {desk.fault}"
        found.append(pages.show(pages.note("alarm", words)))
    if desk.drafted:
        words = f"Changes that were not saved, last touched {desk.drafted:%d %B at %H:%M}, are back as a draft."
        found.append(pages.beside(pages.show(pages.note("quiet", words)), put_away))
    return mo.vstack(found) if found else None


def ways(planned: Plan, changes: Changes) -> list[mo.ui.button]:
    """For a house without a plan: a button for each wish whose loosening gives one."""
    return [
        _way(words[:1].upper() + words[1:], intent, changes)
        for words, intent in ways_out(planned.house, planned.intent, planned.stock, planned.library)
    ]


def _way(label: str, intent: Intent, changes: Changes) -> mo.ui.button:
    return mo.ui.button(label=pages.plain(label), on_click=lambda _: changes.put(intent))


def conflicts(planned: Plan, ways: Sequence[mo.ui.button]) -> mo.Html:
    """Which few wishes cannot all hold, and the ways out."""
    said = pages.note(
        "alarm",
        pages.element("p", pages.element("b", "No plan can keep all of these at once:")),
        pages.listed(planned.conflicts),
        pages.element("p", "Loosen one of them:" if ways else "No single wish gives a plan; undo the last ones."),
    )
    return mo.vstack([pages.show(said), mo.hstack(ways, justify="start", wrap=True)])
