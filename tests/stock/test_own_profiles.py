"""Profiles of one's own: drawn as text, held to the rules, added to a stock that stays as it was."""

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from planner.files.problems import HouseFault
from planner.mouldings.soundness import faults
from planner.stock.own_profiles import add_profile, draw_profile, profile_cells
from planner.stock.stock import COLUMNS, read_stock
from tests.known import parse_members
from tests.stock.invented import DEMO

CELLS = {
    "profile": "OWN-1",
    "role": "crown",
    "family": "Ours",
    "members": "fillet 1/4; cyma recta 2 1/4 x 2; fillet 1/4",
    "lengths": "8' 12'",
    "price": "4.25",
}
UNSOUND = parse_members("ovolo 1 x 1; cavetto 1 3/4 x 2")
"""As high and as deep as the profile of CELLS, and against the rules."""
HEADER = ",".join(COLUMNS)
ROW = "A1,casing,Any,4,7/8,7/8,fascia 4 x 7/8,8' 12',2.50,ft"


def own(**cells):
    """A profile drawn from CELLS with others in place of some."""
    profile, told = draw_profile(CELLS | cells)
    assert told == (), told
    return profile


def test_it_is_as_high_and_as_deep_as_its_members_make_it():
    profile = own()
    assert (profile.height, profile.projection, profile.thickness) == (2.75, 2.0, 2.0)
    assert (profile.code, profile.role, profile.family) == ("OWN-1", "crown", "Ours")
    assert (profile.lengths, profile.price, profile.unit) == ((96.0, 144.0), 4.25, "ft")
    assert own(thickness="3/4", price="", lengths="").thickness == 0.75
    metric, told = draw_profile(CELLS | {"members": "fascia 89 x 19", "lengths": "2440"}, "m")
    assert told == () and metric.height == pytest.approx(89 / 25.4)


@pytest.mark.parametrize(
    ("cells", "column", "says"),
    [
        ({"members": "ovollo 1 x 3/4"}, "members", "did you mean ovolo"),
        ({"members": ""}, "members", "no members"),
        ({"members": "fillet; ovolo 1"}, "members", "write the kind, then its height"),
        ({"members": "fillet 1/4; cyma recta 1 x 1; corona 1 x 3"}, "members", "is weak at its top"),
        ({"members": "ovolo 1 x 1; cavetto 1 x 2"}, "members", "no fillet to part them"),
        ({"members": "bead 1 x 1/4"}, "members", "a semicircle 1 in high reaches at least 1/2 in out"),
        ({"role": "crwn"}, "role", 'write one of "crown"'),
        ({"profile": " "}, "profile", "the code is missing"),
        ({"profile": "A\nB"}, "profile", "has a line break"),
        ({"price": "dear"}, "price", "is no price"),
        ({"thickness": "0"}, "thickness", "is above zero"),
        ({"unit": "yard"}, "unit", "is no unit of sale"),
        ({"lengths": "8"}, "lengths", "too short for a stock length"),
    ],
)
def test_what_is_wrong_is_told_by_column_as_an_error(cells, column, says):
    _, told = draw_profile(CELLS | cells)
    assert [(p.file, p.row, p.column, p.severity) for p in told] == [("stock.csv", None, column, "error")]
    assert says in str(told[0])


def test_a_stock_is_begun_where_there_is_none(tmp_path):
    stock, profile = add_profile(tmp_path, own())
    assert stock.profiles == (profile,) == (own(),)
    assert read_stock(tmp_path) == stock
    add_profile(tmp_path, own(profile="OWN-2"))
    assert [p.code for p in read_stock(tmp_path).profiles] == ["OWN-1", "OWN-2"]


@pytest.mark.parametrize(
    "before",
    [
        f"{HEADER}\n{ROW}\n",
        f"{HEADER}\n{ROW}",
        f"{HEADER}\r\n{ROW}\r\n",
        f"\ufeff{HEADER}\r\n{ROW}",
        f"{HEADER}\r{ROW}\r",
        f"{HEADER}\n",
        HEADER,
        f"{HEADER}\n\n{ROW.replace('Any', chr(34) + 'Any, and more' + chr(34))}\n,,,,,,,,,\n\n",
        "price,members,thickness,projection,height,role,profile,family,lengths\n"
        "2.50,fascia 4 x 7/8,7/8,7/8,4,casing,A1,Any,8' 12'\n",
    ],
)
def test_all_that_stood_stays_to_the_byte(tmp_path, before):
    file = tmp_path / "stock.csv"
    file.write_bytes(before.encode())
    stock, profile = add_profile(tmp_path, own(family="Ours, of the house"))
    after = file.read_bytes().decode()
    assert after.startswith(before) and profile.family == "Ours, of the house"
    assert [p.code for p in stock.profiles] == ["A1"] * ("A1" in before) + ["OWN-1"]
    added = after[len(before) :]
    end = next(mark for mark in ("\r\n", "\n", "\r") if mark in (before if before != HEADER else "\n"))
    assert added.endswith(end) and added.strip("\r\n").count("\n") == 0
    assert added.startswith(end) == (not before.endswith(("\n", "\r")))


@pytest.mark.parametrize(("said", "lengths"), [("96.5in", (96.5,)), ("97 in; 8'-0 1/2\"", (96.5, 97.0)), ("", ())])
def test_lengths_read_back_however_many_there_are(tmp_path, said, lengths):
    assert add_profile(tmp_path, own(lengths=said))[1].lengths == lengths


def test_a_row_of_the_demo_stock_added_again_under_another_code_is_the_same_profile(tmp_path):
    for unit in ("in", "mm"):
        for number, profile in enumerate(DEMO.profiles):
            if faults(profile):
                continue
            mine = replace(profile, code=f"{unit}-{number}")
            (tmp_path / "stock.csv").unlink(missing_ok=True)
            assert add_profile(tmp_path, mine, unit)[1] == mine


@pytest.mark.parametrize(
    ("before", "change", "column", "says"),
    [
        (f"{HEADER}\n{ROW}\n", {"code": "A1"}, "profile", '"A1" is the code of row 2'),
        (f"{HEADER}\n{ROW.replace('4,7/8', '5,7/8')}\n", {}, "members", "heights sum to"),
        (f"{HEADER.replace('role', 'rle')}\n", {}, "rle", 'write "role"'),
        (f"{HEADER.replace(',family', '')}\n", {}, "family", "the column is missing"),
        (f"{HEADER.removesuffix(',unit')}\n", {"unit": "each"}, "unit", "the column is missing"),
        (None, {"height": 3.5}, "members", "heights sum to"),
        (None, {"code": " OWN"}, "profile", "would not read back"),
        (None, {"role": "hat"}, "role", "is no role"),
        (None, {"price": float("nan")}, "price", "is no price"),
        (None, {"members": ()}, "members", "no members"),
        (None, {"members": UNSOUND}, "members", "no fillet to part them"),
        (b"\xff\xfe", {}, None, "is UTF-16 text"),
    ],
)
def test_what_cannot_be_added_is_told_and_nothing_is_written(tmp_path, before, change, column, says):
    file = tmp_path / "stock.csv"
    if before is not None:
        file.write_bytes(before if isinstance(before, bytes) else before.encode())
    with pytest.raises(HouseFault) as fault:
        add_profile(tmp_path, replace(own(), **change))
    assert any(p.column == column and says in str(p) for p in fault.value.errors), fault.value
    assert [p.name for p in tmp_path.iterdir()] == ([] if before is None else ["stock.csv"])
    assert before is None or file.read_bytes() == (before if isinstance(before, bytes) else before.encode())


def test_a_directory_in_its_place_is_told(tmp_path):
    (tmp_path / "stock.csv").mkdir()
    with pytest.raises(HouseFault, match="is a directory"):
        add_profile(tmp_path, own())


texts = st.text(max_size=12) | st.sampled_from(["fascia 4", "greek ovolo 1 x 3/4", "8' 12'", "½", "crown", "1e9", "ft"])


@settings(max_examples=300, suppress_health_check=list(HealthCheck))
@given(st.dictionaries(st.sampled_from([*COLUMNS, "other"]), texts))
@example({"members": "fillet " + "9" * 400})
@example({"members": "fascia 1/4 x 1/0"})
@example({"members": "greek"})
@example(CELLS | {"members": "ovolo 1e-300 x 1e-300"})
def test_whatever_is_typed_is_a_profile_or_is_told(tmp_path_factory, cells):
    folder = tmp_path_factory.mktemp("stock")
    profile, told = draw_profile(cells)
    if profile is None:
        assert told
        return
    try:
        assert add_profile(folder, profile)[1] == profile
    except HouseFault as fault:
        assert fault.errors and not list(folder.iterdir())
    else:
        assert told == ()


@settings(max_examples=200, suppress_health_check=list(HealthCheck))
@given(
    st.sampled_from(["in", "ft", "mm", "m"]),
    st.lists(
        st.tuples(st.sampled_from(["fillet", "fascia", "ovolo", "bead"]), st.floats(1 / 16, 9), st.floats(0.5, 9)),
        min_size=1,
        max_size=4,
    ),
)
def test_what_is_written_reads_back_exactly(unit, sizes):
    line = "; ".join(f"{kind} {height!r} in x {reach!r} in" for kind, height, reach in sizes)
    profile, _ = draw_profile(CELLS | {"members": line}, unit)
    if profile is None:
        return
    cells = profile_cells(profile, unit)
    assert draw_profile(cells, unit)[0] == profile


@settings(max_examples=200, suppress_health_check=list(HealthCheck))
@given(st.binary(max_size=60), st.integers(0, 120))
def test_a_stock_that_was_broken_anywhere_is_told_or_kept(tmp_path_factory, data, at):
    folder = tmp_path_factory.mktemp("stock")
    whole = f"{HEADER}\n{ROW}\n".encode()
    broken = whole[:at] + data + whole[at:]
    (folder / "stock.csv").write_bytes(broken)
    try:
        add_profile(folder, own())
    except HouseFault:
        assert (folder / "stock.csv").read_bytes() == broken
    else:
        assert (folder / "stock.csv").read_bytes().startswith(broken)
