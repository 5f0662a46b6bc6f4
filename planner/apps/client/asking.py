"""What the client is asked about, and the plan that answers give."""

from bisect import bisect_left
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

import marimo as mo

from planner.apps import houses, pages, screen
from planner.apps.houses import Opened
from planner.deliverables.client_words import TRIM, title_of
from planner.files.problems import HouseFault, Problem
from planner.house.model import House
from planner.intent.folder import read_intent
from planner.intent.model import Intent
from planner.planning.answer import Plan
from planner.planning.pipeline import plan
from planner.record.answers import propose
from planner.record.entries import Answer

WELCOME = (
    f"{TRIM} Walk through the house from the front door, and say of each room whether you would keep it, have a little "
    "more, or a little less. Rooms beside it may follow. Every answer is kept at once for your designer."
)

NOT_YET = "Your designer is not done with this house yet. This page shows it as soon as there is something to see."


@dataclass(frozen=True)
class Shown:
    """What the client is asked about: an alternative of a house and its plan, None where the house or the alternative
    has `faults`.
    """

    opened: Opened
    intent: Intent
    base: Plan | None
    faults: tuple[Problem, ...] = ()


def shown(folder: Path, alternative: str, was: Shown | None = None) -> Shown:
    """What is shown of a house folder; its own defaults where no alternative is named. What `was` shown is returned as
    long as nothing of it has changed.
    """
    opened = houses.opened(folder)
    if opened.house is None:
        return Shown(opened, Intent(), None, opened.remarks)
    try:
        intent = read_intent(folder, alternative) if alternative else Intent()
    except HouseFault as fault:
        return Shown(opened, Intent(), None, fault.problems)
    if was and was.base and (opened, intent) == (was.opened, was.intent):
        return was
    return Shown(opened, intent, planned(opened.house, intent, opened))


def planned(house: House, intent: Intent, opened: Opened) -> Plan:
    """The plan of an intent; where it takes long the page says so."""
    with screen.working("Planning your house"):
        return plan(house, intent, opened.stock, opened.library)


def greeting(shown: Shown, width: int) -> mo.Html:
    """What the page is about, folded on a narrow screen, or why there is nothing to see yet."""
    title = houses.title(shown.opened, title_of(shown.intent))
    if shown.base is None or not shown.base.feasible:
        return pages.show(title, pages.note("alarm", NOT_YET))
    unfolded = width != screen.NARROW_CHART
    return pages.show(title, pages.folded("How this works", pages.element("p", WELCOME), unfolded=unfolded))


@dataclass(frozen=True)
class Heard:
    """The plan that answers give, and those of them that it is without: they cannot be had beside the later ones."""

    planned: Plan
    aside: tuple[Answer, ...] = ()


def heard(shown: Shown, base: Plan, answers: Iterable[Answer]) -> Heard:
    """The plan of all answers that can be had together. Where not all can, a later one goes before an earlier one."""
    latest_first = sorted(answers, key=lambda said: said.time, reverse=True)

    def with_answers(said: Iterable[Answer]) -> Plan:
        return planned(base.house, propose(shown.intent, base, said), shown.opened)

    kept, aside = list[Answer](), list[Answer]()
    while not (after := with_answers([*kept, *latest_first])).feasible:
        counts = range(1, len(latest_first))
        here = bisect_left(counts, True, key=lambda n: not with_answers([*kept, *latest_first[:n]]).feasible)
        kept += latest_first[:here]
        aside.append(latest_first[here])
        latest_first = latest_first[here + 1 :]
    return Heard(after, tuple(aside))
