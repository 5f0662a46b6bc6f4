"""Story poles of all packages, as sheets. Lengths in inches of paper.

They are drawn to a scale, with figures, and not at full size: ten feet of paper in eight joined sheets stretch with the
weather and with the printer, and every joint adds to it, where a stick that is marked from one tape does not.
"""

from collections.abc import Iterator, Sequence

from planner.deliverables.sheets.frame import LETTERING, Frame
from planner.deliverables.sheets.keyed import bar_figure
from planner.deliverables.sheets.sheet import (
    Drawn,
    Item,
    Sheet,
    Table,
    Words,
    figure_of,
    line_height,
    lines,
    table_height,
)
from planner.drawings.pole import pole_shapes
from planner.drawings.scale import Scale
from planner.drawings.scene import bounds, unbroken
from planner.planning.answer import Plan
from planner.trim.packages import Package
from planner.units import METRIC, Unit, format_length, listed
from planner.walls.story_poles import Mark

RATIOS, METRIC_RATIOS = (8, 12, 16, 24, 32, 48, 96), (10, 20, 25, 50, 100)
"""Scales of story poles: those of an architect's rule, and the reduction scales of ISO 5455:1979 with 1 : 25 (common
practice); from memory."""

ABREAST, GAP = 2, 0.4
"""So many poles stand side by side on a sheet, and what is kept between them [in]."""

HEAD = ("Mark", "From the floor", "From the ceiling", "Where")
SHARES = (0.34, 0.175, 0.175, 0.31)
"""The columns of a pole's table, and how its width is shared out."""

NAMED = 1
"""Of more places than so many the rest is counted on the sheet; the table that goes to other tools has all."""

NOTE = (
    "Mark the stick from one tape, from the floor up; where floor and ceiling are not level, base and rails keep to "
    "the floor, crown and picture rail to the ceiling."
)


def story_pole_sheets(plan: Plan, frame: Frame) -> Iterator[Sheet]:
    """The poles of all packages, some of them side by side on a sheet at one scale."""
    packages = list(plan.story_poles)
    for n in range(0, len(packages), ABREAST):
        some = packages[n : n + ABREAST]
        tallest = max(plan.story_poles[package].ceiling for package in some)
        scale = _scale(plan.house.unit, tallest, frame)
        wide = (frame.across - GAP * (ABREAST - 1)) / ABREAST
        bar = bar_figure(scale)
        low = frame.down - bar.height - 0.1
        items = [
            item for i, package in enumerate(some) for item in _pole(plan, package, scale, i * (wide + GAP), wide, low)
        ]
        items.append(Words(0.0, frame.down - line_height("small"), (NOTE,), "small"))
        items.append(Drawn(frame.across - bar.width, frame.down - bar.height, bar))
        yield Sheet("S", f"Story poles: {listed([package.label for package in some])}", scale.words, tuple(items))


def _scale(unit: Unit, tallest: float, frame: Frame) -> Scale:
    """The largest scale at which a stick so long [in] finds room between heading and foot, else the smallest."""
    ratios = METRIC_RATIOS if unit in METRIC else RATIOS
    ratio = next((r for r in ratios if tallest / r <= frame.down - 1.0), ratios[-1])
    return Scale(ratio, unit, LETTERING)


def _pole(plan: Plan, package: Package, scale: Scale, x: float, wide: float, down: float) -> list[Item]:
    """A pole with its table beside it, from x on, so wide, no lower than `down` [in]."""
    pole, heading = plan.story_poles[package], lines(package.label, wide, "title")
    top = len(heading) * line_height("title") + 0.15
    for count in range(len(pole.marks), 0, -1):
        marks = _fewer(pole.marks, count)
        shapes = pole_shapes(marks, pole.ceiling, scale)
        box = bounds(shapes)
        left = x + (box.x1 - box.x0) / scale.ratio + 0.15
        widths = tuple(share * (x + wide - left) for share in SHARES)
        table = Table(left, top, widths, HEAD, tuple(_row(m, pole.ceiling, plan.house.unit) for m in reversed(marks)))
        if max(table_height(table), (box.y1 - box.y0) / scale.ratio) <= down - top:
            break
    return [Words(x, 0.0, heading, "title", True), Drawn(x, top, figure_of(shapes, box, scale)), table]


def _fewer(marks: Sequence[Mark], count: int) -> list[Mark]:
    """So many of the marks, those that hold everywhere before others; the table that goes to other tools has all."""
    first = sorted(range(len(marks)), key=lambda n: (bool(marks[n].where), n))[:count]
    return [marks[n] for n in sorted(first)]


def _row(mark: Mark, ceiling: float, unit: Unit) -> tuple[str, ...]:
    down = unbroken(format_length(ceiling - mark.height, unit)) if mark.height < ceiling else ""
    return mark.name, unbroken(format_length(mark.height, unit)), down, _places(mark.where)


def _places(where: tuple[str, ...]) -> str:
    if len(where) <= NAMED:
        return ", ".join(where)
    return f"{', '.join(where[:NAMED])} and {len(where) - NAMED} more"
