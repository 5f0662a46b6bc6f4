"""Every form that a rule may ask for can be built, in every period, on every tier."""

from math import fsum

import pytest

from planner.intent.trim_rules import Change
from planner.trim import styles
from planner.trim.packages import Variant, ladder
from planner.trim.schedule import Cell
from planner.trim.variants import differences
from tests.known import LIBRARY, STYLES


@pytest.mark.parametrize("style", STYLES)
@pytest.mark.parametrize("element", LIBRARY.element_kinds)
def test_any_form_is_built_on_any_tier(style, element):
    for form in LIBRARY.form_names(element):
        for ceiling in (90.0, 120.0):
            variant = Variant(((Cell("", element), Change(form)),))
            for package in ladder(style, "ionic", ceiling, LIBRARY, top=5, variants=(variant,) * 5):
                found = package.element(element)
                if found is None:  # what it is sized by is not there, or is not made for it
                    row = styles.row_of(style, element, form, package.tier, 5, LIBRARY)
                    assert row.of in LIBRARY.element_kinds
                    sized_by = package.element(row.of)
                    assert sized_by is None or (element == "backband" and sized_by.form != "backbanded casing")
                    continue
                assert found.form == form and found.size > 0 and found.projection > 0
                kind = LIBRARY.element(element)
                if kind.place == "opening" or element in ("base", "shoe", "crown"):
                    assert kind.least <= found.size + 1 / 16 and found.size <= kind.most + 1 / 16
                if found.parts:
                    assert fsum(height for _, height in found.parts) == pytest.approx(found.size)


@pytest.mark.parametrize("tiers", range(3, 8))
def test_a_form_of_the_style_is_sized_by_the_styles_own_row_of_the_nearest_rung(tiers):
    row = styles.row_of("georgian", "chair rail", "moulded rail", 1, tiers, LIBRARY)
    assert row.of == "pedestal cap" and row.factor == 1.1 and row.rungs == ("Family",)


@pytest.mark.parametrize(("tier", "rung", "factor"), [(1, "Chamber", 0.75), (2, "Chamber", 0.75), (5, "Family", 0.93)])
def test_of_several_rows_of_a_form_that_of_the_nearest_rung_sizes_it(tier, rung, factor):
    row = styles.row_of("georgian", "casing", "backbanded casing", tier, 5, LIBRARY)
    assert (row.rungs, row.factor) == ((rung,), factor)


def test_a_form_that_the_style_lacks_is_sized_as_in_a_style_that_has_it():
    boxed = styles.row_of("georgian", "crown", "boxed beam", 4, 5, LIBRARY)
    assert boxed.of == "ceiling" and boxed.form == "boxed beam"


def test_a_form_that_no_style_has_is_sized_as_the_styles_own_form():
    row = styles.row_of("georgian", "plinth block", "decorated block", 4, 5, LIBRARY)
    assert (row.of, row.form) == ("base", "decorated block")
    wall = styles.row_of("georgian", "crossette", "let-in block", 2, 5, LIBRARY)
    assert (wall.of, wall.factor) == ("casing", 0.2083)


def test_a_style_without_order_takes_the_houses_for_what_it_borrows():
    variant = Variant(((Cell("", "crown"), Change("four-part cornice")),))
    sizes, sources = [], []
    for order in ("doric", "corinthian"):
        crown = ladder("craftsman", order, 120.0, LIBRARY, top=5, variants=(variant,) * 5)[4].element("crown")
        sizes.append(crown.size)
        sources.append(crown.source)
    assert sizes == [6.75, 7.25]  # 0.95 of the cornice, which is 0.75 / 8 and 1 / 10 of a column of 75.79
    assert all("the house's own gives the size" in source for source in sources)


def test_a_height_of_a_rail_that_is_not_there_places_no_other():
    plain = ladder("georgian", "doric", 120.0, LIBRARY, top=5)
    variant = Variant(((Cell("", "plate rail"), Change(height=60.0)),))
    assert ladder("georgian", "doric", 120.0, LIBRARY, top=5, variants=(variant,) * 5) == plain


def test_an_opening_that_keeps_the_style_where_its_room_departs_gives_the_package_a_key_of_its_own():
    eared = (Cell("", "crossette"), Change("mitred ear"))
    plain_door = (Cell("D1", "crossette"), Change("none"))
    both = (Variant((eared, plain_door)),) * 3
    package = ladder("colonial revival", "tuscan", 108.0, LIBRARY, top=3, tiers=3, variants=both)[1]
    alike = ladder("colonial revival", "tuscan", 108.0, LIBRARY, top=3, tiers=3, variants=(Variant((eared,)),) * 3)[1]
    assert package.element("crossette") and not package.at("D1").element("crossette")
    assert package.elements == alike.elements
    assert package.key.variant == (eared, plain_door) != alike.key.variant


def test_what_is_added_is_labelled_by_all_that_is_said_of_it():
    """Two rooms that differ in nothing but how large an added rail is read apart."""
    added = Change("moulded rail", size=3.0, height=30.0, projection=1.5)
    plain = ladder("georgian", "doric", 120.0, LIBRARY, top=5)[1]
    assert plain.element("chair rail") is None
    for change, words in (
        (added, 'with moulded rail chair rail (3", at 2\'-6", 1 1/2" deep)'),
        (Change("moulded rail"), "with moulded rail chair rail"),
        (Change("moulded rail", size=3.0, projection=1.5, profile="QB-1"), "with moulded rail chair rail (QB-1)"),
    ):
        variant = Variant(((Cell("", "chair rail"), change),))
        package = ladder("georgian", "doric", 120.0, LIBRARY, top=5, variants=(variant,) * 5)[1]
        assert list(differences(package, plain)) == [words]
