"""Every table as CSV: read back it says what the table says, and no text of it is a formula."""

import csv
import io

import pandas as pd
import pytest

from planner.deliverables import table_papers as module
from planner.deliverables.all_tables import all_tables
from planner.deliverables.order_tables import pieces
from planner.deliverables.table_files import FORMULA
from planner.deliverables.table_papers import table_papers
from tests.deliverables.papers_of import HOSTILE, SIZE, demo, hostile, stamp


def read(paper):
    return list(csv.DictReader(io.StringIO(paper.data.decode("utf-8-sig"), newline="")))


@pytest.mark.parametrize("plan_of", [demo, hostile], ids=["demo", "hostile"])
def test_every_table_reads_back_with_the_stamp_in_each_row(plan_of):
    made = plan_of()
    papers = {paper.name: read(paper) for paper in table_papers(made, stamp(made), SIZE)}
    tables = [t for t in (*all_tables(made), pieces(made, made.takeoff)) if len(t.frame)]
    assert set(papers) == {f"tables/{table.name}.csv" for table in tables}
    for table in tables:
        rows = papers[f"tables/{table.name}.csv"]
        assert len(rows) == len(table.frame)
        assert list(rows[0]) == [*table.frame.columns, "House", "Alternative", "Date", "Inputs"]
        assert {row["Inputs"] for row in rows} == {stamp(made).fingerprint}
        for heading in table.totals:
            told = sum(float(row[heading] or 0) for row in rows)
            assert told == pytest.approx(table.total(heading), abs=1e-6)


def test_no_hostile_text_is_a_formula_and_each_can_be_told_again():
    made = hostile()
    papers = [read(paper) for paper in table_papers(made, stamp(made), SIZE)]
    cells = {cell for rows in papers for row in rows for cell in row.values() if not is_number(cell)}
    assert not [cell for cell in cells if cell.startswith(FORMULA)]
    assert {cell.removeprefix("'") for cell in cells} >= set(HOSTILE)


def is_number(text):
    return not pd.isna(pd.to_numeric(text, errors="coerce")) if text else True


def test_every_piece_is_told_once_with_the_bar_that_it_is_cut_from():
    made = demo()
    (paper,) = (p for p in table_papers(made, stamp(made), SIZE) if p.name == "tables/pieces.csv")
    rows = read(paper)
    assert [int(row["Number"]) for row in rows] == [stick.number for stick in made.takeoff.sticks]
    bars = {number: bar.number for bar in made.takeoff.bars for number in bar.sticks}
    assert all(int(row["Bar"]) == bars[int(row["Number"])] for row in rows)


def test_a_table_of_very_many_rows_goes_into_several_files_and_none_is_lost(monkeypatch):
    monkeypatch.setattr(module, "MOST_ROWS", 300)
    made = hostile()
    papers = [p for p in table_papers(made, stamp(made), SIZE) if p.name.startswith("tables/pieces")]
    assert [p.name for p in papers] == ["tables/pieces.csv", "tables/pieces-2.csv", "tables/pieces-3.csv"]
    assert [int(row["Number"]) for p in papers for row in read(p)] == [s.number for s in made.takeoff.sticks]
