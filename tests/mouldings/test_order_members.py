"""The orders in members, measured on their geometry, against Ware (The American Vignola, Part I) and Vitruvius."""

from fractions import Fraction
from itertools import pairwise

import pytest

from planner.mouldings import order_members
from planner.mouldings.order_members import PARTS
from planner.mouldings.outlines import area, polygon
from planner.mouldings.soundness import faults
from tests.known import LIBRARY, ORDERS
from tests.known import order_profile as members

STANDINGS = {"verified", "follows", "from memory", "common practice"}


@pytest.mark.parametrize("order", ORDERS)
@pytest.mark.parametrize("part", PARTS)
def test_members_sum_to_their_part_exactly_and_keep_the_rules(order, part):
    given = LIBRARY.order(order).parts[part]
    assert sum(m.height for m in given.members) == given.height
    assert {m.standing for m in given.members} <= STANDINGS
    assert given.source
    assert faults(members(order, part, 6.0)) == () or part == "frieze"
    assert polygon(members(order, part, 6.0)).is_valid


@pytest.mark.parametrize("order", ORDERS)
def test_parts_are_those_of_the_published_proportions(order):
    """Ware, p. 8, 9, 14 and 38; Corinthian after Vignola and Chambers."""
    published = LIBRARY.order(order)
    for part in ("architrave", "frieze", "cornice"):
        assert float(part_height(order, part)) == pytest.approx(getattr(published, part), abs=1e-9)
    whole = sum(part_height(order, part) for part in ("architrave", "frieze", "cornice"))
    assert float(whole) == pytest.approx(published.column / 4, abs=1e-9)
    pedestal = Fraction(str(int(published.column))) / 3
    assert part_height(order, "pedestal base") == pedestal * Fraction(2, 9)
    assert part_height(order, "pedestal cap") == pedestal / 9


# Worked for a ceiling of 120 in, pedestal and order filling it: D = 9.474 (Doric), 10.827 (Tuscan).
DRAWN = [
    ("doric", "architrave", 4.74),
    ("doric", "frieze", 7.11),
    ("doric", "cornice", 7.11),
    ("doric", "pedestal base", 5.61),
    ("doric", "pedestal cap", 2.81),
    ("tuscan", "architrave", 5.41),
    ("tuscan", "frieze", 5.41),
    ("tuscan", "cornice", 8.12),
    ("tuscan", "pedestal base", 5.61),
    ("tuscan", "pedestal cap", 2.81),
    ("corinthian", "architrave", 5.68),
    ("corinthian", "cornice", 7.58),
]


def part_height(order: str, part: str) -> Fraction:
    return LIBRARY.order(order).parts[part].height


def diameter(order: str) -> float:
    """D of an order that fills 120 in: pedestal, column and entablature are as 4 : 12 : 3 (Ware, p. 8 and 38)."""
    return 120 * 12 / 19 / LIBRARY.order(order).column


@pytest.mark.parametrize(("order", "part", "height"), DRAWN)
def test_drawn_height_for_120_in(order, part, height):
    drawn = polygon(members(order, part, diameter(order) * float(part_height(order, part))))
    _, low, _, high = drawn.bounds
    assert high - low == pytest.approx(height, abs=0.01)


def test_the_doric_entablature_drawn_for_120_in():
    """Entablature 18.95 in; from the taenia up 15.00 in."""
    d = diameter("doric")
    heights = {p: polygon(members("doric", p, d * float(part_height("doric", p)))).bounds for p in PARTS}
    tall = {p: b[3] - b[1] for p, b in heights.items()}
    assert tall["architrave"] + tall["frieze"] + tall["cornice"] == pytest.approx(18.95, abs=0.01)
    assert tall["frieze"] + tall["cornice"] + d / 12 == pytest.approx(15.00, abs=0.01)


def test_the_doric_corona_and_taenia_project_as_published():
    """Ware, p. 14: corona 3/4 D; taenia 1/12 D high, projecting 1/12 D. Measured across the drawn section."""
    d = diameter("doric")
    cornice = members("doric", "cornice", 0.75 * d)
    height = 0.0
    for member in cornice.members:
        if member.kind == "corona":
            band = polygon(cornice).intersection(_level(height + member.height / 2))
            assert band.length == pytest.approx(0.75 * d, abs=0.01)
        height += member.height
    architrave = members("doric", "architrave", 0.5 * d)
    below, taenia = (polygon(architrave).intersection(_level(y)).length for y in (0.2 * d, 0.5 * d - d / 24))
    assert taenia - below == pytest.approx(d / 12, abs=0.001)
    just_under = polygon(architrave).intersection(_level(0.5 * d - d / 12 - 0.001)).length
    assert just_under == pytest.approx(below, abs=0.001)


@pytest.mark.parametrize("order", ["tuscan", "ionic", "corinthian"])
def test_a_cornice_projects_as_far_as_it_is_high_but_in_the_doric_farther(order):
    """Ware, p. 8."""
    drawn = members(order, "cornice", 8.0)
    assert drawn.projection == pytest.approx(8.0)
    assert members("doric", "cornice", 8.0).projection > 8.0


@pytest.mark.parametrize("order", ORDERS)
def test_the_greek_cornice_is_as_high_as_the_roman_one_lower_in_relief_and_has_no_dentils(order):
    """Echinus, plain corona, no dentils: from memory of the pattern books; Ware's Doric projects farther than high."""
    greek, roman = members(order, "greek cornice", 6.0), members(order, "cornice", 6.0)
    assert greek.height == pytest.approx(roman.height) and greek.projection < 0.75 * greek.height <= roman.projection
    kinds = [m.kind for m in greek.members]
    assert kinds.count("ovolo") == 2 and kinds.count("corona") == 1
    assert not {"dentil band", "cyma recta", "cyma reversa"} & set(kinds)
    assert faults(greek) == ()
    given = LIBRARY.order(order)
    assert given.parts["greek cornice"].height == given.parts["cornice"].height
    assert order_members.cornice_of(given, greek=True) == "greek cornice"
    assert order_members.cornice_of(given, greek=False) == "cornice"


def test_fasciae_step_an_eighth_where_there_is_room():
    """Common practice: less is not read."""
    for fasciae, projection in ((2, 1.375), (3, 1.5), (3, 2.0)):
        faces = order_members.fascia_casing(5.0, projection, LIBRARY, 1.0, fasciae).members[:fasciae]
        steps = [b.projection - a.projection for a, b in pairwise(faces)]
        assert all(step >= 1 / 8 - 1e-9 for step in steps)
    tight = order_members.fascia_casing(5.0, 1.1, LIBRARY, 1.0, 3).members
    assert all(a.projection < b.projection for a, b in pairwise(tight[:4]))


def test_a_casing_of_three_fasciae():
    """Vitruvius IV.6.3: cymatium 1/6; the rest in twelve parts, fasciae of 3, 4 and 5."""
    casing = order_members.fascia_casing(7.2, 1.5, LIBRARY)
    first, second, third, *cymatium = casing.members
    assert sum(m.height for m in cymatium) == pytest.approx(7.2 / 6)
    assert (first.height, second.height, third.height) == pytest.approx((1.5, 2.0, 2.5))
    assert first.projection < second.projection < third.projection < casing.projection
    assert faults(casing) == ()
    assert area(casing) > 0


def _level(y: float):
    from shapely.geometry import LineString

    return LineString([(-1, y), (100, y)])


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (("dorik", "cornice", 7), "unknown order 'dorik'; did you mean 'doric'"),
        (("doric", "hat", 7), "no part called"),
        (("doric", "cornice", 0), "above zero"),
        (("doric", "cornice", float("nan")), "above zero"),
    ],
)
def test_bad_input_is_told(arguments, says):
    with pytest.raises(ValueError, match=says):
        members(*arguments)


def test_a_casing_that_cannot_be_is_told():
    for bad in ((0, 1.5), (5, 0.5)):
        with pytest.raises(ValueError, match="casing"):
            order_members.fascia_casing(*bad, LIBRARY)
    with pytest.raises(ValueError, match="fasciae"):
        order_members.fascia_casing(5, 1.5, LIBRARY, fasciae=4)
