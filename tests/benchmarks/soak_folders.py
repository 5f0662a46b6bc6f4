"""Houses whose folders are broken at random: nothing but the project's own faults is raised, and nothing is changed.

Run by hand: python -m tests.benchmarks.soak_folders [HOW MANY [FROM WHICH]]. Prints the number of folders, of those
that could still be read, of exceptions that are not the project's own, and of files that changed; exits 1 where
there is one.
"""

import random
import shutil
import signal
import sys
from collections import Counter
from pathlib import Path
from tempfile import mkdtemp
from time import monotonic

from planner import demo_house
from planner.house.styles import write_style
from planner.record.decisions import decide
from planner.record.entries import KEEP
from planner.record.keeping import open_session, say
from tests.house.conftest import state
from tests.house.mutated import looked_at, mutate

PATIENCE = 120
"""A folder is looked at for no longer than this [s]."""


def whole(place: Path) -> Path:
    """A copy of the demo house with a style and answers."""
    folder = shutil.copytree(demo_house(), place / "whole")
    write_style(folder, "plain north", "georgian", settings={"ratio": 0.9})
    say(open_session(folder, "Ada"), "Ada", "measured", "Library", KEEP, "as it is")
    decide(folder, "Bert", "measured")
    return folder


def main() -> int:
    """Break and look at folders, one after the other."""
    count, first = (int(word) for word in [*sys.argv[1:], *("2000", "0")[len(sys.argv) - 1 :]])
    place, found, begun = Path(mkdtemp()), Counter[str](), monotonic()
    source = whole(place)
    for number in range(first, first + count):
        folder = place / f"house {number}"
        shutil.copytree(source, folder)
        ways = mutate(folder, random.Random(number))
        before = state(folder)
        signal.alarm(PATIENCE)
        readable, raised = looked_at(folder)
        signal.alarm(0)
        changed = before != state(folder)
        found.update(folders=1, readable=readable, exceptions=len(raised), changed=changed)
        for one in raised:
            print(f"folder {number} ({', '.join(ways)}): {one}", flush=True)
        shutil.rmtree(folder)
    shutil.rmtree(place)
    print(", ".join(f"{name} {number:,}" for name, number in found.items()), f"in {monotonic() - begun:.0f} s")
    return 1 if found["exceptions"] or found["changed"] else 0


def too_long(*_: object) -> None:
    """End what hangs."""
    raise TimeoutError(f"it took more than {PATIENCE} s")


if __name__ == "__main__":
    signal.signal(signal.SIGALRM, too_long)
    raise SystemExit(main())
