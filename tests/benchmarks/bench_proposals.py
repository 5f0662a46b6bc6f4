"""How long proposals take, and how many solves. Run: pytest -o addopts= tests/benchmarks/bench_proposals.py -s"""

from time import perf_counter, process_time
from unittest.mock import patch

import pytest
from scipy.optimize import milp

from planner import demo_house, list_intents, plan, read_house, read_intent, read_stock
from planner.hierarchy import branching
from planner.planning.answer import Plan
from tests.random_houses import random_house


def measured(planned: Plan) -> tuple[float, float, int, int]:
    """Seconds of a clock and of the processor for frontier and proposals, solves, and the nodes of all of them."""
    solves, nodes = 0, 0

    def counted(*args, **kwargs):
        nonlocal solves, nodes
        result = milp(*args, **kwargs)
        solves, nodes = solves + 1, nodes + max(0, result.mip_node_count or 0)
        return result

    with patch.object(branching, "milp", counted):
        start, spent = perf_counter(), process_time()
        assert planned.proposals
        return perf_counter() - start, process_time() - spent, solves, nodes


@pytest.mark.parametrize("name", ["", *list_intents(demo_house())])
def test_the_demo_house_in_two_seconds(name, record_property):
    house, _ = read_house(demo_house())
    intent = read_intent(demo_house(), name) if name else None
    plans = [plan(house, intent, read_stock(demo_house(), house.unit)) for _ in range(3)]
    seconds, spent, solves, nodes = min(map(measured, plans))
    record_property("seconds", seconds)
    what = f"{name or 'defaults'}: {len(plans[0].proposals)} proposals, {len(plans[0].frontier.points)} points"
    print(f"\n{what}, {solves} solves, {nodes} nodes: {seconds:.2f} s, processor {spent:.2f} s (at most 2 s)")
    assert seconds < 2


@pytest.mark.parametrize(("rooms", "most"), [(60, 6), (300, 15), (1_000, 60), (5_000, 240)])
def test_large_houses_have_a_bound_too(rooms, most, record_property):
    planned = plan(random_house(rooms, 1), integrated=False)
    seconds, spent, solves, nodes = measured(planned)
    points, gap = len(planned.frontier.points), planned.frontier.gap
    record_property("seconds", seconds)
    found = f"{len(planned.proposals)} proposals, {points} points, gap {gap:.2f}"
    print(f"\n{rooms} rooms: {found}, {solves} solves, {nodes} nodes: {seconds:.1f} s, processor {spent:.1f} s", end="")
    print(f" (at most {most} s of the processor)")
    assert spent < most
