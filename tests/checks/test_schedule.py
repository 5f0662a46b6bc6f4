"""What is told of trim rules: those without effect, and those that turn the ladder over."""

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings

from planner import demo_house, plan, read_house, read_stock
from planner.checks.schedule import check_schedule
from planner.house.model import Existing, House, Opening, Room
from planner.intent.model import Intent
from planner.intent.trim_rules import Change, Scope, TrimRule
from tests.checks.parlor import LIBRARY
from tests.planning.test_trim_rules import cases, looks
from tests.walls.trim import altered, trim

HOUSE, _ = read_house(demo_house())
ANY = TrimRule("base", Scope(), Change("board"))


def told(*rules: TrimRule) -> list[str]:
    """The numbers of the rules without effect in the demo house."""
    checks = plan(HOUSE, Intent(trim=rules)).checks
    return [c.message.split(" changes")[0].removeprefix("trim rule ") for c in checks if "without effect" in c.rule]


EVERYWHERE, KITCHEN = Scope(), Scope(rooms=("Kitchen",))
SHELF = Change("shelf on a board")
NO_CROWN, BOARD = Change("none"), Change("board")


@pytest.mark.parametrize(
    ("rules", "numbers"),
    [
        ([TrimRule("crossette", Scope(levels=("Upper",)), Change("none"))], ["1"]),
        ([TrimRule("casing", Scope(rooms=("Ballroom",)), Change("two fasciae"))], ["1"]),
        ([TrimRule("crown", Scope(tiers=(5, 5)), NO_CROWN)], ["1"]),
        ([TrimRule("crown", Scope(tiers=(4, 5)), NO_CROWN)], []),
        ([TrimRule("chair rail", KITCHEN, Change("moulded rail"))], ["1"]),
        ([TrimRule("chair rail", KITCHEN, Change("moulded rail", 3.0))], []),
        ([TrimRule("base", KITCHEN, BOARD), TrimRule("base", Scope((3, 3), rooms=("Kitchen",)), NO_CROWN)], ["1"]),
        (
            [TrimRule("plate rail", EVERYWHERE, SHELF), TrimRule("plate rail", KITCHEN, NO_CROWN)],
            [],
        ),
        ([TrimRule("base", EVERYWHERE, BOARD), TrimRule("base", EVERYWHERE, BOARD)], ["1", "2"]),
        ([TrimRule("casing", EVERYWHERE, Change(profile="QB-CT475"))], ["1"]),
        ([TrimRule("casing", Scope(openings=("Library hall door",)), Change("backbanded casing"))], ["1"]),
        ([TrimRule("casing", Scope(openings=("Library hall door",)), Change("two fasciae"))], []),
        ([TrimRule("casing", Scope(rooms=("Kitchen",), openings=("Library hall door",)), Change("none"))], ["1"]),
    ],
)
def test_a_rule_without_which_all_would_be_the_same_is_told(rules, numbers):
    assert told(*rules) == numbers


def test_a_profile_that_cannot_be_had_is_told_where_the_rest_of_its_rule_holds():
    rule = TrimRule("casing", Scope(tiers=(3, 3)), Change("two fasciae", profile="QB-CT475"))
    bought = read_stock(demo_house())

    def said(stock, *rules: TrimRule) -> list[str]:
        checks = plan(HOUSE, Intent(trim=rules), stock).checks
        return [c.message for c in checks if c.rule == "profile out of stock"]

    words = "trim rule 1 asks for QB-CT475, which this house has no stock of, so only the rest of it holds"
    assert said(None, rule) == [f"{words}: casing in tier 3: two fasciae, QB-CT475"]
    assert said(bought, rule) == []
    few = replace(bought, profiles=tuple(p for p in bought.profiles if p.code != "QB-CT475"))
    assert len(said(few, rule)) == 1
    assert said(None, replace(rule, change=Change(profile="QB-CT475"))) == []  # it changes nothing, which is told


def test_the_check_names_the_rule_and_what_to_do():
    rule = TrimRule("crossette", Scope(levels=("Upper",)), Change("none"))
    (check,) = (c for c in plan(HOUSE, Intent(trim=(rule,))).checks if c.rule == "rule without effect")
    assert check.message == "trim rule 1 changes nothing: crossette on Upper: none"
    assert check.remedy and check.severity == "warning" and not check.room


@settings(max_examples=15, suppress_health_check=list(HealthCheck))
@given(cases(5))
def test_a_rule_is_told_exactly_where_dropping_it_changes_no_room(case):
    house, intent = case
    planned = plan(house, intent)
    idle = {c.message.split()[2] for c in planned.checks if c.rule == "rule without effect"}
    for number in range(1, len(intent.trim) + 1):
        other = plan(house, replace(intent, trim=(*intent.trim[: number - 1], *intent.trim[number:])))
        if [room.tier for room in other.rooms] == [room.tier for room in planned.rooms]:
            same = [looks(room.package) for room in other.rooms] == [looks(room.package) for room in planned.rooms]
            assert same == (str(number) in idle)


def over(low, high):
    return [c for c in check_schedule([ANY], (), (), {"Den": low, "Hall": high}, LIBRARY, "in") if "against" in c.rule]


def ruled(package, *elements: str):
    """A package of which rules are said to change elements."""
    from planner.trim.schedule import Cell

    return replace(package, variant=tuple((Cell("", name), Change("board")) for name in elements))


def test_a_lower_tier_with_an_element_that_the_higher_lacks_is_told_with_room_and_element():
    low = ruled(trim(5), "overdoor")
    high = replace(altered(trim(5), "overdoor", size=1.0), tier=6)
    high = replace(high, elements=tuple(e for e in high.elements if e.element != "overdoor"))
    (check,) = over(low, high)
    assert check.room == "Den" and "overdoor" in check.message and "Hall" in check.message
    assert check.message.endswith("of a higher tier, has none")


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"size": 9.0}, "instead of"),
        ({"members": 99, "form": "carved"}, "plinth, board and cap"),
        ({"size": 1.0}, None),
        ({"members": 1}, None),
        ({}, None),
    ],
)
def test_larger_or_richer_than_in_a_higher_tier_is_told(changes, words):
    high = replace(trim(5), tier=6)
    low = ruled(altered(trim(5), "base", **changes), "base")
    found = over(low, high)
    assert [words in check.message for check in found] == ([True] if words else [])


def test_what_no_rule_asked_for_or_stands_under_another_ceiling_is_not_told():
    high, low = replace(trim(5), tier=6), altered(trim(5), "base", size=9.0)
    assert over(low, high) == []
    assert over(ruled(low, "crown"), high) == []
    assert over(ruled(replace(low, ceiling=96.0), "base"), high) == []
    assert over(ruled(replace(low, tier=6), "base"), high) == []
    assert list(check_schedule([], (), (), {"Den": ruled(low, "base"), "Hall": high}, LIBRARY, "in")) == []


def test_a_rule_for_trim_that_stays_is_without_effect():
    den, hall = (Room(name, "Ground", "parlor", 200.0, 160.0, 120.0) for name in ("Den", "Hall"))
    kept = House(
        "Old",
        ("Hall",),
        (den, hall),
        (Opening("D", "door", "Hall", "Den"),),
        existing=(Existing("Den", "base", "board", 5.0),),
    )
    rules = tuple(
        TrimRule("base", Scope(rooms=(room,)), Change("plinth, board and cap", 9.0)) for room in ("Den", "Hall")
    )
    checks = plan(kept, Intent(trim=rules)).checks
    assert [c.message.split()[2] for c in checks if c.rule == "rule without effect"] == ["1"]
