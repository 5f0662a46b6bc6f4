"""Ladders of every period under 8, 9, 10 and 12 ft, of three to seven tiers, member by member and without stock.

No member of a lower tier is larger than the same one of a higher; parts of a cornice keep the order's shares; what
meets at a casing steps in thickness; doors' casings stand above windows'; every step reads. Sources beside each test;
where none is named, common practice.
"""

from functools import cache
from itertools import pairwise, product

import pytest

from planner.mouldings.members import Member
from planner.mouldings.order_members import cornice_of
from planner.trim.packages import Element, Package, ladder
from planner.trim.sections import sections
from planner.trim.steps import reads
from planner.trim.stops import edge_of, reach_of
from planner.trim.styles import rung, top_tier
from tests.known import GRADES, LIBRARY, STYLES

CEILINGS, TIERS = (96.0, 108.0, 120.0, 144.0), range(3, 8)
EIGHTH, HAIR = 1 / 8, 1e-6
FILLING = ("wainscot", "wall panels")
"""What fills the wall that is left."""
each = pytest.mark.parametrize(("style", "ceiling"), list(product(STYLES, CEILINGS)))


@cache
def ladders(style: str, ceiling: float) -> tuple[tuple[Package, ...], ...]:
    """A ladder for every number of tiers and every grade of house."""
    order = LIBRARY.style(style).order or "doric"
    tops = dict.fromkeys((tiers, top_tier(grade, tiers, LIBRARY)) for tiers in TIERS for grade in GRADES)
    return tuple(ladder(style, order, ceiling, LIBRARY, top=top, tiers=tiers) for tiers, top in tops)


def steps(style: str, ceiling: float) -> list[tuple[Package, Package]]:
    """Every two neighbouring tiers, the lower first."""
    return [pair for rungs in ladders(style, ceiling) for pair in pairwise(rungs)]


def members(package: Package, element: Element) -> list[Member]:
    """What an element's section shows, from the bottom up."""
    return [m for placed in sections(package, LIBRARY).get(element.element, ()) for m in placed.profile.members]


def groups(drawn: list[Member]) -> dict[str, float]:
    """Heights of bed mould, corona and cymatium of a cornice [in]; none where there is no corona."""
    at = next((i for i, m in enumerate(drawn) if m.kind == "corona"), None)
    if at is None:
        return {}
    foot = next(
        (i + 1 for i in reversed(range(at)) if drawn[i].kind == "fascia" and drawn[i].height > drawn[at].height), 0
    )
    return {
        "bed mould": sum(m.height for m in drawn[foot:at]),
        "corona": drawn[at].height,
        "cymatium": sum(m.height for m in drawn[at + 1 :]),
    }


@each
def test_no_member_of_a_lower_tier_is_larger_than_the_same_member_of_a_higher(style, ceiling):
    """W. Chambers, Treatise (1825 ed.): what is subordinate is smaller in the whole and in each member."""
    for low, high in steps(style, ceiling):
        for element in low.elements:
            above = high.element(element.element)
            if above is None or element.element in FILLING:
                continue
            one, other = members(low, element), members(high, above)
            if above.form == element.form:
                kept = [a.height <= b.height + HAIR for a, b in zip(one, other, strict=True)]
                assert all(kept), (low.label, high.label, element.element)
            if element.element == "crown":
                parts = dict(above.parts)
                assert all(size <= parts.get(part, size) + HAIR for part, size in element.parts), (
                    low.label,
                    high.label,
                )
                larger = groups(other)
                assert all(size <= larger.get(group, size) + HAIR for group, size in groups(one).items())


@each
def test_parts_of_every_cornice_keep_the_order_s_shares(style, ceiling):
    """The rows of library/order_members.toml, each with its own source."""
    if not LIBRARY.style(style).from_order:
        return
    seen = 0
    for package in {package for rungs in ladders(style, ceiling) for package in rungs}:
        order = LIBRARY.order(package.order)
        part = order.parts[cornice_of(order, LIBRARY.style(style).curves == "greek")]
        share = {m.kind: float(m.height / part.height) for m in part.members if m.kind == "corona"}
        crown = package.element("crown")
        cornice = dict(crown.parts).get("cornice") if crown else None
        if crown is None or cornice is None:
            continue
        drawn, seen = groups(members(package, crown)), seen + 1
        assert drawn["corona"] / cornice == pytest.approx(share["corona"], abs=0.005)
        assert sum(drawn.values()) == pytest.approx(cornice, abs=0.01)
    assert seen


@each
def test_what_meets_at_a_casing_steps_in_thickness(style, ceiling):
    """Blocks thicker than casing and base: F. E. Kidder, Building Construction and Superintendence, sections 168, 169;
    blocks of 1 1/8 on casings of 7/8: L. H. Gibson, Convenient Houses (1889)."""
    for package in {package for rungs in ladders(style, ceiling) for package in rungs}:
        base, casing, edge = package.element("base"), package.element("casing"), edge_of(package.elements)
        assert casing.projection >= base.projection + EIGHTH - HAIR, package.label
        assert casing.thickness >= base.thickness + EIGHTH - HAIR, package.label
        for block in filter(None, map(package.element, ("plinth block", "overdoor"))):
            if LIBRARY.form(block.element, block.form).proud:
                assert block.projection >= edge + EIGHTH - HAIR and block.thickness >= casing.thickness + EIGHTH - HAIR
        rail = package.element("chair rail")
        assert rail is None or (rail.projection <= edge + HAIR and not rail.returned)
        for stops in filter(None, map(package.element, ("shoe", "plate rail"))):
            assert stops.returned is (reach_of(stops, package.elements) > edge + HAIR)


@each
def test_a_door_s_casing_stands_above_the_window_s_and_windows_keep_four_inches(style, ceiling):
    for package in {package for rungs in ladders(style, ceiling) for package in rungs}:
        door, window = package.element("casing"), package.element("window casing")
        assert door.form == window.form
        assert 4.0 <= window.size <= door.size - EIGHTH, package.label


@each
def test_a_step_of_casings_is_an_eighth_part_or_another_form(style, ceiling):
    """Between tiers of different rungs; the two that share a rung may share a casing."""
    for rungs in ladders(style, ceiling):
        for low, high in pairwise(rungs):
            one, other = low.element("casing"), high.element("casing")
            if rung(low.tier, len(rungs)) != rung(high.tier, len(rungs)):
                assert one.form != other.form or 1 - one.size / other.size >= EIGHTH, (low.label, high.label)


def test_a_square_board_is_a_craftsman_casing_and_a_formal_chamber_has_a_moulded_architrave():
    """Finely made rooms of service have a beaded board, chambers a beaded fascia with a backband."""
    for style, ceiling in product(STYLES, CEILINGS):
        for rungs in ladders(style, ceiling):
            for package in rungs:
                form, on = package.element("casing").form, LIBRARY.ladder.rungs[rung(package.tier, len(rungs)) - 1]
                if style == "craftsman":
                    assert form in ("plain casing", "banded casing", "heavy casing")
                else:
                    assert form != "plain casing"
                    assert {"Service": "beaded casing", "Chamber": "backbanded casing"}.get(on, form) == form
    assert LIBRARY.style("craftsman").casing.joint == "butted"


@each
def test_every_step_reads(style, ceiling):
    assert {reads(low, high, 1, LIBRARY) for low, high in steps(style, ceiling)} == {"clear"}


def test_a_symmetrical_casing_is_sunk_in_the_middle_between_raised_edges():
    package = next(p for rungs in ladders("victorian", 120.0) for p in rungs if p.element("casing").members == 5)
    drawn = members(package, package.element("casing"))
    reach = [m.projection for m in drawn]
    assert [m.kind for m in drawn] == [m.kind for m in reversed(drawn)] and reach == reach[::-1]
    assert min(reach) == reach[len(reach) // 2] < reach[0] == max(reach)


@each
def test_corner_blocks_go_with_a_symmetrical_casing_and_are_a_quarter_wider(style, ceiling):
    """F. E. Kidder, Building Construction and Superintendence, section 168."""
    for package in {package for rungs in ladders(style, ceiling) for package in rungs}:
        overdoor, casing = package.element("overdoor"), package.element("casing")
        if overdoor is not None and overdoor.form == "corner blocks":
            assert casing.form == "symmetrical casing" and overdoor.size == casing.size + 1 / 4


def test_craftsman_rooms_have_no_ogee_and_no_cove():
    for ceiling in CEILINGS:
        for package in {package for rungs in ladders("craftsman", ceiling) for package in rungs}:
            for name in ("base", "crown"):
                element = package.element(name)
                kinds = {m.kind for m in members(package, element)} if element else set()
                assert not kinds & {"cyma reversa", "cyma recta", "cavetto"}, (package.label, name)


def test_victorian_rooms_above_the_family_s_keep_their_picture_rail():
    for ceiling in (108.0, 120.0, 144.0):
        for tier in (3, 4):
            package = ladder("victorian", "corinthian", ceiling, LIBRARY, top=5)[tier - 1]
            assert package.element("picture rail") is not None
