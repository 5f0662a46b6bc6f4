"""Whether steps read across passages. Thresholds: common practice."""

from dataclasses import replace

import pytest

from tests.known import LIBRARY, package, reads, seen_changes


def room(tier, ceiling=120.0, top=5):
    return package("georgian", "doric", tier, ceiling, top=top)


def changed(whole, tier, **sizes):
    """The package at another tier, the sizes of some elements changed by a factor, all else the same."""
    elements = tuple(replace(e, size=e.size * sizes.get(e.element, 1.0)) for e in whole.elements)
    return replace(whole, tier=tier, elements=elements)


def test_one_tier_is_even_under_different_ceilings_too():
    assert reads(room(3), room(3, 96), 0) == "even"


def test_tiers_that_look_alike_from_the_passage_are_faint():
    state = room(5)
    assert reads(state, changed(state, 4), 1) == "faint"
    assert reads(state, changed(state, 4, crown=0.9), 1) == "faint"


def test_a_change_that_is_not_seen_from_the_passage_is_faint():
    assert reads(room(5), changed(room(5), 4, casing=0.5, overdoor=0.2), 1) == "faint"


@pytest.mark.parametrize("element", ["base", "crown"])
def test_one_element_changed_by_more_than_an_eighth_reads(element):
    assert reads(room(5), changed(room(5), 4, **{element: 0.85}), 1) == "clear"


def test_a_changed_form_reads_at_the_same_size():
    state = room(5)
    plain = tuple(replace(e, form="board") if e.element == "base" else e for e in state.elements)
    assert reads(state, replace(state, tier=4, elements=plain), 1) == "clear"


def test_a_step_is_abrupt_only_beyond_comfort_and_when_it_is_loud():
    assert reads(room(5), room(4), 1) == "clear"
    assert reads(room(5), room(2), 1) == "abrupt"
    assert reads(room(2), room(5), 1) == "abrupt"
    assert reads(room(2), room(5), 3) == "clear"
    assert reads(room(5), changed(room(5), 2, crown=0.85), 1) == "clear"
    assert reads(room(5), changed(room(5), 2, crown=0.5), 1) == "abrupt"


def test_an_element_that_only_one_room_has_changes_wholly():
    changes = seen_changes(room(4), room(1))
    assert changes["crown"] == changes["wainscot"] == (True, 1.0)
    assert "casing" not in changes


def test_a_change_of_just_the_threshold_is_not_yet_noticed_and_not_yet_loud():
    """An eighth of the larger size is not more than an eighth, a third not more than a third."""
    state = room(5)
    assert reads(state, changed(state, 4, crown=0.875), 1) == "faint"
    assert reads(state, changed(state, 2, crown=1 - LIBRARY.steps.loud.part), 1) == "clear"
    assert reads(state, changed(state, 2, crown=0.66), 1) == "abrupt"
