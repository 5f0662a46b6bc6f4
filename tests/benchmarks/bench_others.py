"""How long it takes until what one person saves or says is shown in the others' open pages.

Run it by itself: python tests/benchmarks/bench_others.py [ROUNDS]. One server, and in one browser the pages of a
designer, a client and a member of the team, all open at once. What is measured is the time from the moment when what
was written stands in its place until another page shows it. Prints seconds, and how many times of WATCHING that is, the
least that a page which looks for changes so often can take; exits 1 where one is above SECONDS.
"""

import shutil
import sys
import tempfile
from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import partial
from pathlib import Path
from statistics import median
from time import perf_counter

from playwright.sync_api import Browser, Page, sync_playwright

sys.path.insert(0, str(Path(__file__).parents[1] / "browser"))
sys.path.insert(0, str(Path(__file__).parents[2]))
from conftest import CHROMIUM, COMMANDS, QUIET

from planner import demo_house, edits, read_intent, write_intent
from planner.apps.watching import EVERY
from planner.record.entries import Answer, Remark, Reply, Vote
from planner.record.keeping import keep, open_session
from tests.benchmarks.bench_browser import spread
from tests.browser.driving import tab, visitor
from tests.serving import Served

SECONDS = 2.0
"""The most that anything may take until the others see it."""

WATCHING = 2 * EVERY
"""A page acts when it has found the same change twice [s]."""

NAME, WHO = "measured", "Bert"


def shown(page: Page, words: str, act: Callable[[], object]) -> float:
    """Seconds from the end of an act until a page shows words that it does not show yet."""
    found = page.get_by_text(words).first
    if found.count():
        raise RuntimeError(f"{words} is there already")
    act()
    begun = perf_counter()
    found.wait_for()
    return perf_counter() - begun


def followed(house: Path, pages: dict[str, Page], number: int) -> Iterator[tuple[str, float]]:
    """What people say and save in a round: what it is and where it is to be seen, and the seconds until it is."""
    file = open_session(house, WHO)
    client = open_session(house, "Ada", visitor(pages["review"]))
    said = Answer(who="Ada", alternative=NAME, room="Entry Hall", answer="less", remark=f"remark {number}")
    yield "an answer at the designer's", shown(pages["design"], said.remark, lambda: keep(client, said))
    reply = Reply(who=WHO, alternative=NAME, room="Entry Hall", to=said.id, word=f"word {number}")
    yield "a reply at the client's", shown(pages["review"], f"word {number}", lambda: keep(file, reply))
    vote = Vote(who=f"Voter {number}", alternative=NAME, fingerprint="", vote="for")
    yield "a vote at the team's", shown(pages["compare"], f"Voter {number}: for", lambda: keep(file, vote))
    remark = Remark(who=WHO, alternative=NAME, fingerprint="", remark=f"calm {number}")
    yield "a remark at the team's", shown(pages["compare"], f"calm {number}", lambda: keep(file, remark))
    for app in pages:
        title = f"Title {number} {app}"
        intent = edits.pin(replace(read_intent(house, NAME), title=title), "Guest Bedroom", 2 + number % 2)
        save = partial(write_intent, intent, house, NAME)
        yield f"an alternative in {app}", shown(pages[app], title, save)


def opened(browser: Browser, urls: dict[str, str]) -> dict[str, Page]:
    """A page of each app, on what is said where there is a tab of that."""
    pages = {app: browser.new_context(viewport={"width": 1440, "height": 1000}).new_page() for app in urls}
    for app, page in pages.items():
        page.goto(urls[app])
        page.locator("canvas, svg.marks").first.wait_for()
    tab(pages["design"], "Answers")
    tab(pages["compare"], "What is said")
    pages["compare"].get_by_label("What you say of it").first.wait_for()
    return pages


def main(rounds: int) -> int:
    """Print every figure; 1 where something is shown later than it may be."""
    times = dict[str, list[float]]()
    with tempfile.TemporaryDirectory() as temporary, sync_playwright() as running:
        house = shutil.copytree(demo_house(), Path(temporary, "house"))
        served = Served("serve", house, "--alternative", NAME, "--alternative", "formal")
        browser = running.chromium.launch(executable_path=CHROMIUM, args=QUIET)
        try:
            pages = opened(browser, dict(zip(COMMANDS, served.urls, strict=True)))
            for number in range(rounds):
                for what, seconds in followed(house, pages, number):
                    times.setdefault(what, []).append(seconds)
        finally:
            browser.close()
            served.kill()
    for what, found in times.items():
        print(f"{what}: {spread(found)}, {median(found) / WATCHING:.2f} times {WATCHING} s (at most {SECONDS} s)")
    return int(any(median(found) > SECONDS for found in times.values()))


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 5))
