"""The orders against published proportions."""

import pytest

from planner.trim import orders
from tests.known import CANON, LIBRARY, ORDERS

# Pedestal and order filling the ceiling height [in]. Proportions: W. R. Ware, The American Vignola, Part I, p. 8, 9,
# 14 and 38; Corinthian after Vignola and Chambers. Columns: ceiling, order, pedestal, its base, its cap, entablature,
# architrave, frieze, cornice, and frieze + cornice + taenia.
WORKED = [
    (96, "doric", 20.21, 4.49, 2.25, 15.16, 3.79, 5.68, 5.68, 12.00),
    (108, "doric", 22.74, 5.05, 2.53, 17.05, 4.26, 6.39, 6.39, 13.50),
    (120, "doric", 25.26, 5.61, 2.81, 18.95, 4.74, 7.11, 7.11, 15.00),
    (120, "tuscan", 25.26, 5.61, 2.81, 18.95, 5.41, 5.41, 8.12, 14.44),
    (120, "corinthian", 25.26, 5.61, 2.81, 18.95, 5.68, 5.68, 7.58, 13.89),
    (144, "doric", 30.32, 6.74, 3.37, 22.74, 5.68, 8.53, 8.53, 18.00),
]


@pytest.mark.parametrize("row", WORKED, ids=lambda row: f"{row[1]} {row[0]}")
def test_worked_orders(row):
    ceiling, order, *expected = row
    found = [
        orders.pedestal(ceiling, CANON),
        orders.pedestal_base(ceiling, CANON),
        orders.pedestal_cap(ceiling, CANON),
        orders.entablature(ceiling, CANON),
        orders.architrave(ceiling, LIBRARY.order(order), CANON),
        orders.frieze(ceiling, LIBRARY.order(order), CANON),
        orders.cornice(ceiling, LIBRARY.order(order), CANON),
        orders.down_to_taenia(ceiling, LIBRARY.order(order), CANON),
    ]
    assert found == pytest.approx(expected, abs=0.01)


def diameter(ceiling, row, part=None):
    """The lower diameter D of a column under a ceiling [in]."""
    return orders.column(ceiling, CANON, part) / row.column


# Column heights in lower diameters: Ware, p. 8.
@pytest.mark.parametrize(("order", "diameters"), [("tuscan", 7), ("doric", 8), ("ionic", 9), ("corinthian", 10)])
def test_column_in_diameters_and_entablature_a_fourth_of_it(order, diameters):
    row = LIBRARY.order(order)
    assert row.column == diameters
    assert row.architrave + row.frieze + row.cornice == pytest.approx(diameters / 4)
    # Pedestal, column and entablature are as 4 : 12 : 3, of which the column is 12/19 of the ceiling.
    assert diameter(120, row) == pytest.approx(120 * 12 / 19 / diameters)


@pytest.mark.parametrize("order", ORDERS)
def test_parts_in_diameters_are_the_table_times_the_diameter(order):
    # The taenia is 1/12 D: Ware, p. 14.
    row = LIBRARY.order(order)
    assert orders.taenia(120, row, CANON) == pytest.approx(diameter(120, row) / 12)
    assert orders.frieze(132, row, CANON) == pytest.approx(row.frieze * diameter(132, row))


def test_pedestal_column_and_entablature_are_as_4_12_3():
    # Follows from Ware, p. 8 and 38.
    assert tuple(part(19, CANON) for part in (orders.pedestal, orders.column, orders.entablature)) == pytest.approx(
        (4, 12, 3)
    )


def test_delicate_entablature_is_a_fifth_of_the_column_and_all_still_fill_the_ceiling():
    # W. Chambers, as given in Rudiments of Ancient Architecture (1810).
    e = LIBRARY.style("federal").entablature
    pedestal, column, entablature = (p(120, CANON, e) for p in (orders.pedestal, orders.column, orders.entablature))
    assert entablature == pytest.approx(column / 5)
    assert pedestal + column + entablature == pytest.approx(120)
    parts = [part(120, LIBRARY.order("ionic"), CANON, e) for part in (orders.architrave, orders.frieze, orders.cornice)]
    assert sum(parts) == pytest.approx(entablature)


def test_door_width_keeps_to_inside_doors_of_houses():
    # 2 ft 9 in to 3 ft 6 in: Encyclopaedia Britannica, 1st ed. (1771), Architecture.
    widths = [orders.door_width(ceiling) for ceiling in range(84, 241, 6)]
    assert min(widths) == 33 and max(widths) == 42
    assert widths == sorted(widths)


def test_door_casing_is_between_a_sixth_and_a_seventh_of_the_doorway():
    # S. Riou, The Grecian Orders (1768), p. 44: Ionic 1/6, Corinthian 1/7 of the aperture's width.
    for ceiling in (84, 96, 120, 168):
        assert 1 / 7 < orders.door_casing(ceiling) / orders.door_width(ceiling) < 1 / 6


def test_every_row_of_the_table_names_its_source():
    assert all(row.source for row in [*CANON.orders, CANON.pedestal, CANON.entablature, CANON.ground])


@pytest.mark.parametrize("order", ORDERS)
def test_a_lighter_entablature_makes_all_the_rest_larger_in_its_own_proportion(order):
    # Chambers: one fifth of the column indoors. Pedestal, column and all that is measured by them follow.
    row, e = LIBRARY.order(order), LIBRARY.style("federal").entablature
    column = 120 / (1 / 3 + 1 + 1 / 5)
    assert orders.pedestal_base(120, CANON, e) == pytest.approx(column / 3 * 2 / 9)
    assert orders.pedestal_cap(120, CANON, e) == pytest.approx(column / 3 / 9)
    assert diameter(120, row, e) == pytest.approx(column / row.column)
    whole = row.architrave + row.frieze + row.cornice
    for part in (orders.taenia, orders.frieze, orders.cornice, orders.cornice_projection):
        share = getattr(row, part.__name__)
        assert part(120, row, CANON, e) == pytest.approx(column / 5 * share / whole)
    down = row.taenia + row.frieze + row.cornice
    assert orders.down_to_taenia(120, row, CANON, e) == pytest.approx(column / 5 * down / whole)
