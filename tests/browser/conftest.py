"""An app served on a copy of the demo house, and a real Chromium to drive it."""

import shutil
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

import pytest

from planner import demo_house
from tests.browser import driving
from tests.conftest import FAILED
from tests.serving import Served

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser") or "/usr/bin/chromium"
QUIET = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking"]
QUIET += ["--disable-component-update", "--disable-sync"]


COMMANDS = {"design": "open", "review": "review", "compare": "compare"}
"""The commands that open each app."""


@pytest.fixture(scope="session")
def shelf(tmp_path_factory) -> Path:
    """Where the house of the test that is running stands; servers outlive a test."""
    return tmp_path_factory.mktemp("served") / "house"


@pytest.fixture
def folder(shelf) -> Path:
    """A fresh copy of the demo house."""
    shutil.rmtree(shelf, ignore_errors=True)
    return shutil.copytree(demo_house(), shelf)


@pytest.fixture(scope="session")
def servers() -> Iterator[dict[str, Served]]:
    """The servers that are running, by their app."""
    running: dict[str, Served] = {}
    yield running
    for served in running.values():
        served.kill()


@pytest.fixture
def serve(folder, servers) -> Iterator:
    """Serve one of the apps on the copy of the demo house; what no test has killed goes on serving the next."""
    own: list[Served] = []

    def start(app: str, *arguments: str) -> Served:
        if arguments:
            own.append(Served(COMMANDS[app], folder, *arguments))
            return own[-1]
        if app not in servers or servers[app].process.poll() is not None:
            servers[app] = Served(COMMANDS[app], folder)
        return servers[app]

    yield start
    for served in own:
        served.kill()


@pytest.fixture(scope="session")
def chromium() -> Iterator:
    """A browser for the whole run; skips where there is none."""
    playwright = pytest.importorskip(
        "playwright.sync_api", reason="Playwright is not installed: pip install playwright"
    )
    if not Path(CHROMIUM).exists():
        pytest.skip("Chromium is not installed: apt-get install chromium")
    with playwright.sync_playwright() as running:
        browser = running.chromium.launch(executable_path=CHROMIUM, args=QUIET)
        yield browser
        browser.close()


@pytest.fixture(scope="session")
def window(chromium) -> Iterator:
    """A window for the whole run, which keeps what it has loaded of the framework."""
    context = chromium.new_context(viewport={"width": 1440, "height": 1000})
    context.set_default_timeout(60_000)
    yield context
    context.close()


class Watched:
    """A page, and what was written to its console as an error."""

    def __init__(self, window):
        self.page = window.new_page()
        self.errors: list[str] = []
        self.page.on("console", lambda said: self.errors.append(said.text) if said.type == "error" else None)
        self.page.on("pageerror", lambda error: self.errors.append(str(error)))


@pytest.fixture
def page(window) -> Iterator:
    """A fresh page that fails its test where anything was written to the console as an error."""
    watched = Watched(window)
    yield watched.page
    watched.page.close()
    assert watched.errors == []


@pytest.fixture
def another(chromium) -> Iterator:
    """Somebody else's window."""
    context = chromium.new_context(viewport={"width": 1440, "height": 1000})
    context.set_default_timeout(60_000)
    yield context.new_page()
    context.close()


@pytest.fixture(scope="session")
def left_open() -> list[Watched]:
    """The desk that the last test which passed has left."""
    return []


@pytest.fixture
def desk(request, left_open, window, serve) -> Iterator:
    """The designer's app on the demo house, handed on from test to test: for those that put back what they change."""
    served = serve("design")
    watched = left_open.pop() if left_open else Watched(window)
    if not watched.page.url.startswith(served.page):  # its server may be gone
        watched.page.close()
        watched = Watched(window)
        driving.opened(watched.page, served)
    driving.tab(watched.page, "Rooms")
    driving.controls(watched.page, "Entry Hall").first.wait_for()  # what the last test looked at is gone
    yield watched.page
    title = watched.page.locator(".pl-title")  # it follows the charts
    with suppress(AssertionError, TimeoutError):
        driving.until(watched.page, lambda: "not saved" not in title.inner_text(), seconds=10)
    put_back = "not saved" not in title.inner_text()
    if put_back and not watched.errors and not request.node.stash[FAILED]:
        left_open.append(watched)
    else:
        watched.page.close()
    assert watched.errors == []
    assert put_back, "a change was not put back"
