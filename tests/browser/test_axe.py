"""Every view of all three apps held to the rules of axe-core (WCAG 2.2 A and AA), light and dark, wide and narrow."""

from importlib import resources

import pytest

from planner.apps.tabs import TABS
from tests.browser.conftest import COMMANDS
from tests.browser.driving import tab
from tests.serving import Served

pytestmark = pytest.mark.browser

axe = pytest.importorskip("axe_playwright_python", reason="axe is not installed: pip install axe-playwright-python")
SCRIPT = resources.files("axe_playwright_python").joinpath("axe.min.js").read_text("utf-8")

RUN = """async () => {
    const found = await axe.run(document, {resultTypes: ['violations']});
    return found.violations.filter(v => ['critical', 'serious'].includes(v.impact)).map(
        v => [v.id, v.impact, v.nodes.map(n => [n.target.flat(3).join(' '), n.html.slice(0, 160)])]);
}"""

THE_FRAMEWORK_S = {
    # What it draws by itself: the input of a choice of files, not seen and not reached by keys, behind a button
    # that is both and has its words.
    ("label", "marimo-file"),
}
"""Rules that something of the framework's breaks, each with a part of its path."""

VIEWS = {"design": TABS}


def violations(page):
    page.evaluate(SCRIPT)
    return [
        (rule, impact, target, html)
        for rule, impact, nodes in page.evaluate(RUN)
        for target, html in nodes
        if not any(rule == known and part in f"{target} {html}" for known, part in THE_FRAMEWORK_S)
    ]


@pytest.mark.parametrize("theme", ["light", "dark"])
@pytest.mark.parametrize("app", ["design", "review", "compare"])
def test_no_serious_fault(folder, chromium, app, theme, tmp_path):
    settings = tmp_path / "marimo" / "marimo.toml"
    settings.parent.mkdir()
    settings.write_text(f'[display]\ntheme = "{theme}"\n', "utf-8")
    served = Served(COMMANDS[app], folder, XDG_CONFIG_HOME=str(tmp_path))
    found = {}
    try:
        for width, height in ((1440, 1000), (390, 844)):
            context = chromium.new_context(viewport={"width": width, "height": height})
            context.set_default_timeout(60_000)
            page = context.new_page()
            page.goto(served.url)
            page.locator("canvas, svg.marks").first.wait_for()
            for name in VIEWS.get(app, [""]):
                if name:
                    tab(page, name)
                page.wait_for_timeout(2000)
                if some := violations(page):
                    found[name, width] = some
            context.close()
    finally:
        served.kill()
    assert found == {}
