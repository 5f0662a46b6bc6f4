"""The tab of cost and order: what the money goes to, what one tier more costs, what is bought and what is cut."""

from collections.abc import Callable, Iterator, Mapping
from typing import NamedTuple

import marimo as mo
import pandas as pd

from planner import charts
from planner.apps import pages, screen
from planner.apps.changes import Changes
from planner.apps.costing import Costing
from planner.apps.houses import Tell
from planner.apps.panels import papers, paying
from planner.apps.panels.papers import Papers
from planner.apps.tables import Make
from planner.apps.typed import Typed
from planner.deliverables import order_tables, tables
from planner.deliverables.table import unit_of
from planner.deliverables.tables import COST_BY
from planner.house.model import House
from planner.intent import edits
from planner.intent.model import MONEY
from planner.planning import frames
from planner.planning.answer import Plan
from planner.planning.costs import MOST_IN_MONEY
from planner.units import INCHES_IN, Unit, counted, format_size, section_unit

TAB = "Cost"

CHART = {screen.WIDE_CHART: 690, screen.NARROW_CHART: screen.NARROW_CHART}
"""Widths of the chart [px], by those of the pictures of the house."""

WAIT = "The house is being taken off: every piece, the bars that it is cut from, and what all of it costs."

FIRST = "Element"
"""By what the cost is summed up in the chart that stands unfolded."""

MOST_ROWS = 5
"""Rows of a list that stand unfolded."""

MOST_UNASKED = 100
"""Houses of more rooms are taken off when that is asked for."""

ASKED = "Take the house off"

MOST_CUT = 400
"""Pieces of the cut list that the page shows; the table that is taken away has all of them."""


def budget(house: House, changes: Changes) -> mo.ui.text:
    """The budget of the alternative, in the house's money."""
    intent = changes.desk.intent
    said = intent.budget if intent.cost_in == MONEY else None
    return mo.ui.text(
        value="" if said is None else f"{said:,.15g}",
        placeholder="none",
        label=f"Budget ({house.currency})",
        disabled=len(house.rooms) > MOST_IN_MONEY,
        on_change=lambda written: changes.make(
            "whole", lambda intent: edits.set_money_budget(intent, edits.read_budget(written))
        ),
    )


class Till(NamedTuple):
    """What the tab needs besides a plan: who takes it off meanwhile, its papers, what is written of rates, who is told,
    and what has the tab shown again."""

    costing: Costing
    papers: Papers
    typed: Typed
    tell: Tell
    wake: Callable[[object], None]


def till(costed: Callable[[object], None], tell: Tell) -> Till:
    """A page's till; `costed` is called when a plan is taken off, or its papers are asked for."""
    return Till(Costing(costed, by_tier=True), Papers(costed, tell["news"]), Typed(), tell, costed)


def shown(planned: Plan, changes: Changes, till: Till, dark: bool, width: int) -> tuple[object, mo.Html]:
    """The tab, after the controls in it; while the plan is taken off, that it is. A large house is taken off once that
    is asked for, since all else waits for it."""
    if len(planned.rooms) > MOST_UNASKED and not planned.is_costed and ASKED not in till.typed:
        ask = mo.ui.button(label=ASKED, on_click=lambda _: (till.typed.into(ASKED)(True), till.wake(object())))
        words = f"Taking off {len(planned.rooms):,} rooms takes long, and the page is slow meanwhile."
        return ask, mo.vstack([pages.show(pages.note("quiet", words)), ask])
    if not till.costing.is_done([planned]):
        return None, pages.show(pages.note("quiet", WAIT))
    if planned.takeoff is None or planned.money is None:
        return None, pages.show(pages.note("quiet", "More is to be cut in this house than is ever taken off."))
    house, library = planned.house, planned.library
    most = budget(house, changes)
    fields = paying.fields(house, library, till.typed)
    made = till.papers.control(planned, changes.desk.folder)
    keep = paying.keeping(changes.desk.folder, house, library, till.typed, till.tell)
    goes_to = pages.folds({f"By {by.lower()}": _goes_to(planned, by, dark, width) for by in COST_BY if by != FIRST})
    narrow = width == screen.NARROW_CHART
    view = mo.vstack(
        [
            mo.hstack([pages.show(*_said(planned)), most], justify="start", align="center", gap=2, wrap=True),
            _goes_to(planned, FIRST, dark, width),
            goes_to,
            pages.show(_one_more(planned, narrow), _order(planned, narrow), _cut_list(planned)),
            paying.view(fields, keep, house, library, narrow),
            papers.view(made),
        ]
    )
    return (most, fields, keep, goes_to, made), view


def _said(planned: Plan) -> Iterator[pages.Markup]:
    """What the plan costs, in words."""
    if (cost := planned.money) is not None:
        words = f"The trim of the house as planned costs {cost.currency} {cost.total:,.0f}, in eight of ten cases from "
        words += f"{cost.low:,.0f} to {cost.high:,.0f}, and as likely over {cost.median:,.0f} as under. "
        if cost.by_rates:
            words += (
                f"{cost.currency} {cost.by_rates:,.0f} of it is material that has no price in the stock, counted by "
            )
            words += "rates. "
        words += f"{len(cost.assumptions)} of {len(cost.figures)} rates are "
        yield pages.element("p", f"{words}assumptions, and say so under What you pay. {cost.foreign}".rstrip())
    if words := _against_budget(planned):
        yield pages.element("p", words)


def _goes_to(planned: Plan, by: str, dark: bool, width: int) -> pages.Drawn:
    """What the money goes to."""
    shares, currency = frames.cost(planned, list(COST_BY[by].values())), planned.house.currency
    return pages.Drawn(charts.cost_parts(shares, by, currency, dark=dark, width=CHART.get(width, width)))


def _against_budget(planned: Plan) -> str:
    """How the takeoff stands to the budget in money, if there is one."""
    money, most = planned.money, planned.problem.budget
    if money is None or most is None or not planned.currency:
        return ""
    apart = f"{money.currency} {abs(most - money.total):,.0f}"
    if money.total <= most:
        return f"That is {apart} under the budget of {most:,.0f}."
    return (
        f"That is {apart} over the budget of {most:,.0f}: tiers are chosen by what each room costs by itself, "
        f"{planned.spent:,.0f} in all, before the bars of the whole house are cut. A budget so much lower keeps it."
    )


def _one_more(planned: Plan, narrow: bool) -> pages.Markup:
    """What one tier more or less in each room costs."""
    frame = frames.tier_money(planned)
    if frame.empty:
        return pages.Markup()
    currency = planned.house.currency
    columns = ["Room", "Tier", f"By itself ({currency})", "One tier more", "One tier less"]
    rows = [
        [
            *(row["room"], f"{row['tier']} {row['tier_name']}", f"{row['cost']:,.0f}"),
            *(_change(row["more"], 1), _change(row["less"], -1)),
        ]
        for row in frame.to_dict("records")
    ]
    hint = "Each room by itself, before the bars of the whole house are cut, and with the others as they are."
    title = "What one tier more in a room costs"
    table = _long(columns, rows, title, columns[2:])
    return pages.folded(title, pages.element("p", hint, class_="pl-hint"), table, unfolded=not narrow)


def _change(amount: float | None, way: int) -> str:
    return "" if amount is None or pd.isna(amount) else f"{way * amount:+,.0f}"


def _order(planned: Plan, narrow: bool) -> pages.Markup:
    """What is bought, by profile and length."""
    taken = planned.takeoff
    if taken is None or not taken.sticks:
        return pages.Markup()
    table = order_tables.order(planned, taken)
    title = f"What to buy: {counted(len(taken.bars), 'bar')} of {counted(len(taken.lots), 'profile')}"
    said = f"{table.says} {taken.waste:.1%} of what is bought by length is sawn off or left over."
    columns = list(table.frame.columns)
    listed = _long(columns, _cells(table.frame, planned.house.unit), title, columns[2:])
    return pages.folded(title, pages.element("p", said, class_="pl-hint"), listed, unfolded=not narrow)


def _cut_list(planned: Plan) -> pages.Markup:
    """What is cut, in the order in which a crew works, with the settings of the saw."""
    taken = planned.takeoff
    if taken is None or not taken.sticks:
        return pages.Markup()
    table = order_tables.cut_list(planned, taken)
    title = f"What to cut: {counted(len(taken.sticks), 'piece')}, floor by floor, room by room, wall by wall"
    more = f" The first {MOST_CUT} lines stand here; the table to take away has all {len(table.frame):,}."
    said = table.says + (more if len(table.frame) > MOST_CUT else "")
    frame = table.frame.head(MOST_CUT)
    names = [heading.removesuffix(f" [{unit_of(heading)}]") for heading in frame.columns]
    rows = [_cut(dict(zip(names, row, strict=True))) for row in _cells(frame, planned.house.unit)]
    listed = pages.table(CUT, rows, label=title, numbers=CUT[3:6])
    return pages.folded(title, pages.element("p", said, class_="pl-hint"), listed)


CUT = ["Where", "Piece", "Profile", "Pieces", "Cut to", "Width × depth", "Left or lower, right or upper end", "Bars"]
CUT += ["Numbers", "Note"]


def _cut(row: Mapping[str, str]) -> list[str]:
    """A row of the cut list, with what is read together in one cell."""
    where = f"{row['Room']}, {row['Wall']}\n{row['Opening']}"
    section = " × ".join(filter(None, (row["Width"], row["Depth"])))
    ends = f"{row['Left or lower end']}\n{row['Right or upper end']}"
    together = [where.strip(), row["Piece"], row["Profile"], row["Pieces"], row["Cut to"], section, ends]
    return [*together, row["Bars"], row["Numbers"], row["Note"]]


def _cells(frame: pd.DataFrame, unit: Unit) -> list[list[str]]:
    """What stands in a table of a house of that unit: money to the cent, sizes off a tape, and lengths as they are
    bought.
    """
    named = [unit_of(heading) for heading in frame.columns]
    return [
        ["" if pd.isna(cell) else _cell(cell, of, unit) for cell, of in zip(row, named, strict=True)]
        for row in frame.itertuples(index=False)
    ]


def _cell(cell: object, named: str, unit: Unit) -> str:
    if not isinstance(cell, float):
        return str(cell)
    if named == section_unit(unit):
        return format_size(cell * INCHES_IN[section_unit(unit)], unit)
    if named == "m":
        return f"{cell:,.3f}"
    return f"{cell:,.2f}" if named.isupper() else f"{cell:,.10g}"


def _long(columns: list[str], rows: list[list[str]], title: str, numbers: list[str]) -> pages.Markup:
    """A table of which the first rows stand unfolded."""
    first = pages.table(columns, rows[:MOST_ROWS], numbers=numbers, label=title)
    if len(rows) <= MOST_ROWS:
        return first
    others = pages.table(columns, rows[MOST_ROWS:], numbers=numbers, label=f"{title}, the others")
    return pages.Markup(first + pages.folded(f"{len(rows) - MOST_ROWS} more", others))


def to_take(planned: Plan) -> Mapping[str, Make]:
    """The tables of the tab, by their titles; none before the plan is taken off."""
    taken = planned.takeoff if planned.is_costed else None
    if taken is None or not taken.sticks:
        return {}
    cut = {
        table.__name__.replace("_", " ").capitalize(): lambda table=table: table(planned, taken).frame
        for table in (order_tables.order, order_tables.cut_list, order_tables.bars, order_tables.saw)
    }
    sums = {f"Cost by {by.lower()}": lambda by=by: tables.cost_by(planned, COST_BY[by]) for by in COST_BY}
    return {**cut, **sums, "Rates": lambda: tables.rates(planned)}
