"""Where tiers stand among the five rungs, and which rows of a style hold there."""

import pytest

from planner.trim.styles import composition, is_finer, rung, steps_below
from tests.known import LIBRARY, STYLES


def test_the_upper_of_two_tiers_on_one_rung_is_the_finer():
    assert [[is_finer(tier, tiers) for tier in range(1, tiers + 1)] for tiers in (3, 5, 6, 7)] == [
        [False, False, False],
        [False] * 5,
        [False, False, False, True, False, False],
        [False, False, True, False, False, True, False],
    ]
    for tiers in range(3, 8):
        rungs = [rung(tier, tiers) for tier in range(1, tiers + 1)]
        assert [b == a for a, b in zip([0, *rungs], rungs, strict=False)] == [
            is_finer(tier, tiers) for tier in range(1, tiers + 1)
        ]


def test_steps_below_are_counted_in_rungs_from_the_top_of_the_grade():
    assert [steps_below(tier, 4, 5) for tier in range(1, 6)] == [3, 2, 1, 0, 0]
    assert [steps_below(tier, 7, 7) for tier in (1, 4, 7)] == pytest.approx([4, 2, 0])
    assert steps_below(1, 3, 3) == 4


@pytest.mark.parametrize("style", STYLES)
def test_a_finer_row_stands_before_the_rung_s_own_and_only_where_it_is_finer(style):
    finer = {(row.element, row.form) for row in LIBRARY.style(style).rows if row.finer}
    for tiers in (5, 7):
        for tier in range(1, tiers + 1):
            for rows in composition(style, tier, tiers, LIBRARY):
                held = [row for row in rows if row.finer]
                assert not held or is_finer(tier, tiers)
                assert held == list(rows[: len(held)])
    assert finer
