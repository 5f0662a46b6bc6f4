"""What all tests share."""

import os
import signal
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import settings
from xdist.scheduler import LoadFileScheduling

# Speed is measured in tests/benchmarks; a busy machine does not make a property false.
settings.register_profile("project", deadline=None)
settings.load_profile("project")


BROWSER = Path(__file__).parent / "browser"
"""Where the tests stand that need a browser."""

FAILED = pytest.StashKey[bool]()
"""Whether a test has failed, made once more or not: for what it would otherwise hand on."""


def pytest_configure(config: pytest.Config) -> None:
    """Why a test that was made again had failed is told with its name."""
    if config.pluginmanager.hasplugin("rerunfailures"):
        config.option.rerun_show_tracebacks = True


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """All that stands in tests/browser needs one. Such a test that fails is made again, twice at most, and told by name
    as RERUN; what never passes fails.
    """
    for item in items:
        if BROWSER in item.path.parents:
            item.add_marker(pytest.mark.browser)
            if config.pluginmanager.hasplugin("rerunfailures"):
                item.add_marker(pytest.mark.flaky(reruns=2))


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(item: pytest.Item, call: pytest.CallInfo):
    """Where PLANNER_BROWSER is "required", a test that is skipped for want of a browser or an office has failed."""
    report = yield
    item.stash[FAILED] = report.failed or (call.when != "setup" and item.stash.get(FAILED, False))
    needs = any(map(item.get_closest_marker, ("browser", "office")))
    if report.skipped and os.environ.get("PLANNER_BROWSER") == "required" and needs:
        report.outcome = "failed"
        report.longrepr = f"{item.nodeid} was skipped, and tests of its kind are required: {report.longrepr}"
    return report


@pytest.fixture
def in_time() -> Iterator[None]:
    """A test that waits for somebody who never comes, as at a pipe, fails."""

    def too_late(*_: object) -> None:
        pytest.fail("this waits for ever")

    before = signal.signal(signal.SIGALRM, too_late)
    signal.alarm(10)
    yield
    signal.alarm(0)
    signal.signal(signal.SIGALRM, before)


class ByFile(LoadFileScheduling):
    """Tests of one file run beside each other, and all that need a browser, for which one is then enough."""

    def _split_scope(self, nodeid: str) -> str:
        return "tests/browser" if nodeid.startswith("tests/browser/") else super()._split_scope(nodeid)


def pytest_xdist_make_scheduler(config: pytest.Config, log: object) -> ByFile:
    """How tests are dealt out where several processes run them."""
    return ByFile(config, log)
