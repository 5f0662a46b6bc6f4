"""What the apps compute, read from their cells."""

import sys

import pytest

from planner import bundled, demo_house, plan, read_house

sys.path.insert(0, str(bundled("notebooks").parent))


@pytest.fixture(autouse=True)
def no_arguments(monkeypatch):
    monkeypatch.setattr(sys, "argv", ["notebook"])


def test_design_plans_the_demo_house():
    from notebooks.design import app

    _, defined = app.run()
    house, _ = read_house(demo_house())
    assert [r.tier for r in defined["planned"].rooms] == [r.tier for r in plan(house).rooms]
    assert set(defined["wishes"]) == set(house.by_name)


def test_review_begins_with_the_plan_as_it_is():
    from notebooks.review import app

    _, defined = app.run()
    assert defined["heard"].planned.objective == defined["base"].objective


def test_compare_takes_every_alternative():
    from notebooks.compare import app

    _, defined = app.run()
    assert [p.intent.name for p in defined["standing"]] == ["easy", "formal", "measured"]
