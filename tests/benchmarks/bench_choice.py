"""How long the choice from the demo's stock takes, in processor time. Run: pytest tests/benchmarks/bench_choice.py"""

from pathlib import Path
from time import process_time

import pytest

from planner.stock import choice, search
from planner.stock.stock import read_stock
from planner.trim.packages import package

STOCK = read_stock(Path(__file__).parents[2] / "demo_house")
LADDERS = {
    "measured": tuple(package("georgian", "doric", t, c, top=4) for c in (120.0, 108.0) for t in range(1, 5)),
    "formal": tuple(package("georgian", "ionic", t, c, top=5) for c in (120.0, 108.0) for t in range(1, 6)),
    "easy": tuple(package("colonial revival", "tuscan", t, c, top=3) for c in (120.0, 108.0) for t in range(1, 4)),
}
"""Every tier and ceiling that the demo house's alternatives may use."""


def forget():
    """Forget every assembly and choice."""
    for remembered in (search.within, search._run_is_sound, choice._worth, choice.choose):
        remembered.cache_clear()


@pytest.mark.benchmark(timer=process_time)
@pytest.mark.parametrize("alternative", LADDERS)
def test_a_choice_made_anew_takes_under_150_ms(benchmark, alternative):
    found = benchmark.pedantic(choice.choose, (LADDERS[alternative], STOCK), setup=forget, rounds=8, warmup_rounds=1)
    assert found.optimal
    assert benchmark.stats.stats.median < 0.150


def test_a_choice_made_before_takes_under_a_millisecond(benchmark):
    choice.choose(LADDERS["formal"], STOCK)
    assert benchmark(choice.choose, LADDERS["formal"], STOCK).optimal
    assert benchmark.stats.stats.median < 1e-3
