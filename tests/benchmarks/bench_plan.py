"""How long a plan takes beside its own solver call, and how that grows. Run: pytest tests/benchmarks/bench_plan.py"""

import random
import tracemalloc
from math import log
from time import perf_counter, process_time
from unittest.mock import patch

import pytest
from scipy.optimize import linprog

from planner import Change, Intent, Scope, TrimRule, demo_house, plan, read_house, read_stock, standard
from planner.hierarchy import tiers
from planner.house.model import House, Opening, Room
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


def some_rules(house, many: int) -> Intent:
    """An alternative with trim rules of every width, the same for the same house."""
    rng, library = random.Random(7), standard()
    names, uses = [room.name for room in house.rooms], sorted({room.use for room in house.rooms})

    def rule(number: int) -> TrimRule:
        element = rng.choice(["base", "chair rail", "crown", "casing", "wainscot", "crossette", "picture rail"])
        scope = (
            Scope(tiers=(2, 5)),
            Scope(levels=(rng.choice(house.rooms).level,), tiers=(1, 3)),
            Scope(uses=(rng.choice(uses),)),
            Scope(rooms=(rng.choice(names),)),
            Scope(openings=(rng.choice(house.openings).name,)),
        )[number % 5]
        element = "casing" if scope.openings else element
        return TrimRule(element, scope, Change(rng.choice((*library.form_names(element), "none"))))

    return Intent(trim=tuple(map(rule, range(many))))


def seconds_of(house, intent, stock=None, best_of: int = 3) -> float:
    """Seconds of processor time of one warm plan, the best of a few."""
    found = []
    for _ in range(best_of + 1):
        start = process_time()
        plan(house, intent, stock, integrated=len(house.rooms) <= 500)
        found.append(process_time() - start)
    return min(found[1:])


@pytest.mark.parametrize(("rooms", "rules", "most"), [(0, 10, 3), (1_000, 50, 3)])
def test_a_plan_with_trim_rules_beside_one_without(rooms, rules, most, record_property):
    house = random_house(rooms, 1) if rooms else read_house(demo_house())[0]
    stock = None if rooms else read_stock(demo_house(), house.unit)
    plain, ruled = (seconds_of(house, intent, stock) for intent in (Intent(), some_rules(house, rules)))
    record_property("ratio", ruled / plain)
    what = f"{house.name}, {len(house.rooms)} rooms, {rules} rules"
    print(f"\n{what}: {ruled:.3f} s, without {plain:.3f} s, ratio {ruled / plain:.2f} (at most {most})")
    assert ruled / plain <= most


@pytest.mark.parametrize(("rooms", "most"), [(1_000, 8), (20_000, 4)])
def test_plan_against_its_own_solver_call(rooms, most, record_property):
    whole, solver = timed(random_house(rooms, 1))
    record_property("ratio", whole / solver)
    print(f"\n{rooms} rooms: plan {whole:.2f} s, solver {solver:.2f} s, ratio {whole / solver:.2f} (at most {most})")
    assert whole / solver <= most


def grid(rooms: int) -> House:
    """Rooms side by side with a door from each to the next, fifty in a row."""
    kinds = ("parlor", "closet", "bedroom", "kitchen", "library", "hall", "bath")
    corners = [(i % 50 * 125.0, i // 50 * 125.0) for i in range(rooms)]
    made = (
        Room(f"Room {i}", "Ground", kinds[i % 7] if i else "entry hall", 120.0, 120.0, 108.0, outline(*corner))
        for i, corner in enumerate(corners)
    )
    doors = (Opening(f"D{i}", "door", f"Room {i - 1 if i % 50 else i - 50}", f"Room {i}") for i in range(1, rooms))
    return House("Grid", ("Room 0",), tuple(made), tuple(doors))


def outline(x: float, y: float) -> tuple[tuple[float, float], ...]:
    """A square of ten feet [in]."""
    return ((x, y), (x, y + 120.0), (x + 120.0, y + 120.0), (x + 120.0, y))


def test_a_plan_with_its_checks_grows_no_faster_than_the_house():
    def a_room(rooms: int) -> float:
        start = process_time()
        assert plan(grid(rooms), integrated=False).checks
        return (process_time() - start) / rooms

    a_room(50)
    small, large = min(a_room(500) for _ in range(3)), a_room(5_000)
    print(
        f"\na room of 5,000: {large * 1e3:.2f} ms, of 500: {small * 1e3:.2f} ms, ratio {large / small:.2f} (at most 2)"
    )
    assert large / small <= 2


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
