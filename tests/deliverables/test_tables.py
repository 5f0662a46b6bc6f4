"""The tables that are taken away say what the plan says, with units in their headings."""

from dataclasses import replace

import pytest

from planner import Change, Intent, Scope, TrimRule, demo_house, edits, plan, read_house, read_stock
from planner.deliverables import tables
from planner.house.model import OwnRate
from tests.takeoff.tiny import tiny


@pytest.fixture(scope="module")
def house():
    return read_house(demo_house())[0]


@pytest.fixture(scope="module")
def planned(house):
    rule = TrimRule("chair rail", Scope(tiers=(2, 2)), Change("moulded rail"))
    intent = edits.add_set(Intent(trim=(rule,)), ["West Bedroom", "Guest Bedroom"])
    return plan(house, intent, read_stock(demo_house(), house.unit))


@pytest.fixture(scope="module")
def metric(house):
    return plan(replace(house, unit="mm"))


def test_every_room_is_there_with_its_tier_and_its_size(planned, metric):
    frame = tables.rooms(planned).set_index("Room")
    assert list(frame.index) == [room.name for room in planned.house.rooms]
    assert frame["Tier"].to_dict() == {room.room.name: room.tier for room in planned.rooms}
    assert frame.loc["Library", "Ceiling [in]"] == planned.house.by_name["Library"].ceiling
    assert frame.loc["West Bedroom", "Shares its tier with"] == "Guest Bedroom"
    millimetres = tables.rooms(metric).set_index("Room")
    assert millimetres.loc["Library", "Ceiling [mm]"] == pytest.approx(25.4 * frame.loc["Library", "Ceiling [in]"])
    assert millimetres.loc["Library", "Floor [sq m]"] == pytest.approx(
        0.092903 * frame.loc["Library", "Floor [sq ft]"], rel=1e-4
    )


def test_factors_stand_under_their_weights(planned):
    frame = tables.importance(planned).set_index("Room")
    assert frame.loc["Library", "use (weight 0.35)"] == pytest.approx(
        planned.by_name["Library"].factors["use"], abs=1e-4
    )


def test_the_schedule_has_every_element_of_every_tier_and_the_rule_that_departs(planned):
    frame = tables.schedule(planned)
    ceilings = {room.ceiling for room in planned.house.rooms}
    assert set(frame["Ceiling [in]"]) == ceilings and set(frame["Tier"]) == set(range(1, len(planned.tier_names) + 1))
    departing = frame[frame["Departs by"] != ""]
    assert set(departing["Tier"]) == {2} and set(departing["Form"]) == {"moulded rail"}
    assert list(tables.departures(planned)["Says"]) == [planned.intent.trim[0].words("in")]


def test_the_schedule_has_rails_where_they_stand_on_the_walls(planned):
    frame = tables.schedule(planned)
    rails = frame[frame["Element"] == "chair rail"].set_index(["Ceiling [in]", "Tier"])["Top above the floor [in]"]
    for package, pole in planned.story_poles.items():
        for mark in pole.marks:
            if mark.name == "top of chair rail":
                assert rails[package.ceiling, package.tier] == pytest.approx(mark.height, abs=1e-4)
    (best,) = (package for package in planned.packages if (package.ceiling, package.tier) == (120.0, 4))
    assert rails[120.0, 4] == 30.0 != best.element("chair rail").top


def test_packages_say_what_they_are_built_of_and_who_has_them(planned):
    frame, built = tables.packages(planned), tables.built(planned)
    assert len(frame) == sum(len(package.elements) for package in planned.packages)
    assert all(
        "Library" in rooms for rooms in frame[frame["Package"] == planned.by_name["Library"].package.label]["Rooms"]
    )
    assert set(built["Package"]) <= set(frame["Package"]) and (built["Price [USD a foot]"] >= 0).all()


def test_pieces_keep_their_widths_when_those_behind_come_last(planned):
    frame, pieces = tables.pieces(planned, "Library"), planned.pieces["Library"]
    assert frame["Behind the face"].is_monotonic_increasing and len(frame) == len(pieces)
    assert sorted(frame["Width [in]"]) == sorted(round(piece.width, 4) for piece in pieces)
    first = next(piece for piece in pieces if piece.name == frame["Piece"].iloc[-1])
    last = frame[frame["Piece"] == first.name]
    assert round(first.width, 4) in set(last["Width [in]"])


def test_what_is_proposed_and_what_nothing_beats(planned):
    proposed, frontier = tables.proposals(planned), tables.frontier(planned)
    assert list(proposed["Plan"]) == [proposal.title for proposal in planned.proposals]
    assert list(proposed["Change of cost"]) == [round(p.cost - planned.cost, 2) for p in planned.proposals]
    assert list(proposed["Trades"]) == [proposal.trade for proposal in planned.proposals]
    assert list(frontier["Cost index"]) == [point.cost for point in planned.frontier.points]
    assert list(frontier[frontier["As it stands"]]["Cost index"]) == [planned.cost]
    assert frontier["Away"].is_monotonic_decreasing


def test_one_room_s_tables(planned):
    ways = tables.other_tiers(planned, "Library")
    assert list(ways["Tier"]) == list(range(1, len(planned.tier_names) + 1))
    doors = {o.name for o in planned.house.openings if "Library" in (o.room, o.other)} & set(planned.meetings)
    assert set(tables.meetings(planned, "Library")["Opening"]) == doors
    assert set(tables.passages(planned, "Library")["To"]) == {"Drawing Room", "Garden Room", "Stair Hall"}


def test_all_checks_are_told(planned):
    assert list(tables.checks(planned)["What"]) == [check.message for check in planned.checks]


def test_alternatives_stand_side_by_side(planned, house):
    other = plan(house, edits.pin(Intent(title="Richer"), "Library", 4))
    frame = tables.compared([planned, other]).set_index("Room")
    assert frame.loc["Library", "Richer"] == 4 and frame.loc["Library", "They differ"]
    assert frame["as it stands"].to_dict() == {room.room.name: room.tier for room in planned.rooms}


def test_a_plan_that_cannot_be_gives_headings_alone(house):
    impossible = plan(
        house, edits.pin(edits.pin(Intent(limits={"door": 0, "cased opening": 0}), "Entry Hall", 5), "Stair Hall", 1)
    )
    assert not impossible.feasible
    assert len(tables.rooms(impossible)) == 0 and "Tier" in tables.rooms(impossible)
    assert len(tables.checks(impossible)) == 0


@pytest.mark.parametrize("by", tables.COST_BY)
def test_cost_adds_up_under_headings_that_name_the_currency(by):
    planned = tiny()
    found = tables.cost_by(planned, tables.COST_BY[by])
    assert list(found.columns[-6:]) == [f"{name} [USD]" for name in tables.COST_PARTS]
    assert list(found.columns[:-6]) == list(tables.COST_BY[by])
    assert round(found["Cost [USD]"].sum(), 2) == planned.money.total > 0


def test_rates_say_what_they_are_and_who_confirmed_them():
    found = tables.rates(tiny(OwnRate("tax", 0.05, confirmed=True))).set_index("Rate")
    assert found.loc["tax", ["Value", "Confirmed", "Source"]].tolist() == [0.05, "yes", "the house"]
    assert found.loc["carpenter", "Unit"] == "per hour" and found.loc["carpenter", "Confirmed"] == "no"
    assert (found["At its low [USD]"] <= 0).all() and (found["At its high [USD]"] >= 0).all()
