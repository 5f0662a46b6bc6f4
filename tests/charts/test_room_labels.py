"""A room's label stands where it fits, and a code's key where there is room for it."""

import pytest

from planner.charts.label_box import Box
from planner.charts.room_labels import Floor, Words, coded, keys, letters, placed
from planner.charts.sheet import Sheet

ROOM = ((0.0, 0.0), (0.0, 100.0), (200.0, 100.0), (200.0, 0.0))
HALL = Words(2, "Chamber", "Hall", False, None)


def test_a_label_stands_in_the_middle_unless_something_is_there():
    assert placed(HALL, Floor(ROOM, ())).box[:2] == (100.0, 50.0)
    beside = placed(HALL, Floor(ROOM, (Box(100, 50, 40, 100),)))
    assert abs(beside.box.x - 100) > 20 + beside.box.width / 2
    assert beside.lines == ("2 Chamber", "Hall")


def test_a_label_goes_no_further_from_the_middle_than_it_must():
    taken = Box(100, 80, 40, 40)
    label = placed(HALL, Floor(ROOM, (taken,)))
    assert label.box.x == 100.0
    assert 60 - 4 < label.box.ends[3] <= 60


def test_where_everything_is_taken_the_label_stands_where_the_least_is():
    taken = (Box(50, 50, 100, 100), Box(150, 20, 100, 40), Box(150, 80, 100, 40))
    label = placed(HALL, Floor(ROOM, taken))
    assert label.size == 10
    assert 0 < sum(label.box.shared(box) for box in taken) < label.box.width * 5
    assert label.box.y == 50.0


def test_no_word_is_broken():
    narrow = ((0.0, 0.0), (0.0, 100.0), (40.0, 100.0), (40.0, 0.0))
    assert placed(Words(2, "Chamber", "Conservatory", False, None), Floor(narrow, ())) is None
    assert coded(Words(2, "Chamber", "Conservatory", False, None), "a", Floor(narrow, ())).lines == ("2a",)


@pytest.mark.parametrize(("side", "lines"), [(100.0, ("2 Chamber", "Hall", "▲ from 1")), (40.0, ("2▲", "Hall"))])
def test_a_move_is_spelled_out_where_it_fits(side, lines):
    room = ((0.0, 0.0), (0.0, side), (side, side), (side, 0.0))
    label = placed(HALL._replace(before=1), Floor(room, ()))
    assert label.lines == lines
    assert "▲" in label.lines[label.marked]
    assert label.chip.height > label.size
    assert label.chip.y == pytest.approx(dict(label.rows())[label.lines[label.marked]])


def test_a_code_gives_way_to_the_tier_alone_and_that_to_the_sign_of_a_move():
    def lines(side: float, words: Words = HALL) -> tuple[str, ...] | None:
        found = coded(words, "ab", Floor(((0.0, 0.0), (0.0, 30.0), (side, 30.0), (side, 0.0)), ()))
        return found and found.lines

    moved = HALL._replace(before=3)
    assert [lines(side) for side in (30.0, 10.0, 3.0)] == [("2ab",), ("2",), None]
    assert [lines(side, moved) for side in (40.0, 20.0, 3.0)] == [("2ab▼",), ("2ab", "▼"), ("▼",)]


@pytest.mark.parametrize(("width", "columns"), [(180, 1), (330, 2), (720, 4)])
def test_keys_stand_in_as_many_columns_as_fit(width, columns):
    rows = keys(Sheet(width, False), 50.0, {f"2{c}": f"Closet {c}, Chamber" for c in "abcd"}).rows
    assert len({x for _, _, (x, _) in rows}) == columns
    assert len({y for _, _, (_, y) in rows}) == 4 / columns
    assert min(y for _, _, (_, y) in rows) > 50


def test_keys_are_left_out_at_the_end_and_all_where_that_would_be_most():
    found = keys(Sheet(180, False), 0.0, {f"2{c}": f"Closet {c}, Chamber" for c in "abcdef"})
    assert found.above(500) == found
    some = found.above(90)
    assert some.rows == found.rows[: len(some.rows)]
    assert 3 <= len(some.rows) < 6
    assert found.above(40).rows == ()


def test_rooms_have_distinct_letters():
    found = [letters(i) for i in range(800)]
    assert found[:2] + found[22:24] == ["a", "b", "z", "aa"]
    assert not set("".join(found)) & set("ilo")
    assert len(set(found)) == 800
