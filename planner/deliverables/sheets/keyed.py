"""The foot of a sheet of drawings: their key, what is noted of them, and the scale bar. Lengths in inches of paper."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from planner.deliverables.sheets.sheet import Drawn, Figure, Item, Rule, Words, figure_of, line_height, lines, paragraph
from planner.drawings.key import Key
from planner.drawings.scale import Scale, scale_bar
from planner.drawings.scene import bounds

COLUMN, GUTTER = 2.9, 0.25
"""The least width of a column of a key, and what parts it from the next [in]."""

ASIDE = 3.1
"""What the scale bar and the notes take at the right, where the bar is not wider [in]."""

WIDE = "\u2003"
"""A wide blank, after a letter of the key."""

INDENT = 0.25
"""What a letter and the blank after it take [in]."""

HEAD = 0.24
"""The heading of the key, with the rule over it [in]."""


@dataclass(frozen=True)
class Foot:
    """What stands at the foot of a sheet so wide [in]: the columns of the key, and `aside` of them [in] the notes and
    the scale bar."""

    width: float
    aside: float
    columns: tuple[tuple[str, ...], ...]
    notes: tuple[str, ...]
    bar: Figure

    @property
    def height(self) -> float:
        """What it takes [in]."""
        told = max(map(len, self.columns), default=0) * line_height("small")
        return HEAD + max(told, self.bar.height + 0.08 + len(self.notes) * line_height("small"))

    def items(self, y: float) -> list[Item]:
        """It on a sheet, from a height down [in]."""
        pitch = (self.width - self.aside) / max(len(self.columns), 1)
        found: list[Item] = [Rule(0.0, y, self.width), Words(0.0, y + 0.06, ("Key",), "small", True)]
        for n, column in enumerate(self.columns):
            found.append(Words(n * pitch, y + HEAD, column, "small"))
        right = self.width - self.aside + GUTTER
        found.append(Words(right, y + 0.06, ("Scale",), "small", True))
        found.append(Drawn(right, y + HEAD, self.bar))
        if self.notes:
            found.append(Words(right, y + HEAD + self.bar.height + 0.08, self.notes, "small"))
        return found


def foot(key: Key, width: float, scale: Scale, notes: Sequence[str] = ()) -> Foot:
    """The foot of a sheet so wide [in], with a key, for drawings at a scale."""
    bar = bar_figure(scale)
    aside = max(ASIDE, bar.width + GUTTER)
    count = max(1, int((width - aside) / (COLUMN + GUTTER)))
    across = (width - aside) / count - GUTTER
    said = [_entry(line, across) for line in key.lines]
    return Foot(width, aside, _columns(said, count), paragraph(notes, aside - GUTTER, "small"), bar)


def _entry(line: str, across: float) -> tuple[str, ...]:
    """What is said of one thing in lines no wider than that [in], its letter, if it has one, before a wide blank."""
    letter, _, words = line.partition("  ")
    if not words:
        return lines(line, across, "small")
    first, *more = lines(words, across - INDENT, "small")
    return f"{letter}{WIDE}{first}", *more


def _columns(said: Sequence[tuple[str, ...]], count: int) -> tuple[tuple[str, ...], ...]:
    """What is said in at most so many columns, as low as they can be without breaking what is said of one thing.

    >>> _columns([("A",), ("B", "b"), ("C",)], 2)
    (('A', 'B', 'b'), ('C',))
    """
    total = sum(map(len, said))
    for most in range(-(-total // count), total + 1):
        columns: list[tuple[str, ...]] = []
        for each in said:
            if columns and len(columns[-1]) + len(each) <= most:
                columns[-1] += each
            else:
                columns.append(each)
        if len(columns) <= count:
            break
    return tuple(columns) if said else ()


@lru_cache(maxsize=32)
def bar_figure(scale: Scale) -> Figure:
    """The scale bar as a figure."""
    shapes, _ = scale_bar(scale, 0.0, 0.0)
    return figure_of(shapes, bounds(shapes), scale)
