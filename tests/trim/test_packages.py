"""Packages against common practice, and their properties over all styles, orders, ladders, grades and ceilings."""

from itertools import combinations, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.trim import orders, packages, styles
from tests.known import CANON, GRADES, LIBRARY, ORDERS, STYLES, package, reads, top_tier

ladders = st.tuples(
    st.sampled_from(STYLES),
    st.sampled_from(ORDERS),
    st.one_of(st.integers(84, 240), st.floats(84, 240)),
    st.sampled_from(GRADES),
    st.integers(3, 7),
)


def ladder(style, order, ceiling, grade, tiers):
    """The packages of all tiers, from the bottom."""
    top = top_tier(grade, tiers)
    return [package(style, order, tier, ceiling, top=top, tiers=tiers) for tier in range(1, tiers + 1)]


def test_a_ceiling_is_known_by_one_text_whatever_number_it_was_first_asked_for_by():
    packages.ladder.cache_clear()
    for ceiling in (108, 108.0):
        assert repr(package("georgian", "doric", 1, ceiling, top=5).key.ceiling) == "108.0"


def test_georgian_doric_room_of_ten_feet_is_as_practice_has_it():
    # Common practice for a 10 ft Georgian room: pedestal about 25, architrave about 5, entablature about 19, cornice
    # 7 to 8, and about 15 where it stops at the taenia.
    crown = package("georgian", "doric", 5, 120, top=5).element("crown")
    parts = dict(crown.parts)
    assert crown.form == "full entablature"
    assert crown.size == pytest.approx(19, abs=0.5)
    assert orders.pedestal(120, CANON) == pytest.approx(25, abs=0.5)
    assert parts["architrave"] == pytest.approx(5, abs=0.5)
    assert 6.5 <= parts["cornice"] <= 8.5
    stopped = package("georgian", "doric", 4, 120, top=4).element("crown")
    assert stopped.form == "cornice, frieze and taenia"
    assert stopped.size == pytest.approx(15, abs=0.5)


def test_casings_of_a_formal_room():
    # Common practice: a door casing of about 5 1/2 where the window's is about 4 1/2.
    room = package("georgian", "doric", 5, 120, top=5)
    assert room.element("casing").size == pytest.approx(5.5, abs=0.25)
    assert room.element("window casing").size == pytest.approx(4.5, abs=0.25)


@pytest.mark.parametrize("style", STYLES)
@pytest.mark.parametrize("grade", GRADES)
def test_bedroom_of_eight_feet(style, grade):
    # Common practice: base 4 1/2 to 5 1/2, casing 4 to 4 1/2, a small crown of 3 to 4, no wainscot.
    room = package(style, "doric", 2, 96, top=top_tier(grade))
    assert 4.5 <= room.element("base").size <= 5.5
    assert 4 <= room.element("casing").size <= 4.5
    assert 3 <= room.element("crown").size <= 4
    assert room.element("wainscot") is None
    assert room.element("overdoor") is None


def test_crown_spread_above_a_bead_in_a_small_room():
    # Common practice: 5 to 6 in down in all, with plain wall between so that both read.
    crown = package("georgian", "doric", 3, 96, top=4).element("crown")
    parts = dict(crown.parts)
    assert crown.form == "crown above a bead" and 5 <= crown.size <= 6
    assert parts["bead"] < parts["wall"] < parts["crown"]


def test_entablature_gives_way_to_a_lighter_form_under_ten_feet():
    # Common practice: a full entablature reads heavy under 10 ft.
    forms = {c: package("georgian", "doric", 5, c, top=5).element("crown").form for c in (96, 119, 120)}
    assert forms == {96: "four-part cornice", 119: "cornice, frieze and taenia", 120: "full entablature"}


def test_craftsman_derives_from_no_order_and_says_so():
    rooms = {package("craftsman", order, 4, 108, top=4).elements for order in ORDERS}
    assert len(rooms) == 1
    assert all("derives from no order" in element.source for element in rooms.pop())
    assert not LIBRARY.style("craftsman").from_order


def test_plain_rooms_do_not_come_from_an_order_and_say_so():
    rooms = [package("georgian", order, 2, 96, top=4) for order in ORDERS]
    assert len({room.elements for room in rooms}) == 1
    assert "not from an order" in rooms[0].element("base").source


def test_craftsman_principal_room():
    # Common practice: a wainscot of boards and battens about three fifths of the wall, flat casings of 4 to 5 1/2 in,
    # a base of about 6 in, a head board with a cap.
    room = package("craftsman", "doric", 4, 96, top=4)
    assert 48 <= room.element("wainscot").size <= 64
    assert room.element("casing").form == "heavy casing" and 4 <= room.element("casing").size <= 5.5
    assert 5 <= room.element("base").size <= 8
    assert room.element("overdoor").form == "cap on a head board"


def test_federal_entablature_is_lighter_than_georgian():
    # W. Chambers, as given in Rudiments of Ancient Architecture (1810): one fifth of the column indoors.
    federal, georgian = (package(style, "ionic", 5, 132, top=5).element("crown") for style in ("federal", "georgian"))
    assert federal.size < georgian.size


def test_every_measure_of_a_federal_room_is_that_of_its_entablature_of_a_fifth():
    """Pedestal, column and entablature fill 120 in as 1/3 : 1 : 1/5, so the column is 120 / (23/15); of the pedestal
    the base takes 2/9 and the cap 1/9, of the Doric entablature the architrave 2/8, the frieze 3/8 and the cornice 3/8.
    On the highest tier no row is scaled."""
    column = 120 * 15 / 23
    pedestal, entablature = column / 3, column / 5
    measures = {
        "pedestal base": pedestal * 2 / 9,
        "pedestal cap": pedestal / 9,
        "entablature": entablature,
        "architrave": entablature / 4,
        "frieze": entablature * 3 / 8,
        "cornice": entablature * 3 / 8,
    }
    room, checked = package("federal", "doric", 5, 120, top=5), []
    for row in LIBRARY.style("federal").rows:
        found = room.element(row.element)
        if "State" in row.rungs and row.of in measures and found is not None and found.form == row.form:
            assert found.target == pytest.approx(max(row.factor * measures[row.of], row.least)), row
            checked.append(row.of)
    assert {"pedestal base", "pedestal cap"} <= set(checked)
    parts = dict(room.element("crown").parts)
    assert parts["frieze"] / parts["cornice"] == pytest.approx(1)


@pytest.mark.parametrize("ceiling", [96, 108, 120])
def test_plinth_blocks_by_period(ceiling):
    # Common practice: Georgian as high as the base, Federal somewhat taller, Victorian tall; thicker than the base.
    over = {}
    for style in ("georgian", "federal", "victorian"):
        room = package(style, "ionic", 4, ceiling, top=4)
        block, base = room.element("plinth block"), room.element("base")
        assert block.thickness > base.thickness and block.projection > base.projection
        over[style] = block.size / base.size
    assert over["georgian"] == 1 < over["federal"] < over["victorian"]


@given(ladders)
def test_no_tier_is_larger_than_a_higher_one(case):
    for low, high in combinations(ladder(*case), 2):
        for element in low.elements:
            above = high.element(element.element)
            assert above is None or element.size <= above.size, (low.name, high.name, element.element)


@given(ladders)
def test_every_step_can_be_seen_from_the_passage(case):
    for low, high in pairwise(ladder(*case)):
        assert reads(low, high, comfort=1) == "clear", (low.name, high.name)


@given(ladders)
def test_trim_stays_on_the_wall_and_never_overlaps_itself(case):
    for room in ladder(*case):
        spans = sorted(
            (element.bottom, element.top, element.element)
            for element in room.elements
            if element.bottom is not None and room.element(LIBRARY.element(element.element).within) is None
        )
        assert spans[0][0] == 0 and spans[-1][1] <= room.ceiling + 1e-9
        assert all(upper[0] >= lower[1] for lower, upper in pairwise(spans)), spans
        for element in room.elements:
            host = room.element(LIBRARY.element(element.element).within)
            if host is not None and host.bottom is not None:
                assert host.bottom <= element.bottom and element.top <= host.top
        rails = [e for e in map(room.element, ("chair rail", "plate rail")) if e is not None]
        assert all(room.element("base").top < rail.bottom for rail in rails)
        assert 0 < room.trim_share < 1


@given(ladders)
def test_sizes_are_built_to_an_eighth_no_smaller_than_practice_holds(case):
    for room in ladder(*case):
        assert room.members == sum(element.members for element in room.elements)
        for element in room.elements:
            kind = LIBRARY.element(element.element)
            assert element.size * 8 == int(element.size * 8)
            # The nearest eighth, or the one below where a part would be larger than the same part of a higher tier.
            assert -1 / 8 <= element.size - element.target <= 1 / 16 + 1e-9
            assert element.element == "crown" or element.target - element.size <= 1 / 16 + 1e-9
            assert kind.least <= element.size <= kind.most
            assert element.projection > 0 and element.thickness > 0
            assert element.members > 0 or element.element in ("door leaf", "sash")
            assert (element.bottom is None) == (kind.place == "opening")
            if element.parts:
                assert sum(height for _, height in element.parts) == pytest.approx(element.size)
                assert all(height > 0 for _, height in element.parts)
        # Common practice: at least 4 in.
        assert room.element("casing").size >= 4 and room.element("window casing").size >= 4


@given(ladders)
def test_base_and_rail_die_into_what_stands_round_the_door(case):
    # Common practice: neither base nor chair rail is thicker than the casing, or its plinth or backband.
    for room in ladder(*case):
        round_door = [e for e in map(room.element, ("casing", "backband")) if e is not None]
        stands = max(e.projection for e in round_door)
        at_floor = max([stands] + [e.projection for e in [room.element("plinth block")] if e is not None])
        assert room.element("base").projection <= at_floor
        rail = room.element("chair rail")
        assert rail is None or rail.projection <= stands


@given(ladders)
def test_chair_rail_stands_between_28_and_32_at_one_height_for_a_ceiling(case):
    # Common practice.
    tops = {rail.top for room in ladder(*case) if (rail := room.element("chair rail")) is not None}
    assert len(tops) <= 1 and all(28 <= top <= 32 for top in tops)


@given(ladders)
def test_overdoor_is_smaller_than_what_finishes_the_room(case):
    # W. Chambers, Treatise (1825 ed.): subordinate profiles smaller in the whole and in each member.
    for room in ladder(*case):
        overdoor, crown = room.element("overdoor"), room.element("crown")
        if overdoor is not None and overdoor.form == "frieze and cornice":
            assert overdoor.size < crown.size and overdoor.projection < crown.projection
            whole = dict(crown.parts)
            assert all(height < whole[part] for part, height in overdoor.parts)


@pytest.mark.parametrize("order", ORDERS)
@pytest.mark.parametrize(("grade", "canon"), [("house", orders.down_to_taenia), ("great house", None)])
def test_top_of_the_grade_carries_the_canon_and_lower_tiers_less(order, grade, canon):
    top = top_tier(grade)
    crown = package("georgian", order, top, 132, top=top).element("crown")
    assert crown.target == pytest.approx(
        canon(132, LIBRARY.order(order), CANON) if canon else orders.entablature(132, CANON)
    )
    base = [package("georgian", order, tier, 132, top=top).element("base").target for tier in range(top, top - 2, -1)]
    assert base[1] / base[0] == pytest.approx(LIBRARY.style("georgian").ratio)


@given(ladders)
def test_a_tier_is_no_larger_where_the_grade_reaches_higher(case):
    style, order, ceiling, _, tiers = case
    for tier, room in enumerate(ladder(*case), 1):
        for element in package(style, order, tier, ceiling, top=tiers, tiers=tiers).elements:
            modest = room.element(element.element)
            # A field of panels grows as the crown above it shrinks.
            assert modest.form == element.form
            assert element.size <= modest.size or element.element == "wall panels"


def test_tier_names_and_tops():
    assert styles.tier_names(5, LIBRARY) == ("Service", "Chamber", "Family", "Principal", "State")
    for tiers in range(3, 8):
        assert len(set(styles.tier_names(tiers, LIBRARY))) == tiers
    # Tops: ceil(3K/5), ceil(4K/5) and K.
    assert [[top_tier(grade, k) for grade in GRADES] for k in range(3, 8)] == [
        [2, 3, 3],
        [3, 4, 4],
        [3, 4, 5],
        [4, 5, 6],
        [5, 6, 7],
    ]


def test_least_ceilings_rise_with_the_tier():
    for style in STYLES:
        needs = [styles.least_ceiling(style, tier, 7, LIBRARY) for tier in range(1, 8)]
        assert needs == sorted(needs) and needs[0] == 0 and needs[-1] > 96
    assert [styles.least_ceiling("georgian", tier, 5, LIBRARY) for tier in (3, 4, 5)] == [0, 96, 108]


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (("Georgian", "doric", 3, 96), "unknown style 'Georgian'; did you mean 'georgian'"),
        (("craftman", "doric", 3, 96), "craftsman"),
        (("georgian", "dorik", 3, 96), "unknown order 'dorik'; did you mean 'doric'"),
        (("georgian", "zzz", 3, 96), "tuscan"),
        (("georgian", "doric", 6, 96), "tiers 1 to 5, not 6"),
        (("georgian", "doric", 0, 96), "tiers 1 to 5, not 0"),
        (("georgian", "doric", 3, 0), "above 0 in"),
        (("georgian", "doric", 3, float("nan")), "above 0 in"),
    ],
)
def test_bad_input_is_told(arguments, message):
    with pytest.raises(ValueError, match=message):
        package(*arguments, top=4)


@pytest.mark.parametrize("tiers", [2, 8])
def test_ladders_of_other_lengths_are_refused(tiers):
    for ask in (
        lambda: styles.tier_names(tiers, LIBRARY),
        lambda: top_tier("house", tiers),
        lambda: styles.least_ceiling("federal", 1, tiers, LIBRARY),
    ):
        with pytest.raises(ValueError, match="3 to 7 tiers"):
            ask()


def test_unknown_grade_is_told():
    with pytest.raises(ValueError, match="unknown grade 'mansion'"):
        top_tier("mansion")


def test_every_row_of_the_tables_names_a_source_and_known_things():
    kinds = set(LIBRARY.element_kinds)
    for style in LIBRARY.styles:
        assert all(row.source for row in (*style.rows, *style.least_ceilings))
        assert {rung for row in style.rows for rung in row.rungs} <= set(LIBRARY.ladder.rungs)
        assert {row.element for row in style.rows} <= kinds
    assert {form.element for form in LIBRARY.forms} <= kinds
    used = {(row.element, row.form) for style in LIBRARY.styles for row in style.rows}
    forms = {(form.element, form.name) for form in LIBRARY.forms}
    # A house may have other leaves and sashes than any period's.
    assert used <= forms and {element for element, _ in forms - used} <= {"door leaf", "sash"}
    assert all(kind.source and kind.within in {"", *kinds} for kind in LIBRARY.elements)


def test_sizes_of_a_metric_house_are_built_in_whole_millimetres():
    metric, imperial = (packages.ladder("georgian", "doric", 120.0, LIBRARY, top=4, unit=unit) for unit in ("mm", "in"))
    sizes = [element.size for package in metric for element in package.elements]
    assert [size * 25.4 for size in sizes] == pytest.approx([round(size * 25.4) for size in sizes])
    assert any(abs(size * 8 - round(size * 8)) > 0.01 for size in sizes)
    assert all(element.size * 8 == round(element.size * 8) for package in imperial for element in package.elements)
