"""People as processes of their own, who acknowledge every entry of the record that is kept and may be killed."""

import os
import signal
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path

from planner.record.entries import KEEP, Answer, AnyEntry, ElementWish, Remark, Reply, Vote
from planner.record.keeping import keep, read_record


def nth(name: str, number: int, mark: str = "") -> AnyEntry:
    """What a person says the so manieth time, of an alternative of that number: each kind that is said in its turn."""
    said = {"who": name, "alternative": f"{name} {number}", "fingerprint": mark}
    made: tuple[AnyEntry, ...] = (
        Answer(**said, room="Library", answer=KEEP, remark="née", wishes=(ElementWish("chair rail", False),)),
        Reply(**said, room="Library", to="a" * 32, word="with pleasure 🙂", taken="range"),
        Vote(**said, vote="for"),
        Remark(**said, remark="dear, and worth it"),
    )
    return made[number % len(made)]


@dataclass
class Writer:
    """One person who says so many things, each of another alternative, and says again what was not acknowledged.

    `kept` is what was acknowledged so far, each by its number and the life of the process that said it.
    """

    file: Path
    name: str
    count: int
    life: int = 0
    process: int = 0
    pipe: int = -1
    kept: list[tuple[int, int]] = field(default_factory=list)
    heard: bytes = b""

    @property
    def done(self) -> bool:
        """Whether every answer was acknowledged."""
        return len(self.kept) == self.count

    def start(self) -> None:
        """Go on where the answers that were acknowledged end."""
        reading, writing = os.pipe()
        begin, self.life, self.heard = len(self.kept), self.life + 1, b""
        self.process = os.fork()
        if not self.process:
            os.close(reading)
            for number in range(begin, self.count):
                keep(self.file, nth(self.name, number, f"life {self.life}"))
                os.write(writing, b"%d\n" % number)
            os._exit(0)
        os.close(writing)
        os.set_blocking(reading, False)
        self.pipe = reading

    def listen(self) -> bool:
        """Hear what was acknowledged meanwhile; whether the process may have more to say."""
        while True:
            try:
                read = os.read(self.pipe, 1 << 16)
            except BlockingIOError:
                return True
            if not read:
                return False
            *whole, self.heard = (self.heard + read).split(b"\n")
            self.kept += [(int(number), self.life) for number in whole]

    def kill(self) -> None:
        """End the process now."""
        os.kill(self.process, signal.SIGKILL)
        self.end()

    def end(self) -> None:
        """Wait for the process to end, and hear its last words."""
        os.waitpid(self.process, 0)
        self.listen()
        os.close(self.pipe)


def account(house: Path, writers: Iterable[Writer]) -> dict[str, int]:
    """How many entries were acknowledged, and how many of these are lost or there more than once; how many lines are
    torn; and how many entries are kept, with those that were said again because nobody acknowledged them."""
    entries, warnings = read_record(house)
    there = Counter((said.alternative, said.fingerprint) for said in entries)
    kept = [(f"{w.name} {number}", f"life {life}") for w in writers for number, life in w.kept]
    return {
        "acknowledged": len(kept),
        "lost": sum(there[one] == 0 for one in kept),
        "twice": sum(there[one] > 1 for one in kept) + (len(kept) - len(set(kept))),
        "torn": len(warnings),
        "kept": len(entries),
    }
