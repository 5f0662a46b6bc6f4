"""Clients who answer, and members of a team who vote and remark, through a real server, which is killed again and again
and started anew.

Run by hand: python -m tests.benchmarks.soak_server [PEOPLE [ANSWERS OF EACH [KILLS [ENTRIES [APP]]]]], APP review or
compare. Each client opens the page of the review as a browser does, chooses a room, writes a remark that nobody else
writes and presses an answer; it counts as acknowledged where the page then shows the remark among what was said. Each
member of a team writes a remark on an alternative in the page that compares, and votes. Where the connection breaks
before, the page is opened again, once there is a server, and it is said again. With entries, the writers of
soak_answers say so many things each to the same record meanwhile, and are killed too. Prints how many that were
acknowledged are lost or there twice and how many lines are torn; exits 1 where any is. A page that stays silent though
nobody has killed its server ends the run.
"""

import multiprocessing
import random
import shutil
import sys
import tempfile
import time
from collections import Counter
from concurrent.futures import Future, ProcessPoolExecutor, ThreadPoolExecutor, as_completed
from pathlib import Path
from threading import Event, Lock
from typing import Any

from planner import demo_house, read_house
from planner.apps.team.beside import TABS
from planner.record.keeping import read_record
from planner.record.voices import votes
from tests.benchmarks.soak_answers import WRITERS, killed
from tests.serving import Page, Served

STRUCK = 0.3
"""Seconds between two kills of writers, in the middle."""

PAUSE = 1.0
"""The server is killed so many seconds at most after as many answers as chance says."""


class Serving:
    """The server that there is at the moment."""

    def __init__(self, app: str, house: Path):
        self.app, self.house, self.kills, self.heard, self.ended = app, house, 0, 0, Event()
        self._turn = Lock()
        self._served = Served(app, house)

    @property
    def url(self) -> str:
        """The address of the page, with its key; waits while there is no server."""
        with self._turn:
            return self._served.url

    def kill(self) -> None:
        """End the server as a crash would, and start another."""
        with self._turn:
            self.kills += 1
            self._served.kill()
            self._served = Served(self.app, self.house)

    def end(self) -> None:
        """End the last server."""
        self._served.kill()


def opened(serving: Serving, who: str) -> Page:
    """The page in which things are said, under a name."""
    page = Page(serving.url)
    if serving.app == "compare":
        page.open_tab(TABS.index("What is said"))
        page.until(lambda shown: "What you say of it" in shown)
    page.set("Your name", who)
    return page


def answer(page: Page, who: str, remark: str, room: str) -> tuple[str, str]:
    """Say something of a room; the room and the remark, once the page shows it."""
    page.choose("Room", room)
    page.until(lambda shown: f'<h3 class="pl-head">{room}</h3>' in shown)
    page.set("Anything to add?", remark)
    page.press("Only my words")
    page.until(lambda shown: f">{remark}</td>" in shown)
    return room, remark


def vote(page: Page, who: str, remark: str, _: str) -> tuple[str, str]:
    """Say something of the first alternative and vote for it, then against it; who and the remark, once the page shows
    all."""
    page.set("What you say of it", remark)
    page.press("Say it")
    page.until(lambda shown: f"<li>{who}: {remark}</li>" in shown)
    for label, shows in (("For it", "for"), ("Against it", "against")):
        page.press(label)
        page.until(lambda shown, shows=shows: f"<li>{who}: {shows}</li>" in shown)
    return who, remark


SAY = {"review": answer, "compare": vote}


def person(serving: Serving, number: int, answers: int, rooms: list[str]) -> list[tuple[str, str]]:
    """Say so many things, and return what was acknowledged: of which room or by whom, and the remark."""
    chance, kept, life, kills, page = random.Random(number), list[tuple[str, str]](), 0, 0, None
    who = f"Person {number}"
    while len(kept) < answers:
        try:
            if page is None:
                life, kills = life + 1, serving.kills
                page = opened(serving, who)
            remark = f"person {number} answer {len(kept)} life {life}"
            kept.append(SAY[serving.app](page, who, remark, chance.choice(rooms)))
            serving.heard += 1
        except (OSError, RuntimeError, EOFError):
            if serving.kills == kills:
                raise
            page = None
    return kept


def killing(serving: Serving, kills: int, answers: int) -> None:
    """Kill the server so often at random moments while it answers, as long as of so many answers some are to come."""
    chance = random.Random(3)
    moments = sorted(chance.sample(range(answers), min(kills, answers)))
    while moments and not serving.ended.wait(chance.uniform(0, PAUSE)):
        if serving.heard >= moments[0]:
            serving.kill()
            moments.pop(0)


def answered(serving: Serving, clients: int, answers: int, kills: int, rooms: list[str]) -> list[tuple[str, str]]:
    """Let all clients answer while the server is killed; what was acknowledged."""
    try:
        with ThreadPoolExecutor(clients + 1) as people:
            killer = people.submit(killing, serving, kills, clients * answers)
            asked = [people.submit(person, serving, number, answers, rooms) for number in range(clients)]
            running: list[Future[Any]] = [killer, *asked]
            try:
                for done in as_completed(running):
                    done.result()  # whatever went wrong first is told
                    if all(one.done() for one in asked):
                        serving.ended.set()
            finally:
                serving.ended.set()
            return [said for one in asked for said in one.result()]
    finally:
        serving.end()


def main(clients: int, answers: int, kills: int, entries: int, app: str) -> int:
    """Print every count; 1 where an answer that was acknowledged is not there whole and once."""
    alone = ProcessPoolExecutor(1, multiprocessing.get_context("spawn"))  # a process of threads is not to be forked
    with tempfile.TemporaryDirectory() as temporary, alone as others:
        house = shutil.copytree(demo_house(), Path(temporary, "house"))
        rooms = [room.name for room in read_house(house)[0].rooms if room.name.isascii() and "'" not in room.name]
        begun = time.monotonic()
        written = others.submit(killed, house, STRUCK, entries) if entries else None
        serving = Serving(app, house)
        kept = answered(serving, clients, answers, kills, rooms)
        beside = written.result() if written else {}
        record = read_record(house)
    there = Counter((one.room, one.remark) for one in record.answers)
    there += Counter((one.who, one.remark) for one in record.remarks)
    lost, twice = sum(there[one] == 0 for one in kept), sum(there[one] > 1 for one in kept)
    if app == "compare":
        against = {
            one.who
            for name in {v.alternative for v in record.votes}
            for one in votes(record, name)
            if one.vote == "against"
        }
        lost += sum(who not in against for who, _ in dict.fromkeys(kept))
    print(
        f"{app}: {clients} people x {answers:,} answers: acknowledged {len(kept):,}, lost {lost}, twice {twice}, ",
        end="",
    )
    print(f"torn {len(record.warnings)}, server killed {serving.kills}; {time.monotonic() - begun:.0f} s")
    if beside:
        counts = ", ".join(f"{what} {number:,}" for what, number in beside.items())
        print(f"{WRITERS} writers x {entries:,} entries: {counts}")
    return int(bool(lost or twice or record.warnings or any(beside.get(what) for what in ("lost", "twice", "torn"))))


if __name__ == "__main__":
    asked = next((word for word in sys.argv[1:] if word in SAY), "review")
    counts = [int(word) for word in sys.argv[1:] if word not in SAY]
    many, each, struck, beside = (*counts, *(8, 20, 20, 0)[len(counts) :])
    sys.exit(main(many, each, struck, beside, asked))
