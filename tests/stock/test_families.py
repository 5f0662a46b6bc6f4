"""One design family runs through a house, and its curves are drawn as the period draws them."""

from dataclasses import replace

import pytest

from planner.library.shop_rows import Layer
from planner.stock import weighing
from planner.stock.built_ups import options_of
from planner.stock.choice import choose
from planner.stock.families import Taste, curves_of, families, is_of
from planner.stock.stock import Stock
from planner.stock.weighing import serving
from tests.known import LIBRARY, STYLES
from tests.stock.invented import DEMO, ladder, made, tier


def of(family: str, code: str, role: str, members: str, price: float = 2.0):
    return replace(made(code, role, members, price), family=family)


def test_how_curves_are_drawn_is_told_by_the_members():
    """A bead is a semicircle in both (Hatfield, The American House-Carpenter, art. 310-311)."""
    drawn = {
        "fillet 1/4 x 1/4; cyma recta 2 x 2": "roman",
        "fillet 1/4 x 1/4; greek ovolo 2 x 2": "greek",
        "fascia 3 x 3/4; bead 1/2 x 7/8": "",
        "corona 1 x 3": "",
    }
    assert {text: curves_of(made("P", "crown", text)) for text in drawn} == drawn


def test_what_has_no_curve_goes_with_every_family():
    board, crown = of("A", "B", "board", "fascia 4 x 3/4"), of("A", "K", "crown", "fillet 1/4 x 1/4; cyma recta 2 x 2")
    assert is_of(board, "Z") and is_of(crown, "A") and not is_of(crown, "Z")
    assert is_of(replace(crown, family=""), "Z")
    assert families(Stock((board,))) == () and families(Stock((board, crown))) == ("A",)


CROWNS = (
    of("A", "A1", "crown", "fillet 1/4 x 1/4; cyma recta 3 x 2 3/4"),
    of("A", "A2", "crown", "fillet 1/4 x 1/4; greek cyma recta 3 x 2 3/4"),
    of("B", "B1", "crown", "fillet 1/4 x 1/4; cyma recta 3 x 2 3/4"),
)


@pytest.mark.parametrize(
    ("taste", "codes"),
    [
        (Taste(), ["A1", "A2", "B1"]),
        (Taste(curves="greek"), ["A2"]),
        (Taste(curves="greek", run="B"), ["A2"]),
        (Taste(curves="roman", run="B"), ["B1"]),
        (Taste(run="A"), ["A1", "A2"]),
        (Taste(family="B", curves="greek", run="A"), ["B1"]),
        (Taste(run="C"), ["A1", "A2", "B1"]),
    ],
)
def test_trim_that_stays_goes_before_curves_and_curves_before_the_houses_family(taste, codes):
    assert [p.code for p in options_of(Layer("", ("crown",)), Stock(CROWNS), taste)] == codes


def test_a_moulded_place_has_a_curve_but_in_a_plain_period():
    caps = (made("C", "base cap", "cyma reversa 1 x 3/4"), made("S", "base cap", "fillet 1 x 3/4"))
    layer = Layer("", ("base cap",), moulded=True)
    asked = {curves: options_of(layer, Stock(caps), Taste(curves=curves)) for curves in ("roman", "plain")}
    assert [[p.code for p in found] for found in asked.values()] == [["C"], ["S"]]
    assert [p.code for p in options_of(layer, Stock(caps[1:]), Taste(curves="roman"))] == ["S"]


# The family of a house


def test_the_family_with_the_fewest_lacks_runs_through_the_house():
    """B's crown is nearer, but B has no chair rail: two lacks more than A would do, and A has both within a quarter."""
    rail = "fillet 1/4 x 1/4; ovolo 1 3/4 x 1 3/4; fillet 1/4 x 2"
    stock = Stock(
        (
            of("A", "A-K", "crown", "fillet 1/4 x 1/4; cyma recta 3 1/16 x 2"),
            of("A", "A-R", "chair rail", rail),
            of("B", "B-K", "crown", "fillet 1/4 x 1/4; cyma recta 3 1/4 x 2"),
        )
    )
    choice = choose((tier(1, **{"crown": 3.5, "chair rail": 2.25}),), stock, LIBRARY)
    assert (choice.family, choice.profiles, choice.left) == ("A", ("A-K", "A-R"), ())
    assert choice.optimal


def test_where_a_family_has_nothing_that_suits_another_serves_and_it_is_told():
    """A's only crown is an inch too small, B's is as asked; B has no chair rail, which two tiers ask for."""
    stock = Stock(
        (
            of("A", "A-K", "crown", "fillet 1/4 x 1/4; cyma recta 2 1/4 x 2"),
            of("A", "A-R", "chair rail", "fillet 1/4 x 1/4; ovolo 1 3/4 x 1 3/4; fillet 1/4 x 2"),
            of("B", "B-K", "crown", "fillet 1/4 x 1/4; cyma recta 3 1/4 x 2"),
        )
    )
    low, high = tier(1, **{"chair rail": 2.25}), tier(2, **{"crown": 3.5, "chair rail": 2.25})
    choice = choose((low, high), stock, LIBRARY)
    assert choice.family == "A" and choice.profiles == ("A-R", "B-K")
    assert choice.left == ("Tier 2: crown: A has nothing that suits; B-K instead",)
    assert choice.shortfalls == ()


def test_curves_that_the_stock_has_not_are_told():
    greek = replace(tier(1, crown=3.25), style="greek revival")
    choice = choose((greek,), Stock(CROWNS[2:]), LIBRARY)
    assert choice.left == ("Tier 1: crown: nothing in stock has Greek curves; B1 instead",)
    assert choose((greek,), Stock(CROWNS), LIBRARY).profiles == ("A2",)


def test_a_stock_without_families_is_asked_for_none():
    stock = Stock(tuple(replace(p, family="") for p in DEMO.profiles))
    assert serving(ladder("georgian", 3, 108.0), stock, LIBRARY) == ("",)
    choice = choose(ladder("georgian", 3, 108.0), stock, LIBRARY)
    assert choice.family == "" and choice.left == ()


@pytest.mark.parametrize("style", STYLES)
def test_the_demo_stock_has_a_family_for_every_period(style):
    """Quillbrook is Roman, Osmeria Greek, Plainfold square."""
    order = LIBRARY.style(style).order or "doric"
    choice = choose(ladder(style, 5, 108.0, 120.0, order=order), DEMO, LIBRARY)
    assert choice.family == {"greek revival": "Osmeria", "craftsman": "Plainfold"}.get(style, "Quillbrook")
    by_code = {p.code: p for p in DEMO.profiles}
    strangers = [code for code in choice.profiles if not is_of(by_code[code], choice.family)]
    assert bool(strangers) == any("has nothing that suits" in words for words in choice.left)


def test_few_families_are_worth_a_choice_of_everything():
    targets = ladder("georgian", 4, 108.0)
    assert serving(targets, DEMO, LIBRARY) == ("Quillbrook",)
    twin = Stock((*DEMO.profiles, *(replace(p, code=f"T{p.code}", family=f"T{p.family}") for p in DEMO.profiles)))
    assert sorted(serving(targets, twin, LIBRARY)) == ["Quillbrook", "TQuillbrook"]
    assert weighing.FEW_SOLVED == 2
