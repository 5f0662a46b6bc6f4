"""Sheets as a PDF, typeset by typst with its compiler and its type at hand, so that no machine needs either.

What is said goes to the typesetter as data and never as markup, so that no name is read as an instruction.
"""

import json
from collections.abc import Sequence
from datetime import UTC, date, datetime, time
from importlib.resources import files
from typing import Any

from planner.deliverables.letters import type_folder
from planner.deliverables.papers import Stamp
from planner.deliverables.sheets.frame import AIR, STRIP, Frame
from planner.deliverables.sheets.sheet import (
    CELL,
    LEADING,
    TYPE,
    Caption,
    Drawn,
    Item,
    Rule,
    Sheet,
    Table,
    Words,
    cells,
)
from planner.look import theme

STRIP_SHARES = (0.215, 0.155, 0.275, 0.115, 0.075, 0.095, 0.07)
"""How the strip is shared out: house, alternative, sheet, scale, date, fingerprint, number."""

SIZES = (9.0, 7.5, 6.0, 4.5)
"""What a field of the strip may be set in [pt], the largest first."""


def pdf(sheets: Sequence[Sheet], stamp: Stamp, frame: Frame, title: str) -> bytes:
    """Numbered sheets as a PDF.

    Parameters
    ----------
    sheets : in their order.
    stamp : which every sheet carries.
    frame : of the paper that they are printed on.
    title : of the whole.

    Notes
    -----
    Equal sheets give equal bytes: the document is dated as its stamp is.
    """
    import typst  # only here: nobody else pays for it

    figures: dict[str, str] = {}
    said = _set(sheets, stamp, frame, title, figures)
    sources: Any = {  # files by name; the types of the library know of one source alone
        "main": files("planner.deliverables").joinpath("typst_templates", "drawing_set.typ").read_bytes(),
        "set.json": json.dumps(said, ensure_ascii=False).encode("utf-8", "replace"),
        **{name: svg.encode("utf-8", "replace") for svg, name in figures.items()},
    }
    made = typst.compile(sources, font_paths=[type_folder()], timestamp=_seconds(stamp.day), pdf_tags=False)
    return bytes(made)


def _set(sheets: Sequence[Sheet], stamp: Stamp, frame: Frame, title: str, figures: dict[str, str]) -> dict[str, Any]:
    """All that the typesetter is told; figures, each once, get their names."""
    inner = frame.width - frame.bound - frame.side
    shares = [share * inner for share in STRIP_SHARES]
    return {
        "title": title,
        "font": [theme.PRINT_FONT],
        "ink": theme.LIGHT.ink,
        "soft": theme.LIGHT.soft,
        "faint": theme.LIGHT.faint,
        "leading": LEADING,
        "strip": shares,
        "house": _fitted(stamp.house, shares[0]),
        "alternative": _fitted(stamp.alternative, shares[1]),
        "date": stamp.day.isoformat(),
        "fingerprint": stamp.fingerprint,
        "pages": len(sheets),
        "framed": True,
        "paper": {
            "width": frame.width,
            "height": frame.height,
            "left": frame.bound,
            "top": frame.edge,
            "inner": inner,
            "tall": frame.height - 2 * frame.edge,
            "strip": STRIP,
            "x": frame.bound + AIR,
            "y": frame.edge + AIR,
        },
        "sheets": [
            {
                "number": sheet.number,
                "page": page,
                "title": _fitted(sheet.title, shares[2]),
                "scale": _fitted(sheet.scale, shares[3]),
                "items": [_item(item, frame, figures) for item in sheet.items],
            }
            for page, sheet in enumerate(sheets, 1)
        ],
    }


def _item(item: Item, frame: Frame, figures: dict[str, str]) -> dict[str, Any]:
    at = {"x": item.x, "y": item.y}
    if isinstance(item, Drawn):
        name = figures.setdefault(item.figure.svg, f"{len(figures)}.svg")
        return at | {"kind": "figure", "file": name, "width": item.figure.width, "height": item.figure.height}
    if isinstance(item, Words):
        wide = frame.width - frame.side - frame.bound - AIR - item.x
        weight = "semibold" if item.bold else "regular"
        return at | {"kind": "words", "lines": item.lines, "size": TYPE[item.type], "weight": weight, "width": wide}
    if isinstance(item, Caption):
        sizes = {"size": TYPE["label"], "small": TYPE["small"]}
        said = {"number": item.number, "title": item.title, "said": item.said, "width": item.width}
        return at | sizes | said | {"kind": "caption"}
    if isinstance(item, Table):
        head, *rows = cells(item)
        said = {"widths": item.widths, "head": head, "rows": rows, "inset": CELL}
        return at | said | {"kind": "table", "size": TYPE[item.type]}
    assert isinstance(item, Rule)
    return at | {"kind": "rule", "width": item.width}


def _fitted(text: str, share: float) -> dict[str, Any]:
    """A text for a field of the strip: the largest type in which it finds room, cut off where none does."""
    width, high = share * 72 - 11, STRIP * 72 - 13
    for size in SIZES:
        found, most = theme.wrapped(text, width, size), int(high / (size * LEADING))
        if len(found) <= most:
            return {"lines": found, "size": size}
    return {"lines": [*found[: most - 1], f"{found[most - 1][:-2]}…"], "size": size}


def _seconds(day: date) -> int:
    """A date as the typesetter counts [s]."""
    return int(datetime.combine(day, time(), UTC).timestamp())
