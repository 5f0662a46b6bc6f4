"""How long commands take to start, beside the bare library that parses them: whole processes, in turn, as ratios.

Run by hand: python tests/benchmarks/bench_startup.py
"""

import subprocess
import sys
from pathlib import Path
from statistics import median
from time import perf_counter

ROUNDS = 9
BARE = ["-c", "import click"]
COMMANDS = {
    "planner --version": ["--version"],
    "planner --help": ["--help"],
    "planner check": ["check", str(Path(__file__).parents[2] / "demo_house")],
    "planner plan": ["plan", str(Path(__file__).parents[2] / "demo_house")],
}


def seconds(arguments: list[str]) -> float:
    """How long one process takes [s]."""
    start = perf_counter()
    subprocess.run([sys.executable, *arguments], stdout=subprocess.DEVNULL, check=True)
    return perf_counter() - start


def main() -> None:
    """Print the ratio of each command to the bare import, pair by pair."""
    for name, arguments in COMMANDS.items():
        command = ["-c", "from planner.cli import main; main()", *arguments]
        ratios = [seconds(command) / seconds(BARE) for _ in range(ROUNDS)]
        print(f"{name:<18} {median(ratios):.2f} times import click (from {min(ratios):.2f} to {max(ratios):.2f})")


if __name__ == "__main__":
    main()
