"""Rules, reasons, what-if and conflicts on houses small enough to work by hand."""

from dataclasses import replace

import msgspec
import pytest

from planner import demo_house, read_house
from planner.hierarchy.rules import scaled_range
from planner.house.model import House, Opening, Room
from planner.intent.model import Intent, Wish
from planner.planning.pipeline import plan
from tests.known import LIBRARY


def house(*passages: tuple[str, str, str], uses: dict[str, str], ceiling: float = 120) -> House:
    rooms = tuple(Room(name, "Ground", use, 180, 180, ceiling) for name, use in uses.items())
    openings = tuple(Opening(f"D{i}", kind, a, b, wall="N") for i, (a, b, kind) in enumerate(passages))
    return House("Worked", (next(iter(uses)),), rooms, openings, grade="great house")


SUITE = house(
    ("Hall", "Parlor", "double door"),
    ("Hall", "Bedroom", "door"),
    ("Bedroom", "Closet", "door"),
    uses={"Hall": "entry hall", "Parlor": "parlor", "Bedroom": "bedroom", "Closet": "closet"},
)


def test_a_closet_does_not_drag_its_neighbours_down():
    tiers = {r.room.name: r.tier for r in plan(SUITE).rooms}
    assert tiers["Closet"] == 1
    assert tiers["Hall"] == 5
    closet = next(p for p in plan(SUITE).passages if "Closet" in (p.start, p.end))
    assert closet.limit is None and closet.weight == 0


def test_a_pin_outranks_use_and_says_so():
    planned = plan(SUITE, Intent(rooms={"Bedroom": Wish(tier=4)}))
    bedroom = planned.by_name["Bedroom"]
    assert bedroom.tier == 4 and bedroom.pinned
    assert any("outranks" in reason for reason in bedroom.reasons)


def test_a_pin_does_not_outrank_a_low_ceiling():
    low = replace(SUITE, rooms=tuple(replace(r, ceiling=94) for r in SUITE.rooms))
    planned = plan(low, Intent(rooms={"Hall": Wish(tier=5)}))
    assert not planned.feasible
    assert len(planned.conflicts) == 2
    assert any("ceiling" in words for words in planned.conflicts)


def test_a_conflict_of_two_pins_across_a_door_names_the_pins_and_the_door():
    planned = plan(SUITE, Intent(rooms={"Hall": Wish(tier=5), "Parlor": Wish(tier=1)}))
    assert not planned.feasible
    assert len(planned.conflicts) == 3
    assert "Parlor: pinned to tier 1." in planned.conflicts
    assert "Hall: pinned to tier 5." in planned.conflicts
    assert any("double door between Hall and Parlor" in words for words in planned.conflicts)


def test_a_set_and_a_budget_are_kept():
    together = plan(SUITE, Intent(sets=(("Bedroom", "Parlor"),)))
    assert together.by_name["Bedroom"].tier == together.by_name["Parlor"].tier
    full = plan(SUITE)
    tight = plan(SUITE, Intent(budget=full.cost * 0.97))
    assert tight.cost <= full.cost * 0.97
    assert tight.objective.total > full.objective.total


def test_a_budget_below_the_plainest_plan_says_what_that_costs():
    planned = plan(SUITE, Intent(budget=1, rooms={"Parlor": Wish(tier=4)}))
    assert not planned.feasible
    assert planned.conflicts[0].startswith("The budget is 1.00")


def test_rooms_open_to_each_other_share_a_tier_and_an_unseen_one_reads_with_its_neighbour():
    flowing = house(
        ("Hall", "Kitchen", "door"),
        ("Kitchen", "Pantry", "open"),
        uses={"Hall": "entry hall", "Kitchen": "kitchen", "Pantry": "pantry"},
    )
    planned = plan(flowing)
    assert planned.feasible
    assert planned.by_name["Pantry"].tier == planned.by_name["Kitchen"].tier > 1


def test_the_tier_does_not_rise_going_in_but_by_one_into_a_more_public_room():
    row = house(
        ("Hall", "Back Hall", "door"),
        ("Back Hall", "Drawing Room", "door"),
        uses={"Hall": "entry hall", "Back Hall": "bath", "Drawing Room": "drawing room"},
    )
    planned = plan(row, Intent(rooms={"Back Hall": Wish(tier=3)}))
    assert planned.by_name["Drawing Room"].tier <= 4
    assert [p.rise for p in planned.passages if p.end == "Drawing Room"] == [1]


def test_what_if_matches_pinning_the_room():
    planned = plan(SUITE)
    for tried in planned.what_if("Parlor"):
        pinned = plan(SUITE, Intent(rooms={"Parlor": Wish(tier=tried.tier)}))
        assert pinned.feasible == (tried.moves is not None)
        if tried.moves is None:
            assert tried.conflicts
            continue
        assert pinned.objective.total - planned.objective.total == pytest.approx(tried.objective, abs=1e-9)
        assert pinned.cost - planned.cost == pytest.approx(tried.cost, abs=0.005)
        for room, (was, would_be) in tried.moves.items():
            assert (planned.by_name[room].tier, pinned.by_name[room].tier) == (was, would_be)
        moved = {r.room.name for r in pinned.rooms if r.tier != planned.by_name[r.room.name].tier}
        assert moved - {"Parlor"} == set(tried.moves)


def test_what_if_matches_pinning_in_every_room_of_the_demo_house():
    facts, _ = read_house(demo_house())
    planned = plan(facts)
    for room in planned.by_name:
        for tried in planned.what_if(room):
            pinned = plan(facts, Intent(rooms={room: Wish(tier=tried.tier)}))
            assert pinned.feasible == (tried.moves is not None)
            assert pinned.conflicts == tried.conflicts
            if pinned.feasible:
                assert pinned.objective.total - planned.objective.total == pytest.approx(tried.objective, abs=1e-9)


def test_ranges_of_five_tiers_fit_ladders_of_other_lengths():
    assert scaled_range(1, 5, 7) == (1, 7)
    assert scaled_range(3, 5, 3) == (2, 3)


def test_each_tier_beyond_comfort_costs_what_the_table_of_passages_says():
    """0.3 for every kind of passage; nothing beside a room that is not seen."""
    assert {row.penalty for row in LIBRARY.passages} == {0.3}
    steep = replace(LIBRARY, passages=tuple(msgspec.structs.replace(row, penalty=9.0) for row in LIBRARY.passages))
    demo, _ = read_house(demo_house())
    assert {p.weight for p in plan(demo).passages} == {0.0, 0.3}
    assert {p.weight for p in plan(demo, library=steep).passages} == {0.0, 9.0}
    formal = Intent(rooms={"Upper Hall": Wish(tier=4)})
    planned = plan(demo, formal)
    abrupt = sum(p.weight * max(0, abs(p.difference) - p.comfort) for p in planned.passages)
    assert planned.objective.abrupt == pytest.approx(abrupt) and abrupt > 0
