"""Trim that stays: what it amounts to, its package, what is matched to it, and how near that comes."""

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.house.model import Existing
from planner.intent.trim_rules import Change
from planner.mouldings.assembly import Assembly
from planner.stock.built_ups import target_of
from planner.trim.existing import STAYS, UNMEASURED, Match, amounts_to, matched, matches, with_existing
from planner.trim.packages import Package, ladder
from planner.trim.schedule import Cell
from planner.trim.sections import sections
from planner.values import immutabledict
from tests.known import LIBRARY, STYLES

LADDER = ladder("victorian", "doric", 126.0, LIBRARY, top=4)
CHAMBER, FAMILY, PRINCIPAL = LADDER[1:4]


def of(package: Package, room: str = "Parlor") -> tuple[Existing, ...]:
    """The elements of a package as trim that stays."""
    return tuple(Existing(room, e.element, e.form, e.size, e.projection, e.bottom) for e in package.elements)


def base(size: float, form: str = "board and cap", room: str = "Parlor") -> Existing:
    """A base that stays."""
    return Existing(room, "base", form, size, 1.0)


# The tier that it amounts to


@pytest.mark.parametrize("style", STYLES)
def test_a_tiers_own_trim_amounts_to_that_tier(style):
    rungs = ladder(style, "doric", 126.0, LIBRARY, top=5)
    for package in rungs:
        alike = [other for other in rungs if other.elements == package.elements]
        assert amounts_to(of(package), rungs) == alike[0].tier


@pytest.mark.parametrize(
    ("rows", "tier"),
    [
        ([base(8.0)], 3),  # the form of tier 3, and nearly its 8 1/8
        ([base(6.0, "beaded board")], 2),
        ([base(5.0, "board")], 1),
        ([base(9.5, "plinth, board and cap")], 4),  # tiers 4 and 5 alike: the lower
        ([Existing("Parlor", "crown", "none")], 1),  # the only tier without a crown
        ([Existing("Parlor", "wainscot", "raised panels", 28.0)], 5),
        ([Existing("Parlor", "crown", "plain crown", 5.0), base(8.0)], 3),  # 1.20 + 0.02 on it, 0.10 + 1.22 on 2
        ([Existing("Parlor", "all")], None),
        ([], None),
    ],
)
def test_what_it_amounts_to_by_hand(rows, tier):
    assert amounts_to(rows, LADDER) == tier


# The package


def test_an_element_that_stays_is_a_fact_and_nothing_of_it_is_bought():
    bought = replace(FAMILY.element("base"), assembly=Assembly("base", "b", (), 8.0, 0.875, 0.75, 1.0, 0.125))
    built = replace(FAMILY, elements=(bought, *FAMILY.elements[1:]))
    kept = with_existing(built, [base(10.0, "plinth, board and cap")], LIBRARY)
    element = kept.element("base")
    assert (element.size, element.target, element.projection, element.bottom) == (10.0, 10.0, 1.0, 0.0)
    assert (element.form, element.source, element.stays) == ("plinth, board and cap", STAYS, True)
    assert element.assembly is None and element.profiles == ()
    assert target_of(kept, element, LIBRARY) is None and target_of(built, bought, LIBRARY) is not None
    assert sum(height for _, height in element.parts) == pytest.approx(10.0)
    assert [e for e in kept.elements if e.element != "base"] == list(FAMILY.elements[1:])
    assert kept.stays == "Parlor" and kept.label == "Family 10'-6\", with what stays in Parlor"
    assert kept.key != built.key and kept.trim_share > built.trim_share


def test_no_rows_leave_the_package_as_it_is():
    assert with_existing(FAMILY, (), LIBRARY) is FAMILY


def test_an_element_that_is_not_there_is_not_planned():
    kept = with_existing(FAMILY, [Existing("Parlor", "chair rail", "none")], LIBRARY)
    assert kept.element("chair rail") is None
    assert len(kept.elements) == len(FAMILY.elements) - 1


def test_a_room_kept_whole_stays_with_what_was_not_measured_of_it():
    kept = with_existing(FAMILY, [Existing("Parlor", "all"), base(7.0)], LIBRARY)
    assert all(e.stays and e.assembly is None for e in kept.elements)
    assert {e.source for e in kept.elements} == {STAYS, UNMEASURED}
    assert kept.element("base").size == 7.0 and kept.element("crown").size == FAMILY.element("crown").size


def test_what_is_within_an_element_stays_with_it():
    casing = Existing("Parlor", "casing", "backbanded casing", 6.0)
    assert with_existing(CHAMBER, [casing], LIBRARY).element("backband").source == UNMEASURED
    assert not with_existing(PRINCIPAL, [casing], LIBRARY).element("plinth block").stays
    shoe = with_existing(CHAMBER, [base(6.0, "beaded board")], LIBRARY).element("shoe")
    assert shoe.stays


def test_what_hangs_from_the_crown_or_stands_by_the_rail_moves_with_it():
    crown = Existing("Parlor", "crown", "four-part cornice", 8.25)
    kept = with_existing(FAMILY, [crown], LIBRARY)
    planned = FAMILY.element("picture rail")
    assert kept.element("picture rail").bottom == pytest.approx(planned.bottom - 1.25)  # 8 1/4 against 7
    assert kept.element("crown").bottom == 126.0 - 8.25

    rail = Existing("Parlor", "chair rail", "moulded rail", 3.0, bottom=30.0)
    kept = with_existing(PRINCIPAL, [rail], LIBRARY)
    assert (kept.element("wainscot").size, kept.element("wainscot").stays) == (33.0, False)

    wainscot = Existing("Parlor", "wainscot", "flat panels", 34.0)
    kept = with_existing(PRINCIPAL, [wainscot], LIBRARY)
    assert kept.element("chair rail").top == 34.0 and kept.element("chair rail").source == UNMEASURED

    georgian = ladder("georgian", "doric", 126.0, LIBRARY, top=5)[4]
    panels = with_existing(georgian, [rail], LIBRARY).element("wall panels")
    assert panels.bottom == 33.0 + LIBRARY.places.field.margin
    assert panels.top <= 126.0 - georgian.element("crown").size - LIBRARY.places.field.margin


def test_what_was_measured_of_its_place_is_kept_and_what_was_not_stands_where_such_trim_stands():
    """Unmeasured, a picture rail hangs below the crown by the share of the ceiling that places have; a ceiling without
    crown counts as one of 0 in."""
    measured = Existing("Parlor", "picture rail", "moulded rail", 2.25, 1.0, 101.0)
    assert with_existing(FAMILY, [measured], LIBRARY).element("picture rail").bottom == 101.0
    free, crown = replace(measured, bottom=None), FAMILY.element("crown")
    below = LIBRARY.places.frieze.of_ceiling * 126.0 + 2.25
    assert with_existing(FAMILY, [free], LIBRARY).element("picture rail").bottom == crown.bottom - below
    bare = Existing("Parlor", "crown", "none")
    assert with_existing(FAMILY, [bare, free], LIBRARY).element("picture rail").bottom == 126.0 - below
    uncrowned = replace(FAMILY, elements=tuple(e for e in FAMILY.elements if e.element != "crown"))
    assert with_existing(uncrowned, [free], LIBRARY).element("picture rail").bottom == 126.0 - below
    low = Existing("Parlor", "crown", "plain crown", 4.0, bottom=120.0)
    kept = with_existing(FAMILY, [low, free], LIBRARY)
    assert (kept.element("crown").bottom, kept.element("picture rail").bottom) == (120.0, 120.0 - below)


def test_of_the_planned_form_what_was_not_measured_is_as_planned_and_of_another_as_that_has_it():
    planned = FAMILY.element("base")
    alike = with_existing(FAMILY, [Existing("Parlor", "base", planned.form, 9.0)], LIBRARY).element("base")
    assert (alike.projection, alike.thickness) == (planned.projection, planned.thickness)
    shares = [height / planned.size for _, height in planned.parts]
    assert [height / 9.0 for _, height in alike.parts] == pytest.approx(shares)
    other = with_existing(FAMILY, [Existing("Parlor", "base", "board", 5.0)], LIBRARY).element("base")
    form = LIBRARY.form("base", "board")
    assert (other.projection, other.thickness, other.members) == (form.projection, form.thickness, form.members)


def test_what_an_opening_has_of_its_own_has_what_stays_too():
    plain = replace(FAMILY, own=immutabledict({"Door": replace(FAMILY, elements=FAMILY.elements[1:])}))
    kept = with_existing(plain, [base(9.0)], LIBRARY)
    assert set(kept.own) == {"Door"}
    assert kept.at("Door").element("base").size == 9.0


# The rest, matched


def test_what_a_rule_says_is_not_matched():
    said = replace(FAMILY, variant=((Cell("", "base"), Change(size=8.125)),))
    rungs = (*LADDER[:2], said, *LADDER[3:])
    assert matched(rungs, [(3, [base(10.5)])], LIBRARY)[2].element("base").size == 8.125
    other = replace(FAMILY, variant=((Cell("Door", "base"), Change(size=8.125)), (Cell("", "crown"), Change())))
    rungs = (*LADDER[:2], other, *LADDER[3:])
    assert matched(rungs, [(3, [base(10.5)])], LIBRARY)[2].element("base").size == 10.5


def test_what_is_brought_to_another_size_reaches_as_far_unless_its_form_reaches_by_its_height():
    found = matched(LADDER, [(3, [replace(base(10.5, "plinth, board and cap"), projection=None)])], LIBRARY)
    assert found[2].element("base").size == 10.5
    assert found[2].element("base").projection == FAMILY.element("base").projection
    assert [part for part, _ in found[2].element("base").parts] == [part for part, _ in FAMILY.element("base").parts]
    assert sum(height for _, height in found[2].element("base").parts) == pytest.approx(10.5)


def test_a_wainscot_that_stays_sets_the_line_of_the_rails_and_keeps_its_size_to_itself():
    wainscot = Existing("Parlor", "wainscot", "flat panels", 34.0, bottom=0.0)
    found = matched(LADDER, [(4, [wainscot])], LIBRARY)
    tops = {p.tier: p.element("chair rail").top for p in found if p.element("chair rail")}
    assert tops and set(tops.values()) == {34.0}
    assert {p.element("wainscot").size for p in found if p.element("wainscot")} == {34.0}


def test_a_plate_rail_that_stays_moves_plate_rails_and_what_stands_below_them():
    rungs = ladder("craftsman", "doric", 108.0, LIBRARY, top=5)
    high = [p for p in rungs if p.element("plate rail")]
    assert high and all(p.element("wainscot") for p in high)
    rail = Existing("Den", "plate rail", high[-1].element("plate rail").form, 3.0, bottom=60.0)
    found = {p.tier: p for p in matched(rungs, [(high[-1].tier, [rail])], LIBRARY)}
    for package in high:
        assert found[package.tier].element("plate rail").top == 63.0
        assert found[package.tier].element("wainscot").size == 63.0
    low = [p for p in rungs if p.element("chair rail") and not p.element("plate rail")]
    assert all(found[p.tier].element("chair rail").top == p.element("chair rail").top for p in low)


def test_the_tier_takes_its_sizes_and_the_order_of_the_tiers_holds():
    found = matched(LADDER, [(3, [base(10.5, "plinth, board and cap")])], LIBRARY)
    assert [p.element("base").size for p in found] == [5.25, 6.25, 10.5, 10.5, 10.5]
    assert found[2].element("base").form == "board and cap"
    assert found[2].element("base").source.endswith("brought to what stays in Parlor")
    assert sum(h for _, h in found[2].element("base").parts) == pytest.approx(10.5)
    own = matched(LADDER, [(3, [base(9.0)])], LIBRARY)[2].element("base")
    assert (own.projection, FAMILY.element("base").projection) == (1.0, 0.875)  # as measured of the same form
    low = matched(LADDER, [(4, [base(7.5, "plinth, board and cap")])], LIBRARY)
    assert [p.element("base").size for p in low] == [5.25, 6.25, 7.5, 7.5, 9.75]


def test_what_is_unlike_in_form_and_far_in_size_is_not_followed():
    assert matched(LADDER, [(3, [base(3.5, "board")])], LIBRARY) == LADDER
    assert matched(LADDER, [(3, [Existing("Parlor", "all"), Existing("Parlor", "crown", "none")])], LIBRARY) == LADDER
    assert matched(LADDER, [], LIBRARY) == LADDER


def test_two_rooms_that_stay_are_followed_each_on_its_tier():
    rows = [(2, [base(7.0, "beaded board", "Den")]), (4, [base(11.0, "plinth, board and cap", "Hall")])]
    found = matched(LADDER, rows, LIBRARY)
    assert [p.element("base").size for p in found] == [5.25, 7.0, 8.125, 11.0, 11.0]


def test_the_lines_of_rails_are_carried_through_all_tiers():
    rail = Existing("Parlor", "chair rail", "beaded rail", 2.625, bottom=30.0)
    found = matched(LADDER, [(3, [rail])], LIBRARY)
    assert {p.element("chair rail").top for p in found if p.element("chair rail")} == {32.625}
    assert {p.element("wainscot").size for p in found if p.element("wainscot")} == {32.625}
    picture = Existing("Parlor", "picture rail", "moulded rail", 2.25, bottom=101.0)
    lines = [p.element("picture rail") for p in matched(LADDER, [(3, [picture])], LIBRARY)]
    assert {(line.bottom, line.size) for line in lines if line} == {(101.0, 2.25)}
    crown = Existing("Parlor", "crown", "four-part cornice", 8.25)
    family = matched(LADDER, [(3, [crown])], LIBRARY)[2]
    assert family.element("crown").top == 126.0
    reach = FAMILY.element("crown").projection  # a cornice reaches out by its height
    assert family.element("crown").projection == pytest.approx(reach * 8.25 / 7.0)
    assert family.element("picture rail").top < family.element("crown").bottom


# How near it comes


def test_matches_are_with_a_room_of_the_tier_under_the_same_ceiling_first():
    low = ladder("victorian", "doric", 108.0, LIBRARY, top=4)[2]
    existing = {"Parlor": (base(10.0), Existing("Parlor", "chair rail", "none"), Existing("Parlor", "all"))}
    packages = {
        "Parlor": with_existing(FAMILY, existing["Parlor"], LIBRARY),
        "Attic": low,
        "Study": FAMILY,
        "Hall": PRINCIPAL,
    }
    found = matches(packages, existing, LIBRARY)
    assert found == (
        Match("Parlor", "base", 10.0, "Study", 8.125, "board and cap", "board and cap"),
        Match("Parlor", "chair rail", 0.0, "Study", 2.625, "none", "beaded rail"),
    )
    assert [m.difference for m in found] == [1.875, -2.625]
    del packages["Study"]
    assert {m.other for m in matches(packages, existing, LIBRARY)} == {"Attic"}
    del packages["Attic"]
    assert matches(packages, existing, LIBRARY) == ()


def test_two_rooms_that_both_keep_an_element_are_not_matched_with_each_other():
    existing = {"Parlor": (base(10.0),), "Study": (base(9.0, room="Study"),), "Den": (Existing("Den", "all"),)}
    packages = {room: with_existing(FAMILY, rows, LIBRARY) for room, rows in existing.items()}
    assert matches(packages, existing, LIBRARY) == ()


# Properties

forms = st.sampled_from(LIBRARY.forms)
trim = st.builds(
    lambda form, height, projection, bottom: Existing("Parlor", form.element, form.name, height, projection, bottom),
    forms,
    st.floats(1 / 16, 96.0),
    st.none() | st.floats(1 / 16, 36.0),
    st.none() | st.floats(0.0, 90.0),
) | st.builds(lambda form: Existing("Parlor", form.element, "none"), forms)
rooms = st.lists(trim, max_size=6, unique_by=lambda row: row.element).map(tuple)


@settings(max_examples=150)
@given(st.sampled_from(STYLES), rooms, st.booleans(), st.sampled_from([96.0, 108.0, 126.0]))
def test_whatever_stays_has_a_tier_a_package_and_sections(style, rows, whole, ceiling):
    rungs = ladder(style, "doric", ceiling, LIBRARY, top=5)
    existing = (*rows, Existing("Parlor", "all")) if whole else rows
    tier = amounts_to(existing, rungs)
    assert (tier is None) == (not rows)
    for package in rungs:
        kept = with_existing(package, existing, LIBRARY)
        for row in rows:
            element = kept.element(row.element)
            assert (element is None) == (row.form == "none")
            assert element is None or (element.size, element.form) == (row.height, row.form)
        assert not whole or all(e.stays for e in kept.elements)
        assert sections(kept, LIBRARY) is not None and 0 <= kept.trim_share <= 1


@settings(max_examples=150)
@given(st.sampled_from(STYLES), rooms, st.integers(1, 5))
def test_matched_tiers_keep_their_order(style, rows, tier):
    rungs = ladder(style, "doric", 126.0, LIBRARY, top=5)
    found = matched(rungs, [(tier, rows)], LIBRARY)
    assert [p.key for p in found] == [p.key for p in rungs]
    for low, high in pairwise(found):
        for element in low.elements:
            other, place = high.element(element.element), LIBRARY.element(element.element).place
            if other is not None and place not in ("dado", "plate", "field"):
                was = (
                    rungs[low.tier - 1].element(element.element).size,
                    rungs[high.tier - 1].element(element.element).size,
                )
                assert element.size <= other.size or was[0] > was[1]
