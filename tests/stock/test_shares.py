"""The parts of a cornice keep the order's shares, dentils are where they are carried, and a crown is a crown."""

from dataclasses import replace

import pytest

from planner.stock.built_ups import Target, groups_of, keeps_shares, target_of
from planner.stock.choice import choose
from planner.stock.families import is_of
from planner.stock.items import heights_of
from planner.stock.search import best
from planner.stock.shares import ABOVE, BELOW, GROUPS, ITSELF, missed, order_shares
from planner.stock.stock import Stock
from tests.known import LIBRARY, STYLES
from tests.stock.invented import DEMO, element, ladder, made, thinned, tier

TOLERANCE = LIBRARY.building.shares.tolerance


@pytest.mark.parametrize(
    ("order", "parts", "whole"),
    [
        ("tuscan", (5, 7, 6), 18),
        ("doric", (14, 10, 12), 36),
        ("ionic", (19, 8, 15), 42),
        ("corinthian", (27, 8, 13), 48),
    ],
)
def test_shares_are_those_of_the_orders_members(order, parts, whole):
    """Counted by hand in the rows of library/order_members.toml; the Tuscan corona's fillet goes with it."""
    assert order_shares(order, LIBRARY) == pytest.approx(dict(zip(GROUPS, (p / whole for p in parts), strict=True)))


def test_the_tolerance_is_wider_than_two_books_differ_by():
    """The Doric cornice of the Cyclopedia of Architecture, Carpentry and Building (1907): band 4, cyma reversa 3 and
    dentil band 6 of 37 lie below the corona, which is 11 with its two fillets."""
    cyclopedia = {BELOW: 13.0, ITSELF: 11.0, ABOVE: 13.0}
    off = missed(cyclopedia, order_shares("doric", LIBRARY))
    assert off == pytest.approx(14 / 36 - 13 / 37) and off < TOLERANCE


def test_what_a_cornice_misses_its_shares_by():
    """1 : 1 : 3 has three fifths above the corona where the Doric has a third."""
    doric = order_shares("doric", LIBRARY)
    assert missed({BELOW: 1.0, ITSELF: 1.0, ABOVE: 3.0}, doric) == pytest.approx(3 / 5 - 12 / 36)
    assert missed({BELOW: 2.0, ITSELF: 2.0, ABOVE: 1.125}, doric) == pytest.approx(12 / 36 - 1.125 / 5.125)
    assert missed({BELOW: 14.0, ITSELF: 10.0, ABOVE: 12.0}, doric) == pytest.approx(0.0)


def cornice(low: str, corona: str, high: str) -> tuple:
    return (
        made(f"B{low}", "bed mould", f"fillet 1/4 x 1/4; ovolo {low} x 1"),
        made(f"C{corona}", "corona", f"corona {corona} x 4"),
        made(f"Y{high}", "cymatium", f"fillet 1/4 x 3/4; cyma recta {high} x 1 1/2; fillet 1/4 x 1 5/8"),
    )


DORIC = tuple(order_shares("doric", LIBRARY).items())
ASKED = Target("crown", 6.0, 5.0, "four-part cornice", (("cornice", 6.0),), shares=DORIC)


def test_a_cornice_out_of_proportion_is_none_where_another_can_be_had():
    """2 1/4 : 1 3/4 : 2 is 37 : 29 : 33 parts in 100; 1 : 1 : 4 is as high, and not built unless nothing else is."""
    right, wrong = cornice("2", "1 3/4", "1 1/2"), cornice("3/4", "1", "3 1/2")
    (built,) = best(ASKED, Stock((*right, *wrong[:0])), LIBRARY)
    assert groups_of(built, ASKED, LIBRARY) == {BELOW: 2.25, ITSELF: 1.75, ABOVE: 2.0}
    assert keeps_shares(ASKED, built, LIBRARY)
    assert best(ASKED, Stock(wrong), LIBRARY) == ()
    (loose,) = best(replace(ASKED, loose=True), Stock(wrong), LIBRARY)
    assert groups_of(loose, ASKED, LIBRARY) == {BELOW: 1.0, ITSELF: 1.0, ABOVE: 4.0}


def one_crown(form: str, height: float, enrichments: tuple[str, ...] = ()):
    found = replace(element("crown", form, height, 5.0), parts=(("cornice", height),), enrichments=enrichments)
    return replace(tier(4, base=5.0), elements=(found,))


def test_shares_that_cannot_be_kept_are_told_with_figures():
    choice = choose((one_crown("four-part cornice", 6.0),), Stock(cornice("3/4", "1", "3 1/2")), LIBRARY)
    (words,) = choice.shortfalls
    assert words == (
        "Tier 4: crown: nothing in stock keeps the order's shares; what lies below the corona, the corona and what "
        "lies above it are 17, 17 and 67 parts in 100, where the order has 39, 28 and 33"
    )


# Enrichments

BAND, DENTILS = "fascia 7/8 x 5/8; fillet 1/8 x 3/4", "dentil band 7/8 x 5/8; fillet 1/8 x 3/4"


@pytest.mark.parametrize("carried", [(), ("dentils",)])
def test_dentils_are_where_they_are_carried_and_nowhere_else(carried):
    stock = (*cornice("1", "1 3/4", "1 1/2"), made("DP", "dentil band", BAND), made("DN", "dentil band", DENTILS))
    choice = choose((one_crown("four-part cornice", 6.0, carried),), Stock(stock), LIBRARY)
    assert ("DN" in choice.profiles, "DP" in choice.profiles) == (bool(carried), not carried)
    assert choice.shortfalls == ()


def test_dentils_that_cannot_be_had_are_told():
    stock = (*cornice("1", "1 3/4", "1 1/2"), made("DP", "dentil band", BAND))
    choice = choose((one_crown("four-part cornice", 6.0, ("dentils",)),), Stock(stock), LIBRARY)
    assert choice.shortfalls == ("Tier 4: crown: nothing in stock makes it with dentils; it goes without",)


@pytest.mark.parametrize(("carried", "kind"), [((), None), (("bull's-eyes",), "astragal"), (("rosettes",), "torus")])
def test_corner_blocks_are_turned_where_that_is_carried(carried, kind):
    asked = replace(element("overdoor", "corner blocks", 4.5, 1.25), bottom=None, enrichments=carried)
    package = replace(tier(4, base=5.0), elements=(asked,))
    (built,) = best(target_of(package, asked, LIBRARY), DEMO, LIBRARY, 1)
    kinds = {m.kind for m in built.members}
    assert kinds & {"astragal", "torus"} == ({kind} if kind else set())


def test_reeds_are_where_they_are_carried():
    for carried in ((), ("reeding",)):
        asked = replace(element("casing", "symmetrical casing", 4.5, 1.0), bottom=None, enrichments=carried)
        package = replace(tier(4, base=5.0), elements=(asked,))
        (built,) = best(target_of(package, asked, LIBRARY), DEMO, LIBRARY, 1)
        assert (sum(m.kind == "bead" for m in built.members) >= 3) == bool(carried)


# Crowns


def test_a_bare_quarter_round_is_no_crown():
    round_one = made("Q", "crown", "fillet 1/4 x 3 1/2; ovolo 3 1/4 x 3 1/2")
    ogee = made("O", "crown", "fillet 1/4 x 1/4; cyma reversa 2 3/4 x 2 1/4; fillet 1/4 x 2 1/2")
    for form, height in (("plain crown", 3.5), ("crown above a bead", 5.5)):
        target = Target("crown", height, 2.8, form)
        bead = made("D", "bead", "bead 3/4 x 5/8")
        assert best(target, Stock((round_one, bead)), LIBRARY) == ()
        assert "O" in best(target, Stock((round_one, ogee, bead)), LIBRARY)[0].profiles


@pytest.mark.parametrize(("asked", "gap"), [(5.0, 1.5), (5.5, 1.75), (6.0, 2.25), (7.0, 2.5)])
def test_plain_wall_between_bead_and_crown_and_the_whole(asked, gap):
    """A bead of 3/4 in, a crown of 3 in, and 1 1/2 to 2 1/2 in of wall between, 5 to 7 in in all (common practice)."""
    stock = Stock(
        (made("D", "bead", "bead 3/4 x 5/8"), made("K", "crown", "fillet 1/4 x 1/4; cyma recta 2 3/4 x 2 1/2"))
    )
    (built,) = best(Target("crown", asked, 2.4, "crown above a bead"), stock, LIBRARY)
    assert dict(built.parts)["wall"] == pytest.approx(gap)
    assert 5.0 <= built.height == 3.75 + gap <= 7.0


def test_a_crown_above_a_bead_is_never_less_than_five_inches():
    stock = Stock(
        (made("D", "bead", "bead 1/2 x 1/2"), made("K", "crown", "fillet 1/4 x 1/4; cyma recta 1 3/4 x 1 1/2"))
    )
    (built,) = best(Target("crown", 4.0, 2.4, "crown above a bead"), stock, LIBRARY, 1) or (None,)
    assert built is None  # 1/2 + 1 1/2 + 2 in would be 4 in
    (built,) = best(Target("crown", 6.0, 2.4, "crown above a bead"), stock, LIBRARY)
    assert built.height == 5.0


# Members that never grow downward


def test_a_lower_tiers_profile_is_no_larger_than_a_higher_ones():
    """By themselves the nearest would be 4 in of bed mould, corona and cymatium below and 4 1/2 in above, the lower
    with the larger bed mould; the next nearest below has the same."""
    beds = [made(f"B{h}", "bed mould", f"fillet 1/4 x 1/4; ovolo {h} x 1") for h in ("1 1/4", "1 1/2")]
    coronas = [made(f"C{h}", "corona", f"corona {h} x 4") for h in ("1", "1 1/4", "1 1/2")]
    cymatia = [
        made(f"Y{h}", "cymatium", f"fillet 1/4 x 3/4; cyma recta {h} x 1 1/2; fillet 1/4 x 1 5/8")
        for h in ("1", "1 1/8")
    ]
    low, high = (replace(one_crown("four-part cornice", h), tier=t) for t, h in ((3, 4.25), (4, 4.5)))
    choice = choose((low, high), Stock((*beds, *coronas, *cymatia)), LIBRARY)
    heights = [heights_of(("bed mould", "corona", "cymatium"), p.element("crown").assembly) for p in choice.packages]
    assert all(heights[0][role] <= heights[1][role] for role in heights[0])


def test_a_profile_that_cannot_step_down_is_told_and_not_made_to_order():
    """A bed mould of 1 1/4 in under 1 3/4 in of dentils keeps the shares, one of 2 in does not; without dentils it is
    the other way round."""
    stock = (
        made("B2", "bed mould", "fillet 1/4 x 1/4; ovolo 1 3/4 x 1"),
        made("B1", "bed mould", "fillet 1/4 x 1/4; ovolo 1 x 1"),
        *cornice("9", "1 3/4", "1 1/2")[1:],
        made("DN", "dentil band", "dentil band 1 5/8 x 5/8; fillet 1/8 x 3/4"),
    )
    low = replace(one_crown("four-part cornice", 6.0), tier=3, label="Tier 3")
    high = one_crown("four-part cornice", 6.75, ("dentils",))
    choice = choose((low, high), Stock(stock), LIBRARY)
    assert all(p.element("crown").assembly for p in choice.packages)
    assert any('its bed mould, 2", is larger than the one of Tier 4, 1 1/4"' in words for words in choice.shortfalls)
    assert not choice.optimal


# Everything together, for thinned stocks and every period


@pytest.mark.parametrize("style", STYLES)
@pytest.mark.parametrize(("share", "seed"), [(1.0, 0), (0.75, 1), (0.6, 2)])
def test_what_is_not_kept_is_told(style, share, seed):
    order = LIBRARY.style(style).order or "doric"
    choice = choose(ladder(style, 5, 96.0, 108.0, 120.0, 144.0, order=order), thinned(share, seed), LIBRARY)
    told = (*choice.shortfalls, *choice.left)
    roles = LIBRARY.building.stepping.roles
    by_code = {p.code: p for p in DEMO.profiles}
    above: dict[tuple[float, str], dict[str, float]] = {}
    for package in sorted(choice.packages, key=lambda p: -p.tier):
        for e in package.elements:
            if e.assembly is None or e.element == "backband":
                continue
            target = target_of(package, e, LIBRARY)
            here = [words for words in told if package.label in words]
            assert keeps_shares(target, e.assembly, LIBRARY) or any("order's shares" in words for words in here)
            for code in e.profiles:
                assert is_of(by_code[code], choice.family) or any(code in words for words in here)
            bands = sum(m.kind == "dentil band" for m in e.assembly.members)
            assert not bands or "dentils" in e.enrichments
            assert bands or "dentils" not in e.enrichments or any("with dentils" in words for words in here)
            if e.form == "plain crown":
                assert {m.kind for m in e.assembly.members} & {"cyma recta", "cyma reversa", "cavetto"}
            own = heights_of(roles, e.assembly)
            higher = above.setdefault((package.ceiling, e.element), {})
            for role, height in own.items():
                grown = height > higher.get(role, height) + 1e-6
                assert not grown or any(f"its {role}," in words for words in here), (package.label, e.element, role)
                higher[role] = min(height, higher.get(role, height))
