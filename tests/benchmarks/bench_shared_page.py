"""The page that is sent beside one of the same make on a house of one room, in one browser run, both from files and
without a network: time from opening until it can be used, from there to the plan, and from an answer to what it does.

Run it by itself: python tests/benchmarks/bench_shared_page.py [ROUNDS]. Prints seconds and ratios; exits 1 where the
page can be used later than both SOONEST and TIMES allow.
"""

import shutil
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path
from statistics import median

from playwright.sync_api import Browser, sync_playwright

sys.path.insert(0, str(Path(__file__).parents[1] / "browser"))
sys.path.insert(0, str(Path(__file__).parents[2]))
from conftest import CHROMIUM, QUIET

from planner import demo_house, new_house, share_page

SOONEST, TIMES = 2.0, 1.5
"""It is quick enough in so many seconds, or in so many times of the page with one room."""

WATCH = """
window.until = (seen, began) => new Promise(done => {
  const shown = () => done(performance.now() - began);
  const look = () => requestAnimationFrame(seen() ? shown : look);
  look();
});
window.usable = new Promise(done => addEventListener('DOMContentLoaded', () =>
  window.until(() => document.activeElement.id === 'name', 0).then(done)));
"""

PLAN = "() => [...document.querySelectorAll('#map img')].some(e => e.offsetParent && e.complete && e.naturalWidth)"
DOES = "() => document.getElementById('moves') || document.querySelector('#effect h3').textContent.startsWith('Kept')"


def measured(browser: Browser, page: Path) -> Iterator[tuple[str, float]]:
    """One opening of a page: what is measured, and its seconds."""
    context = browser.new_context(viewport={"width": 1440, "height": 1000}, offline=True)
    opened = context.new_page()
    opened.add_init_script(WATCH)
    opened.goto(page.as_uri(), wait_until="commit")
    yield "can be used", opened.evaluate("window.usable") / 1000
    opened.get_by_label("Your name").fill("Ada Bell")
    acts = {
        "plan": ("document.querySelector('#ask button').click()", PLAN),
        "answer": ("document.querySelector('input[name=answer]:not(:disabled)').click()", DOES),
    }
    for what, (act, seen) in acts.items():
        yield (
            what,
            opened.evaluate(f"() => {{ const at = performance.now(); {act}; return until({seen}, at); }}") / 1000,
        )
    context.close()


def main(rounds: int) -> int:
    """Both pages, in turn, so many times."""
    with tempfile.TemporaryDirectory() as temporary, sync_playwright() as running:
        place = Path(temporary)
        house = shutil.copytree(demo_house(), place / "house")
        new_house(place / "blank")
        whole = share_page(house, place / "whole.html")
        empty = share_page(place / "blank", place / "empty.html")
        browser = running.chromium.launch(executable_path=CHROMIUM, args=QUIET)
        times: dict[tuple[str, Path], list[float]] = {}
        for _ in range(rounds):
            for page in (empty.file, whole.file):
                for what, seconds in measured(browser, page):
                    times.setdefault((what, page), []).append(seconds)
        browser.close()
    print(f"the demo house with its alternatives: {whole.size / 1e6:.2f} MB; one room: {empty.size / 1e6:.2f} MB")
    for what in dict.fromkeys(what for what, _ in times):
        floor, ours = (median(times[what, page]) for page in (empty.file, whole.file))
        print(f"{what}: one room {floor:.3f} s, whole house {ours:.3f} s, ratio {ours / floor:.2f}")
    floor, ours = (median(times["can be used", page]) for page in (empty.file, whole.file))
    return int(ours > SOONEST and ours > TIMES * floor)


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 7))
