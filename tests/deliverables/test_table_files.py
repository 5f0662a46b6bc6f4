"""Tables as files: what is text stays text, what is a number stays one, and nothing is lost between the two."""

import csv
import io

import openpyxl
import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.deliverables.table_files import LONGEST_CELL, csv_bytes, pasted, sheet_name, xlsx_bytes

DANGEROUS = ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", '=HYPERLINK("a","b")', "=cmd|' /C calc'!A0"]


def from_csv(table):
    return list(csv.reader(io.StringIO(csv_bytes(table).decode("utf-8-sig"), newline="")))


def from_xlsx(table, title="Rooms"):
    return openpyxl.load_workbook(io.BytesIO(xlsx_bytes(table, title))).active


@pytest.mark.parametrize("text", DANGEROUS)
def test_no_text_becomes_a_formula(text):
    table = pd.DataFrame({text: [text, "plain"]})
    assert from_csv(table) == [[f"'{text}"], [f"'{text}"], ["plain"]]
    assert pasted(table).startswith(("'", "\"'"))
    cells = [cell for (cell,) in from_xlsx(table)]
    assert {cell.data_type for cell in cells} == {"s"}
    assert cells[0].value.replace("_x000D_", "\r") == text  # a workbook's own spelling of a return


def test_numbers_stay_numbers_and_blanks_blank():
    table = pd.DataFrame({"Size [in]": [-2.5, None, 3.0], "Count": [1, 2, 3], "Told": [True, False, True]})
    assert from_csv(table)[1:] == [["-2.5", "1", "yes"], ["", "2", "no"], ["3.0", "3", "yes"]]
    assert list(from_xlsx(table).values)[1:] == [(-2.5, 1, "yes"), (None, 2, "no"), (3, 3, "yes")]


@settings(max_examples=60, deadline=None)
@given(st.lists(st.lists(st.text(max_size=12), min_size=2, max_size=2), min_size=1, max_size=4))
def test_any_text_comes_back(rows):
    table = pd.DataFrame(rows, columns=["A", "B"])
    assert [[cell.removeprefix("'") for cell in row] for row in from_csv(table)[1:]] == [
        [cell.removeprefix("'") for cell in row] for row in rows
    ]
    assert len(list(from_xlsx(table).values)) == len(rows) + 1


def test_a_heading_stays_in_view_and_the_rows_can_be_filtered():
    sheet = from_xlsx(pd.DataFrame({"A": [1], "B": [2]}), "Rooms: by/tier")
    assert (sheet.title, sheet.freeze_panes, sheet.auto_filter.ref) == ("Rooms by tier", "B2", "A1:B2")
    assert sheet["A1"].font.bold


def test_a_table_without_rows_has_its_heading():
    table = pd.DataFrame(columns=["Rule", "Says"])
    assert from_csv(table) == [["Rule", "Says"]] and list(from_xlsx(table).values) == [("Rule", "Says")]


def test_a_cell_longer_than_a_workbook_holds_is_cut_there_and_whole_in_the_csv():
    table = pd.DataFrame({"Says": ["x" * (LONGEST_CELL + 10)]})
    assert len(from_xlsx(table)["A2"].value) == LONGEST_CELL and len(from_csv(table)[1][0]) == LONGEST_CELL + 10


def test_what_is_pasted_has_one_line_a_row_and_one_tab_between_cells():
    table = pd.DataFrame({"A": ["two\nlines", "a\tb"], "B": [1, 2]})
    assert pasted(table).splitlines() == ["A\tB", "two lines\t1", "a b\t2"]


def test_equal_tables_give_equal_files():
    table = pd.DataFrame({"A": [1]})
    assert xlsx_bytes(table, "A") == xlsx_bytes(table, "A")


@pytest.mark.parametrize("title", ["", "'''", "History", "x" * 80, "[a]:b*c?d/e\\f", "=1"])
def test_any_title_names_a_sheet(title):
    assert from_xlsx(pd.DataFrame({"A": [1]}), title).title == sheet_name(title)
