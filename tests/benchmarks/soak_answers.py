"""What many people say at once, whose processes are killed, and on disks that are full at any byte; and decisions and
answer files that come back, and pages that are sent, whose processes are killed.

Run by hand: python -m tests.benchmarks.soak_answers [SECONDS between two kills] [ENTRIES of each writer]. Prints how
many entries of the record that were acknowledged are lost or there twice, how many lines are torn, how many decisions,
files and pages are there in part, and how many doctored files were let in; exits 1 where any is. What is kept and was
not acknowledged, because its writer was killed in between, was said again. The disk that is full at any byte is a limit
to the size of files, which the system keeps with short writes; the one that is full as a whole a small file system in
memory, where one can be mounted.
"""

import json
import os
import random
import re
import resource
import shutil
import signal
import subprocess
import sys
from collections import Counter
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from tempfile import mkdtemp
from time import monotonic, sleep
from typing import NoReturn

from planner import demo_house, new_house, share_page
from planner.files.decided import DECIDED
from planner.files.problems import HouseFault, Problem
from planner.record.decisions import changed_since, decide, decided_folder
from planner.record.keeping import keep, read_record
from planner.record.returned import add_answers
from planner.record.sent import new_sending, sendings
from tests.record.answering import Writer, account, nth
from tests.record.said import answer_file

WRITERS, ANSWERS, KILLS = 20, 1_000, 100
FILES, PAGES = 60, 30
DOCTORED = {"who": "Somebody else", "id": "e" * 32, "sent": "f" * 32, "answers": [], "digest": "0" * 64}
"""What is said otherwise in a file that comes back, by its keys."""

SHARED = 5
"""So many of the writers write to one file."""

ALL_KEPT, REFUSED, DIED = 0, 3, 4
"""How a process ends that answers on a full disk."""


def killed(house: Path, pause: float, entries: int) -> dict[str, int]:
    """Writers that are killed again and again until all is said."""
    chance, files = random.Random(1), [house / "reviews" / f"{number}.jsonl" for number in range(WRITERS)]
    files[:SHARED] = [files[0]] * SHARED
    writers = [Writer(file, f"Writer {number}", entries) for number, file in enumerate(files)]
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
    """Say things in a process whose files may have so many bytes, until one is refused.

    How many were acknowledged; -1 where the process ends otherwise.
    """
    reading, writing = os.pipe()
    child = os.fork()
    if not child:
        resource.setrlimit(resource.RLIMIT_FSIZE, (most, most))
        try:
            for number in range(5):
                keep(house / "reviews" / "one.jsonl", nth("Ada", number, "née " * number))
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
    """One entry after the other, with the disk full at each byte of the file that they make."""
    limited(house, 1 << 20)
    size = (house / "reviews" / "one.jsonl").stat().st_size
    found: Counter[str] = Counter()
    for most in range(size + 1):
        shutil.rmtree(house / "reviews")
        acknowledged = limited(house, most)
        kept = [f"Ada {number}" for number in range(acknowledged)]
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
            keep(place / "reviews" / f"{number % 3}.jsonl", nth("Ada", number))
            kept.append(f"Ada {number}")
    return {"acknowledged": len(kept), "refused": 600 - len(kept), **compared(place, kept)}


def compared(house: Path, kept: list[str]) -> dict[str, int]:
    """What was acknowledged beside what is there, each entry of an alternative of its own."""
    entries, warnings = read_record(house)
    said = [entry.alternative for entry in entries]
    lost = sum(alternative not in said for alternative in kept)
    return {"lost": lost, "twice": len(said) - len(set(said)), "torn": len(warnings)}


def at_random(house: Path, pause: float) -> dict[str, int]:
    """Processes that add the same answer files and decide, all killed at random; what each left is there whole or not
    at all, and each file, read once more, once."""
    new_house(house / "house", demo_house())
    house, chance, files = house / "house", random.Random(2), []
    sent = new_sending(house, ["formal"])
    for number in range(FILES):
        content = answer_file(sent, *[{"id": f"{number:04x}{at:028x}"} for at in range(20)], id=f"{number:032x}")
        files.append(house.parent / f"{number}.json")
        files[-1].write_text(json.dumps(content))
    found: Counter[str] = Counter(killed=0)
    for file in files:
        running = [os.fork() or _end(add_answers, house, file) for _ in range(2)]
        running.append(os.fork() or _end(decide, house, "Bert", "formal"))
        sleep(chance.uniform(0, 2 * pause))
        for process in running:
            os.kill(process, signal.SIGKILL)
            found["killed"] += os.WIFSIGNALED(os.waitpid(process, 0)[1])
        counts = Counter(answer.id[:4] for answer in read_record(house).answers)
        found["in part"] += sum(count != 20 for count in counts.values())
    found["before the last reading"] = len(read_record(house).answers)
    for file in files:
        add_answers(house, file)
    record = read_record(house)
    found["twice"] = len(record.answers) - len({answer.id for answer in record.answers})
    found["lost"] = FILES * 20 - len(record.answers)
    found["torn"] = len(record.warnings)
    found["decisions"] = len(record.decisions)
    found["in part"] += sum(changed_since(house, decision) != () for decision in record.decisions)
    copies = set((house / DECIDED).iterdir()) if record.decisions else set()
    found["in part"] += len(copies ^ {decided_folder(house, decision) for decision in record.decisions})
    return dict(found)


def shared(place: Path) -> dict[str, int]:
    """Pages of one place that are shared again and again by processes that are killed: the page there is whole and one
    that the record knows, what comes back from it is added, and nothing of it that was doctored."""
    new_house(place / "house")
    house, page, chance, found = place / "house", place / "page.html", random.Random(4), Counter(killed=0, pages=0)
    begun = monotonic()
    os.waitpid(os.fork() or _end(share_page, house, page), 0)
    took = monotonic() - begun
    for number in range(PAGES):
        process = os.fork() or _end(share_page, house, page)
        sleep(chance.uniform(0, 1.2 * took))
        os.kill(process, signal.SIGKILL)
        found["killed"] += os.WIFSIGNALED(os.waitpid(process, 0)[1])
        if not page.exists():
            continue
        text = page.read_text("utf-8")
        known = {sending.id: sending for sending in sendings(house)}
        ids = re.findall(r'"sent":{"id":"([0-9a-f]{32})"', text)
        if not text.rstrip().endswith("</html>") or len(ids) != 1 or ids[0] not in known:
            found["in part"] += 1
            continue
        found["pages"] += 1
        sent = known[ids[0]]
        content = answer_file(sent, {"id": f"{number:032x}", "room": sent.rooms[0]}, id=f"{number:032x}")
        back = place / f"{number}.json"
        for key, other in DOCTORED.items():
            back.write_text(json.dumps(content | {key: other}))
            with suppress(HouseFault):
                add_answers(house, back)
                found["let in"] += 1
        back.write_text(json.dumps(content))
        add_answers(house, back)
        add_answers(house, back)
    record, problems = read_record(house), list[Problem]()
    sendings(house, problems)
    found["torn"] = len(record.warnings) + len(problems)
    found["lost"] = found["pages"] - len({answer.id for answer in record.answers})
    found["twice"] = len(record.answers) - len({answer.id for answer in record.answers})
    return dict(found)


def _end(act: Callable[..., object], *given: object) -> NoReturn:
    """Do something and end the process."""
    try:
        act(*given)
    finally:
        os._exit(0)


def main() -> int:
    """Print every count; 1 where an answer that was acknowledged is not there whole and once."""
    pause = float(sys.argv[1]) if len(sys.argv) > 1 else 0.3
    entries = int(sys.argv[2]) if len(sys.argv) > 2 else ANSWERS
    passed = True
    for name, run in (
        (f"{WRITERS} writers x {entries:,} entries", lambda house: killed(house, pause, entries)),
        ("decisions and files that come back", lambda house: at_random(house, pause)),
        ("pages and what comes back", shared),
        ("a disk full at every byte", every_byte),
        ("a file system without room", full_disk),
    ):
        house = Path(mkdtemp())
        begun = monotonic()
        found = run(house)
        shutil.rmtree(house)
        if found is None:
            print(f"{name:<36} not measured: no file system can be mounted here")
            continue
        counts = ", ".join(f"{what} {number:,}" for what, number in found.items())
        print(f"{name:<36} {counts}; {monotonic() - begun:.0f} s")
        passed = passed and not any(found.get(what) for what in ("lost", "twice", "torn", "died", "in part", "let in"))
    return 0 if passed else 1


if __name__ == "__main__":
    raise SystemExit(main())
