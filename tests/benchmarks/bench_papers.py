"""How long the papers of a house take, from the folder of the house to the folder of the papers.

Run: pytest -o addopts= -s tests/benchmarks/bench_papers.py. It is processor time that is held to the limits, so that
other work on the machine does not count.
"""

from datetime import date
from pathlib import Path
from tempfile import mkdtemp
from time import process_time
from typing import Any

import pytest

from planner import demo_house, plan, read_house, read_intent, read_stock, standard
from planner.deliverables.deliver import Delivered, deliver
from planner.deliverables.papers import Paper
from planner.takeoff import cutting

pytestmark = pytest.mark.benchmark(timer=process_time)


def delivered() -> Delivered:
    """The papers of the demo house at its most formal, planned and cut anew, with what each took."""
    cutting._cut.cache_clear()
    began = process_time()

    def told(paper: Paper) -> None:
        print(f"\n{process_time() - began:6.2f} s  {len(paper.data) / 1000:7,.0f} kB  {paper.name}", end="")

    house = read_house(demo_house())[0]
    planned = plan(house, read_intent(demo_house(), "formal", standard()), read_stock(demo_house(), house.unit))
    return deliver(planned, Path(mkdtemp()), date(2030, 1, 31), told=told)


def test_all_papers_of_the_demo_house(benchmark: Any) -> None:
    """Under 15 s."""
    done = benchmark.pedantic(delivered, rounds=2)
    print(f"\n{len(done.papers)} papers")
    assert benchmark.stats.stats.median < 15.0
