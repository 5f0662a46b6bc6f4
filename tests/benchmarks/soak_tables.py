"""Tables that are saved and rooms that are renamed again and again, by processes that are killed meanwhile.

Run by hand: python -m tests.benchmarks.soak_tables [KILLS AT RANDOM [AT EVERY WHICH MOMENT]]. After each kill the house
must be readable, with all its files of one write and the room under one name in tables, alternatives, drafts and
reviews; what was acknowledged must be there; and nothing may be left that is not the house's. Then a save and a
renaming are killed at every call of the system that they make, before and after it, and every call is refused as on a
full disk. Prints the counts; exits 1 where one of the bad ones is not 0.
"""

import errno
import os
import random
import shutil
import signal
import sys
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from tempfile import mkdtemp
from time import monotonic, sleep

from planner import HouseFault, demo_house, read_house, rename_room, write_house
from tests.files.dying import failing_at, killed_at, moments
from tests.house.generations import FIRST, begun, generations, names, of_generation, write_on

BAD = ("mixed", "unreadable", "lost", "litter", "half told")


def found_in(folder: Path) -> Counter[str]:
    """What is wrong with a folder after a kill."""
    found: Counter[str] = Counter()
    try:
        found["mixed"] = int(len(generations(folder)) != 1 or len(names(folder)) != 1)
    except HouseFault as fault:
        print(fault, flush=True)
        found["unreadable"] = 1
    found["litter"] = sum(path.name.startswith(".") or path.suffix == ".tmp" for path in folder.rglob("*"))
    return found


def killed_at_random(folder: Path, kills: int) -> Counter[str]:
    """A process that writes on and on, killed so many times within what two writes and two renamings take, and started
    again on what it left."""
    chance, found = random.Random(2), Counter[str]()
    written = renamed = 0
    start, both = monotonic(), write_on(folder, os.open(os.devnull, os.O_WRONLY))
    next(both)
    next(both)
    both.close()
    lasts = monotonic() - start
    for _ in range(kills):
        reading, writing = os.pipe()
        child = os.fork()
        if not child:
            for _ in write_on(folder, writing):
                pass
        os.close(writing)
        sleep(chance.uniform(0.0, 2 * lasts))
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        with os.fdopen(reading, "rb") as told:
            for word in told.read().split():
                kind, number = word[:1], int(word[1:])
                written, renamed = (number, renamed) if kind == b"w" else (written, number)
                found["writes"] += 1
        found.update(found_in(folder), kills=1)
        said = min(number or 0 for number in generations(folder))
        called = int("0" + next(iter(names(folder))).removeprefix(FIRST).strip())
        found["lost"] += int(said < written or called < renamed)
    return found


def struck_everywhere(source: Path, place: Path, pace: int) -> Counter[str]:
    """A save and a renaming, each killed at every moment, and each with every call refused."""
    found: Counter[str] = Counter()
    house, _ = read_house(source)
    acts: list[Callable[[Path], object]] = [
        lambda folder: write_house(of_generation(house, 1), folder),
        lambda folder: rename_room(folder, FIRST, f"{FIRST} 1"),
    ]
    for act in acts:
        total = moments(lambda act=act: act(copied(source, place)))
        for moment in range(0, total, pace):
            folder = copied(source, place)
            killed_at(moment, lambda act=act, folder=folder: act(folder))
            found.update(found_in(folder), kills=1)
            folder = copied(source, place)
            before = generations(folder), names(folder)
            try:
                failing_at(moment, lambda act=act, folder=folder: act(folder), errno.ENOSPC)
            except HouseFault:
                found["told"] += 1
            else:
                found["half told"] += int((generations(folder), names(folder)) == before)
            found.update(found_in(folder), refusals=1)
    return found


def copied(source: Path, place: Path) -> Path:
    """A fresh copy of the house."""
    shutil.rmtree(place / "struck", ignore_errors=True)
    return shutil.copytree(source, place / "struck")


def main() -> int:
    """Print the counts of both."""
    kills, pace = (int(word) for word in [*sys.argv[1:], *("300", "1")[len(sys.argv) - 1 :]])
    place = Path(mkdtemp())
    source = shutil.copytree(demo_house(), place / "house")
    begun(source)
    passed = True
    for name, run in (
        ("killed at random", lambda: killed_at_random(shutil.copytree(source, place / "written"), kills)),
        ("killed and refused everywhere", lambda: struck_everywhere(source, place, pace)),
    ):
        start = monotonic()
        found = run()
        counts = ", ".join(f"{what} {found[what]:,}" for what in dict.fromkeys([*found, *BAD]))
        print(f"{name:<32} {counts}; {monotonic() - start:.0f} s", flush=True)
        passed = passed and not any(found[what] for what in BAD)
    shutil.rmtree(place)
    return 0 if passed else 1


if __name__ == "__main__":
    raise SystemExit(main())
