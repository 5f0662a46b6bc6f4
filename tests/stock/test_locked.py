"""A profile that a trim rule names is what is built, in one piece; variants keep the rules between tiers."""

from dataclasses import replace
from itertools import pairwise

import pytest

from planner import demo_house, plan, read_house
from planner.intent.model import Intent
from planner.intent.trim_rules import Change, Scope, TrimRule
from planner.planning.ladders import sized
from planner.stock.built_ups import Target, target_of, ways_of
from planner.stock.choice import choose
from planner.stock.items import _ladders
from planner.stock.stock import Stock
from planner.trim.packages import Variant
from planner.trim.packages import ladder as trim_ladder
from planner.trim.schedule import Cell
from tests.known import LIBRARY
from tests.stock.invented import DEMO, ladder

HOUSE, _ = read_house(demo_house())
BY_CODE = {profile.code: profile for profile in DEMO.profiles}


def planned(*rules: TrimRule, stock: Stock | None = DEMO):
    return plan(HOUSE, Intent(trim=rules), stock)


def idle(found) -> list[str]:
    return [c.message for c in found.checks if c.rule == "rule without effect"]


@pytest.mark.parametrize(
    ("element", "code", "tier", "room"),
    [
        ("casing", "QB-CT475", 3, "Kitchen"),
        ("crown", "QB-KR525", 3, "Library"),
        ("chair rail", "QB-CR312", 3, "Upper Hall"),
        ("window casing", "QB-CB425", 2, "West Bedroom"),
        ("crown", "QB-KR350", 1, "Back Hall"),
    ],
)
def test_a_locked_profile_is_what_is_built_in_one_piece_at_its_own_size(element, code, tier, room):
    found = planned(TrimRule(element, Scope(tiers=(tier, tier)), Change(profile=code)))
    built, profile = found.by_name[room].package.element(element), BY_CODE[code]
    assert built.profiles == (code,) and built.locked == code
    assert (built.size, built.projection) == (profile.height, profile.projection)
    assert [placed.profile.code for placed in built.assembly.pieces] == [code]
    assert code in found.choice.profiles
    assert idle(found) == []


@pytest.mark.parametrize(("code", "stock"), [("QB-NONE", DEMO), ("QB-CT475", None)])
def test_a_profile_that_cannot_be_had_changes_nothing_and_is_told(code, stock):
    rule = TrimRule("chair rail", Scope(tiers=(1, 3)), Change(profile=code))
    found, plain = planned(rule, stock=stock), planned(stock=stock)
    assert [room.package for room in found.rooms] == [room.package for room in plain.rooms]
    assert idle(found) == [f"trim rule 1 changes nothing: {rule.words('in')}"]


def test_a_profile_that_cannot_be_had_leaves_what_a_wider_rule_says():
    wide = TrimRule("base", Scope(), Change(size=8.0))
    found = planned(wide, TrimRule("base", Scope(rooms=("Kitchen",)), Change(profile="QB-NONE")), stock=None)
    assert found.by_name["Kitchen"].package.element("base").size == 8.0
    assert not found.by_name["Kitchen"].package.element("base").locked


def test_a_narrower_size_lets_go_of_a_locked_profile_and_a_narrower_profile_of_a_size():
    locked, size = Change("two fasciae", 4.75, None, 1.375, "QB-CT475"), Change(size=6.0)
    assert size.upon(locked) == Change("two fasciae", 6.0)
    assert locked.upon(size) == locked
    assert Change(height=30.0).upon(locked) == replace(locked, height=30.0)


def test_rules_are_sized_by_the_stock_that_has_their_profile():
    rules = (
        TrimRule("casing", Scope(), Change("two fasciae", profile="QB-CT475")),
        TrimRule("casing", Scope(), Change("two fasciae", profile="QB-NONE")),
        TrimRule("casing", Scope(), Change(size=5.0)),
    )
    assert [rule.change for rule in sized(rules, DEMO)] == [
        Change("two fasciae", 4.75, None, 1.375, "QB-CT475"),
        Change("two fasciae"),
        Change(size=5.0),
    ]


def test_a_target_of_one_profile_is_built_in_one_way():
    target = Target("casing", 4.75, 1.375, "two fasciae", profile="QB-CT475")
    (way,) = ways_of(target, DEMO, LIBRARY)
    assert [layer.roles for layer in way.layers] == [("casing",)]
    assert ways_of(replace(target, profile=""), DEMO, LIBRARY) == LIBRARY.built_ups("casing", "two fasciae")


def test_a_profile_of_one_room_leaves_the_other_rooms_their_own():
    found = planned(TrimRule("casing", Scope(rooms=("Kitchen",)), Change(profile="QB-CT525")))
    assert found.by_name["Kitchen"].package.element("casing").profiles == ("QB-CT525",)
    assert found.by_name["Library"].package.element("casing").profiles != ("QB-CT525",)
    assert found.by_name["Kitchen"].package.label.startswith("Family 10'-0\", casing QB-CT525")


def test_at_an_opening_a_locked_profile_is_bought_for_that_opening():
    found = planned(TrimRule("casing", Scope(openings=("Library hall door",)), Change(profile="QB-CT612")))
    for room in ("Library", "Stair Hall"):
        package = found.by_name[room].package
        assert package.at("Library hall door").element("casing").profiles == ("QB-CT612",)
        assert package.element("casing").profiles != ("QB-CT612",)
    assert "QB-CT612" in found.choice.profiles
    pieces = [p for p in found.pieces["Library"] if p.place.opening == "Library hall door" and "QB-CT612" in p.profile]
    assert pieces


def variants_of(*sizes: float):
    """Ladders of a ceiling: the style's own, and variants of the third tier with a casing of some width."""
    plain = ladder("georgian", 4, 120.0)
    found = list(plain)
    for size in sizes:
        changes = ((Cell("", "casing"), Change(size=size)),)
        variants = tuple(Variant(changes if tier == 3 else ()) for tier in range(1, 6))
        found.append(trim_ladder("georgian", "doric", 120.0, LIBRARY, top=4, variants=variants)[2])
    return tuple(found)


def test_a_variant_stands_in_the_place_of_its_tier():
    packages = variants_of(5.0, 5.25)
    assert _ladders(packages) == [[0, 1, 2, 3], [0, 1, 4, 3], [0, 1, 5, 3]]


def test_no_variant_is_smaller_than_the_tier_below_or_larger_than_the_tier_above():
    packages = variants_of(4.75, 5.25)
    choice = choose(packages, DEMO, LIBRARY)
    for places in _ladders(packages):
        for low, high in pairwise(places):
            for element in choice.packages[low].elements:
                other = choice.packages[high].element(element.element)
                if other is not None and target_of(packages[low], element, LIBRARY):
                    assert element.size <= other.size + 1e-9, (element.element, low, high)


def test_without_variants_the_choice_is_as_it_was():
    assert _ladders(ladder("georgian", 4, 120.0, 108.0)) == [[0, 1, 2, 3], [4, 5, 6, 7]]
