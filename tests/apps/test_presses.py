"""Presses that the framework hands on as one are all done."""

import pytest

from planner.apps.presses import Steps


@pytest.mark.parametrize(
    ("counts", "presses"),
    [([1], 1), ([1, 2, 3], 3), ([3], 3), ([1, 4], 4), ([2, 5, 1], 6), ([4, 4], 8)],
    ids=["one", "one by one", "three at once", "one, then three at once", "a page loaded again", "as many once more"],
)
def test_every_press_is_a_step(counts, presses):
    done = []
    button = Steps("Undo", lambda: done.append("step"))
    assert done == []
    for count in counts:
        button._update(count)
    assert len(done) == presses
