"""Properties of trim rules over random houses, rules and periods."""

import json
import pickle
import subprocess
import sys
from dataclasses import replace
from itertools import combinations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from planner import demo_house, plan, plan_object, plan_text, read_house
from planner.intent import edits
from planner.intent.model import Intent
from planner.trim.grounds import NOT_PLANTED, PLANTED
from planner.trim.packages import Package
from planner.trim.schedule import Cell, in_force, openings_by_room
from planner.trim.stops import EDGE, STOPPING
from tests.known import LIBRARY, STYLES
from tests.random_houses import random_house
from tests.random_rules import holds, rule_lists, rules, said_of

MODERATE = settings(max_examples=25, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])

BOUND_TO = {
    row.of: {other.element for style in LIBRARY.styles for other in style.rows if other.of == row.of}
    for style in LIBRARY.styles
    for row in style.rows
    if row.of in LIBRARY.element_kinds
}
"""What is sized by each element."""

RAILS = {"chair rail", "plate rail", "wainscot", "wall panels"}
GROUNDED = {kind.name for kind in LIBRARY.elements if kind.place in PLANTED} - NOT_PLANTED
STANDS_BY = {
    **dict.fromkeys(RAILS, RAILS),
    "wainscot": RAILS | GROUNDED,
    "crown": {"wall panels", "picture rail"},
    **{edge: {*EDGE, *STOPPING, "plinth block", "overdoor"} for edge in EDGE},
    "base": {"shoe"},
}
"""What each element draws along the wall, or out from it, with it; what meets at a casing is as thick as it asks."""


def concerned(element: str) -> set[str]:
    """The elements that a rule of one may change: what is sized by it, and what stands by it."""
    found = {element} | STANDS_BY.get(element, set())
    while more := set().union(*(BOUND_TO.get(name, set()) for name in found)) - found:
        found |= more
    return found


@st.composite
def cases(draw, most: int = 6):
    """A house with an alternative of some period and rules."""
    house = random_house(draw(st.integers(1, 7)), draw(st.integers(0, 10**6)))
    tiers = draw(st.integers(3, 7))
    style, grade = draw(st.sampled_from(STYLES)), draw(st.sampled_from(["cottage", "great house"]))
    return house, Intent(style=style, grade=grade, tiers=tiers, trim=draw(rule_lists(house, tiers, most)))


def bare(intent: Intent) -> Intent:
    return replace(intent, trim=())


def looks(package: Package) -> tuple:
    """All that is seen of a package: its elements, and those at each opening."""
    return package.elements, {name: own.elements for name, own in package.own.items()}


@MODERATE
@given(cases(8), st.data())
def test_the_narrowest_rule_decides_and_of_those_as_narrow_the_later(case, data):
    house, intent = case
    openings = openings_by_room(house)
    room, tier = data.draw(st.sampled_from(house.rooms)), data.draw(st.integers(1, intent.tiers))
    force = in_force(intent.trim, room, openings[room.name], tier, LIBRARY)
    expected = {}
    for opening in ("", *openings[room.name]):
        for element in LIBRARY.element_kinds:
            named = [r for r in intent.trim if r.element == element and holds(r.scope, room, tier, opening)]
            if any(bool(r.scope.openings) == bool(opening) for r in named):
                expected[Cell(opening, element)] = said_of(intent.trim, element, room, tier, opening)
    aspects = ("form", "size", "height", "projection")
    read = {cell: {a: v for a in aspects if (v := getattr(each.change, a))} for cell, each in force.items()}
    assert read == expected
    for each in force.values():
        for aspect, number in each.by.items():
            assert getattr(intent.trim[number - 1].change, aspect) == getattr(each.change, aspect)


@MODERATE
@given(cases(6))
def test_what_the_rules_say_is_what_each_element_is(case):
    house, intent = case
    openings = openings_by_room(house)
    for room in plan(house, intent).rooms:
        for opening in ("", *openings[room.room.name]):
            package = room.package.at(opening)
            for name in LIBRARY.element_kinds:
                said = said_of(intent.trim, name, room.room, room.tier, opening)
                element = package.element(name)
                if said.get("form") == "none":
                    assert element is None
                elif element is not None:
                    assert element.form == said.get("form", element.form)
                    assert element.depth == pytest.approx(said.get("projection", element.depth))
                    assert element.size == said.get("size", element.size)


@MODERATE
@given(cases(0), st.data())
def test_a_rule_is_in_force_exactly_where_it_says(case, data):
    house, intent = case
    rule = data.draw(rules(house, intent.tiers))
    plain, ruled = plan(house, intent), plan(house, replace(intent, trim=(rule,)))
    may = concerned(rule.element)
    for room in ruled.rooms:
        was = plain.problem and plain.by_name[room.room.name]
        if was.tier != room.tier:
            continue
        inside = holds(replace(rule.scope, openings=()), room.room, room.tier, "")
        for element in LIBRARY.element_kinds:
            if not inside or rule.scope.openings or element not in may:
                assert room.package.element(element) == was.package.element(element)
        for opening, own in room.package.own.items():
            assert inside and opening in rule.scope.openings
            changed = {e for e in LIBRARY.element_kinds if own.element(e) != room.package.element(e)}
            assert changed and changed <= may
        if not inside:
            assert room.package == was.package


@MODERATE
@given(cases(4), st.data())
def test_removing_a_rule_restores_the_plan_to_the_byte(case, data):
    house, intent = case
    before = plan_text(plan(house, intent))
    rule = data.draw(rules(house, intent.tiers))
    ruled = replace(intent, trim=(*intent.trim, rule))
    plan_text(plan(house, ruled))
    assert plan_text(plan(house, edits.drop_rule(ruled, len(ruled.trim)))) == before


@MODERATE
@given(cases(6), st.data())
def test_rules_commute_unless_they_touch_the_same_cell(case, data):
    house, intent = case
    order = data.draw(st.permutations(range(len(intent.trim))))

    def kind(number: int) -> tuple[str, int]:
        return intent.trim[number].element, intent.trim[number].scope.narrowness

    queues = {}
    for number in range(len(intent.trim)):
        queues.setdefault(kind(number), []).append(number)
    moved = tuple(intent.trim[queues[kind(number)].pop(0)] for number in order)
    one, other = plan(house, intent), plan(house, replace(intent, trim=moved))
    assert [room.package for room in one.rooms] == [room.package for room in other.rooms]
    assert [room.package.label for room in one.rooms] == [room.package.label for room in other.rooms]


@settings(MODERATE, max_examples=100)
@given(cases(6))
def test_rooms_with_the_same_rules_tier_and_ceiling_share_one_package(case):
    house, intent = case
    planned = plan(house, intent)
    openings = openings_by_room(house)
    for one, other in combinations(planned.rooms, 2):
        if (one.tier, one.room.ceiling) != (other.tier, other.room.ceiling):
            assert one.package.key != other.package.key
            continue
        a, b = (in_force(intent.trim, r.room, openings[r.room.name], r.tier, LIBRARY) for r in (one, other))
        if a == b:
            assert one.package == other.package and one.package.key == other.package.key
        if looks(one.package) != looks(other.package):
            assert one.package.key != other.package.key and one.package.label != other.package.label
        if one.package.key == other.package.key:
            assert one.package == other.package and one.package.label == other.package.label
    assert len({package.key for package in planned.packages}) == len(planned.packages)
    assert {package.label for package in planned.packages} == {room.package.label for room in planned.rooms}


@MODERATE
@given(cases(6))
def test_plans_with_rules_are_equal_hashable_and_picklable(case):
    house, intent = case
    planned = plan(house, intent)
    again = pickle.loads(pickle.dumps(planned))
    assert again == planned and hash(again) == hash(planned)
    assert plan_text(again) == plan_text(plan(house, replace(intent)))
    if intent.trim:
        assert planned != plan(house, bare(intent))


@MODERATE
@given(cases(6))
def test_json_tells_the_rules_of_every_element(case):
    house, intent = case
    planned = plan(house, intent)
    told = plan_object(planned)
    json.dumps(told, allow_nan=False)
    assert told["rules"] == [rule.words("in") for rule in intent.trim]
    keys = [package["package_key"] for package in told["packages"]]
    assert len(set(keys)) == len(keys)
    assert {room["package_key"] for room in told["rooms"]} == set(keys)
    for package in told["packages"]:
        at_openings = [element for own in package["openings"].values() for element in own]
        elements = (*package["elements"], *at_openings, *package["left_out"])
        assert all(set(filter(None, element["rule"].split("; "))) <= set(told["rules"]) for element in elements)
        assert not package["variant"] or any(element["rule"] for element in elements)


def test_a_plan_with_rules_is_the_same_in_another_process():
    script = """
from planner import demo_house, plan, plan_text, read_house
from planner.intent.model import Intent
from planner.intent.trim_rules import Change, Scope, TrimRule
house, _ = read_house(demo_house())
trim = (TrimRule("casing", Scope(openings=("Library hall door",)), Change("two fasciae")),
        TrimRule("chair rail", Scope(tiers=(2, 5)), Change("moulded rail", 2.5)))
print(plan_text(plan(house, Intent(trim=trim))), end="")
"""
    texts = {
        subprocess.run(
            [sys.executable, "-c", script], capture_output=True, check=True, text=True, env={"PYTHONHASHSEED": seed}
        ).stdout
        for seed in ("1", "2")
    }
    assert len(texts) == 1 and json.loads(texts.pop())["rules"]


def test_a_scope_that_takes_in_no_room_changes_nothing_but_what_is_told():
    house, _ = read_house(demo_house())
    rule = edits.set_rule(Intent(), "crown", edits.Scope(rooms=("Ballroom",)), edits.Change("none"))
    plain, ruled = plan_object(plan(house)), plan_object(plan(house, rule))
    assert [check["rule"] for check in ruled["checks"] if check not in plain["checks"]] == ["rule without effect"]
    for told in (plain, ruled):
        del told["rules"], told["checks"]
    assert plain == ruled
