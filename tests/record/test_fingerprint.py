"""A fingerprint says whether a plan could be another, in any process, and nothing else."""

import os
import subprocess
import sys
from dataclasses import fields, replace
from shutil import copytree

import msgspec
import pytest

from planner import House, Library, Opening, Room, demo_house, fingerprint, house_library, plan, read_house, standard
from planner.house.model import Existing, Fixture, Flight
from planner.intent.edits import set_form
from planner.intent.model import FACTORS, Intent, Wing, Wish
from planner.intent.trim_rules import Scope
from planner.record.fingerprint import WITHOUT, fingerprint_of, part
from planner.record.states import differences, read_state

HALL = Room("Hall", "Ground", "entry hall", 192.0, 144.0, 108.0)
LODGE = House(
    "Lodge",
    ("Hall",),
    (HALL, Room("Den", "Ground", "study", 120.0, 144.0, 96.5, notes="radiator under the window")),
    (Opening("Den door", "door", "Hall", "Den", "E", 36.0, 32.0, 80.0, leaf="six panels"),),
    existing=(Existing("Den", "base", "board and cap", 6.0),),
    fixtures=(Fixture("Tub", "tub", "Den", "N", 12.0, 60.0, 0.0, 20.0, 30.0),),
    flights=(Flight("Main", "Hall", "N", 24.0, "right", 14, 7.5, 10.0),),
)
FULL = Intent(
    name="a",
    title="b",
    author="c",
    offered=("base",),
    rooms={"Den": Wish(lowest=2), "Hall": Wish(4)},
    sets=(("Hall", "Den"),),
    wings=(Wing("federal", rooms=("Den",)),),
)
OTHER = {str: "another", float: 7.25, int: 9, tuple: (), type(None): "federal"}


def varied(value):
    """The value with each of its fields changed in turn."""
    for field in fields(value):
        old = getattr(value, field.name)
        new = OTHER.get(type(old), {})
        if new != old:
            yield field.name, replace(value, **{field.name: new})


def test_it_is_the_same_on_any_machine_and_in_any_version():
    """Written down once, from what stands above: fingerprints are kept in records."""
    assert part(LODGE) == "670713982a5001e4"
    assert part(FULL) == "7ddb3c925079e4c8"


@pytest.mark.parametrize("value", [LODGE, FULL], ids=["house", "intent"])
def test_every_field_counts_but_those_that_change_no_plan(value):
    changed = {name for name, other in varied(value) if part(other) != part(value)}
    same = {name for name, other in varied(value) if part(other) == part(value)}
    assert same == WITHOUT[type(value)] and len(changed) > 8


@pytest.mark.parametrize("table", ["rooms", "openings", "existing", "fixtures", "flights"])
def test_every_cell_of_a_row_counts_but_notes_that_nobody_reads(table):
    row = getattr(LODGE, table)[-1]
    for name, other in varied(row):
        changed = replace(LODGE, **{table: (*getattr(LODGE, table)[:-1], other)})
        assert (part(changed) == part(LODGE)) == (name in WITHOUT.get(type(row), ())), name


def test_the_notes_of_a_room_count_because_a_check_reads_them():
    house, _ = read_house(demo_house())
    noted = replace(house, rooms=tuple(replace(room, notes="widen") for room in house.rooms))
    assert plan(noted).checks != plan(house).checks
    assert fingerprint(noted) != fingerprint(house)


def test_numbers_that_are_equal_and_mappings_in_another_order_count_as_the_same():
    whole, nought = replace(HALL, length=192, outline=((0.0, 0.0),)), replace(HALL, outline=((-0.0, 0),))
    outlined = part(replace(LODGE, rooms=(whole, LODGE.rooms[1])))
    assert part(replace(LODGE, rooms=(nought, LODGE.rooms[1]))) == outlined != part(LODGE)
    part.cache_clear()  # which takes equal values for the same
    assert part(replace(LODGE, rooms=(nought, LODGE.rooms[1]))) == outlined
    assert part(replace(LODGE, year_built=10**400)) != part(replace(LODGE, year_built=10**400 + 1))
    assert part(replace(FULL, rooms=dict(reversed(FULL.rooms.items())))) == part(FULL)
    assert part(replace(FULL, importance={name: FULL.importance[name] for name in reversed(FACTORS)})) == part(FULL)


def test_a_part_says_which_of_the_four_has_changed():
    state = read_state(demo_house(), "formal")
    before = state.fingerprints
    others = {
        "house": replace(state, house=replace(state.house, grade="cottage")),
        "intent": replace(state, intent=set_form(state.intent, "chair rail", Scope(rooms=("Library",)), "none")),
        "stock": replace(state, stock=replace(state.stock, profiles=state.stock.profiles[1:])),
        "library": replace(state, library=replace(standard(), checks=standard().checks[1:])),
    }
    for kind, other in others.items():
        after = other.fingerprints
        assert [k for k in before._fields if getattr(before, k) != getattr(after, k)] == [kind]
        assert after.whole != before.whole
    assert replace(state, stock=None).fingerprints.stock == ""
    assert replace(state, stock=None).fingerprints.whole != before.whole


@pytest.mark.parametrize("table", [field.name for field in fields(Library)])
def test_every_table_of_the_library_counts_down_to_a_cell(table):
    library = standard()
    value = getattr(library, table)
    row = value[-1] if isinstance(value, tuple) else value
    for field in msgspec.structs.fields(type(row)):
        old = getattr(row, field.name)
        new = {str: "another", float: 7.25, int: 9, bool: not old}.get(type(old))
        if new is None:
            continue
        other = msgspec.structs.replace(row, **{field.name: new})
        changed = replace(library, **{table: (*value[:-1], other) if isinstance(value, tuple) else other})
        assert part(changed) != part(library), field.name
    if isinstance(value, tuple):
        assert part(replace(library, **{table: value[1:]})) != part(library)


def test_what_a_plan_was_made_from_has_the_fingerprint_of_the_plan():
    house, _ = read_house(demo_house())
    assert fingerprint_of(plan(house)) == fingerprint(house) == fingerprint(house, Intent(), None, standard())


def shuffled(text):
    """A table with its columns the other way round."""
    import csv
    import io

    out = io.StringIO()
    csv.writer(out).writerows(row[::-1] for row in csv.reader(io.StringIO(text)))
    return out.getvalue()


def test_comments_spellings_columns_times_and_notes_change_nothing(tmp_path):
    folder = copytree(demo_house(), tmp_path / "house")
    before = read_state(folder, "formal").fingerprints
    for file in ("rooms.csv", "stock.csv", "fixtures.csv"):
        (folder / file).write_text(shuffled((folder / file).read_text("utf-8")))
        os.utime(folder / file, (1, 1))
    for file in ("house.toml", "alternatives/formal.toml"):
        (folder / file).write_text("# a comment\n" + (folder / file).read_text("utf-8"))
    (folder / "notes").mkdir()
    (folder / "notes" / "notes.csv").write_text("room,opening,note,pictures,for client\nLibrary,,Pine.,,yes\n")
    rooms = (folder / "rooms.csv").read_text("utf-8")
    assert "17 ft" in rooms
    (folder / "rooms.csv").write_text(rooms.replace("17 ft", "204"))
    assert read_state(folder, "formal").fingerprints == before


@pytest.mark.parametrize("where", ["house", "alternative", "wing"])
def test_an_own_style_counts_where_it_is_used_and_nowhere_else(tmp_path, where):
    folder = copytree(demo_house(), tmp_path / "house")
    before = read_state(folder, "formal")
    (folder / "styles").mkdir()
    own = folder / "styles" / "own.toml"
    own.write_text('based_on = "georgian"\nratio = 0.9\n')
    unused = read_state(folder, "formal")
    assert unused.fingerprints == before.fingerprints and [*differences(before, unused)] == []
    changes = {
        "house": {"house": replace(unused.house, style="own"), "intent": replace(unused.intent, style=None)},
        "alternative": {"intent": replace(unused.intent, style="own")},
        "wing": {"intent": replace(unused.intent, wings=(Wing("own", rooms=("Library",)),))},
    }
    used = replace(unused, **changes[where])
    own.write_text('based_on = "georgian"\nratio = 0.8\n')
    later = replace(used, library=house_library(folder)[0])
    assert later.fingerprints == used.fingerprints._replace(library=later.fingerprints.library)
    assert later.fingerprints.library != used.fingerprints.library != before.fingerprints.library
    assert [*differences(used, later)] == ["styles have changed since: own says something else"]


def test_another_process_finds_the_same(tmp_path):
    script = "from planner.record.states import differences, read_state; import planner; from pathlib import Path\n"
    script += "print(read_state(Path(planner.demo_house()), 'formal').fingerprints.whole)"
    found = set()
    for seed in ("1", "2"):
        ran = subprocess.run(
            [sys.executable, "-c", script],
            env={**os.environ, "PYTHONHASHSEED": seed, "TZ": f"UTC{seed}", "LC_ALL": "C"},
            capture_output=True,
            text=True,
            check=True,
        )
        found.add(ran.stdout.strip())
    assert found == {read_state(demo_house(), "formal").fingerprints.whole}
