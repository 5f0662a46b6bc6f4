"""What stands on walls: read with every fault told, blank sizes filled in by kind, written back with the house."""

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from planner.files.problems import HouseFault
from planner.house.fixtures import COLUMNS, FIXTURES
from planner.house.folder import read_house, write_house
from planner.house.model import Fixture
from planner.library import standard

PARLOR = 'Parlor, "Front"'
HEAD = ",".join(COLUMNS) + "\n"
TABLE = (
    HEAD
    + """\
Sink counter,Counter,Kitchen,e,2',5',,,,by the window
Cupboard,wall cabinet,Kitchen,E,24,"3'-0\""",54,7',13,
Radiator,radiator,"Parlor, ""Front\""",N,24,36,,22,,
"""
)


def put(folder, text=TABLE):
    """Write the table by hand."""
    (folder / FIXTURES).write_text(text, "utf-8")


def faults(folder, row):
    """What is told of one row, as (severity, row, column, words)."""
    put(folder, HEAD + row + "\n")
    try:
        return [
            (p.severity, p.row, p.column, f"{p.message}; {p.remedy}")
            for p in read_house(folder)[1]
            if p.file == FIXTURES
        ]
    except HouseFault as fault:
        return [(p.severity, p.row, p.column, f"{p.message}; {p.remedy}") for p in fault.problems if p.file == FIXTURES]


def test_its_rows_are_facts_and_blank_sizes_are_those_of_their_kind(folder):
    put(folder)
    house, warnings = read_house(folder)
    assert [w for w in warnings if w.file == FIXTURES] == []
    counter, radiator = (standard().fixture_kinds[kind] for kind in ("counter", "radiator"))
    common = (counter.bottom, counter.top, counter.depth)
    assert house.fixtures == (
        Fixture("Sink counter", "counter", "Kitchen", "E", 24.0, 60.0, *common, "by the window"),
        Fixture("Cupboard", "wall cabinet", "Kitchen", "E", 24.0, 36.0, 54.0, 84.0, 13.0),
        Fixture("Radiator", "radiator", PARLOR, "N", 24.0, 36.0, radiator.bottom, 22.0, radiator.depth),
    )  # fmt: skip
    assert house.fixtures[0].right == 84.0


def test_a_house_without_the_file_has_none_and_is_written_without_it(folder):
    house, _ = read_house(folder)
    assert house.fixtures == ()
    write_house(replace(house, name="New"), folder)
    assert not (folder / FIXTURES).exists()


def test_sizes_and_notes_may_be_left_out_of_the_columns(folder):
    put(folder, "fixture,kind,room,wall,offset,width\nTub,tub,Kitchen,N,0,60\n")
    (tub,) = read_house(folder)[0].fixtures
    kind = standard().fixture_kinds["tub"]
    assert (tub.bottom, tub.top, tub.depth) == (kind.bottom, kind.top, kind.depth)


@pytest.mark.parametrize(
    ("row", "column", "says"),
    [
        ("A,countr,Kitchen,E,0,60,,,,", "kind", '"countr" is no kind of fixture; write "counter"'),
        ("A,counter,Kitchn,E,0,60,,,,", "room", 'there is no room "Kitchn"; write "Kitchen"'),
        ("A,counter,Kitchen,5,0,60,,,,", "wall", '"Kitchen" has no wall "5"; write N, E, S or W'),
        ("A,counter,Kitchen,,0,60,,,,", "wall", "is blank; write e.g. N"),
        ("A,counter,Kitchen,E,,60,,,,", "offset", "is blank"),
        (",counter,Kitchen,E,0,60,,,,", "fixture", "is blank; write e.g. Sink counter"),
        ("A,counter,Kitchen,E,two,60,,,,", "offset", '"two"'),
        ("A,counter,Kitchen,E,0,0,,,,", "width", "is zero"),
        ("A,counter,Kitchen,E,70,60,,,,", "offset", 'it stands 10" beyond the end of wall E'),
        ("A,counter,Kitchen,E,0,130,,,,", "width", "only 10'-0\" long"),
        ("A,wall cabinet,Kitchen,E,0,60,54,120,,", "top", 'the ceiling of "Kitchen" is at 9\'-0"'),
        ("A,wall cabinet,Kitchen,E,0,60,54,50,,", "top", "the top at 4'-2\" is not above 4'-6\""),
        ("A,counter,Lobby,N,50,30,,,,", "offset", 'it stands across door "D2"'),
    ],
)
def test_a_broken_row_is_told_by_row_and_column(folder, row, column, says):
    told = faults(folder, row)
    assert any(s == "error" and (r, c) == (2, column) and says in words for s, r, c, words in told), told


def test_a_name_twice_and_one_place_taken_twice_are_told(folder):
    told = faults(folder, "A,counter,Kitchen,E,0,60,,,,\nA,counter,Kitchen,W,0,60,,,,")
    assert [(s, r, c) for s, r, c, _ in told] == [("error", 3, "fixture")]
    told = faults(folder, "A,counter,Kitchen,E,0,60,,,,\nB,counter,Kitchen,E,59,60,,,,")
    assert [(s, r, c) for s, r, c, _ in told] == [("warning", 3, "offset")] and 'counter "A"' in told[0][3]
    assert faults(folder, "A,counter,Kitchen,E,0,60,,,,\nB,counter,Kitchen,E,60,60,,,,") == []
    assert faults(folder, "A,counter,Kitchen,E,0,60,,,,\nB,wall cabinet,Kitchen,E,0,60,,,,") == []


def test_what_stands_before_a_window_is_a_doubt_and_what_stays_under_it_is_none(folder):
    """The window's sill is at 24 in, its head at 80."""
    row = 'R,radiator,"Parlor, ""Front""",N,24,36,,{},,'
    assert faults(folder, row.format(24)) == []
    (told,) = faults(folder, row.format(25))
    assert told[0] == "warning" and 'before window "W1"' in told[3]
    over_it = 'C,wall cabinet,"Parlor, ""Front""",N,24,36,80,100,,'
    assert faults(folder, over_it) == []


def test_a_cell_that_means_the_same_keeps_its_spelling(folder):
    put(folder)
    house, _ = read_house(folder)
    moved = replace(house.fixtures[1], offset=30.0)
    write_house(replace(house, fixtures=(house.fixtures[0], moved, house.fixtures[2])), folder)
    text = (folder / FIXTURES).read_text("utf-8")
    assert text == TABLE.replace("Cupboard,wall cabinet,Kitchen,E,24,", 'Cupboard,wall cabinet,Kitchen,E,"2\'-6""",')
    assert read_house(folder)[0].fixtures[1] == moved


KINDS = st.sampled_from([kind.kind for kind in standard().fixtures])
LENGTHS = st.integers(1, 16 * 40).map(lambda n: n / 16)


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(st.tuples(KINDS, LENGTHS, LENGTHS, LENGTHS, LENGTHS, LENGTHS), min_size=1, max_size=4))
def test_what_is_written_is_read_as_the_same(folder, drawn):
    """Bedroom is 4 m by 3.5 m under 8 ft, and no opening stands on its south wall."""
    house, _ = read_house(folder)
    fixtures = tuple(
        Fixture(f"F{n}", kind, "Bedroom", "S", offset, width, bottom, bottom + high, depth)
        for n, (kind, offset, width, bottom, high, depth) in enumerate(drawn)
    )
    (folder / FIXTURES).unlink(missing_ok=True)
    write_house(replace(house, fixtures=fixtures), folder)
    assert read_house(folder)[0].fixtures == fixtures
