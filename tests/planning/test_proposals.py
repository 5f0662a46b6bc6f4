"""Each proposal is the plan of its intent, keeps the rules, says what is true of it, and is like no other."""

import os
import pickle
import subprocess
import sys
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings

from planner import Intent, Plan, Wish, demo_house, frames, list_intents, plan, read_house, read_intent, read_stock
from planner.hierarchy import extremes
from planner.planning import proposals as proposing
from planner.planning.proposals import BUDGETS, Proposal, budgets, moved
from tests.planning.test_kept import FOLDER
from tests.random_houses import houses_and_intents, random_house


@cache
def stands(name: str) -> Plan:
    """Plans with something of each kind to propose beside them."""
    house, _ = read_house(FOLDER if name == "surviving parlor" else demo_house())
    stock = read_stock(demo_house(), house.unit)
    if name == "rules":
        rooms = {"Library": Wish(tier=3), "Upper Hall": Wish(lowest=2), "Garden Room": Wish(lowest=1, highest=2)}
        intent = Intent(rooms=rooms, sets=(("West Bedroom", "Guest Bedroom"),), limits={"door": 1}, budget=160.0)
    elif name in list_intents(demo_house()):
        intent = read_intent(demo_house(), name)
    else:
        intent = Intent(budget=150.0 if name == "budget" else None)
    return plan(house, intent, stock)


NAMES = ("defaults", "formal", "easy", "budget", "rules", "surviving parlor")


def planned_of(stands: Plan, proposal: Proposal) -> Plan:
    return plan(stands.house, proposal.intent, stands.stock, stands.library)


def tiers_of(planned: Plan) -> dict[str, int]:
    return {room.room.name: room.tier for room in planned.rooms}


def agrees(stands: Plan, proposal: Proposal) -> None:
    """Planned by itself, a proposal is what it says."""
    found, before = planned_of(stands, proposal), tiers_of(stands)
    assert {room: (before[room], tier) for room, tier in tiers_of(found).items() if tier != before[room]} == dict(
        proposal.moves
    )
    assert (found.cost, found.optimal) == (proposal.cost, True)
    assert (found.objective.fit, found.objective.abrupt) == pytest.approx((proposal.fit, proposal.abrupt))


@pytest.mark.parametrize("name", NAMES)
def test_the_intent_of_a_proposal_gives_it(name):
    assert stands(name).proposals
    for proposal in stands(name).proposals:
        agrees(stands(name), proposal)
        assert proposal.intent.title == proposal.title


@settings(max_examples=25, deadline=None)
@given(houses_and_intents())
def test_the_intent_of_a_proposal_gives_it_in_any_house(given):
    house, intent = given
    planned = plan(house, intent)
    for proposal in planned.proposals:
        agrees(planned, proposal)
    assert planned.feasible or planned.proposals == ()


@pytest.mark.parametrize("name", NAMES)
def test_proposals_differ_from_the_plan_and_from_each_other_and_keep_the_rules(name):
    plans = [stands(name), *(planned_of(stands(name), proposal) for proposal in stands(name).proposals)]
    assert len({tuple(tiers_of(p).items()) for p in plans}) == len(plans)
    problem, budget = stands(name).problem, stands(name).intent.budget
    for proposal in stands(name).proposals:
        tiers = np.array(
            [dict(proposal.moves).get(r, (0, tiers_of(stands(name))[r]))[1] for r in stands(name).rules.rooms]
        )
        start, end, bound = problem.arcs.T
        assert (tiers >= problem.lowest).all() and (tiers <= problem.highest).all()
        assert (tiers[end] - tiers[start] <= bound).all()
        assert proposal.kind in ("knee", "budget", "best") or budget is None or proposal.cost <= budget


def test_there_is_one_of_each_kind_where_there_is_room_for_it():
    kinds = [proposal.kind for proposal in stands("defaults").proposals]
    assert dict.fromkeys(kinds) == dict.fromkeys(("cheapest", "knee", "budget", "contrast", "gentlest", "near"))
    assert len(kinds) <= 12
    assert "best" in [proposal.kind for proposal in stands("budget").proposals]


def of(name: str, kind: str) -> list[Proposal]:
    return [proposal for proposal in stands(name).proposals if proposal.kind == kind]


def test_the_cheapest_still_steps_down():
    before, (cheapest,) = stands("defaults"), of("defaults", "cheapest")
    found = planned_of(before, cheapest)
    tiers, now = tiers_of(found), {(p.start, p.end): abs(p.difference) for p in before.passages}
    bedrooms = [route.room for route in found.routes]
    assert len(bedrooms) == 3
    assert all(tiers[high] > tiers[low] for high in ("Entry Hall", "Drawing Room") for low in bedrooms)
    for passage in found.passages:
        most = max(passage.comfort, now[passage.start, passage.end])
        assert passage.weight == 0 or abs(passage.difference) <= most
    assert cheapest.cost < before.cost
    assert cheapest.cost > before.frontier.points[0].cost  # what costs least of all does not
    assert "Entry Hall and Drawing Room stand above every bedroom" in cheapest.trade


def test_budgets_divide_what_could_be_saved_and_each_is_the_best_within_it():
    before = stands("defaults")
    within = budgets(before.frontier.points[0].cost, before.cost)
    assert len(within) == BUDGETS - 1
    assert all(b == int(b) for b in within)
    best = {planned.cost for budget in within for planned in [plan_within(before, budget)]}
    told = {proposal.cost for proposal in before.proposals if proposal.kind in ("budget", "knee", "cheapest")}
    assert best <= told
    for proposal in of("defaults", "budget"):
        assert proposal.intent == replace(before.intent, budget=proposal.intent.budget, title=proposal.title)
        assert proposal.cost <= proposal.intent.budget


def plan_within(stands: Plan, budget: float) -> Plan:
    return plan(stands.house, replace(stands.intent, budget=budget), stands.stock, stands.library)


def test_knees_are_those_of_the_frontier():
    before = stands("defaults")
    knees = {before.frontier.points[at].cost for at in before.frontier.knees}
    told = {proposal.cost for proposal in before.proposals if proposal.kind in ("knee", "cheapest")}
    assert knees
    assert knees <= told | {before.cost}
    assert of("defaults", "knee")[0].title == "Most for the money"
    assert of("defaults", "knee")[0].cost == before.frontier.points[before.frontier.knees[0]].cost


def test_the_plan_itself_is_a_point_of_its_frontier():
    for name in NAMES:
        points = [(p.cost, round(p.total, 6)) for p in stands(name).frontier.points]
        assert (stands(name).cost, round(stands(name).objective.total, 6)) in points
        assert stands(name).frontier.whole


def test_the_best_whatever_it_costs_has_no_budget():
    (best,) = of("budget", "best")
    assert best.intent.budget is None
    assert best.total < stands("budget").objective.total
    assert planned_of(stands("budget"), best) == planned_of(stands("budget"), best)
    assert best.cost == stands("defaults").cost


def test_contrast_and_steps_are_told_as_they_are():
    before = stands("defaults")
    (wide,), (gentle,) = of("defaults", "contrast"), of("defaults", "gentlest")

    def averages(planned: Plan) -> float:
        guests = [r.tier for r in planned.rooms if planned.library.use(r.room.use).guest]
        others = [r.tier for r in planned.rooms if not planned.library.use(r.room.use).guest]
        return sum(guests) / len(guests) - sum(others) / len(others)

    then, now = averages(planned_of(before, wide)), averages(before)
    assert then > now
    assert f"stand {then:.2f} tiers above the others on average, instead of {now:.2f}" in wide.trade

    def steps(planned: Plan) -> int:
        return sum(abs(p.difference) for p in planned.passages if p.weight > 0)

    assert steps(planned_of(before, gentle)) < steps(before)
    said = f"come to {steps(planned_of(before, gentle))} tiers in all, not {steps(before)}"
    assert said in gentle.trade
    assert extremes.stepped(before.problem, before.assignment.tiers) == steps(before)


def test_the_nearest_are_apart():
    near = of("defaults", "near")
    assert len(near) >= 2
    totals = [proposal.total for proposal in near]
    assert totals == sorted(totals)
    after = [{room: tier for room, (_, tier) in proposal.moves.items()} for proposal in near]
    now = tiers_of(stands("defaults"))
    assert all(len(moves) >= 2 for moves in after)
    for one in after:
        for other in after:
            assert one is other or sum(({**now, **one})[r] != ({**now, **other})[r] for r in now) >= 2


def test_a_proposal_says_what_it_trades_for_what():
    (first, *_) = of("defaults", "budget")
    assert first.trade == (
        "Costs 10.44 less, 149.56 instead of 160.00 by cost index; Entry Hall falls one tier; rooms are 3.83 away from "
        "what they ask for in all, instead of 3.55; nothing within 155 comes nearer to what the rooms ask for."
    )


def test_moves_are_told_by_their_steps():
    assert moved({"A": (1, 2)}) == "A rises one tier"
    alike = dict.fromkeys("ABCD", (3, 2))
    assert moved(alike) == "A, B, C and D each fall one tier"
    assert moved(alike | {"E": (3, 2)}) == "A, B, C and 2 more rooms each fall one tier"
    assert moved({"A": (1, 3), "B": (3, 1), "C": (2, 4)}) == "A and C each rise two tiers; B falls two tiers"


def test_what_is_fixed_has_nothing_to_propose():
    house = random_house(4, 1)
    fixed = {room.name: Wish(tier=2) for room in house.rooms}
    assert plan(house, Intent(rooms=fixed)).proposals == ()
    assert plan(random_house(1, 1)).frontier is not None


def test_what_would_take_too_long_to_find_is_named(monkeypatch):
    whole = stands("defaults")
    assert whole.not_proposed == ()
    monkeypatch.setattr(proposing, "NODES", 0)
    cut = plan(whole.house, whole.intent, whole.stock)
    assert "Others nearly as good" in cut.not_proposed
    assert len(cut.proposals) < len(whole.proposals)
    assert not {proposal.title for proposal in cut.proposals} & set(cut.not_proposed)


def test_what_no_plan_keeps_has_no_frontier():
    planned = plan(read_house(demo_house())[0], Intent(budget=1.0))
    assert (planned.feasible, planned.frontier, planned.proposals) == (False, None, ())
    assert list(frames.frontier(planned).columns) == frames.FRONTIER
    assert frames.frontier(planned).empty
    assert frames.proposals(planned).empty


def test_trim_that_stays_is_not_pinned():
    before = stands("surviving parlor")
    assert before.house.stays
    for proposal in before.proposals:
        assert not any(proposal.intent.rooms.get(room, Wish()).tier for room in before.house.stays)


SCRIPT = """
from planner import demo_house, plan, read_house
for proposal in plan(read_house(demo_house())[0]).proposals:
    print(proposal)
"""


def test_proposals_are_the_same_in_any_process():
    runs = [
        subprocess.run(
            [sys.executable, "-c", SCRIPT],
            env=os.environ | {"PYTHONHASHSEED": seed},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in ("1", "2")
    ]
    assert runs[0] == runs[1]
    assert runs[0].count("Proposal(") >= 5


def test_a_proposal_is_a_value():
    proposal = stands("defaults").proposals[0]
    assert pickle.loads(pickle.dumps(proposal)) == proposal
    assert len({proposal, pickle.loads(pickle.dumps(proposal))}) == 1


def test_the_frontier_as_a_table():
    before, frame = stands("defaults"), frames.frontier(stands("defaults"))
    assert list(frame.columns) == frames.FRONTIER
    assert list(frame["cost"]) == [point.cost for point in before.frontier.points]
    assert list(frame["objective"]) == [point.total for point in before.frontier.points]
    assert [at for at, knee in enumerate(frame["knee"]) if knee] == sorted(before.frontier.knees)
    assert list(frame[frame["stands"]]["cost"]) == [before.cost]
    assert list(frame[frame["stands"]]["title"]) == ["as it stands"]
    assert set(frame["gap"]) == {0.0}
    by_title = {p.title: p.cost for p in before.proposals}
    named = frame[(frame["title"] != "") & ~frame["stands"]]
    assert len(named) >= 4
    assert all(by_title[title] == cost for title, cost in zip(named["title"], named["cost"], strict=True))


def test_of_a_frontier_that_is_not_whole_the_best_within_budgets_are_listed_too():
    planned = plan(random_house(300, 1))
    assert not planned.frontier.whole
    frame = frames.frontier(planned)
    known, within = {p.cost for p in planned.frontier.points}, [p for p in planned.proposals if p.kind == "budget"]
    assert within and not {p.cost for p in within} <= known
    assert known | {p.cost for p in within} == set(frame["cost"])
    assert frame["cost"].is_monotonic_increasing
    assert frame["objective"].is_monotonic_decreasing
    assert set(frame["gap"]) == {planned.frontier.gap}


def test_the_proposals_as_a_table():
    before, frame = stands("defaults"), frames.proposals(stands("defaults"))
    assert list(frame.columns) == frames.PROPOSALS
    assert list(frame["title"]) == [proposal.title for proposal in before.proposals]
    for row, proposal in zip(frame.to_dict("records"), before.proposals, strict=True):
        assert row["cost_change"] == pytest.approx(proposal.cost - before.cost)
        assert row["objective_change"] == pytest.approx(proposal.total - before.objective.total)
        assert row["moves"] == moved(proposal.moves)
        assert row["rooms"] == len(proposal.moves)
        assert row["trade"] == proposal.trade
