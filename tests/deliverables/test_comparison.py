"""Alternatives beside one another say what each plan says by itself."""

from dataclasses import replace

import pytest

from planner import Answer, Record, Vote, demo_house, edits, house_library, plan, read_house, read_stock
from planner.deliverables import comparison
from planner.deliverables.comparison import CRITERIA, DIFFERS, NONE
from planner.intent.folder import read_intent
from planner.intent.trim_rules import Scope
from planner.walls.parts import BEHIND


@pytest.fixture(scope="module")
def plans():
    house, _ = read_house(demo_house())
    library, _ = house_library(demo_house())
    stock = read_stock(demo_house(), house.unit)
    plain = read_intent(demo_house(), "measured")
    without = edits.set_form(plain, "chair rail", Scope(tiers=(1, 5)), "none", library)
    return [
        plan(house, intent, stock, library)
        for intent in (plain, replace(without, name="bare", title="Bare"), read_intent(demo_house(), "formal"))
    ]


def by_key(frame, *keys):
    (row,) = frame[(frame.iloc[:, : len(keys)] == list(keys)).all(axis=1)].to_dict("records")
    return row


def test_sizes_name_what_each_alternative_has_and_mark_where_they_differ(plans):
    found = comparison.sizes(plans[:2])
    first, second = found.columns[3:5]
    rail = by_key(found, "10'-0\"", "Principal", plans[0].library.element("chair rail").display)
    package = next(p for p in plans[0].ladder(120) if p.tier == 4)
    assert package.element("chair rail").form in rail[first] and rail[second] == NONE and rail[DIFFERS]
    wainscot = by_key(found, "10'-0\"", "Principal", plans[0].library.element("wainscot").display)
    assert wainscot[first] == 'flat panels 30"' and package.element("wainscot").size == 28.0
    base = by_key(found, "10'-0\"", "Principal", plans[0].library.element("base").display)
    assert base[first] == base[second] and not base[DIFFERS]


def test_quantities_are_the_pieces_of_all_rooms(plans):
    found = comparison.quantities(plans[:2])
    title = found.columns[1]
    seen = [piece for room in plans[0].rooms for piece in plans[0].pieces[room.room.name] if piece.part not in BEHIND]
    base = sum(piece.length * piece.count for piece in seen if piece.element == "base") / 12
    assert by_key(found, plans[0].library.element("base").display)[title] == round(base) > 100
    rail = by_key(found, plans[0].library.element("chair rail").display)
    assert rail[title] > 0 and rail[found.columns[2]] == NONE


def test_what_is_to_be_mended_comes_before_cautions_and_is_counted(plans):
    found = comparison.to_mend(plans)
    kinds = list(found["Kind"])
    assert kinds == sorted(kinds, key=lambda kind: kind == "caution")
    title = found.columns[2]
    assert sum(n for n in found[title] if n != NONE) == len(plans[0].checks)


def test_what_clients_say_stands_with_its_room_and_alternative(plans):
    said = [
        Answer(who="Ada", alternative="measured", room="Library", answer="more", remark="we read"),
        Answer(who="Bell", alternative="formal", room="Library", answer="keep"),
        Answer(who="Cy", alternative="easy", room="Kitchen", answer="less"),
    ]
    found = comparison.said_of(plans, Record(tuple(said)))
    (row,) = found.to_dict("records")
    assert row["Room"] == "Library" and row[found.columns[1]] == "Ada: richer, we read (open)"
    assert row[found.columns[2]] == NONE and row[found.columns[3]] == "Bell: keep it (open)"


def test_criteria_are_the_plans_own_figures(plans):
    record = Record(
        (Vote(who="Ada", alternative="formal", vote="for"), Vote(who="Bo", alternative="measured", vote="against"))
    )
    found = comparison.criteria(plans, record)
    assert len(found) == len(CRITERIA)
    titles = list(found.columns[1:4])
    figures = {row["What may matter"]: [row[title] for title in titles] for row in found.to_dict("records")}
    assert figures["Little cost [index]"] == [round(one.cost, 2) for one in plans]
    assert figures["Votes of the team, for less against"] == [-1, 0, 1]
    assert figures["Clients would keep it [share of answers]"] == [0.5, 0.5, 0.5]
    guests = [r.tier for r in plans[0].rooms if plans[0].library.use(r.room.use).guest]
    private = [r.tier for r in plans[0].rooms if not plans[0].library.use(r.room.use).guest]
    apart = sum(guests) / len(guests) - sum(private) / len(private)
    assert figures["Public rooms stand out from private ones [tiers]"][0] == pytest.approx(apart, abs=0.005)


def test_money_has_the_frontier_of_the_first_and_the_others_as_they_stand(plans):
    points, others = comparison.money(plans)
    assert points[points["stands"]]["cost"].tolist() == [plans[0].cost]
    assert others["cost"].tolist() == [plan.cost for plan in plans[1:]]
    assert others["objective"].tolist() == [plan.objective.total for plan in plans[1:]]


def test_costs_stand_beside_the_index_with_their_range(plans):
    found = comparison.costs(plans[::2])
    for title, planned in zip(found.columns[1:3], plans[::2], strict=True):
        money = planned.money
        assert by_key(found, "Cost")[title] == round(money.total)  # a number, for whoever takes the table away
        assert by_key(found, "10th to 90th percentile")[title] == f"{money.low:,.0f} to {money.high:,.0f}"
        assert by_key(found, "Cost index, no money")[title] == round(planned.cost)
        assert by_key(found, "of which labour")[title] == round(money.parts.labour)
    assert by_key(found, "Cost")[DIFFERS]
