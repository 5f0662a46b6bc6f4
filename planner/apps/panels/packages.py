"""The tab of packages: what each tier is trimmed with."""

from collections.abc import Sequence
from functools import partial
from pathlib import Path

import marimo as mo

from planner import charts
from planner.apps import notes, pages, screen
from planner.drawings.ladder import ladder, ladder_scale
from planner.drawings.section import package_sections, profile_section, section_scale
from planner.mouldings.assembly import Placed
from planner.planning import frames
from planner.planning.answer import Plan
from planner.trim.packages import Package
from planner.units import PER, format_length, running_unit

HINT = "A package is all the trim of one tier under one ceiling; below, each with the rooms that have it."

COLUMNS = ["Element, and its form", "Size", "Projection", "Above the floor", "Built from", "Source"]


def view(planned: Plan, dark: bool, width: int) -> mo.Html:
    """Sections of all tiers side by side, what is to be made, and folded away sizes by tier."""
    ceilings = sorted({package.ceiling for package in planned.packages}, reverse=True)
    ladders = _ladders(planned, ceilings, dark, screen.page(width))
    sizes = {
        f"Sizes by tier under {format_length(ceiling, planned.house.unit)}": pages.later(
            partial(_sizes, planned, ceiling, dark, width)
        )
        for ceiling in ceilings
    }
    hint = pages.element("p", HINT, class_="pl-hint")
    return mo.vstack([pages.show(hint, *ladders), *_to_make(planned, dark), pages.folds(sizes)], gap=1.5)


def _sizes(planned: Plan, ceiling: float, dark: bool, width: int) -> pages.Drawn:
    """How large each element is in every tier under one ceiling."""
    return pages.Drawn(charts.element_sizes(frames.elements(planned), ceiling=ceiling, dark=dark, width=width))


def _ladders(planned: Plan, ceilings: Sequence[float], dark: bool, page: int) -> list[pages.Markup]:
    """The sections of all tiers side by side, under each ceiling, all at one scale; all but the first folded away."""
    drawn = {planned.standing[package]: planned.sections[package] for package in planned.packages}
    under = [[package for package in drawn if package.ceiling == ceiling] for ceiling in ceilings]
    scale, unit = ladder_scale(under, drawn, page), planned.house.unit
    scenes = [ladder(packages, drawn, scale=scale) for packages in under]
    return [
        pages.folded(
            f"Under a ceiling of {format_length(ceiling, unit)}",
            pages.drawing(scene, dark),
            unfolded=ceiling == ceilings[0],
        )
        for ceiling, scene in zip(ceilings, scenes, strict=True)
    ]


def _to_make(planned: Plan, dark: bool) -> list[mo.Html]:
    """What the stock cannot meet, and each profile that a mill is to make instead."""
    if not planned.choice:
        return []
    unproved = f"The choice from stock is {planned.choice.unproved}." if planned.choice.unproved else ""
    doubts = [pages.show(pages.note("quiet", unproved))] if unproved else []
    if planned.choice.left:
        family = f"Where {planned.choice.family or 'the period'} had to be left"
        doubts.append(pages.show(pages.note("quiet", pages.heading(family), pages.listed(planned.choice.left))))
    if not planned.choice.shortfalls:
        return doubts
    said = pages.note("quiet", pages.heading("To have made"), pages.listed(planned.choice.shortfalls))
    unit = planned.house.unit
    scale = section_scale(((Placed(profile, 0.0, 0.0),) for profile in planned.choice.to_make), unit)
    scenes = (profile_section(profile, scale, unit) for profile in planned.choice.to_make)
    drawn = [pages.drawing(scene, dark) for scene in scenes]
    return [*doubts, pages.show(said, pages.element("div", *drawn, style=pages.SIDE_BY_SIDE))]


def _table(planned: Plan, package: Package) -> pages.Markup:
    rows = [
        [
            f"{element.element}\n{element.form}",
            format_length(element.size, package.unit),
            format_length(element.projection, package.unit),
            "" if element.bottom is None else format_length(element.bottom, package.unit),
            ", ".join(element.profiles),
            element.source,
        ]
        for element in planned.standing[package].elements
    ]
    return pages.table(COLUMNS, rows, numbers=COLUMNS[1:4], label=package.label)


def title(planned: Plan, package: Package) -> str:
    """A package by its tier and label, and the first of the rooms that have it."""
    rooms = pages.some(planned.rooms_with(package))
    return f"{package.tier} {package.label}: {rooms}"


def sheets(planned: Plan, dark: bool, folder: Path) -> dict[str, mo.lazy]:
    """The table and the sections of every package under its title, drawn when they are looked at; `folder` is that of
    the house, with its notes.
    """
    return {
        title(planned, package): pages.later(partial(sheet, planned, package, dark, folder))
        for package in planned.packages
    }


def sheet(planned: Plan, package: Package, dark: bool, folder: Path) -> mo.Html:
    """What a package has, every section of it with its members named, what stock builds each element from, and what is
    noted of the rooms that have it.
    """
    shown = package_sections(planned.standing[package], planned.sections[package], planned.library)
    drawn = pages.element("div", *(pages.drawing(s, dark) for s in shown), style=pages.SIDE_BY_SIDE)
    told = _table(planned, package)
    noted = [notes.room(folder, planned.house, name) for name in planned.rooms_with(package)]
    if planned.stock is None:
        return pages.show(told, drawn, *noted)
    rows = [
        [
            *(row[name] for name in ("element", "built_up", "profiles", "height_text", "projection_text")),
            row["price_text"],
            row["runner_up"],
            row["runner_up_price_text"],
        ]
        for row in frames.built(planned, package).to_dict("records")
    ]
    money = f"{planned.house.currency} {PER[running_unit(package.unit)]}"
    columns = ["Element", "Put together as", "Profiles", "Height", "Projection", money, "Runner-up", f"its {money}"]
    return pages.show(told, drawn, pages.table(columns, rows, numbers=[*columns[3:6], columns[7]]), *noted)
