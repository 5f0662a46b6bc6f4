"""The figures that sum a plan up, and what they do not wait for."""

from dataclasses import replace

import pytest

from planner import demo_house, plan, read_house
from planner.apps import headline
from planner.apps.desk import Desk

HOUSE, _ = read_house(demo_house())


@pytest.fixture
def planned():
    return plan(replace(HOUSE, name="Looked at late"))


def text(planned):
    return headline.headline(planned, Desk(demo_house()), "", {}).text


def test_what_is_to_be_seen_to_is_counted_in_a_house_that_is_drawn_whole(planned):
    cautions = sum(check.severity == "caution" for check in planned.checks)
    assert f"and {cautions} cautions" in text(planned)


def test_the_walls_of_a_house_that_is_drawn_in_part_are_not_looked_at_before_its_charts(planned, monkeypatch):
    monkeypatch.setattr(headline, "MOST_ROOMS", len(planned.rooms) - 1)
    assert "counted under Checks" in text(planned)
    assert "checks" not in vars(planned)
