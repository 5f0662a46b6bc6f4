"""How long packages take, none of them kept from before. Run: pytest -o addopts= tests/benchmarks/bench_packages.py"""

from planner.library import standard
from planner.trim import packages

CEILINGS = range(96, 116)
TIERS = range(1, 6)
LIBRARY = standard()


def all_packages() -> list[packages.Package]:
    """A ladder under each of the ceilings, sized anew."""
    packages.ladder.cache_clear()
    return [
        packages.package("georgian", "doric", tier, ceiling, LIBRARY, top=5) for ceiling in CEILINGS for tier in TIERS
    ]


def test_a_package_takes_under_a_third_of_a_millisecond(benchmark):
    found = benchmark(all_packages)
    assert benchmark.stats.stats.median / len(found) < 0.3e-3
