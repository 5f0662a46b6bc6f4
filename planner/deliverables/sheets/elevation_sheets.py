"""Elevations by room: the walls of the house in rows, all at one scale, each sheet with its key. Lengths in inches."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from planner.deliverables.sheets.frame import Frame, wall_scales
from planner.deliverables.sheets.keyed import Foot, foot
from planner.deliverables.sheets.sheet import (
    UNDER,
    Caption,
    Drawn,
    Figure,
    Item,
    Sheet,
    caption_height,
    figure_of,
    lines,
)
from planner.deliverables.sheets.walls import drawn_walls, in_parts, plain_walls
from planner.drawings.elevation import figure, written_round
from planner.drawings.key import Key, key_of
from planner.drawings.measures import Told, beside, heights
from planner.drawings.scale import Scale
from planner.planning.answer import Plan
from planner.units import format_length, listed
from planner.walls.layout import WallLayout

Strings = tuple[tuple[float, ...], ...]
"""The points of some strings of dimensions [in]."""

GAP, ROW_GAP = 0.25, 0.2
"""Plain paper between two walls, and between two rows [in]."""

NARROWEST = 1.5
"""A wall is given no less than this, so that its caption finds room [in]."""

MANY, MOST = 80, 120
"""So many sheets of elevations are not exceeded where a smaller scale avoids it, and are the most that are made."""

LEGIBLE = 3
"""So many of the largest scales are legible to those who build from them."""

NEAR = 12
"""A row is joined by what comes no more than so many rows later."""

WIDE_LETTERS = "MM"
"""As wide as any letter of a key."""


class Cell(NamedTuple):
    """A wall with what it takes [in]: its width, what it takes above and below its floor, and its caption; and which
    heights stand beside it."""

    layout: WallLayout
    title: tuple[str, ...]
    said: tuple[str, ...]
    told: Told
    width: float
    above: float
    below: float


@dataclass(frozen=True)
class Row:
    """Walls side by side on one floor line."""

    cells: tuple[Cell, ...]

    @property
    def width(self) -> float:
        """What it takes [in]."""
        return sum(cell.width for cell in self.cells) + GAP * (len(self.cells) - 1)

    @property
    def above(self) -> float:
        """From its upper edge to the floor [in]."""
        return max(cell.above for cell in self.cells)

    @property
    def foot(self) -> float:
        """From its upper edge to the captions [in]."""
        return self.above + max(cell.below for cell in self.cells)

    @property
    def height(self) -> float:
        """What it takes, captions included [in]."""
        return self.foot + UNDER + max(caption_height(len(cell.title), len(cell.said)) for cell in self.cells)


@dataclass(frozen=True)
class Elevations:
    """The sheets of a house's walls, the scale of all of them, and the rooms of which walls found no place."""

    sheets: tuple[Sheet, ...]
    scale: Scale
    left_out: tuple[str, ...]


def elevations(plan: Plan, frame: Frame) -> Elevations:
    """The walls of all rooms, in the order of the house, at the largest scale at which they fit.

    Parameters
    ----------
    plan : a plan.
    frame : of the paper.

    Notes
    -----
    A wall along which nothing but level trim runs is named and not drawn. The scale is the largest at which every wall
    fits a sheet and no more than MANY sheets are needed; where there is none, the smallest of the LEGIBLE at which each
    wall fits, else the largest of the others. From the smallest of the LEGIBLE on, a wall too wide for a sheet is
    parted. Of a house that fills more than MOST sheets the rooms of the highest tiers are drawn, and the others named.
    """
    rooms = [room.name for room in plan.house.rooms]
    found = _at_a_scale(plan, rooms, frame)
    scale, kept = found.scale, rooms
    while len(found.pages) > MOST:
        fewer = max(len(kept) * MOST // len(found.pages), 1)
        chosen = set(sorted(kept, key=lambda room: -plan.by_name[room].tier)[: min(fewer, len(kept) - 1)])
        kept = [room for room in kept if room in chosen]
        found = _laid_out(plan, kept, frame, scale, parted=True)
    sheets = tuple(_sheet(plan, rows, frame, scale) for rows in found.pages)
    return Elevations(sheets, scale, tuple(room for room in rooms if room not in set(kept)))


class _Laid(NamedTuple):
    """Rooms laid out at a scale: the rows of each sheet, and whether each wall fits its sheet."""

    scale: Scale
    pages: tuple[tuple[Row, ...], ...]
    fits: bool


def _at_a_scale(plan: Plan, rooms: Sequence[str], frame: Frame) -> _Laid:
    """Rooms laid out at the scale that `elevations` tells of."""
    offered = wall_scales(plan.house.unit)
    legible: list[_Laid] = []
    for n, scale in enumerate(offered):
        laid = _laid_out(plan, rooms, frame, scale, parted=n >= LEGIBLE - 1)
        if laid.fits and (n >= LEGIBLE or len(laid.pages) <= MANY):
            return laid
        legible += [laid] if laid.fits else []
        if n == LEGIBLE - 1 and legible:
            return legible[-1]
    return laid


def _laid_out(plan: Plan, rooms: Sequence[str], frame: Frame, scale: Scale, parted: bool) -> _Laid:
    """Rooms laid out at a scale; where walls may be `parted`, none is too wide."""
    rows = tuple(_rows(plan, rooms, frame, scale))
    pages = tuple(_pages(plan, rows, frame, scale))
    whole = parted or all(wall.length <= _widest(frame, scale) for room in rooms for wall in plan.walls[room])
    return _Laid(scale, pages, whole and all(_fits(plan, page, frame, scale) for page in pages))


def _rows(plan: Plan, rooms: Sequence[str], frame: Frame, scale: Scale) -> Iterator[Row]:
    """The walls of rooms in rows, each room's in as few as hold it, clockwise.

    What fills a row only in part is joined by the next of its level that finds room beside it, NEAR by.
    """
    rows: list[tuple[Row, str]] = []
    for room in rooms:
        level = plan.house.by_name[room].level
        for part in _of_room(plan, room, frame, scale):
            for n in range(max(len(rows) - NEAR, 0), len(rows)):
                both = Row((*rows[n][0].cells, *part.cells))
                if rows[n][1] == level and both.width <= frame.across and _fits(plan, (both,), frame, scale):
                    rows[n] = both, level
                    break
            else:
                rows.append((part, level))
    yield from (row for row, _ in rows)


def _of_room(plan: Plan, room: str, frame: Frame, scale: Scale) -> Iterator[Row]:
    """The walls of a room in rows, the heights that are common to some of them beside the first in each row."""
    walls = [part for wall in drawn_walls(plan.walls[room]) for part in in_parts(wall, _widest(frame, scale))]
    key = _wide(key_of([layout for layout, _ in walls]))
    cells: tuple[Cell, ...] = ()
    told: set[Strings] = set()
    for layout, title in walls:
        cell = _cell(layout, title, _side(plan, layout), scale, key, _told(layout, told))
        if cells and Row((*cells, cell)).width > frame.across:
            yield Row(cells)
            cells, told = (), set()
            cell = _cell(layout, title, _side(plan, layout), scale, key, _told(layout, told))
        cells = (*cells, cell)
    yield Row(cells)


def _told(layout: WallLayout, told: set[Strings]) -> Told:
    """Which heights stand beside a wall, those `told` before it in its room and row left out; its own are added."""
    runs, around = (heights(layout).points,), tuple(measured.points for measured in beside(layout, joined=True))
    found = Told(runs not in told, around not in told, joined=True)
    told |= {runs, around}
    return found


def _widest(frame: Frame, scale: Scale) -> float:
    """How long a wall may be that is not parted: what the sheet holds, without what is written beside it [in]."""
    return (frame.across - 3.0) * scale.ratio


def _side(plan: Plan, layout: WallLayout) -> str:
    """Which wall of its room one is that is known by a number; "" of one that the compass names."""
    wall = plan.house.by_name[layout.room].wall(layout.wall) if layout.wall.isdecimal() else None
    return f" · on the {wall.side}" if wall is not None else ""


def _cell(layout: WallLayout, title: str, side: str, scale: Scale, key: Key, told: Told) -> Cell:
    _, box = written_round(layout, scale, key, "", told)
    width = max((box.x1 - box.x0) / scale.ratio, NARROWEST)
    said = f"{layout.package.label} · {format_length(layout.length, layout.unit)} long{side}"
    heading = lines(title, width - 0.35, "label"), lines(said, width - 0.35, "small")
    return Cell(layout, *heading, told, width, box.y1 / scale.ratio, -box.y0 / scale.ratio)


def _pages(plan: Plan, rows: Iterable[Row], frame: Frame, scale: Scale) -> Iterator[tuple[Row, ...]]:
    """Rows on sheets, with room for the key under them."""
    page: tuple[Row, ...] = ()
    for row in rows:
        if page and not _fits(plan, (*page, row), frame, scale):
            yield page
            page = ()
        page = (*page, row)
    if page:
        yield page


def _fits(plan: Plan, rows: Sequence[Row], frame: Frame, scale: Scale) -> bool:
    """Whether rows fit a sheet with what stands at its foot."""
    taken = sum(row.height for row in rows) + ROW_GAP * (len(rows) - 1)
    return taken + _foot(plan, _layouts(rows), frame, scale).height <= frame.down


def _layouts(rows: Iterable[Row]) -> list[WallLayout]:
    return [cell.layout for row in rows for cell in row.cells]


def _foot(plan: Plan, layouts: Sequence[WallLayout], frame: Frame, scale: Scale) -> Foot:
    """The key of the walls on a sheet, and which walls of their rooms are not drawn."""
    rooms = dict.fromkeys(layout.room for layout in layouts)
    return foot(key_of(layouts), frame.across, scale, [said for room in rooms if (said := _not_drawn(plan, room))])


def _not_drawn(plan: Plan, room: str) -> str:
    plain = plain_walls(plan.walls[room])
    named = listed([f"{wall.wall} ({format_length(wall.length, wall.unit)})" for wall in plain])
    return f"{room}: plain, and not drawn: {named}." if plain else ""


def _sheet(plan: Plan, rows: Sequence[Row], frame: Frame, scale: Scale) -> Sheet:
    """One sheet: its rows spread over it, and its key at the foot."""
    layouts = _layouts(rows)
    key, below = key_of(layouts), _foot(plan, layouts, frame, scale)
    free = max(frame.down - sum(row.height for row in rows) - below.height, 0.0)
    items: list[Item] = []
    y, number = free / (2 * len(rows)), 0
    for row in rows:
        x = (frame.across - row.width) / 2
        for cell in row.cells:
            number += 1
            drawn = _drawn(cell, scale, key)
            items.append(Drawn(x, y + row.above - drawn.height + drawn.datum, drawn))
            items.append(Caption(x, y + row.foot + UNDER, cell.width, number, cell.title, cell.said))
            x += cell.width + GAP
        y += row.height + free / len(rows)
    items += below.items(frame.down - below.height)
    return Sheet("E", f"Elevations: {_named(layouts)}", scale.words, tuple(items))


def _named(layouts: Sequence[WallLayout]) -> str:
    """Rooms with their walls, e.g. "Library W and N, Coat Closet E"."""
    rooms = dict.fromkeys(layout.room for layout in layouts)
    walls = {room: dict.fromkeys(layout.wall for layout in layouts if layout.room == room) for room in rooms}
    return ", ".join(f"{room} {listed(list(names))}" for room, names in walls.items())


def _drawn(cell: Cell, scale: Scale, key: Key) -> Figure:
    shapes, box = figure(cell.layout, scale, key, "", cell.told)
    return figure_of(shapes, box, scale)


def _wide(key: Key) -> Key:
    """A key with letters as wide as any, for what is laid out before they are given."""
    return Key(dict.fromkeys(key.letters, WIDE_LETTERS), key.runs, key.told)
