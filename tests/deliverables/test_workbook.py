"""The workbook: what a spreadsheet makes of it is what the plan says, to the cent, and no text in it does anything."""

import io
from dataclasses import replace

import openpyxl
import pandas as pd
import pytest
from openpyxl.utils import get_column_letter

from planner.deliverables.all_tables import all_tables, figures
from planner.deliverables.table import How, Table
from planner.deliverables.workbook import CONTENTS, FIRST, HEAD, HEAD_SIZE, STAMP, TOTAL, workbook_bytes
from planner.look.theme import text_width
from tests.deliverables.books import column, differing, of, small, totals, written
from tests.deliverables.papers_of import HOSTILE, SIZE, demo, hostile, stamp
from tests.office import needs_office, recalculated

PLANS = {"demo": demo, "hostile": hostile}


@pytest.fixture(scope="module", params=PLANS)
def made(request):
    return PLANS[request.param]()


@pytest.fixture(scope="module")
def book(made):
    return openpyxl.load_workbook(io.BytesIO(written(made)))


def test_every_table_is_a_sheet_with_its_stamp_and_its_headings_in_view(made, book):
    tables = all_tables(made)
    assert book.sheetnames == [CONTENTS, *(table.title for table in tables)]
    for table in tables:
        sheet = book[table.title]
        rows, columns = len(table.frame), len(table.frame.columns)
        assert sheet.cell(STAMP + 1, 1).value == stamp(made).words
        assert [cell.value for cell in sheet[HEAD + 1]] == list(table.frame.columns)
        pane = sheet.cell(FIRST + 1, table.fast + 1).coordinate
        last = sheet.cell(FIRST + max(rows, 1), columns).coordinate
        assert sheet.freeze_panes == pane
        assert sheet.auto_filter.ref == f"A{HEAD + 1}:{last}"
        assert sheet.print_area.replace("$", "").endswith(f"!A1:{last}")
        assert sheet.print_title_rows == f"${HEAD + 1}:${HEAD + 1}"
        assert (sheet.page_setup.fitToHeight, sheet.sheet_properties.pageSetUpPr.fitToPage) == (0, True)
        assert stamp(made).fingerprint in sheet.oddFooter.left.text
        assert sheet.max_row == FIRST + max(rows, 0) or not rows


def test_what_stands_before_the_totals_is_not_cut_off_by_the_first_of_them(made, book):
    """The width of a column counts digits, of 7 px in the type of the sheets."""
    for table in (table for table in all_tables(made) if table.totals):
        sheet = book[table.title]
        before = [sheet.cell(TOTAL + 1, n).value for n in range(1, sheet.max_column + 1)]
        first = next(n for n, value in enumerate(before) if n and value is not None)
        wide = sum(sheet.column_dimensions[get_column_letter(n + 1)].width for n in range(first))
        assert 7 * wide >= text_width(before[0], HEAD_SIZE), table.title


def test_the_first_sheet_carries_the_stamp_and_leads_to_every_other(made, book):
    sheet = book[CONTENTS]
    said = [str(cell.value) for row in sheet.iter_rows() for cell in row if cell.value is not None]
    assert said[0] == made.house.name and any(stamp(made).fingerprint in text for text in said)
    links = {cell.hyperlink.location for row in sheet.iter_rows() for cell in row if cell.hyperlink}
    assert links == {f"'{table.title}'!A1" for table in all_tables(made)}


def test_the_sheets_that_a_job_needs_are_there(book):
    assert {
        *("Trim by room", "Trim by tier", "Doors and windows", "Takeoff", "Order", "Cut list", "Saw", "Bars"),
        *("Cost by room", "Cost by tier", "Cost by element", "Rates", "Checks", "Sources"),
    } <= set(book.sheetnames)


def test_no_formula_is_there_but_totals_and_what_follows_from_its_row(made, book):
    for table in all_tables(made):
        sheet, headings = book[table.title], list(table.frame.columns)
        formulas = {cell.coordinate for row in sheet.iter_rows() for cell in row if cell.data_type == "f"}
        totals = {sheet.cell(TOTAL + 1, headings.index(heading) + 1).coordinate for heading in table.totals}
        worked = {
            sheet.cell(FIRST + 1 + at, headings.index(heading) + 1).coordinate
            for heading in table.worked
            for at, value in enumerate(table.frame[heading])
            if value == value
        }
        assert formulas == totals | worked
    assert {cell.value[:7] for cell in book["Order"][TOTAL + 1] if cell.data_type == "f"} <= {"=SUBTOT", "=ROUND("}


def test_hostile_names_stay_text_in_every_cell():
    book = openpyxl.load_workbook(io.BytesIO(written(hostile())))
    shown = {cell.value for row in book["Rooms"].iter_rows() for cell in row if cell.data_type == "s"}
    assert set(HOSTILE) <= shown
    for sheet in book:
        for row in sheet.iter_rows():
            for cell in row:
                if isinstance(cell.value, str) and cell.value.startswith(HOSTILE):
                    assert cell.data_type == "s" and (cell.hyperlink is None)
        assert "&&" in sheet.oddFooter.left.text or "&" not in stamp(hostile()).words


def test_equal_plans_give_equal_files():
    assert written(hostile()) == written(hostile())


def test_numbers_are_written_in_the_units_of_their_headings():
    book = openpyxl.load_workbook(io.BytesIO(written(demo())))
    cut, order = book["Cut list"], book["Order"]
    (lengths,) = cut.iter_cols(*[column(cut, "Finished [in]")] * 2, min_row=FIRST + 1)
    assert {cell.number_format for cell in lengths} == {"# ??/??"}
    assert all(float(16 * cell.value).is_integer() for cell in lengths)
    assert order.cell(FIRST + 1, column(order, "Amount [USD]")).number_format == "#,##0.00"
    metric = openpyxl.load_workbook(io.BytesIO(written(hostile())))
    for name, heading, shown in (("Cut list", "Finished [mm]", "0"), ("Order", "Length [m]", "#,##0.000")):
        assert metric[name].cell(FIRST + 1, column(metric[name], heading)).number_format == shown


@pytest.fixture(scope="module")
def worked_out(tmp_path_factory):
    """The sheets of both plans, worked out anew; and of the demo with one bar more on the order."""
    more = openpyxl.load_workbook(io.BytesIO(written(demo())))
    count = more["Order"].cell(FIRST + 1, column(more["Order"], "Count"))
    count.value += 1
    more.save(changed := io.BytesIO())
    books = [written(demo()), written(hostile()), changed.getvalue()]
    return dict(zip(("demo", "hostile", "more"), recalculated(tmp_path_factory.mktemp("office"), *books), strict=True))


@needs_office
@pytest.mark.office
@pytest.mark.parametrize("name", PLANS)
def test_what_a_spreadsheet_works_out_is_what_the_plan_says_to_the_cent(worked_out, name):
    made, sheets = PLANS[name](), worked_out[name]
    money, cost, taken = made.house.currency, made.money, made.takeoff
    assert totals(sheets, money) == pytest.approx(dict.fromkeys(("room", "tier", "element"), cost.total), abs=1e-6)
    for part, value in cost.parts._asdict().items():
        assert of(sheets, "Cost by room", f"{part.capitalize()} [{money}]") == pytest.approx(value, abs=1e-6)
    assert of(sheets, "Order", "Count") == len(taken.bars)
    assert of(sheets, "Order", f"Amount [{money}]") == pytest.approx(
        sum(line.amount or 0 for line in taken.order), abs=0.001
    )
    assert of(sheets, "Cut list", "Pieces") == of(sheets, "Bars", "Pieces") == len(taken.sticks)
    found = {row[0].value: row[1].value for row in sheets[CONTENTS].iter_rows(max_col=2)}
    for figure in figures(made):
        assert found[figure.says] == pytest.approx(figure.value, abs=1e-6), figure.says
    assert found["The 10th percentile of it"] == pytest.approx(cost.low, abs=1e-6)
    assert found["The 90th percentile of it"] == pytest.approx(cost.high, abs=1e-6)
    if taken.unpriced:
        assert found["Of these, without a price in the stock"] == sum(line.count for line in taken.unpriced)


@needs_office
@pytest.mark.office
@pytest.mark.parametrize("name", PLANS)
def test_every_cell_that_follows_from_its_row_comes_out_as_it_was_written(worked_out, name):
    seen = set()
    for table in all_tables(PLANS[name]()):
        for heading, worked in table.worked.items():
            for at, value in enumerate(table.frame[heading], FIRST):
                if value == value:
                    assert of(worked_out[name], table.title, heading, at) == pytest.approx(value, abs=2e-4)
                    seen.add(worked.how)
    assert seen >= ({How.SUM, How.DIFFERENCE, How.PRODUCT} if name == "demo" else {How.SUM})


@needs_office
@pytest.mark.office
def test_the_workbooks_of_random_houses_come_to_what_their_plans_come_to(tmp_path):
    """Every other without a stock, and so without a price on its order."""
    costed = [made for made in map(small, range(24)) if made]
    assert len(costed) > 18
    for made, sheets in zip(costed, recalculated(tmp_path, *map(written, costed)), strict=True):
        assert differing(made, sheets) == []


@needs_office
@pytest.mark.office
def test_what_is_changed_by_hand_reaches_the_totals(worked_out):
    line = demo().takeoff.order[0]
    before, after = worked_out["demo"], worked_out["more"]
    assert of(after, "Order", "Count") - of(before, "Order", "Count") == 1
    amounts = (of(sheets, "Order", "Amount [USD]") for sheets in (after, before))
    assert next(amounts) - next(amounts) == pytest.approx(line.price)


@pytest.mark.parametrize("name", ["Bell & Daughters", "&" * 200])
def test_a_footer_holds_any_name(name):
    made = demo()
    named = replace(stamp(made), house=name, alternative=name)
    book = openpyxl.load_workbook(io.BytesIO(workbook_bytes(all_tables(made)[:1], (), named, SIZE)))
    footer = book["Rooms"].oddFooter.left.text
    assert footer.endswith(named.fingerprint) and len(footer) < 240
    assert ("Bell && Daughters" in footer) == (name == "Bell & Daughters")


def test_a_few_that_are_little_longer_than_most_widen_their_column_and_what_is_much_longer_is_wrapped():
    """Each row that takes a line more is paper: a cut list has thousands."""
    most, little, much = "outside miter 0 / 45", "cope 30.17 / 35.13 (45)", "cope 30.17 / 35.13 (45) " * 4
    ends = [*[most] * 96, *[little] * 3, much]
    table = Table("ends", "Ends", pd.DataFrame({"Number": range(100), "End": ends}))
    sheet = openpyxl.load_workbook(io.BytesIO(workbook_bytes([table], (), stamp(demo()), SIZE)))["Ends"]
    high = {sheet.cell(row, 2).value: sheet.row_dimensions[row].height for row in range(6, 106)}
    assert high[little] == high[most] < high[much]
