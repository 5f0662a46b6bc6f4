"""What is carved or turned on an element, by period, tier, form and order."""

from itertools import pairwise

import pytest

from planner.trim.packages import ladder
from planner.trim.sections import sections
from tests.known import LIBRARY, ORDERS, STYLES, package

CEILINGS, TIERS = (96.0, 108.0, 120.0, 144.0), range(3, 8)


def ladders(style, ceiling):
    """Ladders of three to seven tiers in every order."""
    for order in ORDERS:
        for tiers in TIERS:
            yield ladder(style, order, ceiling, LIBRARY, top=tiers, tiers=tiers)


@pytest.mark.parametrize("ceiling", CEILINGS)
@pytest.mark.parametrize("style", STYLES)
def test_what_is_carved_never_falls_with_a_rising_tier(style, ceiling):
    for rungs in ladders(style, ceiling):
        for low, high in pairwise(rungs):
            for element in low.elements:
                above = high.element(element.element)
                if above is not None and above.form == element.form:
                    assert set(element.enrichments) <= set(above.enrichments), (low.label, high.label, element.element)
                assert above is None or len(element.enrichments) <= len(above.enrichments)


def test_dentils_begin_at_an_upper_rung_and_never_in_greek_revival():
    for style in STYLES:
        for order in ORDERS:
            for ceiling in CEILINGS:
                rungs = ladder(style, order, ceiling, LIBRARY, top=5)
                carved = [rung.tier for rung in rungs for e in rung.elements if "dentils" in e.enrichments]
                assert all(tier >= 4 for tier in carved)
                assert not carved or style not in ("greek revival", "craftsman")
    assert "dentils" in package("georgian", "doric", 4, 120, top=4).element("crown").enrichments


def kinds(whole, element):
    return [m.kind for placed in sections(whole, LIBRARY)[element] for m in placed.profile.members]


def test_the_band_of_a_cornice_without_dentils_is_left_uncut_and_as_high():
    """Common practice: the band is there, plain."""
    family, principal = (package("georgian", "doric", tier, 120, top=4) for tier in (3, 4))
    assert "dentil band" in kinds(principal, "crown") and "dentil band" not in kinds(family, "crown")
    band = next(m for m in LIBRARY.order("doric").parts["cornice"].members if m.kind == "dentil band")
    (cornice,) = sections(family, LIBRARY)["crown"]
    uncut = [m for m in cornice.profile.members if m.kind == "fascia"]
    share = float(band.height / LIBRARY.order("doric").parts["cornice"].height)
    assert [m.height for m in uncut] == pytest.approx([share * family.element("crown").size])


def test_an_order_without_a_band_has_no_dentils_and_a_form_that_cannot_carry_one_goes_without():
    assert package("georgian", "tuscan", 5, 120, top=5).element("crown").enrichments == ()
    assert package("georgian", "ionic", 5, 120, top=5).element("crown").enrichments == ("dentils",)
    assert package("georgian", "doric", 2, 120, top=5).element("crown").enrichments == ()


def test_an_ear_of_the_best_georgian_room_has_a_rosette():
    """F. Cousins and P. M. Riley, The Colonial Architecture of Philadelphia (1920): in the best."""
    ears = {tier: package("georgian", "doric", tier, 120, top=5).element("crossette") for tier in (4, 5)}
    assert ears[5].enrichments == ("rosettes",) and ears[4].enrichments == ()


def test_corner_blocks_of_a_victorian_house_have_turned_rosettes():
    """F. E. Kidder, Building Construction and Superintendence, section 168."""
    for tier in (3, 4):
        blocks = package("victorian", "corinthian", tier, 120, top=4).element("overdoor")
        assert blocks.form == "corner blocks" and blocks.enrichments == ("bull's-eyes",)


def test_every_row_names_what_can_be_carried_and_a_source():
    forms = {(form.element, form.name) for form in LIBRARY.forms}
    for row in LIBRARY.enrichments:
        assert row.source and row.what
        assert {(element, name) for element, names in row.forms.items() for name in names} <= forms
    for style in LIBRARY.styles:
        for carried in style.enrichments:
            assert carried.source and set(carried.elements) <= set(LIBRARY.enrichment(carried.name).forms)
