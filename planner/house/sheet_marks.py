"""What a sheet of a workbook says beside the values of its cells: formulas that nothing has worked out, and cells that
are merged into one."""

import re
from collections.abc import Iterable, Iterator
from html import unescape
from typing import NamedTuple

from openpyxl.utils import column_index_from_string

_UNWORKED = re.compile(
    rb'<c(?=\s)(?![^<>]*\st=)[^<>]*\sr="([A-Z]{1,3})(\d{1,7})"[^<>]*>\s*'
    rb"<f(?:\s[^<>]*)?>([^<]*)</f>\s*(?:<v\s*/>|<v>\s*</v>)?\s*</c>"
)
"""A cell with a formula and no value; one that came to no text says that it is a text."""
_MERGED = re.compile(rb'<mergeCell\s[^<>]*ref="([A-Z]{1,3})(\d{1,7}):([A-Z]{1,3})(\d{1,7})"')


class SheetMarks(NamedTuple):
    """Of a sheet, by row and column from 1: formulas without a value as text, and the last row of each cell that is
    merged downwards, by its first."""

    formulas: dict[tuple[int, int], str]
    merged: dict[tuple[int, int], int]


def sheet_marks(part: bytes) -> SheetMarks:
    """What the part of a sheet says.

    >>> sheet_marks(b'<c r="B2"><f>2*1200</f><v/></c><c r="C2"><f>1+1</f><v>2</v></c><mergeCell ref="A2:A4"/>')
    SheetMarks(formulas={(2, 2): '=2*1200'}, merged={(2, 1): 4})
    """
    formulas = {
        (int(row), _column(letters)): f"={unescape(text.decode('utf-8', 'replace'))}"
        for letters, row, text in _UNWORKED.findall(part)
    }
    merged = {
        (int(first), _column(west)): int(last)
        for west, first, east, last in _MERGED.findall(part)
        if west == east and int(last) > int(first)
    }
    return SheetMarks(formulas, merged)


def spelled_out(rows: Iterable[list[str]], marks: SheetMarks) -> Iterator[list[str]]:
    """The rows of a sheet with each formula that has no value as its text, and in every row that says something the
    cells that are merged with one above it as that one."""
    below: dict[int, tuple[int, str]] = {}
    for number, row in enumerate(rows, 1):
        cells = [cell or marks.formulas.get((number, at), "") for at, cell in enumerate(row, 1)]
        for at, (last, cell) in below.items():
            if number <= last and any(cells) and at <= len(cells):
                cells[at - 1] = cells[at - 1] or cell
        below |= {
            at: (marks.merged[number, at], cell) for at, cell in enumerate(cells, 1) if (number, at) in marks.merged
        }
        yield cells


def _column(letters: bytes) -> int:
    return int(column_index_from_string(letters.decode()))
