"""How fast a room is drawn for a client, the walls laid out and warm.

Run: pytest -o addopts= tests/benchmarks/bench_rooms.py. It is processor time that is held to the limits, so that other
work on the machine does not count.
"""

from time import process_time

import pytest

from planner import beside, demo_house, perspective, plan, read_house, read_stock, svg
from planner.record import one_step

pytestmark = pytest.mark.benchmark(timer=process_time)


@pytest.fixture(scope="module")
def demo():
    house, _ = read_house(demo_house())
    return plan(house, stock=read_stock(demo_house(), house.unit))


@pytest.mark.parametrize("room", ["Drawing Room", "Stair Hall", "Family Room"])
def test_draw_a_room_from_its_door(benchmark, demo, room):
    """At most 100 ms, written as SVG."""
    document = benchmark(lambda: svg(perspective(demo, room)))
    assert document.startswith("<svg")
    assert benchmark.stats.stats.median < 0.100


@pytest.mark.parametrize("room", ["Library", "Upper Hall"])
def test_draw_a_wall_with_the_steps_beside_it(benchmark, demo, room):
    """At most 300 ms, written as SVG, what other tiers would change and the plans of both steps found anew."""

    def drawn() -> list[str]:
        one_step._one_step.cache_clear()
        demo._ways._found.clear()
        return [svg(side.scene) for side in beside(demo, room).sides if side.scene is not None]

    documents = benchmark(drawn)
    assert len(documents) >= 2
    assert benchmark.stats.stats.median < 0.300
