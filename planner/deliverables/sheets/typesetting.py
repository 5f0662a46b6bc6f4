"""Sheets as a PDF, typeset by typst with its compiler and its type at hand, so that no machine needs either.

What is said goes to the typesetter as data and never as markup, so that no name is read as an instruction.
"""

import json
from collections.abc import Sequence
from datetime import UTC, date, datetime
from functools import lru_cache
from importlib.resources import files
from typing import Any

from planner.deliverables.papers import Stamp
from planner.deliverables.sheets.paper import AIR, STRIP, PaperSize
from planner.deliverables.sheets.sheet import LEADING, TYPE, Caption, Drawn, Item, Rule, Sheet, Table, Words, lines
from planner.look import theme

STRIP_SHARES = (0.215, 0.155, 0.275, 0.115, 0.075, 0.095, 0.07)
"""How the strip is shared out: house, alternative, sheet, scale, date, fingerprint, number."""

SIZES = (9.0, 7.5, 6.0, 4.5)
"""What a field of the strip may be set in [pt], the largest first."""


def pdf(sheets: Sequence[Sheet], stamp: Stamp, paper: PaperSize, title: str) -> bytes:
    """Numbered sheets as a PDF.

    Parameters
    ----------
    sheets : in their order.
    stamp : which every sheet carries.
    paper : that they are printed on.
    title : of the whole.

    Notes
    -----
    Equal sheets give equal bytes: the document is dated as its stamp is.
    """
    import typst  # only here: nobody else pays for it

    figures: dict[str, str] = {}
    said = _set(sheets, stamp, paper, title, figures)
    sources = {
        "main": files(__package__).joinpath("set.typ").read_bytes(),
        "set.json": json.dumps(said, ensure_ascii=False).encode("utf-8", "replace"),
        **{name: svg.encode("utf-8", "replace") for svg, name in figures.items()},
    }
    made = typst.compile(sources, font_paths=[_type()], timestamp=_seconds(stamp.date))
    return bytes(made)


def _set(
    sheets: Sequence[Sheet], stamp: Stamp, paper: PaperSize, title: str, figures: dict[str, str]
) -> dict[str, Any]:
    """All that the typesetter is told; figures, each once, get their names."""
    inner = paper.width - paper.bound - paper.side
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
        "date": stamp.date,
        "fingerprint": stamp.fingerprint,
        "pages": len(sheets),
        "framed": True,
        "paper": {
            "width": paper.width,
            "height": paper.height,
            "left": paper.bound,
            "top": paper.edge,
            "inner": inner,
            "tall": paper.height - 2 * paper.edge,
            "strip": STRIP,
            "x": paper.bound + AIR,
            "y": paper.edge + AIR,
        },
        "sheets": [
            {
                "number": sheet.number,
                "page": page,
                "title": _fitted(sheet.title, shares[2]),
                "scale": _fitted(sheet.scale, shares[3]),
                "items": [_item(item, paper, figures) for item in sheet.items],
            }
            for page, sheet in enumerate(sheets, 1)
        ],
    }


def _item(item: Item, paper: PaperSize, figures: dict[str, str]) -> dict[str, Any]:
    at = {"x": item.x, "y": item.y}
    if isinstance(item, Drawn):
        name = figures.setdefault(item.figure.svg, f"{len(figures)}.svg")
        return at | {"kind": "figure", "file": name, "width": item.figure.width, "height": item.figure.height}
    if isinstance(item, Words):
        wide = paper.width - paper.side - paper.bound - AIR - item.x
        weight = "semibold" if item.bold else "regular"
        return at | {"kind": "words", "lines": item.lines, "size": TYPE[item.type], "weight": weight, "width": wide}
    if isinstance(item, Caption):
        sizes = {"size": TYPE["label"], "small": TYPE["small"]}
        said = {"number": item.number, "title": item.title, "said": item.said, "width": item.width}
        return at | sizes | said | {"kind": "caption"}
    if isinstance(item, Table):
        said = {"widths": item.widths, "head": item.head, "rows": item.rows}
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


def _seconds(day: str) -> int:
    """A date of the stamp as the typesetter counts [s]; what is no date counts as the first day of all."""
    try:
        return int(datetime.combine(date.fromisoformat(day[:10]), datetime.min.time(), UTC).timestamp())
    except ValueError:
        return 0


@lru_cache(maxsize=1)
def _type() -> str:
    """Where the type of papers lies."""
    return str(files("font_source_sans_pro").joinpath("files"))
