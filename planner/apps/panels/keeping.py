"""What is kept of the schedule for other houses: a style of the house's own, and a profile drawn by its members."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import marimo as mo

from planner.apps import pages
from planner.apps.changes import Changes
from planner.apps.houses import Opened
from planner.drawings.section import profile_section
from planner.files.problems import HouseFault
from planner.house.model import House
from planner.house.styles import write_style
from planner.planning.answer import Plan
from planner.stock.own_profiles import add_profile, draw_profile
from planner.trim.variants import is_of_the_ladder, style_rows

DRAWING_WIDTH = 420
"""Width of a profile's drawing [px]."""

EXAMPLE = "fascia 2 x 3/4; cyma reversa 1/2 x 1 1/4; fillet 1/4 x 1 3/8"


def keep_style(planned: Plan, opened: Opened, name: str, changes: Changes, reopen: Callable[[], None]) -> str:
    """Keep what departs from the style on whole tiers as a style of the house, and use it; returns what is to be said.

    Rules for single rooms, uses, levels and openings stay rules.
    """
    ladder = planned.ladder(max(room.ceiling for room in planned.house.rooms))
    try:
        write_style(opened.folder, name.strip(), planned.style, style_rows(ladder, planned.library))
    except HouseFault as fault:
        return " ".join(map(str, fault.problems))
    intent = planned.intent
    rest = tuple(rule for rule in intent.trim if not is_of_the_ladder(rule))
    changes.put(replace(intent, style=name.strip(), trim=rest))
    reopen()
    return f"Kept as the style {name.strip()}; copy styles/{name.strip()}.toml to use it in another house."


def fields(opened: Opened) -> mo.ui.dictionary:
    """What a profile is drawn by."""
    return mo.ui.dictionary(
        {
            "profile": mo.ui.text(label="Its code", placeholder="e.g. OWN-1"),
            "role": mo.ui.dropdown(opened.library.role_names, value="casing", label="It is a"),
            "members": mo.ui.text(label="Members from the bottom, height x depth", placeholder=EXAMPLE, debounce=200),
            "price": mo.ui.text(label="Price a foot", placeholder="0"),
        }
    )


def drawn(written: dict[str, Any], house: House, opened: Opened, dark: bool) -> mo.Html:
    """The profile as far as it is written, and what is wrong with it."""
    if not written.get("members"):
        return pages.show(pages.element("p", f"For example: {EXAMPLE}", class_="pl-hint"))
    cells = {name: str(value or "") for name, value in written.items()}
    profile, problems = draw_profile(cells, house.unit, opened.library)
    said = pages.listed(f"{p.column}: {p.message}; {p.remedy}" for p in problems) if problems else ""
    shown = pages.drawing(profile_section(profile), DRAWING_WIDTH, dark) if profile else ""
    return pages.show(shown, pages.note("quiet", said) if said else "")


def add(written: dict[str, Any], house: House, opened: Opened, reopen: Callable[[], None]) -> str:
    """Add the profile to the house's stock; returns what is to be said."""
    cells = {name: str(value or "") for name, value in written.items()}
    profile, problems = draw_profile(cells, house.unit, opened.library)
    if profile is None or any(problem.severity == "error" for problem in problems):
        return " ".join(f"{p.column}: {p.message}; {p.remedy}." for p in problems)
    try:
        add_profile(opened.folder, profile, house.unit, opened.library)
    except HouseFault as fault:
        return " ".join(map(str, fault.problems))
    reopen()
    return f"{profile.code} is in the stock of this house."
