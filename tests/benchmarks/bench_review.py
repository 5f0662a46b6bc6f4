"""The client's app beside a bare notebook in one browser run: from an answer until the plan of the house shows it.

Run it by itself: python tests/benchmarks/bench_review.py [ROUNDS]. Prints seconds and the ratio; exits 1 where that is
above TARGET. The bare notebook is that of bench_browser, measured again before each answer. An answer is painted when
the floor plan and the step-down are; it is told when the line of sums says it.
"""

import shutil
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path
from statistics import median

from playwright.sync_api import Browser, Page, sync_playwright

sys.path.insert(0, str(Path(__file__).parents[1] / "browser"))
sys.path.insert(0, str(Path(__file__).parents[2]))
from conftest import CHROMIUM, QUIET

from planner import demo_house
from tests.benchmarks.bench_browser import AGAIN, BARE, BARE_URL, bare_served, opened, reaction, shown, spread
from tests.serving import Served

TARGET = 3.0
"""The most that an answer may take, in times of the bare notebook's reaction."""

ROOM, ANSWERS = "Library", ("A little richer", "Keep it")

SUM = "document.querySelector('.pl-sum')?.innerText.match(/(\\d+|No) rooms? of the house would change/)?.[1]"


def answering(page: Page, answer: str) -> None:
    """Press an answer, whether it was given before or not."""
    page.locator("figure").get_by_role("button", name=answer).click()


def measured(browser: Browser, bare_url: str, review_url: str) -> Iterator[tuple[str, float, float]]:
    """One round: what is measured, seconds of the bare notebook, seconds of the app."""
    bare, floor = opened(browser, bare_url, 1)
    review, ours = opened(browser, review_url, 2)
    yield "first chart", floor, ours
    slider, keys = bare.get_by_role("slider"), ("End", "Home")
    slider.focus()
    review.get_by_label("Your name").fill("Ada Bell")
    review.get_by_label("Room", exact=True).select_option(ROOM)
    review.get_by_role("heading", name=ROOM).wait_for()
    review.wait_for_timeout(2000)
    for number in range(AGAIN):
        floor = reaction(bare, lambda key=keys[number % 2]: slider.press(key))
        yield "painted", floor, reaction(review, lambda said=ANSWERS[number % 2]: answering(review, said))
        review.wait_for_timeout(1000)
    for number in range(AGAIN):
        floor = reaction(bare, lambda key=keys[number % 2]: slider.press(key))
        moved = "2" if number % 2 == 0 else "No"
        yield "told", floor, shown(review, SUM, moved, lambda said=ANSWERS[number % 2]: answering(review, said))
        review.wait_for_timeout(1000)
    bare.close()
    review.close()


def main(rounds: int) -> int:
    """Print every figure; 1 where an answer is painted or told later than it may be."""
    times = dict[str, list[tuple[float, float]]]()
    with tempfile.TemporaryDirectory() as temporary, sync_playwright() as running:
        bare_file = Path(temporary, "bare.py")
        bare_file.write_text(BARE, "utf-8")
        house = shutil.copytree(demo_house(), Path(temporary, "house"))
        bare, review = bare_served(bare_file), Served("review", house, "--alternative", "measured")
        browser = running.chromium.launch(executable_path=CHROMIUM, args=QUIET)
        try:
            for _ in range(rounds):
                for what, floor, ours in measured(browser, BARE_URL, review.url):
                    times.setdefault(what, []).append((floor, ours))
        finally:
            browser.close()
            bare.kill()
            review.kill()
    missed = False
    for what, found in times.items():
        floors, ours = map(list, zip(*found, strict=True))
        ratio = median(ours) / median(floors)
        asked = "" if what == "first chart" else f" (target {TARGET})"
        print(f"{what}: bare {spread(floors)}, review {spread(ours)}, ratio {ratio:.2f}{asked}")
        missed |= bool(asked) and ratio > TARGET
    return int(missed)


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 3))
