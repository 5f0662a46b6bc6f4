"""Every view of all three apps held to the rules of axe-core (WCAG 2.2 A and AA), light and dark, wide and narrow."""

from importlib import resources
from itertools import product

import pytest

from planner.apps.tabs import TABS
from planner.apps.team import beside
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

VIEWS = {"design": TABS, "compare": beside.TABS}


def violations(page):
    return [
        (rule, impact, target, html)
        for rule, impact, nodes in page.evaluate(RUN)
        for target, html in nodes
        if not any(rule == known and part in f"{target} {html}" for known, part in THE_FRAMEWORK_S)
    ]


@pytest.fixture(params=["light", "dark"])
def addresses(request, folder, tmp_path):
    """The addresses of the three apps, shown light or dark."""
    settings = tmp_path / "marimo" / "marimo.toml"
    settings.parent.mkdir()
    settings.write_text(f'[display]\ntheme = "{request.param}"\n', "utf-8")
    served = Served("serve", folder, XDG_CONFIG_HOME=str(tmp_path))
    yield dict(zip(COMMANDS, served.urls, strict=True))
    served.kill()


def test_no_view_of_any_app_breaks_a_serious_rule(addresses, chromium):
    found = {}
    for app, width in product(COMMANDS, (1440, 390)):
        context = chromium.new_context(viewport={"width": width, "height": 1000})
        context.set_default_timeout(60_000)
        page = context.new_page()
        page.goto(addresses[app])
        page.locator("canvas, svg.marks").first.wait_for()
        page.evaluate(SCRIPT)
        for name in VIEWS.get(app, [""]):
            if name:
                tab(page, name)
            page.wait_for_timeout(1000)
            if some := violations(page):
                found[app, name, width] = some
        context.close()
    assert found == {}
