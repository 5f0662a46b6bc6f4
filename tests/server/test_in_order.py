"""What controls are told while a page is at work, in its order."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.server.in_order import do_in_order, turns

TOLD = st.lists(st.tuples(st.sampled_from("abc"), st.integers(0, 9)))


@given(TOLD)
def test_every_change_of_hands_is_kept_and_no_value_is_told_twice(told):
    last_of_runs = [
        each for each, after in zip(told, [*told[1:], None], strict=False) if not after or each[0] != after[0]
    ]
    assert [each for turn in turns(told) for each in turn.items()] == last_of_runs


@given(TOLD)
def test_a_turn_ends_only_where_a_control_comes_back(told):
    for turn, after in pairwise(turns(told)):
        assert next(iter(after)) in turn


def test_the_framework_does_as_it_is_told(monkeypatch):
    requests = pytest.importorskip("marimo._runtime.utils.set_ui_element_request_manager")
    monkeypatch.setattr(requests, "_merge_ui_commands", requests._merge_ui_commands)  # put back afterwards
    command = requests.UpdateUIElementCommand
    presses = [command([name], [count]) for name, count in (("a", 1), ("b", 1), ("a", 2), ("a", 3))]
    do_in_order()
    done = requests.merge_batchable_commands(presses)
    assert [(one.object_ids, one.values, one.token) for one in done] == [
        (["a", "b"], [1, 1], presses[-1].token),
        (["a"], [3], presses[-1].token),
    ]
