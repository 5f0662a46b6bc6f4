"""The designer's app beside a bare notebook in one browser run: time to the first chart, and reactions to changes.

A cell of the schedule has reacted when it shows what was chosen in it.

Run it by itself: python tests/benchmarks/bench_browser.py [ROUNDS]. Prints seconds and ratios; exits 1 where a ratio
is above its target. The bare notebook has one slider and one chart. It is measured again before each change of the
app, so that both share whatever else the machine is at.
"""

import shutil
import subprocess
import sys
import tempfile
import time
import urllib.request
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from statistics import median, quantiles

from playwright.sync_api import Browser, Page, sync_playwright

sys.path.insert(0, str(Path(__file__).parents[1] / "browser"))
sys.path.insert(0, str(Path(__file__).parents[2]))
from conftest import CHROMIUM, QUIET

from planner import demo_house
from tests.serving import Served

TARGETS = {"first chart": 1.3, "weight": 2.0, "pin": 2.0, "tiers": 3.0, "undo": 3.0, "cell": 3.0}
TARGETS |= {"period": 3.0, "strip": 3.0}
"""The most that the app may take, in times of the bare notebook."""

AGAIN = 4
"""How often a change is made in a round, there and back."""

BARE_PORT = 18_480
BARE_URL = f"http://127.0.0.1:{BARE_PORT}"

BARE = """
import marimo

app = marimo.App()

with app.setup:
    import altair as alt
    import marimo as mo
    import pandas as pd


@app.cell
def _():
    slider = mo.ui.slider(0, 20, 1, label="height")
    slider
    return (slider,)


@app.cell
def _(slider):
    bars = pd.DataFrame({"x": ["a", "b", "c"], "y": [3, 5, slider.value]})
    mo.ui.altair_chart(alt.Chart(bars).mark_bar().encode(x="x", y="y"))
    return
"""

WATCH = """
// Every call that paints on a canvas leaves its time; asking a canvas for its pixels would itself take long.
window.painted = 0;
window.first_painted = new Map();
const paint = CanvasRenderingContext2D.prototype;
for (const name of ['fill', 'stroke', 'fillText', 'fillRect', 'clearRect']) {
  const call = paint[name];
  paint[name] = function (...given) {
    window.painted = performance.now();
    if (this.canvas.isConnected && !window.first_painted.has(this.canvas))
      window.first_painted.set(this.canvas, window.painted);
    return call.apply(this, given);
  };
}
// A reaction is counted from what a person does, not from when a test asks for it.
window.began = 0;
for (const name of ['keydown', 'input', 'click'])
  addEventListener(name, event => { window.began ||= event.timeStamp; }, true);
window.react = () => new Promise(done => {
  const asked = performance.now();
  window.began = window.painted = 0;
  const look = () => {
    const now = performance.now();
    if (window.began && window.painted > window.began && now - window.painted > 400)
      done(window.painted - window.began);
    else if (now - asked > 15000) done(-1);
    else setTimeout(look, 10);
  };
  look();
});
"""


SHOWN = """
// From what a person does until something is to be seen on the page, in the frame that shows it. The page's policy
// lets no text be run as a script, so what is looked for stands in this one.
wanted => {
  const seen = () => SEEN;
  window.answer = new Promise(done => {
    const asked = performance.now();
    window.began = 0;
    const look = () => {
      const found = seen();
      if (window.began && found === wanted) requestAnimationFrame(() => done(performance.now() - window.began));
      else if (performance.now() - asked > 15000) done(-1);
      else setTimeout(look, 5);
    };
    look();
  });
}
"""

DEPARTS = "document.querySelectorAll('.pl-cell b').length > 0"
PERIOD = "document.querySelector('.pl-title')?.innerText.match(/(\\w[\\w ]*) style, /)?.[1]"
WALKED = "document.querySelector('.pl-drawing svg title')?.textContent.replace(/.* to /, '').replace(/, as .*/, '')"
"""What is to be seen: whether a cell departs from the style, the period in the bar, where the walls walked by end."""


def opened(browser: Browser, url: str, charts: int) -> tuple[Page, float]:
    """A page once all its charts are drawn, and the seconds that it took from going there."""
    page = browser.new_page(viewport={"width": 1440, "height": 1000})
    page.add_init_script(WATCH)
    page.goto(url, wait_until="commit")
    page.wait_for_function("charts => window.first_painted.size >= charts", arg=charts)
    taken = page.evaluate("charts => [...window.first_painted.values()][charts - 1]", charts)
    page.wait_for_timeout(1500)
    return page, taken / 1000


def reaction(page: Page, act: Callable[[], object]) -> float:
    """Seconds from what is done on a page until its last chart is drawn anew."""
    page.bring_to_front()
    page.evaluate("() => { window.answer = window.react(); }")
    act()
    taken = page.evaluate("window.answer")
    if taken < 0:
        raise RuntimeError("nothing was repainted")
    return taken / 1000


def changes(page: Page) -> Iterator[tuple[str, Callable[[], object]]]:
    """Each kind of change that is measured, with what makes it, AGAIN times; the tab that it is on is open then."""
    page.get_by_role("tab", name="Weights").click()
    slider, tiers = page.get_by_role("slider").last, page.get_by_label("Tiers", exact=True)
    slider.wait_for()
    slider.focus()
    page.wait_for_timeout(500)
    for _ in range(AGAIN // 2):
        yield from (("weight", lambda key=key: slider.press(key)) for key in ("End", "Home"))
    for _ in range(AGAIN // 2):
        yield from (("tiers", lambda many=many: tiers.select_option(many)) for many in ("6", "5"))
    page.get_by_role("tab", name="Rooms", exact=True).click()
    row = page.locator("tr").filter(has=page.locator("th", has_text="Entry Hall")).first
    row.wait_for()
    page.wait_for_timeout(500)
    for _ in range(AGAIN // 2):
        yield from (("pin", lambda to=to: row.locator("select").first.select_option(to)) for to in ("5", "–"))
    for _ in range(AGAIN // 2):
        yield from (("undo", page.get_by_role("button", name=to).click) for to in ("Undo", "Redo"))


def shown(page: Page, what: str, wanted: object, act: Callable[[], object]) -> float:
    """Seconds from what is done on a page until something is to be seen on it."""
    page.bring_to_front()
    page.evaluate(SHOWN.replace("SEEN", what), wanted)
    act()
    taken = page.evaluate("window.answer")
    if taken < 0:
        raise RuntimeError(f"{wanted!r} was never to be seen")
    page.wait_for_timeout(500)
    return taken / 1000


def sights(page: Page) -> Iterator[tuple[str, float]]:
    """Each kind of change whose answer is not in the charts, and its seconds, AGAIN times."""
    page.get_by_role("tab", name="Schedule", exact=True).click()
    row = page.locator("tr").filter(has=page.get_by_role("rowheader", name="chair rail", exact=True))
    row.wait_for()
    page.wait_for_timeout(1000)
    control = row.locator("select").nth(3)
    for _ in range(AGAIN // 2):
        for form, departs in (("moulded rail", True), ("as it is", False)):
            yield "cell", shown(page, DEPARTS, departs, lambda form=form: control.select_option(form))
    page.get_by_role("tab", name="Weights", exact=True).click()
    period = page.get_by_label("Period", exact=True)
    period.wait_for()
    page.wait_for_timeout(1000)
    for _ in range(AGAIN // 2):
        for choice, said in (("federal", "federal"), ("as usual (georgian)", "georgian")):
            yield "period", shown(page, PERIOD, said, lambda choice=choice: period.select_option(choice))
    page.get_by_role("tab", name="Walk", exact=True).click()
    page.get_by_role("img", name="From Entry Hall to").first.wait_for()
    rooms = page.get_by_label("Room on the plan")
    for _ in range(AGAIN // 2):
        for room in ("West Bedroom", "Guest Bedroom"):
            option = rooms.locator("option").filter(has_text=f"{room}, tier").inner_text()
            yield "strip", shown(page, WALKED, room, lambda option=option: rooms.select_option(label=option))


def bare_served(notebook: Path) -> subprocess.Popen[bytes]:
    """A notebook, served by the framework's own command."""
    command = [sys.executable, "-m", "marimo", "run", str(notebook), "--headless", "--port", str(BARE_PORT)]
    served = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    while True:
        with suppress(OSError), urllib.request.urlopen(f"{BARE_URL}/health", timeout=5):
            return served
        if served.poll() is not None:
            raise RuntimeError(f"{notebook} did not start")
        time.sleep(0.1)


@contextmanager
def served() -> Iterator[tuple[str, str]]:
    """The addresses of the bare notebook and of the app on a copy of the demo house."""
    with tempfile.TemporaryDirectory() as temporary:
        bare_file = Path(temporary, "bare.py")
        bare_file.write_text(BARE, "utf-8")
        house = shutil.copytree(demo_house(), Path(temporary, "house"))
        bare, design = bare_served(bare_file), Served("open", house)
        try:
            yield BARE_URL, design.url
        finally:
            bare.kill()
            design.kill()


def measured(browser: Browser, bare_url: str, design_url: str) -> Iterator[tuple[str, float, float]]:
    """One round: what is measured, seconds of the bare notebook, seconds of the app."""
    bare, floor = opened(browser, bare_url, 1)
    design, ours = opened(browser, design_url, 2)
    yield "first chart", floor, ours
    slider, keys = bare.get_by_role("slider"), ("End", "Home")
    slider.focus()
    for number, (what, act) in enumerate(changes(design)):
        bare_time = reaction(bare, lambda key=keys[number % 2]: slider.press(key))
        yield what, bare_time, reaction(design, act)
    for number, (what, ours) in enumerate(sights(design)):
        yield what, reaction(bare, lambda key=keys[number % 2]: slider.press(key)), ours
    bare.close()
    design.close()


def spread(seconds: list[float]) -> str:
    """The median, and between which two the middle half lies."""
    low, middle, high = quantiles(seconds, n=4) if len(seconds) > 1 else seconds * 3
    return f"{middle:.3f} s ({low:.3f} to {high:.3f})"


def main(rounds: int) -> int:
    times: dict[str, list[tuple[float, float]]] = {what: [] for what in TARGETS}
    with served() as urls, sync_playwright() as running:
        browser = running.chromium.launch(executable_path=CHROMIUM, args=QUIET)
        for _ in range(rounds):
            for what, floor, ours in measured(browser, *urls):
                times[what].append((floor, ours))
        browser.close()
    missed = False
    for what, most in TARGETS.items():
        floors, ours = map(list, zip(*times[what], strict=True))
        ratio = median(ours) / median(floors)
        print(f"{what}: bare {spread(floors)}, design {spread(ours)}, ratio {ratio:.2f} (target {most})")
        missed |= ratio > most
    return int(missed)


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 3))
