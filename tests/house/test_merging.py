"""Two people's changes to one table."""

from hypothesis import example, given
from hypothesis import strategies as st

from planner.house.merging import merged, row_changes

BEFORE = [{"room": name, "level": "1", "use": "hall"} for name in "ABC"]


def table(**changes):
    """BEFORE with some cells changed, each named by its row and column; a row that is None is gone."""
    rows = {row["room"]: dict(row) for row in BEFORE}
    for name, cells in changes.items():
        if cells is None:
            del rows[name]
        else:
            rows[name] = rows.get(name, {"room": name, "level": "", "use": ""}) | cells
    return list(rows.values())


def test_both_changes_to_one_row_stand():
    assert merged(BEFORE, table(A={"use": "den"}), table(A={"level": "2"}), ["room"]) == tuple(
        table(A={"use": "den", "level": "2"})
    )


def test_where_both_changed_a_cell_mine_stands():
    assert merged(BEFORE, table(A={"use": "den"}), table(A={"use": "bath"}), ["room"])[0]["use"] == "den"


def test_a_row_that_i_renamed_keeps_what_they_changed_in_it():
    mine = [BEFORE[0] | {"room": "Z"}, *BEFORE[1:]]
    assert merged(BEFORE, mine, table(A={"level": "2"}), ["room"])[0] == {"room": "Z", "level": "2", "use": "hall"}


def test_rows_that_came_and_went_on_either_side():
    mine, theirs = table(A=None, M={"use": "den"}), table(B=None, T={"use": "bath"})
    assert [row["room"] for row in merged(BEFORE, mine, theirs, ["room"])] == ["C", "T", "M"]


def test_a_row_that_one_dropped_and_the_other_changed_stays():
    dropped, changed = table(A=None), table(A={"use": "den"})
    for mine, theirs in ((dropped, changed), (changed, dropped)):
        assert {"room": "A", "level": "1", "use": "den"} in merged(BEFORE, mine, theirs, ["room"])


def test_what_changed_is_told_row_by_row():
    found = row_changes(BEFORE, table(A={"use": "den"}, B=None, D={"use": "bath"}), ["room"])
    assert [(change.row, change.kind, dict(change.cells)) for change in found] == [
        ("B", "gone", {}),
        ("A", "changed", {"use": "den"}),
        ("D", "new", {"room": "D", "use": "bath"}),
    ]


cells = st.fixed_dictionaries({"room": st.sampled_from("ABCD"), "use": st.sampled_from("xyz")})
tables = st.lists(cells, max_size=4)


@example([{"room": "A", "use": use} for use in ("x", "x", "y")], [{"room": "A", "use": use} for use in ("x", "y", "x")])
@given(tables, tables)
def test_a_table_that_only_one_has_changed_becomes_as_that_one_has_it(before, after):
    def sorted_rows(rows):
        return sorted(sorted(row.items()) for row in rows)

    assert sorted_rows(merged(before, before, after, ["room"])) == sorted_rows(after)
    assert sorted_rows(merged(before, after, before, ["room"])) == sorted_rows(after)
    assert (row_changes(before, after, ["room"]) == ()) == (sorted_rows(before) == sorted_rows(after))
