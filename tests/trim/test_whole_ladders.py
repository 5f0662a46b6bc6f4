"""Ladders that can be had whole: with five to seven tiers every step of crown and wall treatment is reached."""

import itertools

import pytest

from planner.trim.packages import Package, ladder
from planner.trim.styles import is_coarser, is_finer
from tests.known import LIBRARY, STYLES

WALL = ("wainscot", "wall panels", "chair rail", "plate rail", "picture rail")
TIERS, CEILINGS = (5, 6, 7), (120.0, 144.0)


def rungs(style: str, tiers: int, ceiling: float) -> tuple[Package, ...]:
    order = LIBRARY.style(style).order or "doric"
    return ladder(style, order, ceiling, LIBRARY, top=tiers, tiers=tiers)


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


@pytest.mark.parametrize("ceiling", CEILINGS)
@pytest.mark.parametrize("style", sorted({*STYLES} - {"craftsman"}))
def test_a_crown_above_a_bead_is_no_smaller_than_the_crown_of_the_tier_below(style, ceiling):
    """Its crown as large as the lower tier's, 3/4 in of bead, an inch of wall or more between: common practice."""
    seven = rungs(style, 7, ceiling)
    below, spread, above = (package.element("crown") for package in seven[1:4])
    assert (below.form, spread.form) == ("plain crown", "crown above a bead")
    parts = dict(spread.parts)
    assert parts["bead"] == 0.75 and parts["wall"] >= 1.0
    assert parts["crown"] >= below.size - 1 / 16
    assert spread.size <= above.size


def test_rows_for_the_lower_of_two_hold_for_it_alone():
    assert [is_coarser(t, 7) for t in range(1, 8)] == [False, True, False, False, True, False, False]
    assert [is_finer(t, 7) for t in range(1, 8)] == [False, False, True, False, False, True, False]
    assert not any(is_coarser(t, 5) for t in range(1, 6))
    five, seven = rungs("georgian", 5, 120.0), rungs("georgian", 7, 120.0)
    assert five[1].element("crown").size > seven[1].element("crown").size
