"""Rules on trim and what stands before it, each broken and kept by a sixteenth; figures worked by hand."""

from dataclasses import replace

import msgspec
import pytest

from planner.checks.plan import check_room
from planner.house.model import OUTSIDE, Fixture, Flight, House, Opening, Room
from planner.library import standard
from planner.walls.layout import lay_out
from tests.walls.trim import altered, trim

LIBRARY = standard()
RAILED = trim(3)
"""Base, chair rail and crown under 10 ft."""

RAIL, BASE, CROWN = (RAILED.element(name) for name in ("chair rail", "base", "crown"))
ROOM = Room("Kitchen", "Ground", "kitchen", 144.0, 120.0, 120.0)
FLIGHT = Flight("Main", "Kitchen", "N", 20.0, "right", 8, 7.5, 10.0)


def fixture(kind, bottom, top, offset=24.0, width=60.0, depth=None):
    row = LIBRARY.fixture_kinds[kind]
    return Fixture("F", kind, "Kitchen", "N", offset, width, bottom, top, row.depth if depth is None else depth)


def told(rule, *fixtures, package=RAILED, openings=(), flights=(), notes="", library=LIBRARY):
    """What one rule says of a kitchen."""
    room = replace(ROOM, notes=notes)
    house = House("Test", ("Kitchen",), (room,), openings, fixtures=fixtures, flights=flights)
    walls = lay_out(house, "Kitchen", package, library)
    found = [c for c in check_room(house, "Kitchen", package, walls, library) if c.rule == rule]
    assert all("{" not in c.message + c.remedy and c.source for c in found)
    return found


def rail_edges():
    house = House("Test", ("Kitchen",), (ROOM,), ())
    top = lay_out(house, "Kitchen", RAILED, LIBRARY)[0].rail_top
    return top - RAIL.size, top


LOW, TOP = rail_edges()


def test_a_rail_across_a_box_in_the_wall_is_told():
    (found,) = told("rail across a fixture", fixture("receptacle", LOW - 2, LOW + 1 / 16))
    assert "the chair rail" in found.message and found.severity == "warning"
    assert told("rail across a fixture", fixture("receptacle", LOW - 4, LOW)) == []
    assert told("rail across a fixture", fixture("receptacle", TOP, TOP + 4)) == []
    assert told("rail across a fixture", fixture("counter", 0.0, 36.0)) == []


def test_a_radiator_that_breaks_the_rail_is_told_with_the_clear():
    (found,) = told("rail broken by a fixture", fixture("radiator", 3.0, LOW + 1 / 16))
    assert 'returns 2" short of F' in found.message
    assert told("rail broken by a fixture", fixture("radiator", 3.0, LOW)) == []


def test_a_rail_that_would_not_stop_at_a_radiator_collides_with_it():
    """Where the table lets rails pass radiators, a fixture's height is held against the rail as notes are."""
    row = replace_kind("radiator", returns=())
    library = replace(LIBRARY, fixtures=tuple(row if f.kind == "radiator" else f for f in LIBRARY.fixtures))
    rule = "chair rail and radiator"
    (found,) = told(rule, fixture("radiator", 3.0, LOW + 1), library=library)
    assert found.severity == "error"
    assert told(rule, fixture("radiator", 3.0, LOW), library=library) == []


def replace_kind(kind, **changes):
    return msgspec.structs.replace(LIBRARY.fixture_kinds[kind], **changes)


def test_notes_tell_of_radiators_where_the_table_has_none():
    notes = "radiator 34 in high"
    assert len(told("chair rail and radiator", notes=notes)) == 1
    assert told("chair rail and radiator", fixture("radiator", 3.0, 24.0), notes=notes) == []


@pytest.mark.parametrize("kind", ["wall cabinet", "tall cabinet", "built-in"])
def test_a_cabinet_that_goes_up_into_the_crown_goes_up_to_the_ceiling(kind):
    foot = 120.0 - CROWN.size
    (found,) = told("crown on a cabinet", fixture(kind, 54.0, foot + 2))
    assert 'the one takes 2" of the other' in found.message
    assert told("crown on a cabinet", fixture(kind, 54.0, foot)) == []
    assert told("crown on a cabinet", fixture(kind, 54.0, 120.0)) == []
    (close,) = told("mouldings too close", fixture(kind, 54.0, foot - 1))
    assert "F and the crown" in close.message
    assert told("mouldings too close", fixture(kind, 54.0, foot - 1.5)) == []


def test_a_register_lies_clear_of_the_base():
    assert len(told("base and register", fixture("register", BASE.size - 1 / 16, 16.0))) == 1
    assert told("base and register", fixture("register", BASE.size, 16.0)) == []
    assert told("base and register", fixture("receptacle", 1.0, 5.0)) == [], "a box is let into the base"


def test_a_rail_and_a_backsplash_meet_or_stay_apart():
    """A plate rail's lower edge 1 1/2 in over the backsplash, which stands 4 in on the counter."""
    craftsman = trim(4, style="craftsman")
    rail = craftsman.element("plate rail")
    low = rail.bottom
    for gap, says in ((1.5, 0), (1.5 - 1 / 16, 1), (0.0, 0), (-2.0, 1)):
        found = told("rail and backsplash", fixture("counter", 0.0, low - 4 - gap), package=craftsman)
        assert len(found) == says, gap


def test_a_fixture_keeps_off_the_trim_of_openings():
    door = Opening("D", "door", "Kitchen", OUTSIDE, "N", 100.0, 30.0, 80.0)
    house = House("Test", ("Kitchen",), (ROOM,), (door,))
    left = next(w for w in lay_out(house, "Kitchen", RAILED, LIBRARY) if w.wall == "N").surrounds[0].left
    rule = "fixture and casing"
    (found,) = told(rule, fixture("counter", 0.0, 36.0, 0.0, left + 0.5), openings=(door,))
    assert 'F takes 1/2" of the left leg backband of D' in found.message and found.opening == "D"
    assert told(rule, fixture("counter", 0.0, 36.0, 0.0, left), openings=(door,)) == []
    assert told(rule, fixture("wall cabinet", 90.0, 110.0, 90.0, 50.0), openings=(door,)) == []


def test_a_hand_goes_between_handrail_and_trim():
    """2 in of rail at 3 1/2 off the wall leave 1 1/2; what is nailed behind it takes its projection of that."""
    rule = "handrail clearance"
    assert told(rule, fixture("handrail", 34.0, 36.0)) == []
    (near,) = told(rule, fixture("handrail", 34.0, 36.0, depth=3.25))
    assert '1 1/4" is left between F and the wall' in near.message
    over_rail = fixture("handrail", LOW, TOP, depth=3.5)
    (before,) = told(rule, over_rail)
    assert "the chair rail" in before.message
    assert told(rule, replace(over_rail, depth=3.5 + RAIL.projection)) == []


def test_a_handrail_beside_a_flight_is_in_reach_above_the_nosings_and_clear_of_the_raking_rail():
    """International Residential Code (2018), R311.7.8: 34 to 38 in above the nosings, 1 1/2 in clear."""
    for top, says in ((33.0, 1), (34.0, 0), (38.0, 0), (39.0, 1)):
        rail = fixture("handrail", top - 2, top)
        assert len(told("handrail height", rail, flights=(FLIGHT,))) == says, top
        assert told("handrail height", rail) == []
    low = fixture("handrail", TOP - 1, TOP + 1)
    assert "the chair rail" in told("handrail clearance", low, flights=(FLIGHT,))[0].message
    assert told("handrail clearance", fixture("handrail", TOP, TOP + 2), flights=(FLIGHT,)) == []


def test_a_handrail_before_a_wainscot_stands_off_its_face():
    best = trim(5)
    low = fixture("handrail", 20.0, 22.0)
    (found,) = told("handrail clearance", low, package=best)
    assert "the wainscot" in found.message
    stands = best.element("wainscot").projection
    assert told("handrail clearance", replace(low, depth=3.5 + stands), package=best) == []
    deeper = altered(best, "wainscot", projection=stands + 0.5)
    assert len(told("handrail clearance", replace(low, depth=3.5 + stands), package=deeper)) == 1
