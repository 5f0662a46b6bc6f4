"""The canon for rooms of 1809: each figure against its source, and what ladders sized by it are like.

British Encyclopedia (1809), principles of building, by the height of the room: columns with entablature, the
entablature 1/6 to 1/7; an entablature without columns 1/7 to 1/8; cornice, frieze and astragal 1/10; a cornice alone
1/20 to 1/30; architraves indoors in most cases no wider than 1/7 of the opening; interior parts less and more delicate
than exterior ones.
"""

import itertools
from dataclasses import replace

import pytest

from planner import Intent, demo_house, edits, plan, read_house
from planner.deliverables.plan_json import plan_object
from planner.deliverables.plan_text import plan_table
from planner.house.model import House
from planner.planning.ladders import asked_of, usual_order
from planner.trim import interiors
from planner.trim.orders import door_width
from planner.trim.packages import ladder, package
from tests.known import LIBRARY, STYLES

NAME = "interior 1809"
CANON = LIBRARY.interior(NAME)
CLASSICAL = [style for style in STYLES if LIBRARY.style(style).from_order]


@pytest.mark.parametrize("height", [96.0, 120.0, 168.0])
def test_parts_at_the_ceiling_are_fractions_of_the_room_s_height(height):
    assert interiors.entablature(height, CANON, columns=True) == pytest.approx((height / 7, height / 6))
    assert interiors.entablature(height, CANON) == pytest.approx((height / 8, height / 7))
    assert interiors.down_to_taenia(height, CANON) == pytest.approx((height / 10, height / 10))
    assert interiors.cornice(height, CANON) == pytest.approx((height / 30, height / 20))


def test_an_architrave_indoors_is_a_seventh_of_the_opening():
    assert interiors.casing(35.0, CANON) == pytest.approx(5.0)
    assert "British Encyclopedia (1809)" in CANON.source


def test_a_room_of_ten_feet_by_hand():
    """17 1/8 for the entablature where the order has 19, 12 where it has 15 down to the taenia, a cornice of 4 to 6."""
    state = package("georgian", "doric", 5, 120, LIBRARY, top=5, canon=NAME)
    assert (state.element("crown").form, state.element("crown").size) == ("full entablature", 17.125)
    stopped = package("georgian", "doric", 4, 120, LIBRARY, top=4, canon=NAME).element("crown")
    assert (stopped.form, stopped.size) == ("cornice, frieze and taenia", 12.0)
    assert "1809" in stopped.source
    assert sum(size for _, size in stopped.parts) == pytest.approx(12.0)
    family = package("georgian", "doric", 3, 120, LIBRARY, top=5, canon=NAME).element("crown")
    assert family.form == "four-part cornice" and 4 <= family.target <= 6
    assert family.size <= dict(stopped.parts)["cornice"]
    assert state.element("casing").target == pytest.approx(door_width(120) / 7)


@pytest.mark.parametrize("style", CLASSICAL)
@pytest.mark.parametrize("ceiling", [96.0, 108.0, 120.0, 144.0])
@pytest.mark.parametrize("tiers", [3, 5, 6, 7])
def test_a_ladder_by_the_room_is_lighter_and_still_grows_upward(style, ceiling, tiers):
    order = LIBRARY.style(style).order
    of_order, of_room = (
        ladder(style, order, ceiling, LIBRARY, top=tiers, tiers=tiers, canon=canon) for canon in ("order", NAME)
    )
    for low, high in itertools.pairwise(of_room):
        assert low.trim_share <= high.trim_share + 1e-9
        one, other = low.element("crown"), high.element("crown")
        assert one is None or one.size <= other.size
    for mine, other in zip(of_room, of_order, strict=True):
        assert mine.element("casing").size <= other.element("casing").size
        crown = mine.element("crown")
        if crown and crown.form == "four-part cornice":
            assert ceiling / 30 - 1e-9 <= crown.target <= ceiling / 20 + 1e-9
        if crown and crown.form == "full entablature":
            assert ceiling / 8 - 1e-9 <= crown.target <= ceiling / 7 + 1e-9


def test_the_canon_is_the_house_s_or_the_alternative_s_and_is_told():
    house, _ = read_house(demo_house())
    assert plan(house).canon == "order"
    chosen = plan(house, edits.set_canon(Intent(), NAME))
    assert chosen.canon == NAME and plan_object(chosen)["house"]["canon"] == NAME
    assert plan_table(chosen).splitlines()[1] == "georgian, doric, interior 1809, house"
    crown = chosen.package_of["Drawing Room"].element("crown")
    assert crown.size < plan(house).package_of["Drawing Room"].element("crown").size
    with pytest.raises(ValueError, match="unknown canon 'interior 1810'; did you mean 'interior 1809'"):
        plan(house, Intent(canon="interior 1810"))


def test_an_order_left_blank_follows_the_style_of_the_house_or_of_the_alternative():
    house = House("Bare", (), (), ())
    assert asked_of(house, Intent(), LIBRARY).order == "doric" == LIBRARY.style("georgian").order
    assert asked_of(house, Intent(style="federal"), LIBRARY).order == "corinthian" == LIBRARY.style("federal").order
    assert asked_of(house, Intent(style="federal", order="ionic"), LIBRARY).order == "ionic"
    demo, _ = read_house(demo_house())
    assert demo.order == "" and asked_of(demo, Intent(), LIBRARY).order == "doric"
    assert asked_of(replace(demo, style="federal"), Intent(), LIBRARY).order == "corinthian"
    assert asked_of(replace(demo, order="ionic"), Intent(), LIBRARY).order == "ionic"
    assert asked_of(demo, Intent(style="federal"), LIBRARY).order == "corinthian"
    assert usual_order(demo, "craftsman", LIBRARY) == LIBRARY.order_names[0]
