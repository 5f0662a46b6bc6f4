"""Rooms that are seen at once: what the lower repeats of the higher, and how the step between them reads.

Cliveden (1763): the hall carries the cornice of the order, its stair hall, through an open colonnade, only the corona
and cymatium of the same cornice. Mount Pleasant (1762): the hall has the whole Doric entablature, its stair hall a
moulded cornice in harmony. Both in F. Cousins and P. M. Riley, The Colonial Architecture of Philadelphia (1920).
"""

from dataclasses import replace

import pytest

from planner import Intent, Wish, demo_house, plan, read_house, read_stock
from planner.deliverables.plan_json import plan_object
from planner.deliverables.plan_text import plan_table
from planner.mouldings.assembly import Assembly, Placed
from planner.mouldings.members import profile
from planner.trim import packages
from planner.trim.sections import sections
from planner.trim.shared import shared_members
from planner.trim.steps import reads
from tests.known import LIBRARY


def ladder(style, order, ceiling, *, top):
    return packages.ladder(style, order, ceiling, LIBRARY, top=top)


def with_members(whole, stretch):
    """The package with its crown alone, made of members that are stretched in height."""
    crown = whole.element("crown")
    drawn = sections(whole, LIBRARY)["crown"][0].profile
    members = tuple(replace(m, height=m.height * stretch(m)) for m in drawn.members)
    placed = Placed(profile(members, "crown", "in another hand"))
    assembly = Assembly("crown", "in one", (placed,), placed.top, placed.reach, 0.75, 0.0, 0.0)
    return replace(whole, elements=(replace(crown, form="in another hand", assembly=assembly),))


def shared(near, far):
    return shared_members(near, far, LIBRARY)


def only(whole, *kept):
    """The package with some of its elements alone."""
    return replace(whole, elements=tuple(e for e in whole.elements if e.element in kept))


STATE, PRINCIPAL, FAMILY, CHAMBER, SERVICE = reversed(ladder("georgian", "doric", 120.0, top=5))


def test_a_stair_hall_has_the_corona_and_cymatium_of_the_hall_s_cornice():
    """Cliveden: clear through the colonnade, although the one has a frieze and dentils and the other has neither."""
    hall, stair = only(PRINCIPAL, "crown"), only(FAMILY, "crown")
    assert (hall.element("crown").form, stair.element("crown").form) == (
        "cornice, frieze and taenia",
        "four-part cornice",
    )
    assert shared(hall, stair) == ("crown: cymatium and corona",)
    assert reads(hall, stair, 0, LIBRARY, together=True) == "clear"
    assert reads(hall, stair, 0, LIBRARY) == "abrupt"


def test_a_whole_entablature_and_a_cornice_in_harmony_with_it_share_the_cornice():
    """Mount Pleasant."""
    hall, stair = only(STATE, "crown"), only(PRINCIPAL, "crown")
    assert hall.element("crown").form == "full entablature"
    assert shared(hall, stair) == ("crown: cymatium, corona and bed mould",)
    assert reads(hall, stair, 0, LIBRARY, together=True) == reads(stair, hall, 0, LIBRARY, together=True) == "clear"


def test_a_casing_is_told_by_its_fasciae_and_an_element_of_one_form_by_the_form():
    assert "casing: two fasciae and cyma reversa" in shared(STATE, PRINCIPAL)
    assert "chair rail: pedestal cap" in shared(STATE, PRINCIPAL)
    assert shared(FAMILY, CHAMBER) == ("casing: backbanded casing",)
    assert shared(CHAMBER, SERVICE) == ("casing: fascia and beaded edge",)


def test_where_nothing_is_shared_a_step_of_one_is_abrupt_through_open_doors_and_clear_through_a_shut_one():
    family, chamber = (
        replace(p, elements=tuple(e for e in p.elements if e.element != "casing")) for p in (FAMILY, CHAMBER)
    )
    assert shared(family, chamber) == ()
    assert reads(family, chamber, 1, LIBRARY, together=True) == "abrupt"
    assert reads(family, chamber, 1, LIBRARY) == "clear"


def test_boards_alone_are_not_shared_nor_a_moulding_a_third_larger():
    assert shared(only(FAMILY, "base"), only(CHAMBER, "base")) == ()
    large = ladder("georgian", "doric", 200.0, top=5)[3]
    assert shared(only(large, "crown"), only(FAMILY, "crown")) == ()


def test_a_step_of_two_is_judged_by_its_comfort_although_the_cornice_is_shared():
    """A great hall and a room two tiers below it through a double door whose limit was raised."""
    state, family = only(STATE, "crown"), only(FAMILY, "crown")
    assert reads(state, family, 1, LIBRARY, together=True) == reads(state, family, 1, LIBRARY) == "abrupt"
    assert reads(state, family, 2, LIBRARY, together=True) == "clear"


def test_fillets_are_one_whatever_their_height():
    """The members of the lower crown, its fillets half as high: the run is the same."""
    thin = with_members(FAMILY, lambda m: 0.4 if m.kind == "fillet" else 1.0)
    assert shared(only(PRINCIPAL, "crown"), thin) == ("crown: cymatium and corona",)
    low = with_members(FAMILY, lambda m: 0.4 if m.kind == "corona" else 1.0)
    assert not any("corona" in words for words in shared(only(PRINCIPAL, "crown"), low))


def test_a_room_behind_a_shut_door_s_trim_is_not_looked_at_through_open_doors():
    """A linen closet: its double doors hide it, so nothing is said to be shared and no step is abrupt."""
    house, _ = read_house(demo_house())
    hidden = next(p for p in plan(house).passages if p.end == "Linen Closet")
    assert hidden.kind == "double door" and not hidden.shared
    raised = plan(house, Intent(rooms={"Back Hall": Wish(tier=2)}))
    stepped = next(p for p in raised.passages if p.end == "Linen Closet")
    assert shared(raised.package_of["Back Hall"], raised.package_of["Linen Closet"])
    assert (stepped.difference, stepped.shared, stepped.reads) == (-1, (), "clear")


def test_a_step_of_two_or_one_too_small_to_notice_reads_as_it_did():
    assert reads(PRINCIPAL, CHAMBER, 1, LIBRARY, together=True) == reads(PRINCIPAL, CHAMBER, 1, LIBRARY) == "abrupt"
    assert reads(STATE, replace(STATE, tier=4), 0, LIBRARY, together=True) == "faint"
    assert reads(STATE, STATE, 0, LIBRARY, together=True) == "even"


@pytest.mark.parametrize("style", LIBRARY.style_names)
@pytest.mark.parametrize("ceiling", [108.0, 120.0, 144.0])
def test_rooms_for_company_and_the_family_s_share_their_cornice_in_every_period_that_has_one(style, ceiling):
    order = LIBRARY.style(style).order or "doric"
    family, principal, state = ladder(style, order, ceiling, top=5)[2:]
    for higher, lower in ((state, principal), (principal, family)):
        assert shared(higher, lower)
        if higher.element("crown").form in ("full entablature", "cornice, frieze and taenia"):
            assert any(words.startswith("crown: ") for words in shared(higher, lower))


def test_the_demo_house_no_longer_warns_about_its_front_hall_because_the_trim_shares_members():
    house, _ = read_house(demo_house())
    for stock in (None, read_stock(demo_house(), house.unit)):
        planned = plan(house, None, stock)
        front = next(p for p in planned.passages if (p.start, p.end) == ("Entry Hall", "Stair Hall"))
        assert (front.kind, front.difference, front.reads) == ("cased opening", -1, "clear")
        assert "crown: cymatium and corona" in front.shared
        assert not [c for c in planned.checks if c.rule == "abrupt passage" and c.room == "Stair Hall"]
        told = {(p["from"], p["to"]): p["shared"] for p in plan_object(planned, takeoff=False)["passages"]}
        assert told["Entry Hall", "Stair Hall"] == list(front.shared)
        assert told["Entry Hall", "Drawing Room"] == []
        assert "Entry Hall to Stair Hall (cased opening), -1: crown: cymatium" in plan_table(planned)


def test_a_front_hall_whose_trim_shares_nothing_is_warned_of():
    """The check is not silenced: the same passage, its lower room in another hand, is abrupt again."""
    bare = replace(only(CHAMBER, "crown", "base"), tier=3)
    assert reads(PRINCIPAL, bare, 0, LIBRARY, together=True) == "abrupt"
