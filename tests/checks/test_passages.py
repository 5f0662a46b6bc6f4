"""Passages whose step does not read."""

from planner.checks.passages import check_passages
from planner.library import standard
from planner.planning.answer import PassagePlan


def passage(difference, reads, kind="door"):
    return PassagePlan("Hall", "Parlor", kind, 2, 1, 0.3, 1, difference, reads)


def told(*passages):
    return list(check_passages(passages, standard(), "in"))


def test_steps_that_read_are_not_spoken_of():
    assert told(passage(-1, "clear"), passage(0, "even"), passage(0, "even", "open")) == []


def test_passages_that_are_abrupt_faint_or_in_one_space():
    found = told(passage(-2, "abrupt"), passage(-1, "faint"), passage(-1, "clear", "open"))
    assert [c.rule for c in found] == ["abrupt passage", "faint passage", "trim changes in one space"]
    assert [c.room for c in found] == ["Parlor"] * 3
    assert "from Hall to Parlor (door) the trim changes by 2 tiers:" in found[0].message
    assert "by 1 tier," in found[1].message


def test_what_changes_in_one_space_is_told_once():
    assert [c.rule for c in told(passage(2, "abrupt", "open"))] == ["trim changes in one space"]
