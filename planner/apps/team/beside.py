"""What the tabs of the team's page show of the alternatives beside one another."""

from collections.abc import Mapping, MutableMapping, Sequence

import marimo as mo
import pandas as pd

from planner import charts
from planner.apps import address, pages, screen, tables, views
from planner.apps.costing import Costing
from planner.apps.team.rows import is_long, told
from planner.deliverables import comparison
from planner.deliverables import tables as deliverables
from planner.deliverables.comparison import DIFFERS
from planner.files.names import file_name
from planner.planning import frames
from planner.planning.answer import Plan
from planner.record.keeping import Record
from planner.units import counted, running_unit

TABS = ("Plans", "Rooms", "Sizes", "Trim", "Cost", "Cost and fit", "To mend", "What is said", "What matters")

WIDE_CHART, MATRIX_CHART = 1200, 900
"""Widths of charts [px]: of all alternatives in one, and of the table of rooms."""

NARROW_PLAN, WIDE_PLAN = 370, 560
"""Widths of one floor plan among others [px]: less does not do for names, and more shows no more."""

MOST_COSTED = 60
"""In a larger house taking the alternatives off takes too long to wait for on a page."""

TOO_LARGE = f"Taking a house of more than {MOST_COSTED} rooms off takes minutes; “planner plan” prints what it costs."

UNSAID = "No client has said anything of these yet."

STEPS = "How the tiers of each step down from the entry"

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


def figures(standing: Sequence[Plan], width: int) -> mo.Html:
    """What sums each alternative up, folded on a narrow screen."""
    rows = [[*map(_cell, row)] for row in map(_figures, frames.alternative_titles(standing), standing)]
    caption = "How near each comes to what its rooms ask for, in tiers, and how its steps between rooms read"
    if width == screen.NARROW_CHART:
        return pages.show(pages.folded(caption, pages.table(COLUMNS, rows, label=caption, numbers=COLUMNS[2:])))
    return pages.show(pages.table(COLUMNS, rows, caption=caption, numbers=COLUMNS[2:]))


def _figures(title: str, planned: Plan) -> list[object]:
    reads = [passage.reads for passage in planned.passages]
    return [
        title,
        f"{planned.style}, {planned.order}, {planned.grade}",
        max(room.tier for room in planned.rooms),
        *(round(part, 2) for part in (planned.objective.total, planned.objective.fit, planned.objective.abrupt)),
        *(reads.count(word) for word in ("clear", "even", "faint", "abrupt")),
        round(planned.cost),
    ]


def take(standing: Sequence[Plan], made: Mapping[str, tables.Make]) -> pages.Held:
    """Tables of the comparison, to take away."""
    house, titles = standing[0].house.name, frames.alternative_titles(standing)
    return tables.ways(made, lambda title, ending: file_name([house, " and ".join(titles), title], ending))


def figures_frame(standing: Sequence[Plan]) -> pd.DataFrame:
    """What sums each alternative up."""
    return pd.DataFrame(map(_figures, frames.alternative_titles(standing), standing), columns=COLUMNS)


def choice(asked: MutableMapping[str, str], width: int) -> mo.ui.tabs | mo.ui.dropdown:
    """The tabs, that one open which the page's address asks for; a narrow screen has a list of them instead."""
    first = address.asked_among(asked, address.TAB, TABS) or TABS[0]
    kept = address.keeping(asked, address.TAB, lambda _: None)
    return screen.tabs(TABS, first, kept, width)


def shown(tab: str, standing: Sequence[Plan], every: bool, dark: bool, width: int) -> tuple[object, mo.Html | None]:
    """What a tab shows of the plans, after the controls in it; `every` row, or those in which the alternatives
    differ."""
    view: object = None
    match tab:
        case "Plans":
            steps = step_down(standing, dark, width)
            folded = pages.folds({STEPS: steps}) if is_long(width, len(standing)) else steps
            view = mo.vstack([floors(standing, dark, width), folded])
        case "Rooms":
            view = tier_matrix(standing, every, dark, width)
        case "Sizes":
            return _table("Sizes by tier", comparison.sizes(standing), standing, width, every, keys=3, under=2)
        case "Trim":
            unit = running_unit(standing[0].house.unit)
            return _table("Trim on all walls", comparison.quantities(standing), standing, width, every, unit=unit)
        case "Cost" if len(standing[0].rooms) > MOST_COSTED:
            return None, pages.show(pages.note("quiet", TOO_LARGE))
        case "Cost":
            found, money = comparison.costs(standing), standing[0].house.currency
            ways, table = _table("What each alternative costs", found, standing, width, every=True, unit=money)
            return ways, mo.vstack([cost_ranges(standing, dark, width), table])
        case "To mend":
            return _table("To mend and to mind", comparison.to_mend(standing), standing, width, every, keys=2)
        case "Cost and fit":
            view = cost_and_fit(standing, dark, width)
        case _:
            return None, None
    made = {"Tiers side by side": lambda: deliverables.compared(standing)} if tab in ("Plans", "Rooms") else {}
    ways = take(standing, made) if made else None
    return ways, mo.vstack([one for one in (view, ways) if one is not None])


def said(standing: Sequence[Plan], record: Record, width: int) -> tuple[object, mo.Html]:
    """What clients say of rooms, after the controls in it."""
    found = comparison.said_of(standing, record)
    return _table("What clients say of rooms", found, standing, width, every=True, nothing=UNSAID)


def _table(
    title: str,
    frame: pd.DataFrame,
    standing: Sequence[Plan],
    width: int,
    every: bool,
    keys: int = 1,
    under: int = 0,
    unit: str = "",
    nothing: str = "There is nothing of the kind in any of them.",
) -> tuple[object, mo.Html]:
    """A table of rows in which the alternatives differ, or of all, with the ways to take it away; rows are folded away
    `under` so many of the `keys`, the first columns, in which they are alike, but for the first.
    """
    rows = frame if every else frame[frame[DIFFERS]]
    columns = [str(name) for name in frame if name != DIFFERS]
    if rows.empty:
        words = nothing if frame.empty else "The alternatives do not differ in this."
        return None, pages.show(pages.note("quiet", words))
    left_out = len(frame) - len(rows)
    caption = f"{title}, in {unit}" if unit and width == screen.NARROW_CHART else title
    caption += f"; {left_out} rows in which they are alike are left out" if left_out else ""
    if under:
        groups = rows[columns].groupby(columns[:under], sort=False)
        named = {", ".join(map(str, key)): group[columns[under:]] for key, group in groups}
        first = next(iter(named))
        inner = {name: _rows(group, width, keys - under, label=name) for name, group in named.items()}
        folds = [pages.folded(name, table, unfolded=name == first) for name, table in inner.items()]
        table = pages.show(pages.element("p", caption), *folds)
    else:
        table = pages.show(_rows(rows[columns], width, keys, caption=caption))
    ways = take(standing, {title: lambda: frame[columns]})
    return ways, mo.vstack([table, ways])


def _rows(frame: pd.DataFrame, width: int, keys: int, caption: str = "", label: str = "") -> pages.Markup:
    columns, rows = [str(name) for name in frame], [[*map(_cell, row)] for row in frame.to_numpy().tolist()]
    numbers = [name for at, name in enumerate(columns) if any(_is_number(row[at]) for row in rows)]
    return told(columns, rows, width, keys, caption=caption, label=label, numbers=numbers)


def _cell(cell: object) -> object:
    """A cell as it is read: numbers to two decimals where they are no whole ones."""
    return f"{cell:,}" if isinstance(cell, int) else f"{cell:,.2f}" if isinstance(cell, float) else cell


def _is_number(cell: object) -> bool:
    return isinstance(cell, str) and cell.replace(",", "").isdecimal()


def floors(standing: Sequence[Plan], dark: bool, width: int) -> mo.Html:
    """The floor plan of each, in as many rows as the screen needs."""
    wide = min(width, WIDE_PLAN, max(NARROW_PLAN, width // len(standing)))
    titles = frames.alternative_titles(standing)
    drawn = [views.map_drawn(planned, dark, wide, title=title) for title, planned in zip(titles, standing, strict=True)]
    return pages.charts_beside(*drawn)


def is_ready(tab: str, standing: Sequence[Plan], costing: Costing) -> bool:
    """Whether a tab can be shown at once; else what it waits for is begun."""
    return tab != "Cost" or len(standing[0].rooms) > MOST_COSTED or costing.is_done(standing)


def waiting(standing: Sequence[Plan]) -> mo.Html:
    """What is shown of a tab until it is ready."""
    words = (
        f"Every piece of {counted(len(standing), 'alternative')} is being taken off; what it costs stands here then."
    )
    return pages.show(pages.element("p", words, role="status"))


def cost_ranges(standing: Sequence[Plan], dark: bool, width: int) -> mo.Html:
    """What each alternative costs in money, with its range, and what that is."""
    drawn = charts.cost_ranges(frames.costs(standing), dark=dark, width=min(width, MATRIX_CHART))
    words = (
        "Bars are counted as they are ordered; rates of labour, finish, markup and tax are those of rates.csv, and "
        "assumptions until they are confirmed there. Alternatives share their rates, so that what one costs more than "
        "another is surer than either cost."
    )
    return mo.vstack([pages.Drawn(drawn), pages.show(pages.element("p", words, class_="pl-hint"))])


def cost_and_fit(standing: Sequence[Plan], dark: bool, width: int) -> mo.Html:
    """What cost buys: the frontier by what the first alternative asks for, and where the others stand beside it."""
    points, others = comparison.money(standing)
    titles, width = frames.alternative_titles(standing), min(width, MATRIX_CHART)
    names = {"stands": titles[0], "cost_name": standing[0].cost_name}
    drawn = charts.frontier(points, others, **names, compared=True, dark=dark, width=width)
    index = "The cost index goes by lengths of wall and by the share that trim covers; it is no price."
    counted = "Costs are of each room by itself, before bars are cut." if standing[0].currency else index
    words = (
        f"The line is the best that each cost can have by what {titles[0]} asks for, the first that was chosen; the "
        f"others stand at their own cost, as far from what they ask for themselves. {counted}"
    )
    return mo.vstack([pages.Drawn(drawn), pages.show(pages.element("p", words, class_="pl-hint"))])


def tier_matrix(standing: Sequence[Plan], every_room: bool, dark: bool, width: int) -> pages.Drawn:
    """The tier of each room in each alternative; of every room, or of those that differ."""
    tiers = frames.compare(standing)
    width = min(width, MATRIX_CHART)
    return pages.Drawn(charts.tier_matrix(tiers, differing_only=not every_room, dark=dark, width=width))


def step_down(standing: Sequence[Plan], dark: bool, width: int) -> pages.Drawn:
    """How the tiers step down from the entry, alternative beside alternative."""
    rooms, steps = frames.step_down(standing), frames.steps(standing)
    return pages.Drawn(charts.step_down(rooms, steps, dark=dark, width=width))
