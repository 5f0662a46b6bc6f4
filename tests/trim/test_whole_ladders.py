"""Ladders that can be had whole: with five to seven tiers every step of crown and wall treatment is reached."""

import itertools

import pytest

from planner.trim.packages import Element, Package, ladder
from planner.trim.styles import is_coarser, is_finer
from tests.known import LIBRARY, STYLES, top_tier

WALL = ("wainscot", "wall panels", "chair rail", "plate rail", "picture rail")
TIERS, CEILINGS = (5, 6, 7), (120.0, 144.0)
ALL = (96.0, 108.0, *CEILINGS)
CLASSICAL = sorted({*STYLES} - {"craftsman"})
WHOLE = [
    *(None, "plain crown", "crown above a bead", "four-part cornice"),
    *("cornice, frieze and taenia", "full entablature"),
]


def rungs(style: str, tiers: int, ceiling: float) -> tuple[Package, ...]:
    order = LIBRARY.style(style).order or "doric"
    return ladder(style, order, ceiling, LIBRARY, top=tiers, tiers=tiers)


def crowns(style: str, tiers: int, ceiling: float, top: int | None = None) -> list[Element | None]:
    """The crown of every tier."""
    order = LIBRARY.style(style).order or "doric"
    found = ladder(style, order, ceiling, LIBRARY, top=top or tiers, tiers=tiers)
    return [package.element("crown") for package in found]


def treatment(package: Package) -> tuple:
    """Form and size of the crown, and the forms of what is on the wall."""
    crown = package.element("crown")
    wall = tuple((e.element, e.form) for e in package.elements if e.element in WALL)
    return (crown.form, crown.size) if crown else None, wall


@pytest.mark.parametrize("ceiling", (108.0, *CEILINGS))
@pytest.mark.parametrize("tiers", TIERS)
@pytest.mark.parametrize("style", STYLES)
def test_no_two_neighbouring_tiers_have_the_same_crown_and_wall(style, tiers, ceiling):
    found = [treatment(package) for package in rungs(style, tiers, ceiling)]
    assert [(a, b) for a, b in itertools.pairwise(found) if a == b] == []


@pytest.mark.parametrize("ceiling", CEILINGS)
@pytest.mark.parametrize("style", STYLES)
def test_every_crown_and_wall_treatment_of_a_period_is_reached_with_five_to_seven_tiers(style, ceiling):
    of = ("crown", *WALL)
    described = {(row.element, row.form) for row in LIBRARY.style(style).rows if row.element in of}
    reached = {(e.element, e.form) for tiers in TIERS for p in rungs(style, tiers, ceiling) for e in p.elements}
    assert described - reached == set()


@pytest.mark.parametrize("tiers", range(3, 8))
@pytest.mark.parametrize("ceiling", ALL)
@pytest.mark.parametrize("style", CLASSICAL)
def test_a_crown_above_a_bead_is_no_smaller_than_the_crown_of_the_tier_below(style, ceiling, tiers):
    """5 to 7 in down in all, 3/4 in of bead, 1 1/2 to 2 1/2 in of wall between, its crown as large as the lower tier's:
    common practice."""
    for below, spread in itertools.pairwise(crowns(style, tiers, ceiling)):
        if spread is None or spread.form != "crown above a bead":
            continue
        parts = dict(spread.parts)
        assert 5 <= spread.size <= 7
        assert parts["bead"] == 0.75 and 1.5 <= parts["wall"] <= 2.5
        assert below is None or (below.form == "plain crown" and below.size <= parts["crown"])


def test_a_crown_above_a_bead_is_on_some_tier_of_every_longer_ladder():
    for style, tiers, ceiling in itertools.product(CLASSICAL, (6, 7), ALL):
        assert "crown above a bead" in [crown.form for crown in crowns(style, tiers, ceiling) if crown]


@pytest.mark.parametrize("tiers", (6, 7))
@pytest.mark.parametrize("style", CLASSICAL)
def test_the_ladder_of_crowns_is_whole_under_ten_feet(style, tiers):
    """None, crown, crown above a bead, cornice, cornice with frieze and taenia, full entablature, in this order."""
    forms = [crown.form if crown else None for crown in crowns(style, tiers, 120.0)]
    assert list(dict.fromkeys(forms)) == WHOLE


@pytest.mark.parametrize("tiers", range(3, 8))
@pytest.mark.parametrize("ceiling", ALL)
@pytest.mark.parametrize("style", STYLES)
def test_no_two_neighbouring_crowns_are_the_same_and_richer_ones_stand_higher(style, ceiling, tiers):
    for top in range((tiers * 3 + 4) // 5, tiers + 1):
        found = crowns(style, tiers, ceiling, top)
        for low, high in itertools.pairwise(found):
            assert low is None or (low.form, low.size) != (high.form, high.size)
            assert low is None or low.size <= high.size
        if style in CLASSICAL:
            order = [WHOLE.index(crown.form if crown else None) for crown in found]
            assert order == sorted(order)


@pytest.mark.parametrize("tiers", (5, 6, 7))
@pytest.mark.parametrize("ceiling", ALL)
@pytest.mark.parametrize("style", STYLES)
def test_no_step_between_crowns_is_larger_than_from_a_cornice_to_one_with_its_frieze(style, ceiling, tiers):
    """In the Doric 9 : 19 (Ware, p. 14), and the rounding to eighths; 5 in beside 13 would be more."""
    for top in range((tiers * 3 + 4) // 5, tiers + 1):
        found = [crown for crown in crowns(style, tiers, ceiling, top) if crown]
        assert all(high.size / low.size <= 2.5 for low, high in itertools.pairwise(found))


@pytest.mark.parametrize("tiers", (5, 6, 7))
@pytest.mark.parametrize("style", CLASSICAL)
def test_an_ordinary_house_of_nine_feet_stops_at_a_cornice_of_four_to_six_inches(style, tiers):
    """Common practice; a cornice alone 1/20 to 1/30 of the room's height in the British Encyclopedia (1809)."""
    top = top_tier("house", tiers)
    best = crowns(style, tiers, 108.0, top)[top - 1]
    assert best.form == "four-part cornice" and 4 <= best.size <= 6


def test_rows_for_the_lower_of_two_hold_for_it_alone():
    assert [is_coarser(t, 7) for t in range(1, 8)] == [False, True, False, False, True, False, False]
    assert [is_finer(t, 7) for t in range(1, 8)] == [False, False, True, False, False, True, False]
    assert not any(is_coarser(t, 5) for t in range(1, 6))
    five, seven = rungs("georgian", 5, 120.0), rungs("georgian", 7, 120.0)
    assert five[1].element("crown").size > seven[1].element("crown").size
