"""All tables of a plan as one workbook: a sheet a table, after one that says what is in it and what it comes to.

Totals, and what follows from other cells of its row, are formulas, each with the plan's own figure as the value that a
program shows which works out nothing. A text is never a formula, whatever it begins with.
"""

import io
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import datetime, time
from math import ceil
from typing import Any, NamedTuple

import xlsxwriter
from xlsxwriter.utility import xl_range_abs, xl_rowcol_to_cell

from planner.deliverables.all_tables import Figure, Part, all_tables, figures
from planner.deliverables.papers import Paper, PaperSize, Stamp
from planner.deliverables.table import How, Table, Worked, unit_of
from planner.deliverables.table_files import LONGEST_CELL, Cell, cells_of
from planner.look import theme
from planner.planning.answer import Plan

TITLE, STAMP, SAYS, TOTAL, HEAD, FIRST = range(6)
"""The rows of a sheet, from 0: its title, its stamp, what is to be known, the totals, the headings, the first row."""

TOTALLED = "Total of the rows shown"
"""What stands before the totals."""

CONTENTS, CONTENTS_WIDTHS = "Contents", (270.0, 90.0, 420.0)
"""The first sheet, and the widths of its columns [px]."""

FONT, POINTS, SIZE, LINE = "Arial", 9, 10.5, 14.5
"""The type of all sheets, its size [pt], the size at which type is measured that is generous with widths [px], and the
height of a line [px]."""

HEAD_SIZE = 1.1 * SIZE
"""Headings are bold, and as wide as plain type of this size [px]."""

NARROWEST, WIDEST, PADDING = 36.0, 360.0, 16.0
"""Widths of columns [px]; what is longer is wrapped. A cell's text keeps so much from both sides together."""

NARROW, COMMON, LITTLE = 90.0, 0.95, 1.3
"""A column is as wide as all its cells ask for up to so much [px], above it as this part of them: the few that are
longer are wrapped, but for those that are longer by so little."""

UPRIGHT = 860.0
"""A sheet no wider than this goes on a page that stands upright [px]; any other on a sheet on its side."""

SPREAD = 700.0
"""What is to be known of a sheet is written across columns as wide as this together [px]."""

LONGEST_FOOTER = 230
"""Characters of the stamp at the foot of a page; a footer takes 255 with its codes (from memory)."""

ON_SIDE, UPRIGHT_PAPER = {"ANSI B": 3, "A3": 8}, {"ANSI B": 1, "A3": 9}
"""The codes of papers in a workbook: tabloid, which is ANSI B, and A3; letter and A4 (ECMA-376, part 1, 18.3.1.63; from
memory)."""

FORMATS: Mapping[str, str] = {"in": "# ??/??", "mm": "0", "ft": "#,##0.00", "m": "#,##0.000", "°": "0.00", "%": "0.0"}
"""How numbers are written, by their unit; money, whose unit is a currency, to the cent."""

MONEY, WHOLE, ANY = "#,##0.00", "#,##0", "@"

MOST_PLACES = 4
"""What has no unit is written with no more decimal places than this."""


class _Book(NamedTuple):
    """A workbook that is being written, its formats by what they say, and where its tables stand."""

    book: Any
    formats: dict[tuple[tuple[str, Any], ...], Any]
    tables: Mapping[str, Table]
    stamp: Stamp
    size: PaperSize

    def format(self, **said: Any) -> Any:
        """A format that says so, made once."""
        key = tuple(sorted(said.items()))
        if key not in self.formats:
            self.formats[key] = self.book.add_format({"font_name": FONT, "font_size": POINTS, "valign": "top"} | said)
        return self.formats[key]


def workbook_papers(plan: Plan, stamp: Stamp, size: PaperSize) -> Iterator[Paper]:
    """The workbook as a paper."""
    data = workbook_bytes(all_tables(plan), figures(plan), stamp, size)
    yield Paper("workbook.xlsx", "Workbook: schedules, takeoff, order, cut list, cost", data)


def workbook_bytes(tables: Sequence[Table], sums: Sequence[Figure], stamp: Stamp, size: PaperSize) -> bytes:
    """A workbook of some tables; equal tables give equal files.

    Parameters
    ----------
    tables : each for a sheet, in their order.
    sums : what they come to, for the first sheet.
    stamp : that every sheet carries.
    size : of the paper that it is printed on.
    """
    out = io.BytesIO()
    written = xlsxwriter.Workbook(out, {"in_memory": True})
    written.set_properties(
        {"title": stamp.house, "subject": stamp.alternative, "comments": stamp.words}
        | {"created": datetime.combine(stamp.day, time())}
    )
    book = _Book(written, {}, {table.name: table for table in tables}, stamp, size)
    _contents(book, tables, sums)
    for table in tables:
        _sheet(book, table)
    written.close()
    return out.getvalue()


def number_format(heading: str, places: int = 0) -> str:
    """How the numbers of a column are written, by the unit in its heading; with so many decimal places where it names
    none.

    >>> number_format("Length [in]"), number_format("Cost [EUR]"), number_format("Pieces"), number_format("Target", 2)
    ('# ??/??', '#,##0.00', '#,##0', '#,##0.00')
    """
    unit = unit_of(heading)
    if unit.isupper():
        return MONEY
    return FORMATS.get(unit) or (f"{WHOLE}.{'0' * places}" if places else WHOLE)


def _contents(book: _Book, tables: Sequence[Table], sums: Sequence[Figure]) -> None:
    """The first sheet: the stamp, what the tables come to, and what is on each sheet."""
    sheet = book.book.add_worksheet(CONTENTS)
    for column, width in enumerate(CONTENTS_WIDTHS):
        sheet.set_column_pixels(column, column, round(width))
    sheet.set_row_pixels(TITLE, round(2 * LINE))
    sheet.write_string(TITLE, 0, book.stamp.house, book.format(bold=True, font_size=16))
    row = TITLE
    for what, said in book.stamp.lines[1:]:
        row += 1
        sheet.write_string(row, 0, f"{what}: {said}", book.format(font_color=theme.LIGHT.soft))
    row = _sums(book, sheet, sums, row + 2)
    row = _listed(book, sheet, tables, row + 2)
    sheet.print_area(0, 0, row, len(CONTENTS_WIDTHS) - 1)
    _page(book, sheet, upright=True)


def _sums(book: _Book, sheet: Any, sums: Sequence[Figure], row: int) -> int:
    """What the tables come to, from a row on; the last row."""
    for column, (heading, align) in enumerate((("What it comes to", "left"), ("", "right"), ("In", "left"))):
        sheet.write_string(row, column, heading, _head(book, align, column))
    for figure in sums:
        row += 1
        shown = MONEY if figure.unit.isupper() else FORMATS.get(figure.unit, WHOLE)
        sheet.write_string(row, 0, figure.says, _cell(book, ANY))
        if figure.formula:
            sheet.write_formula(row, 1, f"={_formula(book, figure)}", _cell(book, shown), figure.value)
        else:
            sheet.write_number(row, 1, figure.value, _cell(book, shown))
        sheet.write_string(row, 2, figure.unit, _cell(book, ANY, indent=1))
    return row


def _listed(book: _Book, sheet: Any, tables: Sequence[Table], row: int) -> int:
    """What is on each sheet, from a row on; the last row."""
    for column, (heading, align) in enumerate((("Sheet", "left"), ("Rows", "right"), ("What is on it", "left"))):
        sheet.write_string(row, column, heading, _head(book, align, column))
    for table in tables:
        row += 1
        first = table.says.partition(". ")[0].rstrip(".")
        link = book.format(font_color=theme.LIGHT.ink, underline=1, bottom=1, bottom_color=theme.LIGHT.faint)
        sheet.write_url(row, 0, f"internal:{_quoted(table.title)}!A1", link, table.title)
        sheet.write_number(row, 1, len(table.frame), _cell(book, WHOLE))
        sheet.write_string(row, 2, first, _cell(book, ANY, indent=1))
        sheet.set_row_pixels(row, _high([first], CONTENTS_WIDTHS[2:]))
    return row


def _sheet(book: _Book, table: Table) -> None:
    """A table on a sheet of its own."""
    sheet = book.book.add_worksheet(table.title)
    headings, *rows = cells_of(table.frame)
    names = [str(heading) for heading in headings]
    shown = [_shown(name, [row[at] for row in rows]) for at, name in enumerate(names)]
    widths = [
        _width(name, [row[at] for row in rows], form) for at, (name, form) in enumerate(zip(names, shown, strict=True))
    ]
    widths[0] += max(_short(table, names, widths), 0.0)
    for column, width in enumerate(widths):
        sheet.set_column_pixels(column, column, round(width))
    _top(book, sheet, table, widths)
    for column, name in enumerate(names):
        sheet.write_string(HEAD, column, name, _head(book, "left" if shown[column] == "text" else "right", column))
        if name in table.totals:
            style = book.format(bold=True, num_format=_number(shown[column]))
            sheet.write_formula(TOTAL, column, f"={_sum(table, name)}", style, round(table.total(name), 4))
    sheet.set_row_pixels(HEAD, _high(names, widths, HEAD_SIZE))
    for number, row in enumerate(rows, FIRST):
        sheet.set_row_pixels(number, _high(map(_text, row, shown), widths))
        for column, cell in enumerate(row):
            style = _cell(book, _number(shown[column]), indent=int(column > 0 and shown[column] == "text"))
            worked = table.worked.get(names[column]) if cell is not None else None
            if worked:
                sheet.write_formula(number, column, f"={_worked(worked, names, number)}", style, cell)
            else:
                _write(sheet, number, column, cell, style)
    last, right = FIRST + max(len(rows), 1) - 1, len(names) - 1
    sheet.freeze_panes(FIRST, table.fast)
    sheet.autofilter(HEAD, 0, last, right)
    sheet.print_area(0, 0, last, right)
    sheet.repeat_rows(HEAD)
    _page(book, sheet, upright=sum(widths) <= UPRIGHT)


def _top(book: _Book, sheet: Any, table: Table, widths: Sequence[float]) -> None:
    """What stands above a table: its title, the stamp, and what is to be known."""
    sheet.write_string(TITLE, 0, table.title, book.format(bold=True, font_size=14))
    sheet.write_string(STAMP, 0, book.stamp.words, book.format(font_color=theme.LIGHT.soft))
    columns, wide = 1, widths[0]
    while columns < len(widths) and (wide < SPREAD or columns < 2):
        wide += widths[columns]
        columns += 1
    says = table.says or " "
    sheet.merge_range(SAYS, 0, SAYS, columns - 1, says, book.format(text_wrap=True, font_color=theme.LIGHT.soft))
    sheet.set_row_pixels(SAYS, _high([says], [wide]))
    if table.totals:
        sheet.write_string(TOTAL, 0, TOTALLED, book.format(bold=True))


def _write(sheet: Any, row: int, column: int, cell: Cell, style: Any) -> None:
    if cell is None:
        sheet.write_blank(row, column, None, style)
    elif isinstance(cell, str):
        sheet.write_string(row, column, cell[:LONGEST_CELL], style)
    else:
        sheet.write_number(row, column, cell, style)


def _page(book: _Book, sheet: Any, *, upright: bool) -> None:
    """How a sheet is printed: one page wide, with the stamp and the page's number at its foot."""
    name = book.size.name
    sheet.set_paper((UPRIGHT_PAPER if upright else ON_SIDE)[name])
    if upright:
        sheet.set_portrait()
    else:
        sheet.set_landscape()
    sheet.fit_to_pages(1, 0)
    sheet.set_margins(left=0.5, right=0.5, top=0.5, bottom=0.7)
    sheet.set_footer(f"&L&8{_footer(book.stamp.words)}&R&8&A, &P / &N")
    sheet.hide_gridlines(2)


def _footer(words: str) -> str:
    """Words as a footer has them, in which an ampersand begins a code and two are one."""
    doubled = words.replace("&", "&&")
    return doubled if len(doubled) <= LONGEST_FOOTER else words.replace("&", "+")


def _head(book: _Book, align: str, column: int) -> Any:
    indent = int(column > 0 and align == "left")
    faint = theme.LIGHT.faint
    return book.format(bold=True, text_wrap=True, valign="bottom", align=align, bg_color=faint, bottom=1, indent=indent)


def _cell(book: _Book, shown: str, indent: int = 0) -> Any:
    """How a cell looks whose numbers are written so."""
    faint = theme.LIGHT.faint
    said = {"text_wrap": True, "num_format": shown, "bottom": 1, "bottom_color": faint}
    return book.format(**said, **({"indent": indent, "align": "left"} if indent else {}))


def _shown(heading: str, cells: Sequence[Cell]) -> str:
    """How the cells of a column are written: as "text", or by a number format."""
    numbers = [float(cell) for cell in cells if cell is not None and not isinstance(cell, str)]
    return number_format(heading, max(map(_places, numbers))) if numbers else "text"


def _places(number: float) -> int:
    """How many decimal places a number has, at most MOST_PLACES."""
    return next((n for n in range(MOST_PLACES) if round(number, n) == round(number, MOST_PLACES)), MOST_PLACES)


def _number(shown: str) -> str:
    """The number format of a column; what is typed into text is kept as it is typed."""
    return "@" if shown == "text" else shown


def _width(heading: str, cells: Sequence[Cell], shown: str) -> float:
    """How wide a column is [px]: for most of its cells, and for the longest word of its heading, or its unit."""
    word = max((theme.text_width(word, HEAD_SIZE) for word in re.findall(r"\[.*\]|\S+", heading)), default=0.0)
    lines = sorted(max(map(_wide, _text(cell, shown).split("\n"))) for cell in cells)
    common = lines[ceil(COMMON * len(lines)) - 1] if lines else 0.0
    asked = max((line for line in lines if line <= max(NARROW, LITTLE * common)), default=0.0)
    return min(ceil(max(word, asked, NARROWEST) + PADDING), WIDEST)


def _short(table: Table, names: Sequence[str], widths: Sequence[float]) -> float:
    """By how much the columns before the first total are too narrow for what stands before it [px]."""
    before = next((at for at, name in enumerate(names) if name in table.totals), len(names))
    return ceil(theme.text_width(TOTALLED, HEAD_SIZE) + PADDING) - sum(widths[:before])


def _wide(text: str) -> float:
    return theme.text_width(text, SIZE)


def _text(cell: Cell, shown: str) -> str:
    """About what a cell shows."""
    if cell is None or isinstance(cell, str):
        return cell or ""
    if shown == FORMATS["in"]:
        return f"{int(cell)} 15/16"
    return f"{cell:,.{shown.rpartition('.')[2].count('0') if '.' in shown else 0}f}"


def _high(texts: Iterable[str], widths: Iterable[float], size: float = SIZE) -> int:
    """How high a row is [px]: as the cell that takes the most lines."""
    return round(LINE * max(_lines(text, width - PADDING, size) for text, width in zip(texts, widths, strict=True)))


def _lines(text: str, width: float, size: float) -> int:
    """How many lines a text takes in a width [px]."""
    parts = text.split("\n")
    return sum(1 if theme.text_width(p, size) <= width else len(theme.wrapped(p, width, size)) for p in parts)


def _sum(table: Table, heading: str) -> str:
    """The sum of those rows of a column that a filter leaves."""
    total = f"SUBTOTAL(109,{_range(table, heading)})"
    return f"ROUND({total},2)" if unit_of(heading).isupper() else total


def _worked(worked: Worked, headings: Sequence[str], row: int) -> str:
    sign = {How.PRODUCT: "*", How.SUM: "+", How.DIFFERENCE: "-"}[worked.how]
    cells = (xl_rowcol_to_cell(row, headings.index(heading)) for heading in worked.of)
    return f"ROUND({sign.join(cells)},{worked.places})"


def _formula(book: _Book, figure: Figure) -> str:
    return figure.formula.format(*(_place(book.tables[part.table], part) for part in figure.parts))


def _place(table: Table, part: Part) -> str:
    """Where a part of a figure stands in the workbook."""
    column = list(table.frame.columns).index(part.heading)
    at = xl_rowcol_to_cell(TOTAL, column, True, True) if part.summed else _range(table, part.heading)
    return f"{_quoted(table.title)}!{at}"


def _range(table: Table, heading: str) -> str:
    column = list(table.frame.columns).index(heading)
    found: str = xl_range_abs(FIRST, column, FIRST + max(len(table.frame), 1) - 1, column)
    return found


def _quoted(title: str) -> str:
    return "'" + title.replace("'", "''") + "'"
