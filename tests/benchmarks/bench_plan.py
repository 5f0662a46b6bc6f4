"""How long a plan takes beside its own solver call, and how that grows. Run: pytest tests/benchmarks/bench_plan.py"""

import tracemalloc
from math import log
from time import perf_counter
from unittest.mock import patch

import pytest
from scipy.optimize import linprog

from planner import demo_house, plan, read_house, read_stock
from planner.hierarchy import tiers
from tests.random_houses import random_house


def timed(house) -> tuple[float, float]:
    """Seconds of one warm plan, and of the solver calls inside it."""
    spent = 0.0

    def stopwatch(*args, **kwargs):
        nonlocal spent
        start = perf_counter()
        try:
            return linprog(*args, **kwargs)
        finally:
            spent += perf_counter() - start

    for _ in range(2):
        plan(house, integrated=False)
    with patch.object(tiers, "linprog", stopwatch):
        start = perf_counter()
        plan(house, integrated=False)
        return perf_counter() - start, spent


def test_demo_house_warm(benchmark):
    house, _ = read_house(demo_house())
    stock = read_stock(demo_house(), house.unit)
    plan(house, stock=stock)
    benchmark(plan, house, stock=stock)


@pytest.mark.parametrize(("rooms", "most"), [(1_000, 8), (20_000, 4)])
def test_plan_against_its_own_solver_call(rooms, most, record_property):
    whole, solver = timed(random_house(rooms, 1))
    record_property("ratio", whole / solver)
    print(f"\n{rooms} rooms: plan {whole:.2f} s, solver {solver:.2f} s, ratio {whole / solver:.2f} (at most {most})")
    assert whole / solver <= most


def test_growth():
    sizes = (100, 1_000, 5_000, 20_000)
    seconds = [min(timed(random_house(n, 1))[0] for _ in range(2)) for n in sizes]
    for n, s in zip(sizes, seconds, strict=True):
        print(f"\n{n} rooms: {s:.3f} s, per n log n {s / (n * log(n)) * 1e9:.0f} ns", end="")


def test_memory_at_20_000_rooms():
    house = random_house(20_000, 1)
    tracemalloc.start()
    plan(house, integrated=False)
    peak = tracemalloc.get_traced_memory()[1] / 1e9
    tracemalloc.stop()
    print(f"\npeak of Python's own allocations {peak:.2f} GB")
    assert peak < 1
