"""Presses that the framework hands on as one are all done, by the button that was pressed."""

import pytest

from planner.apps.presses import MOST_AT_ONCE, STILL_HEARD, Anew, Steps


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


@pytest.mark.parametrize(("told", "steps"), [(10**12, MOST_AT_ONCE), (-3, 1), ("3", 0), (None, 0), ([1], 0)])
def test_no_more_is_done_than_a_hand_can_press(told, steps):
    done = []
    Steps("On", lambda: done.append("step"))._update(told)
    assert len(done) == steps


def test_what_was_built_is_heard_until_enough_has_taken_its_place():
    """Outside of a page no control has a name; test_at_work tells by a server that what stood before is reached."""
    anew, built = Anew(), []
    for number in range(STILL_HEARD + 1):
        built.append(anew(lambda number=number: [Steps(str(number), lambda: None)]))
    assert list(anew._heard) == built[1:]
