"""What the things on a sheet take of it, to find what overlaps or is cut off."""

from itertools import combinations

from planner.deliverables.sheets.frame import Frame
from planner.deliverables.sheets.sheet import (
    POINT,
    TYPE,
    Caption,
    Drawn,
    Item,
    Rule,
    Sheet,
    Table,
    Words,
    caption_height,
    table_height,
)
from planner.drawings.scene import Box
from planner.look.theme import text_width

HAIR = 1e-6


def boxes(item: Item) -> list[Box]:
    """The rectangles that an item takes [in], y downwards."""
    x, y = item.x, item.y
    if isinstance(item, Drawn):
        return [Box(x, y, x + item.figure.width, y + item.figure.height)]
    if isinstance(item, Words):
        wide = max((text_width(line, TYPE[item.type] * POINT) for line in item.lines), default=0.0)
        return [Box(x, y, x + wide, y + item.height)]
    if isinstance(item, Caption):
        under = y + caption_height(len(item.title), 0) - 0.12
        said = max((text_width(line, TYPE["small"] * POINT) for line in item.said), default=0.0)
        return [
            Box(x, y, x + item.width, under),
            Box(x + 20 * POINT, under + 0.02, x + 20 * POINT + said, y + item.height),
        ]
    if isinstance(item, Table):
        return [Box(x, y, x + sum(item.widths), y + table_height(item))]
    assert isinstance(item, Rule)
    return [Box(x, y, x + item.width, y)]


def cut_off(sheet: Sheet, frame: Frame) -> list[Item]:
    """The items that reach beyond what a sheet may be drawn on."""
    return [
        item
        for item in sheet.items
        for b in boxes(item)
        if b.x0 < -HAIR or b.y0 < -HAIR or b.x1 > frame.across + HAIR or b.y1 > frame.down + HAIR
    ]


def overlapping(sheet: Sheet) -> list[tuple[Item, Item]]:
    """The pairs of items that overlap, but for a drawing that lies within what is measured round it."""
    found = []
    for one, other in combinations(sheet.items, 2):
        for a in boxes(one):
            for b in boxes(other):
                across = min(a.x1, b.x1) - max(a.x0, b.x0)
                down = min(a.y1, b.y1) - max(a.y0, b.y0)
                if across > 0.01 and down > 0.01 and not _within(a, b):
                    found.append((one, other))
    return found


def _within(a: Box, b: Box) -> bool:
    """Whether the first lies within the second."""
    return a.x0 >= b.x0 - HAIR and a.y0 >= b.y0 - HAIR and a.x1 <= b.x1 + HAIR and a.y1 <= b.y1 + HAIR
