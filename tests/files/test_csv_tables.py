"""What a table may hold at most, and that beyond it no more is read."""

import pytest

from planner.files import csv_tables
from planner.files.csv_tables import LARGEST_TABLE, MOST_COLUMNS, MOST_ROWS, parse_table


def read(data: bytes):
    problems = []
    return parse_table(data, "rooms.csv", ("room", "level"), problems), [str(p) for p in problems]


def test_a_table_as_large_as_may_be_is_read_whole():
    rows, problems = read(b"room,level\n" + b"Hall,Ground\n" * MOST_ROWS)
    assert len(rows) == MOST_ROWS and problems == []


def test_blank_rows_are_not_counted():
    rows, problems = read(b"room,level\n" + b",\n\n" * (2 * MOST_ROWS) + b"Hall,Ground\n")
    assert [(row.number, row["room"]) for row in rows] == [(2 + 4 * MOST_ROWS, "Hall")] and problems == []


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"room,level\n" + b"x" * LARGEST_TABLE, "rooms.csv: has more than 10 MB; keep it to 10 MB"),
        (b"room,level\n" + b"Hall,Ground\n" * (MOST_ROWS + 1), "rooms.csv row 20002: has more than 20,000 rows"),
        (b"c," * MOST_COLUMNS + b"room,level\n", "rooms.csv row 1: has more than 100 columns"),
    ],
)
def test_a_larger_one_is_told_in_one_line(data, says):
    rows, problems = read(data)
    assert rows == [] and len(problems) == 1 and problems[0].startswith(says)


def test_nothing_is_read_beyond_the_last_row_that_may_be(monkeypatch):
    looked_at = []
    really = csv_tables._row
    monkeypatch.setattr(csv_tables, "_row", lambda *row: looked_at.append(row) or really(*row))
    read(b"room,level\n" + b"Hall,Ground\n" * (20 * MOST_ROWS))
    assert len(looked_at) == MOST_ROWS + 1
