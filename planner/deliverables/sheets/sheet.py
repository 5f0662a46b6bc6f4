"""Sheets as they are laid out, before they are typeset. Lengths in inches of paper, from the upper left corner of what
a sheet may be drawn on, downwards."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

from planner.drawings.printed import printed
from planner.drawings.scale import Scale
from planner.drawings.scene import TIED, Box, Shape
from planner.look import theme
from planner.units import MEASURE

POINT = 1 / 72
"""A typographic point [in]."""

LEADING = 1.22
"""From one line of text to the next, in heights of the type."""

JOINER = "\ue000"
"""A letter of no script: what stands for a blank at which no line is broken while lines are broken."""

TYPE = {"display": 20.0, "title": 11.0, "label": 9.0, "note": 8.0, "small": 7.0}
"""Sizes of type on papers [pt]."""


@dataclass(frozen=True)
class Figure:
    """A drawing: its SVG, how large it is, and how far its datum (a floor) lies above its foot [in]."""

    svg: str = field(repr=False)
    width: float
    height: float
    datum: float = 0.0


@dataclass(frozen=True)
class Words:
    """Lines of text, their upper left corner at (x, y) [in], in a size of TYPE."""

    x: float
    y: float
    lines: tuple[str, ...]
    type: str = "note"
    bold: bool = False

    @property
    def height(self) -> float:
        """What the lines take [in]."""
        return len(self.lines) * line_height(self.type)


@dataclass(frozen=True)
class Drawn:
    """A figure in its place, its upper left corner at (x, y) [in]."""

    x: float
    y: float
    figure: Figure


@dataclass(frozen=True)
class Caption:
    """What stands under a drawing: its number on the sheet in a ring, its title over a rule, and what is said of it.

    Its upper left corner is at (x, y), and it is so wide [in].
    """

    x: float
    y: float
    width: float
    number: int
    title: tuple[str, ...]
    said: tuple[str, ...]

    @property
    def height(self) -> float:
        """What it takes [in]."""
        return caption_height(len(self.title), len(self.said))


@dataclass(frozen=True)
class Table:
    """Rows under a heading, the upper left corner at (x, y); `widths` are those of the columns [in]."""

    x: float
    y: float
    widths: tuple[float, ...]
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    type: str = "small"


@dataclass(frozen=True)
class Rule:
    """A level hairline, its left end at (x, y), so long [in]."""

    x: float
    y: float
    width: float


Item = Words | Drawn | Caption | Table | Rule


@dataclass(frozen=True)
class Sheet:
    """A sheet: the letter of its kind, its title, the scale in words, what is on it, and its number in the set."""

    kind: str
    title: str
    scale: str
    items: tuple[Item, ...]
    number: str = ""


def numbered(sheets: Iterable[Sheet]) -> tuple[Sheet, ...]:
    """Sheets with their numbers: the letter of their kind and, within it, 1, 2, 3 …

    >>> [s.number for s in numbered([Sheet("E", "", "", ()), Sheet("E", "", "", ()), Sheet("D", "", "", ())])]
    ['E-1', 'E-2', 'D-1']
    """
    counts: dict[str, int] = {}
    found = []
    for sheet in sheets:
        counts[sheet.kind] = counts.get(sheet.kind, 0) + 1
        found.append(replace(sheet, number=f"{sheet.kind}-{counts[sheet.kind]}"))
    return tuple(found)


def figure_of(shapes: Iterable[Shape], box: Box, scale: Scale) -> Figure:
    """Shapes as a figure at a scale; its datum is y = 0."""
    return Figure(
        printed(shapes, box, scale),
        (box.x1 - box.x0) / scale.ratio,
        (box.y1 - box.y0) / scale.ratio,
        -box.y0 / scale.ratio,
    )


def line_height(type: str) -> float:
    """From one line of text to the next in a size of TYPE [in]."""
    return TYPE[type] * LEADING * POINT


def lines(text: str, width: float, type: str) -> tuple[str, ...]:
    """A text in lines no wider than that [in], broken inside words where one is too wide; a measure and what is
    `unbroken` are one word.

    >>> lines("head casing 7 1/2 in", 0.7, "small")
    ('head casing', '7 1/2 in')
    """
    found = theme.wrapped(MEASURE.sub(JOINER, text).replace(TIED, JOINER), width, TYPE[type] * POINT)
    return tuple(line.replace(JOINER, " ") for line in found) or ("",)


def paragraph(texts: Sequence[str], width: float, type: str) -> tuple[str, ...]:
    """Some texts in lines no wider than that [in], each beginning a line."""
    return tuple(line for text in texts for line in lines(text, width, type))


UNDER, BAR = 0.1, 0.1
"""Plain paper between a drawing and its caption, and what a scale bar takes under it [in]."""


def caption_height(titles: int, said: int) -> float:
    """What a caption takes with so many lines of title and under it [in]."""
    return titles * line_height("label") + said * line_height("small") + 0.12


def captioned(height: float, title: Sequence[str], said: Sequence[str]) -> float:
    """What a drawing as high as that takes with its caption [in]."""
    return height + UNDER + caption_height(len(title), len(said))


CELL = 3.0, 2.2
"""What a table keeps free beside and over what is in a cell [pt]."""


def table_height(table: Table) -> float:
    """What a table takes [in]."""
    each = [max(map(len, _cells(row, table))) for row in (table.head, *table.rows)]
    return sum(count * line_height(table.type) + 2 * CELL[1] * POINT for count in each)


def cells(table: Table) -> tuple[tuple[str, ...], ...]:
    """The cells of a table row by row, its heading first, each broken into lines that its column holds."""
    return tuple(tuple("\n".join(cell) for cell in _cells(row, table)) for row in (table.head, *table.rows))


def _cells(row: Sequence[str], table: Table) -> list[tuple[str, ...]]:
    beside = 2 * CELL[0] * POINT
    return [lines(text, width - beside, table.type) for text, width in zip(row, table.widths, strict=True)]
