"""Where the rooms of a step-down stand: boxes in columns by steps from the entry and in rows by tier.

Rooms are named in their boxes, the weightiest first, as many as there is room for; the rest of those that stand in one
place share a box that says how many they are.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache
from itertools import accumulate
from math import inf
from typing import NamedTuple

from planner.charts.names import short
from planner.charts.step_down_words import RoomRow
from planner.look.theme import TEXT, text_width

SIDE = 4.0
"""Pixels between a name and the sides of its box."""

WIDEST_WORD = 96.0
"""A longer word of a name is cut with an ellipsis [px]."""

MOST_LINES = 3
"""Of a name in its box."""

MOST_NAMED = 120
"""Rooms that are named in one picture; more could not be read."""

LEAST_GUTTER, MOST_GUTTER = 14.0, 150.0
"""Pixels between columns, in which the lines fall."""

GOOD_GUTTER = 40.0
"""Columns are made narrower for so wide gutters where that makes no row higher [px]."""

MOST_SPREAD = 20.0
"""So much higher than it need be is a row at most, where there is room [px]."""

APART = 3.0
"""Pixels between widths that are tried for a column."""

TIGHT_GUTTER = 8.0
"""Pixels between columns where no room can be named."""

MOST_TRIED = 16
"""Rooms out of their order for which a place is sought."""


class Style(NamedTuple):
    """How densely boxes stand [px]: size of type, height of a line, what a box has more, between boxes, of rows."""

    size: float
    line: float
    more: float
    gap: float
    row: float


STYLES = (
    Style(TEXT["note"], 13, 5, 4, 14),
    Style(TEXT["small"], 12, 4, 3, 9),
    Style(TEXT["small"], 11, 2, 2, 6),
)
"""From the airiest to the densest."""

Cell = tuple[int, int]
"""Depth and tier."""


@dataclass(frozen=True)
class Box:
    """A room, or several that stand in one place, on the sheet [px].

    `lines` is what is written in it: a name or, where `counted`, how many rooms there are.
    """

    rooms: tuple[str, ...]
    depth: int
    tier: int
    lines: tuple[str, ...]
    counted: bool
    x: float
    y: float
    x2: float
    y2: float

    @property
    def middle(self) -> float:
        """Half its height."""
        return (self.y + self.y2) / 2

    def moved(self, right: float, down: float) -> "Box":
        """The box elsewhere on the sheet."""
        return replace(self, x=self.x + right, y=self.y + down, x2=self.x2 + right, y2=self.y2 + down)


@dataclass(frozen=True)
class Places:
    """Where columns (by depth) and rows (by tier) begin and end in every panel, and the boxes, panel by panel [px].

    `size` is that of the type, `more` what a box has above and below its lines, `gutter` what lies between columns.
    """

    size: float
    more: float
    gutter: float
    columns: Mapping[int, tuple[float, float]]
    rows: Mapping[int, tuple[float, float]]
    panels: Sequence[Sequence[Box]]

    @property
    def bottom(self) -> float:
        """Where the last row ends."""
        return max(end for _, end in self.rows.values())

    @property
    def hidden(self) -> bool:
        """Whether some rooms are not named."""
        return any(box.counted for panel in self.panels for box in panel)


Option = tuple[float, tuple[str, ...]]
"""How wide a box must be [px] for some lines."""


@cache
def name_options(name: str, size: float) -> tuple[Option, ...]:
    """A name in one line, and in two and three where that makes it narrower."""
    words = tuple(_cut(word, size) for word in short(name).split())
    options: list[Option] = []
    for lines in range(1, min(MOST_LINES, len(words)) + 1):
        best = min((_wide(split, size), split) for split in _splits(words, lines))
        if not options or best[0] < options[-1][0] - 1:
            options.append(best)
    return tuple(options)


def _splits(words: tuple[str, ...], lines: int) -> Iterator[tuple[str, ...]]:
    """All ways to set words in so many lines."""
    if lines == 1:
        yield (" ".join(words),)
        return
    for first in range(1, len(words) - lines + 2):
        for rest in _splits(words[first:], lines - 1):
            yield (" ".join(words[:first]), *rest)


def _wide(lines: Sequence[str], size: float) -> float:
    return max(text_width(line, size) for line in lines) + 2 * SIDE


def _cut(word: str, size: float) -> str:
    """A word, ending in an ellipsis where it is too wide."""
    if text_width(word, size) <= WIDEST_WORD:
        return word
    fits = max(n for n in range(len(word)) if text_width(word[:n], size) <= WIDEST_WORD - size)
    return f"{word[:fits]}…"


def count_options(number: int, size: float, tight: bool = False) -> tuple[Option, ...]:
    """How many rooms more there are; where it is `tight`, as short as can be."""
    texts = (f"+{number}", f"{number}") if tight else (f"+{number}",)
    return tuple((text_width(text, size) + (1.5 if tight else 2) * SIDE, (text,)) for text in texts)


class Panel:
    """The rooms of one alternative by the cell that they stand in, the weightiest first."""

    def __init__(self, rooms: Sequence[RoomRow], order: Sequence[str]) -> None:
        rank = {name: number for number, name in enumerate(order)}
        self.before = {r["room"]: r["before"] for r in rooms}
        self.cells: dict[Cell, list[str]] = {}
        for r in sorted(rooms, key=lambda r: rank.get(r["room"], 0)):
            self.cells.setdefault((r["depth"], r["tier"]), []).append(r["room"])


Stack = list[tuple[Option, ...]]
"""The boxes of a cell from the top, each by its options."""


class Grid:
    """Columns as wide and rows as high as the boxes of all panels need them in a style, rows at least `least` px."""

    def __init__(
        self, panels: Sequence[Panel], named: set[str], style: Style, least: float = 0.0, tight: bool = False
    ) -> None:
        self.style, self.tight = style, tight
        self._least = max(least, style.line + style.more + style.row)
        self.stacks: dict[int, list[tuple[int, Stack]]] = {}
        tiers = set[int]()
        for panel in panels:
            for (depth, tier), names in panel.cells.items():
                own = [name_options(room, style.size) for room in names if room in named]
                self.stacks.setdefault(depth, []).append((tier, self.stack(own, len(names) - len(own))))
                tiers.add(tier)
        self.depths, self.tiers = range(max(self.stacks) + 1), range(max(tiers), min(tiers) - 1, -1)
        self.choices = {depth: self._choices(depth) for depth in self.depths}
        self.wide = {depth: choices[0] for depth, choices in self.choices.items()}
        self._heights: dict[tuple[int, float], dict[int, float]] = {}

    def stack(self, named: Stack, counted: int) -> Stack:
        """The boxes of a cell: those of rooms that are named, and one for those that are counted."""
        return [*named, count_options(counted, self.style.size, self.tight)] if counted else named

    def _choices(self, depth: int) -> list[float]:
        """Widths that a column may have, from the widest down to the least, apart from each other."""
        boxes = [box for _, stack in self.stacks.get(depth, ()) for box in stack]
        least = max((box[-1][0] for box in boxes), default=0.0)
        apart: list[float] = []
        for width in sorted({width for box in boxes for width, _ in box if width >= least}, reverse=True):
            if not apart or width <= apart[-1] - APART:
                apart.append(width)
        return [*apart, least] if not apart or apart[-1] > least else apart

    def narrow(self, most: float, height: float) -> bool:
        """Make columns narrower until they fit, the rows as little higher as can be; whether all then fits.

        `most` is what the columns may take side by side, `height` what the rows may take [px].
        """
        if sum(choices[-1] for choices in self.choices.values()) > most:
            return False
        while self.high <= height:
            if sum(self.wide.values()) <= most:
                return True
            _, less, depth = min(self._ways())
            self.wide[depth] += less
        return False

    def loosen(self, most: float) -> None:
        """Make columns narrower for what they may take together [px], as long as no row becomes higher."""
        high = self.high + 0.01
        while sum(self.wide.values()) > most and (ways := [way for way in self._ways() if way[0] <= high]):
            _, less, depth = min(ways)
            self.wide[depth] += less

    def _ways(self) -> Iterator[tuple[float, float, int]]:
        """Columns that can be narrower: how high all rows are then, by how much it is less wide, and its depth."""
        tallest = {tier: [self._least] for tier in self.tiers}
        for depth in self.stacks:
            for tier, height in self._column(depth, self.wide[depth]).items():
                tallest[tier].append(height)
        for heights in tallest.values():
            heights.sort()
        for depth in self.stacks:
            narrower = next((width for width in self.choices[depth] if width < self.wide[depth]), None)
            if narrower is not None:
                now, then = self._column(depth, self.wide[depth]), self._column(depth, narrower)
                high = 0.0
                for tier, heights in tallest.items():
                    others = heights[-1 if now.get(tier) != heights[-1] else -2]
                    high += max(others, then.get(tier, 0.0))
                yield high, narrower - self.wide[depth], depth

    @property
    def high(self) -> float:
        """The height of all rows."""
        return sum(self.row_heights.values())

    @property
    def row_heights(self) -> dict[int, float]:
        """The height of each row, from the best tier down."""
        heights = dict.fromkeys(self.tiers, self._least)
        for depth in self.stacks:
            for tier, height in self._column(depth, self.wide[depth]).items():
                heights[tier] = max(heights[tier], height)
        return heights

    def _column(self, depth: int, wide: float) -> dict[int, float]:
        """The height that each row must have for one column of a width."""
        if (depth, wide) not in self._heights:
            heights: dict[int, float] = {}
            for tier, stack in self.stacks[depth]:
                heights[tier] = max(heights.get(tier, 0.0), self.stack_height(stack, wide) + self.style.row)
            self._heights[depth, wide] = heights
        return self._heights[depth, wide]

    def stack_height(self, stack: Stack, wide: float) -> float:
        """The height of boxes one below the other."""
        lines = sum(len(lines_in(box, wide)) for box in stack)
        return lines * self.style.line + len(stack) * self.style.more + (len(stack) - 1) * self.style.gap


def lines_in(box: Sequence[Option], wide: float) -> tuple[str, ...]:
    """What is written in a box so wide: the fewest lines that fit, else those that are narrowest."""
    return next((lines for width, lines in box if width <= wide + 0.01), box[-1][1])


def deepest(panels: Sequence[Panel], width: float) -> int:
    """The depth down to which columns have room side by side [px], each as narrow as the numbers of its rooms."""
    grid = Grid(panels, set(), STYLES[-1], tight=True)
    ends = accumulate(grid.choices[depth][-1] + TIGHT_GUTTER for depth in grid.depths)
    return max((depth for depth, end in enumerate(ends) if end <= width), default=0)


def places(
    panels: Sequence[Panel], order: Sequence[str], left: float, width: float, height: float, least: float
) -> Places:
    """Where everything stands.

    Parameters
    ----------
    panels : the rooms of each alternative, no deeper than `deepest`.
    order : all rooms, those to be named before others first.
    left : where the first column begins [px].
    width, height : what the columns and the rows of a panel may fill [px]; more where the numbers alone need it.
    least : the least height of a row [px].
    """
    columns = max(depth for panel in panels for depth, _ in panel.cells) + 1
    most = width - LEAST_GUTTER * columns

    def tried(named: Iterable[str], style: Style = STYLES[-1]) -> Grid | None:
        grid = Grid(panels, set(named), style, least)
        return grid if grid.narrow(most, height) else None

    named = list(order)
    grid = None
    if len(order) <= MOST_NAMED:
        grid = next((grid for style in STYLES if (grid := tried(order, style))), None)
    if grid is None:
        named = _as_many(order, lambda names: tried(names) is not None)
        grid = tried(named)
    if grid is None:
        grid = Grid(panels, set(), STYLES[-1], least, tight=True)
        grid.narrow(width - TIGHT_GUTTER * columns, inf)
    grid.loosen(width - GOOD_GUTTER * columns)
    return _set_out(grid, panels, set(named), left, width, height)


def _as_many(order: Sequence[str], fits: Callable[[Sequence[str]], bool]) -> list[str]:
    """As many rooms as can be named: the first so many of all, and of the next those for which there is room."""
    fitting, too_many = 0, min(len(order), MOST_NAMED) + 1
    while too_many - fitting > 1:
        middle = (fitting + too_many) // 2
        fitting, too_many = (middle, too_many) if fits(order[:middle]) else (fitting, middle)
    named = list(order[:fitting])
    for room in order[fitting + 1 : fitting + 1 + MOST_TRIED]:
        if fits([*named, room]):
            named.append(room)
    return named


def _set_out(grid: Grid, panels: Sequence[Panel], named: set[str], left: float, width: float, height: float) -> Places:
    """The boxes of all panels in columns spread over the width and rows spread a little over the height."""
    spare = width - sum(grid.wide.values())
    gutter = min(MOST_GUTTER, spare / len(grid.depths))
    starts = list(accumulate((grid.wide[depth] + gutter for depth in grid.depths), initial=left))
    columns = {depth: (starts[depth], starts[depth] + grid.wide[depth]) for depth in grid.depths}
    more = min(MOST_SPREAD, max(0.0, height - grid.high) / len(grid.tiers))
    heights = {tier: high + more for tier, high in grid.row_heights.items()}
    ends = list(accumulate(heights.values(), initial=0.0))
    rows = {tier: (ends[i], ends[i + 1]) for i, tier in enumerate(heights)}
    return Places(
        grid.style.size,
        grid.style.more,
        gutter,
        columns,
        rows,
        [list(_boxes(grid, panel, named, columns, rows)) for panel in panels],
    )


def _boxes(
    grid: Grid,
    panel: Panel,
    named: set[str],
    columns: Mapping[int, tuple[float, float]],
    rows: Mapping[int, tuple[float, float]],
) -> Iterator[Box]:
    """The boxes of a panel, column by column, in each cell in the order of the heights that they are reached from."""
    style, at = grid.style, dict[str, float]()
    for depth, tier in sorted(panel.cells):
        (x, x2), (top, bottom) = columns[depth], rows[tier]
        own, shared = _more_named(grid, panel.cells[depth, tier], x2 - x, named, bottom - top - style.row)
        own.sort(key=lambda room: (at.get(panel.before[room], 0.0), room))
        stack = grid.stack([name_options(room, style.size) for room in own], len(shared))
        groups = [(room,) for room in own] + ([tuple(shared)] if shared else [])
        y = (top + bottom - grid.stack_height(stack, x2 - x)) / 2
        for i, (rooms, options) in enumerate(zip(groups, stack, strict=True)):
            lines = lines_in(options, x2 - x)
            end = y + len(lines) * style.line + style.more
            at |= dict.fromkeys(rooms, (y + end) / 2)
            yield Box(rooms, depth, tier, lines, i == len(own), x, y, x2, end)
            y = end + style.gap


def _more_named(
    grid: Grid, rooms: Sequence[str], wide: float, named: set[str], height: float
) -> tuple[list[str], list[str]]:
    """The rooms of a cell that are named and those that are not, more of them named where its row has the height."""
    own, shared = [room for room in rooms if room in named], [room for room in rooms if room not in named]
    for room in list(shared):
        options = [name_options(name, grid.style.size) for name in (*own, room)]
        if (
            options[-1][-1][0] <= wide
            and grid.stack_height(grid.stack(options, len(shared) - 1), wide) <= height + 0.01
        ):
            own.append(room)
            shared.remove(room)
    return own, shared
