"""What is kept of the schedule: a style of the house's own, and a profile drawn by its members."""

from collections.abc import Mapping
from dataclasses import replace

import marimo as mo

from planner.apps import houses, pages
from planner.apps.changes import Changes
from planner.apps.houses import Opened, Tell
from planner.apps.typed import Typed
from planner.drawings.section import profile_section
from planner.files.problems import HouseFault, Problem
from planner.house.model import House
from planner.house.styles import write_style
from planner.planning.pipeline import plan
from planner.stock.own_profiles import add_profile, draw_profile
from planner.trim.variants import is_of_the_ladder, style_rows
from planner.units import PER, running_unit, section_unit

EXAMPLES = {
    "in": "fascia 2 x 3/4; cyma reversa 1/2 x 1 1/4; fillet 1/4 x 1 3/8",
    "mm": "fascia 50 x 20; cyma reversa 12 x 32; fillet 6 x 35",
}
"""Members as they are written where a bare number is in that unit."""


# A style


def style(
    house: House, opened: Opened, changes: Changes, tell: Tell, typed: Typed
) -> dict[str, mo.ui.text | mo.ui.button]:
    """A name, and the button that keeps what departs from the style under it."""
    name = mo.ui.text(
        value=typed.text("style"),
        label="Keep all this as a style",
        placeholder="name of the style",
        on_change=typed.into("style"),
    )

    def keep(_: object) -> None:
        tell["news"](keep_style(house, opened, name.value.strip(), changes, tell, typed))

    return {"name": name, "keep": mo.ui.button(label="Keep as a style", on_click=keep)}


def keep_style(house: House, opened: Opened, name: str, changes: Changes, tell: Tell, typed: Typed) -> str:
    """Keep what departs from the style on whole tiers as a style of the house, and use it; returns what is to be said.

    Rules for single levels, uses, rooms and openings stay rules.
    """
    intent = changes.desk.intent
    planned = plan(house, intent, None, opened.library)
    rows = style_rows(planned.ladder(max(room.ceiling for room in house.rooms)), opened.library)
    try:
        write_style(opened.folder, name, planned.style, rows)
    except HouseFault as fault:
        return _words(fault.problems)
    changes.put(replace(intent, style=name, trim=tuple(rule for rule in intent.trim if not is_of_the_ladder(rule))))
    typed.used("style")
    tell["opened"](houses.opened(opened.folder))
    return f"Kept as the style {name}. Copy styles/{name}.toml into another house to use it there."


# A profile


def fields(opened: Opened, typed: Typed) -> mo.ui.dictionary:
    """What a profile is drawn by."""

    def text(field: str, label: str, placeholder: str, debounce: bool | int = True) -> mo.ui.text:
        value, told = typed.text(field), typed.into(field)
        return mo.ui.text(value=value, label=label, placeholder=placeholder, debounce=debounce, on_change=told)

    role = typed.text("role") or "casing"
    return mo.ui.dictionary(
        {
            "profile": text("profile", "Code", "e.g. OWN-1"),
            "role": mo.ui.dropdown(
                opened.library.role_names, value=role, label="It is a", on_change=typed.into("role")
            ),
            "members": text(
                "members",
                "Members from the bottom up, height x depth",
                EXAMPLES[section_unit(opened.unit)],
                debounce=200,
            ),
            "price": text("price", f"Price {PER[running_unit(opened.unit)]}", "0"),
        }
    )


def adding(drawn: mo.ui.dictionary, house: House, opened: Opened, tell: Tell, typed: Typed) -> mo.ui.button:
    """The button that adds what is drawn to the stock."""
    written = _cells(drawn, house)
    return mo.ui.button(
        label="Add to the stock", on_click=lambda _: tell["news"](add(written, house, opened, tell, typed))
    )


def add(cells: Mapping[str, str], house: House, opened: Opened, tell: Tell, typed: Typed) -> str:
    """Add a profile to the house's stock; returns what is to be said."""
    profile, problems = draw_profile(cells, house.unit, opened.library)
    if profile is None or any(problem.severity == "error" for problem in problems):
        return _words(problems)
    try:
        add_profile(opened.folder, profile, house.unit, opened.library)
    except HouseFault as fault:
        return _words(fault.problems)
    typed.used("profile", "role", "members", "price")
    tell["opened"](houses.opened(opened.folder))
    return f"{profile.code} is in the stock of this house."


def view(
    drawn: mo.ui.dictionary,
    button: mo.ui.button,
    house: House,
    opened: Opened,
    dark: bool,
    below: mo.Html | None = None,
) -> mo.Html:
    """The profile as far as it is written, and what is wrong with it; then what stands below it."""
    written = _seen(_cells(drawn, house), house, opened, dark)
    inner = pages.beside(*drawn.elements.values(), button)
    fold = pages.folded("A profile of your own", pages.control(inner), pages.control(written))
    return pages.show(pages.element("div", fold, class_="pl-own"), *([pages.control(below)] if below else []))


def _seen(cells: Mapping[str, str], house: House, opened: Opened, dark: bool) -> mo.Html:
    if not cells["members"]:
        return pages.show(pages.element("p", f"For example: {EXAMPLES[section_unit(house.unit)]}", class_="pl-hint"))
    profile, problems = draw_profile(cells, house.unit, opened.library)
    shown = pages.drawing(profile_section(profile, unit=house.unit), dark) if profile else ""
    said = pages.note("quiet", pages.listed(map(_said, problems))) if problems else ""
    return pages.show(shown, said)


def _cells(drawn: mo.ui.dictionary, house: House) -> dict[str, str]:
    """What was typed, by the columns of stock.csv; the price is of what mouldings are sold by in such a house."""
    typed = {name: str(written or "") for name, written in dict(drawn.value).items()}
    return typed | {"unit": running_unit(house.unit)}


def _said(problem: Problem) -> str:
    return f"{problem.column}: {problem.message}; {problem.remedy}"


def _words(problems: tuple[Problem, ...]) -> str:
    return " ".join(f"{problem}." for problem in problems)
