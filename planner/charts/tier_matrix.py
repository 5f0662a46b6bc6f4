"""The tier of each room in each alternative."""

from string import ascii_uppercase
from typing import TypedDict, cast

import pandas as pd

from planner.charts.finished import FinishedChart
from planner.charts.names import LINE_HEIGHT, NameColumn, name_column, short
from planner.charts.parts import MOST_ROOMS
from planner.charts.sheet import Sheet, message
from planner.charts.vega_lite import records
from planner.look import theme
from planner.look.theme import TEXT, text_on, text_width, wrapped

DIFFERS = "≠"
"""Before the name of a room on which the alternatives disagree."""

ROW = 24
"""Least height of a row [px]."""


class TierRow(TypedDict):
    """Columns of frames.compare that are drawn."""

    room: str
    alternative: str
    tier: int
    tier_name: str
    tiers: int
    differs: bool


def tier_matrix(
    compared: pd.DataFrame, *, differing_only: bool = True, dark: bool = False, width: int = 720
) -> FinishedChart:
    """The tier of each room in each alternative; a room on which they disagree is marked ≠.

    Parameters
    ----------
    compared : frames.compare.
    differing_only : leave out the rooms on which all alternatives agree, and the mark with them.
    """
    cells = cast("list[TierRow]", records(compared))
    rooms = {c["room"]: bool(c["differs"]) for c in cells}
    title = f"Tier by room and alternative, {sum(rooms.values())} of {len(rooms)} rooms differ"
    shown = [c for c in cells if c["differs"] or not differing_only]
    if not shown:
        return message(title, "Every room has the same tier in all of them.", width, dark)
    every = list(dict.fromkeys(c["room"] for c in shown))
    part = set(every[:MOST_ROOMS])
    shown = [c for c in shown if c["room"] in part]
    marked = {room for room, differs in rooms.items() if differs and not differing_only}
    drawn = {c["room"]: f"{DIFFERS} {c['room']}" if c["room"] in marked else c["room"] for c in shown}
    sheet, alternatives = Sheet(width, dark), list(dict.fromkeys(c["alternative"] for c in cells))
    most = 0.38 * sheet.width
    column = name_column(drawn, most, ROW, drawn=drawn).width
    cell = (sheet.width - column) / len(alternatives)
    left = {name: column + i * cell for i, name in enumerate(alternatives)}
    names = name_column(drawn, most, ROW, top=_write_heads(sheet, left, cell), drawn=drawn)
    sheet.names(names, "Room")
    for c in shown:
        _write_tier(sheet, c, left[c["alternative"]], cell, names)
    subtitle = "Number and name: tier" + ("" if differing_only else f"; {DIFFERS} they differ")
    if len(every) > MOST_ROOMS:
        subtitle += f"; drawn are the first {MOST_ROOMS} of {len(every):,} rooms"
    return sheet.chart(title, subtitle, names.bottom)


def _write_heads(sheet: Sheet, left: dict[str, float], cell: float) -> float:
    """The alternatives' names, their last lines level, each above its column; returns where the columns begin.

    Where a word of them is wider than a column, letters stand there, and above all what each stands for.
    """
    size, above, texts = TEXT["label"], 6.0, {x: short(name) for name, x in left.items()}
    if any(text_width(word, size) > cell - 6 for text in texts.values() for word in text.split()):
        keyed = dict(zip(ascii_uppercase, texts.values(), strict=False))
        above += _write_key(sheet, keyed)
        texts = dict(zip(texts, keyed, strict=True))
    heads = {x: wrapped(text, cell - 6, size) for x, text in texts.items()}
    sheet.write("Alternative", min(left.values()) + 4, above, sheet.look.soft, size)
    top = above + 20 + LINE_HEIGHT * max(map(len, heads.values()))
    for x, lines in heads.items():
        for i, text in enumerate(lines, 1):
            y = top - 10 - LINE_HEIGHT * (len(lines) - i)
            sheet.write(text, x + cell / 2, y, sheet.look.ink, size, align="center")
    return top


def _write_key(sheet: Sheet, keyed: dict[str, str]) -> float:
    """What each letter stands for, one below the other; returns how high that is [px]."""
    y, indent = 6.0, 18.0
    for letter, name in keyed.items():
        sheet.write(letter, 0, y, sheet.look.ink, TEXT["label"])
        for line in wrapped(name, sheet.width - indent, TEXT["label"]):
            sheet.write(line, indent, y, sheet.look.ink, TEXT["label"])
            y += LINE_HEIGHT
    return y


def _write_tier(sheet: Sheet, c: TierRow, x: float, cell: float, names: NameColumn) -> None:
    """A room's tier in an alternative: its colour, its number, and its name where there is room for it."""
    fill, size = theme.ramp(c["tiers"], sheet.dark)[c["tier"] - 1], TEXT["label"]
    band, named = names.band(c["room"], 1.0), f"{c['tier']} {c['tier_name']}"
    said = {"room": c["room"], "alternative": c["alternative"], "tier": named}
    sheet.block(x + 1, band["y"] + 1, x + cell - 1, band["y2"] - 1, fill, said)
    text = named if text_width(named, size) < cell - 8 else str(c["tier"])
    sheet.write(text, x + cell / 2, names.middle[c["room"]], text_on(fill), size, align="center")
