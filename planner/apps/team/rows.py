"""Rows of what several alternatives have, beside one another, or where a phone has no room for that, folded away."""

from collections.abc import Iterable, Sequence

from planner.apps import pages, screen

MOST_STACKED = 16
"""Cells that a phone shows one below the other; of a longer table each row is folded away under what names it."""

MOST_ON_A_PHONE = 2
"""Alternatives of which a phone shows all that is to be said and drawn, unfolded."""


def is_long(width: int, alternatives: int) -> bool:
    """Whether what is shown once for each alternative is too long for a screen of that width [px]."""
    return width == screen.NARROW_CHART and alternatives > MOST_ON_A_PHONE


def told(
    columns: Sequence[str],
    rows: Sequence[Sequence[object]],
    width: int,
    keys: int = 1,
    caption: str = "",
    label: str = "",
    numbers: Iterable[str] = (),
) -> pages.Markup:
    """A table of rows that their first cells name, so many as there are `keys`, for a screen of that width [px]."""
    stacked = width == screen.NARROW_CHART and pages.is_stacked(columns, rows)
    if not stacked or len(rows) * (len(columns) - keys) <= MOST_STACKED:
        return pages.table(columns, rows, caption=caption, label=label, numbers=numbers)
    folds = (pages.folded(", ".join(map(str, row[:keys])), *_lines(columns[keys:], row[keys:])) for row in rows)
    return pages.element("div", *([pages.heading(caption)] if caption else []), *folds)


def _lines(columns: Sequence[str], cells: Sequence[object]) -> Iterable[pages.Markup]:
    """The cells of a row, each under what heads its column; nothing is said of one that is empty."""
    for column, cell in zip(columns, cells, strict=True):
        for line in str(cell).splitlines():
            yield pages.element("p", pages.element("span", f"{column}: ", class_="pl-hint"), line)
