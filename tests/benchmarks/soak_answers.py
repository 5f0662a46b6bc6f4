"""Answers of many reviewers at once, whose processes are killed, and on disks that are full at any byte.

Run by hand: python -m tests.benchmarks.soak_answers [SECONDS between two kills]. Prints how many answers that were
acknowledged are lost or there twice, and how many lines are torn; exits 1 where any is. What is kept and was not
acknowledged, because its writer was killed in between, was said again. The disk that is full at any byte is a limit to
the size of files, which the system keeps with short writes; the one that is full as a whole a small file system in
memory, where one can be mounted.
"""

import os
import random
import resource
import shutil
import subprocess
import sys
from collections import Counter
from contextlib import suppress
from pathlib import Path
from tempfile import mkdtemp
from time import monotonic, sleep

from planner.files.problems import HouseFault
from planner.record.entries import KEEP
from planner.record.keeping import read_record, say
from tests.record.answering import Writer, account

WRITERS, ANSWERS, KILLS = 20, 1_000, 100
SHARED = 5
"""So many of the writers write to one file."""

ALL_KEPT, REFUSED, DIED = 0, 3, 4
"""How a process ends that answers on a full disk."""


def killed(house: Path, pause: float) -> dict[str, int]:
    """Writers that are killed again and again until all is said."""
    chance, files = random.Random(1), [house / "reviews" / f"{number}.jsonl" for number in range(WRITERS)]
    files[:SHARED] = [files[0]] * SHARED
    writers = [Writer(file, f"Writer {number}", ANSWERS) for number, file in enumerate(files)]
    for writer in writers:
        writer.start()
    kills = 0
    running = list(writers)
    while running:
        sleep(chance.uniform(0, 2 * pause))
        for writer in [w for w in running if not w.listen()]:
            writer.end()
            running.remove(writer)
        if running and kills < KILLS:
            struck = chance.choice(running)
            struck.kill()
            kills += 1
            struck.start()
    return {**account(house, writers), "killed": kills}


def limited(house: Path, most: int) -> int:
    """Answer in a process whose files may have so many bytes, until an answer is refused.

    How many were acknowledged; -1 where the process ends otherwise.
    """
    reading, writing = os.pipe()
    child = os.fork()
    if not child:
        resource.setrlimit(resource.RLIMIT_FSIZE, (most, most))
        try:
            for number in range(10):
                say(house / "reviews" / "one.jsonl", "Ada", "measured", f"Room {number}", KEEP, "née " * number)
                os.write(writing, b".")
        except HouseFault:
            os._exit(REFUSED)
        except BaseException:
            os._exit(DIED)
        os._exit(ALL_KEPT)
    os.close(writing)
    with os.fdopen(reading, "rb") as told:
        acknowledged = len(told.read())
    _, status = os.waitpid(child, 0)
    return acknowledged if os.WIFEXITED(status) and os.WEXITSTATUS(status) in (REFUSED, ALL_KEPT) else -1


def every_byte(house: Path) -> dict[str, int]:
    """One answer after the other, with the disk full at each byte of the file that they make."""
    limited(house, 1 << 20)
    size = (house / "reviews" / "one.jsonl").stat().st_size
    found: Counter[str] = Counter()
    for most in range(size + 1):
        shutil.rmtree(house / "reviews")
        acknowledged = limited(house, most)
        kept = [f"Room {number}" for number in range(acknowledged)]
        counts = {"limits": 1, "acknowledged": len(kept), "died": int(acknowledged < 0)}
        found.update({**counts, **compared(house, kept)})
    return dict(found)


def full_disk(place: Path) -> dict[str, int] | None:
    """Answers on file systems of several sizes that fill up; None where none can be mounted."""
    found: Counter[str] = Counter()
    for size in range(4, 64, 4):
        if not mounted(place, size):
            return None
        try:
            found.update(filled(place))
        finally:
            subprocess.run(["umount", str(place)], check=True)
    return dict(found)


def mounted(place: Path, size: int) -> bool:
    """Mount a file system of so many kB; whether that can be done."""
    if not shutil.which("mount"):
        return False
    command = ["mount", "-t", "tmpfs", "-o", f"size={size}k", "tmpfs", str(place)]
    return subprocess.run(command, capture_output=True, check=False).returncode == 0


def filled(place: Path) -> dict[str, int]:
    """Answer in three files until long after there is no more room."""
    kept = []
    for number in range(600):
        with suppress(HouseFault):
            say(place / "reviews" / f"{number % 3}.jsonl", "Ada", "measured", f"Room {number}", KEEP)
            kept.append(f"Room {number}")
    return {"acknowledged": len(kept), "refused": 600 - len(kept), **compared(place, kept)}


def compared(house: Path, kept: list[str]) -> dict[str, int]:
    """What was acknowledged beside what is there, each answer to a room of its own."""
    answers, warnings = read_record(house)
    rooms = [said.room for said in answers]
    lost = sum(room not in rooms for room in kept)
    return {"lost": lost, "twice": len(rooms) - len(set(rooms)), "torn": len(warnings)}


def main() -> int:
    """Print every count; 1 where an answer that was acknowledged is not there whole and once."""
    pause = float(sys.argv[1]) if len(sys.argv) > 1 else 0.3
    passed = True
    for name, run in (
        (f"{WRITERS} writers x {ANSWERS:,} answers", lambda house: killed(house, pause)),
        ("a disk full at every byte", every_byte),
        ("a file system without room", full_disk),
    ):
        house = Path(mkdtemp())
        begun = monotonic()
        found = run(house)
        shutil.rmtree(house)
        if found is None:
            print(f"{name:<32} not measured: no file system can be mounted here")
            continue
        counts = ", ".join(f"{what} {number:,}" for what, number in found.items())
        print(f"{name:<32} {counts}; {monotonic() - begun:.0f} s")
        passed = passed and not any(found.get(what) for what in ("lost", "twice", "torn", "died"))
    return 0 if passed else 1


if __name__ == "__main__":
    raise SystemExit(main())
