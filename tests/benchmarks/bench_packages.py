"""How long packages take, none of them kept from before. Run: pytest tests/benchmarks/bench_packages.py"""

from planner.trim import packages
from planner.trim.packages import package

CEILINGS = range(96, 116)
TIERS = range(1, 6)


def all_packages():
    """A ladder under each of the ceilings, sized anew."""
    packages._ladder.cache_clear()
    package.cache_clear()
    return [package("georgian", "doric", tier, ceiling, top=5) for ceiling in CEILINGS for tier in TIERS]


def test_a_package_takes_under_a_third_of_a_millisecond(benchmark):
    found = benchmark(all_packages)
    assert benchmark.stats.stats.median / len(found) < 0.3e-3
