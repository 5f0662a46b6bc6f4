"""How long the choice from stocks of several sizes takes, each in a process of its own, nothing kept from before.

Run by hand: python -m tests.benchmarks.bench_choice. It is processor time that is held to the limits, so that other
work on the machine does not count, and what the choice adds to the plan of the same house without stock; exits 1 where
a limit is passed.
"""

import json
import resource
import subprocess
import sys
from collections.abc import Callable
from time import process_time
from typing import NamedTuple

from planner import Intent, Stock, demo_house, plan, read_house
from tests.stock.invented import enlarged, without, without_wide_casings


class Case(NamedTuple):
    """A stock, and the most that the choice from it may take [s] and the process hold [GB]."""

    stock: Callable[[], Stock]
    seconds: float
    memory: float


CASES = {
    "demo's stock": Case(lambda: without(lambda _: False), 2.0, 1.0),
    "short of wide casings": Case(without_wide_casings, 2.0, 1.0),
    "500 profiles": Case(lambda: enlarged(500), 2.0, 1.0),
    "5,000 profiles": Case(lambda: enlarged(5_000), 10.0, 1.0),
}
HOUSES = [
    Intent(style="georgian", grade="house"),
    Intent(style="federal", grade="great house"),
    Intent(style="victorian", grade="great house", tiers=6),
]


def measured(case: str, number: int) -> dict[str, object]:
    """One plan with the stock beside one without, in this process."""
    house, _ = read_house(demo_house())
    intent, stock = HOUSES[number], CASES[case].stock()
    start = process_time()
    without = plan(house, intent)
    between = process_time()
    made = plan(house, intent, stock)
    assert without.feasible and made.choice
    return {
        "without": between - start,
        "with": process_time() - between,
        "memory": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 2**20,
        "proved": "proved" if not made.choice.unproved else made.choice.unproved,
    }


def main() -> int:
    passed = True
    for name, case in CASES.items():
        for number, intent in enumerate(HOUSES):
            command = [sys.executable, "-m", __spec__.name, name, str(number)]
            found = json.loads(subprocess.run(command, capture_output=True, text=True, check=True).stdout)
            passed &= found["with"] < case.seconds and found["memory"] < case.memory
            print(
                f"{name}, {intent.style} {intent.grade}, {intent.tiers} tiers: with stock {found['with']:.2f} s "
                f"(limit {case.seconds:.0f}), {found['with'] / found['without']:.1f} times the plan without, "
                f"{found['memory']:.2f} GB (limit {case.memory:.0f}); {found['proved']}"
            )
    return int(not passed)


if __name__ == "__main__":
    if len(sys.argv) > 1:
        print(json.dumps(measured(sys.argv[1], int(sys.argv[2]))))
    else:
        sys.exit(main())
