"""Where runs are spliced: the fewest joints, over studs, clear of corners and casings."""

from itertools import pairwise, product

from hypothesis import given, settings
from hypothesis import strategies as st

from planner.takeoff.splices import ANYWHERE, OFF_STUDS, ON_CASINGS, Run, Shunned, joints

STUDS, CORNER = 16.0, 24.0


def test_what_fits_is_not_spliced():
    assert joints(Run(0, 190, 190), STUDS, CORNER) == ((), "")


def test_what_its_ends_make_longer_counts():
    assert joints(Run(0, 190, 190, before=1), STUDS, CORNER)[0] == (160.0,)


def test_a_lap_counts_at_every_joint():
    assert joints(Run(0, 264, 176, lap=0.5), STUDS, CORNER)[0] == (160.0,)


def test_joints_keep_off_casings_and_openings():
    assert joints(Run(0, 264, 190), STUDS, CORNER, [(150, 240)]) == ((144.0,), "")
    assert joints(Run(0, 264, 190), STUDS, CORNER, (), Shunned(over=((150, 240),))) == ((144.0,), "")


def test_a_joint_that_can_come_nowhere_good_is_told():
    assert joints(Run(0, 264, 190), STUDS, CORNER, [(60, 240)])[1] == ON_CASINGS
    assert joints(Run(0, 100, 60), 30, 45)[1] == OFF_STUDS
    assert joints(Run(0, 30, 20), STUDS, CORNER)[1] == ANYWHERE


@settings(max_examples=200)
@given(
    st.floats(0, 40),
    st.floats(150, 700),
    st.floats(80, 200),
    st.lists(st.tuples(st.floats(0, 600), st.floats(20, 60)), max_size=3),
)
def test_every_joint_is_where_it_should_be_or_it_is_told(x0, length, longest, openings):
    run = Run(x0, x0 + length, longest, lap=0.375)
    casings = [(a, a + wide) for a, wide in openings]
    found, told = joints(run, STUDS, CORNER, casings)
    assert all(run.fits(a, b) for a, b in pairwise((run.x0, *found, run.x1)))
    if told in ("", ON_CASINGS):
        assert all(x % STUDS == 0 and run.x0 + CORNER <= x <= run.x1 - CORNER for x in found)
    if not told:
        assert not any(a <= x <= b for x in found for a, b in casings)


@settings(max_examples=60, deadline=None)
@given(st.integers(200, 420), st.integers(90, 190), st.frozensets(st.integers(2, 24), max_size=6))
def test_no_fewer_joints_do(length, longest, beside):
    run, shunned = Run(0, length, longest), Shunned(beside=frozenset(16.0 * k for k in beside))
    found, told = joints(run, STUDS, CORNER, (), shunned)
    if told:
        return
    places = [x for x in range(32, length, 16) if x <= length - CORNER]
    ways = [
        sorted(ws)
        for n in range(len(found) + 1)
        for ws in product(places, repeat=n)
        if sorted(set(ws)) == list(ws) and all(run.fits(a, b) for a, b in pairwise((0, *ws, length)))
    ]
    best = min((len(ws), sum(shunned.count(x) for x in ws)) for ws in ways)
    assert (len(found), sum(shunned.count(x) for x in found)) == best
