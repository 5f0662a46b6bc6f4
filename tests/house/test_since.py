"""A row and a level of a sketch are found again after any steps between."""

import pytest

from planner.house import sketch
from planner.house.drafting import with_rows_added
from planner.house.since import level_since, row_since
from tests.house.test_sketch import row

ROOMS, OPENINGS = "rooms.csv", "openings.csv"
NAMES = ("Hall", "Den", "Bath", "Porch")


@pytest.fixture
def begun():
    """Four rooms on a level, each with a door."""
    rooms = tuple(row(ROOMS, name, "Ground") for name in NAMES)
    doors = tuple(row(OPENINGS, f"D{name}", "door", name, "outside") for name in NAMES)
    return sketch.Sketch('[levels."Ground"]\nceiling = "9\'"\n', {ROOMS: rooms, OPENINGS: doors})


def steps(first, *acts):
    """The sketches that some acts lead to, one after the other."""
    made = [first]
    for act in acts:
        made.append(act(made[-1]))
    return made


def name_at(made, file, at):
    place = row_since(made, file, at)
    return None if place is None else next(iter(made[-1].rows(file)[place].values()))


def test_what_was_removed_above_moves_a_row_up_and_what_was_removed_itself_is_gone(begun):
    made = steps(begun, lambda s: sketch.without_row(s, ROOMS, 1))
    assert [name_at(made, ROOMS, at) for at in range(4)] == ["Hall", None, "Bath", "Porch"]
    assert [name_at(made, OPENINGS, at) for at in range(4)] == ["DHall", None, "DBath", "DPorch"]
    made += steps(made[-1], lambda s: sketch.without_row(s, ROOMS, 1))[1:]
    assert [name_at(made, ROOMS, at) for at in range(4)] == ["Hall", None, None, "Porch"]


def test_a_row_that_was_removed_and_put_back_moves_the_others_down_again(begun):
    made = [*steps(begun, lambda s: sketch.without_row(s, ROOMS, 1)), begun]
    assert [name_at(made[1:], ROOMS, at) for at in range(3)] == ["Hall", "Bath", "Porch"]
    assert [name_at(made, ROOMS, at) for at in (0, 2, 3)] == ["Hall", "Bath", "Porch"]


def test_a_row_whose_cells_are_changed_stays_where_it_is(begun):
    made = steps(
        begun,
        lambda s: sketch.with_cell(s, ROOMS, 2, "room", "Bathroom"),
        lambda s: sketch.without_row(s, ROOMS, 0),
    )
    assert [name_at(made, ROOMS, at) for at in range(4)] == [None, "Den", "Bathroom", "Porch"]


def test_rows_are_pasted_over_and_below_and_the_place_after_the_last_stays_there(begun):
    longer = with_rows_added(begun, ROOMS, [row(ROOMS, "Loft")], False)
    made = [begun, sketch.with_cell(longer, ROOMS, 3, "notes", "pasted")]
    assert name_at(made, ROOMS, 3) == "Porch" and row_since(made, ROOMS, 4) == 5


def test_rows_that_are_alike_are_told_apart_until_the_table_is_read_anew(begun):
    alike = begun.with_rows(ROOMS, [row(ROOMS, "Hall"), *(row(ROOMS, "") for _ in range(3))])
    made = steps(alike, lambda s: sketch.without_row(s, ROOMS, 0))
    assert [row_since(made, ROOMS, at) for at in (1, 2, 3)] == [0, 1, 2]
    read = made[-1].with_rows(ROOMS, [dict(each) for each in made[-1].rooms])
    assert name_at([alike, read], ROOMS, 3) == ""


def test_a_level_is_followed_to_its_new_name_and_over_a_saving(begun):
    renamed = steps(
        begun,
        lambda s: sketch.renamed_level(s, "Ground", "Main"),
        lambda s: sketch.renamed_level(s, "Main", "First"),
    )
    assert level_since(renamed, "Ground") == "First"
    assert level_since(renamed[1:], "Main") == "First"
    saved = sketch.Sketch(renamed[-1].toml, renamed[-1].tables)
    assert level_since([*renamed, saved], "Ground") == "First"
    with_upper = sketch.with_level(begun, "Upper", "8'")
    assert level_since([with_upper, sketch.without_level(with_upper, "Upper")], "Upper") is None
    assert level_since([with_upper, begun], "Ground") == "Ground"


def test_without_a_step_between_nothing_moves(begun):
    assert row_since([begun], ROOMS, 2) == 2 and level_since([], "Ground") == "Ground"
