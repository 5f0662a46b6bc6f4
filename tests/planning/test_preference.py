"""Which alternative comes first by weights, against a published example and against trying every weight."""

from math import inf

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.planning.preference import scores, stays_first, totals, winners

# The standard numerical example of the weighted sum model, with its three totals: E. Triantaphyllou, Multi-Criteria
# Decision Making Methods: A Comparative Study (2000), as encyclopedias repeat it.
PUBLISHED = [[25, 20, 15, 30], [10, 30, 20, 30], [30, 10, 30, 10]]
WEIGHTS = [0.20, 0.15, 0.40, 0.25]

HUNDREDTHS = st.integers(0, 100).map(lambda n: n / 100)


def test_the_published_example_has_its_published_totals():
    assert totals(PUBLISHED, WEIGHTS) == pytest.approx([21.50, 22.00, 22.00])
    assert winners(totals(PUBLISHED, WEIGHTS)) == (1, 2)


def test_scores_go_from_the_worst_to_the_best_whichever_way_is_better():
    found = scores([[160, 3, 7], [150, 1, 7], [170, 2, 7]], [False, True, False])
    assert found.tolist() == [[0.5, 1, 1], [1, 0, 1], [0, 0.5, 1]]


@st.composite
def tables(draw):
    alternatives, criteria = draw(st.integers(2, 5)), draw(st.integers(1, 4))
    row = st.lists(HUNDREDTHS, min_size=criteria, max_size=criteria)
    return np.array(draw(st.lists(row, min_size=alternatives, max_size=alternatives))), np.array(draw(row))


@given(tables(), st.data())
def test_a_winner_stays_first_within_its_range_and_not_beyond(table, data):
    table, weights = table
    criterion = data.draw(st.integers(0, table.shape[1] - 1))
    winner = winners(totals(table, weights))[0]
    low, high = stays_first(table, weights, criterion, winner)
    assert low <= weights[criterion] + 1e-9 and weights[criterion] <= high + 1e-9

    def first(weight):
        tried = weights.copy()
        tried[criterion] = weight
        return winner in winners(totals(table, tried), 1e-7)

    assert first(low) and first(min(high, 1e3)) and first((low + min(high, 2.0)) / 2 if low < 2 else low)
    if low > 0.01:
        assert not first(low - 0.01)
    if high < inf:
        assert not first(high + 0.01)


@given(tables())
def test_scores_lie_between_none_and_one_and_keep_the_order(table):
    values, _ = table
    found = scores(values, [True] * values.shape[1])
    assert ((found >= 0) & (found <= 1)).all()
    for k in range(values.shape[1]):
        column, was = found[:, k], values[:, k]
        apart = was[:, None] > was[None, :]
        assert (column[:, None] > column[None, :])[apart].all() and (column.max() == 1)
