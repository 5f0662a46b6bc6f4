"""Rule sets on the demo house give, element by element, what was written out by hand before."""

from functools import cache

import pytest

from planner import demo_house, plan, read_house, read_stock
from planner.intent.model import Intent
from planner.intent.parsing import parse_intent
from planner.intent.trim_text import Names
from tests.known import LIBRARY
from tests.planning.rule_sets import ROOMS, RULE_SETS

HOUSE, _ = read_house(demo_house())
STOCK = read_stock(demo_house(), HOUSE.unit)
NAMES = Names(
    rooms=tuple(HOUSE.by_name),
    levels=tuple({room.level for room in HOUSE.rooms}),
    openings=tuple(opening.name for opening in HOUSE.openings),
    profiles=tuple(profile.code for profile in STOCK.profiles),
    unit=HOUSE.unit,
)
SCHEDULE = {"rule without effect", "rule against the tiers"}
WITHOUT_STOCK = [name for name, rules in RULE_SETS.items() if not rules.stock]


@cache
def planned(rules: str = "", stock: bool = False):
    """The demo house under rules as they are written."""
    problems = []
    intent = parse_intent(rules.encode(), "rules.toml", "rules", NAMES, problems, LIBRARY) if rules else Intent("rules")
    assert problems == []
    return plan(HOUSE, intent, STOCK if stock else None)


def rows(gives: str) -> dict[tuple[str, str, str], tuple[str, ...]]:
    """What each row of a table says of an element, by room, opening and element; a later row in place of an earlier."""
    found = {}
    for line in filter(str.strip, gives.splitlines()):
        where, element, *said = map(str.strip, line.split("|"))
        place, _, opening = where.partition(" at ")
        for room in ROOMS.get(place, (place,)):
            found[room, opening, element] = tuple(said)
    return found


def found(element) -> tuple:
    """An element as a row has it."""
    return (element.form, element.size, element.bottom) if element else ("-",)


def said(row: tuple[str, ...]) -> tuple:
    form, *figures = row
    if form == "-":
        return (form,)
    size, bottom = (*map(float, figures), None)[:2]
    return form, size, bottom


def test_the_rooms_stand_on_the_tiers_that_the_tables_name():
    plain = planned()
    named = {room: place for place, rooms in ROOMS.items() for room in rooms}
    assert {room.room.name: room.package.label for room in plain.rooms} == {
        room: f'{place}-0"' for room, place in named.items()
    }


@pytest.mark.parametrize("name", RULE_SETS)
def test_a_rule_set_gives_its_elements_and_leaves_the_tiers(name):
    rules = RULE_SETS[name]
    plain, done = planned(stock=rules.stock), planned(rules.rules, rules.stock)
    assert [room.tier for room in done.rooms] == [room.tier for room in plain.rooms]
    expected = rows(rules.gives)
    for (room, opening, element), row in expected.items():
        package = done.by_name[room].package
        there = package.own[opening] if opening else package
        assert found(there.element(element)) == said(row), (room, opening, element)


def bare(package, name):
    """An element as it would be on the plaster, and stopped on any casing: a wainscot brings out what stands on it."""
    element = package.element(name)
    return element and element.on_ground(0.0).stopping(False)


def following(changed):
    """What of windows is sized by a changed element, and follows it."""
    rows = LIBRARY.style("georgian").rows
    return {row.element for row in rows if row.of in changed} & {"window head"}


@pytest.mark.parametrize("name", WITHOUT_STOCK)
def test_a_rule_set_leaves_everything_else_as_it_was(name):
    rules = RULE_SETS[name]
    expected, plain, done = rows(rules.gives), planned(), planned(rules.rules)
    for room in done.rooms:
        was = plain.by_name[room.room.name].package
        changed = {element for place, opening, element in expected if place == room.room.name and not opening}
        for element in LIBRARY.element_kinds:
            if element not in changed | following(changed):
                assert bare(room.package, element) == bare(was, element), (room.room.name, element)
        named = {opening for place, opening, _ in expected if place == room.room.name and opening}
        assert set(room.package.own) == named
        for opening in named:
            there = {element for place, at, element in expected if (place, at) == (room.room.name, opening)}
            for element in LIBRARY.element_kinds:
                if element not in there | following(there):
                    assert bare(room.package.own[opening], element) == bare(room.package, element)


@pytest.mark.parametrize("name", RULE_SETS)
def test_labels_say_how_rooms_differ_and_the_same_rooms_share_a_package(name):
    rules = RULE_SETS[name]
    plain, done = planned(stock=rules.stock), planned(rules.rules, rules.stock)
    labels = {room.room.name: room.package.label for room in done.rooms}
    expected = {room.room.name: room.package.label for room in plain.rooms}
    expected |= {room: label for label, sharing in rules.labels.items() for room in sharing}
    assert labels == expected
    assert len(done.packages) == len({p.key for p in done.packages}) == len(set(labels.values()))


@pytest.mark.parametrize("name", WITHOUT_STOCK)
def test_what_is_to_be_told_of_the_rules_is_told(name):
    rules = RULE_SETS[name]
    told = [c for c in planned(rules.rules).checks if c.rule in SCHEDULE]
    assert [(c.rule, c.room) for c in told] == [(rule, room) for rule, room, _ in rules.told]
    for check, (_, _, message) in zip(told, rules.told, strict=True):
        assert check.message.startswith(message)


def test_a_locked_casing_is_one_piece_of_stock():
    done = planned(RULE_SETS["my casing on a tier, from stock"].rules, True)
    for room in (*ROOMS["Family 10'"], *ROOMS["Family 9'"]):
        casing = done.by_name[room].package.element("casing")
        assert casing.profiles == ("QB-CT475",) and casing.projection == 1.375
        assert done.by_name[room].package.element("backband").profiles
    assert "QB-CT475" in done.choice.profiles
    assert not [c for c in done.checks if c.rule == "rule without effect"]


def test_a_height_holds_on_the_walls_where_the_windows_draw_every_other_rail():
    done = planned(RULE_SETS["a chair rail at a height, whatever the windows"].rules)
    assert {wall.rail_top for wall in done.walls["Library"]} == {33.0}
    assert {wall.rail_top for wall in done.walls["Kitchen"]} == {30.0}
    assert {wall.rail_top for wall in planned().walls["Library"]} == {30.0}


def test_a_projection_is_that_of_the_rule_alone():
    package = planned(RULE_SETS["a projection"].rules).by_name["Entry Hall"].package
    assert package.element("chair rail").depth == 2.0
    plain = planned().by_name["Entry Hall"].package.element("chair rail")
    assert plain.depth == 1.375 and plain.form == package.element("chair rail").form


def test_trim_of_one_door_stands_round_that_door_on_both_faces():
    done = planned(RULE_SETS["trim of one door alone"].rules)
    faces = {wall.own.get("Library hall door") for room in ("Stair Hall", "Library") for wall in done.walls[room]}
    assert len(faces) == 1 and None not in faces
    (own,) = faces
    plain = done.by_name["Library"].package
    assert own != done.walls["Library"][0].sections
    assert plain.at("Library hall door").element("casing").form == "two fasciae"
    assert plain.at("Library fireplace") is plain


def test_a_room_of_which_a_rule_says_what_its_tier_has_shares_the_package_of_the_tier():
    tier = '[[trim]]\nelement = "chair rail"\ntiers = [2, 5]\nform = "moulded rail"\n'
    same = tier + '[[trim]]\nelement = "chair rail"\nrooms = ["Powder Room"]\nsize = "2 1/4 in"\n'
    done = planned(same)
    assert done.by_name["Powder Room"].package == done.by_name["Mud Room"].package
    assert len(done.packages) == len(planned(tier).packages) == len(planned().packages)


def test_a_door_without_casing_has_none_on_its_walls_and_the_next_door_has():
    done = planned(RULE_SETS["what is sized by another goes with it"].rules)
    cased = {around.aperture.name: bool(around.solids) for wall in done.walls["Kitchen"] for around in wall.surrounds}
    assert not cased["Pantry kitchen door"] and cased["Mud room door"]
