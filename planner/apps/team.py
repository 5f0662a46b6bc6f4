"""The team's page: two to four alternatives of one house side by side."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

import marimo as mo
import pandas as pd

from planner import charts
from planner.apps import pages, screen, tables
from planner.apps.houses import Opened
from planner.deliverables import tables as deliverables
from planner.files.names import file_name
from planner.files.problems import HouseFault, Problem
from planner.house.model import House
from planner.intent.folder import list_intents, read_intent
from planner.planning import frames
from planner.planning.answer import Plan
from planner.planning.pipeline import plan

MOST = 4
"""Alternatives that stand side by side."""

WIDE_CHART, MATRIX_CHART = 1200, 900
"""Widths of charts [px]."""


def choice(folder: Path, asked: Iterable[str]) -> mo.ui.multiselect:
    """A choice of alternatives: those that were asked for, or the first there are."""
    names = list_intents(folder)
    chosen = [name for name in asked if name in names] or names
    return mo.ui.multiselect(names, value=chosen[:MOST], label=f"Alternatives (two to {MOST})", max_selections=MOST)


@dataclass(frozen=True)
class Compared:
    """The plans of the alternatives that were chosen, those without a plan among them, and the faults of those that
    cannot be read.
    """

    plans: tuple[Plan, ...]
    faults: tuple[Problem, ...]

    @property
    def standing(self) -> list[Plan]:
        """The plans that keep every rule."""
        return [planned for planned in self.plans if planned.feasible]


def compared(opened: Opened, house: House, names: Sequence[str]) -> Compared:
    """Plan every one of some alternatives; where that takes long the page says so."""
    plans: list[Plan] = []
    faults: list[Problem] = []
    with screen.working(f"Planning {len(names)} alternatives"):
        for name in names:
            try:
                plans.append(plan(house, read_intent(opened.folder, name), opened.stock, opened.library))
            except HouseFault as fault:
                faults += fault.problems
    return Compared(tuple(plans), tuple(faults))


def notes(found: Compared, chosen: int) -> mo.Html | None:
    """What there is to say of the choice: no plan, faults, too few."""
    said = [
        pages.note(
            "alarm",
            pages.element("p", f"{title}: no plan can keep all of these at once."),
            pages.listed(planned.conflicts),
        )
        for title, planned in zip(frames.alternative_titles(found.plans), found.plans, strict=True)
        if not planned.feasible
    ]
    if found.faults:
        said.append(pages.note("alarm", "These alternatives cannot be read.", pages.problems(found.faults)))
    if chosen < 2:
        said.append(pages.note("quiet", "Choose two alternatives or more."))
    return pages.show(*said) if said else None


COLUMNS = ["Alternative", "Period, order, grade", "Highest tier", "Away from what all rooms ask for"]
COLUMNS += [
    "of which rooms",
    "of which steps",
    "Steps that read",
    "On one level",
    "Too small to see",
    "Jumps",
    "Cost index",
]


def figures(standing: Sequence[Plan]) -> mo.Html:
    """What sums each alternative up."""
    rows = map(_figures, frames.alternative_titles(standing), standing)
    caption = "How near each comes to what its rooms ask for, in tiers, and how its steps between rooms read"
    return pages.show(pages.table(COLUMNS, rows, caption=caption, numbers=COLUMNS[2:]))


def _figures(title: str, planned: Plan) -> list[object]:
    reads = [passage.reads for passage in planned.passages]
    return [
        title,
        f"{planned.style}, {planned.order}, {planned.grade}",
        max(room.tier for room in planned.rooms),
        f"{planned.objective.total:.2f}",
        f"{planned.objective.fit:.2f}",
        f"{planned.objective.abrupt:.2f}",
        *(reads.count(word) for word in ("clear", "even", "faint", "abrupt")),
        f"{planned.cost:,.0f}",
    ]


def take(standing: Sequence[Plan]) -> pages.Held:
    """The tables of the comparison, to take away."""
    titles = frames.alternative_titles(standing)
    made: dict[str, tables.Make] = {
        "How each reads": lambda: pd.DataFrame(map(_figures, titles, standing), columns=COLUMNS),
        "Tiers side by side": lambda: deliverables.compared(standing),
    }
    house = standing[0].house.name
    return tables.ways(made, lambda title, ending: file_name([house, " and ".join(titles), title], ending))


def tier_matrix(standing: Sequence[Plan], every_room: bool, dark: bool, width: int) -> pages.Drawn:
    """The tier of each room in each alternative; of every room, or of those that differ."""
    tiers = frames.compare(standing)
    width = min(width, MATRIX_CHART)
    return pages.Drawn(charts.tier_matrix(tiers, differing_only=not every_room, dark=dark, width=width))


def step_down(standing: Sequence[Plan], dark: bool, width: int) -> pages.Drawn:
    """How the tiers step down from the entry, alternative beside alternative."""
    rooms, steps = frames.step_down(standing), frames.steps(standing)
    return pages.Drawn(charts.step_down(rooms, steps, dark=dark, width=width))
