"""Profiles where they stand: what is ripped, turned, stacked, and what shows of the whole."""

import copy
import pickle

import pytest

from planner.mouldings.assembly import Assembly, Placed, flat_edge, ripped, runs, stacked, turned
from planner.mouldings.members import Profile
from tests.known import parse_members


def profile(members: str, role: str = "casing") -> Profile:
    parts = parse_members(members)
    height, reach = sum(m.height for m in parts), max(m.projection for m in parts)
    return Profile("P", role, "", height, reach, 1.0, parts, (96.0,), 2.0)


BOARD = profile("fascia 5 1/2 x 3/4", "board")
BEADED = profile("beaded edge 1/2 x 7/8; fascia 3 1/2 x 7/8")
CROWN = profile("fillet 1/4 x 1/4; cyma recta 2 x 1 3/4; fillet 1/4 x 2", "crown")


def test_a_profile_is_ripped_through_the_higher_of_its_flat_edges():
    both = profile("fascia 1 x 3/4; bead 1/2 x 1; fascia 2 x 3/4")
    assert [flat_edge(p) for p in (BOARD, BEADED, CROWN, both)] == [0, 1, None, 2]
    inner = profile("fillet 1/4 x 1/2; fascia 3 x 1/2; fillet 1/4 x 3/4")
    assert flat_edge(inner) is None


def test_what_is_ripped_is_as_high_as_it_is_left():
    left = ripped(BEADED, 2.625)
    assert (left.height, left.projection, left.code) == (2.625, 0.875, "P")
    assert [m.height for m in left.members] == [0.5, 2.125]
    with pytest.raises(ValueError, match="no flat edge"):
        ripped(CROWN, 2.0)


def test_a_turned_board_is_as_high_as_it_is_thick():
    shelf = turned(BOARD, 3.0)
    assert (shelf.height, shelf.projection) == (0.75, 3.0)
    assert [(m.kind, m.height, m.projection) for m in shelf.members] == [("fascia", 0.75, 3.0)]


def test_a_placed_profile_knows_its_top_its_reach_and_what_it_is_cut_from():
    whole = Placed(CROWN, 0.5, 3.0)
    assert (whole.top, whole.reach, whole.cut) == (5.5, 2.5, None)
    assert Placed(ripped(BOARD, 4.0), cut_from=BOARD).cut == 4.0
    assert Placed(turned(BOARD, 3.0), cut_from=BOARD, turned=True).cut == 3.0


BEAD = profile("bead 1/2 x 1/2", "bead")
SHOE = profile("ovolo 3/4 x 1/2", "shoe")
PIECES = (
    Placed(BEAD, 0.0, 0.0, "bead"),
    Placed(SHOE, 0.5, 0.0, "shoe"),
    Placed(CROWN, 0.25, 1.75, "crown"),
    Placed(BEAD, 2.0, 4.25, "crown"),
)


def test_what_stands_before_the_rest_is_not_in_the_stack():
    assert stacked(PIECES) == (PIECES[0], PIECES[2], PIECES[3])


def test_plain_wall_breaks_a_run_and_what_touches_does_not():
    found = runs(PIECES)
    assert [[m.kind for m in run] for run in found] == [["bead"], ["fillet", "cyma recta", "fillet", "bead"]]
    assert [m.projection for m in found[1]] == [0.5, 2.0, 2.25, 2.5]


def test_an_assembly_tells_its_profiles_members_and_parts():
    whole = Assembly("crown", "crown above a bead", PIECES, 4.75, 2.5, 1.0, 8.0, 0.0)
    assert whole.profiles == ("P",)
    assert [m.kind for m in whole.members] == ["bead", "fillet", "cyma recta", "fillet", "bead"]
    assert whole.parts == (("bead", 0.5), ("wall", 1.25), ("crown", 3.0))


def test_an_assembly_is_the_same_after_a_journey():
    whole = Assembly("crown", "crown above a bead", PIECES, 4.75, 2.5, 1.0, 8.0, 0.0)
    hash(whole), whole.members, whole.parts  # what is derived does not travel
    for other in (pickle.loads(pickle.dumps(whole)), copy.copy(whole)):
        assert other == whole and hash(other) == hash(whole)
        assert set(vars(other)) <= set(Assembly.__dataclass_fields__) | {"_hash"}
