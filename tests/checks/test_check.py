"""A rule's words filled in: lengths in feet and inches, the rest as it is, its severity and source with it."""

from dataclasses import replace

import pytest

from planner.checks.check import SEVERITIES, Check, raised
from planner.library import standard
from planner.library.rows import CheckRule

RULE = CheckRule(
    name="too near",
    severity="warning",
    message="{opening} stands {left} from {what}",
    remedy="move {opening} by {by}",
    source="common practice",
)
LIBRARY = replace(standard(), checks=(RULE,))


def test_words_are_filled_in():
    check = raised(LIBRARY, "in", "too near", "Parlor", "Door", left=14.5, by=3, what="the corner")
    assert check == Check(
        severity="warning",
        rule="too near",
        room="Parlor",
        opening="Door",
        message="Door stands 1'-2 1/2\" from the corner",
        remedy='move Door by 3"',
        source="common practice",
    )


def test_a_rule_of_the_whole_room_names_no_opening():
    assert raised(LIBRARY, "in", "too near", "Parlor", left=1.0, by=1.0, what="x").opening == ""


def test_an_unknown_rule_says_which_are_near():
    with pytest.raises(ValueError, match="unknown rule 'too neer'; did you mean 'too near'"):
        raised(LIBRARY, "in", "too neer", "Parlor")


def test_the_rules_are_told_with_source_and_remedy():
    for row in standard().checks:
        assert row.severity in SEVERITIES and row.source and row.remedy


def test_cautions_defer_to_code_and_licensed_practice():
    for row in standard().checks:
        if row.severity == "caution":
            assert "licensed" in row.remedy, row.name
