"""The bounded knapsack, against trying everything."""

from itertools import product

from hypothesis import given
from hypothesis import strategies as st

from planner.takeoff.knapsack import fill

ITEMS = st.lists(st.tuples(st.integers(0, 9), st.integers(1, 9), st.integers(0, 3)), min_size=1, max_size=5)


@given(ITEMS, st.integers(0, 30))
def test_every_capacity_is_filled_best(items, capacity):
    values, sizes, most = zip(*items, strict=True)
    best = fill([float(v) for v in values], sizes, most, capacity)
    for room in range(capacity + 1):
        fits = [
            sum(n * v for n, v in zip(counts, values, strict=True))
            for counts in product(*(range(m + 1) for m in most))
            if sum(n * s for n, s in zip(counts, sizes, strict=True)) <= room
        ]
        pattern = best.pattern(room)
        assert best.values[room] == max(fits)
        assert pattern @ values == max(fits)
        assert pattern @ sizes <= room
        assert (pattern <= most).all()
