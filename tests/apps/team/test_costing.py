"""Alternatives that are taken off aside."""

import asyncio

import pytest

from planner import plan
from planner.apps.costing import Costing
from tests.loops import apart, run
from tests.takeoff.tiny import tiny


@pytest.fixture
def plans():
    return [plan(tiny().house), plan(tiny().house)]


def test_a_page_is_told_once_all_are_costed_and_waits_for_none(plans):
    told = []

    async def used():
        costed = asyncio.Event()
        costing = Costing(lambda _: (told.append([one.is_costed for one in plans]), costed.set()))
        assert not costing.is_done(plans[:1])
        assert not costing.is_done(plans)  # one more was asked for meanwhile
        await asyncio.wait_for(costed.wait(), 60)
        while not costing.is_done(plans):
            costed.clear()
            await asyncio.wait_for(costed.wait(), 60)

    run(used())
    assert [True, True] in told and len(told) == 2


def test_a_script_has_the_costs_at_once(plans):
    assert apart(Costing(lambda _: None).is_done, plans) and all(one.is_costed for one in plans)
