"""The designer's app beside a bare notebook in one browser run: time to the first chart, and reaction to a slider.

Run it by itself: python tests/benchmarks/bench_browser.py [ROUNDS]. Prints seconds and ratios; exits 1 where a ratio
is above its target.
"""

import shutil
import sys
import tempfile
from pathlib import Path
from statistics import median

from playwright.sync_api import sync_playwright

sys.path.insert(0, str(Path(__file__).parents[1] / "browser"))
from conftest import CHROMIUM, QUIET, Served

from planner import bundled, demo_house

FIRST_CHART, REACTION = 1.6, 3.0
"""The most that the app may take, in times of the bare notebook."""

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

WATCH = """() => {
  // Every call that paints on a canvas leaves its time; asking a canvas for its pixels would itself take long.
  const paint = CanvasRenderingContext2D.prototype;
  window.painted = 0;
  for (const name of ['fill', 'stroke', 'fillText', 'fillRect', 'clearRect']) {
    const call = paint[name];
    paint[name] = function (...given) { window.painted = performance.now(); return call.apply(this, given); };
  }
  window.react = () => new Promise(done => {
    const started = performance.now();
    const look = () => {
      const now = performance.now();
      if (window.painted > started && now - window.painted > 400) done(window.painted - started);
      else if (now - started > 10000) done(-1);
      else setTimeout(look, 10);
    };
    look();
  });
}"""


def first_chart(page, url: str, charts: int) -> float:
    """Seconds from going to the page until all its charts are drawn."""
    page.goto("about:blank")
    page.goto(url, wait_until="commit")
    page.evaluate("() => 0")
    page.locator("canvas.marks, svg.marks").nth(charts - 1).wait_for()
    return page.evaluate("performance.now()") / 1000


def reaction(page, slider, key: str) -> float:
    """Seconds from a key on a slider until the last chart is drawn anew."""
    slider.focus()
    page.evaluate("() => { window.answer = window.react(); }")
    slider.press(key)
    taken = page.evaluate("window.answer")
    if taken < 0:
        raise RuntimeError("nothing was repainted")
    return taken / 1000


def main(rounds: int) -> int:
    with tempfile.TemporaryDirectory() as temporary, sync_playwright() as running:
        bare_file = Path(temporary, "bare.py")
        bare_file.write_text(BARE, "utf-8")
        house = Path(temporary, "house")
        shutil.copytree(demo_house(), house)
        bare, design = Served(bare_file), Served(bundled("notebooks") / "design.py", "--house", str(house))
        try:
            browser = running.chromium.launch(executable_path=CHROMIUM, args=QUIET)
            times = {"bare": ([], []), "design": ([], [])}
            for _ in range(rounds):
                for name, served, charts in (("bare", bare, 1), ("design", design, 2)):
                    page = browser.new_page(viewport={"width": 1440, "height": 1000})
                    times[name][0].append(first_chart(page, served.url, charts))
                    if name == "design":
                        page.get_by_role("tab", name="Weights and limits").click()
                    slider = page.get_by_role("slider").last
                    slider.wait_for()
                    page.wait_for_timeout(1500)
                    page.evaluate(WATCH)
                    times[name][1].extend(reaction(page, slider, key) for key in ("End", "Home") * 3)
                    page.close()
            browser.close()
        finally:
            bare.kill()
            design.kill()
    missed = 0
    for number, (what, most) in enumerate((("first chart", FIRST_CHART), ("reaction", REACTION))):
        ours, floor = median(times["design"][number]), median(times["bare"][number])
        print(f"{what}: bare {floor:.3f} s, design {ours:.3f} s, ratio {ours / floor:.2f} (target {most})")
        missed += ours / floor > most
    return int(bool(missed))


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 3))
