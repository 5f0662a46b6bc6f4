"""An invented house of 1890 whose parlor survives: its trim is a fact, and the rest is matched to it."""

import json
from dataclasses import replace
from pathlib import Path

import pytest

from planner import Intent, Wish, demo_house, edits, plan, plan_table, plan_text, read_house, read_stock
from planner.house.model import Existing, House
from planner.planning.kept import new_share
from planner.trim.packages import Package
from tests.known import package

FOLDER = Path(__file__).parent / "surviving_parlor"
MEASURED = {
    "base": 10.5,
    "picture rail": 2.25,
    "crown": 7.0,
    "casing": 5.5,
    "plinth block": 12.5,
    "overdoor": 5.75,
    "window casing": 5.5,
}

FAMILY = package("victorian", "doric", 3, 126.0, top=4)
"""What the parlor's tier has where nothing stays."""


@pytest.fixture(scope="module")
def house() -> House:
    """The house as it stands."""
    read, warnings = read_house(FOLDER)
    assert warnings == ()
    return read


@pytest.fixture(scope="module")
def bought(house):
    """The house planned from the demo house's stock."""
    return plan(house, stock=read_stock(demo_house()))


def size(package: Package, element: str) -> float:
    """The size of an element, 0 where there is none."""
    found = package.element(element)
    return found.size if found else 0.0


def test_the_parlor_has_the_tier_that_its_trim_amounts_to(house):
    planned = plan(house)
    parlor = planned.by_name["Parlor"]
    # Symmetrical casings, corner blocks and a picture rail are what the period has in its family rooms.
    assert (parlor.tier, parlor.pinned) == (3, False)
    assert "It is held to tier 3 by the trim that stays there, which outranks its use" in " ".join(parlor.reasons)
    assert parlor.package.label == "Family 10'-6\", with what stays in Parlor"
    assert planned.by_name["Back Parlor"].package.stays == ""


def test_its_sizes_are_facts_and_nothing_of_it_is_bought(house, bought):
    for planned in (plan(house), bought):
        parlor = planned.by_name["Parlor"].package
        assert {e.element: e.size for e in parlor.elements if e.source == "stays"} == MEASURED
        assert parlor.element("chair rail") is None and parlor.element("shoe") is None
        assert all(e.assembly is None and not e.profiles for e in parlor.elements if e.stays)
        assert not parlor.element("stool").stays
        assert all(e.stays for e in planned.by_name["Pantry"].package.elements)
        assert set(planned.by_name["Pantry"].tier_costs) == {0.0}
    assert bought.by_name["Back Parlor"].package.element("base").profiles


def test_the_rest_is_matched_to_it(house):
    planned, free = plan(house), plan(replace(house, existing=()))
    back = planned.by_name["Back Parlor"].package
    assert back.tier == 3
    assert {name: size(back, name) for name in MEASURED} == MEASURED
    assert back.element("picture rail").bottom == 102.5
    assert size(FAMILY, "base") == 8.125
    # A tier above has no less: the hall's base was 9 3/4.
    assert (size(free.by_name["Hall"].package, "base"), size(planned.by_name["Hall"].package, "base")) == (9.75, 10.5)
    # Under another ceiling nothing is matched.
    assert planned.by_name["Upper Hall"].package == free.by_name["Upper Hall"].package


@pytest.mark.parametrize("named", ["Osmeria", "OS-PR200"])
def test_the_rest_is_of_the_design_family_of_what_stays_where_the_stock_has_it(house, bought, named):
    """The family is known by its name or by one of its profiles; it goes before the nearest size, and is told."""
    stock = read_stock(demo_house())
    family = {profile.code: profile.family for profile in stock.profiles}
    rows = tuple(replace(row, profile=named if row.element == "crown" else "") for row in house.existing)
    kin = plan(replace(house, existing=rows), stock=stock)

    def families(planned, element: str) -> list[str]:
        return [family[code] for code in planned.by_name["Back Parlor"].package.element(element).profiles]

    # Osmeria has a bed mould, a corona and a cymatium of its own, and no dentil band.
    assert families(bought, "crown").count("Osmeria") < families(kin, "crown").count("Osmeria")
    assert families(kin, "crown") == ["Osmeria", "Quillbrook", "Osmeria", "Osmeria"]
    assert kin.by_name["Upper Hall"].package == bought.by_name["Upper Hall"].package
    assert [m.element for m in kin.matches if m.family == "Osmeria"] == ["crown"]
    assert ", of the family Osmeria)" in " ".join(plan_table(kin).split())


def test_a_match_is_of_no_family_that_nothing_of_it_is_built_of(house):
    """Plainfold has no part of a cornice."""
    rows = tuple(replace(row, profile="Plainfold" if row.element == "crown" else "") for row in house.existing)
    planned = plan(replace(house, existing=rows), stock=read_stock(demo_house()))
    assert {m.family for m in planned.matches} == {""}
    assert "of the family" not in plan_table(planned)


def test_the_plan_says_how_near_each_match_is(house, bought):
    assert {m.element: m.difference for m in plan(house).matches if m.room == "Parlor"} == dict.fromkeys(
        ("wainscot", "shoe", *MEASURED), 0.0
    ) | {"chair rail": -2.625}
    back = bought.by_name["Back Parlor"].package
    found = {m.element: m for m in bought.matches}
    assert {m.other for m in found.values()} == {"Back Parlor"}
    for name, measured in MEASURED.items():
        assert (found[name].kept, found[name].planned) == (measured, size(back, name))
    said = json.loads(plan_text(bought))
    assert said["matches"][0] == {
        "room": "Parlor",
        "element": "base",
        "kept": 10.5,
        "other": "Back Parlor",
        "planned": size(back, "base"),
        "kept_form": "plinth, board and cap",
        "planned_form": "board and cap",
        "family": "",
        "difference": 10.5 - size(back, "base"),
    }
    stays = {(p["variant"], e["element"]) for p in said["packages"] for e in p["elements"] if e["stays"]}
    assert {element for variant, element in stays if variant == "what stays in Parlor"} == set(MEASURED)
    table = plan_table(bought)
    assert 'Parlor, crown: 7" four-part cornice; Back Parlor: 7" four-part cornice (the same)' in " ".join(
        table.split()
    )
    assert "Parlor, shoe: none; Back Parlor: none (neither has it)" in table


def test_a_difference_seen_through_a_cased_opening_is_told(house, bought):
    told = [c for c in bought.checks if c.rule == "kept trim is not matched"]
    seen = {m.element for m in bought.matches if abs(m.difference) > 1 / 8 and m.kept and m.planned}
    seen &= {name for name, kind in bought.library.element_kinds.items() if kind.seen}
    assert seen and {c.message.split(" that stays")[0].removeprefix("the ") for c in told} == seen
    assert {(c.room, c.severity) for c in told} == {("Parlor", "warning")}
    assert not any(c.rule == "kept trim is not matched" for c in plan(house).checks)
    doored = replace(house, openings=tuple(replace(o, kind="door") if o.name == "D2" else o for o in house.openings))
    again = plan(doored, stock=bought.stock)
    assert not any(c.rule == "kept trim is not matched" for c in again.checks)


def test_the_designers_pin_stands_and_its_conflict_is_told(house):
    pinned = plan(house, edits.pin(Intent(), "Parlor", 4))
    assert (pinned.by_name["Parlor"].tier, pinned.by_name["Parlor"].pinned) == (4, True)
    assert size(pinned.by_name["Parlor"].package, "base") == 10.5
    clash = plan(house, Intent(rooms={"Parlor": Wish(lowest=4)}))
    assert not clash.feasible
    assert "held to tier 3 by the trim that stays there" in " ".join(clash.conflicts)


def test_every_view_of_the_plan_stands(bought):
    for room in bought.by_name:
        assert bought.walls[room] and bought.pieces[room]
        assert bought.what_if(room)
    for used in bought.packages:
        assert bought.sections[used] and bought.runners_up[used] is not None
    parlor = bought.by_name["Parlor"].package
    assert not {"base", "crown"} & bought.runners_up[parlor].keys()


def test_where_nothing_stays_nothing_changes(house):
    free = replace(house, existing=())
    planned = plan(free)
    assert planned.matches == () and {p.stays for p in planned.packages} == {""}
    assert planned == plan(free) and planned != plan(house)


def test_what_is_still_to_be_bought_is_what_a_room_costs(house):
    planned = plan(house)
    parlor, free = planned.by_name["Parlor"], plan(replace(house, existing=())).by_name["Parlor"]
    assert 0.0 <= parlor.cost < free.cost
    assert list(parlor.tier_costs) == sorted(parlor.tier_costs)
    assert new_share(FAMILY, (), planned.library) == FAMILY.trim_share
    only_base = (Existing("Parlor", "base", "board and cap", 8.0),)
    expected = FAMILY.trim_share - size(FAMILY, "base") / FAMILY.ceiling
    assert new_share(FAMILY, only_base, planned.library) == pytest.approx(expected)


def test_what_a_passage_asks_yields_to_facts_and_to_nothing_else(house):
    """The parlor and the room behind it both stay, one of tier 5 and one of tier 1, across a limit of one."""
    state, service = (package("victorian", "doric", tier, 126.0, top=4) for tier in (5, 1))
    stays = [
        Existing(room, e.element, e.form, e.size)
        for room, kept in (("Parlor", state), ("Back Parlor", service))
        for e in kept.elements
    ]
    planned = plan(replace(house, existing=tuple(stays)))
    assert planned.feasible and planned.optimal
    assert (planned.by_name["Parlor"].tier, planned.by_name["Back Parlor"].tier) == (5, 1)
    asked = {(p.start, p.end): (p.limit, p.rise) for p in plan(replace(house, existing=())).passages}
    yielded = {(p.start, p.end) for p in planned.passages if (p.limit, p.rise) != asked[p.start, p.end]}
    assert ("Parlor", "Back Parlor") in yielded
    assert {(p.limit, p.rise) for p in planned.passages if (p.start, p.end) in yielded} == {(None, None)}
    assert all({"Parlor", "Back Parlor"} & set(pair) for pair in yielded)
    # Nothing had to yield where a lone parlor of tier 3 stays.
    kept = plan(house)
    assert {(p.start, p.end): (p.limit, p.rise) for p in kept.passages} == asked
