"""The rates that a house is costed with, changed in place and confirmed one by one, and kept together."""

from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path

import marimo as mo

from planner.apps import houses, pages
from planner.apps.houses import Tell
from planner.apps.typed import Typed
from planner.files.problems import HouseFault, words_of
from planner.house.editing import read_sheet, save_cells
from planner.house.model import House, OwnRate
from planner.house.rates import FIGURES, NO, RATES, YES
from planner.library import Library
from planner.library.rate_rows import PART, Rate
from planner.takeoff.rates import Figure, figures_of
from planner.units import METRIC, counted

GROUPS: Mapping[str, tuple[str, ...]] = {
    "Wage, pace, markup, tax and stock prices": ("wage", "pace", "markup", "tax", "stock"),
    "Hours at the wall": ("run", "each", "end"),
    "Material that the stock has no price for": ("volume", "area", "piece"),
    "Finish": ("finish",),
}
"""Rates by the kinds of library/rates.toml; the first group stands unfolded."""

COLUMNS = (*FIGURES, "confirmed")
"""What is said of a rate."""

HINT = (
    "A rate is an assumption until it is confirmed: one that you pay, or were quoted. Low and high say between what it "
    "lies in eight of ten cases; left blank they are as far from the value, in proportion, as usual, and of a rate "
    "that is confirmed they are the value itself."
)

USUAL = "usual"
"""What stands for a low or high that the house does not say."""

WIDE = "width: 5.5rem"
"""As wide as a figure needs, written on the element itself."""

Fields = Mapping[str, Mapping[str, mo.ui.text | mo.ui.checkbox]]
"""The controls of each rate by its name, by column."""


def fields(house: House, library: Library, typed: Typed) -> Fields:
    """The controls of every rate; what was written into them and is not kept yet stays."""
    own, metric = house.own_rates, house.unit in METRIC
    figures = figures_of(house, library)
    return {name: _fields(figure, own.get(name), metric, typed) for name, figure in figures.items()}


def _fields(figure: Figure, own: OwnRate | None, metric: bool, typed: Typed) -> dict[str, mo.ui.text | mo.ui.checkbox]:
    name, shown = figure.rate.name, written(figure, own, metric)
    made: dict[str, mo.ui.text | mo.ui.checkbox] = {
        column: mo.ui.text(
            value=typed.get(_key(name, column), shown[column]),
            placeholder="" if column == "value" else USUAL,
            label=pages.unseen(f"{column} of {name}"),
            on_change=typed.into(_key(name, column)),
        )
        for column in FIGURES
    }
    tick = typed.into(_key(name, "confirmed"))
    sure = typed.get(_key(name, "confirmed"), shown["confirmed"]) == YES
    made["confirmed"] = mo.ui.checkbox(
        value=sure, label=pages.unseen(f"{name} is confirmed"), on_change=lambda on: tick(YES if on else NO)
    )
    return made


def _key(name: str, column: str) -> str:
    return f"{column} of the rate {name}"


def written(figure: Figure, own: OwnRate | None, metric: bool) -> dict[str, str]:
    """What is said of a rate as people write it, in the unit that the house gives it in; low and high where the house
    says them itself."""
    factor, part = figure.rate.units[unit_of(figure.rate, own, metric)], figure.rate.unit == PART
    figures = {"value": figure.value / factor}
    figures |= {column: value for column in FIGURES[1:] if (value := getattr(own, column, None)) is not None}
    said = {column: f"{value * 100:.6g} %" if part else f"{value:.6g}" for column, value in figures.items()}
    return {column: said.get(column, "") for column in FIGURES} | {"confirmed": YES if figure.confirmed else NO}


def unit_of(rate: Rate, own: OwnRate | None, metric: bool) -> str:
    """The unit that a rate's figures are given in: as the house says it, else the library, or its metric one."""
    said = own is not None and (own.unit or own.value is not None)
    return (own.unit or rate.unit) if own is not None and said else rate.unit_in(metric)


def keeping(folder: Path, house: House, library: Library, typed: Typed, tell: Tell) -> mo.ui.button:
    """The button that keeps all that was written of rates in the folder, all of it or nothing."""

    def keep(_: object) -> None:
        changed = dict(_changed(house, library, typed))
        if not changed:
            tell["news"]("No rate was changed.")
            return
        try:
            _write(folder, changed)
        except HouseFault as fault:
            tell["news"](f"No rate was kept: {words_of(fault.errors)}")
            return
        typed.used(*(_key(name, column) for name in changed for column in COLUMNS))
        tell["opened"](houses.opened(folder))
        tell["news"](f"Kept in {RATES}: {counted(len(changed), 'rate')}.")

    return mo.ui.button(label="Keep these rates", on_click=keep)


def _changed(house: House, library: Library, typed: Typed) -> Iterator[tuple[str, dict[str, str]]]:
    """The rates of which something else is written than stands, each with all that is said of it now."""
    own, metric = house.own_rates, house.unit in METRIC
    for name, figure in figures_of(house, library).items():
        before = written(figure, own.get(name), metric)
        now = {column: str(typed.get(_key(name, column), before[column])).strip() for column in COLUMNS}
        if now != before:
            unit = unit_of(figure.rate, own.get(name), metric)
            yield name, now | ({"unit": unit} if unit != figure.rate.unit else {})


def _write(folder: Path, changed: Mapping[str, Mapping[str, str]]) -> None:
    sheet = read_sheet(folder, RATES)
    rows = [dict(row) for row in sheet.rows]
    known = {" ".join(row.get("rate", "").casefold().split()): row for row in rows}
    for name, cells in changed.items():
        if name not in known:
            rows.append(known.setdefault(name, {"rate": name}))
        known[name] |= {**cells, "confirmed": "" if cells["confirmed"] == NO else YES}
    save_cells(folder, {RATES: rows}, {RATES: sheet.seen})


def view(fields: Fields, keep: mo.ui.button, house: House, library: Library, narrow: bool) -> mo.Html:
    """The rates in groups, each with what it is, its unit and its controls; on a narrow screen all are folded."""
    groups = [
        pages.folded(
            title,
            _group((rate for rate in library.rates if rate.kind in kinds), fields, house, library, title),
            unfolded=at == 0 and not narrow,
        )
        for at, (title, kinds) in enumerate(GROUPS.items())
    ]
    hint = pages.element("p", HINT, class_="pl-hint")
    return pages.show(pages.heading("What you pay"), hint, *groups, pages.control(keep))


def _group(rates: Iterable[Rate], fields: Fields, house: House, library: Library, title: str) -> pages.Markup:
    """The rates of a group; on paper stands what the house pays now."""
    own, metric, figures = house.own_rates, house.unit in METRIC, figures_of(house, library)
    rows: list[list[object]] = []
    for rate in rates:
        said = written(figures[rate.name], own.get(rate.name), metric)
        controls = (pages.control_or_said(one, said[column] or USUAL) for column, one in fields[rate.name].items())
        rows.append(
            [
                pages.Markup(f"{pages.text(rate.name)}{pages.element('p', rate.says_in(metric), class_='pl-hint')}"),
                unit_of(rate, own.get(rate.name), metric),
                *(pages.element("div", control, style=WIDE) for control in controls),
            ]
        )
    return pages.table(["Rate", "Unit", "Value", "Low", "High", "Confirmed"], rows, label=title)
