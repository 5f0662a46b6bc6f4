"""The first sheets of a set: what it is of, the house by tiers, its step-down, and the index. Lengths in inches."""

from collections.abc import Iterator, Sequence
from typing import Any

from planner import charts
from planner.charts.finished import FinishedChart
from planner.deliverables.papers import Stamp
from planner.deliverables.sheets.frame import Frame
from planner.deliverables.sheets.sheet import (
    Drawn,
    Figure,
    Item,
    Sheet,
    Table,
    Words,
    line_height,
    lines,
    paragraph,
    table_height,
)
from planner.look import theme
from planner.planning import frames
from planner.planning.answer import Plan
from planner.units import counted, listed

ASIDE, GAP = 3.3, 0.3
"""How wide the column of words is, and what parts it from the pictures [in]."""

PLANS = 0.6
"""The part of the sheet's height that the floor plans take."""

NARROWER = (1.0, 0.95, 0.9, 0.85, 0.8, 0.7, 0.6)
"""Shares of the width that are tried for a plan until it is low enough."""

SMALLEST = 0.82
"""A plan may be made so much smaller than it was laid out for; its type is then 6 pt at the least."""

HEADING = 40
"""What a plan's title takes with its margins [px]."""

MOST_LEVELS, MOST_ROOMS = 2, 60
"""A house of more levels, or more rooms, has a sheet for the plan of each level."""

NAMES, FEW_LINES = ("display", "title", "label", "small"), 4
"""What a house's name is set in, the first in which it takes no more lines than so many."""

MANY = 14
"""So many rooms of a tier are named."""

INDEX_COLUMNS, INDEX_GAP = 3, 0.4
"""The index stands in so many columns, so far apart [in]."""

INDEX_SHARES = (0.11, 0.52, 0.27, 0.10)
"""The columns of the index, and how its width is shared out."""

NOTES = (
    "Lengths are finished sizes. Measure on site before cutting: walls are seldom square, floors seldom level.",
    "Figures go before what is measured off the paper. Print at 100 %, and lay a rule on the scale bar.",
    "Letters on elevations are told in the key of the same sheet; packages are told on the sheets P.",
    "Papers with the same fingerprint (made from) are made from the same house, alternative, stock and rules.",
    "These drawings show trim. What local codes, structure, fire and escape ask for is for a licensed professional.",
)
"""What every set says of itself."""


def title_sheets(plan: Plan, stamp: Stamp, frame: Frame, notes: Sequence[str] = ()) -> Iterator[Sheet]:
    """The title sheet, and for a large house a plan of each level.

    Parameters
    ----------
    plan : a plan.
    stamp : what the papers say of themselves.
    frame : of the paper.
    notes : what this set says of itself beside NOTES.
    """
    left, wide = ASIDE + GAP, frame.across - ASIDE - GAP
    items: list[Item] = [*_words(plan, stamp, notes, frame.down)]
    levels = list(dict.fromkeys(room.level for room in plan.house.rooms))
    apart = len(levels) > MOST_LEVELS or len(plan.rooms) > MOST_ROOMS
    top = 0.0 if apart else PLANS * frame.down + 0.1
    plans = PLANS * frame.down
    if not apart:
        items.append(Drawn(left, 0.0, chart_figure(_plan_chart(plan, wide, plans), wide, plans)))
    steps = charts.step_down(
        frames.step_down([plan]), frames.steps([plan]), width=_px(wide), height=_px(frame.down - top)
    )
    items.append(Drawn(left, top, chart_figure(steps, wide, frame.down - top)))
    yield Sheet("T", f"{stamp.house}: interior trim", "plans by their bar", tuple(items))
    for level in levels if apart else ():
        chart = _plan_chart(plan, frame.across, frame.down, level)
        drawn = Drawn(0.0, 0.0, chart_figure(chart, frame.across, frame.down))
        yield Sheet("T", f"Plan by tiers: {level}", "by its bar", (drawn,))


def index_sheets(sheets: Sequence[Sheet], frame: Frame) -> list[Sheet]:
    """The index of numbered sheets, on sheets of its own.

    Parameters
    ----------
    sheets : all sheets of the set in their order, from its first page.
    frame : of the paper.
    """
    wide = (frame.across - INDEX_GAP * (INDEX_COLUMNS - 1)) / INDEX_COLUMNS
    widths = tuple(share * wide for share in INDEX_SHARES)
    head, found = ("Sheet", "Title", "Scale", "Page"), list[Sheet]()
    rows = [(s.number, s.title, s.scale, str(page)) for page, s in enumerate(sheets, 1)]
    columns: list[list[tuple[str, ...]]] = [[]]
    for row in rows:
        if table_height(Table(0.0, 0.0, widths, head, (*columns[-1], row))) > frame.down - 0.4 and columns[-1]:
            columns.append([])
        columns[-1].append(row)
    for n in range(0, len(columns), INDEX_COLUMNS):
        some = columns[n : n + INDEX_COLUMNS]
        items: list[Item] = [Words(0.0, 0.0, ("Index of sheets",), "title", True)]
        items += (Table(i * (wide + INDEX_GAP), 0.4, widths, head, tuple(column)) for i, column in enumerate(some))
        found.append(Sheet("T", "Index of sheets", "", tuple(items)))
    return found


def chart_figure(chart: FinishedChart, wide: float, high: float) -> Figure:
    """A chart as a figure, no larger than asked [in]."""
    import vl_convert  # only here: nobody else pays for it

    spec: dict[str, Any] = chart.to_dict(validate=False)
    spec = {**spec, "background": "#ffffff", "config": {**spec.get("config", {}), "font": theme.PRINT_FONT}}
    svg = vl_convert.vegalite_to_svg(spec)
    size = (
        float(svg.split(f'{name}="', 1)[1].split('"', 1)[0]) / theme.PIXELS_PER_INCH for name in ("width", "height")
    )
    across, down = size
    shrunk = min(1.0, wide / across, high / down)
    return Figure(svg, across * shrunk, down * shrunk)


def _plan_chart(plan: Plan, wide: float, high: float, level: str | None = None) -> FinishedChart:
    """The floor plan as wide as finds room with the key to all its codes [in]; where it never does, what there is room
    for."""
    told = frames.rooms(plan), frames.openings(plan)
    for share in NARROWER:
        chart = charts.floor_plan(*told, level=level, width=_px(share * wide), across=True, clicked=False)
        if chart.to_dict(validate=False)["height"] * SMALLEST <= _px(high) - HEADING:
            return chart
    return charts.floor_plan(*told, level=level, width=_px(wide), height=_px(high), across=True, clicked=False)


def _px(inches: float) -> int:
    return int(inches * theme.PIXELS_PER_INCH)


def _words(plan: Plan, stamp: Stamp, notes: Sequence[str], down: float) -> Iterator[Item]:
    """The column of words: what the set is of, what is noted, and who has which tier, as far as there is room [in]."""
    facts = [
        f"Interior trim: {plan.style.capitalize()}, {plan.order.capitalize()} order; grade: {plan.grade}.",
        f"{counted(len(plan.rooms), 'room')}, {counted(len(plan.packages), 'package')}.",
        f"{stamp.day.isoformat()} · made from {stamp.fingerprint}",
    ]
    name = next((type for type in NAMES if len(lines(stamp.house, ASIDE, type)) <= FEW_LINES), NAMES[-1])
    told = ([stamp.house], name, True), ([stamp.alternative], "label" if name == NAMES[-1] else "title", False)
    y = 0.0
    for texts, type, bold in (
        *told,
        (facts, "note", False),
        ([*NOTES, *notes], "small", False),
        (_tiers(plan), "small", False),
    ):
        found = paragraph(texts, ASIDE, type)
        most = int((down - y) / line_height(type))
        kept = found if len(found) <= most else (*found[: max(most - 1, 0)], "…")
        block = Words(0.0, y, kept, type, bold)
        if most > 0:
            yield block
        y += block.height + line_height("small")


def _tiers(plan: Plan) -> list[str]:
    """The rooms of each tier, the highest first."""
    found = []
    for tier, name in reversed(list(enumerate(plan.tier_names, 1))):
        rooms = [room.room.name for room in plan.rooms if room.tier == tier]
        if rooms:
            some = listed([*rooms[:MANY], *([f"{len(rooms) - MANY} more"] if len(rooms) > MANY else [])])
            found.append(f"{tier} {name}: {some}.")
    return found
