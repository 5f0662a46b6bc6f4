"""Which alternatives are compared, and their plans."""

from collections.abc import Mapping, MutableMapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TypeAlias

import marimo as mo

from planner.apps import houses, pages, screen
from planner.apps.houses import Opened, Tell
from planner.files.problems import HouseFault, Problem
from planner.house.model import House
from planner.intent.folder import list_intents, read_intent
from planner.intent.model import Intent
from planner.planning import frames
from planner.planning.answer import Plan
from planner.planning.pipeline import plan
from planner.record.keeping import Record, read_record

MOST = 6
"""Alternatives that stand side by side."""


Saved: TypeAlias = Mapping[str, Intent | tuple[Problem, ...]]
"""Every alternative of a house by name, as it is saved; of one that cannot be read its faults."""


def saved(folder: Path) -> Saved:
    """The alternatives of a house as they are saved."""
    return {name: _read(folder, name) for name in list_intents(folder)}


def _read(folder: Path, name: str) -> Intent | tuple[Problem, ...]:
    try:
        return read_intent(folder, name)
    except HouseFault as fault:
        return fault.problems


def choice(names: Sequence[str], chosen: list[str]) -> mo.ui.multiselect:
    """A choice of alternatives: those that are `chosen`, or the first there are; what is chosen after that is, too."""
    chosen[:] = ([name for name in chosen if name in names] or [*names])[:MOST]

    def choose(value: list[object]) -> None:
        chosen[:] = map(str, value)

    label = f"Alternatives (2 to {MOST})"
    return mo.ui.multiselect(names, value=[*chosen], label=label, max_selections=MOST, on_change=choose)


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


def compared(
    opened: Opened, house: House, names: Sequence[str], saved: Saved, kept: MutableMapping[str, Plan]
) -> Compared:
    """Plan every one of some alternatives; where that takes long the page says so. Plans that are `kept` by name are
    made again only where something that they are made from has changed.
    """
    plans: list[Plan] = []
    faults: list[Problem] = []
    with screen.working(f"Planning {len(names)} alternatives"):
        for name in names:
            intent = saved.get(name, ())
            if not isinstance(intent, Intent):
                faults += intent
                continue
            if not _is_of(kept.get(name), opened, house, intent):
                kept[name] = plan(house, intent, opened.stock, opened.library)
            plans.append(kept[name])
    return Compared(tuple(plans), tuple(faults))


def _is_of(planned: Plan | None, opened: Opened, house: House, intent: Intent) -> bool:
    made_from = (house, intent, opened.stock, opened.library)
    return planned is not None and (planned.house, planned.intent, planned.stock, planned.library) == made_from


def follow(was: Opened, record: Record, before: Saved, tell: Tell) -> None:
    """Tell the page what others have changed since, and nothing else: the house, alternatives, which there are, what
    is said.
    """
    now, said, alternatives = houses.opened(was.folder), read_record(was.folder), saved(was.folder)
    if said.entries != record.entries:
        tell["record"](said)
    if now != was:
        tell["opened"](now)
    if alternatives != before:
        tell["saved"](alternatives)
    if [*alternatives] != [*before]:
        tell["names"](tuple(alternatives))


MAKE = "The designer makes them: by Save as new, or from what stands under Proposals. They come in here by themselves."


def notes(found: Compared, chosen: int, offered: int) -> mo.Html | None:
    """What there is to say of the choice: no plan, faults, too few that are `chosen`, or too few on offer."""
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
    if offered < 2:
        there = "There is one alternative" if offered else "There are no alternatives"
        said.append(pages.note("quiet", f"{there} yet, and comparing takes two. {MAKE}"))
    elif len(found.standing) < 2:
        which = "two alternatives or more" if chosen < 2 else "another one that can be planned"
        said.append(pages.note("quiet", f"Choose {which}, to compare."))
    return pages.show(*said) if said else None
