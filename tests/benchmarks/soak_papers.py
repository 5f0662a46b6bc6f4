"""Papers of many houses made at random, read by other programs: their workbooks are worked out anew by LibreOffice and
held against the plans, to the cent, and the dimensions on their elevations are measured on the pages, to 0.5 %.

Run by hand: python -m tests.benchmarks.soak_papers [HOUSES, 200 if not said]. Prints the counts; exits 1 where a figure
differs.
"""

import sys
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.deliverables.books import differing, small, written
from tests.deliverables.sheets.rule import of_a_random_house, wrong_of
from tests.drawn import set_of, sheets
from tests.office import recalculated

AT_ONCE = 20
"""Workbooks that one run of the office program works out."""


def books(houses: int) -> tuple[int, list[str]]:
    """How many workbooks were worked out, and what differs in them."""
    made = [(seed, planned) for seed in range(houses) if (planned := small(seed))]
    wrong = []
    for first in range(0, len(made), AT_ONCE):
        some = made[first : first + AT_ONCE]
        with TemporaryDirectory() as folder:
            worked = recalculated(Path(folder), *(written(planned) for _, planned in some))
        for (seed, planned), book in zip(some, worked, strict=True):
            wrong += [f"house {seed}: {words}" for words in differing(planned, book)]
    return len(made), wrong


def pages(houses: int) -> tuple[int, list[str]]:
    """How many figures were measured, and which are not as long as they say."""
    figures, wrong = 0, []
    for seed in range(houses):
        found = of_a_random_house(seed)
        for kept in (set_of, sheets):
            kept.cache_clear()
        figures += len(found)
        wrong += [f"house {seed}: {there} in instead of {said} in" for said, there in wrong_of(found)]
    return figures, wrong


def main(houses: int) -> int:
    worked, differ = books(houses)
    print(f"workbooks worked out: {worked}; figures that differ: {len(differ)}", flush=True)
    figures, off = pages(houses)
    print(f"houses whose elevations were measured: {houses}, figures: {figures}; off by more: {len(off)}")
    print(*differ[:20], *off[:20], sep="\n")
    return 1 if differ or off or not worked or not figures else 0


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 200))
