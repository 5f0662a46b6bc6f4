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
    assert full.optimal and tight.optimal


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
    """An office and a study: the one is more public, and guests walk to neither for display."""
    row = house(
        ("Hall", "Nursery", "door"),
        ("Nursery", "Office", "door"),
        uses={"Hall": "entry hall", "Nursery": "nursery", "Office": "office"},
    )
    planned = plan(row, Intent(rooms={"Nursery": Wish(tier=1)}))
    assert planned.by_name["Office"].tier <= 2
    assert [(p.rise, p.leads_on) for p in planned.passages if p.end == "Office"] == [(1, False)]
    back = plan(replace(row, entries=("Office",), openings=row.openings[1:], rooms=row.rooms[1:]))
    assert [p.rise for p in back.passages] == [0]


def test_where_company_is_led_to_more_display_the_walk_may_rise_as_far_as_the_passage_allows():
    """Up a plain stair to the drawing room: the room richer by two, and no walk to a bedroom rises."""
    upstairs = house(
        ("Hall", "Landing", "stair"),
        ("Landing", "Drawing Room", "door"),
        ("Landing", "Bedroom", "door"),
        uses={
            "Hall": "entry hall",
            "Landing": "upper hall",
            "Drawing Room": "drawing room",
            "Bedroom": "principal bedroom",
        },
    )
    planned = plan(upstairs, Intent(rooms={"Landing": Wish(tier=3), "Drawing Room": Wish(tier=5)}))
    rises = {p.end: (p.rise, p.leads_on, p.difference) for p in planned.passages}
    assert rises["Drawing Room"] == (2, True, 2)
    assert rises["Bedroom"][:2] == (0, False) and rises["Bedroom"][2] <= 0
    assert rises["Landing"][:2] == (0, False)
    closer = Intent(rooms={"Landing": Wish(tier=3), "Drawing Room": Wish(tier=5)}, limits={"door": 1})
    assert not plan(upstairs, closer).feasible


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
    """0.1 for a cased opening, 0.3 for every other kind; nothing beside a room that is not seen."""
    assert {row.kind: row.penalty for row in LIBRARY.passages} == dict.fromkeys(LIBRARY.passage_kinds, 0.3) | {
        "cased opening": 0.1
    }
    steep = replace(LIBRARY, passages=tuple(msgspec.structs.replace(row, penalty=9.0) for row in LIBRARY.passages))
    demo, _ = read_house(demo_house())
    assert {p.weight for p in plan(demo).passages} == {0.0, 0.1, 0.3}
    assert {p.weight for p in plan(demo, library=steep).passages} == {0.0, 9.0}
    formal = Intent(rooms={"Upper Hall": Wish(tier=4)})
    planned = plan(demo, formal)
    abrupt = sum(p.weight * max(0, abs(p.difference) - p.comfort) for p in planned.passages)
    assert planned.objective.abrupt == pytest.approx(abrupt) and abrupt > 0


def test_what_if_tries_every_tier_of_the_ladder_once():
    for tiers in (3, 5, 7):
        planned = plan(SUITE, Intent(tiers=tiers))
        assert [way.tier for way in planned.what_if("Parlor")] == list(range(1, tiers + 1))
        here = planned.what_if("Parlor")[planned.by_name["Parlor"].tier - 1]
        assert here.objective == pytest.approx(0) and here.cost == 0 and not here.moves


def test_what_another_tier_takes_is_told_with_pins_budget_and_ceiling():
    low = replace(SUITE, rooms=tuple(replace(r, ceiling=94) for r in SUITE.rooms))
    highest = plan(low).what_if("Hall")[4]
    assert highest.moves is None
    assert highest.conflicts[0].startswith("Hall: tier 4 needs a ceiling of 8'-0\", and this one is 7'-10\"")
    assert highest.conflicts[1] == "Hall: pinned to tier 5."
    tight = plan(SUITE, Intent(budget=min_cost(SUITE, {})))
    beyond = tight.what_if("Parlor")[4]
    assert beyond.moves is None and beyond.conflicts[0].startswith("The budget is ")
    assert beyond.conflicts[1:] == ("Parlor: pinned to tier 5.",)


def test_a_budget_names_just_the_wishes_that_stand_in_its_way():
    """Without the parlor's range the rest fits; the bedroom's pin asks for no more than it has anyway."""
    asked = {"Parlor": Wish(lowest=5), "Bedroom": Wish(tier=3), "Closet": Wish(highest=2)}
    without = {name: wish for name, wish in asked.items() if name != "Parlor"}
    cheapest = min_cost(SUITE, without)
    planned = plan(SUITE, Intent(rooms=asked, budget=cheapest))
    needed = min_cost(SUITE, asked)
    assert planned.conflicts == (
        f"The budget is {cheapest:,.2f}, and the plainest plan that keeps every rule costs {needed:,.2f}.",
        "Parlor: asked to be in tiers 5.",
    )
    assert plan(SUITE, Intent(rooms=asked, budget=needed)).feasible
    assert not plan(SUITE, Intent(rooms=asked, budget=needed - 0.01)).feasible


def min_cost(house: House, rooms: dict[str, Wish]) -> float:
    """What the plainest plan costs that keeps every rule, found by trying budgets."""
    low, high = 0.0, 10_000.0
    while high - low > 0.004:
        middle = (low + high) / 2
        low, high = (low, middle) if plan(house, Intent(rooms=rooms, budget=middle)).feasible else (middle, high)
    return round(high, 2)


def test_a_set_of_many_rooms_is_tied_in_a_chain_as_firmly_as_one_of_few():
    doors = [("Hall", f"Bedroom {n}", "door") for n in range(14)]
    uses = {"Hall": "entry hall"} | {f"Bedroom {n}": "bedroom" for n in range(14)}
    for count in (12, 14):
        group = tuple(f"Bedroom {n}" for n in range(count))
        planned = plan(house(*doors, uses=uses), Intent(sets=(group,), rooms={"Bedroom 3": Wish(tier=1)}))
        assert {planned.by_name[name].tier for name in group} == {1}
        ties = [arc for arc in planned.rules.arcs if "are a set that shares a tier" in arc.why]
        assert {arc.bound for arc in ties} == {0}
        assert {(arc.start, arc.end) for arc in ties} == {(arc.end, arc.start) for arc in ties}
        named = sorted(group)
        assert {arc.why for arc in ties} == {f"{', '.join(named[:-1])} and {named[-1]} are a set that shares a tier"}
        assert len(ties) == (count * (count - 1) if count <= 12 else 2 * (count - 1))


def test_a_conflict_reads_as_sentences():
    planned = plan(SUITE, Intent(rooms={"Hall": Wish(tier=5), "Parlor": Wish(tier=1)}))
    assert all(words[0].isupper() and words.endswith(".") and ".." not in words for words in planned.conflicts)
    across = next(words for words in planned.conflicts if "double door" in words)
    assert across == "Across the double door between Hall and Parlor tiers differ by at most 1."
