"""What is written in the rooms of a floor plan: tier and name where they fit, else a code with its key below."""

from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache
from typing import NamedTuple

from planner.charts.label_box import Box, free_boxes, label_box
from planner.charts.names import short
from planner.charts.rooms import RoomRow, move_mark
from planner.charts.sheet import LEADING, Sheet
from planner.house.model import Point
from planner.look.theme import TEXT, text_width, wrapped
from planner.units import counted

SIZES = (13, 12, 11, TEXT["small"])
"""Sizes of type of a room's label, the first that fits."""

CODE_SIZES = (12, 11, TEXT["small"])
"""Sizes of type of a code."""

LOOSE, TIGHT = (3.0, 2.0), (2.0, 1.0)
"""Pixels kept free beside a label, and above and below it: as it should be, and where there is no other place."""

CHIP = 4.0
"""How much longer the chip below a line is [px]."""

BOLD = 1.08
"""How much wider bold type is."""

LOW = 0.8
"""A code stands in a room as low as this part of its lines, which have no letters below the line."""


LETTERS = "abcdefghjkmnpqrstuvwxyz"
"""What codes are made of."""

INDENT, KEY_LINE = 26, TEXT["note"] * LEADING
"""Pixels from a code to what it stands for, and from one line of that to the next."""


class Label(NamedTuple):
    """Lines of text about a place on the sheet [px]; the first is bold, one may be `marked` as telling of a move."""

    lines: tuple[str, ...]
    size: float
    box: Box
    marked: int | None = None

    def rows(self) -> Iterator[tuple[str, float]]:
        """Each line with the height of its middle on the sheet."""
        top = self.box.y - (len(self.lines) - 1) * self.size * LEADING / 2
        return ((text, top + i * self.size * LEADING) for i, text in enumerate(self.lines))

    @property
    def chip(self) -> Box | None:
        """What lies below the marked line."""
        if self.marked is None:
            return None
        text, y = list(self.rows())[self.marked]
        return Box(self.box.x, y, text_width(text, self.size) * BOLD + CHIP, self.size + 3)


class Floor(NamedTuple):
    """A room's corners on the sheet, and what the signs of its openings take of it [px]."""

    corners: tuple[Point, ...]
    taken: tuple[Box, ...]


class Words(NamedTuple):
    """What is to be written in a room: the tier's number and name, the room's name, whether it is the entry, and the
    tier that it had `before`, where that has moved.
    """

    tier: int
    tier_name: str
    name: str
    entry: bool
    before: int | None

    @property
    def mark(self) -> str:
        """The sign of a move."""
        return "" if self.before is None else move_mark(self.tier, self.before)

    def ways(self) -> Iterator["Way"]:
        """The ways to write it, the best first; a name that says so itself needs no word for the entry."""
        below = ("entry",) if self.entry and "entry" not in self.name.lower() else ()
        moved = (f"{self.mark} from {self.before}",) if self.mark else ()
        yield Way(f"{self.tier} {self.tier_name}".rstrip(), below + moved, -1 if moved else None, 0)
        yield Way(str(self.tier), below + moved, -1 if moved else None, 2)
        if moved:
            yield Way(f"{self.tier}{self.mark}", below, 0, 3)

    def codes(self, code: str) -> Iterator["Way"]:
        """The ways to write the tier with a code in its place, the best first; the last is without the code."""
        for text in dict.fromkeys((f"{self.tier}{code}", str(self.tier))):
            yield Way(f"{text}{self.mark}", (), 0 if self.mark else None, 0)
            if self.mark:
                yield Way(text, (self.mark,), -1, 0)


class Way(NamedTuple):
    """One way to write a label: above the name, below it, which of these lines tells of a move, and its price."""

    above: str
    below: tuple[str, ...]
    marked: int | None
    price: float


def words_of(room: RoomRow, before: int | None) -> Words:
    """What is to be written in a room; `before` is the tier that it had where that has moved."""
    return Words(room["tier"], room["tier_name"], short(room["room"]), room["entry"], before)


@lru_cache(maxsize=4096)
def placed(words: Words, floor: Floor) -> Label | None:
    """A room's label where no door swings, in large type, with the tier's name and near the middle as far as can be had
    together; where there is no such place, in small type where the fewest swings are; None where the room is too small.
    """
    middle, free = label_box(floor.corners), free_boxes(floor.corners, floor.taken)
    for kept in (LOOSE, TIGHT):
        fitting = [found for box in free for size in SIZES for found in _fitted(words, box, size, middle, kept)]
        if fitting:
            return min(fitting, key=lambda found: found[0])[1]
    wanted = [middle, *free]
    among = [label for box in wanted for _, label in _fitted(words, middle, SIZES[-1], box, TIGHT)]
    return min(among, key=lambda label: _covered(label, floor.taken), default=None)


def _covered(label: Label, taken: Sequence[Box]) -> float:
    """How much of what is taken a label lies on [px²]."""
    return sum(label.box.shared(box) for box in taken)


def _fitted(
    words: Words, box: Box, size: float, wanted: Box, kept: tuple[float, float]
) -> Iterator[tuple[float, Label]]:
    """The labels without a broken word that stand inside a box, each with its price: a smaller size, more lines, less
    of the tier, and the way from where it is wanted.
    """
    width, height = box.width - 2 * kept[0], box.height - 2 * kept[1]
    if any(text_width(word, size) > width for word in words.name.split()):
        return
    name = wrapped(words.name, width, size)
    for way in words.ways():
        lines = (way.above, *name, *way.below)
        long, high = _extent(lines, size)
        if long <= width and high <= height:
            stands = Box(box.x, box.y, width, height).nearest(long, high, (wanted.x, wanted.y))
            away = abs(stands.x - wanted.x) + abs(stands.y - wanted.y)
            price = SIZES[0] - size + 0.8 * len(lines) + way.price + 0.02 * away
            yield price, Label(lines, size, stands, _index(way.marked, lines))


def _index(marked: int | None, lines: Sequence[str]) -> int | None:
    return None if marked is None else marked % len(lines)


def _extent(lines: tuple[str, ...], size: float) -> tuple[float, float]:
    """How long and how high some lines are, the first of them bold [px]."""
    long = max(text_width(text, size) * (1 if i else BOLD) for i, text in enumerate(lines))
    return long, (len(lines) - 1) * size * LEADING + size


@lru_cache(maxsize=4096)
def coded(words: Words, code: str, floor: Floor) -> Label | None:
    """A room's tier with a code where no door swings if there is such a place, else in the middle, else its tier alone;
    None where neither fits. A room that moved and is too small for these has the sign of that alone.
    """
    middle = label_box(floor.corners)
    for way in words.codes(code):
        for boxes in (free_boxes(floor.corners, floor.taken), (middle,)):
            lines = (way.above, *way.below)
            for size in CODE_SIZES:
                long, high = _extent(lines, size)
                beside = CHIP if way.marked == 0 else 0.0
                fitting = [box for box in boxes if long + beside <= box.width and high * LOW <= box.height]
                if fitting:
                    return _nearest(lines, size, fitting, middle, _index(way.marked, lines))
    return _nearest((words.mark,), TEXT["small"], [middle], middle, 0) if words.mark else None


def _nearest(lines: tuple[str, ...], size: float, boxes: Sequence[Box], middle: Box, marked: int | None) -> Label:
    """Lines in the box where they stand nearest to the middle."""
    long, high = _extent(lines, size)
    ways = [
        Box(b.x, b.y, max(b.width, long), max(b.height, high)).nearest(long, high, (middle.x, middle.y)) for b in boxes
    ]
    return Label(lines, size, min(ways, key=lambda box: abs(box.x - middle.x) + abs(box.y - middle.y)), marked)


def letters(number: int) -> str:
    """Letters that stand for a number from 0 up, without those that look like numbers.

    >>> [letters(n) for n in (0, 22, 23, 551, 552)]
    ['a', 'z', 'aa', 'zz', 'aaa']
    """
    found = ""
    number += 1
    while number:
        number, rest = divmod(number - 1, len(LETTERS))
        found = LETTERS[rest] + found
    return found


class Keys(NamedTuple):
    """What codes stand for, in columns: each code with its lines and the place of the first on the sheet [px]."""

    rows: tuple[tuple[str, list[str], Point], ...]

    def above(self, bottom: float) -> "Keys":
        """Those that end above a line, with room to say how many are left out; none if fewer than half."""
        if all(_ends(row) <= bottom for row in self.rows):
            return self
        fitting = tuple(row for row in self.rows if _ends(row) <= bottom - KEY_LINE - 4)
        return Keys(fitting if len(fitting) >= len(self.rows) / 2 else ())

    def write(self, sheet: Sheet, top: float, left_out: int) -> float:
        """Write them below `top`, and how many are left out; returns where they end."""
        look, end = sheet.look, top
        for code, lines, (x, y) in self.rows:
            sheet.write(code, x, y + TEXT["note"] / 2, look.ink, TEXT["note"], bold=True)
            for i, words in enumerate(lines):
                sheet.write(words, x + INDENT, y + TEXT["note"] / 2 + i * KEY_LINE, look.ink, TEXT["note"])
            end = max(end, _ends((code, lines, (x, y))) + 3)
        if not left_out:
            return end
        told = f"and {counted(left_out, 'code')} more: pick a room for its name"
        sheet.write(told, 2, end + TEXT["note"] / 2, look.soft, TEXT["note"])
        return end + KEY_LINE


def _ends(row: tuple[str, list[str], Point]) -> float:
    _, lines, (_, y) = row
    return y + len(lines) * KEY_LINE


def keys(sheet: Sheet, top: float, keyed: Mapping[str, str]) -> Keys:
    """What codes stand for, below `top` [px] in as many columns as fit."""
    widest = max((text_width(text, TEXT["note"]) for text in keyed.values()), default=0.0) + INDENT + 14
    columns = max(1, min(len(keyed), int(sheet.width // widest)))
    each, ends, rows = sheet.width / columns, [top + 6] * columns, []
    for i, (code, text) in enumerate(keyed.items()):
        lines = wrapped(text, each - INDENT - 6, TEXT["note"])
        rows.append((code, lines, (2.0 + i % columns * each, ends[i % columns])))
        ends[i % columns] += len(lines) * KEY_LINE + 3
    return Keys(tuple(rows))
