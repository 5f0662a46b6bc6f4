"""How long fingerprints, large records and answer files take. Run by hand: python -m tests.benchmarks.bench_record.

Exits 1 where a fingerprint takes longer than it may, by the processor's time, as others may be at work on the machine.
Nothing of a fingerprint is kept from one run to the next; the best of several counts.
"""

import json
from collections.abc import Callable
from pathlib import Path
from tempfile import mkdtemp
from time import perf_counter, process_time

from planner import add_answers, demo_house, fingerprint, new_house, new_sending, read_record
from planner.record import fingerprint as fingerprinting
from planner.record.decisions import changed_since, decide
from planner.record.history import history, history_text
from planner.record.keeping import keep, lines_of
from planner.record.states import read_state
from tests.random_houses import random_house
from tests.record.answering import nth
from tests.record.said import answer_file

DEMO, LARGE = 0.020, 1.0
"""The most that a fingerprint may take, of the demo house and of 5,000 rooms [s]."""


def seconds(act: Callable[[], object], runs: int = 5, clock: Callable[[], float] = perf_counter) -> float:
    """The shortest that something takes, with no fingerprint kept from before [s]."""
    found = []
    for _ in range(runs):
        fingerprinting.part.cache_clear()
        begun = clock()
        act()
        found.append(clock() - begun)
    return min(found)


def main() -> int:
    """Print every figure."""
    state, rooms = read_state(Path(demo_house()), "formal"), random_house(5_000, 1)
    demo = seconds(lambda: fingerprint(state.house, state.intent, state.stock, state.library), 9, process_time)
    large = seconds(lambda: fingerprint(rooms, state.intent, state.stock, state.library), 3, process_time)
    print(f"fingerprint, demo house {demo * 1e3:.1f} ms; 5,000 rooms {large * 1e3:.0f} ms")
    house = Path(mkdtemp()) / "house"
    new_house(house, demo_house())
    decision = decide(house, "Bert", "formal")
    print(f"a decision {seconds(lambda: decide(house, 'Bert', 'formal'), 3) * 1e3:.0f} ms", end="; ")
    print(f"what has changed since {seconds(lambda: changed_since(house, decision), 3) * 1e3:.0f} ms")
    (house / "reviews" / "long.jsonl").write_bytes(lines_of(nth("Ada", number) for number in range(20_000)))
    file = house / "reviews" / "one.jsonl"
    print(f"one entry kept {seconds(lambda: keep(file, nth('Ada', 0))) * 1e3:.1f} ms", end="; ")
    print(f"20,000 read {seconds(lambda: read_record(house), 3) * 1e3:.0f} ms", end="; ")
    print(f"and told {seconds(lambda: history_text(history(house)), 3) * 1e3:.0f} ms")
    sent = new_sending(house, ["formal"])
    (back := house.parent / "answers.json").write_text(json.dumps(answer_file(sent, *[{}] * 5_000)))
    print(f"5,000 answers that come back {seconds(lambda: add_answers(house, back), 1) * 1e3:.0f} ms")
    return int(demo > DEMO or large > LARGE)


if __name__ == "__main__":
    raise SystemExit(main())
