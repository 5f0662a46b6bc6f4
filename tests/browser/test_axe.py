"""Every view of all three apps held to the rules of axe-core (WCAG 2.2 A and AA), light and dark, wide and narrow."""

from importlib import resources
from itertools import product

import pytest

from planner.apps.tabs import TABS
from planner.apps.team import beside
from planner.record.entries import MORE
from planner.record.keeping import open_session, say
from tests.browser.conftest import COMMANDS
from tests.browser.drawing import table
from tests.browser.driving import controls, tab, tier, until
from tests.serving import Served

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


CLEAR = """() => [...document.querySelectorAll('.output-area')].every(
    on => !on.closest('.marimo-output-stale') && getComputedStyle(on).opacity === '1')"""


def violations(page):
    """What breaks the rules once nothing is greyed any more because it is being made anew."""
    page.wait_for_function(CLEAR)
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


@pytest.mark.parametrize("width", [1440, 390])
def test_no_view_of_the_designer_s_breaks_one_after_a_change_or_an_answer(addresses, chromium, folder, width):
    say(open_session(folder, "Ada Bell"), "Ada Bell", "", "Stair Hall", MORE, "it is dark")
    context = chromium.new_context(viewport={"width": width, "height": 1000})
    context.set_default_timeout(60_000)
    page, found = context.new_page(), {}
    page.goto(addresses["design"])
    page.locator("canvas, svg.marks").first.wait_for()
    page.evaluate(SCRIPT)

    def held_to_them(name):
        if some := violations(page):
            found[name] = some

    controls(page, "Library").first.select_option("4")
    until(page, lambda: tier(page, "Library") == 4)
    page.locator(".pl-news").get_by_text("Moved: ").wait_for()
    for name in (name for name in TABS if name != "House"):
        tab(page, name)
        page.wait_for_load_state("networkidle")
        held_to_them(f"{name}, a room pinned")
    tab(page, "Answers")
    page.get_by_role("button", name="Take it in as a pin for Ada Bell on Stair Hall").click()
    page.get_by_text("Taken in as a pinned tier. Undo takes it back").wait_for()
    held_to_them("Answers, one taken in")
    tab(page, "Schedule")
    rail = page.locator("tr").filter(has=page.get_by_role("rowheader", name="chair rail", exact=True))
    rail.locator("select").last.select_option("moulded rail")
    page.get_by_role("row", name="1 chair rail in tier").wait_for()
    held_to_them("Schedule, a rule")
    tab(page, "House")
    table(page).wait_for()
    length = page.get_by_label("length of Entry Hall", exact=True)
    length.fill("wide")
    length.press("Enter")
    page.locator(".bd-faults").wait_for()
    page.get_by_role("button", name="Save the house").click()
    page.get_by_text("Nothing was saved; what you did is still here.").wait_for()
    held_to_them("House, a fault")
    tab(page, "Rooms")
    for room, tiers in (("Entry Hall", "1"), ("Dining Room", "4")):
        controls(page, room).first.select_option(tiers)
    page.get_by_text("No plan can keep all of these at once").wait_for()
    held_to_them("no plan")
    context.close()
    assert found == {}
